"""Jobs: a house that is being wired, for a crew, under an edition and its amendments."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from server.dwelling import Stage, WorkKind
from server.store.base import Base, Key, OptionalId

__all__ = ["JobRow"]


class JobRow(Base):
    """One job.

    ``name``, ``stage``, ``work``, ``permit_date`` and ``floor_area_ft2`` are the fields of the dwelling's site.
    ``presets`` names amendments that ship with Studbay; ``layers`` holds the job's own, as documents that
    ``server.editions.loader.parse_amendment`` reads.

    ``revision`` counts every write to the job: whoever writes takes the next one first, which also makes writers
    of one job wait for each other. ``facts_revision`` is the last one that changed a fact; what lies between
    the two are observations.
    """

    __tablename__ = "jobs"
    __table_args__ = (Index(None, "crew_id", "archived_at"),)

    id: Mapped[Key]
    crew_id: Mapped[str] = mapped_column(String(64), ForeignKey("crews.id", ondelete="CASCADE"))
    name: Mapped[str]
    address: Mapped[str] = mapped_column(default="")
    edition: Mapped[int]
    presets: Mapped[tuple[str, ...]] = mapped_column(default=())
    layers: Mapped[list[dict[str, Any]]] = mapped_column(JSON, default=list)
    stage: Mapped[Stage] = mapped_column(default=Stage.ROUGH_IN)
    work: Mapped[WorkKind] = mapped_column(default=WorkKind.NEW)
    permit_number: Mapped[str] = mapped_column(default="", server_default="")
    permit_date: Mapped[date | None]
    inspection_date: Mapped[date | None]
    floor_area_ft2: Mapped[int | None]
    is_demo: Mapped[bool] = mapped_column(default=False)
    created_at: Mapped[datetime]
    created_by: Mapped[OptionalId]
    archived_at: Mapped[datetime | None]
    version: Mapped[int] = mapped_column(default=1)
    revision: Mapped[int] = mapped_column(BigInteger, default=0)
    facts_revision: Mapped[int] = mapped_column(BigInteger, default=0)
