"""Cases for the footing's steel as an electrode: 250.52(A)(3)."""

from __future__ import annotations

from server.dwelling import WorkKind
from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, looks

FM_CEE = "250.52(A)(3) concrete-encased electrode length (Mike Holt Forums)"
OLD = {"an existing house": a_job(WorkKind.EXTENSION)}

CASES = [
    *looks(
        a_job(), "footing-electrode-tied", "footing-in-earth", "footing-tail", "slab-raceways", outside=OLD
    ),
    *measure_cases("footing-steel-length", a_job(), "20'", least=True, source=FM_CEE, outside=OLD),
    *measure_cases("footing-steel-cover", a_job(), 2, least=True, source=FM_CEE, outside=OLD),
]
