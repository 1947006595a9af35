"""Accounts, crews, who belongs to which, sign-in sessions, and what keeps guessing slow.

Secrets (session tokens, one-time links, guest links, calendar links, programs' keys) stand here as SHA-256 of 32 random bytes: who
reads the database cannot sign in with it. Passwords stand as argon2id hashes.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.base import Base, Id, Key, OptionalId

__all__ = [
    "AccountRow",
    "CalendarLinkRow",
    "CrewRow",
    "GuestLinkRow",
    "InstallationRow",
    "InviteRow",
    "KnownDeviceRow",
    "MembershipRow",
    "ProgramKeyRow",
    "RecoveryCodeRow",
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
    totp_pending: Mapped[str | None]
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
    """A one-time secret: a link that lets its bearer set a password (``join``), or a sign-in whose password was right
    and whose second factor is still to come (``second``)."""

    __tablename__ = "invites"

    id: Mapped[Key]
    purpose: Mapped[str] = mapped_column(server_default="join")
    token_sha256: Mapped[str] = mapped_column(unique=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), index=True)
    made_by: Mapped[OptionalId]
    made_at: Mapped[datetime]
    ends_at: Mapped[datetime]
    used_at: Mapped[datetime | None]


class RecoveryCodeRow(Base):
    """A code, good once, that stands for the second factor when the telephone is gone. 80 random bits, hashed."""

    __tablename__ = "recovery_codes"

    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True)
    code_sha256: Mapped[str] = mapped_column(primary_key=True)
    used_at: Mapped[datetime | None]


class KnownDeviceRow(Base):
    """A browser that signed in to this account before: it has its own count of tries, so that a stranger's guessing
    does not lock its owner out. It opens nothing by itself. A tablet that a crew shares is known to each of them."""

    __tablename__ = "known_devices"
    __table_args__ = (Index(None, "account_id"),)

    token_sha256: Mapped[str] = mapped_column(primary_key=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True)
    ends_at: Mapped[datetime]


class ProgramKeyRow(Base):
    """A key with which a program reads and writes under ``/api`` as its maker, on one crew."""

    __tablename__ = "program_keys"
    __table_args__ = (Index(None, "account_id"),)

    id: Mapped[Key]
    token_sha256: Mapped[str] = mapped_column(unique=True)
    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"))
    crew_id: Mapped[str] = mapped_column(ForeignKey("crews.id", ondelete="CASCADE"))
    label: Mapped[str]
    made_at: Mapped[datetime]
    ends_at: Mapped[datetime]


class CalendarLinkRow(Base):
    """The address of a person's calendar of visits: reads those of the crews that they are on. At most one a person."""

    __tablename__ = "calendar_links"

    account_id: Mapped[str] = mapped_column(ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True)
    token_sha256: Mapped[str] = mapped_column(unique=True)
    made_at: Mapped[datetime]


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
