"""The rooms of a job, and one room: its standing, its drawing, what holds it open, what is in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Annotated
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.plan import draw_level
from server.dwelling import Box, Device, Framing, Level, Ref, Room, RoomKind, format_length
from server.pages import flash
from server.pages.border import OptionalLength, OptionalNumber, OptionalRoomLength
from server.pages.changes import author_of, undo_path
from server.pages.findings_view import Group, groups_of
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.live import live_parts
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.pictures_view import NO_PICTURES, ShownPicture, in_room, pictures_of
from server.pages.rendering import render
from server.pages.room_drawings import SIZES, DrawingSize, DrawnWall, drawn_plan, drawn_walls
from server.people.access import job_for
from server.people.current import Builder, Reader, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.readiness import JOB, RoomStanding
from server.readiness.lay_out import lay_out_room
from server.readiness.naming import subject_name
from server.readiness.room_spacing import RoomSpacing, spacing_of
from server.readiness.walk import stops_of
from server.rules.outcome import Verdict
from server.store.engine import writing
from server.store.facts import changing

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room in the list."""

    id: str
    name: str
    size: str
    standing: RoomStanding


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
        job, opened.standings[JOB], levels, len(by_room), sum(item.standing == "ready to cover" for item in by_room), only,
        (job.inspection_date - datetime.now(UTC).date()).days if job.inspection_date else None, person.may_build,
        person.may_lead,
    )  # fmt: skip


def _level(level: Level, opened: OpenJob, only: str) -> LevelRows:
    house = opened.house
    rows = tuple(
        RoomRow(room.id, room.name, _size(room), opened.standings[room.id])
        for room in house.facts.rooms
        if room.level_id == level.id
        and (not only or opened.standings[room.id].standing.replace(" ", "-") == only)
    )
    links = {room.id: f"/jobs/{opened.job.id}/rooms/{room.id}" for room in house.facts.rooms}
    placed = any(room.level_id == level.id and room.plan_x_in is not None for room in house.facts.rooms)
    plan = draw_level(level, house, scale=1.0, links=links) if placed else ""
    return LevelRows(level.id, level.name, rows, Markup(plan))  # noqa: S704 - our own drawing, escaped where written


def _size(room: Room) -> str:
    if room.length_in is None or room.width_in is None:
        return ""
    return f"{format_length(room.length_in)} x {format_length(room.width_in)}"


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
    walls: tuple[DrawnWall, ...]
    plan: Markup
    spacing: RoomSpacing
    size_of_drawing: DrawingSize
    sizes: tuple[tuple[str, str], ...]
    corrections: list[Group]
    inspector: list[Group]
    unseen_rules: int
    to_enter: list[Group]
    boxes: tuple[BoxRow, ...]
    last_seen: LastSeen | None
    photographs: tuple[ShownPicture, ...]
    may_build: bool
    may_record: bool


@router.get("/rooms/new", name="new_room")
def new_room(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """The form of a new room."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    return render(request, "rooms/new.html", _new_room_page(opened, NOTHING_TYPED), job=opened.bar)


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
    looked = [stop for stop in stops if stop.by_eyes]
    return RoomPage(
        job=opened.job, room=found, level=level.name if level else "", size=_size(found), standing=opened.standings[room_id],
        walls=walls, plan=plan, spacing=spacing, size_of_drawing=size, sizes=SIZES,
        corrections=groups_of(findings, opened, Verdict.CORRECTION, pictures=pictures), photographs=in_room(pictures, opened, room_id),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR),
        unseen_rules=len(looked),
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


# adding, changing, deleting ----------------------------------------------------------------------------------


class NewRoom(BaseModel):
    """The form of a new room."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    kind: RoomKind
    name: str = Field(default="", max_length=80)
    level: str = Field(default="", max_length=80)
    length_in: OptionalRoomLength = None
    width_in: OptionalRoomLength = None
    lay_out: str = ""


@dataclass(frozen=True, slots=True)
class NewRoomPage:
    """The form of a new room: kinds with the size that each would be given."""

    job: JobFacts
    fields: Fields
    kinds: tuple[tuple[str, str], ...]
    levels: tuple[tuple[str, str], ...]


_USUAL_FIRST = (
    RoomKind.BEDROOM, RoomKind.BATHROOM, RoomKind.KITCHEN, RoomKind.LIVING_ROOM, RoomKind.DINING_ROOM, RoomKind.FAMILY_ROOM,
    RoomKind.HALLWAY, RoomKind.LAUNDRY, RoomKind.GARAGE, RoomKind.OUTDOORS, RoomKind.STAIR, RoomKind.CLOSET,
)  # fmt: skip


def _new_room_page(opened: OpenJob, fields: Fields) -> NewRoomPage:
    kinds = [*_USUAL_FIRST, *(kind for kind in RoomKind if kind not in _USUAL_FIRST)]
    levels = [(level.id, level.name) for level in opened.house.facts.levels] or [("", "First floor")]
    return NewRoomPage(
        opened.job, fields,
        tuple((kind.value, f"{kind.value.capitalize()}") for kind in kinds), tuple(levels),
    )  # fmt: skip


@router.post("/rooms", name="add_room")
def add_room(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Add a room, laid out where that was asked for."""
    read = form.read(NewRoom)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    if read.model is None:
        return render(
            request, "rooms/new.html", _new_room_page(opened, read.fields), job=opened.bar, status=422
        )
    wanted = read.model
    level_id, level = _level_for(opened, wanted.level)
    room_id = str(uuid4())
    made = Room(
        room_id, level_id, wanted.name or _free_name(wanted.kind, opened), wanted.kind, len(opened.house.facts.rooms),
        length_in=wanted.length_in, width_in=wanted.width_in,
    )  # fmt: skip
    new_facts = (
        lay_out_room(made, opened.code, lambda _kind: str(uuid4())).facts() if wanted.lay_out else [made]
    )
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.ELECTRICIAN)
        with changing(session, job_id, author_of(person), f"added {made.name}") as change:
            change.add(*level, *new_facts)
    boxes = sum(isinstance(fact, Box) for fact in new_facts)
    said = (
        f"{made.name} laid out: {boxes} boxes. Change what differs on site."
        if wanted.lay_out
        else f"{made.name} added."
    )
    return flash.redirect(f"/jobs/{job_id}/rooms/{room_id}", flash.Said(said, undo_path(job_id, change.id)))


def _level_for(opened: OpenJob, level_id: str) -> tuple[str, list[Level]]:
    """The level of a new room, and the level to make where the job has none yet."""
    if level_id in opened.house.levels:
        return level_id, []
    if opened.house.facts.levels:
        return opened.house.facts.levels[0].id, []
    first = Level(str(uuid4()), "First floor", 0)
    return first.id, [first]


def _free_name(kind: RoomKind, opened: OpenJob) -> str:
    """``Bedroom``, then ``Bedroom 2``."""
    taken = {room.name for room in opened.house.facts.rooms}
    name = kind.value.capitalize()
    number = 2
    while name in taken:
        name = f"{kind.value.capitalize()} {number}"
        number += 1
    return name


class RoomChange(BaseModel):
    """The form of a room that is there."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    name: str = Field(max_length=80)
    kind: RoomKind
    level_id: str = Field(max_length=64)
    length_in: OptionalRoomLength = None
    width_in: OptionalRoomLength = None
    floor_area_ft2: OptionalNumber = None
    ceiling_height_in: OptionalRoomLength = None
    framing: Framing | None = None
    stud_spacing_in: OptionalLength = None
    finished: str = ""
    risers: int | None = Field(default=None, ge=0, le=60)
    plan_x_in: OptionalLength = None
    plan_y_in: OptionalLength = None
    note: str = Field(default="", max_length=2000)


@dataclass(frozen=True, slots=True)
class EditRoomPage:
    """The form of a room that is there."""

    job: JobFacts
    room: Room
    fields: Fields
    kinds: tuple[tuple[str, str], ...]
    levels: tuple[tuple[str, str], ...]


def _typed(room: Room) -> Fields:
    """A room as it would be typed."""
    lengths = ("length_in", "width_in", "ceiling_height_in", "stud_spacing_in", "plan_x_in", "plan_y_in")
    values = {name: format_length(value) for name in lengths if (value := getattr(room, name)) is not None}
    if room.floor_area_ft2 is not None:
        values["floor_area_ft2"] = f"{float(room.floor_area_ft2):g}"
    values |= {
        "name": room.name, "kind": room.kind.value, "level_id": room.level_id, "note": room.note,
        "framing": room.framing.value if room.framing else "", "risers": "" if room.risers is None else str(room.risers),
        "finished": "" if room.finished is None else "yes" if room.finished else "no",
    }  # fmt: skip
    return Fields(values)


def _edit_page(opened: OpenJob, room: Room, fields: Fields) -> EditRoomPage:
    return EditRoomPage(
        opened.job, room, fields, tuple((kind.value, kind.value.capitalize()) for kind in RoomKind),
        tuple((level.id, level.name) for level in opened.house.facts.levels),
    )  # fmt: skip


@router.get("/rooms/{room_id}/edit", name="edit_room")
def edit_room(request: Request, job_id: str, room_id: str, person: Builder) -> HTMLResponse:
    """The form of a room."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    found = room_of(opened, room_id)
    return render(request, "rooms/edit.html", _edit_page(opened, found, _typed(found)), job=opened.bar)


@router.post("/rooms/{room_id}/edit", name="change_room")
def change_room(request: Request, job_id: str, room_id: str, person: Builder, form: Typed) -> Response:
    """Change a room."""
    read = form.read(RoomChange)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    found = room_of(opened, room_id)
    if read.model is None or read.model.level_id not in opened.house.levels:
        fields = (
            read.fields if read.model is None else read.fields.wrong("level_id", "Choose one of the levels.")
        )
        return render(
            request, "rooms/edit.html", _edit_page(opened, found, fields), job=opened.bar, status=422
        )
    values = read.model.model_dump()
    values["finished"] = {"yes": True, "no": False}.get(read.model.finished)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.ELECTRICIAN)
        with changing(session, job_id, author_of(person), f"changed {found.name}") as change:
            change.edit("room", room_id, values)
    return flash.redirect(
        f"/jobs/{job_id}/rooms/{room_id}",
        flash.Said(f"{read.model.name} changed.", undo_path(job_id, change.id)),
    )


@router.post("/rooms/{room_id}/delete", name="delete_room")
def delete_room(request: Request, job_id: str, room_id: str, person: Builder) -> RedirectResponse:
    """Delete a room with all that stands in it; the page after offers to undo it."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    found = room_of(opened, room_id)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.ELECTRICIAN)
        with changing(session, job_id, author_of(person), f"deleted {found.name}") as change:
            change.delete("room", room_id)
    boxes = len(opened.house.boxes_of_room.get(room_id, ()))
    said = f"{found.name} deleted with its {boxes} {'box' if boxes == 1 else 'boxes'}."
    return flash.redirect(f"/jobs/{job_id}/rooms", flash.Said(said, undo_path(job_id, change.id)))
