"""Cases for temporary power: 590, and 230.24 for the drop to the pole."""

from __future__ import annotations

from server.dwelling import WorkKind
from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_job, looks

ECM_230B = "What's wrong here? (quotes 230.24(B), EC&M)"
OLD = {"an existing house": a_job(WorkKind.EXTENSION), "a replacement": a_job(WorkKind.REPLACEMENT)}

CASES = [
    *looks(
        a_job(), "temporary-pole-braced", "temporary-pole-electrode", "temporary-own-pole", "temporary-not-the-house",
        "temporary-reached", "temporary-place",
        outside=OLD,
    ),
    *looks(
        a_job(WorkKind.EXTENSION), "temporary-gfci", "temporary-grounding-receptacles", "temporary-breakers",
        "temporary-weatherproof", "temporary-closed", "temporary-cords", "temporary-lamps", "temporary-removed",
        "temporary-splices", "temporary-generator", "temporary-cables-held",
    ),
    *measure_cases("temporary-drop-height", a_job(), "10'", least=True, source=ECM_230B, outside=OLD),
]  # fmt: skip
