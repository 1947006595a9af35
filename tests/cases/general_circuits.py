"""Cases for the number of general circuits: 210.11(A)."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, Ref
from tests.cases.case import Case, House

RULE = "general-circuits"
EMATH = "3 VA for each square foot, one 15 A circuit for 600 sq ft (electrician's arithmetic, two published sources in editions/dwelling_load.toml)"


def house_of(
    area: int | None, *ratings: int | None, purpose: CircuitPurpose = CircuitPurpose.GENERAL
) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(floor_area_ft2=area).site
        panel = house.panel()
        for rating in ratings:
            house.circuit(panel, "General", rating_a=rating, purpose=purpose)
        return Ref("job", house.site.id)

    return build


CASES = [
    # 1,200 sq ft x 3 VA = 3,600 VA = 2 x 15 A x 120 V
    Case(RULE, "clear - exactly enough", house_of(1200, 15, 15), "enough", source=EMATH),
    Case(RULE, "clear - a little smaller", house_of(1199, 15, 15), "enough"),
    Case(RULE, "correction - a square foot more", house_of(1201, 15, 15), "too-few", source=EMATH),
    Case(RULE, "clear - two of 20 A carry 1,600 sq ft", house_of(1600, 20, 20), "enough"),
    Case(RULE, "unseen - one circuit's rating is not recorded", house_of(1200, 15, None), "rating-not-recorded"),
    Case(RULE, "unseen - the area is not recorded", house_of(None, 15), "area-not-recorded"),
    Case(RULE, "unseen - only a laundry circuit so far", house_of(1200, 20, purpose=CircuitPurpose.LAUNDRY), "no-circuit"),
]  # fmt: skip
