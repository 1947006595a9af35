"""Visits of the inspector: what was written, what was mended since, who signed the cover; and how often it passed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from server.store.errors import NotThere
from server.store.journal import Author
from server.store.tables import VisitNoteRow, VisitRow

__all__ = [
    "RESULTS",
    "Visit",
    "VisitNote",
    "enter_visit",
    "first_visit_rate",
    "mend_note",
    "sign_cover",
    "visits_of",
]

RESULTS = ("open", "approved", "corrections", "no access")


@dataclass(frozen=True, slots=True)
class VisitNote:
    """One thing that the inspector wrote."""

    id: str
    text: str
    rule: str
    room_id: str
    mended_by: str


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit with what was written."""

    id: str
    job_id: str
    stage: str
    on_date: date
    result: str
    inspector: str
    note: str
    covered_by: str
    covered_on: date | None
    notes: list[VisitNote] = field(default_factory=list)


def enter_visit(
    session: Session, job_id: str, author: Author, *, stage: str, on_date: date, result: str, inspector: str = "",
    note: str = "", written: Sequence[tuple[str, str, str]] = (),
) -> str:  # fmt: skip
    """Enter a visit; ``written`` has text, rule id and room id of each thing that the inspector wrote."""
    visit = VisitRow(
        id=str(uuid4()), job_id=job_id, stage=stage, on_date=on_date, result=result, inspector=inspector, note=note,
        entered_by=author.name, entered_at=datetime.now(UTC),
    )  # fmt: skip
    session.add(visit)
    session.flush()
    for place, (text, rule, room_id) in enumerate(written):
        session.add(
            VisitNoteRow(
                id=str(uuid4()), visit_id=visit.id, place=place, text=text, rule=rule, room_id=room_id or None
            )
        )
    return visit.id


def visits_of(session: Session, job_ids: Sequence[str]) -> list[Visit]:
    """The visits of some jobs, the newest first. Two queries."""
    rows = session.scalars(
        select(VisitRow)
        .where(VisitRow.job_id.in_(job_ids))
        .order_by(VisitRow.on_date.desc(), VisitRow.entered_at.desc())
    ).all()
    visits = [
        Visit(
            row.id,
            row.job_id,
            row.stage,
            row.on_date,
            row.result,
            row.inspector,
            row.note,
            row.covered_by,
            row.covered_on,
        )
        for row in rows
    ]
    by_id = {visit.id: visit for visit in visits}
    for note in session.scalars(
        select(VisitNoteRow).where(VisitNoteRow.visit_id.in_(list(by_id))).order_by(VisitNoteRow.place)
    ):
        by_id[note.visit_id].notes.append(
            VisitNote(note.id, note.text, note.rule, note.room_id or "", note.mended_by)
        )
    return visits


def _visit(session: Session, job_id: str, visit_id: str) -> VisitRow:
    row = session.get(VisitRow, visit_id)
    if row is None or row.job_id != job_id:
        raise NotThere("visit", visit_id)
    return row


def sign_cover(session: Session, job_id: str, visit_id: str, author: Author, *, on: date) -> None:
    """Sign that the work was covered after an approved visit.

    Raises:
        NotThere: the job has no such visit, or it was not approved.
    """
    row = _visit(session, job_id, visit_id)
    if row.result != "approved":
        raise NotThere("approved visit", visit_id)
    row.covered_by, row.covered_on = author.name, on


def mend_note(session: Session, job_id: str, visit_id: str, note_id: str, author: Author) -> None:
    """Say that something the inspector wrote is mended.

    Raises:
        NotThere: the job has no such visit or note.
    """
    _visit(session, job_id, visit_id)
    note = session.get(VisitNoteRow, note_id)
    if note is None or note.visit_id != visit_id:
        raise NotThere("note of a visit", note_id)
    note.mended_by, note.mended_at = author.name, datetime.now(UTC)


def first_visit_rate(visits: Sequence[Visit]) -> tuple[int, int]:
    """How many jobs and stages were approved at their first visit, of how many that had one with a result."""
    first: dict[tuple[str, str], Visit] = {}
    for visit in sorted(visits, key=lambda item: item.on_date):
        if visit.result != "open":
            first.setdefault((visit.job_id, visit.stage), visit)
    return sum(visit.result == "approved" for visit in first.values()), len(first)
