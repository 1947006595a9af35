"""The log of what was seen and measured. Rows are added and never changed."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import BigInteger, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.dwelling import Answer, Inches
from server.store.base import Base, Id, Key, OptionalId

__all__ = ["ObservationRow"]


class ObservationRow(Base):
    """One look or measurement.

    ``sequence`` is the job's revision at which it was recorded: it orders the log whatever the clocks said.
    ``at`` is when the person saw it, by the tablet's clock (ISO 8601 in UTC); ``recorded_at`` is when it reached
    us, by ours. ``by`` is the person's name as it was then; ``person_id`` who that is, while the account exists.
    ``takes_back`` is the observation that this one takes back.
    """

    __tablename__ = "observations"
    __table_args__ = (
        UniqueConstraint("job_id", "sequence"),
        Index(None, "job_id", "subject_kind", "subject_id", "rule"),
    )

    id: Mapped[Key]
    job_id: Mapped[str] = mapped_column(String(64), ForeignKey("jobs.id", ondelete="CASCADE"))
    sequence: Mapped[int] = mapped_column(BigInteger)
    subject_kind: Mapped[str] = mapped_column(String(40))
    subject_id: Mapped[Id]
    rule: Mapped[str]
    answer: Mapped[Answer]
    measure: Mapped[Inches | None]
    note: Mapped[str]
    by: Mapped[str]
    at: Mapped[str]
    photographs: Mapped[tuple[str, ...]]
    takes_back: Mapped[OptionalId]
    person_id: Mapped[OptionalId]
    recorded_at: Mapped[datetime]
