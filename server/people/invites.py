"""One-time links: a new member, or one who forgot the password, sets a password with it.

The link is shown once to the owner who made it, works once, for three days, and does not get past a second factor.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from server.people.tokens import looks_like_token, new_id, new_token, token_hash
from server.store.tables.people import AccountRow, InviteRow

__all__ = [
    "HALF_FOR",
    "JOIN_FOR",
    "Invited",
    "find_invite",
    "half_signed_in",
    "make_invite",
    "start_half",
    "use_invite",
]

JOIN_FOR: Final = timedelta(days=3)
HALF_FOR: Final = timedelta(minutes=5)
_JOIN: Final = "join"
_SECOND: Final = "second"


@dataclass(frozen=True, slots=True)
class Invited:
    """Whom a one-time secret is for."""

    invite_id: str
    account_id: str
    name: str
    sign_in_name: str


def _make(
    session: Session, purpose: str, account_id: str, made_by: str | None, now: datetime, lasts: timedelta
) -> str:
    # one at a time: a new link ends the one before
    session.execute(delete(InviteRow).where(InviteRow.account_id == account_id, InviteRow.purpose == purpose))
    token = new_token()
    session.add(
        InviteRow(
            id=new_id(),
            purpose=purpose,
            token_sha256=token_hash(token),
            account_id=account_id,
            made_by=made_by,
            made_at=now,
            ends_at=now + lasts,
        )
    )
    return token


def _find(session: Session, purpose: str, token: str, now: datetime) -> Invited | None:
    if not looks_like_token(token):
        return None
    row = session.execute(
        select(InviteRow.id, AccountRow.id, AccountRow.name, AccountRow.sign_in_name)
        .join(AccountRow, AccountRow.id == InviteRow.account_id)
        .where(
            InviteRow.token_sha256 == token_hash(token),
            InviteRow.purpose == purpose,
            InviteRow.used_at.is_(None),
            InviteRow.ends_at > now,
            AccountRow.disabled_at.is_(None),
        )
    ).one_or_none()
    return None if row is None else Invited(*row)


def make_invite(session: Session, account_id: str, made_by: str | None, now: datetime) -> str:
    """Make a link's token; one that was made before ends."""
    return _make(session, _JOIN, account_id, made_by, now, JOIN_FOR)


def find_invite(session: Session, token: str, now: datetime) -> Invited | None:
    """Whom a link is for, unless it was used or has ended."""
    return _find(session, _JOIN, token, now)


def start_half(session: Session, account_id: str, now: datetime) -> str:
    """The password was right, the second factor is still to come: a token for the step between."""
    return _make(session, _SECOND, account_id, None, now, HALF_FOR)


def half_signed_in(session: Session, token: str, now: datetime) -> Invited | None:
    """Who is between the two steps."""
    return _find(session, _SECOND, token, now)


def use_invite(session: Session, invite_id: str, now: datetime) -> bool:
    """Use a secret up; False when somebody was faster."""
    used = session.execute(
        update(InviteRow)
        .where(InviteRow.id == invite_id, InviteRow.used_at.is_(None))
        .values(used_at=now)
        .returning(InviteRow.id)
    )
    return used.first() is not None
