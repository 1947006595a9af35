"""Placing boxes on a wall, one tap each: where (tapped on the drawing, or typed), and which ready-made one.

The page comes back to the same wall, so that a wall is filled box by box. Without a script the place is typed; a
wall is chosen by its link, and so needs no script either.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Annotated, Final, Literal
from urllib.parse import urlencode
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.elevation import box_size_in, studs_of
from server.dwelling import Box, Dwelling, Inches, Room, Surface, Wall, format_length
from server.pages import flash
from server.pages.border import OptionalPlace, Ticked
from server.pages.device_words import box_name
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.rendering import render
from server.pages.room_drawings import drawn_plan, drawn_walls, wall_name
from server.people.current import Builder
from server.people.roles import Role
from server.readiness.ready_made import READY_MADE, Spot, make_ready
from server.readiness.room_spacing import spacing_of

__all__ = ["beside_stud", "from_left", "router"]

_FEW: Final = 6

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Tab:
    """A wall or the ceiling, to place boxes on."""

    word: str
    path: str
    is_here: bool


@dataclass(frozen=True, slots=True)
class PlacingPage:
    """Placing a box on one wall, or overhead."""

    job: JobFacts
    room: Room
    fields: Fields
    tabs: tuple[Tab, ...]
    surface: str
    wall: Wall | None
    drawing: Markup
    usual: tuple[tuple[str, str, str], ...]
    others: tuple[tuple[str, str, str], ...]
    chosen: str
    here: int


class Placing(BaseModel):
    """The form of a box to place."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    ready: str = Field(max_length=40)
    surface: Literal["wall", "ceiling"] = "wall"
    wall_id: str = Field(default="", max_length=64)
    at_in: OptionalPlace = None
    measured: Literal["left", "right"] = "left"
    height_in: OptionalPlace = None
    off_wall_in: OptionalPlace = None
    x_in: OptionalPlace = None
    y_in: OptionalPlace = None
    snap: Ticked = False


@router.get("/rooms/{room_id}/boxes/new", name="new_box")
def new_box(
    request: Request,
    job_id: str,
    room_id: str,
    person: Builder,
    wall: Annotated[str, Query(max_length=64)] = "",
    surface: Annotated[str, Query(max_length=20)] = "",
    at: Annotated[str, Query(max_length=40)] = "",
    x: Annotated[str, Query(max_length=40)] = "",
    y: Annotated[str, Query(max_length=40)] = "",
    ready: Annotated[str, Query(max_length=40)] = "",
) -> HTMLResponse:
    """Place a box: on the wall that was tapped, or the first one."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    walls = opened.house.walls_of_room.get(room_id, [])
    chosen = next((each for each in walls if each.id == wall), walls[0] if walls else None)
    overhead = surface == "ceiling" or chosen is None
    fields = Fields({"at_in": at, "x_in": x, "y_in": y})
    page = _page(opened, room, None if overhead else chosen, fields, ready)
    return render(request, "boxes/place.html", page, job=opened.bar)


def _page(opened: OpenJob, room: Room, wall: Wall | None, fields: Fields, ready: str) -> PlacingPage:
    house = opened.house
    base = f"/jobs/{opened.job.id}/rooms/{room.id}/boxes/new"
    kinds = [
        (item.id, item.word, item.note)
        for item in READY_MADE.values()
        if (item.surface is Surface.CEILING) == (wall is None)
    ]
    if any(item[0] == ready for item in kinds):
        # what was proposed for this place comes first
        kinds.sort(key=lambda item: item[0] != ready)
    if wall is None:
        drawing = drawn_plan(opened.job.id, room, house, may_build=True)
    else:
        (drawn,) = drawn_walls(
            opened.job.id, room, house, opened.code, spacing=spacing_of(room, house, opened.code), may_build=True,
            only=wall.id,
        )  # fmt: skip
        drawing = drawn.svg
    tabs = tuple(
        Tab(wall_name(each), f"{base}?wall={each.id}", wall is not None and each.id == wall.id)
        for each in house.walls_of_room.get(room.id, ())
    )
    return PlacingPage(
        opened.job, room, fields, (*tabs, Tab("Ceiling", f"{base}?surface=ceiling", wall is None)),
        "ceiling" if wall is None else "wall", wall, drawing, tuple(kinds[:_FEW]), tuple(kinds[_FEW:]),
        ready if kinds and kinds[0][0] == ready else "",
        sum(box.wall_id == wall.id if wall is not None else box.surface is Surface.CEILING for box in house.boxes_of_room.get(room.id, ())),
    )  # fmt: skip


@router.post("/rooms/{room_id}/boxes", name="place_box")
def place_box(request: Request, job_id: str, room_id: str, person: Builder, form: Typed) -> Response:
    """Place a ready-made box and come back to its wall."""
    read = form.read(Placing)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, house = room_of(opened, room_id), opened.house
    walls = {each.id: each for each in house.walls_of_room.get(room_id, ())}
    wall = walls.get(form.values.get("wall_id", ""))
    fields = read.fields
    if read.model is not None:
        fields = _checked(read.model, fields, wall, room)
    if read.model is None or fields.errors:
        overhead = form.values.get("surface") == "ceiling" or wall is None
        page = _page(opened, room, None if overhead else wall, fields, form.values.get("ready", ""))
        return render(request, "boxes/place.html", page, job=opened.bar, status=422)
    wanted = read.model
    item = READY_MADE[wanted.ready]
    at_in = None if wall is None or wanted.at_in is None else from_left(wanted.at_in, wanted.measured, wall)
    if at_in is not None and wall is not None and wanted.snap:
        at_in = beside_stud(at_in, wall, room, house, gangs=item.gangs)
    counter = _counter_at(wall, at_in, room, house) if item.id == "counter" else None
    spot = Spot(
        wall.id if wall else None,
        at_in,
        wanted.height_in,
        wanted.x_in,
        wanted.y_in,
        wanted.off_wall_in,
        counter,
    )
    box, devices = make_ready(item, spot, room, house, opened.code, lambda _kind: str(uuid4()))
    where = (
        f"{wall_name(wall)} at {format_length(at_in)}"
        if wall is not None and at_in is not None
        else "the ceiling"
    )
    with change_of(request, person, job_id, f"placed {box_name(box)} in {room.name}") as change:
        change.add(box, *devices)
    back = {"surface": "ceiling"} if item.surface is Surface.CEILING else {"wall": wall.id if wall else ""}
    controlled = [
        house.devices[each] for device in devices for each in device.controls if each in house.devices
    ]
    switching = (
        f" It switches {', '.join(each.label or each.kind.value for each in controlled)}."
        if controlled
        else ""
    )
    said = f"{item.word} {box_name(box)} placed on {where}.{switching}"
    return done(f"/jobs/{job_id}/rooms/{room_id}/boxes/new?{urlencode(back)}", said, change)


class Accepting(BaseModel):
    """The proposed boxes to add, by their keys."""

    model_config = ConfigDict(extra="forbid")

    place: tuple[str, ...] = ()


@router.post("/rooms/{room_id}/boxes/proposed", name="add_proposed")
def add_proposed(request: Request, job_id: str, room_id: str, person: Builder, form: Typed) -> Response:
    """Add the boxes that the spacing asks for, as one change; only those that are still proposed."""
    read = form.read(Accepting)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, house = room_of(opened, room_id), opened.house
    back = f"/jobs/{job_id}/rooms/{room_id}"
    asked = set(read.model.place) if read.model is not None else set()
    wanted = [item for item in spacing_of(room, house, opened.code).proposed if item.key in asked]
    if not wanted:
        return flash.redirect(back, "The room was changed meanwhile: nothing was added. Look at it again.")
    with change_of(request, person, job_id, f"added {len(wanted)} proposed boxes in {room.name}") as change:
        for item in wanted:
            spot = Spot(item.wall_id, item.at_in, counter_id=item.counter_id)
            box, devices = make_ready(
                READY_MADE[item.ready], spot, room, house, opened.code, lambda _kind: str(uuid4())
            )
            change.add(box, *devices)
            # the next one is labelled and ordered after this one
            house = Dwelling(replace(house.facts, boxes=(*house.facts.boxes, box)))
    said = "1 box added" if len(wanted) == 1 else f"{len(wanted)} boxes added"
    return done(f"{back}#walls", f"{said} where the spacing asked for it.", change)


def _checked(wanted: Placing, fields: Fields, wall: Wall | None, room: Room) -> Fields:
    item = READY_MADE.get(wanted.ready)
    if item is None:
        return fields.wrong("ready", f"Choose one of the boxes; came {wanted.ready[:40]!r}.")
    if (item.surface is Surface.CEILING) != (wanted.surface == "ceiling"):
        where = "the ceiling" if item.surface is Surface.CEILING else "a wall"
        return fields.wrong("ready", f"A {item.word.lower()} goes on {where}: choose that above.")
    if item.surface is Surface.CEILING:
        return fields
    if wanted.wall_id and wall is None:
        return fields.wrong("wall_id", "Choose one of this room's walls.")
    if wall is not None:
        if wanted.at_in is None:
            return fields.wrong("at_in", "Tap the wall, or type how far it is from the end of the wall.")
        if wanted.at_in > wall.length_in:
            long, came = format_length(wall.length_in), format_length(wanted.at_in)
            return fields.wrong(
                "at_in", f"Expected at most {long}, the length of {wall_name(wall)}; came {came}."
            )
    ceiling = room.ceiling_height_in
    if (
        wanted.height_in is not None
        and ceiling is not None
        and wanted.height_in > ceiling + (room.ceiling_rise_in or 0)
    ):
        return fields.wrong(
            "height_in",
            f"Expected at most {format_length(ceiling)}, the ceiling height; came {format_length(wanted.height_in)}.",
        )
    return fields


def from_left(at_in: Inches, measured: str, wall: Wall) -> Inches:
    """A distance along a wall from its left end, whichever end it was measured from."""
    return wall.length_in - at_in if measured == "right" else at_in


def beside_stud(at_in: Inches, wall: Wall, room: Room, house: Dwelling, *, gangs: int = 1) -> Inches:
    """The middle of a box nailed to the side of the nearest stud, either side, within the wall and in no opening.

    Studs 16 in on centre are assumed where nobody recorded their spacing (common practice).
    """
    wide, _ = box_size_in(replace(Box("", room.id), gangs=gangs))
    openings = house.openings_of_wall.get(wall.id, [])
    spacing = room.stud_spacing_in or Fraction(16)
    sides = [
        place
        for left in studs_of(wall, openings, spacing)
        for place in (left - wide / 2, left + Fraction(3, 2) + wide / 2)
        if wide / 2 <= place <= wall.length_in - wide / 2
        and not any(item.from_in < place < item.to_in for item in openings)
    ]
    return min(sides, key=lambda place: abs(place - at_in), default=at_in)


def _counter_at(wall: Wall | None, at_in: Inches | None, room: Room, house: Dwelling) -> str | None:
    """The counter under a place on a wall."""
    if wall is None or at_in is None:
        return None
    for counter in house.counters_of_room.get(room.id, ()):
        start = counter.from_in or Fraction(0)
        if counter.wall_id == wall.id and start <= at_in <= start + counter.length_in:
            return counter.id
    return None
