"""Cases for grounding electrodes: 250.50 to 250.70."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.service_size import sized_cases
from tests.cases.whole_jobs import a_job, looks

ECM_2011 = "2011 NEC changes, 250.53 (EC&M / Mike Holt)"
RODS = "Code Q&A: ground rod electrodes (EC&M)"
JOB = a_job()

CASES = [
    *looks(
        JOB, "electrodes-all-joined", "second-rod", "rod-driven-flush", "rod-clamp", "rod-kind", "electrode-conductor-continuous",
        "electrode-conductor-protected", "electrode-conductor-raceway", "electrode-connections-reached",
    ),
    *sized_cases("electrode-conductor-size"),
    *measure_cases("rods-apart", JOB, "6'", least=True, source=ECM_2011),
    *measure_cases("lone-rod-resistance", JOB, 25, least=False, step="1/4", source=ECM_2011),
    *measure_cases("rod-length", JOB, "8'", least=True, source=RODS),
]  # fmt: skip
