"""Cases for separate buildings: 225.30 to 225.32, 250.32."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_room
from tests.cases.whole_jobs import looks

RULE = "outbuilding-one-supply"
SHED, HOUSE = a_room("accessory building"), {"a bedroom": a_room()}


def shed(circuits: int = 1, *, shared: bool = False, fed: bool = False) -> House:
    """A shed with a box on each circuit from the house; ``fed`` gives it a panel and the circuits come from there."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("accessory building", length_in=144, width_in=120)
        main = house.panel()
        source = main
        if fed:
            feeder = house.circuit(main, "Shed", poles=2, rating_a=60)
            source = house.panel(
                "Shed", room_id=room, is_service=False, fed_by_circuit_id=feeder, in_separate_building=True
            )
            house.cable(main, source, feeder, insulated=3)
        made = [house.circuit(source, f"Shed {number}") for number in range(circuits)]
        if shared:
            house.change(made[1], multiwire_with=made[0])
        for number, circuit in enumerate(made):
            house.cable(source, house.box(room, wall=1, at_in=12 * (number + 1)), circuit)
        return Ref("room", room)

    return build


CASES = [
    Case(RULE, "clear - exactly one circuit", shed(), "one"),
    Case(RULE, "clear - two that share a neutral are one", shed(2, shared=True), "one"),
    Case(RULE, "clear - one feeder with three circuits behind it", shed(3, fed=True), "one"),
    Case(RULE, "correction - two circuits", shed(2), "several"),
    Case(RULE, "unseen - nothing comes to it yet", SHED, "not-recorded"),
    Case(RULE, "outside - a bedroom", a_room(), "no-outbuilding"),
    *looks(
        SHED,
        "outbuilding-disconnect",
        "outbuilding-electrode",
        "outbuilding-grounds",
        "outbuilding-overhead",
        outside=HOUSE,
    ),
]
