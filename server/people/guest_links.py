"""Links for inspector, builder and owner: one job, read-only, ending, revocable. Only the token's hash is kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from server.people.access import NotFound
from server.people.person import Person
from server.people.roles import Role
from server.people.tokens import looks_like_token, new_id, new_token, token_hash
from server.store.tables.people import CrewRow, GuestLinkRow

__all__ = ["LONGEST", "GuestLink", "find_guest", "links_of", "make_link", "revoke_link"]

LONGEST = timedelta(days=180)


@dataclass(frozen=True, slots=True)
class GuestLink:
    """A link as the crew sees it; the token itself is shown once, when it is made."""

    id: str
    label: str
    made_at: datetime
    ends_at: datetime
    revoked: bool


def make_link(
    session: Session, person: Person, job_id: str, label: str, ends_at: datetime, now: datetime
) -> str:
    """Make a link to a job and return its token, which is not kept anywhere."""
    token = new_token()
    session.add(
        GuestLinkRow(
            id=new_id(), token_sha256=token_hash(token), crew_id=person.crew_id, job_id=job_id, label=label, made_by=person.id,
            made_at=now, ends_at=min(ends_at, now + LONGEST),
        )
    )  # fmt: skip
    return token


def find_guest(session: Session, token: str, now: datetime) -> tuple[Person, str] | None:
    """The guest that a token lets in, and the crew's name; None for one that ended, was revoked or never was."""
    if not looks_like_token(token):
        return None
    row = session.execute(
        select(GuestLinkRow.id, GuestLinkRow.label, GuestLinkRow.crew_id, GuestLinkRow.job_id, CrewRow.name)
        .join(CrewRow, CrewRow.id == GuestLinkRow.crew_id)
        .where(
            GuestLinkRow.token_sha256 == token_hash(token),
            GuestLinkRow.revoked_at.is_(None),
            GuestLinkRow.ends_at > now,
        )
    ).one_or_none()
    if row is None:
        return None
    return Person(row[0], row[1], row[2], Role.GUEST, only_job_id=row[3]), row[4]


def links_of(session: Session, person: Person, job_id: str) -> list[GuestLink]:
    """The links to a job of the person's crew, the newest first."""
    rows = session.scalars(
        select(GuestLinkRow)
        .where(GuestLinkRow.crew_id == person.crew_id, GuestLinkRow.job_id == job_id)
        .order_by(GuestLinkRow.made_at.desc())
    )
    return [
        GuestLink(row.id, row.label, row.made_at, row.ends_at, row.revoked_at is not None) for row in rows
    ]


def revoke_link(session: Session, person: Person, job_id: str, link_id: str, now: datetime) -> None:
    """End a link at once.

    Raises:
        NotFound: the crew has no such link to that job.
    """
    done = session.execute(
        update(GuestLinkRow)
        .where(
            GuestLinkRow.id == link_id, GuestLinkRow.crew_id == person.crew_id, GuestLinkRow.job_id == job_id
        )
        .values(revoked_at=now)
        .returning(GuestLinkRow.id)
    )
    if done.scalar() is None:
        raise NotFound
