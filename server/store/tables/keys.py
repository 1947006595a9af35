"""Keys of writes that were done: the same key again gives the same answer and does nothing."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base

__all__ = ["KeyRow"]


class KeyRow(Base):
    """One write that was done under a key, written in the transaction that did it.

    ``person_id`` is whose key it is (two people may by chance choose the same); ``digest`` the hash of what was
    asked, so that the same key with another payload is noticed; ``answer`` what was answered.
    """

    __tablename__ = "keys"
    __table_args__ = (Index(None, "created_at"),)

    person_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    key: Mapped[str] = mapped_column(String(200), primary_key=True)
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"), index=True)
    digest: Mapped[str] = mapped_column(String(64))
    answer: Mapped[Any] = mapped_column(JSON)
    created_at: Mapped[datetime]
