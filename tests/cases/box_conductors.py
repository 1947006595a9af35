"""Cases for the conductors in a box: 300.14, 250.148, 110.14(B), 300.13(B)."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import look_cases, measure_cases
from tests.cases.houses import a_box, wired_box

ECM_FREE = "Code Q&A: free conductor length, 2020 (EC&M)"
METAL = "3 x 2 x 2-1/2 device"


def multiwire(device: str = "receptacle", shared: bool = True):  # type: ignore[no-untyped-def]
    """A box on two circuits that share their neutral."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("kitchen", length_in=144, width_in=120)
        panel = house.panel()
        one = house.circuit(panel, "Counter left", rating_a=20, conductor_awg="12")
        two = house.circuit(panel, "Counter right", rating_a=20, conductor_awg="12")
        if shared:
            house.change(one, multiwire_with=two)
            house.change(two, multiwire_with=one)
        box = house.box(room, wall=1, at_in=36, height_in=44)
        house.device(box, device)  # type: ignore[arg-type]
        house.cable(panel, box, one, two, insulated=3)
        return Ref("box", box)

    return build


NO_CABLE = {"no cable is recorded": a_box()}
CASES = [
    *measure_cases("free-conductor", wired_box(), 6, least=True, source=ECM_FREE, unknown=NO_CABLE),
    *measure_cases("conductor-reaches-out", wired_box(), 3, least=True, source=ECM_FREE, unknown=NO_CABLE),
    *look_cases(
        "grounds-joined", wired_box(more=1), outside={"one cable only": wired_box()}, unknown=NO_CABLE
    ),
    *look_cases(
        "metal-box-grounded",
        wired_box(trade_size=METAL),
        outside={"a plastic box": wired_box()},
        unknown={"material not recorded": wired_box(material=None), "no cable": a_box(trade_size=METAL)},
    ),
    *look_cases("splices-made", wired_box(more=1), outside={"one cable only": wired_box()}, unknown=NO_CABLE),
    *look_cases(
        "shared-neutral-spliced",
        multiwire(),
        outside={"circuits of their own": multiwire(shared=False), "no receptacle here": multiwire("switch")},
    ),
    *look_cases("conductors-folded", wired_box(), unknown=NO_CABLE),
]
