"""Cases for the panel's enclosure: 240.81, 312.3 to 312.8."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_panel, looks

CASES = [
    *looks(
        a_panel(),
        "panel-flush",
        "panel-bending-room",
        "breakers-up-on",
        "panel-extras",
        "panel-not-in-fire-wall",
    ),
    *measure_cases("panel-gap", a_panel(), "1/8", least=False, source="312.4: 1/8 in, from memory"),
]
