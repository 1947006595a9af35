"""A job as its pages need it: its facts, its edition, what the rules find in it, and every room's standing.

Reading and judging a house takes some tens of milliseconds. Every write takes the job's next revision, so what was
found at a revision is kept in memory under it and is never stale; and where only observations came since, those
alone are read and judged.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final
from weakref import WeakKeyDictionary

from fastapi import Request
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from server.dwelling import Dwelling, Room
from server.editions import Edition
from server.pages.navigation import JobBar
from server.people.access import NotFound, job_for
from server.people.current import engine_of
from server.people.person import Person
from server.people.roles import Role
from server.readiness import JOB, Finding, Judged, RoomStanding
from server.readiness.walk import Left, left_of
from server.store.engine import is_reading, reading
from server.store.houses import load_code, load_house
from server.store.observations import log
from server.store.tables.jobs import JobRow

__all__ = ["JobFacts", "OpenJob", "open_job", "opened_in", "room_of"]

_KEPT: Final = 24


@dataclass(frozen=True, slots=True)
class JobFacts:
    """What a page shows of the job itself."""

    id: str
    name: str
    address: str
    edition: int
    amendments: tuple[str, ...]
    stage: str
    work: str
    permit_number: str
    permit_date: date | None
    inspection_date: date | None
    is_demo: bool
    revision: int


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A job at one revision."""

    job: JobFacts
    judged: Judged

    @property
    def bar(self) -> JobBar:
        """The job in the top bar."""
        return JobBar(self.job.id, self.job.name)

    @property
    def house(self) -> Dwelling:
        return self.judged.house

    @property
    def code(self) -> Edition:
        return self.judged.code

    @property
    def findings(self) -> list[Finding]:
        """Everything that was found, once."""
        return self.judged.findings

    @property
    def standings(self) -> Mapping[str, RoomStanding]:
        """Every room's standing, and the job's."""
        return self.judged.standings

    def left(self, room_id: str) -> Left:
        """What is left to look at and to enter in one room, or under :data:`JOB` of the whole job, rooms included."""
        if room_id != JOB:
            return left_of(self.judged.room(room_id))
        return sum(map(self.left, self.house.rooms), left_of(self.judged.room(JOB)))

    def findings_of(self, room_id: str) -> list[Finding]:
        """What was found in one room."""
        return self.judged.room(room_id)


@dataclass(frozen=True, slots=True)
class _Kept:
    """A judged house and the revisions at which it was judged."""

    revision: int
    facts_revision: int
    settings_version: int
    judged: Judged


_caches: WeakKeyDictionary[Engine, OrderedDict[str, _Kept]] = WeakKeyDictionary()
"""By database: two may hold jobs of the same id and revision that are not the same."""
_lock = threading.Lock()


def open_job(request: Request, person: Person, job_id: str, need: Role = Role.GUEST) -> OpenJob:
    """Open a job of the person's crew. A constant number of queries, whatever the size of the house.

    Raises:
        NotFound: no such job, or another crew's.
        Forbidden: the role is below ``need``.
    """
    with reading(engine_of(request)) as session:
        return opened_in(session, job_for(session, person, job_id, need))


def opened_in(session: Session, row: JobRow) -> OpenJob:
    """Open a job whose row was looked up in this session."""
    engine = session.get_bind().engine
    with _lock:
        cache = _caches.setdefault(engine, OrderedDict())
        kept = cache.get(row.id)
    if kept is not None and (kept.facts_revision, kept.settings_version) != (row.facts_revision, row.version):
        kept = None
    if kept is None:
        code = load_code(row)
        judged = Judged.of(load_house(session, row), code)
    elif kept.revision < row.revision:
        judged = kept.judged.seeing(item.observation for item in log(session, row.id, after=kept.revision))
    elif kept.revision > row.revision:
        # a snapshot from before somebody else's look: rare, and not worth keeping
        return OpenJob(_facts(row, kept.judged.code), Judged.of(load_house(session, row), kept.judged.code))
    else:
        judged = kept.judged
    # what a write has not committed yet may never be, and its revision go to another write: not kept
    if (kept is None or judged is not kept.judged) and is_reading(session):
        with _lock:
            cache[row.id] = _Kept(row.revision, row.facts_revision, row.version, judged)
            cache.move_to_end(row.id)
            while len(cache) > _KEPT:
                cache.popitem(last=False)
    return OpenJob(_facts(row, judged.code), judged)


def room_of(opened: OpenJob, room_id: str) -> Room:
    """A room of an open job.

    Raises:
        NotFound: it has no such room.
    """
    room = opened.house.rooms.get(room_id)
    if room is None:
        raise NotFound
    return room


def _facts(row: JobRow, code: Edition) -> JobFacts:
    return JobFacts(
        row.id, row.name, row.address, row.edition, tuple(layer.title for layer in code.amendments), row.stage.value,
        row.work.value, row.permit_number, row.permit_date, row.inspection_date, row.is_demo, row.revision,
    )  # fmt: skip
