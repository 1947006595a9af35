"""Who does what by when, what the inspector wrote, and every job's standing as counted last."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Id, Key, OptionalId

__all__ = ["AssignmentRow", "StandingDayRow", "SummaryRow", "VisitNoteRow", "VisitRow"]


class AssignmentRow(Base):
    """A room, or one correction in it, given to somebody.

    ``rule``, ``subject_kind`` and ``subject_id`` name the correction; all empty: the whole room. It is *mended* by
    whoever says so (``done_by``), and *looked at again* by somebody else (``checked_by``): four eyes.
    """

    __tablename__ = "assignments"
    __table_args__ = (Index(None, "job_id", "room_id"),)

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    room_id: Mapped[OptionalId]
    rule: Mapped[str] = mapped_column(default="")
    subject_kind: Mapped[str] = mapped_column(String(40), default="")
    subject_id: Mapped[str] = mapped_column(String(64), default="")
    person_id: Mapped[OptionalId]
    due: Mapped[date | None]
    note: Mapped[str] = mapped_column(default="")
    made_by: Mapped[str]
    made_at: Mapped[datetime]
    done_by: Mapped[str] = mapped_column(default="")
    done_id: Mapped[OptionalId]
    done_at: Mapped[datetime | None]
    checked_by: Mapped[str] = mapped_column(default="")
    checked_at: Mapped[datetime | None]
    reopened: Mapped[int] = mapped_column(default=0)
    deleted_at: Mapped[datetime | None]


class VisitRow(Base):
    """A visit of the inspector. ``result``: open, approved, corrections, no access. ``covered_by`` signs the cover."""

    __tablename__ = "visits"
    __table_args__ = (Index(None, "job_id", "on_date"),)

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    stage: Mapped[str] = mapped_column(String(40))
    on_date: Mapped[date]
    result: Mapped[str] = mapped_column(String(40), default="open")
    inspector: Mapped[str] = mapped_column(default="")
    note: Mapped[str] = mapped_column(default="")
    entered_by: Mapped[str]
    entered_at: Mapped[datetime]
    covered_by: Mapped[str] = mapped_column(default="")
    covered_on: Mapped[date | None]


class VisitNoteRow(Base):
    """One thing that the inspector wrote: in their words, matched to a rule where we have one."""

    __tablename__ = "visit_notes"

    id: Mapped[Key]
    visit_id: Mapped[str] = mapped_column(String(64), ForeignKey("visits.id", ondelete="CASCADE"), index=True)
    place: Mapped[int]
    text: Mapped[str]
    rule: Mapped[str] = mapped_column(default="")
    room_id: Mapped[OptionalId]
    mended_by: Mapped[str] = mapped_column(default="")
    mended_at: Mapped[datetime | None]


class SummaryRow(Base):
    """A job as it was counted last, at a revision; counted again when the job has moved on."""

    __tablename__ = "summaries"

    job_id: Mapped[Id] = mapped_column(ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True)
    revision: Mapped[int] = mapped_column(BigInteger)
    settings_version: Mapped[int]
    counted_at: Mapped[datetime]
    standing: Mapped[str] = mapped_column(String(40))
    ready: Mapped[int]
    hold: Mapped[int]
    not_walked: Mapped[int]
    corrections: Mapped[int]
    unseen: Mapped[int]
    by_rule: Mapped[dict[str, Any]] = mapped_column(JSON)
    """Corrections by rule id."""
    by_room_kind: Mapped[dict[str, Any]] = mapped_column(JSON)
    """Corrections by kind of room."""
    held_rooms: Mapped[list[Any]] = mapped_column(JSON)
    """The rooms that hold it: id, name, corrections."""
    last_seen_at: Mapped[str] = mapped_column(default="")


class StandingDayRow(Base):
    """A job's standing at the end of a day: what the small plot of its progress is drawn from."""

    __tablename__ = "standing_days"
    __table_args__ = (UniqueConstraint("job_id", "day"),)

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    day: Mapped[date]
    ready: Mapped[int]
    hold: Mapped[int]
    not_walked: Mapped[int]
    corrections: Mapped[int]
    unseen: Mapped[int]
