"""Walking a room with the tablet: what is left to look at, recorded with one tap.

A *card* is one rule in this room. It is settled for the whole room (by a look, or by measuring the worst one), or a
single subject is marked wrong. Every form carries a key, so that a tap that is sent twice is one record.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.dwelling import Answer, Observation, Ref, format_length
from server.editions import Edition
from server.pages import flash
from server.pages.border import OptionalLength
from server.pages.changes import author_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.rendering import render
from server.people.access import NotFound, job_for
from server.people.current import Reader, Recorder, engine_of
from server.people.roles import Role
from server.readiness import RoomStanding
from server.readiness.naming import subject_name
from server.readiness.walk import Stop, stops_of
from server.readiness.words import sentence_of, write_number
from server.rules.registry import SUBJECTS, find_rule
from server.rules.rule import Kind
from server.store.engine import writing
from server.store.errors import DanglingReference, KeyReused, NotThere, Taken
from server.store.observations import Entry, record, record_many, take_back

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Member:
    """A subject of a card: where it stands, and what was recorded of it."""

    kind: str
    id: str
    name: str
    verdict: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Card:
    """One rule in this room, as it is walked."""

    job_path: str
    room_path: str
    rule_id: str
    title: str
    look_for: str
    danger: str
    plain: str
    kind: str
    unit: str
    how: str
    worst: str
    limit: str
    limit_exact: str
    least: bool
    article: str
    members: tuple[Member, ...]
    unseen: int
    wrong: int
    right: int
    latest: str
    said: str
    key: str
    fields: Fields

    @property
    def settled(self) -> bool:
        """Nothing of it is left to look at."""
        return self.unseen == 0


@dataclass(frozen=True, slots=True)
class Part:
    """Cards of one subject: boxes, cables, workmanship ..."""

    name: str
    cards: tuple[Card, ...]

    @property
    def left(self) -> int:
        return sum(not card.settled for card in self.cards)

    @property
    def by_look(self) -> tuple[str, ...]:
        """The rules that one look settles: those that may be recorded together."""
        return tuple(card.rule_id for card in self.cards if not card.settled and card.kind == Kind.SEEN.value)

    @property
    def key(self) -> str:
        """A key for recording all of them."""
        return str(uuid4())


@dataclass(frozen=True, slots=True)
class WalkPage:
    """A room as it is walked."""

    job: JobFacts
    room_id: str
    room_name: str
    standing: RoomStanding
    parts: tuple[Part, ...]
    settled: tuple[Card, ...]
    left: int
    done: int
    facts_missing: int
    next_path: str
    next_name: str
    may_record: bool


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
class RoomToWalk:
    """A room with what is left in it."""

    id: str
    name: str
    standing: RoomStanding
    left: int


@dataclass(frozen=True, slots=True)
class RoomsToWalk:
    """Where to begin: rooms with the most left first."""

    job: JobFacts
    rooms: tuple[RoomToWalk, ...]


@router.get("/walk", name="walk")
def rooms_to_walk(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """Choose a room to walk."""
    opened = open_job(request, person, job_id)
    rooms = tuple(
        RoomToWalk(
            room.id, room.name, opened.judged.standing(room.id),
            sum(stop.by_eyes for stop in stops_of(room.id, opened.findings_of(room.id))),
        )
        for room in opened.house.facts.rooms
    )  # fmt: skip
    return render(request, "walk/rooms.html", RoomsToWalk(opened.job, rooms), job=opened.bar)


@router.get("/rooms/{room_id}/walk", name="walk_room")
def walk_room(request: Request, job_id: str, room_id: str, person: Reader) -> HTMLResponse:
    """Walk one room."""
    opened = open_job(request, person, job_id)
    room = room_of(opened, room_id)
    stops = stops_of(room_id, opened.findings_of(room_id))
    cards = [
        _card(stop, opened, room_id)
        for stop in stops
        if stop.rule.recordable and (stop.by_eyes or _recorded(stop, opened, room_id))
    ]
    parts: dict[str, list[Card]] = {}
    for card in (card for card in cards if not card.settled):
        parts.setdefault(SUBJECTS[card.rule_id], []).append(card)
    after = _next_room(opened, room_id)
    page = WalkPage(
        opened.job, room_id, room.name, opened.judged.standing(room_id),
        tuple(Part(name.capitalize(), tuple(members)) for name, members in parts.items()),
        tuple(card for card in cards if card.settled),
        sum(not card.settled for card in cards), sum(card.settled for card in cards),
        sum(len(stop.unseen) for stop in stops if not stop.by_eyes),
        f"/jobs/{job_id}/rooms/{after.id}/walk" if after else "", after.name if after else "", person.may_record,
    )  # fmt: skip
    return render(request, "walk/room.html", page, job=opened.bar)


def _next_room(opened: OpenJob, room_id: str) -> Any:
    """The next room in walking order."""
    rooms = opened.house.facts.rooms
    place = next(place for place, room in enumerate(rooms) if room.id == room_id)
    return rooms[(place + 1) % len(rooms)] if len(rooms) > 1 else None


def _recorded(stop: Stop, opened: OpenJob, room_id: str) -> bool:
    """Whether somebody recorded something under this stop."""
    house = opened.house
    return house.seen("room", room_id, stop.rule.id) is not None or any(
        house.seen(finding.subject.kind, finding.subject.id, stop.rule.id) is not None
        for finding in (*stop.wrong, *stop.right)
    )


def _card(stop: Stop, opened: OpenJob, room_id: str, *, said: str = "", fields: Fields | None = None) -> Card:
    rule, code = stop.rule, opened.code
    findings = (*stop.wrong, *stop.unseen, *stop.right, *stop.inspector)
    return Card(
        job_path=f"/jobs/{opened.job.id}",
        room_path=f"/jobs/{opened.job.id}/rooms/{room_id}", rule_id=rule.id, title=rule.title, look_for=rule.look_for,
        danger=rule.danger,
        plain=rule.plain, kind=rule.kind.value, unit=rule.measure.unit if rule.measure else "",
        how=rule.measure.how if rule.measure else "", worst=rule.measure.worst if rule.measure else "",
        limit=_limit(stop, code),
        limit_exact=_limit_exact(stop, code),
        least=rule.measure.least if rule.measure else True, article=rule.article(code),
        members=tuple(
            Member(
                finding.subject.kind, finding.subject.id, subject_name(finding.subject, opened.house), finding.outcome.verdict.value,
                sentence_of(rule, finding.outcome),
            )
            for finding in findings
        ),
        unseen=len(stop.unseen), wrong=len(stop.wrong), right=len(stop.right), latest=_latest(stop, opened, room_id),
        said=said, key=str(uuid4()), fields=fields or Fields(),
    )  # fmt: skip


def _limit(stop: Stop, code: Edition) -> str:
    """``at least 1/4 in``."""
    measure = stop.rule.measure
    if measure is None or not code.has(measure.limit):
        return ""
    number = code.number(measure.limit)
    figure = format_length(number) if measure.unit == "in" else f"{write_number(number)} {measure.unit}"
    return f"{'at least' if measure.least else 'at most'} {figure}"


def _limit_exact(stop: Stop, code: Edition) -> str:
    """The limit as a fraction, for judging on the tablet."""
    measure = stop.rule.measure
    return str(code.number(measure.limit)) if measure is not None and code.has(measure.limit) else ""


def _latest(stop: Stop, opened: OpenJob, room_id: str) -> str:
    """The id of the newest observation that counts here: what *take back* would take back."""
    subjects = {
        ("room", room_id),
        *((f.subject.kind, f.subject.id) for f in (*stop.wrong, *stop.right, *stop.unseen)),
    }
    house = opened.house
    standing = [house.seen(kind, subject_id, stop.rule.id) for kind, subject_id in subjects]
    newest = {item.id for item in standing if item is not None}
    log = house.facts.observations
    return next((item.id for item in reversed(log) if item.id in newest), "")


class Recording(BaseModel):
    """The form of a card. ``subject`` is ``kind:id``; empty means the whole room."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    key: str = Field(min_length=8, max_length=64)
    answer: Answer
    subject: str = Field(default="", max_length=120)
    measure: OptionalLength = None
    note: str = Field(default="", max_length=2000)
    seen_at: str = Field(default="", max_length=40)
    photographs: str = Field(default="", max_length=64, pattern=r"^[A-Za-z0-9-]*$")


@router.post("/rooms/{room_id}/walk/{rule_id}", name="record_look")
def record_look(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Record one look or measurement, for the room or for one subject in it."""
    read = form.read(Recording)
    rule = find_rule(rule_id)
    if rule is None or not rule.recordable:
        raise NotFound
    fields = read.fields
    if read.model is not None and read.model.answer is Answer.MEASURED and read.model.measure is None:
        fields = fields.wrong("measure", "Write what was measured, such as 3/8.")
    if read.model is not None and read.model.answer is Answer.MEASURED and rule.kind is not Kind.MEASURED:
        fields = fields.wrong("answer", "This is settled by a look, not by a measurement.")
    if read.model is None or fields.errors:
        opened = open_job(request, person, job_id, Role.APPRENTICE)
        return _answer(request, opened, room_id, rule_id, fields=fields, status=422)
    wanted = read.model
    kind, _, subject_id = wanted.subject.partition(":")
    subject = Ref(kind, subject_id) if subject_id else Ref("room", room_id)
    # the id is the key: the same tap sent twice is the same entry. Without the tablet's clock nothing is said about
    # when it was seen; our own time stands beside it in the log.
    seen = Observation(
        wanted.key, subject, rule.id, wanted.answer, wanted.measure if wanted.answer is Answer.MEASURED else None,
        wanted.note, at=wanted.seen_at,
        photographs=(wanted.photographs,) if wanted.photographs else (),
    )  # fmt: skip
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            record(session, job_id, seen, key=wanted.key, author=author_of(person))
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
    """The form of a whole part: every look in it is right."""

    model_config = ConfigDict(extra="forbid")

    key: str = Field(min_length=8, max_length=40)
    rules: tuple[str, ...] = Field(max_length=80)
    seen_at: str = Field(default="", max_length=40)


@router.post("/rooms/{room_id}/walk", name="record_part")
def record_part(request: Request, job_id: str, room_id: str, person: Recorder, form: Typed) -> Response:
    """Record every look of a part as right, each under the person's name; measured ones are measured."""
    read = form.read(PartRecording)
    rules = [find_rule(rule_id) for rule_id in read.model.rules] if read.model else []
    if read.model is None or not rules or not all(rule is not None and rule.recordable for rule in rules):
        raise NotFound
    entries = [
        Entry(
            Observation(
                f"{read.model.key}-{place}",
                Ref("room", room_id),
                rule.id,
                Answer.RIGHT,
                at=read.model.seen_at,
            ),
            f"{read.model.key}-{place}",
        )
        for place, rule in enumerate(rules)
        if rule is not None
    ]
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.APPRENTICE)
            record_many(session, job_id, entries, author_of(person))
    except (DanglingReference, NotThere, KeyReused, Taken):
        raise NotFound from None
    if request.headers.get("HX-Request") != "true":
        return RedirectResponse(f"/jobs/{job_id}/rooms/{room_id}/walk", status_code=303)
    # judged after the write has been let go: on SQLite it is the only writer
    opened = open_job(request, person, job_id, Role.APPRENTICE)
    room_of(opened, room_id)
    asked = {entry.observation.rule for entry in entries}
    stops = stops_of(room_id, opened.findings_of(room_id))
    shown = [stop for stop in stops if stop.rule.recordable and (stop.by_eyes or stop.settled)]
    page = PartPage(
        opened.job,
        tuple(
            _card(stop, opened, room_id, said="Recorded as right.") for stop in stops if stop.rule.id in asked
        ),
        opened.judged.standing(room_id),
        sum(not item.settled for item in shown if item.by_eyes),
        sum(item.settled for item in shown),
        f"{len(entries)} recorded as right.",
    )
    return render(request, "walk/_part_answer.html", page, job=opened.bar)


class TakingBack(BaseModel):
    """The form that takes the newest record of a card back."""

    model_config = ConfigDict(extra="forbid")

    key: str = Field(min_length=8, max_length=64)
    observation: str = Field(min_length=1, max_length=64)


@router.post("/rooms/{room_id}/walk/{rule_id}/take-back", name="take_back_look")
def take_back_look(
    request: Request, job_id: str, room_id: str, rule_id: str, person: Recorder, form: Typed
) -> Response:
    """Take the newest record back; what stood before it stands again."""
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
    room_of(opened, room_id)
    stops = stops_of(room_id, opened.findings_of(room_id))
    stop = next((stop for stop in stops if stop.rule.id == rule_id), None)
    if stop is None:
        return flash.redirect(f"/jobs/{opened.job.id}/rooms/{room_id}/walk", said)
    if request.headers.get("HX-Request") != "true" and status == 200:
        return RedirectResponse(f"/jobs/{opened.job.id}/rooms/{room_id}/walk#{rule_id}", status_code=303)
    shown = [stop for stop in stops if stop.rule.recordable and (stop.by_eyes or stop.settled)]
    page = CardPage(
        opened.job, _card(stop, opened, room_id, said=said, fields=fields), opened.judged.standing(room_id),
        sum(not item.settled for item in shown if item.by_eyes), sum(item.settled for item in shown), may_record=True,
    )  # fmt: skip
    return render(request, "walk/_answer.html", page, job=opened.bar, status=status)
