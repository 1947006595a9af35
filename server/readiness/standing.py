"""Folds findings into the one answer per room: is it ready to cover?"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from operator import attrgetter
from typing import Final

from server.dwelling import Dwelling
from server.readiness.evaluate import Finding
from server.rules.outcome import Verdict

__all__ = ["JOB", "RoomStanding", "Standing", "standing_of", "standings"]

JOB = ""
"""The key of what belongs to no room: panels without a place, circuits, the job itself."""


_VERDICT: Final = attrgetter("outcome.verdict")


class Standing(StrEnum):
    READY = "ready to cover"
    HOLD = "hold open"
    NOT_WALKED = "not walked"


@dataclass(frozen=True, slots=True)
class RoomStanding:
    """A room's standing and its counts per verdict. ``room_id`` is empty for the job as a whole."""

    room_id: str
    standing: Standing
    corrections: int
    unseen: int
    clear: int
    outside: int
    inspector: int


def standing_of(room_id: str, findings: Iterable[Finding]) -> RoomStanding:
    """The standing that some findings give: a correction holds it open, anything unseen leaves it not walked,
    and where nothing at all is clear it is not walked either (no subjects is no success)."""
    tally = Tally(map(_VERDICT, findings))
    if tally[Verdict.CORRECTION]:
        standing = Standing.HOLD
    elif tally[Verdict.UNSEEN] or not tally[Verdict.CLEAR]:
        standing = Standing.NOT_WALKED
    else:
        standing = Standing.READY
    return RoomStanding(
        room_id, standing, tally[Verdict.CORRECTION], tally[Verdict.UNSEEN], tally[Verdict.CLEAR],
        tally[Verdict.OUTSIDE], tally[Verdict.INSPECTOR],
    )  # fmt: skip


def standings(house: Dwelling, findings: Iterable[Finding]) -> dict[str, RoomStanding]:
    """The standing of every room, in the rooms' order, and of the job under :data:`JOB`.

    The job's standing folds everything: one room held open holds the job open.
    """
    everything = list(findings)
    by_room: dict[str, list[Finding]] = {room.id: [] for room in house.facts.rooms}
    for finding in everything:
        for room_id in finding.rooms:
            by_room[room_id].append(finding)
    found = {room_id: standing_of(room_id, members) for room_id, members in by_room.items()}
    whole = standing_of(JOB, everything)
    if whole.standing is Standing.READY and any(
        room.standing is not Standing.READY for room in found.values()
    ):
        # a room with nothing to judge is not ready, so neither is the house
        whole = RoomStanding(
            JOB,
            Standing.NOT_WALKED,
            whole.corrections,
            whole.unseen,
            whole.clear,
            whole.outside,
            whole.inspector,
        )
    found[JOB] = whole
    return found
