"""Cases for what holds of everything that was installed: 110.2, 110.3(B)."""

from __future__ import annotations

from tests.cases.houses import a_room, wired_room
from tests.cases.whole_jobs import a_job, looks

CASES = [
    *looks(a_job(), "equipment-listed", "instructions-followed", "power-on"),
    *looks(wired_room(), "everything-works", outside={"no box in the room": a_room()}),
]
