"""Walking a room, or what belongs to the whole job, with the tablet: what is left to look at, recorded with one tap.

A *card* is one rule at this place. It is settled for the whole place (by a look, or by measuring the worst one), or a
single subject is marked wrong. Every form carries a key, so that a tap that is sent twice is one record.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.dwelling import Answer, Observation, Ref, format_length
from server.pages import flash
from server.pages.border import OptionalLength
from server.pages.changes import author_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.pictures_view import pictures_of
from server.pages.rendering import render
from server.pages.walk_cards import Card, Part, Place, card_of, cards_of, counts_of, parts_of, place_in
from server.people.access import NotFound, job_for
from server.people.current import Reader, Recorder, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.readiness import JOB, RoomStanding
from server.rules.registry import find_rule
from server.rules.rule import Kind, Rule
from server.store.engine import writing
from server.store.errors import DanglingReference, KeyReused, NotThere, Taken
from server.store.observations import Entry, record_many, take_back

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class WalkPage:
    """A place as it is walked."""

    job: JobFacts
    room_id: str
    room_name: str
    path: str
    back_path: str
    standing: RoomStanding
    parts: tuple[Part, ...]
    settled: tuple[Card, ...]
    left: int
    done: int
    facts_missing: int
    next_path: str
    next_name: str
    may_record: bool

    @property
    def by_look(self) -> tuple[str, ...]:
        """The rules of the whole room that one look settles."""
        return tuple(rule_id for part in self.parts for rule_id in part.by_look)

    @property
    def key(self) -> str:
        """A key for recording all of them."""
        return str(uuid4())


@dataclass(frozen=True, slots=True)
class CardPage:
    """One card after something was recorded, and the counts around it."""

    job: JobFacts
    card: Card
    standing: RoomStanding
    left: int
    done: int
    may_record: bool


@dataclass(frozen=True, slots=True)
class PartPage:
    """The cards of a part after all were recorded."""

    job: JobFacts
    cards: tuple[Card, ...]
    standing: RoomStanding
    left: int
    done: int
    said: str


@dataclass(frozen=True, slots=True)
class ToWalk:
    """A place with what is left in it."""

    name: str
    path: str
    standing: RoomStanding
    left: int


@dataclass(frozen=True, slots=True)
class PlacesToWalk:
    """Where to begin: the rooms in walking order, and what belongs to none of them."""

    job: JobFacts
    rooms: tuple[ToWalk, ...]
    whole_job: ToWalk
    ready: int


@router.get("/walk", name="walk")
def places_to_walk(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """Choose a room to walk, or the whole job."""
    opened = open_job(request, person, job_id)
    rooms = tuple(_to_walk(place_in(opened, room.id)) for room in opened.house.facts.rooms)
    ready = sum(room.standing.standing == "ready to cover" for room in rooms)
    page = PlacesToWalk(opened.job, rooms, _to_walk(place_in(opened, JOB)), ready)
    return render(request, "walk/rooms.html", page, job=opened.bar)


def _to_walk(place: Place) -> ToWalk:
    return ToWalk(place.name, place.path, place.standing, sum(stop.by_eyes for stop in place.stops))


@router.get("/whole-job/walk", name="walk_job")
def walk_job(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """Walk what belongs to no room: papers, temporary power, trenches, service, panels without a place."""
    return _walk(request, open_job(request, person, job_id), person, JOB)


@router.get("/rooms/{room_id}/walk", name="walk_room")
def walk_room(request: Request, job_id: str, room_id: str, person: Reader) -> HTMLResponse:
    """Walk one room."""
    return _walk(request, open_job(request, person, job_id), person, room_id)


def _walk(request: Request, opened: OpenJob, person: Person, room_id: str) -> HTMLResponse:
    place = place_in(opened, room_id, pictures_of(request, opened))
    cards = cards_of(place)
    after = _next_room(opened, room_id)
    base = f"/jobs/{opened.job.id}"
    page = WalkPage(
        opened.job, room_id, place.name, place.path,
        f"{base}/readiness" if place.is_job else f"{base}/rooms/{room_id}", place.standing, parts_of(cards),
        tuple(card for card in cards if card.settled),
        sum(not card.settled for card in cards), sum(card.settled for card in cards),
        sum(len(stop.unseen) for stop in place.stops if not stop.by_eyes),
        f"{base}/rooms/{after.id}/walk" if after else "", after.name if after else "", person.may_record,
    )  # fmt: skip
    return render(request, "walk/room.html", page, job=opened.bar)


def _next_room(opened: OpenJob, room_id: str) -> Any:
    """The next room in walking order; after the whole job the first."""
    rooms = opened.house.facts.rooms
    if room_id == JOB:
        return rooms[0] if rooms else None
    place = next(place for place, room in enumerate(rooms) if room.id == room_id)
    return rooms[(place + 1) % len(rooms)] if len(rooms) > 1 else None


class Recording(BaseModel):
    """The form of a card. ``subject`` is ``kind:id``; empty means the whole place."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    key: str = Field(min_length=8, max_length=64)
    answer: Answer
    subject: str = Field(default="", max_length=120)
    measure: OptionalLength = None
    note: str = Field(default="", max_length=2000)
    seen_at: str = Field(default="", max_length=40)
    photographs: str = Field(default="", max_length=64, pattern=r"^[A-Za-z0-9-]*$")


@router.post("/whole-job/walk/{rule_id}", name="record_look_at_job")
def record_look_at_job(
    request: Request, job_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Record one look or measurement of what belongs to no room."""
    return _record(request, job_id, JOB, rule_id, person, form)


@router.post("/rooms/{room_id}/walk/{rule_id}", name="record_look")
def record_look(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Record one look or measurement, for the room or for one subject in it."""
    return _record(request, job_id, room_id, rule_id, person, form)


def _record(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Person, form: Typed
) -> Response:
    read = form.read(Recording)
    rule = find_rule(rule_id)
    if rule is None or not rule.recordable:
        raise NotFound
    fields = read.fields
    if read.model is not None and read.model.answer is Answer.MEASURED and read.model.measure is None:
        fields = fields.wrong("measure", "Write what was measured, such as 3/8.")
    if read.model is not None and read.model.answer is Answer.MEASURED and rule.kind is not Kind.MEASURED:
        fields = fields.wrong("answer", "This is settled by a look, not by a measurement.")
    if read.model is not None and read.model.answer is not Answer.MEASURED and read.model.measure is not None:
        fields = fields.wrong("measure", "Record the measure, or leave it empty and say what else is wrong.")
    if read.model is None or fields.errors:
        opened = open_job(request, person, job_id, Role.APPRENTICE)
        return _answer(request, opened, room_id, rule_id, fields=fields, status=422)
    wanted = read.model
    kind, _, subject_id = wanted.subject.partition(":")
    subjects = (Ref(kind, subject_id),) if subject_id else _whole(request, job_id, room_id, rule, person)
    # the id is the key: the same tap sent twice is the same entry. Without the tablet's clock nothing is said about
    # when it was seen; our own time stands beside it in the log.
    entries = [
        _entry(
            wanted.key if len(subjects) == 1 else f"{wanted.key}-{place}", subject, rule, wanted.answer,
            seen_at=wanted.seen_at, wanted=wanted,
        )
        for place, subject in enumerate(subjects)
    ]  # fmt: skip
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            record_many(session, job_id, entries, author_of(person))
    except (DanglingReference, NotThere):
        raise NotFound from None
    except (KeyReused, Taken):
        opened = open_job(request, person, job_id, Role.APPRENTICE)
        fields = fields.wrong(
            "", "That was recorded already, with another answer. Look again and record it anew."
        )
        return _answer(request, opened, room_id, rule_id, fields=fields, status=409)
    # judged after the write has been let go: on SQLite it is the only writer
    opened = open_job(request, person, job_id, Role.APPRENTICE)
    return _answer(request, opened, room_id, rule_id, said=_told(wanted))


def _whole(request: Request, job_id: str, room_id: str, rule: Rule, person: Person) -> tuple[Ref, ...]:
    """What a look at the whole place is recorded under. A room is itself: nothing is read for it."""
    if room_id != JOB:
        return (Ref("room", room_id),)
    subjects = place_in(open_job(request, person, job_id, Role.APPRENTICE), JOB).subjects(rule)
    if not subjects:
        raise NotFound
    return subjects


def _entry(
    key: str, subject: Ref, rule: Rule, answer: Answer, *, seen_at: str, wanted: Recording | None = None
) -> Entry:
    measure = wanted.measure if wanted and answer is Answer.MEASURED else None
    photographs = (wanted.photographs,) if wanted and wanted.photographs else ()
    note = wanted.note if wanted else ""
    return Entry(
        Observation(key, subject, rule.id, answer, measure, note, at=seen_at, photographs=photographs), key
    )


def _told(wanted: Recording) -> str:
    match wanted.answer:
        case Answer.MEASURED:
            assert wanted.measure is not None
            return f"Recorded {format_length(wanted.measure)}."
        case Answer.WRONG:
            return "Recorded as wrong."
        case Answer.NOT_HERE:
            return "Recorded: none here."
        case _:
            return "Recorded as right."


class PartRecording(BaseModel):
    """The form of a whole part: every look in it is right, or there is nothing of it here."""

    model_config = ConfigDict(extra="forbid")

    key: str = Field(min_length=8, max_length=40)
    answer: Literal[Answer.RIGHT, Answer.NOT_HERE] = Answer.RIGHT
    rules: tuple[str, ...] = Field(max_length=80)
    seen_at: str = Field(default="", max_length=40)


@router.post("/whole-job/walk", name="record_part_of_job")
def record_part_of_job(request: Request, job_id: str, person: Recorder, form: Typed) -> Response:
    """Record every look of a part of the job as right, or all of it as not here."""
    return _record_part(request, job_id, JOB, person, form)


@router.post("/rooms/{room_id}/walk", name="record_part")
def record_part(request: Request, job_id: str, room_id: str, person: Recorder, form: Typed) -> Response:
    """Record every look of a part as right, each under the person's name; measured ones are measured."""
    return _record_part(request, job_id, room_id, person, form)


def _record_part(request: Request, job_id: str, room_id: str, person: Person, form: Typed) -> Response:
    read = form.read(PartRecording)
    found = [find_rule(rule_id) for rule_id in read.model.rules] if read.model else []
    rules = [rule for rule in found if rule is not None and rule.recordable]
    if read.model is None or not rules or len(rules) < len(found):
        raise NotFound
    entries = [
        _entry(f"{read.model.key}-{place}", subject, rule, read.model.answer, seen_at=read.model.seen_at)
        for place, (rule, subject) in enumerate(
            (rule, subject) for rule in rules for subject in _whole(request, job_id, room_id, rule, person)
        )
    ]
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            record_many(session, job_id, entries, author_of(person))
    except (DanglingReference, NotThere, KeyReused, Taken):
        raise NotFound from None
    # judged after the write has been let go: on SQLite it is the only writer
    opened = open_job(request, person, job_id, Role.APPRENTICE)
    place = place_in(opened, room_id, pictures_of(request, opened))
    if request.headers.get("HX-Request") != "true":
        return RedirectResponse(place.path, status_code=303)
    said = "Recorded: none here." if read.model.answer is Answer.NOT_HERE else "Recorded as right."
    left, done = counts_of(place)
    asked = {rule.id for rule in rules}
    page = PartPage(
        opened.job,
        tuple(card_of(stop, place, said=said) for stop in place.stops if stop.rule.id in asked),
        place.standing, left, done, f"{len(rules)} recorded{said.removeprefix('Recorded').rstrip('.')}.",
    )  # fmt: skip
    return render(request, "walk/_part_answer.html", page, job=opened.bar)


class TakingBack(BaseModel):
    """The form that takes the newest record of a card back."""

    model_config = ConfigDict(extra="forbid")

    key: str = Field(min_length=8, max_length=64)
    observation: str = Field(min_length=1, max_length=64)


@router.post("/whole-job/walk/{rule_id}/take-back", name="take_back_look_at_job")
def take_back_look_at_job(
    request: Request, job_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Take the newest record of what belongs to no room back."""
    return _take_back(request, job_id, JOB, rule_id, person, form)


@router.post("/rooms/{room_id}/walk/{rule_id}/take-back", name="take_back_look")
def take_back_look(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Take the newest record back; what stood before it stands again."""
    return _take_back(request, job_id, room_id, rule_id, person, form)


def _take_back(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Person, form: Typed
) -> Response:
    read = form.read(TakingBack)
    if find_rule(rule_id) is None or read.model is None:
        raise NotFound
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            take_back(
                session, job_id, read.model.observation, key=read.model.key, author=author_of(person),
                new_id=read.model.key, at="",
            )  # fmt: skip
    except (NotThere, KeyReused, Taken, DanglingReference):
        raise NotFound from None
    # judged after the write has been let go: on SQLite it is the only writer
    opened = open_job(request, person, job_id, Role.APPRENTICE)
    return _answer(request, opened, room_id, rule_id, said="Taken back.")


def _answer(
    request: Request,
    opened: OpenJob,
    room_id: str,
    rule_id: str,
    *,
    said: str = "",
    fields: Fields | None = None,
    status: int = 200,
) -> Response:
    """The card again for htmx; for a plain form the whole page, at the card."""
    place = place_in(opened, room_id, pictures_of(request, opened))
    stop = next((stop for stop in place.stops if stop.rule.id == rule_id), None)
    if stop is None:
        return flash.redirect(place.path, said)
    if request.headers.get("HX-Request") != "true" and status == 200:
        return RedirectResponse(f"{place.path}#{rule_id}", status_code=303)
    left, done = counts_of(place)
    page = CardPage(
        opened.job,
        card_of(stop, place, said=said, fields=fields),
        place.standing,
        left,
        done,
        may_record=True,
    )
    return render(request, "walk/_answer.html", page, job=opened.bar, status=status)
