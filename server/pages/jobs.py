"""All jobs of a crew on one page, a new job, and a job's settings."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy import func, select

from server.drawings.progress import draw_progress
from server.dwelling import Answer, Stage, WorkKind
from server.editions import YEARS, EditionError, load_edition, load_presets
from server.pages import flash
from server.pages.border import OptionalDate
from server.pages.changes import author_of, undo_path
from server.pages.forms import Fields, Typed
from server.pages.live import live_parts
from server.pages.navigation import JobBar
from server.pages.rendering import render
from server.people.access import job_for, jobs_open_to
from server.people.current import Foreman, Reader, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.readiness import RoomStanding
from server.rules.registry import RULES
from server.store.assignments import assignments_of
from server.store.engine import reading, writing
from server.store.facts import changing
from server.store.houses import edition_of
from server.store.summaries import Day, Summary, days_of, summaries_of
from server.store.tables import ObservationRow
from server.store.tables.jobs import JobRow
from server.store.visits import first_visit_rate, visits_of

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class JobLine:
    """A job in the list. ``summary`` is None where it was not counted yet; ``plot`` is its progress over the last days."""

    id: str
    name: str
    address: str
    edition: int
    stage: str
    inspection_date: date | None
    days_left: int | None
    is_demo: bool
    summary: Summary | None
    holds: tuple[str, ...]
    people: tuple[str, ...]
    plot: Markup
    since_yesterday: int | None


@dataclass(frozen=True, slots=True)
class JobsPage:
    """The jobs of a crew: those with a visit first, the nearest first."""

    jobs: tuple[JobLine, ...]
    archived: int
    show_archived: bool
    may_lead: bool
    counted: int
    ready: int


@router.get("/jobs", name="jobs")
def jobs(request: Request, person: Reader, archived: bool = False) -> HTMLResponse:
    """All jobs with their standing as counted last: a handful of queries, however many jobs."""
    return render(request, "jobs/list.html", _jobs_page(request, person, archived=archived))


@router.get("/jobs/live", name="jobs_live")
def jobs_live(request: Request, person: Reader) -> Response:
    """The list again, where it changed."""
    return live_parts(request, "jobs/_board.html", _jobs_page(request, person))


def _jobs_page(request: Request, person: Person, *, archived: bool = False) -> JobsPage:
    columns = (
        JobRow.id, JobRow.name, JobRow.address, JobRow.edition, JobRow.stage, JobRow.inspection_date, JobRow.is_demo,
        JobRow.archived_at,
    )  # fmt: skip
    with reading(engine_of(request)) as session:
        rows = session.execute(jobs_open_to(person).with_only_columns(*columns)).all()
        shown = [row for row in rows if (row.archived_at is not None) == archived]
        ids = [row.id for row in shown]
        counted, days = summaries_of(session, ids), days_of(session, ids)
        given: dict[str, list[str]] = {}
        for item in assignments_of(session, ids):
            given.setdefault(item.job_id, []).append(item.person)
    today = datetime.now(UTC).date()
    lines = [
        _line(row, counted.get(row.id), days.get(row.id, []), given.get(row.id, []), today) for row in shown
    ]
    lines.sort(
        key=lambda line: (line.inspection_date is None, line.inspection_date or today, line.name.lower())
    )
    away = sum(row.archived_at is not None for row in rows)
    known = [line.summary for line in lines if line.summary]
    ready = sum(summary.standing == "ready to cover" for summary in known)
    return JobsPage(tuple(lines), away, archived, person.may_lead, len(known), ready)


def _line(row: Any, summary: Summary | None, days: list[Day], people: list[str], today: date) -> JobLine:
    earlier = [day for day in days if day.day < today]
    holds = sorted((summary.by_rule if summary else {}).items(), key=lambda item: -item[1])[:3]
    return JobLine(
        row.id, row.name, row.address, row.edition, row.stage.value, row.inspection_date,
        (row.inspection_date - today).days if row.inspection_date else None, row.is_demo, summary,
        tuple(f"{RULES[rule].title} ({count})" for rule, count in holds if rule in RULES), tuple(dict.fromkeys(people)),
        Markup(draw_progress([day.ready for day in days], summary.rooms if summary else 0)),  # noqa: S704 - our own drawing
        summary.ready - earlier[-1].ready if summary and earlier else None,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PatternsPage:
    """What keeps coming back over all jobs of the crew."""

    rules: tuple[tuple[str, str, int], ...]
    rooms: tuple[tuple[str, int], ...]
    people: tuple[tuple[str, int], ...]
    passed: int
    visited: int


@router.get("/jobs/patterns", name="patterns")
def patterns(request: Request, person: Foreman) -> HTMLResponse:
    """Recurring corrections by rule, kind of room and who recorded them; how often the first visit passed."""
    with reading(engine_of(request)) as session:
        ids = list(session.scalars(jobs_open_to(person).with_only_columns(JobRow.id)))
        counted, visits = summaries_of(session, ids), visits_of(session, ids)
        recorded = session.execute(
            select(ObservationRow.by, func.count())
            .where(ObservationRow.job_id.in_(ids), ObservationRow.answer == Answer.WRONG)
            .group_by(ObservationRow.by)
            .order_by(func.count().desc())
        ).all()
    rules: Counter[str] = Counter()
    rooms: Counter[str] = Counter()
    for summary in counted.values():
        rules.update(summary.by_rule)
        rooms.update(summary.by_room_kind)
    passed, visited = first_visit_rate(visits)
    page = PatternsPage(
        tuple((rule, RULES[rule].title, count) for rule, count in rules.most_common(20) if rule in RULES),
        tuple(rooms.most_common(12)), tuple((name or "nobody", count) for name, count in recorded), passed, visited,
    )  # fmt: skip
    return render(request, "jobs/patterns.html", page)


class JobForm(BaseModel):
    """The form of a job."""

    model_config = ConfigDict(extra="forbid")

    name: str = Field(min_length=1, max_length=120)
    address: str = Field(default="", max_length=200)
    edition: int
    presets: tuple[str, ...] = ()
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_number: str = Field(default="", max_length=60)
    permit_date: OptionalDate = None
    inspection_date: OptionalDate = None
    floor_area_ft2: int | None = Field(default=None, ge=0, le=100_000)


@dataclass(frozen=True, slots=True)
class JobFormPage:
    """The form of a job, new or there; ``path`` is where it posts."""

    fields: Fields
    path: str
    back: str
    is_new: bool
    name: str
    editions: tuple[tuple[int, str, str], ...]
    presets: tuple[tuple[str, str, str], ...]
    chosen: tuple[str, ...]
    stages: tuple[tuple[str, str], ...]
    works: tuple[tuple[str, str], ...]
    standing: RoomStanding | None = None
    archived: bool = False


def _form_page(fields: Fields, chosen: tuple[str, ...] = (), *, job: JobRow | None = None) -> JobFormPage:
    editions = tuple(
        (
            year, f"NEC {year}",
            "checked against print" if load_edition(year).flag("edition.verified") else "many values carried from 2023, not yet verified",
        )
        for year in reversed(YEARS)
    )  # fmt: skip
    return JobFormPage(
        fields=fields, path=f"/jobs/{job.id}/settings" if job else "/jobs", back=f"/jobs/{job.id}/rooms" if job else "/jobs",
        is_new=job is None, name=job.name if job else "", editions=editions,
        presets=tuple(
            (layer.id, layer.title, f"{layer.place}, over {', '.join(map(str, layer.years))}. {layer.source}") for layer in load_presets()
        ),
        chosen=chosen, stages=tuple((stage.value, stage.value.capitalize()) for stage in Stage),
        works=tuple((work.value, work.value.capitalize()) for work in WorkKind),
        archived=job is not None and job.archived_at is not None,
    )  # fmt: skip


@router.get("/jobs/new", name="new_job")
def new_job(request: Request, person: Foreman) -> HTMLResponse:
    """The form of a new job."""
    fields = Fields({"edition": "2023", "stage": Stage.ROUGH_IN.value, "work": WorkKind.NEW.value})
    return render(request, "jobs/form.html", _form_page(fields))


@router.post("/jobs", name="add_job")
def add_job(request: Request, person: Foreman, form: Typed) -> Response:
    """Make a job."""
    wanted, fields = _read(form)
    if wanted is None:
        return render(
            request, "jobs/form.html", _form_page(fields, form.lists.get("presets", ())), status=422
        )
    job_id = str(uuid4())
    with writing(engine_of(request)) as session:
        session.add(
            JobRow(
                id=job_id,
                crew_id=person.crew_id,
                created_at=datetime.now(UTC),
                created_by=person.id,
                **wanted.model_dump(),
            )
        )
    return flash.redirect(f"/jobs/{job_id}/rooms", f"{wanted.name} is set up. Lay out its rooms, one by one.")


def _read(form: Typed) -> tuple[JobForm | None, Fields]:
    """Read the form; amendments that do not go together are named on their field."""
    read = form.read(JobForm)
    if read.model is None:
        return None, read.fields
    if read.model.edition not in YEARS:
        return None, read.fields.wrong(
            "edition", f"Expected one of {', '.join(map(str, YEARS))}; came {read.model.edition}."
        )
    try:
        edition_of(read.model.edition, read.model.presets)
    except EditionError as error:
        return None, read.fields.wrong("presets", f"These do not go together: {error}.")
    return read.model, read.fields


@router.get("/jobs/{job_id}", name="job")
def job(job_id: str, person: Reader) -> RedirectResponse:
    """A job opens on its rooms."""
    return RedirectResponse(f"/jobs/{job_id}/rooms", status_code=303)


@router.get("/jobs/{job_id}/settings", name="job_settings")
def job_settings(request: Request, job_id: str, person: Foreman) -> HTMLResponse:
    """The form of a job that is there."""
    with reading(engine_of(request)) as session:
        row = job_for(session, person, job_id, Role.FOREMAN)
        values: dict[str, Any] = {
            "name": row.name, "address": row.address, "edition": str(row.edition), "stage": row.stage.value,
            "work": row.work.value, "permit_number": row.permit_number, "permit_date": row.permit_date.isoformat() if row.permit_date else "",
            "inspection_date": row.inspection_date.isoformat() if row.inspection_date else "",
            "floor_area_ft2": "" if row.floor_area_ft2 is None else str(row.floor_area_ft2),
        }  # fmt: skip
        page = _form_page(Fields(values), row.presets, job=row)
    return render(request, "jobs/form.html", page, job=JobBar(job_id, page.name))


@router.post("/jobs/{job_id}/settings", name="change_job")
def change_job(request: Request, job_id: str, person: Foreman, form: Typed) -> Response:
    """Change a job: another edition or amendment judges everything anew."""
    wanted, fields = _read(form)
    with writing(engine_of(request)) as session:
        row = job_for(session, person, job_id, Role.FOREMAN)
        if wanted is None:
            page = _form_page(fields, form.lists.get("presets", ()), job=row)
        else:
            with changing(session, job_id, author_of(person), "changed the job") as change:
                change.edit("job", job_id, wanted.model_dump())
    if wanted is None:
        return render(request, "jobs/form.html", page, job=JobBar(job_id, page.name), status=422)
    return flash.redirect(
        f"/jobs/{job_id}/rooms", flash.Said(f"{wanted.name} changed.", undo_path(job_id, change.id))
    )


@router.post("/jobs/{job_id}/archive", name="archive_job")
def archive_job(request: Request, job_id: str, person: Foreman) -> RedirectResponse:
    """Put a job away; nothing of it is lost."""
    name = _put_away(request, job_id, person, datetime.now(UTC))
    return flash.redirect(
        "/jobs", flash.Said(f"{name} was put away.", f"/jobs/{job_id}/unarchive", "Bring it back")
    )


@router.post("/jobs/{job_id}/unarchive", name="unarchive_job")
def unarchive_job(request: Request, job_id: str, person: Foreman) -> RedirectResponse:
    """Bring a job back."""
    return flash.redirect("/jobs", f"{_put_away(request, job_id, person, None)} is back.")


def _put_away(request: Request, job_id: str, person: Person, when: datetime | None) -> str:
    with writing(engine_of(request)) as session:
        row = job_for(session, person, job_id, Role.FOREMAN)
        row.archived_at = when
        return row.name
