"""Cases for what else is written up at a service: 230.2, 230.10, 230.53, 230.62, 240.24(A), 250.106."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, looks

CASES = [
    *looks(
        a_job(), "one-service", "service-line-barriers", "service-raceway-drains", "drop-not-on-trees",
        "above-flood-level", "lightning-protection-bonded", "equipment-not-reconditioned",
    ),
    *measure_cases("service-handle-height", a_job(), "6' 7", least=False, source="240.24(A): 6 ft 7 in, from memory"),
]  # fmt: skip
