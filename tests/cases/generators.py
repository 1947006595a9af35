"""Cases for generators and transfer equipment: 445, 702."""

from __future__ import annotations

from tests.cases.case import Case
from tests.cases.whole_jobs import a_fixture, a_job, looks

SET = a_fixture("generator", "outdoors")
OTHER = {"no generator": a_fixture("furnace")}
SHUTDOWN = "generator-shutdown"

CASES = [
    *looks(
        SET, "transfer-equipment", "backfed-breaker-held", "generator-size", "generator-neutral", "generator-inlet",
        "generator-placed", "transfer-switch-rated", "generator-disconnect", "generator-conductors", outside=OTHER,
    ),
    *looks(SET, SHUTDOWN, outside=OTHER, years=(2020, 2023, 2026)),
    Case(SHUTDOWN, "outside - 2017 does not ask for it", SET, "absent", (2017,)),
    *looks(a_job(fixture="generator"), "generator-sign", outside={"no generator": a_job()}),
]  # fmt: skip
