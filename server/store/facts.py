"""The write side of facts: add, edit, delete, undo. Every write is journalled.

    with changing(session, job_id, author, "laid out the kitchen") as change:
        change.add(room, *walls, *boxes)
        change.edit("box", box_id, {"height_in": Fraction(44)}, base_version=3)
        change.delete("device", device_id)
    undo(session, job_id, change.id, author)

One block is one change, undone as a whole. Several people may edit one fact: with ``base_version`` (the version
that the writer had seen) an edit is merged field by field, and refused only where somebody else changed the same
field since. A deleted fact takes what it owns with it (a room its walls and boxes, a box its devices) and lets go
of what merely refers to it (a cable loses that end; a cable without any end goes too).

Every function here needs a session of :func:`server.store.engine.writing`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from sqlalchemy.orm import Session

from server.store.changing import Changing
from server.store.journal import Author
from server.store.stored import Stored, kind_named, read, read_all
from server.store.undo import undo

__all__ = [
    "Author",
    "Stored",
    "add",
    "change",
    "changing",
    "delete",
    "kind_named",
    "read",
    "read_all",
    "undo",
]


@contextmanager
def changing(session: Session, job_id: str, author: Author, what: str) -> Iterator[Changing]:
    """One change of a job's facts. Left with an error nothing of it may stay: let the transaction roll back.

    Raises:
        NotThere: there is no such job.
        Taken: an added fact's id is in use.
        DanglingReference: an added fact names something that is not in the job.
    """
    made = Changing(session, job_id, author, what)
    yield made
    made.close()


def add(session: Session, job_id: str, *facts: Any, author: Author, what: str = "") -> str:
    """Add facts as one change and return the change's id. Raises as :func:`changing`."""
    with changing(session, job_id, author, what or f"added {_named(*facts)}") as made:
        made.add(*facts)
    return made.id


def change(
    session: Session,
    job_id: str,
    kind: str,
    fact_id: str,
    changes: Mapping[str, Any],
    base_version: int | None = None,
    *,
    author: Author,
    what: str = "",
) -> tuple[str | None, int]:
    """Edit one fact as one change; returns the change's id (None where nothing was different) and the fact's
    version. Raises as :meth:`server.store.changing.Changing.edit`."""
    with changing(session, job_id, author, what or f"changed a {kind}: {', '.join(changes)}") as made:
        version = made.edit(kind, fact_id, changes, base_version=base_version)
    return made.id if made.lines else None, version


def delete(session: Session, job_id: str, kind: str, *fact_ids: str, author: Author, what: str = "") -> str:
    """Delete facts of one kind as one change and return the change's id.

    Raises:
        NotThere: the job has no such fact.
    """
    with changing(session, job_id, author, what) as made:
        if not what:
            made.what = (
                f"deleted {_named(*(read(session, job_id, kind, fact_id).fact for fact_id in fact_ids))}"
            )
        made.delete(kind, *fact_ids)
    return made.id


def _named(*facts: Any) -> str:
    """What some facts are called in a history."""
    first = facts[0] if facts else None
    name = getattr(first, "name", "") or getattr(first, "label", "")
    kind = type(first).__name__.lower()
    called = f"{kind} {name}".strip()
    return called if len(facts) < 2 else f"{called} and {len(facts) - 1} more"
