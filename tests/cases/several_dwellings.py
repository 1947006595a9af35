"""Cases for several dwellings in one house: 210.25, 230.71, 230.72, 240.24(B), 215.18, 225.41, IRC R302, R314."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House
from tests.cases.whole_jobs import SIZE, looks


def kitchens(number: int) -> House:
    def build(house: HouseBuilder) -> Ref:
        for _ in range(number):
            house.room("kitchen", **SIZE)
        return Ref("job", house.site.id)

    return build


ONE = {"one kitchen": kitchens(1), "no kitchen": kitchens(0)}

CASES = [
    *looks(
        kitchens(2), "dwellings-panel-reached", "dwellings-own-circuits", "common-lights-apart", "dwellings-disconnects",
        "dwellings-meters-marked", "dwellings-wall-sealed", "dwellings-alarms", outside=ONE,
    ),
    *looks(kitchens(2), "dwellings-surge", "dwellings-emergency-disconnect", outside=ONE, years=(2023, 2026)),
    Case("dwellings-surge", "outside - not before 2023", kitchens(2), "absent", (2017, 2020)),
    Case("dwellings-emergency-disconnect", "outside - not before 2023", kitchens(2), "absent", (2017, 2020)),
]  # fmt: skip
