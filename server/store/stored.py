"""Facts as they stand in their tables, with their versions: what the write side reads before it writes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any, Final

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from server.store.errors import NotThere
from server.store.kinds import JOB, KINDS, FactKind, Reference

__all__ = [
    "Stored",
    "chunks",
    "kind_named",
    "live_ids",
    "of_job",
    "read",
    "read_all",
    "read_many",
    "read_row",
    "table_of",
    "targets_of",
]

_CHUNK: Final = 400
"""Ids in one IN list: far below what either database takes."""


@dataclass(frozen=True, slots=True)
class Stored:
    """A fact as it stands, with the version that an edit names as its base."""

    fact: Any
    version: int


def kind_named(name: str) -> FactKind:
    """A kind of fact by its name; ``job`` is the job's own settings.

    Raises:
        NotThere: there is no such kind.
    """
    if name == JOB.name:
        return JOB
    if name not in KINDS:
        raise NotThere("kind of fact", name)
    return KINDS[name]


def table_of(kind: FactKind) -> Table:
    """The table of a kind of fact."""
    table: Table = kind.row.__table__
    return table


def of_job(kind: FactKind, job_id: str) -> list[Any]:
    """What a row of this kind must meet to be the job's and not deleted."""
    table = table_of(kind)
    if kind is JOB:
        return [table.c.id == job_id]
    return [table.c.job_id == job_id, table.c.deleted_at.is_(None)]


def targets_of(reference: Reference, value: Any) -> tuple[str, ...]:
    """The ids that a reference's value names: none, one, or several."""
    if reference.many:
        return tuple(value)
    return () if value is None else (value,)


def chunks(ids: Iterable[str]) -> Iterator[list[str]]:
    """Ids in lists that fit one statement; nothing for none."""
    rest = iter(ids)
    while some := list(islice(rest, _CHUNK)):
        yield some


def read_row(kind: FactKind, row: Sequence[Any]) -> Stored:
    """A fact from a row of its columns followed by its version."""
    return Stored(kind.fact(*row[:-1]), row[-1])


def read(session: Session, job_id: str, kind_name: str, fact_id: str) -> Stored:
    """One fact of a job.

    Raises:
        NotThere: the job has no such fact, or no longer.
    """
    kind = kind_named(kind_name)
    table = table_of(kind)
    row = session.execute(
        select(*kind.columns, table.c.version).where(table.c.id == fact_id, *of_job(kind, job_id))
    ).one_or_none()
    if row is None:
        raise NotThere(kind.name, fact_id)
    return read_row(kind, row)


def read_all(session: Session, job_id: str, kind_name: str) -> list[Stored]:
    """Every fact of one kind, in the order in which they were entered.

    Raises:
        NotThere: there is no such kind.
    """
    kind = kind_named(kind_name)
    table = table_of(kind)
    rows = session.execute(
        select(*kind.columns, table.c.version).where(*of_job(kind, job_id)).order_by(table.c.entered)
    )
    return [read_row(kind, row) for row in rows]


def read_many(
    session: Session, job_id: str, kind: FactKind, ids: Iterable[str], *, deleted: bool = False
) -> list[Stored]:
    """Some facts of one kind, those that are there; with ``deleted``, those that were deleted."""
    table = table_of(kind)
    where = [table.c.job_id == job_id, table.c.deleted_at.is_not(None)] if deleted else of_job(kind, job_id)
    found: list[Stored] = []
    for some in chunks(ids):
        rows = session.execute(
            select(*kind.columns, table.c.version)
            .where(table.c.id.in_(some), *where)
            .order_by(table.c.entered)
        )
        found.extend(read_row(kind, row) for row in rows)
    return found


def live_ids(session: Session, job_id: str, kind: FactKind, ids: Iterable[str]) -> set[str]:
    """Which of some ids are facts of the job that were not deleted."""
    table = table_of(kind)
    found: set[str] = set()
    for some in chunks(ids):
        found.update(session.scalars(select(table.c.id).where(table.c.id.in_(some), *of_job(kind, job_id))))
    return found
