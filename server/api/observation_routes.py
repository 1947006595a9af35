"""What was seen and measured: recorded one by one or as a batch, listed, taken back.

Every entry needs a key: the header ``Idempotency-Key`` for a single one, the field ``key``, or an ``id`` made by the
client. The same key with the same entry is one record, however often it is sent.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any, Final
from uuid import UUID, uuid5

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from pydantic import AwareDatetime, Field, StringConstraints, model_validator
from sqlalchemy.orm import Session

from server.api.once import IdempotencyKey, author_of
from server.api.problems import RESPONSES
from server.api.store_problems import Refused, refusal_of
from server.dwelling import Answer, Dwelling, Observation, Ref
from server.pages.opened import opened_in
from server.people.access import NotFound, job_for
from server.people.current import Reader, Recorder, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.rules.registry import find_rule
from server.store.documents import Document, IdText, Length, LongText
from server.store.engine import reading, writing
from server.store.errors import StoreError
from server.store.job_file_documents import RuleId, Subject
from server.store.observations import Entry, Logged, Recorded, log, record_many, take_back
from server.store.plain import plain_value

__all__ = ["router"]

router = APIRouter(prefix="/api/jobs/{job_id}/observations", tags=["observations"], responses=RESPONSES)

_IDS: Final = UUID("6f1f1b0e-8f0a-4f3d-9d0c-5d1f3a2b7c44")
"""The space in which an entry without an id gets one from its key: the same key, the same id."""
_MOST_IN_A_BATCH: Final = 500

Key = Annotated[str, StringConstraints(min_length=1, max_length=200, pattern=r"^[\x21-\x7e]+$")]


class NewObservation(Document):
    """One look or measurement. ``at`` is the tablet's clock; ours is kept beside it. ``measure`` is in the rule's own
    unit, or a length as the trade writes it."""

    subject: Subject
    rule: RuleId
    answer: Answer
    measure: Length | None = None
    note: LongText = ""
    at: AwareDatetime | None = None
    photographs: Annotated[tuple[IdText, ...], Field(max_length=50)] = ()
    takes_back: IdText | None = None
    id: IdText | None = None
    key: Key | None = None

    @model_validator(mode="after")
    def _fits_together(self) -> NewObservation:
        if (self.answer is Answer.MEASURED) != (self.measure is not None):
            raise ValueError("expected a measure with the answer 'measured', and with no other")
        if (self.answer is Answer.TAKEN_BACK) != (self.takes_back is not None):
            raise ValueError("expected takes_back with the answer 'taken back', and with no other")
        return self


class Batch(Document):
    """Entries in the order in which they were made; each with its own key."""

    observations: Annotated[tuple[NewObservation, ...], Field(min_length=1, max_length=_MOST_IN_A_BATCH)]


class RecordedAnswer(Document):
    """Where an entry stands in the job's log; ``again`` where it had been recorded before."""

    id: str
    sequence: int
    again: bool


class BatchLine(Document):
    """What became of one entry of a batch: recorded, or refused with a problem."""

    key: str
    status: int
    recorded: RecordedAnswer | None = None
    problem: dict[str, Any] | None = None


class BatchAnswer(Document):
    """What became of each entry, in their order. One that is refused stops no other."""

    results: list[BatchLine]


class LoggedAnswer(Document):
    """An entry of the log."""

    id: str
    subject: Subject
    rule: str
    answer: Answer
    measure: str | None
    note: str
    by: str
    at: str
    photographs: list[str]
    takes_back: str | None
    recorded_at: datetime
    sequence: int


class LogAnswer(Document):
    """Entries of a job's log, oldest first; ``last`` is what to ask ``after`` next time."""

    observations: list[LoggedAnswer]
    last: int


class TakingBack(Document):
    """An entry is taken back; the one before it, if any, stands again."""

    key: Key | None = None
    at: AwareDatetime | None = None


def _moment(at: datetime | None) -> str:
    return "" if at is None else at.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def _entry(person: Person, body: NewObservation, key: str | None, where: str = "") -> Entry:
    """An entry to record.

    Raises:
        Refused: it has no key, or its rule is not in the book.
    """
    key = key or body.key or body.id
    if key is None:
        raise Refused(
            [
                {
                    "field": f"{where}key",
                    "expected": "a key or an id, so that a repeat is harmless",
                    "came": "None",
                }
            ]
        )
    if find_rule(body.rule) is None:
        raise Refused([{"field": f"{where}rule", "expected": "the id of a rule", "came": repr(body.rule)}])
    observation = Observation(
        id=body.id or uuid5(_IDS, f"{person.id} {key}").hex, subject=Ref(body.subject.kind, body.subject.id),
        rule=body.rule, answer=body.answer, measure=body.measure, note=body.note, at=_moment(body.at),
        photographs=body.photographs, takes_back=body.takes_back,
    )  # fmt: skip
    return Entry(observation, key)


def _answer(told: Recorded) -> dict[str, Any]:
    return {"id": told.id, "sequence": told.sequence, "again": told.again}


@router.post("", status_code=201, response_model=RecordedAnswer)
def record(
    request: Request, job_id: str, person: Recorder, body: NewObservation, key: IdempotencyKey = None
) -> JSONResponse:
    """Record one observation; 201 the first time, 200 when it had been recorded before."""
    entry = _entry(person, body, key)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
        (told,) = record_many(session, job_id, [entry], author_of(person))
    return JSONResponse(_answer(told), status_code=200 if told.again else 201)


@router.post("/batch", response_model=BatchAnswer)
def record_batch(request: Request, job_id: str, person: Recorder, body: Batch) -> JSONResponse:
    """Record many observations in their order; one that is refused is told and stops no other."""
    lines: list[dict[str, Any]] = []
    entries: list[tuple[int, Entry]] = []
    for place, item in enumerate(body.observations):
        lines.append({"key": item.key or item.id or "", "status": 0, "recorded": None, "problem": None})
        try:
            entries.append((place, _entry(person, item, None, f"observations.{place}.")))
        except Refused as error:
            _refuse(lines[place], error)
    author = author_of(person)

    def send(some: list[tuple[int, Entry]]) -> None:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            told = record_many(session, job_id, [entry for _, entry in some], author)
        for (place, _), one in zip(some, told, strict=True):
            lines[place].update(status=200 if one.again else 201, recorded=_answer(one))

    try:
        send(entries)
    except StoreError:
        for one in entries:  # one of them is refused: find out which, and keep the others
            try:
                send([one])
            except StoreError as error:
                _refuse(lines[one[0]], error)
    return JSONResponse({"results": lines})


def _refuse(line: dict[str, Any], error: Exception) -> None:
    status, detail, errors, more = refusal_of(error)
    line["status"] = status
    line["problem"] = {"status": status, "detail": detail, "errors": errors, **more}


@router.get("")
def read_log(
    request: Request,
    job_id: str,
    person: Reader,
    kind: Annotated[str | None, Field(max_length=40)] = None,
    subject: Annotated[str | None, Field(max_length=64)] = None,
    room: Annotated[str | None, Field(max_length=64)] = None,
    rule: Annotated[str | None, Field(max_length=80)] = None,
    after: Annotated[int, Field(ge=0, le=2**53)] = 0,
    limit: Annotated[int, Field(ge=1, le=5000)] = 500,
) -> LogAnswer:
    """The log of the job, of a room with all that stands in it, of one subject (``kind`` and ``subject``) or of a
    rule; the newest ``limit`` entries after a sequence."""
    with reading(engine_of(request)) as session:
        row = job_for(session, person, job_id)
        subjects = None
        if kind is not None and subject is not None:
            subjects = [Ref(kind, subject)]
        elif room is not None:
            subjects = _subjects_of(session, row, room)
        found = log(session, job_id, subjects=subjects, rule=rule, after=after, limit=limit)
    return LogAnswer(
        observations=[_logged(item) for item in found], last=found[-1].sequence if found else after
    )


def _subjects_of(session: Session, row: Any, room_id: str) -> list[Ref]:
    """A room and everything that stands in it."""
    house: Dwelling = opened_in(session, row).house
    if room_id not in house.rooms:
        raise NotFound
    boxes = house.boxes_of_room.get(room_id, ())
    found = [Ref("room", room_id)]
    found += [Ref("wall", wall.id) for wall in house.walls_of_room.get(room_id, ())]
    found += [Ref("counter", counter.id) for counter in house.counters_of_room.get(room_id, ())]
    found += [Ref("fixture", fixture.id) for fixture in house.fixtures_of_room.get(room_id, ())]
    found += [Ref("box", box.id) for box in boxes]
    found += [Ref("device", device.id) for device in house.devices_in_room(room_id)]
    found += [Ref("cable", cable.id) for box in boxes for cable in house.cables_of_box.get(box.id, ())]
    found += [Ref("panel", panel.id) for panel in house.facts.panels if panel.room_id == room_id]
    return found


def _logged(item: Logged) -> LoggedAnswer:
    seen = item.observation
    return LoggedAnswer(
        id=seen.id, subject=Subject.model_validate({"kind": seen.subject.kind, "id": seen.subject.id}), rule=seen.rule,
        answer=seen.answer, measure=plain_value(seen.measure), note=seen.note, by=seen.by, at=seen.at,
        photographs=list(seen.photographs), takes_back=seen.takes_back, recorded_at=item.recorded_at,
        sequence=item.sequence,
    )  # fmt: skip


@router.post("/{observation_id}/take-back", status_code=201, response_model=RecordedAnswer)
def take_back_one(
    request: Request,
    job_id: str,
    observation_id: str,
    person: Recorder,
    body: TakingBack | None = None,
    key: IdempotencyKey = None,
) -> JSONResponse:
    """Take an observation back; the one before it, if any, stands again. Nothing is removed from the log."""
    wanted = body or TakingBack()
    chosen = key or wanted.key or f"back-{observation_id}"
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
        told = take_back(
            session, job_id, observation_id, key=chosen, author=author_of(person),
            new_id=uuid5(_IDS, f"{person.id} {chosen}").hex, at=_moment(wanted.at),
        )  # fmt: skip
    return JSONResponse(_answer(told), status_code=200 if told.again else 201)
