"""A write of the API: by whoever asks, to a job of theirs, done once under a key.

The key comes in the header ``Idempotency-Key``; the same key with the same request gives the same answer and does
nothing, with another request it is refused.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import Header, Request
from sqlalchemy.orm import Session

from server.people.access import job_for
from server.people.current import engine_of
from server.people.person import Person
from server.people.roles import Role
from server.store import keys
from server.store.engine import writing
from server.store.journal import Author

__all__ = ["IdempotencyKey", "author_of", "write_once"]

IdempotencyKey = Annotated[
    str | None,
    Header(
        alias="Idempotency-Key",
        min_length=1,
        max_length=200,
        pattern=r"^[\x21-\x7e]+$",
        description="makes a repeat of this request harmless",
    ),
]


def author_of(person: Person) -> Author:
    """A person as the writer of a change."""
    return Author(person.id, person.name)


def write_once(
    request: Request,
    person: Person,
    job_id: str,
    need: Role,
    key: str | None,
    asked: Any,
    write: Callable[[Session], dict[str, Any]],
) -> dict[str, Any]:
    """Do a write in one transaction, or answer again what it answered before.

    Args:
        asked: what the request asks for, as JSON can hold it; with method and path it is what the key stands for.
        write: does it, and returns the answer as JSON can hold it.

    Raises:
        NotFound: no such job, or another crew's.
        Forbidden: the role is below ``need``.
        KeyReused: the key stands for another request.
    """
    author = author_of(person)
    whole = {"method": request.method, "path": request.url.path, "asked": asked}
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, need)
        if key is not None and (done := keys.find(session, author, key, whole)) is not None:
            answered: dict[str, Any] = done.answer
            return answered
        answer = write(session)
        if key is not None:
            keys.keep(session, author, key, job_id, whole, answer)
        return answer
