"""Keeps guessing slow: token buckets in the database, shared by all workers.

A try takes one token from each bucket that it concerns; an empty bucket says how long to wait. A browser that signed in
to an account before has its own bucket and does not draw on those that a stranger can empty: guessing at
somebody's account from elsewhere never locks its owner out.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from typing import Final

from sqlalchemy import delete, select, update
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from server.store.tables.people import ThrottleRow

__all__ = [
    "ACCOUNT",
    "ADDRESS",
    "DEVICE",
    "EVERYBODY",
    "SECOND_FACTOR",
    "Bucket",
    "Limit",
    "address_key",
    "give_back",
    "sweep",
    "take",
]


@dataclass(frozen=True, slots=True)
class Limit:
    """A bucket's size, and how many seconds one token takes to come back."""

    tokens: int
    seconds_each: float


@dataclass(frozen=True, slots=True)
class Bucket:
    """One bucket: its name and limit."""

    name: str
    limit: Limit


ACCOUNT: Final = Limit(10, 60)
DEVICE: Final = Limit(10, 30)
ADDRESS: Final = Limit(30, 10)
EVERYBODY: Final = Limit(300, 0.5)
SECOND_FACTOR: Final = Limit(5, 120)
_KEPT: Final = timedelta(days=1)


def address_key(host: str | None) -> str:
    """The part of an address that one household or site has: all of IPv4, the first 64 bits of IPv6."""
    try:
        address = ipaddress.ip_address(host or "")
    except ValueError:
        return "unknown"
    if isinstance(address, ipaddress.IPv6Address):
        if address.ipv4_mapped is not None:
            return str(address.ipv4_mapped)
        return str(ipaddress.ip_network((address, 64), strict=False))
    return str(address)


def take(session: Session, buckets: Iterable[Bucket], now: datetime) -> int:
    """Take a token from every bucket; the seconds to wait where one of them is empty (then none is taken), else 0."""
    levels = []
    wait = 0.0
    for bucket in sorted(
        buckets, key=lambda bucket: bucket.name
    ):  # one order: two takers never wait on each other
        _make(session, bucket, now)
        row = session.execute(
            select(ThrottleRow.level, ThrottleRow.at)
            .where(ThrottleRow.bucket == bucket.name)
            .with_for_update()
        ).one()
        gained = max(0.0, (now - row.at).total_seconds()) / bucket.limit.seconds_each
        level = min(float(bucket.limit.tokens), row.level + gained)
        # rounded: a hair of floating point is no second to wait
        wait = max(wait, round((1 - level) * bucket.limit.seconds_each, 3))
        levels.append((bucket.name, level))
    if wait > 0:
        return max(1, ceil(wait))
    for name, level in levels:
        session.execute(update(ThrottleRow).where(ThrottleRow.bucket == name).values(level=level - 1, at=now))
    return 0


def _make(session: Session, bucket: Bucket, now: datetime) -> None:
    values = {"bucket": bucket.name, "level": float(bucket.limit.tokens), "at": now}
    on_postgresql = session.get_bind().dialect.name == "postgresql"
    make = postgresql.insert if on_postgresql else sqlite.insert
    session.execute(make(ThrottleRow).values(values).on_conflict_do_nothing())


def give_back(session: Session, buckets: Iterable[Bucket]) -> None:
    """The tries were right: fill the buckets again."""
    session.execute(delete(ThrottleRow).where(ThrottleRow.bucket.in_([bucket.name for bucket in buckets])))


def sweep(session: Session, now: datetime) -> None:
    """Forget buckets that have long filled up again."""
    session.execute(delete(ThrottleRow).where(ThrottleRow.at < now - _KEPT))
