"""Cases for how boxes are held and set: 314.20, 314.21, 314.23."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House, look_cases, measure_cases
from tests.cases.houses import a_box, a_room

FM_31420 = "2008 NEC 314.20 (Mike Holt Forum)"
FM_31421 = "Combustible surfaces and boxes (Mike Holt Forum)"
IRC_772 = "International Residential Code 2018 page 772, E3906"

FREE: House = a_box(surface="free")
EMPTY: House = a_room("bedroom")


def wood_finish(house: HouseBuilder) -> Ref:
    box = a_box()(house)
    return Ref("room", house.dwelling().boxes[box.id].room_id)


CASES = [
    *look_cases("box-fastened", a_box()),
    *measure_cases("box-nails", wood_finish, "1/4", least=False, source=IRC_772, outside={"no box here": EMPTY}),
    *measure_cases("box-set-back", a_box(), "1/4", least=False, source=FM_31420, outside={"a box free in the air": FREE}),
    *look_cases("box-in-wood-finish", wood_finish, outside={"no box here": EMPTY}),
    *measure_cases("box-gap", wood_finish, "1/8", least=False, source=FM_31421, outside={"no box here": EMPTY}),
]  # fmt: skip
