"""Cases for cords, strips and lighting controls: 400.12, 380."""

from __future__ import annotations

from tests.cases.docks import a_room
from tests.cases.whole_jobs import a_job, looks

CASES = [
    *looks(a_job(), "cords-not-wiring", "hidden-cords", "lighting-controls"),
    *looks(a_room("kitchen"), "cabinet-strips", outside={"a bedroom": a_room("bedroom")}),
]
