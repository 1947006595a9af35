"""Cases for surge protection: 230.67."""

from __future__ import annotations

from tests.cases.case import Case, measure_cases
from tests.cases.whole_jobs import a_job, looks

JOB = a_job()
XCE = "2023 surge protection, 230.67(E) (ExpertCE)"

CASES = [
    *looks(JOB, "surge-protector", years=(2020, 2023, 2026)),
    *looks(JOB, "surge-protector-lamp"),
    *measure_cases("surge-protector-rating", JOB, 10, least=True, step="1/4", source=XCE, years=(2023, 2026)),
    Case("surge-protector", "outside - 2017 does not ask for it", JOB, "absent", (2017,)),
    Case("surge-protector-rating", "outside - no figure before 2023", JOB, "absent", (2017, 2020)),
]
