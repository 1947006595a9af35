"""Practice frames of a crew, and what its people found in them."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Id, Key

__all__ = ["PracticeRow", "PracticeTryRow"]


class PracticeRow(Base):
    """A frame: everything in it follows from its seed."""

    __tablename__ = "practices"
    __table_args__ = (Index(None, "crew_id"),)

    id: Mapped[Key]
    crew_id: Mapped[str] = mapped_column(String(64), ForeignKey("crews.id", ondelete="CASCADE"))
    title: Mapped[str]
    seed: Mapped[int]
    faults: Mapped[int]
    framing: Mapped[str] = mapped_column(String(40))
    edition: Mapped[int]
    made_by: Mapped[str]
    made_at: Mapped[datetime]
    closed_at: Mapped[datetime | None]


class PracticeTryRow(Base):
    """One person's look at a frame: the clues marked wrong, and what they came to."""

    __tablename__ = "practice_tries"
    __table_args__ = (Index(None, "practice_id"),)

    id: Mapped[Key]
    practice_id: Mapped[str] = mapped_column(String(64), ForeignKey("practices.id", ondelete="CASCADE"))
    person_id: Mapped[Id]
    person: Mapped[str]
    marked: Mapped[tuple[str, ...]]
    found: Mapped[int]
    missed: Mapped[int]
    false_alarms: Mapped[int]
    at: Mapped[datetime]
