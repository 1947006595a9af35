"""Undoing a change: what it added goes, what it deleted comes back, what it edited is set back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from server.store.changing import Changing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference, FieldConflict, NotThere
from server.store.journal import CHANGES, Author, Line, lines_of
from server.store.kinds import KINDS, FactKind
from server.store.plain import plain_of, plain_value, value_from_plain
from server.store.removal import remove
from server.store.stored import Stored, kind_named, live_ids, read, read_many, table_of, targets_of

__all__ = ["undo"]


def undo(session: Session, job_id: str, change_id: str, author: Author) -> str:
    """Undo a change of a job as a whole, and return the id of the change that does it (which can be undone too).

    A field that somebody changed since is never written over: the undo is refused. What only followed from the
    change (a cable's end that was let go) and was changed since is left as it is now.

    Raises:
        NotThere: the job has no such change.
        AlreadyUndone: it was undone.
        Conflict: an edited field was changed since; names it with both values.
        DanglingReference: what would come back belongs to something that was deleted since.
    """
    change = Changing(
        session, job_id, author, "", undoes=change_id
    )  # holds the job before the change is read
    row = session.execute(
        select(CHANGES.c.what, CHANGES.c.undone_by, CHANGES.c.undoes).where(
            CHANGES.c.id == change_id, CHANGES.c.job_id == job_id
        )
    ).one_or_none()
    if row is None:
        raise NotThere("change", change_id)
    if row.undone_by is not None:
        raise AlreadyUndone(change_id)
    change.what = f"again: {row.what.removeprefix('undone: ')}" if row.undoes else f"undone: {row.what}"
    lines = list(reversed(lines_of(session, change_id)))
    added: dict[str, set[str]] = {}
    for line in lines:
        if line.before is None:
            added.setdefault(line.kind, set()).add(line.fact_id)
    _bring_back(change, [line for line in lines if line.after is None])
    for line in lines:
        if (
            line.before is not None
            and line.after is not None
            and line.fact_id not in added.get(line.kind, ())
        ):
            _set_back(change, line)
    there = {name: live_ids(session, job_id, KINDS[name], ids) for name, ids in added.items()}
    if any(there.values()):
        remove(change, there)
    change.close()
    session.execute(update(CHANGES).where(CHANGES.c.id == change_id).values(undone_by=change.id))
    if row.undoes is not None:
        # what that undo had undone stands again, and can be undone again
        session.execute(update(CHANGES).where(CHANGES.c.id == row.undoes).values(undone_by=None))
    return change.id


def _bring_back(change: Changing, lines: Sequence[Line]) -> None:
    coming: dict[str, list[Stored]] = {}
    for kind in KINDS.values():  # owners first
        ids = {line.fact_id for line in lines if line.kind == kind.name}
        if ids:
            coming[kind.name] = read_many(change.session, change.job_id, kind, ids, deleted=True)
    there = _there(change, coming)
    for name, members in coming.items():
        kind = KINDS[name]
        table = table_of(kind)
        for stored in members:
            let_go = _dead_references(kind, stored, there)
            version = stored.version + 1
            change.session.execute(
                update(table)
                .where(table.c.id == stored.fact.id)
                .values({**let_go, "deleted_at": None, "version": version})
            )
            after = plain_of(stored.fact, kind.fields)
            after |= {field: plain_value(value) for field, value in let_go.items()}
            change.lines.append(Line(name, stored.fact.id, version, None, after))


def _there(change: Changing, coming: dict[str, list[Stored]]) -> dict[str, set[str]]:
    """Of what the returning facts name: all that is in the job, counting those that return."""
    wanted: dict[str, set[str]] = {}
    for name, members in coming.items():
        for reference in KINDS[name].references:
            of_kind = wanted.setdefault(reference.kind, set())
            for stored in members:
                of_kind.update(targets_of(reference, getattr(stored.fact, reference.field)))
    there = {name: live_ids(change.session, change.job_id, KINDS[name], ids) for name, ids in wanted.items()}
    for name, members in coming.items():
        there.setdefault(name, set()).update(stored.fact.id for stored in members)
    return there


def _dead_references(kind: FactKind, stored: Stored, there: dict[str, set[str]]) -> dict[str, Any]:
    """What a returning fact must let go of, since it was deleted while the fact was away."""
    let_go: dict[str, Any] = {}
    for reference in kind.references:
        targets = targets_of(reference, getattr(stored.fact, reference.field))
        dead = [target for target in targets if target not in there[reference.kind]]
        if dead and reference.owner:
            raise DanglingReference(kind.name, stored.fact.id, reference.field, reference.kind, dead[0])
        if dead:
            left = tuple(target for target in targets if target not in dead)
            let_go[reference.field] = left if reference.many else None
    return let_go


def _set_back(change: Changing, line: Line) -> None:
    kind = kind_named(line.kind)
    assert line.before is not None
    assert line.after is not None
    try:
        stored = read(change.session, change.job_id, line.kind, line.fact_id)
    except NotThere:
        return  # deleted since: nothing is left to set back
    new: dict[str, Any] = {}
    conflicts = []
    for name, before in line.before.items():
        value = value_from_plain(kind.fact, name, before)
        if plain_value(getattr(stored.fact, name)) == line.after[name]:
            new[name] = value
        elif not line.follows:
            conflicts.append(FieldConflict(name, getattr(stored.fact, name), value, "", None))
    if conflicts:
        raise Conflict(kind.name, line.fact_id, stored.version, tuple(conflicts))
    try:
        change.check_references(kind, line.fact_id, new)
    except DanglingReference:
        if line.follows:
            return  # what it held on to was deleted since
        raise
    if new:
        change.write_edit(kind, stored, new, follows=line.follows)
