"""Cases for what else is looked at in a trench: 250.134, 300.5, 314.30."""

from __future__ import annotations

from tests.cases.whole_jobs import a_job, looks

CASES = looks(a_job(), "buried-raceway-kind", "buried-ground-wire", "handhole-covers", "utility-trench")
