"""What every kind of fact has besides its own fields: whose it is, when it was entered, which version stands."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import BigInteger, ForeignKey, Index, String
from sqlalchemy.orm import Mapped, declared_attr, mapped_column

from server.store.base import Key

__all__ = ["BOOKKEEPING", "FactRow"]

BOOKKEEPING = ("job_id", "entered", "version", "deleted_at")
"""The columns of a fact's table that are not the fact's own fields."""


class FactRow:
    """Mixin of the fact tables.

    ``entered`` grows with every fact of a job: facts come back in the order in which they went in. ``version``
    counts the changes of one fact. A fact with ``deleted_at`` is gone for everybody but ``undo``.
    """

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    entered: Mapped[int] = mapped_column(BigInteger)
    version: Mapped[int] = mapped_column(default=1)
    deleted_at: Mapped[datetime | None]

    @declared_attr.directive
    def __table_args__(cls) -> tuple[Any, ...]:
        return (Index(None, "job_id", "entered"),)
