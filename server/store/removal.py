"""What goes when a fact is deleted, and what only lets go of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import select, update

from server.store.journal import Line
from server.store.kinds import KINDS, FactKind, Reference
from server.store.plain import plain_of
from server.store.stored import Stored, chunks, of_job, read_many, table_of, targets_of

if TYPE_CHECKING:
    from server.store.changing import Changing

__all__ = ["remove"]

_ENDS: Final = ("a_box_id", "a_panel_id", "b_box_id", "b_panel_id")


def remove(change: Changing, asked: Mapping[str, set[str]]) -> None:
    """Delete facts (ids by kind, all of them there) as a part of a change.

    What a fact owns goes with it. Other references to it are emptied; a cable that loses its last end goes.
    Journalled so that, read backwards, owners come back before what they own.
    """
    doomed: dict[str, set[str]] = {name: set(ids) for name, ids in asked.items()}
    for kind in KINDS.values():  # owners stand before what they own
        if kind.owner is not None and doomed.get(kind.owner.kind):
            doomed.setdefault(kind.name, set()).update(
                _naming(change, kind, kind.owner, doomed[kind.owner.kind])
            )
    for kind in reversed(tuple(KINDS.values())):  # cables before the devices that name them
        _let_go(change, kind, doomed)
    now = datetime.now(UTC)
    for kind in reversed(tuple(KINDS.values())):
        ids = doomed.get(kind.name, set())
        for stored in read_many(change.session, change.job_id, kind, ids):
            change.lines.append(
                Line(
                    kind.name, stored.fact.id, stored.version + 1, plain_of(stored.fact, kind.fields), None,
                    follows=stored.fact.id not in asked.get(kind.name, ()),
                )
            )  # fmt: skip
        table = table_of(kind)
        for some in chunks(ids):
            change.session.execute(
                update(table).where(table.c.id.in_(some)).values(deleted_at=now, version=table.c.version + 1)
            )


def _naming(change: Changing, kind: FactKind, reference: Reference, ids: set[str]) -> set[str]:
    """The facts of a kind that name one of some ids in one field."""
    table = table_of(kind)
    column = table.c[reference.field]
    where = of_job(kind, change.job_id)
    if reference.many:
        rows = change.session.execute(select(table.c.id, column).where(*where))
        return {fact_id for fact_id, targets in rows if not ids.isdisjoint(targets)}
    found: set[str] = set()
    for some in chunks(ids):
        found.update(change.session.scalars(select(table.c.id).where(column.in_(some), *where)))
    return found


def _let_go(change: Changing, kind: FactKind, doomed: dict[str, set[str]]) -> None:
    references = [item for item in kind.references if not item.owner and doomed.get(item.kind)]
    touched: set[str] = set()
    for reference in references:
        touched |= _naming(change, kind, reference, doomed[reference.kind])
    for stored in read_many(change.session, change.job_id, kind, touched - doomed.get(kind.name, set())):
        new = {
            reference.field: _without(stored, reference, doomed[reference.kind])
            for reference in references
            if not doomed[reference.kind].isdisjoint(
                targets_of(reference, getattr(stored.fact, reference.field))
            )
        }
        if kind.name == "cable" and _loses_its_last_end(stored, new):
            doomed.setdefault(kind.name, set()).add(stored.fact.id)
        else:
            change.write_edit(kind, stored, new, follows=True)


def _without(stored: Stored, reference: Reference, gone: set[str]) -> Any:
    if not reference.many:
        return None
    return tuple(target for target in getattr(stored.fact, reference.field) if target not in gone)


def _loses_its_last_end(cable: Stored, new: Mapping[str, Any]) -> bool:
    loses = any(end in new for end in _ENDS)
    return loses and not any(getattr(cable.fact, end) for end in _ENDS if end not in new)
