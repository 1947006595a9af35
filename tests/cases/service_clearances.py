"""Cases for the clearances of overhead services: 230.9, 230.24, 230.26."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job

ROOF = "Code Q&A: clearance above a roof, 230.24(A) (EC&M / Mike Holt)"
GROUND = "230.24 clearances (study set); service height requirements (Mike Holt Forums)"
WINDOW = "NEC in the facility: 230.9 (EC&M)"
POINT = "Code Q&A: point of attachment, 230.26 (EC&M / Mike Holt)"
JOB = a_job()

CASES = [
    *measure_cases("drop-over-roof", JOB, "8'", least=True, source=ROOF, years=(2017,)),
    *measure_cases("drop-over-roof", JOB, "8' 6", least=True, source="225.19 in the same words (Mike Holt Forums)", years=(2020, 2023, 2026)),
    *measure_cases("drop-over-steep-roof", JOB, "3'", least=True, source=ROOF),
    *measure_cases("drop-over-overhang", JOB, 18, least=True, source=ROOF),
    *measure_cases("drip-loop-height", JOB, "10'", least=True, source=GROUND),
    *measure_cases("drop-over-walk", JOB, "10'", least=True, source=GROUND),
    *measure_cases("drop-over-drive", JOB, "12'", least=True, source=GROUND),
    *measure_cases("drop-over-street", JOB, "18'", least=True, source=GROUND),
    *measure_cases("drop-attachment-height", JOB, "10'", least=True, source=POINT),
    *measure_cases("drop-from-communications", JOB, 12, least=True, source="What's wrong here?, August 2010, quotes 800.44(A)(4) (EC&M)"),
    *measure_cases("drop-from-windows", JOB, "3'", least=True, source=WINDOW),
]  # fmt: skip
