"""Cases for the emergency disconnect: 230.85, new in 2020, its marking detailed in 2023."""

from __future__ import annotations

from tests.cases.case import Case, measure_cases
from tests.cases.whole_jobs import a_job, looks

JOB = a_job()
SINCE_2020, SINCE_2023 = (2020, 2023, 2026), (2023, 2026)
LETTERS, OTHERS = "emergency-disconnect-letters", "emergency-disconnect-others"

CASES = [
    *looks(
        JOB,
        "emergency-disconnect",
        "emergency-disconnect-marked",
        "emergency-disconnect-rated",
        years=SINCE_2020,
    ),
    *looks(JOB, OTHERS, years=SINCE_2023),
    *measure_cases(LETTERS, JOB, "1/2", least=True, years=SINCE_2023),
    Case("emergency-disconnect", "outside - 2017 has no such rule", JOB, "absent", (2017,)),
    Case(LETTERS, "outside - no height before 2023", JOB, "absent", (2017, 2020)),
    Case(OTHERS, "outside - not before 2023", JOB, "absent", (2017, 2020)),
]
