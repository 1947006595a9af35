"""Cases for the panel as it is left: 110.26(B), 110.27, 408.38."""

from __future__ import annotations

from tests.cases.whole_jobs import a_panel, looks

CASES = [
    *looks(
        a_panel(), "panel-cover-on", "panel-clean", "panel-wires-square", "spare-breakers-off", "working-space-kept",
        "working-space-lit",
    ),
    *looks(
        a_panel(circuits=({"breaker": "GFCI"},)), "breakers-tested",
        outside={"standard breakers only": a_panel(circuits=({},))},
    ),
]  # fmt: skip
