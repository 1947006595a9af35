"""Who does what by when: rooms and corrections given to somebody, mended, looked at again by somebody else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from server.store.errors import NotThere, StoreError
from server.store.journal import Author
from server.store.tables import AccountRow, AssignmentRow

__all__ = ["Assignment", "SameEyes", "assign", "assignments_of", "check_again", "drop", "mark_done", "reopen"]


class SameEyes(StoreError):
    """Whoever mended something cannot be the one who looks at it again."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} mended this: somebody else looks at it again")


@dataclass(frozen=True, slots=True)
class Assignment:
    """A room or a correction that somebody has. ``state``: given, mended, done."""

    id: str
    job_id: str
    room_id: str
    rule: str
    subject_kind: str
    subject_id: str
    person_id: str
    person: str
    due: date | None
    note: str
    made_by: str
    done_by: str
    done_at: datetime | None
    checked_by: str
    reopened: int

    @property
    def state(self) -> str:
        return "done" if self.checked_by else "mended" if self.done_by else "given"


def assign(
    session: Session, job_id: str, author: Author, *, person_id: str, room_id: str = "", rule: str = "",
    subject_kind: str = "", subject_id: str = "", due: date | None = None, note: str = "",
) -> str:  # fmt: skip
    """Give a room, or a correction in it, to somebody; returns the assignment's id."""
    made = AssignmentRow(
        id=str(uuid4()), job_id=job_id, room_id=room_id or None, rule=rule, subject_kind=subject_kind, subject_id=subject_id,
        person_id=person_id, due=due, note=note, made_by=author.name, made_at=datetime.now(UTC),
    )  # fmt: skip
    session.add(made)
    session.flush()
    return made.id


def assignments_of(session: Session, job_ids: Sequence[str], *, open_only: bool = True) -> list[Assignment]:
    """What is given out in some jobs, what is due first first. One query."""
    statement = (
        select(AssignmentRow, AccountRow.name)
        .outerjoin(AccountRow, AccountRow.id == AssignmentRow.person_id)
        .where(AssignmentRow.job_id.in_(job_ids), AssignmentRow.deleted_at.is_(None))
        .order_by(AssignmentRow.due.is_(None), AssignmentRow.due, AssignmentRow.made_at)
    )
    if open_only:
        statement = statement.where(AssignmentRow.checked_at.is_(None))
    return [
        Assignment(
            row.id, row.job_id, row.room_id or "", row.rule, row.subject_kind, row.subject_id, row.person_id or "",
            name or "nobody", row.due, row.note, row.made_by, row.done_by, row.done_at, row.checked_by, row.reopened,
        )
        for row, name in session.execute(statement)
    ]  # fmt: skip


def _row(session: Session, job_id: str, assignment_id: str) -> AssignmentRow:
    row = session.get(AssignmentRow, assignment_id)
    if row is None or row.job_id != job_id or row.deleted_at is not None:
        raise NotThere("assignment", assignment_id)
    return row


def mark_done(session: Session, job_id: str, assignment_id: str, author: Author) -> None:
    """Say that it is mended.

    Raises:
        NotThere: the job has no such assignment.
    """
    row = _row(session, job_id, assignment_id)
    row.done_by, row.done_id, row.done_at = author.name, author.person_id, datetime.now(UTC)


def check_again(
    session: Session, job_id: str, assignment_id: str, author: Author, *, four_eyes: bool = True
) -> None:
    """Say that it was looked at again and is right.

    Raises:
        NotThere: the job has no such assignment, or it is not mended yet.
        SameEyes: with four eyes, by whoever mended it.
    """
    row = _row(session, job_id, assignment_id)
    if row.done_at is None:
        raise NotThere("mended assignment", assignment_id)
    if four_eyes and row.done_id == author.person_id:
        raise SameEyes(author.name)
    row.checked_by, row.checked_at = author.name, datetime.now(UTC)


def reopen(session: Session, job_id: str, assignment_id: str) -> None:
    """It is not right after all.

    Raises:
        NotThere: the job has no such assignment.
    """
    row = _row(session, job_id, assignment_id)
    row.done_by, row.done_id, row.done_at, row.checked_by, row.checked_at = "", None, None, "", None
    row.reopened += 1


def drop(session: Session, job_id: str, assignment_id: str) -> None:
    """Take an assignment back.

    Raises:
        NotThere: the job has no such assignment.
    """
    _row(session, job_id, assignment_id).deleted_at = datetime.now(UTC)
