"""Keys for programs: ``Authorization: Bearer KEY`` under ``/api`` acts as whoever made the key, on one crew."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from server.people.person import Person
from server.people.roles import Role
from server.people.tokens import looks_like_token, new_id, new_token, token_hash
from server.store.tables.people import AccountRow, CrewRow, MembershipRow, ProgramKeyRow

__all__ = ["LASTS", "end_key", "find_key", "keys_of", "make_key"]

LASTS: Final = timedelta(days=365)


def make_key(session: Session, person: Person, label: str, now: datetime) -> str:
    """Make a key and return it; only its hash is kept."""
    token = new_token()
    session.add(
        ProgramKeyRow(
            id=new_id(),
            token_sha256=token_hash(token),
            account_id=person.id,
            crew_id=person.crew_id,
            label=label,
            made_at=now,
            ends_at=now + LASTS,
        )
    )
    return token


def find_key(session: Session, token: str, now: datetime) -> tuple[Person, str] | None:
    """Whom a key acts for, and the crew's name; None once it, the account or the membership has ended."""
    if not looks_like_token(token):
        return None
    row = session.execute(
        select(AccountRow.id, AccountRow.name, CrewRow.id, MembershipRow.role, CrewRow.name)
        .select_from(ProgramKeyRow)
        .join(AccountRow, AccountRow.id == ProgramKeyRow.account_id)
        .join(
            MembershipRow,
            (MembershipRow.account_id == AccountRow.id) & (MembershipRow.crew_id == ProgramKeyRow.crew_id),
        )
        .join(CrewRow, CrewRow.id == MembershipRow.crew_id)
        .where(
            ProgramKeyRow.token_sha256 == token_hash(token),
            ProgramKeyRow.ends_at > now,
            AccountRow.disabled_at.is_(None),
            MembershipRow.ended_at.is_(None),
        )
    ).one_or_none()
    if row is None:
        return None
    return Person(row[0], row[1], row[2], Role.named(row[3])), row[4]


def keys_of(session: Session, person: Person, now: datetime) -> list[ProgramKeyRow]:
    """A person's keys on this crew that still open something, the newest first."""
    return list(
        session.scalars(
            select(ProgramKeyRow)
            .where(
                ProgramKeyRow.account_id == person.id,
                ProgramKeyRow.crew_id == person.crew_id,
                ProgramKeyRow.ends_at > now,
            )
            .order_by(ProgramKeyRow.made_at.desc())
        )
    )


def end_key(session: Session, person: Person, key_id: str) -> bool:
    """End one of a person's own keys; whether there was one."""
    ended = session.execute(
        delete(ProgramKeyRow)
        .where(ProgramKeyRow.id == key_id, ProgramKeyRow.account_id == person.id)
        .returning(ProgramKeyRow.id)
    )
    return ended.first() is not None
