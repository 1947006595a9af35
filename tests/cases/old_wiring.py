"""Cases for work in a house that stood before: 394, 250.130(C), 406.4(D), 110.14, 240."""

from __future__ import annotations

from server.dwelling import WorkKind
from server.rules import old_wiring
from server.rules.rule import Rule
from tests.cases.whole_jobs import a_job, looks

RULES = [value.id for value in vars(old_wiring).values() if isinstance(value, Rule)]

CASES = [
    *looks(a_job(WorkKind.EXTENSION), *RULES, outside={"a new house": a_job()}),
    *looks(a_job(WorkKind.REPLACEMENT), "replaced-receptacles", "old-breakers-suit", "grounding-brought-up"),
]
