"""Accounts, crews, who belongs to which, sign-in sessions, and what keeps guessing slow.

Secrets (session tokens, one-time links, guest links, programs' keys) stand here as SHA-256 of 32 random bytes: who
reads the database cannot sign in with it. Passwords stand as argon2id hashes.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Id, Key, OptionalId

__all__ = [
    "AccountRow",
    "CrewRow",
    "GuestLinkRow",
    "InstallationRow",
    "InviteRow",
    "MembershipRow",
    "SignInSessionRow",
    "ThrottleRow",
]


class InstallationRow(Base):
    """The one row that exists once the first account was made: its primary key lets only one first run win."""

    __tablename__ = "installation"

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    made_at: Mapped[datetime]


class AccountRow(Base):
    """Someone who can sign in. ``sign_in_name`` is stored folded (lower case, NFKC) and unique."""

    __tablename__ = "accounts"

    id: Mapped[Key]
    sign_in_name: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str]
    password_hash: Mapped[str]
    password_set_at: Mapped[datetime]
    totp_secret: Mapped[str | None]
    totp_last_step: Mapped[int | None]
    disabled_at: Mapped[datetime | None]
    made_at: Mapped[datetime]


class CrewRow(Base):
    """People who share jobs."""

    __tablename__ = "crews"

    id: Mapped[Key]
    name: Mapped[str]
    made_at: Mapped[datetime]


class MembershipRow(Base):
    """An account's role on a crew. ``role`` is the word of :class:`server.people.roles.Role`."""

    __tablename__ = "memberships"
    __table_args__ = (Index(None, "account_id"),)

    crew_id: Mapped[str] = mapped_column(ForeignKey("crews.id", ondelete="CASCADE"), primary_key=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True)
    role: Mapped[str]
    joined_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]


class SignInSessionRow(Base):
    """A signed-in browser. ``id`` may be shown (to end a session); the token's hash is looked up and never shown."""

    __tablename__ = "sign_in_sessions"
    __table_args__ = (Index(None, "account_id"),)

    id: Mapped[Key]
    token_sha256: Mapped[str] = mapped_column(unique=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"))
    crew_id: Mapped[str] = mapped_column(ForeignKey("crews.id", ondelete="CASCADE"))
    made_at: Mapped[datetime]
    seen_at: Mapped[datetime]
    proved_at: Mapped[datetime]
    ends_at: Mapped[datetime]
    device: Mapped[str]


class InviteRow(Base):
    """A one-time link that lets its bearer set a password: for a new member, or when one was forgotten."""

    __tablename__ = "invites"

    id: Mapped[Key]
    token_sha256: Mapped[str] = mapped_column(unique=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), index=True)
    made_by: Mapped[OptionalId]
    made_at: Mapped[datetime]
    ends_at: Mapped[datetime]
    used_at: Mapped[datetime | None]


class ThrottleRow(Base):
    """A token bucket: ``level`` tokens were left at ``at``; they refill with time."""

    __tablename__ = "throttle"

    bucket: Mapped[str] = mapped_column(primary_key=True)
    level: Mapped[float]
    at: Mapped[datetime]


class GuestLinkRow(Base):
    """A link that opens one job to someone without an account: reads only, ends, can be revoked."""

    __tablename__ = "guest_links"
    __table_args__ = (UniqueConstraint("crew_id", "id"), Index(None, "job_id"))

    id: Mapped[Key]
    token_sha256: Mapped[str] = mapped_column(unique=True)
    crew_id: Mapped[str] = mapped_column(ForeignKey("crews.id", ondelete="CASCADE"))
    job_id: Mapped[Id]
    label: Mapped[str]
    made_by: Mapped[Id]
    made_at: Mapped[datetime]
    ends_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]
