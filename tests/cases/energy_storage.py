"""Cases for batteries and the house without the utility: 705.40, 706, 710.15, IRC R328."""

from __future__ import annotations

from tests.cases.case import Case, measure_cases
from tests.cases.whole_jobs import a_fixture, looks

BATTERY, OTHER = (
    a_fixture("energy storage", "garage"),
    {"a water heater": a_fixture("water heater", "garage")},
)
GENERATOR = a_fixture("generator", "outdoors")
SHUTDOWN, CONTROL = "storage-shutdown", "power-control"
LATER = (2020, 2023, 2026)
R327 = "Three feet from doors and windows (quotes R327.4; Mike Holt Forums)"
SOLSMART = "20 kWh a unit, 36 in apart (a federal solar programme's permitting guide)"

CASES = [
    *looks(
        BATTERY, "storage-papers", "storage-listed", "storage-live-parts", "storage-place", "storage-walls", "storage-energy-together",
        "storage-alarm", "storage-vehicles", "storage-ventilated", "storage-fastened", "storage-working-space",
        "storage-disconnect", "storage-marked", "island-switch", "backup-loads", "backup-neutral",
        outside=OTHER | {"a generator": GENERATOR},
    ),
    *looks(BATTERY, SHUTDOWN, CONTROL, outside=OTHER, years=LATER),
    Case(SHUTDOWN, "outside - 2017 does not ask for it", BATTERY, "absent", (2017,)),
    Case(CONTROL, "outside - 2017 does not have it", BATTERY, "absent", (2017,)),
    *looks(GENERATOR, "backup-shared-neutral", outside=OTHER),
    *measure_cases("storage-apart", BATTERY, "3'", least=True, source=SOLSMART, outside=OTHER),
    *measure_cases("storage-from-openings", BATTERY, "3'", least=True, source=R327, outside=OTHER),
    *measure_cases("storage-unit-energy", BATTERY, 20, least=False, source=SOLSMART, outside=OTHER),
]  # fmt: skip
