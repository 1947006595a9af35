"""A job as its pages need it: its facts, its edition, what the rules find in it, and every room's standing.

Reading and judging a house takes some tens of milliseconds. Every write takes the job's next revision, so what
was found at a revision is kept in memory under it and never stale.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from fastapi import Request

from server.dwelling import Dwelling, Room
from server.editions import Edition
from server.pages.navigation import JobBar
from server.people.access import NotFound, job_for
from server.people.current import engine_of
from server.people.person import Person
from server.people.roles import Role
from server.readiness import Finding, RoomStanding, evaluate, standings
from server.store.engine import reading
from server.store.houses import load_code, load_house
from server.store.tables.jobs import JobRow

__all__ = ["JobFacts", "OpenJob", "open_job", "room_of"]

_KEPT: Final = 24
_cache: OrderedDict[tuple[str, int, str], tuple[Dwelling, list[Finding], dict[str, RoomStanding]]] = (
    OrderedDict()
)
_lock = threading.Lock()


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
    permit_date: date | None
    inspection_date: date | None
    is_demo: bool
    revision: int


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A job at one revision."""

    job: JobFacts
    house: Dwelling
    code: Edition
    findings: list[Finding]
    standings: Mapping[str, RoomStanding]

    @property
    def bar(self) -> JobBar:
        """The job in the top bar."""
        return JobBar(self.job.id, self.job.name)

    def findings_of(self, room_id: str) -> list[Finding]:
        """What was found in one room."""
        return [finding for finding in self.findings if room_id in finding.rooms]


def open_job(request: Request, person: Person, job_id: str, need: Role = Role.GUEST) -> OpenJob:
    """Open a job of the person's crew. Nine queries for the facts, whatever the size of the house.

    Raises:
        NotFound: no such job, or another crew's.
        Forbidden: the role is below ``need``.
    """
    with reading(engine_of(request)) as session:
        row = job_for(session, person, job_id, need)
        code = load_code(row)
        # the edition and its amendments decide as much as the facts do
        key = (row.id, row.revision, f"{code.year} {row.version}")
        with _lock:
            kept = _cache.get(key)
            if kept is not None:
                _cache.move_to_end(key)
        if kept is None:
            house = load_house(session, job_id)
            findings = evaluate(house, code)
            kept = (house, findings, standings(house, findings))
            with _lock:
                _cache[key] = kept
                while len(_cache) > _KEPT:
                    _cache.popitem(last=False)
        return OpenJob(_facts(row, code), kept[0], code, kept[1], kept[2])


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
        row.work.value, row.permit_date, row.inspection_date, row.is_demo, row.revision,
    )  # fmt: skip
