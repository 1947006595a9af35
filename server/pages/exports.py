"""What leaves as a file: findings and the punch list as CSV, visits as a calendar, also under an address for programs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, time, timedelta
from typing import Any, Final

from fastapi import APIRouter, Request
from icalendar import Calendar, Event
from sqlalchemy.orm import Session
from starlette.responses import Response

from server.pages.opened import OpenJob, open_job
from server.people.access import NotFound, jobs_open_to
from server.people.calendar_links import readers_of
from server.people.current import Reader, engine_of, open_to_anyone
from server.people.person import Person
from server.readiness import line_of
from server.readiness.naming import subject_name
from server.rules.outcome import Verdict
from server.store.assignments import assignments_of
from server.store.engine import reading
from server.store.tables.jobs import JobRow

__all__ = ["router"]

router = APIRouter(include_in_schema=False)
_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def _cell(text: object) -> str:
    """A cell that no spreadsheet takes for a formula."""
    written = str(text)
    return f"'{written}" if written.startswith(_FORMULA) else written


def _csv(name: str, head: Sequence[str], rows: Iterable[Sequence[object]]) -> Response:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    headers = {"Content-Disposition": f'attachment; filename="{name}.csv"'}
    # a byte order mark: without it some spreadsheets read the text in an old alphabet
    return Response("\ufeff" + out.getvalue(), media_type="text/csv; charset=utf-8", headers=headers)


@router.get("/jobs/{job_id}/findings.csv", name="findings_csv")
def findings(request: Request, job_id: str, person: Reader) -> Response:
    """Every finding that is not outside, with room, subject, sentence, article and cure."""
    opened = open_job(request, person, job_id)
    head = ("room", "subject", "verdict", "rule", "sentence", "article", "verified", "cure", "needed")
    rows = (
        (
            ", ".join(opened.house.rooms[room].name for room in line.rooms), subject_name(line.subject, opened.house), line.verdict,
            line.title, line.sentence, line.article, "yes" if line.verified else "no", line.cure,
            "; ".join(missing.words for missing in line.missing),
        )
        for finding in opened.findings
        if finding.outcome.verdict is not Verdict.OUTSIDE
        for line in (line_of(finding, opened.code),)
    )  # fmt: skip
    return _csv("findings", head, rows)


@router.get("/jobs/{job_id}/punch-list.csv", name="punch_list_csv")
def punch_list(request: Request, job_id: str, person: Reader) -> Response:
    """What is wrong, room by room, with its cure and who has it."""
    opened = open_job(request, person, job_id)
    with reading(engine_of(request)) as session:
        given = assignments_of(session, [job_id])
    head = ("room", "subject", "what is wrong", "article", "cure", "given to", "due", "state")
    return _csv("punch-list", head, _wrong(opened, {(item.room_id, item.rule): item for item in given}))


def _wrong(opened: OpenJob, given: dict[tuple[str, str], object]) -> Iterable[Sequence[object]]:
    for finding in opened.findings:
        if finding.outcome.verdict is not Verdict.CORRECTION:
            continue
        line = line_of(finding, opened.code)
        room = finding.rooms[0] if finding.rooms else ""
        item = given.get((room, finding.rule.id)) or given.get((room, ""))
        name = opened.house.rooms[room].name if room else "whole job"
        who = (getattr(item, "person", ""), getattr(item, "due", "") or "", getattr(item, "state", ""))
        yield (name, subject_name(line.subject, opened.house), line.sentence, line.article, line.cure, *who)


@router.get("/visits.ics", name="visits_calendar")
def calendar(request: Request, person: Reader) -> Response:
    """The visits of every open job of the crew (of one job for a guest), for any calendar (RFC 5545)."""
    with reading(engine_of(request)) as session:
        rows = _visits(session, person)
    return _calendar(_event(row) for row in rows)


@router.get(
    "/calendar/{token}.ics",
    name="calendar_feed",
    dependencies=[open_to_anyone("the address is what lets a calendar program in")],
)
def feed(request: Request, token: str) -> Response:
    """The visits of all crews of whoever made the address, for a program that asks again and again."""
    with reading(engine_of(request)) as session:
        readers = readers_of(session, token)
        if readers is None:
            raise NotFound
        visits = [(row, crew_name) for person, crew_name in readers for row in _visits(session, person)]
    visits.sort(key=lambda visit: (visit[0].inspection_date, visit[0].id))
    response = _calendar(_event(row, crew_name) for row, crew_name in visits)
    response.headers["X-Robots-Tag"] = "noindex"
    response.headers["Referrer-Policy"] = "no-referrer"
    return response


def _visits(session: Session, person: Person) -> Sequence[Any]:
    return session.execute(
        jobs_open_to(person)
        .with_only_columns(
            JobRow.id, JobRow.name, JobRow.address, JobRow.stage, JobRow.inspection_date, JobRow.version
        )
        .where(JobRow.inspection_date.is_not(None), JobRow.archived_at.is_(None))
        .order_by(JobRow.inspection_date)
    ).all()


def _event(row: Any, crew_name: str = "") -> Event:
    event = Event()
    event.add("uid", f"{row.id}@studbay")
    event.add("summary", f"Inspection: {row.name} ({row.stage.value})")
    event.add("location", row.address)
    if crew_name:
        event.add("description", crew_name)
    event.add("dtstart", row.inspection_date)
    event.add("dtstamp", datetime.combine(row.inspection_date, time(), UTC))
    event.add("sequence", row.version)
    return event


def _calendar(events: Iterable[Event]) -> Response:
    made = Calendar()
    made.add("prodid", "-//Studbay//visits//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", "Inspections")
    # how often a program may ask (RFC 7986, 5.7)
    made.add("refresh-interval", timedelta(hours=6), parameters={"value": "DURATION"})
    for event in events:
        made.add_component(event)
    return Response(
        made.to_ical(),
        media_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": 'inline; filename="visits.ics"'},
    )
