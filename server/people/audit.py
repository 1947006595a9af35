"""Writes the audit trail: who did what, when, with which request. No passwords, no tokens.

Words used: ``signed in``, ``sign-in refused``, ``signed out``, ``session ended``, ``first account made``, ``person
added``, ``role changed``, ``person let go``, ``person taken back``, ``link made``, ``password set``, ``second factor on``,
``second factor off``, ``crew made``, ``crew changed``, ``key made``, ``key ended``,
``calendar link made``, ``calendar link ended``.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from server.store.tables.audit import AuditRow

__all__ = ["note"]

_LONGEST = 200


def note(
    session: Session,
    what: str,
    now: datetime,
    *,
    person_id: str | None = None,
    crew_id: str | None = None,
    job_id: str | None = None,
    request_id: str | None = None,
    **details: str,
) -> None:
    """Add an event; it is kept exactly if the transaction is."""
    session.add(
        AuditRow(
            at=now,
            what=what,
            person_id=person_id,
            crew_id=crew_id,
            job_id=job_id,
            request_id=request_id,
            details={name: value[:_LONGEST] for name, value in details.items()},
        )
    )
