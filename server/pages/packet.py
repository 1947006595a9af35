"""The packet: the report on screen, and as PDF made apart, with its progress."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from starlette.responses import Response

from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render, template
from server.people.access import NotFound, job_for
from server.people.current import Reader, engine_of, open_session
from server.people.person import Person
from server.reports.pdf import PaperError, Press, Progress, Section
from server.reports.sections import ReportJob, RoomSection, cover_of, panels_of, rooms_of
from server.store.engine import reading

__all__ = ["paper_sections", "report_css", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)
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
    parts = tuple((name, Markup(html)) for name, html in _parts(request, opened))  # noqa: S704 - rendered with autoescape
    return render(
        request,
        "report/screen.html",
        PacketPage(opened.job, parts, len(opened.house.facts.rooms)),
        job=opened.bar,
    )


@router.post("/packet/pdf", name="make_packet")
def make_packet(request: Request, job_id: str, person: Reader) -> RedirectResponse:
    """Begin the PDF. Nothing of the job changes: what was rendered before is used again."""
    opened = open_job(request, person, job_id)
    ticket = _press(request).start(
        job_id, paper_sections(_parts(request, opened), opened.job.name), report_css()
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
    found = open_session(request)
    job = ReportJob(
        opened.job.name, opened.job.address, found.crew_name if found else "", opened.job.edition, opened.job.amendments,
        opened.job.stage, opened.job.permit_date, opened.job.inspection_date,
    )  # fmt: skip
    sections: list[tuple[str, str, Any]] = [("Cover", "report/cover.html", cover_of(job, opened.judged))]
    sections += [
        (_room_name(section), "report/room.html", section) for section in rooms_of(job, opened.judged)
    ]
    sections += [(section.name, "report/panel.html", section) for section in panels_of(job, opened.judged)]
    return [(name, template(file, page=page)) for name, file, page in sections]


def _room_name(section: RoomSection) -> str:
    return section.room.name


def paper_sections(parts: Sequence[tuple[str, str]], job_name: str) -> list[Section]:
    """Sections as whole documents for the press."""
    return [
        Section(
            name,
            template("report/paper.html", title=name, running=f"{job_name}: {name}", body=Markup(html)),  # noqa: S704
            {},
        )
        for name, html in parts
    ]
