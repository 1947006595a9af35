"""Is each room ready to cover? Standings and findings of a job, with the reckoning where it is asked for."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse
from starlette.responses import Response

from server.api.problems import RESPONSES
from server.api.sheets.base import SheetStep, sheet_step
from server.dwelling import Ref
from server.pages.opened import open_job
from server.people.access import NotFound
from server.people.current import Reader
from server.readiness import JOB, Explanation, Line, RoomStanding, Standing, explain, line_of
from server.rules.outcome import Verdict
from server.rules.registry import find_rule
from server.store.documents import Document
from server.store.job_file_documents import EditionYear, Subject

__all__ = ["router"]

router = APIRouter(prefix="/api/jobs/{job_id}/readiness", tags=["readiness"], responses=RESPONSES)


class StandingAnswer(Document):
    """A room's standing, or the job's, and how many findings of each verdict lead to it."""

    standing: Standing
    corrections: int
    unseen: int
    clear: int
    outside: int
    inspector: int


class RoomAnswer(StandingAnswer):
    """A room's standing."""

    room: str
    name: str


class MissingAnswer(Document):
    """A fact that a verdict waits for. An empty ``field`` means a look or a measurement under the rule."""

    words: str
    field: str


class FindingAnswer(Document):
    """One rule's answer about one subject.

    ``article`` stands in the job's edition (empty where it has none); ``verified`` is false where nobody has seen the
    article or a number in print for this edition. ``cure`` is given with a correction, ``missing`` where it is unseen.
    ``steps``, ``cites`` and ``confidence`` are the reckoning, where it was asked for.
    """

    rule: str
    title: str
    subject: Subject
    rooms: list[str]
    verdict: Verdict
    sentence: str
    article: str
    verified: bool
    cure: str
    missing: list[MissingAnswer]
    danger: str
    steps: list[SheetStep] | None = None
    cites: list[str] | None = None
    confidence: str | None = None


class ReadinessAnswer(Document):
    """A job at one revision: the whole, its rooms in order, and the findings that were asked for."""

    job: StandingAnswer
    edition: EditionYear
    amendments: list[str]
    stage: str
    revision: int
    rooms: list[RoomAnswer]
    findings: list[FindingAnswer]


def _standing(found: RoomStanding) -> dict[str, Any]:
    return {
        "standing": found.standing.value, "corrections": found.corrections, "unseen": found.unseen,
        "clear": found.clear, "outside": found.outside, "inspector": found.inspector,
    }  # fmt: skip


def _line(line: Line) -> dict[str, Any]:
    return {
        "rule": line.rule_id, "title": line.title, "subject": {"kind": line.subject.kind, "id": line.subject.id},
        "rooms": list(line.rooms), "verdict": line.verdict.value, "sentence": line.sentence, "article": line.article,
        "verified": line.verified, "cure": line.cure, "danger": line.danger,
        "missing": [{"words": item.words, "field": item.field} for item in line.missing],
    }  # fmt: skip


def _explained(found: Explanation) -> dict[str, Any]:
    return _line(found.line) | {
        "steps": [sheet_step(step).model_dump(mode="json") for step in found.steps],
        "cites": list(found.cites),
        "confidence": found.confidence,
    }


@router.get("", response_model=ReadinessAnswer, response_model_exclude_unset=True)
def readiness(
    request: Request,
    job_id: str,
    person: Reader,
    room: Annotated[str | None, Query(max_length=64)] = None,
    rule: Annotated[str | None, Query(max_length=80)] = None,
    verdict: Annotated[list[Verdict], Query()] = [],  # noqa: B006 - FastAPI copies it
    steps: Annotated[bool, Query(description="add the reckoning of each finding")] = False,
) -> Response:
    """The standing of the job and of each room, and the findings behind it, each with its sentence, article and cure.

    ``room``, ``rule`` and ``verdict`` (which may be given several times) narrow the findings, not the standings.
    """
    opened = open_job(request, person, job_id)
    house, code = opened.house, opened.code
    if room is not None and room not in house.rooms:
        raise NotFound
    if rule is not None and find_rule(rule) is None:
        raise NotFound
    wanted = set(verdict or Verdict)
    findings = [
        finding
        for finding in (opened.findings if room is None else opened.findings_of(room))
        if finding.outcome.verdict in wanted and (rule is None or finding.rule.id == rule)
    ]
    if steps:
        told = [
            _explained(found)
            for finding in findings
            if (found := explain(finding.rule, finding.subject, house, code))
        ]
    else:
        told = [_line(line_of(finding, code)) for finding in findings]
    return JSONResponse(
        {
            "job": _standing(opened.standings[JOB]),
            "edition": str(code.year),
            "amendments": [layer.title for layer in code.amendments],
            "stage": opened.job.stage,
            "revision": opened.job.revision,
            "rooms": [
                {"room": found.id, "name": found.name, **_standing(opened.standings[found.id])}
                for found in house.facts.rooms
            ],
            "findings": told,
        }
    )


@router.get("/{rule_id}/{kind}/{subject_id}")
def finding_of(
    request: Request, job_id: str, rule_id: str, kind: str, subject_id: str, person: Reader
) -> FindingAnswer:
    """One rule about one subject, with the reckoning step by step and what did not apply."""
    opened = open_job(request, person, job_id)
    found_rule = find_rule(rule_id)
    if found_rule is None or found_rule.about_kind != kind:
        raise NotFound
    subject = Ref(kind, opened.house.site.id if kind == "job" else subject_id)
    found = explain(found_rule, subject, opened.house, opened.code)
    if found is None or subject.id != subject_id:
        raise NotFound
    return FindingAnswer.model_validate(_explained(found))
