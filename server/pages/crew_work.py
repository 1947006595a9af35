"""A job's work: who has which room or correction, what is mended and looked at again, the inspector's visits."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.dwelling import Stage
from server.pages import flash
from server.pages.border import OptionalDate
from server.pages.changes import author_of
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.live import live_parts
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.access import NotFound, job_for
from server.people.crews import members
from server.people.current import Builder, Foreman, Reader, Recorder, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.rules.book import closest_rule
from server.rules.registry import RULES, find_rule
from server.store.assignments import (
    Assignment,
    SameEyes,
    assign,
    assignments_of,
    check_again,
    drop,
    mark_done,
    reopen,
)
from server.store.engine import reading, writing
from server.store.errors import NotThere
from server.store.visits import RESULTS, Visit, enter_visit, mend_note, sign_cover, visits_of

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Given:
    """An assignment in words."""

    assignment: Assignment
    what: str
    where: str
    link: str
    late: bool
    mine: bool


@dataclass(frozen=True, slots=True)
class WorkPage:
    """Who has what, and the visits."""

    job: JobFacts
    given: tuple[Given, ...]
    visits: list[Visit]
    rooms: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str], ...]
    stages: tuple[tuple[str, str], ...]
    results: tuple[tuple[str, str], ...]
    rule_titles: dict[str, str]
    fields: Fields
    visit_fields: Fields
    chosen_room: str
    chosen_rule: str
    today: date
    may_lead: bool
    may_build: bool
    may_record: bool


@router.get("/work", name="work")
def work(
    request: Request,
    job_id: str,
    person: Reader,
    room: Annotated[str, Query(max_length=64)] = "",
    rule: Annotated[str, Query(max_length=80)] = "",
) -> HTMLResponse:
    """Who has what, and the visits."""
    opened = open_job(request, person, job_id)
    return _page(request, opened, person, Fields({"room_id": room, "rule": rule}), NOTHING_TYPED)


def _page(
    request: Request, opened: OpenJob, person: Person, fields: Fields, visit_fields: Fields, status: int = 200
) -> HTMLResponse:
    page = _work_page(request, opened, person, fields, visit_fields)
    return render(request, "crew_work/work.html", page, job=opened.bar, status=status)


@router.get("/live/work", name="work_live")
def work_live(request: Request, job_id: str, person: Reader) -> Response:
    """Who has what and the visits again, where they changed."""
    opened = open_job(request, person, job_id)
    page = _work_page(request, opened, person, NOTHING_TYPED, NOTHING_TYPED)
    return live_parts(request, "crew_work/_live.html", page)


def _work_page(
    request: Request, opened: OpenJob, person: Person, fields: Fields, visit_fields: Fields
) -> WorkPage:
    job = opened.job
    with reading(engine_of(request)) as session:
        given = assignments_of(session, [job.id], open_only=False)
        visits = visits_of(session, [job.id])
        crew = (
            [(member.account_id, member.name) for member in members(session, person) if member.is_on]
            if person.may_lead
            else []
        )
    today = datetime.now(UTC).date()
    rooms = {item.id: item.name for item in opened.house.facts.rooms}
    shown = tuple(
        Given(
            item,
            RULES[item.rule].title if item.rule in RULES else "The whole room",
            rooms.get(item.room_id, "the job"),
            f"/jobs/{job.id}/rooms/{item.room_id}" if item.room_id in rooms else f"/jobs/{job.id}/rooms",
            item.due is not None and item.due < today and item.state == "given",
            item.person_id == person.id,
        )
        for item in given
    )
    return WorkPage(
        job, shown, visits, tuple(rooms.items()), tuple(crew), tuple((item.value, item.value) for item in Stage),
        tuple((result, result) for result in RESULTS), {rule.id: rule.title for rule in RULES.values()}, fields, visit_fields,
        fields.value("room_id"), fields.value("rule"), today, person.may_lead, person.may_build, person.may_record,
    )  # fmt: skip


class NewAssignment(BaseModel):
    """To whom, what, by when."""

    model_config = ConfigDict(extra="forbid")

    person_id: str = Field(min_length=1, max_length=64)
    room_id: str = Field(min_length=1, max_length=64)
    rule: str = Field(default="", max_length=80)
    due: OptionalDate = None
    note: str = Field(default="", max_length=500)


@router.post("/work", name="add_assignment")
def add(request: Request, job_id: str, person: Foreman, form: Typed) -> Response:
    """Give a room, or one correction in it, to somebody."""
    read = form.read(NewAssignment)
    opened = open_job(request, person, job_id, Role.FOREMAN)
    fields = read.fields
    if read.model is not None:
        with reading(engine_of(request)) as session:
            crew = {member.account_id: member.name for member in members(session, person)}
        if read.model.person_id not in crew:
            fields = fields.wrong("person_id", "Choose somebody of the crew.")
        if read.model.room_id not in opened.house.rooms:
            fields = fields.wrong("room_id", "Choose one of the rooms.")
        if read.model.rule and find_rule(read.model.rule) is None:
            fields = fields.wrong("rule", "There is no such rule.")
    if read.model is None or fields.errors:
        return _page(request, opened, person, fields, NOTHING_TYPED, 422)
    wanted = read.model
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.FOREMAN)
        made = assign(
            session, job_id, author_of(person), person_id=wanted.person_id, room_id=wanted.room_id, rule=wanted.rule,
            due=wanted.due, note=wanted.note,
        )  # fmt: skip
    said = flash.Said(f"Given to {crew[wanted.person_id]}.", f"/jobs/{job_id}/work/{made}/drop")
    return flash.redirect(f"/jobs/{job_id}/work", said)


@router.post("/work/{assignment_id}/done", name="mark_done")
def done(request: Request, job_id: str, assignment_id: str, person: Builder) -> Response:
    """It is mended."""
    return _step(request, job_id, assignment_id, person, Role.ELECTRICIAN, "done")


@router.post("/work/{assignment_id}/check", name="check_again")
def check(request: Request, job_id: str, assignment_id: str, person: Builder) -> Response:
    """It was looked at again, by somebody else than who mended it."""
    return _step(request, job_id, assignment_id, person, Role.ELECTRICIAN, "check")


@router.post("/work/{assignment_id}/reopen", name="reopen_assignment")
def open_again(request: Request, job_id: str, assignment_id: str, person: Recorder) -> Response:
    """It is not right after all."""
    return _step(request, job_id, assignment_id, person, Role.APPRENTICE, "reopen")


@router.post("/work/{assignment_id}/drop", name="drop_assignment")
def take_back(request: Request, job_id: str, assignment_id: str, person: Foreman) -> Response:
    """Take an assignment back."""
    return _step(request, job_id, assignment_id, person, Role.FOREMAN, "drop")


def _step(
    request: Request, job_id: str, assignment_id: str, person: Person, need: Role, step: str
) -> Response:
    said = {
        "done": "Mended. Somebody else looks at it again.",
        "check": "Looked at again and right.",
        "reopen": "Open again.",
        "drop": "Taken back.",
    }[step]
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, need)
            match step:
                case "done":
                    mark_done(session, job_id, assignment_id, author_of(person))
                case "check":
                    check_again(session, job_id, assignment_id, author_of(person))
                case "reopen":
                    reopen(session, job_id, assignment_id)
                case _:
                    drop(session, job_id, assignment_id)
    except SameEyes as same:
        said = f"{same}."
    except NotThere:
        raise NotFound from None
    return flash.redirect(f"/jobs/{job_id}/work", said)


class NewVisit(BaseModel):
    """A visit: what came of it, and what was written, one thing a line."""

    model_config = ConfigDict(extra="forbid")

    stage: Stage
    on_date: date
    result: str = Field(pattern="^(open|approved|corrections|no access)$")
    inspector: str = Field(default="", max_length=80)
    note: str = Field(default="", max_length=1000)
    written: str = Field(default="", max_length=8000)


@router.post("/visits", name="add_visit")
def add_visit(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Enter a visit; each line that was written is matched to a rule by its words, where one fits."""
    read = form.read(NewVisit)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    if read.model is None:
        return _page(request, opened, person, NOTHING_TYPED, read.fields, 422)
    wanted = read.model
    lines = [line.strip(" -*•\t") for line in wanted.written.splitlines() if line.strip(" -*•\t")][:100]
    written = [(line[:500], _matched(line), _room_in(line, opened)) for line in lines]
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.ELECTRICIAN)
        enter_visit(
            session, job_id, author_of(person), stage=wanted.stage.value, on_date=wanted.on_date, result=wanted.result,
            inspector=wanted.inspector, note=wanted.note, written=written,
        )  # fmt: skip
    matched = sum(bool(rule) for _, rule, _ in written)
    said = (
        f"Visit entered; {matched} of {len(written)} lines matched to a rule."
        if written
        else "Visit entered."
    )
    return flash.redirect(f"/jobs/{job_id}/work#visits", said)


def _matched(line: str) -> str:
    """The rule that a line is most likely about; empty where nothing tells."""
    found = closest_rule(line)
    return found.id if found else ""


def _room_in(line: str, opened: OpenJob) -> str:
    """The room that a line names."""
    lower = line.lower()
    return next(
        (
            room.id
            for room in sorted(opened.house.facts.rooms, key=lambda room: -len(room.name))
            if room.name.lower() in lower
        ),
        "",
    )


@router.post("/visits/{visit_id}/notes/{note_id}/mended", name="mend_note")
def mended(request: Request, job_id: str, visit_id: str, note_id: str, person: Builder) -> Response:
    """Something that the inspector wrote is mended."""
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.ELECTRICIAN)
            mend_note(session, job_id, visit_id, note_id, author_of(person))
    except NotThere:
        raise NotFound from None
    return flash.redirect(f"/jobs/{job_id}/work#visits", "Mended.")


class Cover(BaseModel):
    """When the work was covered."""

    model_config = ConfigDict(extra="forbid")

    on: date


@router.post("/visits/{visit_id}/cover", name="sign_cover")
def cover(request: Request, job_id: str, visit_id: str, person: Foreman, form: Typed) -> Response:
    """Sign that the work was covered: only after an approved visit."""
    read = form.read(Cover)
    if read.model is None:
        return flash.redirect(
            f"/jobs/{job_id}/work#visits", "Nothing was signed: write the date of the cover."
        )
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.FOREMAN)
            sign_cover(session, job_id, visit_id, author_of(person), on=read.model.on)
    except NotThere:
        return flash.redirect(
            f"/jobs/{job_id}/work#visits", "Nothing was signed: only an approved visit is covered."
        )
    return flash.redirect(f"/jobs/{job_id}/work#visits", "Cover signed.")
