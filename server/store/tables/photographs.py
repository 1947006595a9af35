"""Photographs of a job, by the hash of their content; the pictures themselves lie beside the database."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Key, OptionalId

__all__ = ["PhotographRow"]


class PhotographRow(Base):
    """One photograph in one job. ``sha256`` is of the stored copy; ``marks`` are arrows and circles drawn on it;
    ``also_ids`` the ids under which the same picture was brought again.

    ``is_here`` says whether the picture itself was brought by this crew: a job file names pictures by hash only, and
    knowing a hash must not open a picture.
    """

    __tablename__ = "photographs"
    __table_args__ = (UniqueConstraint("job_id", "sha256"),)

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    sha256: Mapped[str] = mapped_column(String(64))
    content_type: Mapped[str]
    bytes: Mapped[int] = mapped_column(BigInteger)
    width_px: Mapped[int]
    height_px: Mapped[int]
    original_name: Mapped[str] = mapped_column(default="")
    original_sha256: Mapped[str | None] = mapped_column(String(64))
    subject_kind: Mapped[str | None] = mapped_column(String(40))
    subject_id: Mapped[OptionalId]
    note: Mapped[str] = mapped_column(default="")
    marks: Mapped[list[dict[str, Any]]] = mapped_column(JSON, default=list)
    also_ids: Mapped[list[str] | None] = mapped_column(JSON(none_as_null=True))
    taken_at: Mapped[datetime | None]
    added_at: Mapped[datetime]
    person_id: Mapped[OptionalId]
    is_here: Mapped[bool] = mapped_column(default=True)
    deleted_at: Mapped[datetime | None]
