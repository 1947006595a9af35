"""Cases for wiring in the ground: 300.5 and its table."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, looks

FM = "Burial depth, residential, Table 300.5 by column (Mike Holt Forums)"
ECM_QA3 = "Code Q&A: service laterals in nonmetallic conduit (EC&M)"
ECN = "Table 300.5 (electrical-contractor.net)"
RIBBON = "Code quiz: 300.5(D)(3) (EC&M)"
D1 = "What's wrong here? (quotes 300.5(D)(1), EC&M)"
JOB = a_job()

CASES = [
    *looks(
        JOB, "lines-marked", "trench-open", "buried-under-building", "buried-conductors-together", "backfill-clean",
        "riser-schedule", "buried-wet-conductors", "buried-splices", "buried-raceway-sealed", "buried-bushing",
        "ground-movement",
        "trench-shared",
        "buried-joints",
    ),
    *looks(a_job(cable="uf-b"), "uf-into-building", outside={"no UF cable in the house": a_job(cable="nm-b")}),
    *measure_cases("buried-cable-depth", JOB, 24, least=True, source=FM),
    *measure_cases("buried-metal-raceway-depth", JOB, 6, least=True, source=FM),
    *measure_cases("buried-pvc-depth", JOB, 18, least=True, source=ECM_QA3),
    *measure_cases("buried-gfci-circuit-depth", JOB, 12, least=True, source=FM),
    *measure_cases("buried-low-voltage-depth", JOB, 6, least=True, source="Table 300.5, column 5 (ElectricalLicenseRenewal.com)"),
    *measure_cases("buried-under-drive", JOB, 18, least=True, source=ECN),
    *measure_cases("buried-under-slab", JOB, 4, least=True),
    *measure_cases("warning-ribbon", JOB, 12, least=True, source=RIBBON),
    *measure_cases("riser-guard-height", JOB, "8'", least=True, source=D1),
]  # fmt: skip
