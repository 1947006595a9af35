"""The first run: the first account and its crew, made once. Afterwards the page that makes them is gone."""

from __future__ import annotations

from datetime import datetime
from weakref import WeakSet

from sqlalchemy import Engine, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from server.people.accounts import add_account, add_membership
from server.people.roles import Role
from server.people.tokens import new_id
from server.store.engine import reading
from server.store.tables.people import CrewRow, InstallationRow

__all__ = ["AlreadyMade", "is_made", "make_first_account"]

_MADE: WeakSet[Engine] = WeakSet()


class AlreadyMade(Exception):
    """The first account exists."""


def is_made(engine: Engine) -> bool:
    """Whether the first account exists. Once it does it is not asked again: an account is never unmade."""
    if engine not in _MADE:
        with reading(engine) as session:
            if session.get(InstallationRow, 1) is None:
                return False
        _MADE.add(engine)
    return True


def make_first_account(
    session: Session, *, name: str, sign_in_name: str, password_hash: str, crew_name: str, now: datetime
) -> tuple[str, str]:
    """Make the account, its crew and its ownership; returns the ids of account and crew.

    Two first runs at once: the installation row's key lets one of them through.

    Raises:
        AlreadyMade: somebody was first.
    """
    if session.scalar(select(InstallationRow.id)) is not None:
        raise AlreadyMade
    session.add(InstallationRow(id=1, made_at=now))
    try:
        session.flush()
    except IntegrityError:
        raise AlreadyMade from None
    crew = CrewRow(id=new_id(), name=crew_name, made_at=now)
    session.add(crew)
    account_id = add_account(
        session, name=name, sign_in_name=sign_in_name, password_hash=password_hash, now=now
    )
    session.flush()
    add_membership(session, crew.id, account_id, Role.OWNER, now)
    return account_id, crew.id
