"""Who is signed in: sessions on the server's side, a random token in the browser's cookie.

A session ends after ``idle`` without use, at ``ends_at`` in any case, by signing out, by a new password, or when the
account or its membership is ended. It is replaced, never reused, when someone signs in or changes crew.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from server.people.person import Person
from server.people.roles import Role
from server.people.tokens import looks_like_token, new_id, new_token, token_hash
from server.store.tables.people import AccountRow, CrewRow, MembershipRow, SignInSessionRow

__all__ = [
    "PROVED_FOR",
    "SEEN_EVERY",
    "Lifetime",
    "OpenSession",
    "end_all",
    "end_one",
    "end_token",
    "find",
    "mark_seen",
    "open_sessions",
    "renew",
    "start",
]

SEEN_EVERY: Final = timedelta(minutes=10)
"""How exactly we know when a session was last used: a write for every page would be dear."""

PROVED_FOR: Final = timedelta(minutes=15)
"""For so long after a password was given, sensitive changes are not asked for it again."""

_LONGEST_DEVICE: Final = 200


@dataclass(frozen=True, slots=True)
class Lifetime:
    """How long a session lasts unused, and in any case."""

    idle: timedelta
    longest: timedelta


@dataclass(frozen=True, slots=True)
class OpenSession:
    """A session as found by its token."""

    person: Person
    crew_name: str
    sign_in_name: str
    has_second_factor: bool
    seen_at: datetime
    proved_at: datetime


def start(
    session: Session, account_id: str, crew_id: str, device: str, now: datetime, lifetime: Lifetime
) -> str:
    """Open a session and return its token, which is not kept anywhere else."""
    token = new_token()
    session.add(
        SignInSessionRow(
            id=new_id(),
            token_sha256=token_hash(token),
            account_id=account_id,
            crew_id=crew_id,
            made_at=now,
            seen_at=now,
            proved_at=now,
            ends_at=now + lifetime.longest,
            device=device[:_LONGEST_DEVICE],
        )
    )
    return token


def find(session: Session, token: str, now: datetime, lifetime: Lifetime) -> OpenSession | None:
    """The session of a token, unless it, the account or the membership has ended. One query."""
    if not looks_like_token(token):
        return None
    row = session.execute(
        select(
            SignInSessionRow.id,
            SignInSessionRow.seen_at,
            SignInSessionRow.proved_at,
            AccountRow.id.label("account_id"),
            AccountRow.name,
            AccountRow.sign_in_name,
            AccountRow.totp_secret,
            CrewRow.id.label("crew_id"),
            CrewRow.name.label("crew_name"),
            MembershipRow.role,
        )
        .join(AccountRow, AccountRow.id == SignInSessionRow.account_id)
        .join(
            MembershipRow,
            (MembershipRow.account_id == AccountRow.id) & (MembershipRow.crew_id == SignInSessionRow.crew_id),
        )
        .join(CrewRow, CrewRow.id == MembershipRow.crew_id)
        .where(
            SignInSessionRow.token_sha256 == token_hash(token),
            SignInSessionRow.ends_at > now,
            SignInSessionRow.seen_at > now - lifetime.idle,
            AccountRow.disabled_at.is_(None),
            MembershipRow.ended_at.is_(None),
        )
    ).one_or_none()
    if row is None:
        return None
    person = Person(row.account_id, row.name, row.crew_id, Role.named(row.role), session_id=row.id)
    return OpenSession(
        person, row.crew_name, row.sign_in_name, row.totp_secret is not None, row.seen_at, row.proved_at
    )


def mark_seen(session: Session, session_id: str, now: datetime) -> None:
    """Note that a session is in use."""
    session.execute(update(SignInSessionRow).where(SignInSessionRow.id == session_id).values(seen_at=now))


def renew(session: Session, session_id: str, now: datetime, *, crew_id: str = "") -> str:
    """Give a session a new token, for the crew where given: the person has just given the password, or goes over to
    another crew. The old token opens nothing any more; returns the new one."""
    token = new_token()
    values: dict[str, object] = {"token_sha256": token_hash(token), "seen_at": now}
    values |= {"crew_id": crew_id} if crew_id else {"proved_at": now}
    session.execute(update(SignInSessionRow).where(SignInSessionRow.id == session_id).values(values))
    return token


def end_token(session: Session, token: str) -> None:
    """End the session of a token, if there is one."""
    session.execute(delete(SignInSessionRow).where(SignInSessionRow.token_sha256 == token_hash(token)))


def end_one(session: Session, account_id: str, session_id: str) -> bool:
    """End one of an account's own sessions; whether there was one."""
    ended = session.execute(
        delete(SignInSessionRow)
        .where(SignInSessionRow.id == session_id, SignInSessionRow.account_id == account_id)
        .returning(SignInSessionRow.id)
    )
    return ended.first() is not None


def end_all(session: Session, account_id: str, *, but: str = "", crew_id: str = "") -> None:
    """End an account's sessions, except the one with id ``but``; only those for ``crew_id`` where given."""
    statement = delete(SignInSessionRow).where(
        SignInSessionRow.account_id == account_id, SignInSessionRow.id != but
    )
    if crew_id:
        statement = statement.where(SignInSessionRow.crew_id == crew_id)
    session.execute(statement)


def open_sessions(
    session: Session, account_id: str, now: datetime, lifetime: Lifetime
) -> list[SignInSessionRow]:
    """An account's sessions that still open something, the last used first."""
    return list(
        session.scalars(
            select(SignInSessionRow)
            .where(
                SignInSessionRow.account_id == account_id,
                SignInSessionRow.ends_at > now,
                SignInSessionRow.seen_at > now - lifetime.idle,
            )
            .order_by(SignInSessionRow.seen_at.desc())
        )
    )
