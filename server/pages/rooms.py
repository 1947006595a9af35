"""The rooms of a job by level, each with its standing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from server.drawings.plan import draw_level
from server.dwelling import Level, Room, format_length
from server.pages.live import live_parts
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.current import Reader
from server.people.person import Person
from server.readiness import JOB, RoomStanding
from server.readiness.walk import Left

__all__ = ["router", "size_words"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room in the list."""

    id: str
    name: str
    size: str
    standing: RoomStanding
    left: Left


@dataclass(frozen=True, slots=True)
class LevelRows:
    """A level with its rooms, and its plan."""

    id: str
    name: str
    rooms: tuple[RoomRow, ...]
    plan: Markup


@dataclass(frozen=True, slots=True)
class RoomsPage:
    """All rooms of a job."""

    job: JobFacts
    standing: RoomStanding
    left: Left
    levels: tuple[LevelRows, ...]
    rooms: int
    ready: int
    only: str
    days_left: int | None
    may_build: bool
    may_lead: bool


@router.get("/rooms", name="rooms")
def rooms(
    request: Request, job_id: str, person: Reader, only: Annotated[str, Query(max_length=20)] = ""
) -> HTMLResponse:
    """The rooms of a job by level, each with its standing."""
    opened = open_job(request, person, job_id)
    return render(request, "rooms/list.html", _rooms_page(opened, person, only), job=opened.bar)


@router.get("/live/rooms", name="rooms_live")
def rooms_live(
    request: Request, job_id: str, person: Reader, only: Annotated[str, Query(max_length=20)] = ""
) -> Response:
    """The rooms and the job's standing again, where they changed."""
    return live_parts(
        request, "rooms/_live.html", _rooms_page(open_job(request, person, job_id), person, only)
    )


def _rooms_page(opened: OpenJob, person: Person, only: str) -> RoomsPage:
    job = opened.job
    levels = tuple(
        _level(level, opened, only)
        for level in sorted(opened.house.facts.levels, key=lambda item: -item.order)
    )
    by_room = [standing for room_id, standing in opened.standings.items() if room_id != JOB]
    return RoomsPage(
        job, opened.standings[JOB], opened.left(JOB), levels, len(by_room), sum(item.standing == "ready to cover" for item in by_room), only,
        (job.inspection_date - datetime.now(UTC).date()).days if job.inspection_date else None, person.may_build,
        person.may_lead,
    )  # fmt: skip


def _level(level: Level, opened: OpenJob, only: str) -> LevelRows:
    house = opened.house
    rows = tuple(
        RoomRow(room.id, room.name, size_words(room), opened.standings[room.id], opened.left(room.id))
        for room in house.facts.rooms
        if room.level_id == level.id
        and (not only or opened.standings[room.id].standing.replace(" ", "-") == only)
    )
    links = {room.id: f"/jobs/{opened.job.id}/rooms/{room.id}" for room in house.facts.rooms}
    placed = any(room.level_id == level.id and room.plan_x_in is not None for room in house.facts.rooms)
    plan = draw_level(level, house, scale=1.0, links=links) if placed else ""
    return LevelRows(level.id, level.name, rows, Markup(plan))  # noqa: S704 - our own drawing, escaped where written


def size_words(room: Room) -> str:
    """``12 ft x 11 ft``; empty where one of them is not entered."""
    if room.length_in is None or room.width_in is None:
        return ""
    return f"{format_length(room.length_in)} x {format_length(room.width_in)}"
