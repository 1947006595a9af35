"""One room: its standing, its drawing, what holds it open, what is in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup

from server.dwelling import Box, Device, Ref, Room
from server.pages.findings_view import Group, groups_of
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.pictures_view import NO_PICTURES, ShownPicture, in_room, pictures_of
from server.pages.rendering import render
from server.pages.room_drawings import SIZES, DrawingSize, DrawnWall, drawn_plan, drawn_walls
from server.pages.rooms import size_words
from server.people.current import Reader
from server.people.person import Person
from server.readiness import RoomStanding
from server.readiness.naming import subject_name
from server.readiness.room_spacing import RoomSpacing, spacing_of
from server.readiness.walk import Left, left_of, stops_of
from server.rules.outcome import Verdict

__all__ = ["room_page", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class BoxRow:
    """A box in a room's list, with what is in it."""

    id: str
    label: str
    where: str
    size: str
    devices: str
    circuits: str
    corrections: int
    unseen: int


@dataclass(frozen=True, slots=True)
class LastSeen:
    """Who looked at a room last, and when."""

    by: str
    on: date | None


@dataclass(frozen=True, slots=True)
class RoomPage:
    """One room."""

    job: JobFacts
    room: Room
    level: str
    size: str
    standing: RoomStanding
    left: Left
    walls: tuple[DrawnWall, ...]
    plan: Markup
    spacing: RoomSpacing
    size_of_drawing: DrawingSize
    sizes: tuple[tuple[str, str], ...]
    corrections: list[Group]
    inspector: list[Group]
    to_enter: list[Group]
    boxes: tuple[BoxRow, ...]
    last_seen: LastSeen | None
    photographs: tuple[ShownPicture, ...]
    may_build: bool
    may_record: bool


@router.get("/rooms/{room_id}", name="room")
def room(
    request: Request,
    job_id: str,
    room_id: str,
    person: Reader,
    size: Annotated[str, Query(max_length=10)] = "usual",
) -> HTMLResponse:
    """One room; ``size`` is that of its drawings: usual, small, large."""
    opened = open_job(request, person, job_id)
    chosen: DrawingSize = next((each for each, _ in SIZES if each == size), "usual")
    page = room_page(opened, room_id, person, chosen, pictures_of(request, opened))
    return render(request, "rooms/room.html", page, job=opened.bar)


def room_page(
    opened: OpenJob,
    room_id: str,
    person: Person,
    size: DrawingSize = "usual",
    pictures: Mapping[str, ShownPicture] = NO_PICTURES,
) -> RoomPage:
    """The context of a room's page.

    Raises:
        NotFound: the job has no such room.
    """
    found, house = room_of(opened, room_id), opened.house
    findings = opened.findings_of(room_id)
    stops = stops_of(room_id, findings)
    spacing = spacing_of(found, house, opened.code)
    walls = drawn_walls(
        opened.job.id, found, house, opened.code, spacing=spacing, may_build=person.may_build, size=size
    )
    plan = drawn_plan(opened.job.id, found, house, may_build=person.may_build)
    level = house.levels.get(found.level_id)
    return RoomPage(
        job=opened.job, room=found, level=level.name if level else "", size=size_words(found), standing=opened.standings[room_id], left=left_of(findings),
        walls=walls, plan=plan, spacing=spacing, size_of_drawing=size, sizes=SIZES,
        corrections=groups_of(findings, opened, Verdict.CORRECTION, pictures=pictures), photographs=in_room(pictures, opened, room_id),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR),
        to_enter=groups_of((f for stop in stops if not stop.by_eyes for f in stop.unseen), opened, Verdict.UNSEEN),
        boxes=tuple(_box(box, opened) for box in house.boxes_of_room.get(room_id, ())),
        last_seen=_last_seen(opened, room_id), may_build=person.may_build, may_record=person.may_record,
    )  # fmt: skip


def _box(box: Box, opened: OpenJob) -> BoxRow:
    house = opened.house
    from_here = [
        finding.outcome.verdict
        for finding in opened.findings
        if (finding.subject.kind == "box" and finding.subject.id == box.id)
        or (
            finding.subject.kind == "device"
            and (device := house.devices.get(finding.subject.id)) is not None
            and device.box_id == box.id
        )
    ]
    volume = (
        f"{float(box.volume_in3):g} in³"
        if box.volume_in3 is not None
        else box.trade_size or "size not entered"
    )
    gangs = f"{box.gangs}-gang " if box.gangs > 1 else ""
    return BoxRow(
        box.id, box.label or "Box", subject_name(Ref("box", box.id), house), gangs + volume,
        ", ".join(_device(device, house.controlled_by.get(device.id, [])) for device in house.devices_of_box.get(box.id, ())) or "empty",
        ", ".join(circuit.name for circuit in house.circuits_of_box(box.id)),
        from_here.count(Verdict.CORRECTION), from_here.count(Verdict.UNSEEN),
    )  # fmt: skip


def _device(device: Device, controlled_by: list[Device]) -> str:
    words = [device.label or device.kind.value]
    if device.ways is not None:
        words = [f"{device.ways.value} {'dimmer' if device.dimmer else 'switch'}"]
    words += [
        word
        for on, word in ((device.gfci, "GFCI"), (device.afci, "AFCI"), (bool(controlled_by), "switched"))
        if on
    ]
    return " ".join(words)


def _last_seen(opened: OpenJob, room_id: str) -> LastSeen | None:
    ids = {room_id, *(box.id for box in opened.house.boxes_of_room.get(room_id, ()))}
    seen = [item for item in opened.house.facts.observations if item.subject.id in ids]
    if not seen:
        return None
    return LastSeen(seen[-1].by or "someone", date.fromisoformat(seen[-1].at[:10]) if seen[-1].at else None)
