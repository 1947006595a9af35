"""Is it ready to cover? The whole job by rule, and the reckoning behind any one answer."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from server.dwelling import Ref
from server.pages.findings_view import Group, groups_of
from server.pages.opened import JobFacts, open_job
from server.pages.pictures_view import pictures_of
from server.pages.rendering import render
from server.people.access import NotFound
from server.people.current import Reader
from server.readiness import JOB, Explanation, RoomStanding, explain
from server.readiness.naming import subject_name
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


@dataclass(frozen=True, slots=True)
class ReadinessPage:
    """The whole job: what holds it, by rule and by room."""

    job: JobFacts
    standing: RoomStanding
    edition_verified: bool
    rooms: tuple[Held, ...]
    corrections: list[Group]
    inspector: list[Group]
    whole_job: list[Group]
    clear_rules: int


@router.get("/readiness", name="readiness_page")
def readiness(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """What holds the job open, worst first."""
    opened = open_job(request, person, job_id)
    house, standings = opened.house, opened.standings
    rooms = sorted(
        (Held(room.id, room.name, standings[room.id]) for room in house.facts.rooms),
        key=lambda held: (-held.standing.corrections, -held.standing.unseen),
    )
    job_level = [finding for finding in opened.findings if not finding.rooms]
    page = ReadinessPage(
        opened.job, standings[JOB], opened.code.flag("edition.verified"), tuple(rooms),
        groups_of(
            opened.findings, opened, Verdict.CORRECTION, room_names=True, pictures=pictures_of(request, opened)
        ),
        groups_of(opened.findings, opened, Verdict.INSPECTOR, room_names=True),
        groups_of(job_level, opened, Verdict.UNSEEN, most=8),
        len({finding.rule.id for finding in opened.findings if finding.outcome.verdict is Verdict.CLEAR}),
    )  # fmt: skip
    return render(request, "readiness/job.html", page, job=opened.bar)


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
        subject_name(Ref(kind, subject_id), opened.house),
        opened.code.year,
        rule.look_for,
        rule.why,
    )
    wants_part = request.headers.get("HX-Request") == "true"
    name = "readiness/_why.html" if wants_part else "readiness/why.html"
    return render(request, name, page, job=opened.bar, headers={"Vary": "HX-Request"})
