"""Cases for room air conditioners, lighting track, outlets for a camper: 440 part VII, 410 part XIV, 551.71."""

from __future__ import annotations

from tests.cases.whole_jobs import a_fixture, looks

LAMP = {"a range": a_fixture("range", "kitchen")}

CASES = [
    *looks(
        a_fixture("room air conditioner", "bedroom"), "room-conditioner-circuit", "room-conditioner-cord",
        outside=LAMP | {"an outdoor unit": a_fixture("air conditioner", "outdoors")},
    ),
    *looks(a_fixture("track lighting", "kitchen"), "track-place", "track-load", outside=LAMP),
    *looks(a_fixture("RV outlet", "outdoors"), "rv-outlet-wired", "rv-outlet-place", outside=LAMP),
]  # fmt: skip
