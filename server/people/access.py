"""The one way to a job and to what stands in it.

Another crew's id answers like a missing one (:class:`NotFound`, 404); a role too low for what is asked answers
:class:`Forbidden` (403), and only after the job was found. The crew comes from the signed-in person, never from
the request.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from server.people.person import Person
from server.people.roles import Role
from server.store.tables.boxes import BoxRow, DeviceRow
from server.store.tables.fact_row import FactRow
from server.store.tables.jobs import JobRow
from server.store.tables.places import CounterRow, FixtureRow, LevelRow, OpeningRow, RoomRow, WallRow
from server.store.tables.supply import CableRow, CircuitRow, PanelRow

__all__ = [
    "Forbidden",
    "NotFound",
    "box_for",
    "cable_for",
    "circuit_for",
    "counter_for",
    "device_for",
    "fact_for",
    "fixture_for",
    "job_for",
    "jobs_open_to",
    "level_for",
    "opening_for",
    "panel_for",
    "require",
    "room_for",
    "wall_for",
]

R = TypeVar("R", bound=FactRow)


class NotFound(Exception):
    """Nothing by that id that this person may know of."""


class Forbidden(Exception):
    """The person's role is too low; ``need`` is the lowest that would do."""

    def __init__(self, need: Role, has: Role) -> None:
        self.need = need
        self.has = has
        super().__init__(f"This takes the role {need.word} or higher; yours on this crew is {has.word}.")


def require(person: Person, need: Role) -> None:
    """Check a role.

    Raises:
        Forbidden: it is too low.
    """
    if person.role < need:
        raise Forbidden(need, person.role)


def jobs_open_to(person: Person) -> Select[JobRow]:
    """The jobs that a person may know of, as a statement to narrow, order and select columns from."""
    statement = select(JobRow).where(JobRow.crew_id == person.crew_id)
    if person.only_job_id is not None:
        statement = statement.where(JobRow.id == person.only_job_id)
    return statement


def job_for(session: Session, person: Person, job_id: str, need: Role = Role.GUEST) -> JobRow:
    """A job of the person's crew. One query.

    Raises:
        NotFound: no such job, or another crew's, or outside a guest's link.
        Forbidden: the role is below ``need``.
    """
    job: JobRow | None = session.scalar(jobs_open_to(person).where(JobRow.id == job_id))
    if job is None:
        raise NotFound
    require(person, need)
    return job


def fact_for(
    session: Session, person: Person, table: type[R], job_id: str, fact_id: str, need: Role = Role.GUEST
) -> tuple[JobRow, R]:
    """A job and one fact that stands in it and was not deleted. One query.

    Raises:
        NotFound: no such job or fact, another crew's, in another job, or deleted.
        Forbidden: the role is below ``need``.
    """
    found = session.execute(
        jobs_open_to(person)
        .add_columns(table)
        .join(table, table.job_id == JobRow.id)
        .where(JobRow.id == job_id, table.id == fact_id, table.deleted_at.is_(None))
    ).one_or_none()
    if found is None:
        raise NotFound
    require(person, need)
    return found[0], found[1]


def _getter(table: type[R]) -> Callable[..., tuple[JobRow, R]]:
    def getter(
        session: Session, person: Person, job_id: str, fact_id: str, need: Role = Role.GUEST
    ) -> tuple[JobRow, R]:
        return fact_for(session, person, table, job_id, fact_id, need)

    getter.__doc__ = f"A job and one {table.__name__} of it; raises as :func:`fact_for`."
    return getter


level_for = _getter(LevelRow)
room_for = _getter(RoomRow)
wall_for = _getter(WallRow)
opening_for = _getter(OpeningRow)
counter_for = _getter(CounterRow)
fixture_for = _getter(FixtureRow)
box_for = _getter(BoxRow)
device_for = _getter(DeviceRow)
panel_for = _getter(PanelRow)
circuit_for = _getter(CircuitRow)
cable_for = _getter(CableRow)
