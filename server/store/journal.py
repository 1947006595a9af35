"""Who writes, the job's next revision, and the lines of a change as they are kept."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final, cast

from sqlalchemy import Table, insert, select, update
from sqlalchemy.orm import Session

from server.store.errors import NotThere
from server.store.tables import ChangedFactRow, ChangeRow, JobRow

__all__ = [
    "CHANGED_FACTS",
    "CHANGES",
    "NOBODY",
    "Author",
    "Change",
    "Line",
    "changes_of",
    "lines_of",
    "new_id",
    "take_revisions",
    "write_change",
]


CHANGES: Final = cast(Table, ChangeRow.__table__)
CHANGED_FACTS: Final = cast(Table, ChangedFactRow.__table__)


@dataclass(frozen=True, slots=True)
class Author:
    """Who writes: the account, and the name that the log shows."""

    person_id: str | None
    name: str


NOBODY = Author(None, "")
"""The author of what no person wrote: demo seeds, imports by a program."""


@dataclass(frozen=True, slots=True)
class Line:
    """One fact within a change: ``before`` None where it was added, ``after`` None where it was deleted, only the
    changed fields in both where it was edited. ``follows`` where it changed only because something else did."""

    kind: str
    fact_id: str
    version: int
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Change:
    """One command as a history shows it."""

    id: str
    what: str
    by: str
    at: datetime
    undone: bool
    undoes: str | None


def new_id() -> str:
    """A random id for anything."""
    return uuid.uuid4().hex


def take_revisions(session: Session, job_id: str, count: int = 1, *, of_facts: bool) -> int:
    """Take the job's next revisions and return the first of them.

    Whoever calls this first holds the job until the transaction ends: writers of one job come one after the
    other, and what they write is in the order of their revisions.

    Raises:
        NotThere: there is no such job.
    """
    taken = JobRow.revision + count
    values = {"revision": taken, "facts_revision": taken} if of_facts else {"revision": taken}
    last = session.scalar(
        update(JobRow)
        .where(JobRow.id == job_id)
        .values(values)
        .returning(JobRow.revision)
        .execution_options(synchronize_session=False)
    )
    if last is None:
        raise NotThere("job", job_id)
    return int(last) - count + 1


def write_change(
    session: Session,
    job_id: str,
    author: Author,
    what: str,
    lines: Sequence[Line],
    *,
    change_id: str,
    revision: int,
    undoes: str | None = None,
) -> None:
    """Keep a change and its lines."""
    session.execute(
        insert(CHANGES).values(
            id=change_id, job_id=job_id, sequence=revision, what=what, by=author.name,
            person_id=author.person_id, at=datetime.now(UTC), undoes=undoes, undone_by=None,
        )
    )  # fmt: skip
    session.execute(
        insert(CHANGED_FACTS),
        [
            {
                "change_id": change_id, "place": place, "kind": line.kind, "fact_id": line.fact_id,
                "version": line.version, "before": line.before, "after": line.after, "follows": line.follows,
            }
            for place, line in enumerate(lines)
        ],
    )  # fmt: skip


def lines_of(session: Session, change_id: str) -> list[Line]:
    """The lines of a change in the order in which they were done."""
    row = CHANGED_FACTS.c
    found = session.execute(
        select(row.kind, row.fact_id, row.version, row.before, row.after, row.follows)
        .where(row.change_id == change_id)
        .order_by(row.place)
    )
    return [Line(*line) for line in found]


def changes_of(session: Session, job_id: str, *, limit: int = 50) -> list[Change]:
    """The newest changes of a job's facts, newest first."""
    row = CHANGES.c
    found = session.execute(
        select(row.id, row.what, row.by, row.at, row.undone_by, row.undoes)
        .where(row.job_id == job_id)
        .order_by(row.sequence.desc())
        .limit(limit)
    )
    return [
        Change(change_id, what, by, at, undone_by is not None, undoes)
        for change_id, what, by, at, undone_by, undoes in found
    ]
