"""Signing in, step by step: the tries left, the password, the second factor, the session.

The same answer, after the same time, for a wrong password, an unknown name, a disabled account and one without a
crew: nothing tells who exists. Hashing stands outside every transaction.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import Engine, delete, select
from sqlalchemy.orm import Session

from server.people import invites, passwords, second_factor, sessions, throttle
from server.people.accounts import account_by_sign_in_name, crews_of, fold_sign_in_name, store_rehash
from server.people.audit import note
from server.people.seal import Seal
from server.people.sessions import Lifetime
from server.people.throttle import Bucket
from server.people.tokens import looks_like_token, new_token, token_hash
from server.store.engine import reading, writing
from server.store.tables.people import InviteRow, KnownDeviceRow, SignInSessionRow

__all__ = [
    "DEVICE_FOR",
    "Asking",
    "HalfWay",
    "Refused",
    "SignedIn",
    "TooManyTries",
    "open_for",
    "second_step",
    "sign_in",
]

DEVICE_FOR: Final = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class Asking:
    """What is known of the browser that asks."""

    address: str | None
    device: str
    known_device: str
    old_session: str
    request_id: str
    lifetime: Lifetime


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Both cookies' tokens: the session's, and that of a browser that is known from now on."""

    token: str
    device_token: str


@dataclass(frozen=True, slots=True)
class HalfWay:
    """The password was right; the second factor is asked for with this token."""

    token: str


@dataclass(frozen=True, slots=True)
class Refused:
    """It did not fit; not said what."""


@dataclass(frozen=True, slots=True)
class TooManyTries:
    """Wait so many seconds."""

    seconds: int


def _buckets(session: Session, sign_in_name: str, asking: Asking, now: datetime) -> list[Bucket]:
    if looks_like_token(asking.known_device):
        account = account_by_sign_in_name(session, sign_in_name)
        known = account and session.scalar(
            select(KnownDeviceRow.account_id).where(
                KnownDeviceRow.token_sha256 == token_hash(asking.known_device),
                KnownDeviceRow.account_id == account.id,
                KnownDeviceRow.ends_at > now,
            )
        )
        if known:
            return [Bucket(f"device:{token_hash(asking.known_device)[:32]}", throttle.DEVICE)]
    return [
        Bucket(f"account:{token_hash(sign_in_name)[:32]}", throttle.ACCOUNT),
        Bucket(f"address:{throttle.address_key(asking.address)}", throttle.ADDRESS),
        Bucket("everybody", throttle.EVERYBODY),
    ]


def sign_in(
    engine: Engine, sign_in_name: str, password: str, asking: Asking, now: datetime
) -> SignedIn | HalfWay | Refused | TooManyTries:
    """Try a name and a password."""
    try:
        folded = fold_sign_in_name(sign_in_name)
    except ValueError:
        folded = ""  # cannot be anybody; still counted and still as slow
    with writing(engine) as session:
        buckets = _buckets(session, folded, asking, now)
        wait = throttle.take(session, buckets, now)
    if wait:
        return TooManyTries(wait)
    with reading(engine) as session:
        account = account_by_sign_in_name(session, folded)
        crews = crews_of(session, account.id) if account else []
    right = passwords.verify(password, account.password_hash if account and crews else None)
    if account is None or not right:
        with writing(engine) as session:
            note(
                session, "sign-in refused", now, person_id=account.id if account else None,
                request_id=asking.request_id, address=throttle.address_key(asking.address),
            )  # fmt: skip
        return Refused()
    rehash = passwords.hash_password(password) if passwords.needs_rehash(account.password_hash) else None
    with writing(engine) as session:
        if rehash:
            store_rehash(session, account.id, account.password_hash, rehash)
        # only what was this account's own: others' guesses at other names stay counted
        throttle.give_back(session, [b for b in buckets if b.name.startswith(("account:", "device:"))])
        if account.totp_secret is not None:
            return HalfWay(invites.start_half(session, account.id, now))
        return open_for(session, account.id, crews[0][0], asking, now)


def second_step(
    engine: Engine, half_token: str, code: str, asking: Asking, now: datetime, seal: Seal
) -> SignedIn | Refused | TooManyTries | None:
    """Try the second factor; None when the first step has ended meanwhile."""
    with writing(engine) as session:
        half = invites.half_signed_in(session, half_token, now)
        if half is None:
            return None
        bucket = Bucket(f"second:{half.account_id}", throttle.SECOND_FACTOR)
        wait = throttle.take(session, [bucket], now)
        if wait:
            return TooManyTries(wait)
        if not second_factor.check(session, half.account_id, code, now, seal):
            note(
                session, "sign-in refused", now, person_id=half.account_id, request_id=asking.request_id,
                why="second factor", address=throttle.address_key(asking.address),
            )  # fmt: skip
            return Refused()
        crews = crews_of(session, half.account_id)
        if not crews or not invites.use_invite(session, half.invite_id, now):
            return None
        throttle.give_back(session, [bucket])
        return open_for(session, half.account_id, crews[0][0], asking, now)


def open_for(session: Session, account_id: str, crew_id: str, asking: Asking, now: datetime) -> SignedIn:
    """Open a session for an account whose identity is proved; the browser's former session ends."""
    if looks_like_token(asking.old_session):
        sessions.end_token(session, asking.old_session)
    token = sessions.start(session, account_id, crew_id, asking.device, now, asking.lifetime)
    device = asking.known_device if looks_like_token(asking.known_device) else new_token()
    known = session.get(KnownDeviceRow, (token_hash(device), account_id))
    if known is None:
        session.add(
            KnownDeviceRow(token_sha256=token_hash(device), account_id=account_id, ends_at=now + DEVICE_FOR)
        )
    else:
        known.ends_at = now + DEVICE_FOR
    note(
        session, "signed in", now, person_id=account_id, crew_id=crew_id, request_id=asking.request_id,
        address=throttle.address_key(asking.address),
    )  # fmt: skip
    _sweep(session, now)
    return SignedIn(token, device)


def _sweep(session: Session, now: datetime) -> None:
    """Forget what has ended; done by whoever signs in, so that no clockwork is needed."""
    throttle.sweep(session, now)
    session.execute(delete(SignInSessionRow).where(SignInSessionRow.ends_at < now))
    session.execute(delete(InviteRow).where(InviteRow.ends_at < now))
    session.execute(delete(KnownDeviceRow).where(KnownDeviceRow.ends_at < now))
