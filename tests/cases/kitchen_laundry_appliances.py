"""Cases for ranges, dryers, dishwashers and disposers: 210.19, 220.54, 220.55, 250.140, 422.16."""

from __future__ import annotations

from typing import Any

from tests.cases.case import Case, House
from tests.cases.whole_jobs import a_fixture, band_cases, looks, wired_fixture

RANGE, DRYER = "range-circuit", "dryer-circuit"
NOTE_1 = "Table 220.55 Note 1: 16 kW is 8 kW plus 20 %, 9.6 kW (reference tables)"
NOTE_4 = "Table 220.55 Note 4: cooktop and ovens on one circuit as one range (reference tables)"
FM_RANGE = "210.19(A)(3): 40 A from 8 3/4 kW (reference tables)"
DRILL = "220.54: 5000 VA or the nameplate (reference tables)"
NACHI = "Disposer cord (quotes 422.16(B)(1))"
LEV20 = "422.16(B)(2), 2020 (Leviton Captain Code)"
COOKER, LAUNDRY = a_fixture("range", "kitchen"), {"a washer": a_fixture("washer", "laundry")}
BEFORE_2026, NOT_DISHWASHER = (2017, 2020, 2023), {"a range": COOKER}


def cooking(
    va: Any,
    rating_a: int | None = 40,
    *,
    kind: str = "range",
    more: tuple[dict[str, Any], ...] = (),
    **fixture: Any,
) -> House:
    circuit = {"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": "8"}
    return wired_fixture(kind, va=va, circuit=circuit, more=more, room="kitchen", **fixture)


def dryer(va: Any, rating_a: int = 30, **fixture: Any) -> House:
    circuit = {"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": "10"}
    return wired_fixture("dryer", va=va, circuit=circuit, room="laundry", **fixture)


CASES = [
    Case(RANGE, "clear - 12 kW on 40 A", cooking(12000), "enough", source=NOTE_1),
    Case(RANGE, "clear - exactly: 16 kW is 9.6 kW, 40 A", cooking(16000), "enough", source=NOTE_1),
    Case(RANGE, "correction - just over: 17 kW", cooking(17000), "too-small", source=NOTE_1),
    Case(RANGE, "correction - 8 3/4 kW exactly, on 35 A", cooking(8750, 35), "too-small", source=FM_RANGE),
    Case(RANGE, "clear - just under 8 3/4 kW, on 35 A", cooking(8749, 35), "enough", source=FM_RANGE),
    Case(RANGE, "clear - a wall oven by its nameplate, exactly", cooking(4800, 20, kind="wall oven"), "enough"),
    Case(RANGE, "correction - a wall oven just over", cooking(4801, 20, kind="wall oven"), "too-small"),
    Case(RANGE, "clear - a cooktop and two ovens as one range", cooking(6000, 40, kind="cooktop", more=({"kind": "wall oven", "va": 5000}, {"kind": "wall oven", "va": 5000})), "enough", source=NOTE_4),
    Case(RANGE, "correction - two ovens by their nameplates", cooking(5000, 40, kind="wall oven", more=({"va": 5000},)), "too-small"),
    Case(RANGE, "clear - any household range on 40 A", cooking(None), "any-range", source=FM_RANGE),
    Case(RANGE, "unseen - an unknown range just below", cooking(None, 35), "not-recorded"),
    Case(RANGE, "unseen - an oven's nameplate is not recorded", cooking(None, kind="wall oven"), "not-recorded"),
    Case(RANGE, "unseen - no outlet", COOKER, "not-recorded"),
    Case(RANGE, "outside - a gas range", cooking(None, fuel_burning=True), "burns-fuel"),
    Case(RANGE, "outside - a refrigerator", a_fixture("refrigerator", "kitchen"), "other-kind"),
    Case(DRYER, "clear - the least load on 30 A", dryer(None), "enough", source=DRILL),
    Case(DRYER, "correction - the least load on 20 A", dryer(4000, 20), "too-small", source=DRILL),
    Case(DRYER, "clear - exactly: 7200 W on 30 A", dryer(7200), "enough"),
    Case(DRYER, "clear - just under", dryer(7199), "enough"),
    Case(DRYER, "correction - just over", dryer(7201), "too-small"),
    Case(DRYER, "unseen - no outlet", a_fixture("dryer", "laundry"), "not-recorded"),
    Case(DRYER, "outside - a gas dryer", dryer(None, fuel_burning=True), "burns-fuel"),
    Case(DRYER, "outside - a washer", a_fixture("washer", "laundry"), "other-kind"),
    *band_cases("disposer-cord", a_fixture("disposer", "kitchen"), 18, 36, source=NACHI, outside=NOT_DISHWASHER),
    *band_cases("dishwasher-cord", a_fixture("dishwasher", "kitchen"), "3'", "6' 6", source=LEV20, outside=NOT_DISHWASHER),
    *looks(a_fixture("dishwasher", "kitchen"), "appliance-plug-reached", "appliance-disconnect", "appliance-connection", outside=NOT_DISHWASHER),
    *looks(a_fixture("dryer", "laundry"), "range-dryer-strap", outside={"a gas dryer": a_fixture("dryer", "laundry", fuel_burning=True), "a washer": a_fixture("washer", "laundry")}),
    *looks(a_fixture("range hood", "kitchen"), "hood-connection", outside=NOT_DISHWASHER),
]  # fmt: skip
