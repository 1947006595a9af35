"""Cases for mast, head, service cable and meter: 230.28, 230.51, 230.54, 312.2."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, band_cases, looks

NACHI = "Clamps of service-entrance cable (quotes 230.51(A))"
NEPHI = "Overhead residential electric service requirements (Nephi City)"
MN = "E3907.2 as a building department lists it"
JOB = a_job()

CASES = [
    *looks(
        JOB, "mast-pipe", "mast-braced", "mast-flashed", "mast-for-power-only", "drip-loop", "service-cable-guarded",
        "service-conductors-apart", "meter-hubs", "service-openings-sealed", "service-bushings", "outdoor-enclosures",
        "service-raceway-supported",
        "meter-fastened",
    ),
    *measure_cases("service-cable-strapped-at-ends", JOB, 12, least=False, source=NACHI),
    *measure_cases("service-cable-strapped", JOB, 30, least=False, source=NACHI),
    *measure_cases("meter-from-gas", JOB, 36, least=True, source=NEPHI),
    *measure_cases("outdoor-air-gap", JOB, "1/4", least=True, source=MN),
    *band_cases("meter-height", JOB, 48, 72, source=NEPHI),
]  # fmt: skip
