"""The walls of a room as they are typed from a sketch: in order, each with its length and the corner at its end.

All walls are one form, saved as one change; whether they close is said in words, with what would close them. What
stands in them is listed below, each with a form of its own (:mod:`server.pages.room_parts`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Final
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.outline import walls_or_rectangle
from server.dwelling import Dwelling, Fixture, Opening, Room, Wall, format_length
from server.pages import flash
from server.pages.border import OptionalPlace, Ticked, YesOrNo
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Form, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.rendering import render
from server.pages.room_drawings import DrawnWall, drawn_plan, drawn_walls, wall_name
from server.pages.room_parts import counter_name
from server.pages.typed_facts import changed, typed_of
from server.people.current import Builder
from server.people.roles import Role
from server.readiness.room_shape import closing_words, shape_of
from server.readiness.room_spacing import spacing_of
from server.store.changing import Changing

__all__ = ["router"]

_MOST_WALLS: Final = 60
_SPARE_ROWS: Final = 2
_TURNS: Final = (90, -90, 0, 45, -45, 135, -135, 30, -30, 60, -60)
_SHAPES: Final[Mapping[str, tuple[int, ...]]] = {
    "rectangle": (90, 90, 90, 90),
    "L": (90, 90, 90, -90, 90, 90),
    "U": (90, 90, 90, -90, -90, 90, 90, 90),
}
"""The corner at the end of each wall of a shape; whatever differs is changed in its row."""
_ROOM: Final = ("ceiling_height_in", "ceiling_rise_in", "stud_spacing_in")

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


class WallRow(BaseModel):
    """One wall of the form. ``place`` orders the rows: a new wall with place 3 comes before the wall that is third."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    id: str = Field(default="", max_length=64)
    place: int = Field(default=999, ge=0, le=999)
    length_in: OptionalPlace = None
    turn_deg: int = Field(default=90, ge=-180, le=180)
    name: str = Field(default="", max_length=60)
    exterior: YesOrNo = None
    is_wall_space: Ticked = False
    remove: Ticked = False


class RoomPart(BaseModel):
    """What the form asks of the room itself."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    ceiling_height_in: OptionalPlace = None
    ceiling_rise_in: OptionalPlace = None
    stud_spacing_in: OptionalPlace = Field(default=None, ge=1)


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the form; ``is_new`` where the wall is not stored yet."""

    number: int
    name: str
    is_new: bool


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part in a list, with where its form is."""

    id: str
    name: str
    where: str
    breaks: tuple[PartRow, ...] = ()


@dataclass(frozen=True, slots=True)
class WallsPage:
    """The walls of a room."""

    job: JobFacts
    room: Room
    fields: Fields
    rows: tuple[Row, ...]
    turns: tuple[tuple[str, str], ...]
    shapes: tuple[str, ...]
    closes: bool
    closing: str
    walls: tuple[DrawnWall, ...]
    plan: Markup
    openings: tuple[tuple[str, str, tuple[PartRow, ...]], ...]
    counters: tuple[PartRow, ...]
    fixtures: tuple[PartRow, ...]


@router.get("/rooms/{room_id}/walls", name="walls")
def walls(
    request: Request,
    job_id: str,
    room_id: str,
    person: Builder,
    shape: Annotated[str, Query(max_length=20)] = "",
) -> HTMLResponse:
    """The walls of a room; ``shape`` lays out rows for a shape where no wall is stored yet."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    fields, rows = _as_typed(room, opened.house, shape)
    return render(request, "rooms/walls.html", _page(opened, room, fields, rows), job=opened.bar)


def _as_typed(room: Room, house: Dwelling, shape: str) -> tuple[Fields, tuple[Row, ...]]:
    """The stored walls as rows; else those of the chosen shape, else the rectangle that the room's size gives."""
    stored = house.walls_of_room.get(room.id, [])
    turns = _SHAPES.get(shape, ())
    offered = (
        stored
        or [Wall("", room.id, place, Fraction(0), turn_deg=turn) for place, turn in enumerate(turns)]
        or [Wall("", room.id, wall.order, wall.length_in) for wall in walls_or_rectangle(room, house)]
        or [Wall("", room.id, place, Fraction(0)) for place in range(4)]
    )
    values = {
        name: text for name, text in typed_of(room).items() if name in _ROOM
    }  # what the room itself says
    rows = []
    for number, wall in enumerate(offered):
        typed = typed_of(wall, yes_or_no=("exterior",))
        values |= {
            f"w{number}_id": wall.id, f"w{number}_place": str(number + 1), f"w{number}_turn_deg": typed["turn_deg"],
            f"w{number}_length_in": typed["length_in"] if wall.length_in else "", f"w{number}_name": typed["name"],
            f"w{number}_exterior": typed["exterior"], f"w{number}_is_wall_space": typed["is_wall_space"],
        }  # fmt: skip
        rows.append(Row(number, wall.name or f"Wall {number + 1}", not wall.id))
    if stored:
        rows += [Row(len(offered) + spare, "New wall", True) for spare in range(_SPARE_ROWS)]
    return Fields(values), tuple(rows)


def _page(opened: OpenJob, room: Room, fields: Fields, rows: tuple[Row, ...]) -> WallsPage:
    house, job_id = opened.house, opened.job.id
    stored = house.walls_of_room.get(room.id, [])
    closes, closing = closing_words(stored)
    known = {wall.turn_deg for wall in stored} - set(_TURNS)
    return WallsPage(
        opened.job, room, fields, rows, tuple((str(turn), _turn_words(turn)) for turn in (*_TURNS, *sorted(known))),
        () if stored else tuple(_SHAPES), closes, closing,
        drawn_walls(job_id, room, house, opened.code, spacing=spacing_of(room, house, opened.code), may_build=True, size="small"),
        drawn_plan(job_id, room, house, may_build=False, scale=1.2),
        tuple(
            (wall.id, wall_name(wall), tuple(PartRow(item.id, item.kind.value, _opening(item)) for item in house.openings_of_wall.get(wall.id, ())))
            for wall in stored
        ),
        tuple(
            PartRow(
                item.id, counter_name(item.id, house), f"{format_length(item.depth_in)} deep",
                tuple(
                    PartRow(each.id, each.kind.value, f"{format_length(each.from_in)} to {format_length(each.to_in)} along it")
                    for each in house.breaks_of_counter.get(item.id, ())
                ),
            )
            for item in house.counters_of_room.get(room.id, ())
        ),
        tuple(
            PartRow(
                item.id, item.name or item.kind.value,
                _fixture_where(item, house),
            )
            for item in house.fixtures_of_room.get(room.id, ())
        ),
    )  # fmt: skip


def _turn_words(turn_deg: int) -> str:
    """The corner at the right end of a wall, as one stands before it."""
    match turn_deg:
        case 90:
            return "Inside"
        case -90:
            return "Outside"
        case 0:
            return "None: straight"
        case _:
            return f"{abs(turn_deg)}° {'right' if turn_deg > 0 else 'left'}"


def _fixture_where(item: Fixture, house: Dwelling) -> str:
    wall = house.walls.get(item.wall_id or "")
    if wall is None or item.at_in is None:
        return "place not measured"
    return f"{wall_name(wall)} at {format_length(item.at_in)}"


def _opening(item: Opening) -> str:
    wide = format_length(item.to_in - item.from_in)
    return f"{wide} wide, from {format_length(item.from_in)} to {format_length(item.to_in)}"


@router.post("/rooms/{room_id}/walls", name="save_walls")
def save_walls(request: Request, job_id: str, room_id: str, person: Builder, form: Typed) -> Response:
    """Save all walls of a room as one change."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, house = room_of(opened, room_id), opened.house
    stored = {wall.id: wall for wall in house.walls_of_room.get(room_id, ())}
    rows, fields = _read(form, stored)
    about = Form({name: form.values[name] for name in _ROOM if name in form.values}).read(RoomPart)
    for name, error in about.fields.errors.items():
        fields = fields.wrong(name, error)
    if fields.errors or about.model is None:
        shown = tuple(
            Row(number, (stored[row_id].name or f"Wall {number + 1}") if row_id in stored else "New wall", row_id not in stored)
            for number in range(_MOST_WALLS)
            if (row_id := form.values.get(f"w{number}_id")) is not None
        )  # fmt: skip
        return render(
            request, "rooms/walls.html", _page(opened, room, fields, shown), job=opened.bar, status=422
        )
    kept = [row for _, row in rows if not row.remove and row.length_in is not None]
    gone = [row.id for _, row in rows if row.remove and row.id in stored]
    with change_of(request, person, job_id, f"changed the walls of {room.name}") as change:
        _write(change, room, stored, kept, gone, form, rows)
        sized = _size(kept, room, stored)
        typed = typed_of(room)
        change.edit("room", room_id, changed(room, about.model.model_dump(), form.values, typed) | sized)
    if not change.lines:
        return flash.redirect(
            f"/jobs/{job_id}/rooms/{room_id}/walls", "Nothing was different: nothing was changed."
        )
    loose = sum(box.wall_id in gone for box in house.boxes_of_room.get(room_id, ()))
    said = f"{len(kept)} walls saved." + (
        f" {loose} boxes stood on a wall that went: place them anew." if loose else ""
    )
    return done(f"/jobs/{job_id}/rooms/{room_id}/walls", said, change)


def _read(form: Form, stored: Mapping[str, Wall]) -> tuple[list[tuple[int, WallRow]], Fields]:
    """The rows in their new order, each with its number in the form; and what is wrong, by the form's own names."""
    fields = Fields(form.values)
    found: list[tuple[int, WallRow]] = []
    for number in range(_MOST_WALLS):
        start = f"w{number}_"
        if f"{start}id" not in form.values:
            continue
        mine = {
            name.removeprefix(start): text for name, text in form.values.items() if name.startswith(start)
        }
        twice = {
            name.removeprefix(start): all_ for name, all_ in form.lists.items() if name.startswith(start)
        }
        read = Form(mine, twice).read(WallRow)
        for name, error in read.fields.errors.items():
            fields = fields.wrong(f"{start}{name}", error)
        if read.model is None:
            continue
        row = read.model
        if row.id and row.id not in stored:
            fields = fields.wrong(f"{start}length_in", "This wall is gone meanwhile: load the page again.")
        elif row.id and row.length_in is None and not row.remove:
            fields = fields.wrong(f"{start}length_in", "Type its length, or tick that it goes.")
        elif row.length_in is not None and not row.length_in:
            fields = fields.wrong(f"{start}length_in", "Expected a length above zero.")
        found.append((number, row))
    if not found:
        fields = fields.wrong("", "Type at least one wall.")
    # a new wall that names a place goes before the one that is there
    found.sort(key=lambda item: (item[1].place, bool(item[1].id), item[0]))
    return found, fields


def _write(
    change: Changing,
    room: Room,
    stored: Mapping[str, Wall],
    kept: list[WallRow],
    gone: list[str],
    form: Form,
    rows: list[tuple[int, WallRow]],
) -> None:
    number_of = {id(row): number for number, row in rows}
    for order, row in enumerate(kept):
        assert row.length_in is not None
        values: dict[str, Any] = {
            "order": order, "length_in": row.length_in, "turn_deg": row.turn_deg, "name": row.name,
            "exterior": row.exterior, "is_wall_space": row.is_wall_space,
        }  # fmt: skip
        wall = stored.get(row.id)
        if wall is None:
            change.add(Wall(id=str(uuid4()), room_id=room.id, **values))
            continue
        sent = {name: form.values.get(f"w{number_of[id(row)]}_{name}", "") for name in values}
        different = changed(wall, values, sent, typed_of(wall, yes_or_no=("exterior",)))
        change.edit("wall", wall.id, {**different, "order": order})
    if gone:
        change.delete("wall", *gone)


def _size(kept: list[WallRow], room: Room, stored: Mapping[str, Wall]) -> dict[str, Fraction]:
    """The room's length and width as its walls now give them, and its area where it is no rectangle."""
    before = [(wall.length_in, wall.turn_deg) for wall in stored.values()]
    walls = [
        Wall("", room.id, place, row.length_in or Fraction(0), turn_deg=row.turn_deg)
        for place, row in enumerate(kept)
    ]
    if [(wall.length_in, wall.turn_deg) for wall in walls] == before:
        return {}
    shape = shape_of(walls)
    if shape is None or len(walls) < 3 or not shape.closes:
        return {}
    found = {"length_in": shape.wide_in, "width_in": shape.deep_in}
    if len(walls) != 4:
        found["floor_area_ft2"] = shape.area_ft2
    return found
