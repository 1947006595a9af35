"""One change of a job's facts while it is made: what is added, edited and deleted, checked and journalled."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from server.store.errors import Conflict, DanglingReference, FieldConflict, NotThere, Taken, UnknownField
from server.store.journal import CHANGED_FACTS, CHANGES, Author, Line, new_id, take_revisions, write_change
from server.store.kinds import KINDS, KINDS_BY_FACT, FactKind
from server.store.plain import plain_of, plain_value
from server.store.removal import remove
from server.store.stored import Stored, chunks, kind_named, live_ids, read, table_of, targets_of

__all__ = ["Changing"]

_PLACES_IN_A_CHANGE: Final = 1 << 20
"""Room for the facts of one change between two revisions in ``entered``."""


class Changing:
    """One change while it is made. Use :func:`server.store.facts.changing`, which closes it.

    ``id`` is what ``undo`` takes; ``revision`` the job's revision that it makes.
    """

    def __init__(
        self, session: Session, job_id: str, author: Author, what: str, *, undoes: str | None = None
    ) -> None:
        self.id = new_id()
        self.job_id = job_id
        self.session = session
        self.lines: list[Line] = []
        self._author = author
        self.what = what
        self._undoes = undoes
        self._pending: list[tuple[FactKind, Any]] = []
        self._entered = 0
        self.revision = take_revisions(session, job_id, of_facts=True)

    @property
    def changed(self) -> bool:
        """Whether anything was changed at all."""
        return bool(self.lines or self._pending)

    def add(self, *facts: Any) -> None:
        """Add facts; one may name another that is added in the same change, in any order. They are checked and
        written when something else is done, or at the end."""
        self._pending.extend((KINDS_BY_FACT[type(fact)], fact) for fact in facts)

    def edit(
        self,
        kind_name: str,
        fact_id: str,
        changes: Mapping[str, Any],
        *,
        base_version: int | None = None,
    ) -> int:
        """Give some fields of a fact other values and return the version that then stands.

        Args:
            kind_name: the kind of fact, or ``job`` for the job's settings.
            fact_id: its id.
            changes: field to its new value, of the field's own type.
            base_version: the version that the writer had seen; None writes over whatever stands.

        Raises:
            NotThere: the job has no such fact.
            UnknownField: the kind has no such field, or it is the id.
            Conflict: somebody else changed the same field since ``base_version``.
            DanglingReference: a changed field names something that is not in the job.
        """
        self.write_pending()
        kind = kind_named(kind_name)
        for name in changes:
            if name not in kind.fields or name == "id":
                raise UnknownField(kind.name, name)
        stored = read(self.session, self.job_id, kind_name, fact_id)
        new = {
            name: value
            for name, value in changes.items()
            if plain_value(getattr(stored.fact, name)) != plain_value(value)
        }
        if not new:
            return stored.version
        if base_version is not None and base_version < stored.version:
            self._refuse_conflicts(kind, fact_id, stored, base_version, new)
        self.check_references(kind, fact_id, new)
        return self.write_edit(kind, stored, new)

    def delete(self, kind_name: str, *fact_ids: str) -> None:
        """Delete facts with all that they own, and let go of what refers to them.

        Raises:
            NotThere: the job has no such fact.
        """
        self.write_pending()
        kind = kind_named(kind_name)
        if kind.name not in KINDS:
            raise NotThere("kind of fact that can be deleted", kind_name)
        there = live_ids(self.session, self.job_id, kind, fact_ids)
        for fact_id in fact_ids:
            if fact_id not in there:
                raise NotThere(kind.name, fact_id)
        remove(self, {kind.name: there})

    def close(self) -> None:
        """Write what is pending and journal the change; nothing where nothing changed."""
        self.write_pending()
        if self.lines:
            write_change(
                self.session, self.job_id, self._author, self.what, self.lines, change_id=self.id,
                revision=self.revision, undoes=self._undoes,
            )  # fmt: skip

    def check_references(self, kind: FactKind, fact_id: str, new: Mapping[str, Any]) -> None:
        """See that new values name facts of the job.

        Raises:
            DanglingReference: one does not.
        """
        for reference in kind.references:
            if reference.field in new:
                targets = targets_of(reference, new[reference.field])
                there = live_ids(self.session, self.job_id, KINDS[reference.kind], targets)
                for target in targets:
                    if target not in there:
                        raise DanglingReference(kind.name, fact_id, reference.field, reference.kind, target)

    def write_edit(
        self, kind: FactKind, stored: Stored, new: Mapping[str, Any], *, follows: bool = False
    ) -> int:
        """Write new values of a fact that was just read, and journal them."""
        table = table_of(kind)
        version = stored.version + 1
        self.session.execute(
            update(table).where(table.c.id == stored.fact.id).values({**new, "version": version})
        )
        before = plain_of(stored.fact, tuple(new))
        after = {name: plain_value(value) for name, value in new.items()}
        self.lines.append(Line(kind.name, stored.fact.id, version, before, after, follows))
        return version

    def _refuse_conflicts(
        self, kind: FactKind, fact_id: str, stored: Stored, base_version: int, new: Mapping[str, Any]
    ) -> None:
        line, head = CHANGED_FACTS.c, CHANGES.c
        edits_since = self.session.execute(
            select(line.after, head.by, head.at)
            .join(CHANGES, head.id == line.change_id)
            .where(
                head.job_id == self.job_id,
                line.kind == kind.name,
                line.fact_id == fact_id,
                line.version > base_version,
                line.before.is_not(None),
                line.after.is_not(None),
            )
            .order_by(line.version)
        )
        changed: dict[str, tuple[str, datetime]] = {}
        for after, by, at in edits_since:
            changed.update(dict.fromkeys(after, (by, at)))
        fields = tuple(
            FieldConflict(name, getattr(stored.fact, name), new[name], *changed[name])
            for name in new
            if name in changed
        )
        if fields:
            raise Conflict(kind.name, fact_id, stored.version, fields)

    def write_pending(self) -> None:
        """Check and write what was added so far.

        Raises:
            Taken: an id is in use.
            DanglingReference: a fact names something that is not in the job.
        """
        if not self._pending:
            return
        pending, self._pending = self._pending, []
        added: dict[str, set[str]] = {}
        for kind, fact in pending:
            of_kind = added.setdefault(kind.name, set())
            if fact.id in of_kind:
                raise Taken(kind.name, fact.id)
            of_kind.add(fact.id)
        for name, ids in added.items():
            column = table_of(KINDS[name]).c.id
            for some in chunks(ids):
                # in whatever job: an id is one thing's in the whole database
                for taken in self.session.scalars(select(column).where(column.in_(some))):
                    raise Taken(name, taken)
        self._check_pending(pending, added)
        rows: dict[str, list[dict[str, Any]]] = {}
        for kind, fact in pending:
            rows.setdefault(kind.name, []).append(
                {
                    **{name: getattr(fact, name) for name in kind.fields},
                    "job_id": self.job_id,
                    "entered": self.revision * _PLACES_IN_A_CHANGE + self._entered,
                    "version": 1,
                }
            )
            self._entered += 1
            self.lines.append(Line(kind.name, fact.id, 1, None, plain_of(fact, kind.fields)))
        for name, members in rows.items():
            self.session.execute(insert(table_of(KINDS[name])), members)

    def _check_pending(self, pending: list[tuple[FactKind, Any]], added: Mapping[str, set[str]]) -> None:
        outward = [
            (kind, fact, reference, target)
            for kind, fact in pending
            for reference in kind.references
            for target in targets_of(reference, getattr(fact, reference.field))
            if target not in added.get(reference.kind, ())
        ]
        wanted: dict[str, set[str]] = {}
        for _, _, reference, target in outward:
            wanted.setdefault(reference.kind, set()).add(target)
        there = {name: live_ids(self.session, self.job_id, KINDS[name], ids) for name, ids in wanted.items()}
        for kind, fact, reference, target in outward:
            if target not in there[reference.kind]:
                raise DanglingReference(kind.name, fact.id, reference.field, reference.kind, target)
