"""Cases for what is around cables and their joints: 300.15, 110.11, 310."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House, look_cases
from tests.cases.houses import wired_room
from tests.cases.whole_jobs import SIZE, a_job, looks


def with_a(fixture: str) -> House:
    """A wired room with a piece of equipment in it."""

    def build(house: HouseBuilder) -> Ref:
        ref = wired_room()(house)
        house.fixture(ref.id, fixture)
        return ref

    return build


def without_boxes(house: HouseBuilder) -> Ref:
    return Ref("room", house.room("bedroom", **SIZE))


CASES = [
    *look_cases("splices-in-boxes", wired_room(), outside={"a room without boxes": without_boxes}),
    *looks(a_job(), "wiring-kept-dry", "later-equipment"),
    *look_cases(
        "cables-from-heat",
        with_a("furnace"),
        outside={"a room without heat": wired_room(), "a sink": with_a("sink")},
    ),
    *look_cases("cables-from-heat", wired_room(kind="attic")),
    *look_cases(
        "cables-in-sun", wired_room(kind="outdoors"), outside={"a bedroom": wired_room(kind="bedroom")}
    ),
]
