"""The log of what was seen and measured: rows are added, nothing is ever changed.

Of one subject and rule the newest counts, by the order in which entries reached us: tablets' clocks may be wrong.
``at`` keeps what the tablet said, ``recorded_at`` what our clock said. Taking back is an entry too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, Final, cast

from sqlalchemy import Table, insert, select
from sqlalchemy.orm import Session

from server.dwelling import Answer, Observation, Ref
from server.store import keys
from server.store.errors import DanglingReference, KeyReused, NotThere, Taken
from server.store.journal import Author, take_revisions
from server.store.kinds import KINDS
from server.store.plain import plain_value
from server.store.stored import chunks, table_of
from server.store.tables import ObservationRow

__all__ = ["Entry", "Logged", "Recorded", "log", "newest_of", "record", "record_many", "row_of", "take_back"]

_LOG: Final = cast(Table, ObservationRow.__table__)


@dataclass(frozen=True, slots=True)
class Entry:
    """An observation to be recorded under a key. Its ``by`` is filled in by us."""

    observation: Observation
    key: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """Where an entry stands in the job's log; ``again`` where its key had been recorded before."""

    id: str
    sequence: int
    again: bool


@dataclass(frozen=True, slots=True)
class Logged:
    """An entry of the log with what our side knows of it."""

    observation: Observation
    sequence: int
    recorded_at: datetime
    person_id: str | None


def record(session: Session, job_id: str, observation: Observation, *, key: str, author: Author) -> Recorded:
    """Record one observation. Raises as :func:`record_many`."""
    return record_many(session, job_id, [Entry(observation, key)], author)[0]


def record_many(session: Session, job_id: str, entries: Sequence[Entry], author: Author) -> list[Recorded]:
    """Record observations in their order, each once whatever is sent again; all or none.

    Raises:
        NotThere: there is no such job.
        KeyReused: a key was used for another entry.
        DanglingReference: a subject that the job never had, or one that takes back what is not there.
        Taken: an id is in use by another entry.
    """
    asked: dict[str, Any] = {}
    answers: dict[str, Any] = {}
    for entry in entries:
        plain = _plain(job_id, entry.observation)
        if asked.setdefault(entry.key, plain) != plain:
            raise KeyReused(entry.key)
    done = keys.find_many(session, author, asked)
    if len(done) < len(asked):
        last = take_revisions(session, job_id, len(asked) - len(done), of_facts=False)
        if session.get_bind().dialect.name != "sqlite":
            # the job is ours now: whoever recorded the same key meanwhile has finished. SQLite has one writer,
            # which was us before the first look already
            done |= keys.find_many(session, author, {key: asked[key] for key in asked if key not in done})
        fresh = {entry.key: entry.observation for entry in reversed(entries) if entry.key not in done}
        ordered = [(key, fresh[key]) for key in asked if key in fresh]
        _check(session, job_id, [observation for _, observation in ordered])
        now = datetime.now(UTC)
        answers = {
            key: {"id": observation.id, "sequence": last + place}
            for place, (key, observation) in enumerate(ordered)
        }
        if ordered:
            session.execute(
                insert(_LOG),
                [
                    row_of(job_id, replace(observation, by=author.name), last + place, now, author.person_id)
                    for place, (_, observation) in enumerate(ordered)
                ],
            )
            keys.keep_many(session, author, job_id, ((key, asked[key], answers[key]) for key in answers))
    told: list[Recorded] = []
    seen: set[str] = set()
    for entry in entries:
        again = entry.key in done or entry.key in seen
        seen.add(entry.key)
        answer = done[entry.key].answer if entry.key in done else answers[entry.key]
        told.append(Recorded(answer["id"], answer["sequence"], again))
    return told


def _plain(job_id: str, observation: Observation) -> dict[str, Any]:
    """What is asked with an entry. Without ``by``: that is for us to say."""
    return {
        "job": job_id, "id": observation.id, "kind": observation.subject.kind, "subject": observation.subject.id,
        "rule": observation.rule, "answer": observation.answer.value, "measure": plain_value(observation.measure),
        "note": observation.note, "at": observation.at, "photographs": list(observation.photographs),
        "takes_back": observation.takes_back,
    }  # fmt: skip


def _check(session: Session, job_id: str, observations: Sequence[Observation]) -> None:
    ids = [observation.id for observation in observations]
    for some in chunks(ids):
        for taken in session.scalars(select(_LOG.c.id).where(_LOG.c.id.in_(some))):
            raise Taken("observation", taken)
    if len(set(ids)) < len(ids):
        raise Taken("observation", next(name for name in ids if ids.count(name) > 1))
    wanted: dict[str, set[str]] = {}
    for observation in observations:
        wanted.setdefault(observation.subject.kind, set()).add(observation.subject.id)
    known = {kind: _ever(session, job_id, kind, subject_ids) for kind, subject_ids in wanted.items()}
    back = {observation.takes_back for observation in observations if observation.takes_back}
    logged = {item.observation.id: item.observation for item in _by_ids(session, job_id, back)}
    for observation in observations:
        subject = observation.subject
        if subject.id not in known[subject.kind]:
            raise DanglingReference("observation", observation.id, "subject", subject.kind, subject.id)
        if observation.takes_back:
            found = logged.get(observation.takes_back)
            same = found is not None and (found.subject, found.rule) == (subject, observation.rule)
            if not same or (found is not None and found.answer is Answer.TAKEN_BACK):
                raise DanglingReference(
                    "observation", observation.id, "takes_back", "observation", observation.takes_back
                )
        logged[observation.id] = observation


def _ever(session: Session, job_id: str, kind_name: str, ids: Iterable[str]) -> set[str]:
    """Which subjects the job has or had: what was seen of something that was deleted meanwhile is kept."""
    if kind_name == "job":
        return {job_id}
    if kind_name not in KINDS:
        return set()
    table = table_of(KINDS[kind_name])
    found: set[str] = set()
    for some in chunks(ids):
        found.update(
            session.scalars(select(table.c.id).where(table.c.job_id == job_id, table.c.id.in_(some)))
        )
    return found


def take_back(
    session: Session, job_id: str, observation_id: str, *, key: str, author: Author, new_id: str, at: str
) -> Recorded:
    """Take an observation back: the one before it, if any, stands again.

    Raises:
        NotThere: the job's log has no such observation.
        KeyReused, Taken: as :func:`record_many`.
    """
    found = next(iter(_by_ids(session, job_id, [observation_id])), None)
    if found is None or found.observation.answer is Answer.TAKEN_BACK:
        raise NotThere("observation", observation_id)
    seen = found.observation
    entry = Observation(new_id, seen.subject, seen.rule, Answer.TAKEN_BACK, at=at, takes_back=observation_id)
    return record(session, job_id, entry, key=key, author=author)


def row_of(
    job_id: str, observation: Observation, sequence: int, recorded_at: datetime, person_id: str | None
) -> dict[str, Any]:
    """An observation as a row of the log."""
    return {
        "id": observation.id, "job_id": job_id, "sequence": sequence, "subject_kind": observation.subject.kind,
        "subject_id": observation.subject.id, "rule": observation.rule, "answer": observation.answer,
        "measure": observation.measure, "note": observation.note, "by": observation.by, "at": observation.at,
        "photographs": observation.photographs, "takes_back": observation.takes_back, "person_id": person_id,
        "recorded_at": recorded_at,
    }  # fmt: skip


_COLUMNS: Final = (
    _LOG.c.id, _LOG.c.subject_kind, _LOG.c.subject_id, _LOG.c.rule, _LOG.c.answer, _LOG.c.measure, _LOG.c.note,
    _LOG.c.by, _LOG.c.at, _LOG.c.photographs, _LOG.c.takes_back, _LOG.c.sequence, _LOG.c.recorded_at,
    _LOG.c.person_id,
)  # fmt: skip


def _logged(row: Sequence[Any]) -> Logged:
    id_, kind, subject, *rest, sequence, recorded_at, person_id = row
    return Logged(Observation(id_, Ref(kind, subject), *rest), sequence, recorded_at, person_id)


def _by_ids(session: Session, job_id: str, ids: Iterable[str]) -> list[Logged]:
    found: list[Logged] = []
    for some in chunks(ids):
        rows = session.execute(select(*_COLUMNS).where(_LOG.c.job_id == job_id, _LOG.c.id.in_(some)))
        found.extend(_logged(row) for row in rows)
    return found


def log(
    session: Session,
    job_id: str,
    *,
    subjects: Iterable[Ref] | None = None,
    rule: str | None = None,
    after: int = 0,
    limit: int | None = None,
) -> list[Logged]:
    """The log of a job, oldest first; with a limit, the newest so many of it.

    Args:
        subjects: only what was recorded of these (a room's log: the room, its boxes, devices ...).
        rule: only what was recorded under this rule.
        after: only what came after this sequence.
        limit: at most so many, the newest.
    """
    where = [_LOG.c.job_id == job_id, _LOG.c.sequence > after]
    if rule is not None:
        where.append(_LOG.c.rule == rule)
    wanted = None if subjects is None else set(subjects)
    if wanted is not None and len(wanted) <= 400:
        where.append(_LOG.c.subject_id.in_(sorted({ref.id for ref in wanted})))
    statement = select(*_COLUMNS).where(*where).order_by(_LOG.c.sequence.desc())
    if limit is not None and wanted is None:
        statement = statement.limit(limit)
    found = [_logged(row) for row in session.execute(statement)]
    if wanted is not None:
        found = [item for item in found if item.observation.subject in wanted][:limit]
    return found[::-1]


def newest_of(entries: Iterable[Logged]) -> dict[tuple[Ref, str], Logged]:
    """Of each subject and rule the entry that stands, from a log oldest first. What was taken back is left out."""
    entries = list(entries)
    void = {item.observation.takes_back for item in entries if item.observation.takes_back}
    standing: dict[tuple[Ref, str], Logged] = {}
    for item in entries:
        seen = item.observation
        if seen.takes_back or seen.id in void:
            continue
        standing[seen.subject, seen.rule] = item
    return {
        place: item for place, item in standing.items() if item.observation.answer is not Answer.TAKEN_BACK
    }
