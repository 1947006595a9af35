"""Every job's standing as counted last, so that a page of two hundred jobs asks a handful of queries.

Judging a house takes tens of milliseconds; a page of all jobs must not judge any. Whoever has just written to a job,
or the clock in each server process, counts the jobs that have moved on (:func:`count_stale`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import uuid4

from sqlalchemy import Engine, delete, or_, select
from sqlalchemy.orm import Session

from server.readiness import Judged, Standing
from server.rules.outcome import Verdict
from server.store.engine import reading, writing
from server.store.houses import load_code, load_house
from server.store.tables import JobRow, StandingDayRow, SummaryRow

__all__ = ["Day", "HeldRoom", "Summary", "count_job", "count_stale", "days_of", "summaries_of"]

_DAYS_KEPT = 30


@dataclass(frozen=True, slots=True)
class HeldRoom:
    """A room that holds its job open."""

    id: str
    name: str
    corrections: int


@dataclass(frozen=True, slots=True)
class Summary:
    """A job as it was counted last. ``stale`` where it has moved on since."""

    job_id: str
    standing: str
    ready: int
    hold: int
    not_walked: int
    corrections: int
    unseen: int
    by_rule: dict[str, int]
    by_room_kind: dict[str, int]
    held_rooms: tuple[HeldRoom, ...]
    last_seen_at: str
    counted_at: datetime
    stale: bool

    @property
    def rooms(self) -> int:
        return self.ready + self.hold + self.not_walked


@dataclass(frozen=True, slots=True)
class Day:
    """A job's standing at the end of a day."""

    job_id: str
    day: date
    ready: int
    corrections: int
    unseen: int


def count_job(engine: Engine, job_id: str) -> None:
    """Judge one job and keep what came out, with today's point of its plot."""
    with reading(engine) as session:
        row = session.get(JobRow, job_id)
        if row is None:
            return
        revision, version = row.revision, row.version
        judged = Judged.of(load_house(session, row), load_code(row))
    values = _counted(judged)
    today = datetime.now(UTC).date()
    with writing(engine) as session:
        kept = session.get(SummaryRow, job_id)
        if kept is not None and kept.revision > revision:
            return  # somebody counted a later one meanwhile
        if kept is None:
            kept = SummaryRow(job_id=job_id)
            session.add(kept)
        for name, value in (
            values | {"revision": revision, "settings_version": version, "counted_at": datetime.now(UTC)}
        ).items():
            setattr(kept, name, value)
        day = session.scalar(
            select(StandingDayRow).where(StandingDayRow.job_id == job_id, StandingDayRow.day == today)
        )
        if day is None:
            session.execute(
                delete(StandingDayRow).where(
                    StandingDayRow.job_id == job_id, StandingDayRow.day < today - timedelta(days=_DAYS_KEPT)
                )
            )
            day = StandingDayRow(id=str(uuid4()), job_id=job_id, day=today)
            session.add(day)
        for name in ("ready", "hold", "not_walked", "corrections", "unseen"):
            setattr(day, name, values[name])


def _counted(judged: Judged) -> dict[str, Any]:
    house, whole = judged.house, judged.whole
    rooms = {room.id: judged.standing(room.id) for room in house.facts.rooms}
    tally = Counter(standing.standing for standing in rooms.values())
    wrong = [finding for finding in judged.findings if finding.outcome.verdict is Verdict.CORRECTION]
    held = sorted(
        (
            (room.id, room.name, rooms[room.id].corrections)
            for room in house.facts.rooms
            if rooms[room.id].corrections
        ),
        key=lambda item: -item[2],
    )
    return {
        "standing": whole.standing.value, "ready": tally[Standing.READY], "hold": tally[Standing.HOLD],
        "not_walked": tally[Standing.NOT_WALKED], "corrections": whole.corrections, "unseen": whole.unseen,
        "by_rule": dict(Counter(finding.rule.id for finding in wrong)),
        "by_room_kind": dict(Counter(house.rooms[room_id].kind.value for finding in wrong for room_id in finding.rooms)),
        "held_rooms": [list(item) for item in held],
        "last_seen_at": max((seen.at for seen in house.facts.observations), default=""),
    }  # fmt: skip


def count_stale(engine: Engine, *, most: int = 5) -> int:
    """Count jobs that have moved on since they were counted, the longest waiting first; returns how many were."""
    with reading(engine) as session:
        stale = session.scalars(
            select(JobRow.id)
            .outerjoin(SummaryRow, SummaryRow.job_id == JobRow.id)
            .where(
                JobRow.archived_at.is_(None),
                or_(
                    SummaryRow.job_id.is_(None),
                    SummaryRow.revision != JobRow.revision,
                    SummaryRow.settings_version != JobRow.version,
                ),
            )
            .order_by(SummaryRow.counted_at.is_not(None), SummaryRow.counted_at)
            .limit(most)
        ).all()
    for job_id in stale:
        count_job(engine, job_id)
    return len(stale)


def summaries_of(session: Session, job_ids: Sequence[str]) -> dict[str, Summary]:
    """The summaries of some jobs. One query."""
    rows = session.execute(
        select(SummaryRow, JobRow.revision, JobRow.version)
        .join(JobRow, JobRow.id == SummaryRow.job_id)
        .where(SummaryRow.job_id.in_(job_ids))
    )
    return {
        row.job_id: Summary(
            row.job_id, row.standing, row.ready, row.hold, row.not_walked, row.corrections, row.unseen, row.by_rule,
            row.by_room_kind, tuple(HeldRoom(*item) for item in row.held_rooms), row.last_seen_at, row.counted_at,
            (row.revision, row.settings_version) != (revision, version),
        )
        for row, revision, version in rows
    }  # fmt: skip


def days_of(session: Session, job_ids: Sequence[str]) -> dict[str, list[Day]]:
    """The last days of some jobs, oldest first. One query."""
    rows = session.scalars(
        select(StandingDayRow).where(StandingDayRow.job_id.in_(job_ids)).order_by(StandingDayRow.day)
    )
    found: dict[str, list[Day]] = {}
    for row in rows:
        found.setdefault(row.job_id, []).append(
            Day(row.job_id, row.day, row.ready, row.corrections, row.unseen)
        )
    return found
