"""The same key twice is one write: what was done under a key, and what was answered.

    done = keys.find(session, author, key, asked)      # KeyReused where the key stands for something else
    if done is None:
        answer = ...                                   # do it
        keys.keep(session, author, key, job_id, asked, answer)

in one writing transaction, so that either both the effect and its key are there or neither. A key belongs to the
person who used it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final, cast

from sqlalchemy import Table, delete, insert, select
from sqlalchemy.orm import Session

from server.store.errors import KeyReused
from server.store.journal import Author
from server.store.stored import chunks
from server.store.tables import KeyRow

__all__ = ["Done", "digest_of", "find", "find_many", "forget_before", "keep", "keep_many"]

_KEYS: Final = cast(Table, KeyRow.__table__)


@dataclass(frozen=True, slots=True)
class Done:
    """A write that was done under a key, and its answer."""

    answer: Any


def digest_of(asked: Any) -> str:
    """The hash of what was asked for, whatever the order of its fields."""
    text = json.dumps(asked, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _owner(author: Author) -> str:
    return author.person_id or ""


def find(session: Session, author: Author, key: str, asked: Any) -> Done | None:
    """What was done under a key, or None.

    Raises:
        KeyReused: the key stands for something else.
    """
    return find_many(session, author, {key: asked}).get(key)


def find_many(session: Session, author: Author, asked: Mapping[str, Any]) -> dict[str, Done]:
    """What was done under some keys (key to what is asked under it now); those that are new are left out.

    Raises:
        KeyReused: one stands for something else.
    """
    found: dict[str, Done] = {}
    for some in chunks(asked):
        rows = session.execute(
            select(_KEYS.c.key, _KEYS.c.digest, _KEYS.c.answer).where(
                _KEYS.c.person_id == _owner(author), _KEYS.c.key.in_(some)
            )
        )
        for key, digest, answer in rows:
            if digest != digest_of(asked[key]):
                raise KeyReused(key)
            found[key] = Done(answer)
    return found


def keep(session: Session, author: Author, key: str, job_id: str, asked: Any, answer: Any) -> None:
    """Keep what was answered under a key."""
    keep_many(session, author, job_id, [(key, asked, answer)])


def keep_many(session: Session, author: Author, job_id: str, done: Iterable[tuple[str, Any, Any]]) -> None:
    """Keep what was answered under some keys: (key, what was asked, what was answered) each."""
    now = datetime.now(UTC)
    rows = [
        {
            "person_id": _owner(author), "key": key, "job_id": job_id, "digest": digest_of(asked),
            "answer": answer, "created_at": now,
        }
        for key, asked, answer in done
    ]  # fmt: skip
    if rows:
        session.execute(insert(_KEYS), rows)


def forget_before(session: Session, moment: datetime) -> int:
    """Forget keys older than a moment; returns how many. Tablets may stay away for weeks: forget after months."""
    return session.execute(delete(KeyRow).where(KeyRow.created_at < moment)).rowcount  # type: ignore[attr-defined, no-any-return]
