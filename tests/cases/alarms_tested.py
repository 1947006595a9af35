"""Cases for alarms at the final visit: IRC R314, R315."""

from __future__ import annotations

from tests.cases.houses import a_room, wired_room
from tests.cases.whole_jobs import a_job, looks

NONE = {"no alarm in the room": a_room()}

CASES = [
    *looks(a_job(), "alarms-sound-together"),
    *looks(wired_room(device="smoke alarm"), "alarms-uncovered", outside=NONE),
    *looks(
        wired_room(device="smoke and CO alarm"),
        "co-alarm-tested",
        outside=NONE | {"a smoke alarm only": wired_room(device="smoke alarm")},
    ),
]
