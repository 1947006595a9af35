"""Is it ready to cover? The whole job by rule, and the reckoning behind any one answer."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from server.dwelling import Ref
from server.pages.findings_view import Group, groups_of
from server.pages.live import live_parts
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.pictures_view import pictures_of
from server.pages.rendering import render
from server.people.access import NotFound
from server.people.current import Reader
from server.readiness import JOB, Explanation, RoomStanding, explain
from server.readiness.naming import subject_name
from server.readiness.walk import Left
from server.rules.outcome import Verdict
from server.rules.registry import find_rule

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Held:
    """A room with its standing."""

    id: str
    name: str
    standing: RoomStanding
    left: Left


@dataclass(frozen=True, slots=True)
class ReadinessPage:
    """The whole job: what holds it, by rule and by room."""

    job: JobFacts
    standing: RoomStanding
    left: Left
    edition_verified: bool
    rooms: tuple[Held, ...]
    corrections: list[Group]
    inspector: list[Group]
    whole_job: list[Group]
    changed: bool = False


@router.get("/readiness", name="readiness_page")
def readiness(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """What holds the job open, worst first."""
    opened = open_job(request, person, job_id)
    job_level = [finding for finding in opened.findings if not finding.rooms]
    page = ReadinessPage(
        opened.job, opened.standings[JOB], opened.left(JOB), opened.code.flag("edition.verified"), _rooms(opened),
        groups_of(opened.findings, opened, Verdict.CORRECTION, room_names=True, pictures=pictures_of(request, opened)),
        groups_of(opened.findings, opened, Verdict.INSPECTOR, room_names=True),
        groups_of(job_level, opened, Verdict.UNSEEN, most=8),
    )  # fmt: skip
    return render(request, "readiness/job.html", page, job=opened.bar)


def _rooms(opened: OpenJob) -> tuple[Held, ...]:
    """The rooms with their standing, worst first."""
    rooms = [
        Held(room.id, room.name, opened.standings[room.id], opened.left(room.id))
        for room in opened.house.facts.rooms
    ]
    return tuple(sorted(rooms, key=lambda held: (-held.standing.corrections, -held.standing.unseen)))


@dataclass(frozen=True, slots=True)
class ReadinessLive:
    """What follows by itself; ``changed``: something was recorded since the page was sent."""

    job: JobFacts
    standing: RoomStanding
    left: Left
    rooms: tuple[Held, ...]
    changed: bool


@router.get("/live/readiness", name="readiness_live")
def readiness_live(request: Request, job_id: str, person: Reader, since: int = 0) -> Response:
    """The standings again, where they changed since a revision."""
    opened = open_job(request, person, job_id)
    page = ReadinessLive(
        opened.job, opened.standings[JOB], opened.left(JOB), _rooms(opened), opened.job.revision != since
    )
    return live_parts(request, "readiness/_live.html", page)


@dataclass(frozen=True, slots=True)
class WhyPage:
    """One answer with its reckoning."""

    job: JobFacts
    told: Explanation
    where: str
    edition: int
    look_for: str
    why: str


@router.get("/why/{rule_id}/{kind}/{subject_id}", name="why")
def why(
    request: Request, job_id: str, rule_id: str, kind: str, subject_id: str, person: Reader
) -> HTMLResponse:
    """The reckoning behind one answer: a fragment for htmx, a page for everybody else."""
    opened = open_job(request, person, job_id)
    rule = find_rule(rule_id)
    if rule is None or rule.about_kind != kind:
        raise NotFound
    told = explain(rule, Ref(kind, subject_id), opened.house, opened.code)
    if told is None:
        raise NotFound
    page = WhyPage(
        opened.job,
        told,
        subject_name(told.line.subject, opened.house),
        opened.code.year,
        rule.look_for,
        rule.why,
    )
    wants_part = request.headers.get("HX-Request") == "true"
    name = "readiness/_why.html" if wants_part else "readiness/why.html"
    return render(request, name, page, job=opened.bar, headers={"Vary": "HX-Request"})
