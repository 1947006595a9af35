"""The audit trail: sign-ins, refusals, shares, exports, edition changes. Rows are added and never changed."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, Index, Integer, String
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, OptionalId

__all__ = ["AuditRow"]


class AuditRow(Base):
    """One event: when (by our clock), who, in which crew and job, what, and the request it came with.

    Nothing here points at another table: the trail outlives what it tells about. No secrets in ``details``.
    """

    __tablename__ = "audit"
    __table_args__ = (Index(None, "crew_id", "at"), Index(None, "job_id", "at"))

    number: Mapped[int] = mapped_column(
        BigInteger().with_variant(Integer, "sqlite"), primary_key=True, autoincrement=True
    )
    at: Mapped[datetime]
    what: Mapped[str] = mapped_column(String(80))
    person_id: Mapped[OptionalId]
    crew_id: Mapped[OptionalId]
    job_id: Mapped[OptionalId]
    request_id: Mapped[OptionalId]
    details: Mapped[dict[str, Any]] = mapped_column(JSON, default=dict)
