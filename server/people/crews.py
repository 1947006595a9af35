"""A crew's people: who is on it, as what; adding, changing, letting go and taking back.

A crew never loses its last owner. A link that sets somebody's password is made only for people whose one crew is this:
an owner must not be able to step into an account that also belongs to another crew.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select, update
from sqlalchemy.orm import Session

from server.people import sessions
from server.people.access import NotFound
from server.people.accounts import add_account, add_membership
from server.people.invites import make_invite
from server.people.passwords import UNUSABLE
from server.people.person import Person
from server.people.roles import Role
from server.people.tokens import new_id
from server.store.tables.people import AccountRow, CrewRow, MembershipRow, ProgramKeyRow, SignInSessionRow

__all__ = [
    "ElsewhereToo",
    "LastOwner",
    "Member",
    "add_person",
    "change_role",
    "invite_again",
    "let_go",
    "make_crew",
    "member",
    "members",
    "rename_crew",
    "take_back",
]


class LastOwner(Exception):
    """The crew would be left without an owner."""


class ElsewhereToo(Exception):
    """The person is on another crew as well."""


@dataclass(frozen=True, slots=True)
class Member:
    """Someone on a crew, or formerly on it."""

    account_id: str
    name: str
    sign_in_name: str
    role: Role
    joined_at: datetime
    ended_at: datetime | None
    has_password: bool
    has_second_factor: bool
    last_seen_at: datetime | None

    @property
    def is_on(self) -> bool:
        """Whether the person is on the crew now."""
        return self.ended_at is None


def _members(session: Session, crew_id: str, *conditions: object) -> list[Member]:
    seen = (
        select(SignInSessionRow.account_id, func.max(SignInSessionRow.seen_at).label("seen_at"))
        .where(SignInSessionRow.crew_id == crew_id)
        .group_by(SignInSessionRow.account_id)
        .subquery()
    )
    rows = session.execute(
        select(
            AccountRow.id,
            AccountRow.name,
            AccountRow.sign_in_name,
            MembershipRow.role,
            MembershipRow.joined_at,
            MembershipRow.ended_at,
            AccountRow.password_hash,
            AccountRow.totp_secret,
            seen.c.seen_at,
        )
        .join(MembershipRow, MembershipRow.account_id == AccountRow.id)
        .outerjoin(seen, seen.c.account_id == AccountRow.id)
        .where(MembershipRow.crew_id == crew_id, *conditions)  # type: ignore[arg-type]
    )
    return [
        Member(
            account_id,
            name,
            sign_in_name,
            Role.named(role),
            joined,
            ended,
            password != UNUSABLE,
            totp is not None,
            at,
        )
        for account_id, name, sign_in_name, role, joined, ended, password, totp, at in rows
    ]


def members(session: Session, person: Person) -> list[Member]:
    """The people of the person's crew: those on it first, the highest role first, then by name. One query."""
    found = _members(session, person.crew_id)
    return sorted(found, key=lambda who: (not who.is_on, -who.role, who.name.casefold()))


def member(session: Session, person: Person, account_id: str) -> Member:
    """One of the person's own crew.

    Raises:
        NotFound: nobody of that id is or was on it.
    """
    found = _members(session, person.crew_id, MembershipRow.account_id == account_id)
    if not found:
        raise NotFound
    return found[0]


def make_crew(session: Session, account_id: str, name: str, now: datetime) -> str:
    """Make a crew that an account owns; returns its id."""
    crew_id = new_id()
    session.add(CrewRow(id=crew_id, name=name, made_at=now))
    session.flush()
    add_membership(session, crew_id, account_id, Role.OWNER, now)
    return crew_id


def rename_crew(session: Session, person: Person, name: str) -> None:
    """Give the person's crew another name."""
    session.execute(update(CrewRow).where(CrewRow.id == person.crew_id).values(name=name))


def add_person(
    session: Session, person: Person, *, name: str, sign_in_name: str, role: Role, now: datetime
) -> tuple[str, str]:
    """Add somebody to the person's crew; returns the account's id and the token of the link to send.

    Raises:
        server.people.accounts.NameTaken: the sign-in name is taken.
    """
    account_id = add_account(session, name=name, sign_in_name=sign_in_name, password_hash=UNUSABLE, now=now)
    session.flush()
    add_membership(session, person.crew_id, account_id, role, now)
    return account_id, make_invite(session, account_id, person.id, now)


def invite_again(session: Session, person: Person, account_id: str, now: datetime) -> str:
    """Another link for somebody who lost the first, or the password; returns its token.

    Raises:
        NotFound: nobody of that id is on the crew.
        ElsewhereToo: the person is on another crew as well.
    """
    if not member(session, person, account_id).is_on:
        raise NotFound
    crews = session.scalars(
        select(MembershipRow.crew_id).where(
            MembershipRow.account_id == account_id, MembershipRow.ended_at.is_(None)
        )
    ).all()
    if list(crews) != [person.crew_id]:
        raise ElsewhereToo
    return make_invite(session, account_id, person.id, now)


def _keep_an_owner(session: Session, person: Person, account_id: str) -> None:
    owners = session.scalars(
        select(MembershipRow.account_id)
        .where(
            MembershipRow.crew_id == person.crew_id,
            MembershipRow.role == Role.OWNER.word,
            MembershipRow.ended_at.is_(None),
        )
        # two owners who let each other go at once: the second waits and then counts
        .with_for_update()
    ).all()
    if list(owners) == [account_id]:
        raise LastOwner


def change_role(session: Session, person: Person, account_id: str, role: Role) -> Member:
    """Change a role; returns who it was before. It holds from the next request on.

    Raises:
        NotFound: nobody of that id is on the crew.
        LastOwner: the crew would be left without an owner.
    """
    before = member(session, person, account_id)
    if not before.is_on:
        raise NotFound
    if role < Role.OWNER:
        _keep_an_owner(session, person, account_id)
    session.execute(
        update(MembershipRow)
        .where(MembershipRow.crew_id == person.crew_id, MembershipRow.account_id == account_id)
        .values(role=role.word)
    )
    return before


def let_go(session: Session, person: Person, account_id: str, now: datetime) -> Member:
    """End a membership, its sign-ins and keys at once. What the person recorded stays under the name.

    Raises:
        NotFound: nobody of that id is on the crew.
        LastOwner: the crew would be left without an owner.
    """
    before = member(session, person, account_id)
    if not before.is_on:
        raise NotFound
    _keep_an_owner(session, person, account_id)
    session.execute(
        update(MembershipRow)
        .where(MembershipRow.crew_id == person.crew_id, MembershipRow.account_id == account_id)
        .values(ended_at=now)
    )
    sessions.end_all(session, account_id, crew_id=person.crew_id)
    session.execute(
        update(ProgramKeyRow)
        .where(ProgramKeyRow.account_id == account_id, ProgramKeyRow.crew_id == person.crew_id)
        .values(ends_at=now)
    )
    return before


def take_back(session: Session, person: Person, account_id: str) -> Member:
    """Let somebody who was let go work on the crew again.

    Raises:
        NotFound: nobody of that id was ever on it.
    """
    before = member(session, person, account_id)
    session.execute(
        update(MembershipRow)
        .where(MembershipRow.crew_id == person.crew_id, MembershipRow.account_id == account_id)
        .values(ended_at=None)
    )
    return before
