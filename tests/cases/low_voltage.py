"""Cases for low voltage as it is finished: 725.121, 725.136, 800.100."""

from __future__ import annotations

from tests.cases.houses import a_room, wired_room
from tests.cases.whole_jobs import a_fixture, a_job, looks

CASES = [
    *looks(a_fixture("security panel"), "security-panel-supply", outside={"a furnace": a_fixture("furnace")}),
    *looks(a_job(), "low-voltage-transformer", "communications-grounded"),
    *looks(wired_room(), "low-voltage-boxes", outside={"no box in the room": a_room()}),
]
