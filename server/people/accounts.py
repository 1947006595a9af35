"""Accounts: who can sign in, and as what on which crew."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from server.people import sessions
from server.people.roles import Role
from server.people.tokens import new_id
from server.store.tables.people import AccountRow, CrewRow, MembershipRow

__all__ = [
    "LONGEST_NAME",
    "Account",
    "NameTaken",
    "account_by_id",
    "account_by_sign_in_name",
    "add_account",
    "add_membership",
    "crews_of",
    "fold_sign_in_name",
    "rename",
    "set_password",
    "store_rehash",
]

LONGEST_NAME: Final = 80
_SIGN_IN_NAME: Final = re.compile(r"^[a-z0-9][a-z0-9._@+-]{1,79}$")


class NameTaken(Exception):
    """Another account has this sign-in name."""


@dataclass(frozen=True, slots=True)
class Account:
    """An account as signing in needs it."""

    id: str
    sign_in_name: str
    name: str
    password_hash: str
    totp_secret: str | None
    totp_last_step: int | None


def fold_sign_in_name(text: str) -> str:
    """The one spelling of a sign-in name: ``Ana.Ruiz`` and ``ana.ruiz`` are the same.

    Raises:
        ValueError: it has other characters than letters a-z, digits and ``. _ - @ +``, or is too short or long.
    """
    folded = unicodedata.normalize("NFKC", text).strip().lower()
    if not _SIGN_IN_NAME.match(folded):
        raise ValueError(
            "expected 2 to 80 letters a-z, digits or . _ - @ +, beginning with a letter or digit"
        )
    return folded


def add_account(session: Session, *, name: str, sign_in_name: str, password_hash: str, now: datetime) -> str:
    """Add an account and return its id.

    Raises:
        NameTaken: the sign-in name is taken.
    """
    if session.scalar(select(AccountRow.id).where(AccountRow.sign_in_name == sign_in_name)) is not None:
        raise NameTaken
    account_id = new_id()
    session.add(
        AccountRow(
            id=account_id,
            sign_in_name=sign_in_name,
            name=name,
            password_hash=password_hash,
            password_set_at=now,
            made_at=now,
        )
    )
    return account_id


def add_membership(session: Session, crew_id: str, account_id: str, role: Role, now: datetime) -> None:
    """Put an account on a crew."""
    session.add(MembershipRow(crew_id=crew_id, account_id=account_id, role=role.word, joined_at=now))


def _account(session: Session, *conditions: object) -> Account | None:
    row = session.execute(
        select(
            AccountRow.id,
            AccountRow.sign_in_name,
            AccountRow.name,
            AccountRow.password_hash,
            AccountRow.totp_secret,
            AccountRow.totp_last_step,
        ).where(AccountRow.disabled_at.is_(None), *conditions)  # type: ignore[arg-type]
    ).one_or_none()
    return None if row is None else Account(*row)


def account_by_sign_in_name(session: Session, sign_in_name: str) -> Account | None:
    """The account of a folded sign-in name, unless it was disabled."""
    return _account(session, AccountRow.sign_in_name == sign_in_name)


def account_by_id(session: Session, account_id: str) -> Account | None:
    """The account of an id, unless it was disabled."""
    return _account(session, AccountRow.id == account_id)


def crews_of(session: Session, account_id: str) -> list[tuple[str, str, Role]]:
    """The crews of an account: id, name, role; the one joined first comes first."""
    rows = session.execute(
        select(CrewRow.id, CrewRow.name, MembershipRow.role)
        .join(MembershipRow, MembershipRow.crew_id == CrewRow.id)
        .where(MembershipRow.account_id == account_id, MembershipRow.ended_at.is_(None))
        .order_by(MembershipRow.joined_at, CrewRow.name)
    )
    return [(crew_id, name, Role.named(role)) for crew_id, name, role in rows]


def set_password(
    session: Session, account_id: str, password_hash: str, now: datetime, *, keep_session: str = ""
) -> None:
    """Set a password and end every session of the account except ``keep_session``."""
    session.execute(
        update(AccountRow)
        .where(AccountRow.id == account_id)
        .values(password_hash=password_hash, password_set_at=now)
    )
    sessions.end_all(session, account_id, but=keep_session)


def store_rehash(session: Session, account_id: str, old_hash: str, new_hash: str) -> None:
    """Replace a hash that was made with older parameters; not if the password was changed meanwhile."""
    session.execute(
        update(AccountRow)
        .where(AccountRow.id == account_id, AccountRow.password_hash == old_hash)
        .values(password_hash=new_hash)
    )


def rename(session: Session, account_id: str, name: str) -> None:
    """Give an account's person another name."""
    session.execute(update(AccountRow).where(AccountRow.id == account_id).values(name=name))
