"""Cases for bonding at the service: 250.24, 250.92, 250.94, 250.104."""

from __future__ import annotations

from tests.cases.case import Case, measure_cases
from tests.cases.service_size import sized_cases
from tests.cases.whole_jobs import a_job, a_panel, a_subpanel, looks

JUMPER = "main-bonding-jumper"
ECM_2506 = "Code Q&A: metal piping, 250.68(C)(1) (EC&M)"
FM_25094 = "250.94 quoted (Mike Holt Forums)"
JOB = a_job()

CASES = [
    *looks(
        JOB, "service-enclosures-bonded", "water-meter-jumper", "hot-cold-bonded", "gas-pipe-bonded", "csst-bonded",
        "structural-steel-bonded", "intersystem-bond",
    ),
    *sized_cases("water-pipe-bonded"),
    *measure_cases("water-bond-near-entrance", JOB, "5'", least=False, source=ECM_2506),
    *measure_cases("intersystem-bond-terminals", JOB, 3, least=True, step="1", source=FM_25094),
    Case(JUMPER, "clear - bonded", a_panel(neutral_bonded=True), "bonded"),
    Case(JUMPER, "correction - not bonded", a_panel(neutral_bonded=False), "apart"),
    Case(JUMPER, "unseen - nobody said", a_panel(), "not-recorded"),
    Case(JUMPER, "outside - a subpanel", a_subpanel(neutral_bonded=False), "subpanel"),
]  # fmt: skip
