"""Jobs made, listed, changed and put away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import ColumnElement, exists, insert, select, update
from sqlalchemy.orm import Session

from server.dwelling import Facts, Stage
from server.store.errors import NotThere, Taken
from server.store.facts import changing
from server.store.houses import edition_of
from server.store.journal import Author, new_id
from server.store.kinds import JOB, JobSettings
from server.store.stored import read
from server.store.tables import JobRow

__all__ = ["JobLine", "archive", "change_job", "list_jobs", "make_job", "store_facts"]


@dataclass(frozen=True, slots=True)
class JobLine:
    """A job as a list of jobs shows it."""

    id: str
    name: str
    address: str
    edition: int
    stage: Stage
    inspection_date: date | None
    created_at: datetime
    archived_at: datetime | None
    is_demo: bool
    revision: int


def make_job(
    session: Session, crew_id: str, settings: JobSettings, author: Author, *, is_demo: bool = False
) -> str:
    """Make an empty job for a crew and return its id (``settings.id``; a new one where that is empty).

    Raises:
        Taken: the id is in use.
        EditionError: there is no such edition or preset, or an amendment is wrong.
    """
    edition_of(settings.edition, settings.presets, settings.layers)
    job_id = settings.id or new_id()
    if session.scalar(select(exists().where(JobRow.id == job_id))):
        raise Taken("job", job_id)
    values = {name: getattr(settings, name) for name in JOB.fields}
    session.execute(
        insert(JobRow).values(
            values
            | {
                "id": job_id,
                "layers": list(settings.layers),
                "crew_id": crew_id,
                "is_demo": is_demo,
                "created_at": datetime.now(UTC),
                "created_by": author.person_id,
                "archived_at": None,
                "version": 1,
                "revision": 0,
                "facts_revision": 0,
            }
        )
    )
    return job_id


def store_facts(session: Session, job_id: str, facts: Facts, author: Author, what: str) -> str | None:
    """Put every fact of a house (not its site, not its log) into a job as one change; returns the change's id.

    Raises:
        Taken: an id is in use.
        DanglingReference: a fact names something that is not among them.
    """
    with changing(session, job_id, author, what) as change:
        for kind in ("levels", "rooms", "walls", "openings", "counters", "breaks", "fixtures", "panels", "circuits",
                     "boxes", "devices", "cables"):  # fmt: skip
            change.add(*getattr(facts, kind))
    return change.id if change.lines else None


def change_job(
    session: Session,
    job_id: str,
    changes: Mapping[str, Any],
    base_version: int | None = None,
    *,
    author: Author,
    what: str = "",
) -> tuple[str | None, int]:
    """Change a job's settings as one change that can be undone; returns the change's id (None where nothing was
    different) and the job's version.

    Raises:
        NotThere: there is no such job.
        UnknownField: a job has no such setting.
        Conflict: somebody else changed the same setting since ``base_version``.
        EditionError: edition and amendments do not go together.
    """
    with changing(session, job_id, author, what or f"changed the job: {', '.join(changes)}") as change:
        version = change.edit(JOB.name, job_id, changes, base_version=base_version)
        if {"edition", "presets", "layers"} & set(changes):
            settings = read(session, job_id, JOB.name, job_id).fact
            edition_of(settings.edition, settings.presets, tuple(settings.layers))
    return change.id if change.lines else None, version


def archive(session: Session, job_id: str, *, put_back: bool = False) -> None:
    """Put a job away, or take it out again.

    Raises:
        NotThere: there is no such job.
    """
    done = session.execute(
        update(JobRow)
        .where(JobRow.id == job_id)
        .values(archived_at=None if put_back else datetime.now(UTC))
        .returning(JobRow.id)
    )
    if done.scalar() is None:
        raise NotThere("job", job_id)


def list_jobs(session: Session, *where: ColumnElement[bool], archived: bool = False) -> Sequence[JobLine]:
    """The jobs that meet a condition (whose they are is the caller's to say), the next visit first. One query."""
    away = JobRow.archived_at.is_not(None) if archived else JobRow.archived_at.is_(None)
    rows: Iterable[Any] = session.execute(
        select(
            JobRow.id, JobRow.name, JobRow.address, JobRow.edition, JobRow.stage, JobRow.inspection_date,
            JobRow.created_at, JobRow.archived_at, JobRow.is_demo, JobRow.revision,
        )
        .where(*where, away)
        .order_by(JobRow.inspection_date.is_(None), JobRow.inspection_date, JobRow.created_at.desc(), JobRow.id)
    )  # fmt: skip
    return [JobLine(*row) for row in rows]
