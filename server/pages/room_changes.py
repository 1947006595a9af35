"""A room is added, laid out where that was asked for; changed; deleted."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Box, Framing, Level, Room, RoomKind, format_length
from server.pages import flash
from server.pages.border import OptionalLength, OptionalNumber, OptionalRoomLength
from server.pages.changes import author_of, undo_path
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.rendering import render
from server.people.access import job_for
from server.people.current import Builder, engine_of
from server.people.roles import Role
from server.readiness.lay_out import lay_out_room
from server.store.engine import writing
from server.store.facts import changing

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@router.get("/rooms/new", name="new_room")
def new_room(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """The form of a new room."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    return render(request, "rooms/new.html", _new_room_page(opened, NOTHING_TYPED), job=opened.bar)


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
