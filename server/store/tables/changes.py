"""The journal of changed facts: who changed what, from what to what. ``undo`` and conflicts read it."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Id, Key, OptionalId

__all__ = ["ChangeRow", "ChangedFactRow"]


class ChangeRow(Base):
    """One command: a room laid out, a box moved, a circuit deleted. ``undoes`` is the change that it undid."""

    __tablename__ = "changes"
    __table_args__ = (UniqueConstraint("job_id", "sequence"),)

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    sequence: Mapped[int] = mapped_column(BigInteger)
    what: Mapped[str]
    by: Mapped[str]
    person_id: Mapped[OptionalId]
    at: Mapped[datetime]
    undoes: Mapped[OptionalId]
    undone_by: Mapped[OptionalId]


class ChangedFactRow(Base):
    """One fact within a change.

    ``before`` is None where the fact was added, ``after`` where it was deleted; an edit has only the fields that
    it changed in both. ``version`` is the fact's after the change. ``follows`` marks what was changed only
    because something else was (a cable's end when its box went).
    """

    __tablename__ = "changed_facts"
    __table_args__ = (Index(None, "fact_id", "version"),)

    change_id: Mapped[str] = mapped_column(
        String(64), ForeignKey("changes.id", ondelete="CASCADE"), primary_key=True
    )
    place: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    kind: Mapped[str] = mapped_column(String(40))
    fact_id: Mapped[Id]
    version: Mapped[int]
    before: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))
    after: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))
    follows: Mapped[bool] = mapped_column(default=False)
