"""Cases for car chargers: 625.40 to 625.50."""

from __future__ import annotations

from typing import Any

from tests.cases.case import Case, House, measure_cases
from tests.cases.whole_jobs import a_fixture, looks, wired_fixture

RULE = "ev-circuit-rating"
EV, OTHER = a_fixture("EV charger", "garage"), {"a dryer": a_fixture("dryer", "laundry")}
CONTINUOUS = "Continuous load: 32 A times 125 % is 40 A (Code in Focus; Mike Holt Forums)"


def charger(va: Any, rating_a: int | None = 40, **circuit: Any) -> House:
    given = {"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": "8", **circuit}
    return wired_fixture("EV charger", va=va, circuit=given, room="garage")


CASES = [
    Case(RULE, "clear - exactly: 32 A on 40 A", charger(7680), "enough", source=CONTINUOUS),
    Case(RULE, "clear - just under", charger(7679), "enough"),
    Case(RULE, "correction - just over", charger(7681), "too-small"),
    Case(RULE, "correction - 48 A on 50 A", charger(11520, 50), "too-small"),
    Case(RULE, "clear - 48 A on 60 A", charger(11520, 60), "enough"),
    Case(RULE, "clear - 12 A, 120 V on 15 A", charger(1440, 15, volts=120, poles=1), "enough"),
    Case(RULE, "unseen - the current is not recorded", charger(None), "not-recorded"),
    Case(RULE, "unseen - no outlet", EV, "not-recorded"),
    Case(RULE, "outside - a dryer", a_fixture("dryer", "laundry"), "other-kind"),
    *looks(
        EV,
        "ev-setting-marked",
        "ev-disconnect",
        "ev-listed",
        "ev-ventilated",
        "ev-enclosure",
        "ev-two-way",
        outside=OTHER,
    ),
    *measure_cases("ev-cable-length", EV, "25'", least=False, source="625.17(C), from memory", outside=OTHER),
    *measure_cases("ev-cable-height", EV, 18, least=True, outside=OTHER),
]
