"""Cases for several dwellings in one house: 210.25, 230.71, 230.72, 240.24(B), IRC R302, R314."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House
from tests.cases.whole_jobs import SIZE, looks


def kitchens(number: int) -> House:
    def build(house: HouseBuilder) -> Ref:
        for _ in range(number):
            house.room("kitchen", **SIZE)
        return Ref("job", house.site.id)

    return build


CASES = looks(
    kitchens(2), "dwellings-panel-reached", "dwellings-own-circuits", "common-lights-apart", "dwellings-disconnects",
    "dwellings-meters-marked", "dwellings-wall-sealed", "dwellings-alarms",
    outside={"one kitchen": kitchens(1), "no kitchen": kitchens(0)},
)  # fmt: skip
