"""Cases for lighting at low voltage, indoors and in the garden: 411, 725."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_fixture, looks

STRIPS, GARDEN = a_fixture("low-voltage lighting", "kitchen"), a_fixture("garden lighting", "outdoors")
RANGE = {"a range": a_fixture("range", "kitchen")}

CASES = [
    *looks(STRIPS, "low-voltage-wire-in-wall", "driver-reached", outside=RANGE | {"garden lights": GARDEN}),
    *looks(STRIPS, "driver-load", "low-voltage-lights-listed", outside=RANGE),
    *looks(GARDEN, "garden-transformer", "garden-cable", "lamp-post-grounded", outside=RANGE | {"strips": STRIPS}),
    *measure_cases("garden-lights-from-water", GARDEN, "10'", least=True, source="411.5(B), from memory", outside=RANGE),
]  # fmt: skip
