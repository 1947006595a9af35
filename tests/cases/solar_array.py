"""Cases for the solar array on the roof: 690, IRC R324."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_fixture, looks

SOLAR, OTHER = (
    a_fixture("solar array", "outdoors"),
    {"an air conditioner": a_fixture("air conditioner", "outdoors")},
)
HELD = "solar-cables-held"
TIES = "Supports every 24 in from 2020, formerly 4 1/2 ft (PV cable securements, Mike Holt Forums)"
ERIE = "Three-foot setback (Town of Erie, Colorado, solar checklist)"

CASES = [
    *looks(
        SOLAR, "solar-plans", "solar-utility-agreement", "solar-listed", "solar-array-bonded", "solar-ground-wire",
        "solar-cables-whole", "solar-circuits-apart", "solar-cable-kind", "solar-connectors", "solar-roof-raceway", "solar-roof-boxes",
        "solar-roof-flashed", "solar-metal-raceway-inside", "solar-guarded", outside=OTHER,
    ),
    *measure_cases(HELD, SOLAR, "4' 6", least=False, source=TIES, outside=OTHER, years=(2017,)),
    *measure_cases(HELD, SOLAR, "24", least=False, source=TIES, outside=OTHER, years=(2020, 2023, 2026)),
    *measure_cases("solar-roof-paths", SOLAR, "3'", least=True, source=ERIE, outside=OTHER),
    *measure_cases("solar-ridge", SOLAR, 18, least=True, source="R324.6.2, from memory", outside=OTHER),
    *measure_cases("solar-voltage", SOLAR, 600, least=False, step="1", source="690.7, from memory", outside=OTHER),
]  # fmt: skip
