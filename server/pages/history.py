"""A room's history: every look, measurement, correction and taking back in it, by whom and when, with its photographs.

Our own clock says when something reached us; what the tablet said stands beside it where the two are far apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import groupby
from typing import Annotated, Final

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from server.dwelling import Answer, Ref
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.pictures_view import ShownPicture, by_name, of_observations
from server.pages.rendering import render
from server.people.current import Reader, engine_of
from server.reports.sections import logged
from server.store.engine import reading
from server.store.observations import Logged, log
from server.store.photographs import list_photographs

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)
_ON_A_PAGE: Final = 100
_FAR: Final = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Event:
    """Something recorded. ``seen_at``: what the tablet's clock said, where it is far from ours."""

    at: datetime
    by: str
    what: str
    where: str
    answer: str
    is_wrong: bool
    taken_back: bool
    note: str
    seen_at: str
    pictures: tuple[ShownPicture, ...]
    coming: int


@dataclass(frozen=True, slots=True)
class HistoryPage:
    """A room's history by day, the newest first; ``older`` is where the rest stands (0: there is no more)."""

    job: JobFacts
    room_id: str
    room_name: str
    days: tuple[tuple[date, tuple[Event, ...]], ...]
    recorded: int
    older: int


@router.get("/rooms/{room_id}/history", name="room_history")
def room_history(
    request: Request,
    job_id: str,
    room_id: str,
    person: Reader,
    before: Annotated[int, Query(ge=0)] = 0,
) -> HTMLResponse:
    """What was recorded in a room, the newest first. ``before``: only what came before that place in the log."""
    opened = open_job(request, person, job_id)
    room = room_of(opened, room_id)
    with reading(engine_of(request)) as session:
        entries = log(session, job_id)
        pictures = by_name(job_id, list_photographs(session, job_id))
    here = [entry for entry in entries if _is_in(entry.observation.subject, room_id, opened)]
    void = {entry.observation.takes_back for entry in here if entry.observation.takes_back}
    earlier = [entry for entry in reversed(here) if not before or entry.sequence < before]
    shown = earlier[:_ON_A_PAGE]
    events = [_event(entry, opened, pictures, void) for entry in shown]
    days = tuple((day, tuple(found)) for day, found in groupby(events, key=lambda event: event.at.date()))
    older = shown[-1].sequence if len(earlier) > len(shown) else 0
    page = HistoryPage(opened.job, room_id, room.name, days, len(here), older)
    return render(request, "rooms/history.html", page, job=opened.bar)


def _is_in(subject: Ref, room_id: str, opened: OpenJob) -> bool:
    """Whether something stands in the room; what was deleted since stands nowhere."""
    if subject.kind == "room":
        return subject.id == room_id
    found = opened.house.find(subject) if subject.kind != "job" else None
    return found is not None and any(room.id == room_id for room in opened.house.rooms_of(found))


def _event(entry: Logged, opened: OpenJob, pictures: dict[str, ShownPicture], void: set[str]) -> Event:
    seen, line = entry.observation, logged(entry.observation, opened.house)
    own, coming = of_observations(pictures, (seen,))
    return Event(
        entry.recorded_at, seen.by or "someone", line.rule, line.where,
        "" if seen.answer is Answer.TAKEN_BACK else line.answer, seen.answer is Answer.WRONG, seen.id in void,
        seen.note, _far_off(seen.at, entry.recorded_at), own, len(coming),
    )  # fmt: skip


def _far_off(said: str, recorded_at: datetime) -> str:
    """What the tablet's clock said, where it is more than an hour from ours: sent late, or a clock that is wrong."""
    try:
        at = datetime.fromisoformat(said)
    except ValueError:
        return ""
    at = at if at.tzinfo else at.replace(tzinfo=UTC)
    return said if abs(at - recorded_at) > _FAR else ""
