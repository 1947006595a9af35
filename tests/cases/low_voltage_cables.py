"""Cases for low-voltage and communication cables: 725, 800, 810."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, looks

CASES = [
    *looks(a_job(), "low-voltage-cable-kind", "low-voltage-held", "powered-data-cables", "antenna-mast"),
    *measure_cases(
        "communications-ground-length",
        a_job(),
        "20'",
        least=False,
        source="800.100(A)(4): 20 ft, from memory",
    ),
]
