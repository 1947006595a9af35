"""An address under which a calendar program reads the visits of a person's crews: no session, nothing else, until it is ended.

One a person: a new one ends the one before. Only the token's hash is kept. Who is let go from a crew sees its visits no
longer, whose account is closed sees none.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from server.people.person import Person
from server.people.roles import Role
from server.people.tokens import looks_like_token, new_token, token_hash
from server.store.tables.people import AccountRow, CalendarLinkRow, CrewRow, MembershipRow

__all__ = ["calendar_link_since", "end_calendar_link", "make_calendar_link", "readers_of"]


def make_calendar_link(session: Session, account_id: str, now: datetime) -> str:
    """Make a person's link and return its token, which is not kept anywhere; the one before opens nothing any more."""
    end_calendar_link(session, account_id)
    token = new_token()
    session.add(CalendarLinkRow(account_id=account_id, token_sha256=token_hash(token), made_at=now))
    return token


def end_calendar_link(session: Session, account_id: str) -> bool:
    """End a person's link at once; whether there was one."""
    ended = session.execute(
        delete(CalendarLinkRow)
        .where(CalendarLinkRow.account_id == account_id)
        .returning(CalendarLinkRow.account_id)
    )
    return ended.first() is not None


def calendar_link_since(session: Session, account_id: str) -> datetime | None:
    """When a person's link was made; None where there is none."""
    return session.scalar(select(CalendarLinkRow.made_at).where(CalendarLinkRow.account_id == account_id))


def readers_of(session: Session, token: str) -> list[tuple[Person, str]] | None:
    """Whom a token reads for: the person once for each crew that they are on, with the crew's name.

    None for a token that was ended or never was, and for a closed account.
    """
    if not looks_like_token(token):
        return None
    account = session.execute(
        select(AccountRow.id, AccountRow.name)
        .join(CalendarLinkRow, CalendarLinkRow.account_id == AccountRow.id)
        .where(CalendarLinkRow.token_sha256 == token_hash(token), AccountRow.disabled_at.is_(None))
    ).one_or_none()
    if account is None:
        return None
    crews = session.execute(
        select(CrewRow.id, CrewRow.name, MembershipRow.role)
        .join(MembershipRow, MembershipRow.crew_id == CrewRow.id)
        .where(MembershipRow.account_id == account[0], MembershipRow.ended_at.is_(None))
        .order_by(CrewRow.name, CrewRow.id)
    )
    return [(Person(account[0], account[1], crew, Role.named(role)), name) for crew, name, role in crews]
