"""Cases for holes in walls and floors: 300.21, IRC R302, N1102.4."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House, look_cases, measure_cases
from tests.cases.houses import a_room, wired_room


def walls(exterior: bool | None) -> House:
    """A wired room whose first wall is an outside wall, or not; ``None``: nobody said of any."""

    def build(house: HouseBuilder) -> Ref:
        ref = wired_room()(house)
        for wall in house.facts().walls:
            house.change(wall.id, exterior=None if exterior is None else exterior and wall.order == 0)
        return ref

    return build


INSIDE, UNKNOWN = {"no outside wall": walls(False)}, {"which walls are outside": walls(None)}
CASES = [
    *look_cases("fire-stops", wired_room(), outside={"outdoors": wired_room("outdoors"), "no cable": a_room()}),
    *look_cases("fire-separation", wired_room("garage"), outside={"a bedroom": wired_room()}),
    *measure_cases("boxes-back-to-back", wired_room("garage"), 24, least=True, source="from memory", outside={"a bedroom": wired_room(), "no box": a_room("garage")}),
    *look_cases("air-seal", walls(True), outside=INSIDE | {"no box": a_room()}, unknown=UNKNOWN),
    *look_cases("insulation-behind", walls(True), outside=INSIDE | UNKNOWN),
]  # fmt: skip
