"""Cases for docks and boathouses: 555."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House
from tests.cases.whole_jobs import SIZE, looks


def a_room(kind: str) -> House:
    def build(house: HouseBuilder) -> Ref:
        return Ref("room", house.room(kind, **SIZE))

    return build


CASES = looks(
    a_room("boathouse"), "dock-permit", "dock-ground-fault", "dock-cables", "dock-sign",
    outside={"a garage": a_room("garage")},
)  # fmt: skip
