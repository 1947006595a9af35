"""Cases for luminaires and fans as they hang: 410, 422.18."""

from __future__ import annotations

from tests.cases.houses import a_room, wired_room
from tests.cases.whole_jobs import a_job, looks

LIT = wired_room(device="luminaire")
NONE = {"no luminaire": wired_room(device="receptacle"), "an empty room": a_room()}

CASES = [
    *looks(
        LIT, "luminaires-supported", "luminaire-connections", "luminaires-grounded", "canopies-closed", "lamps-in",
        outside=NONE,
    ),
    *looks(wired_room("outdoors", device="luminaire"), "luminaires-for-wet", outside={"indoors": LIT, "none outdoors": a_room("outdoors")}),
    *looks(a_job(), "lamps-efficient"),
    *looks(wired_room(device="fan"), "fan-hung", outside={"a luminaire": LIT}),
]  # fmt: skip
