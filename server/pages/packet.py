"""The packet: the report on screen, and as PDF made apart, with its progress."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from starlette.responses import FileResponse, Response

from server.drawings.photograph_marks import draw_marks, words_of_marks
from server.dwelling import Ref
from server.pages.load import loads_by_method
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.photographs import folder_of
from server.pages.rendering import render, template
from server.people.access import NotFound, job_for
from server.people.current import Reader, engine_of, open_session
from server.people.pace import PAPER, paced
from server.people.person import Person
from server.readiness import JOB
from server.reports.packet_parts import hookup_sections, work_section
from server.reports.pdf import PaperError, Press, Progress, Section
from server.reports.sections import ReportJob, cover_of, panels_of, rooms_of
from server.reports.whole_job import job_section, torque_sections
from server.store.assignments import assignments_of
from server.store.engine import reading
from server.store.photographs import Photograph, PictureFolder, list_photographs
from server.store.visits import visits_of

__all__ = ["paper_sections", "report_css", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)
_PICTURE: Final = re.compile(r"studbay:///photographs/[0-9a-f]{64}\.jpg")
_PAPER_INKS: Final = re.compile(r"<style>.*?</style>", re.DOTALL)
_CSS: Final = Path(__file__).parents[2] / "static" / "css" / "report.css"


@lru_cache(maxsize=1)
def report_css() -> str:
    """The style of paper."""
    return _CSS.read_text(encoding="utf-8")


@dataclass(frozen=True, slots=True)
class PacketPage:
    """The report on screen: the same sections as on paper."""

    job: JobFacts
    parts: tuple[tuple[str, Markup], ...]
    rooms: int


@router.get("/packet", name="packet")
def packet(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """The report on screen."""
    opened = open_job(request, person, job_id)
    parts = tuple((name, Markup(_on_screen(html, opened))) for name, html in _parts(request, opened))  # noqa: S704 - rendered with autoescape
    return render(
        request,
        "report/screen.html",
        PacketPage(opened.job, parts, len(opened.house.facts.rooms)),
        job=opened.bar,
    )


def _on_screen(html: str, opened: OpenJob) -> str:
    """Pictures of the packet are asked for by their hash in the job's own address; drawings leave their paper inks
    behind and take those of the screen's style sheet (the content security policy lets no inline style in)."""
    return _PAPER_INKS.sub("", html).replace("studbay:///photographs/", f"/jobs/{opened.job.id}/pictures/")


@router.get("/pictures/{name}", name="picture_by_hash")
def picture_by_hash(request: Request, job_id: str, name: str, person: Reader) -> FileResponse:
    """A picture of the job by the hash of its content: only one that the job has."""
    with reading(engine_of(request)) as session:
        job_for(session, person, job_id)
        there = any(f"{item.sha256}.jpg" == name for item in list_photographs(session, job_id))
    path = folder_of(request).path(name.removesuffix(".jpg")) if there else None
    if path is None or not path.exists():
        raise NotFound
    return FileResponse(
        path, media_type="image/jpeg", headers={"Content-Security-Policy": "default-src 'none'; sandbox"}
    )


@router.post("/packet/pdf", name="make_packet", dependencies=[paced("paper", PAPER)])
def make_packet(request: Request, job_id: str, person: Reader) -> RedirectResponse:
    """Begin the PDF. Nothing of the job changes: what was rendered before is used again."""
    opened = open_job(request, person, job_id)
    ticket = _press(request).start(
        job_id, paper_sections(_parts(request, opened), opened.job.name, folder_of(request)), report_css()
    )
    return RedirectResponse(f"/jobs/{job_id}/packet/pdf/{ticket}", status_code=303)


@dataclass(frozen=True, slots=True)
class MakingPage:
    """How far the PDF is."""

    job: JobFacts
    progress: Progress
    path: str


@router.get("/packet/pdf/{ticket}", name="packet_progress")
def packet_progress(request: Request, job_id: str, ticket: str, person: Reader) -> HTMLResponse:
    """How far the PDF is; asks again by itself until it is done."""
    opened = open_job(request, person, job_id)
    progress = _press(request).progress(job_id, ticket)
    if progress is None:
        raise NotFound
    page = MakingPage(opened.job, progress, f"/jobs/{job_id}/packet/pdf/{ticket}")
    part = request.headers.get("HX-Request") == "true"
    headers = {"Vary": "HX-Request"}
    if not part and not progress.finished and not progress.failed:
        headers["Refresh"] = "2"
    return render(
        request,
        "report/_making.html" if part else "report/making.html",
        page,
        job=opened.bar,
        headers=headers,
    )


@router.get("/packet/pdf/{ticket}/file", name="packet_file")
def packet_file(request: Request, job_id: str, ticket: str, person: Reader) -> Response:
    """The PDF."""
    name = _job_name(request, person, job_id)
    try:
        content = _press(request).collect(job_id, ticket, f"{name}: readiness")
    except PaperError:
        raise NotFound from None
    file = (
        "".join(letter if letter.isalnum() and letter.isascii() else "-" for letter in name.lower()).strip(
            "-"
        )
        or "packet"
    )
    return Response(
        content,
        media_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{file}-readiness.pdf"'},
    )


def _job_name(request: Request, person: Person, job_id: str) -> str:
    with reading(engine_of(request)) as session:
        return job_for(session, person, job_id).name


def _press(request: Request) -> Press:
    """The press of this process, made on first use and ended with the service."""
    state = request.app.state
    if not hasattr(state, "press"):
        state.press = Press(state.settings.data_dir / "paper", processes=state.settings.pdf_workers)
    press: Press = state.press
    return press


def _parts(request: Request, opened: OpenJob) -> list[tuple[str, str]]:
    """The name and HTML of every section, in order."""
    return [(name, template(file, **context)) for name, file, context in _contexts(request, opened)]


def _contexts(request: Request, opened: OpenJob) -> Iterator[tuple[str, str, dict[str, Any]]]:
    found = open_session(request)
    job = ReportJob(
        opened.job.name, opened.job.address, found.crew_name if found else "", opened.job.edition, opened.job.amendments,
        opened.job.stage, opened.job.permit_number, opened.job.permit_date, opened.job.inspection_date,
    )  # fmt: skip
    with reading(engine_of(request)) as session:
        given = assignments_of(session, [opened.job.id], open_only=False)
        visits = visits_of(session, [opened.job.id])
        pictures = list_photographs(session, opened.job.id)
    yield "Cover", "report/cover.html", {"page": cover_of(job, opened.judged)}
    by_room = _by_room(pictures, opened)
    elsewhere = [_figure(item) for item in by_room.get(JOB, [])]
    yield "Of no room", "report/job.html", {"page": job_section(job, opened.judged), "photographs": elsewhere}
    for section in rooms_of(job, opened.judged):
        shown = by_room.get(section.room.id, [])
        yield (
            section.room.name,
            "report/room.html",
            {"page": section, "photographs": [_figure(item) for item in shown]},
        )
    for panel in panels_of(job, opened.judged):
        yield panel.name, "report/panel.html", {"page": panel}
    for record in torque_sections(job, opened.house):
        yield f"Torque record: {record.name}", "report/torque.html", {"page": record}
    _, methods = loads_by_method(opened)
    if methods:
        yield "Load", "report/load.html", {"job": job, "methods": methods}
    for plan in hookup_sections(job, opened.house, opened.code):
        yield f"Hookup of {plan.name}", "report/hookup.html", {"page": plan}
    work = work_section(job, opened.house, given, visits)
    if work is not None:
        yield "Mended, and visits", "report/work.html", {"page": work}


def _address(picture: Photograph) -> str:
    """How a picture is called inside the packet: the press hands it out by that name alone."""
    return f"studbay:///photographs/{picture.sha256}.jpg"


def _figure(picture: Photograph) -> tuple[str, str, str, Markup]:
    """A photograph on paper: address, note, words for who does not see it, and the marks over it."""
    marks = draw_marks(picture.marks, picture.width_px, picture.height_px)
    words = ", ".join(part for part in (picture.note or "photograph", words_of_marks(picture.marks)) if part)
    return _address(picture), picture.note, words, Markup(marks)  # noqa: S704 - numbers of ours only


def _by_room(pictures: Sequence[Photograph], opened: OpenJob) -> dict[str, list[Photograph]]:
    """The photographs by the room of what they are of; those of no room under :data:`JOB`."""
    found: dict[str, list[Photograph]] = {}
    for item in pictures:
        subject = opened.house.find(Ref(item.subject_kind, item.subject_id)) if item.subject_kind else None
        rooms = [room.id for room in opened.house.rooms_of(subject)] if subject is not None else []
        for room_id in rooms or (JOB,):
            found.setdefault(room_id, []).append(item)
    return found


def paper_sections(
    parts: Sequence[tuple[str, str]], job_name: str, pictures: PictureFolder | None = None
) -> list[Section]:
    """Sections as whole documents for the press, each with the pictures that it shows."""
    return [
        Section(
            name,
            template("report/paper.html", title=name, running=f"{job_name}: {name}", body=Markup(html)),  # noqa: S704
            {address: pictures.path(address[-68:-4]) for address in set(_PICTURE.findall(html))}
            if pictures
            else {},
        )
        for name, html in parts
    ]
