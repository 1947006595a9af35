"""Everything that is recorded of a box, as one form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Box, BoxMaterial, Clamps, Dwelling, Room, Surface, Wall, Wetness, format_length
from server.pages.border import OptionalNumber, OptionalPlace, Ticked, YesOrNo
from server.pages.box_placing import beside_stud, from_left
from server.pages.boxes import box_of
from server.pages.device_words import box_name
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.room_drawings import drawn_walls, wall_name
from server.pages.typed_facts import changed, typed_of
from server.people.current import Builder
from server.people.roles import Role
from server.reckon.standard_boxes import standard_boxes

__all__ = ["router"]

_ASKED_THREE_WAYS: Final = ("fan_rated",)
_NOT_FACTS: Final = frozenset({"measured", "snap"})

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


class BoxChange(BaseModel):
    """The form of a box."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    label: str = Field(default="", max_length=40)
    surface: Surface
    wall_id: str | None = Field(default=None, max_length=64)
    at_in: OptionalPlace = None
    measured: Literal["left", "right"] = "left"
    snap: Ticked = False
    height_in: OptionalPlace = None
    x_in: OptionalPlace = None
    y_in: OptionalPlace = None
    off_wall_in: OptionalPlace = None
    material: BoxMaterial | None = None
    trade_size: str | None = Field(default=None, max_length=60)
    volume_in3: OptionalNumber = Field(default=None, le=2000)
    ring_in3: OptionalNumber = Field(default=None, le=2000)
    gangs: int = Field(default=1, ge=1, le=12)
    clamps: Clamps | None = None
    luminaire_studs: int = Field(default=0, ge=0, le=10)
    hickeys: int = Field(default=0, ge=0, le=10)
    fan_rated: YesOrNo = None
    rated_lb: OptionalNumber = Field(default=None, le=10_000)
    wetness: Wetness | None = None
    from_sink_in: OptionalPlace = None
    from_tub_in: OptionalPlace = None
    below_counter_in: OptionalPlace = None
    counter_id: str | None = Field(default=None, max_length=64)
    inside_cabinet: Ticked = False
    note: str = Field(default="", max_length=2000)


@dataclass(frozen=True, slots=True)
class EditBoxPage:
    """The form of a box."""

    job: JobFacts
    room: Room
    box: Box
    name: str
    fields: Fields
    drawing: Markup
    walls: tuple[tuple[str, str], ...]
    counters: tuple[tuple[str, str], ...]
    sizes: tuple[tuple[str, str], ...]


def _page(opened: OpenJob, box: Box, room: Room, fields: Fields) -> EditBoxPage:
    house = opened.house
    drawn = drawn_walls(
        opened.job.id, room, house, opened.code, may_build=True, only=box.wall_id or "", marked=box.id
    )
    return EditBoxPage(
        opened.job, room, box, box_name(box), fields, drawn[0].svg if drawn else Markup(),
        (("", "No wall"), *((wall.id, f"{wall_name(wall)}, {format_length(wall.length_in)}") for wall in house.walls_of_room.get(room.id, ()))),
        (("", "None"), *((counter.id, f"{counter.kind.value}, {format_length(counter.length_in)}") for counter in house.counters_of_room.get(room.id, ()))),
        (("", "None: the volume is marked"), *((size, size) for size in _sizes(box, opened))),
    )  # fmt: skip


def _sizes(box: Box, opened: OpenJob) -> list[str]:
    """The standard sizes of the edition, and the box's own where it is none of them."""
    sizes = [item.name for item in standard_boxes(opened.code)]
    return [*sizes, *([box.trade_size] if box.trade_size and box.trade_size not in sizes else [])]


@router.get("/boxes/{box_id}/edit", name="edit_box")
def edit_box(request: Request, job_id: str, box_id: str, person: Builder) -> HTMLResponse:
    """The form of a box."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    box, room = box_of(opened, box_id)
    page = _page(opened, box, room, Fields(typed_of(box, yes_or_no=_ASKED_THREE_WAYS)))
    return render(request, "boxes/edit.html", page, job=opened.bar)


@router.post("/boxes/{box_id}/edit", name="change_box")
def change_box(request: Request, job_id: str, box_id: str, person: Builder, form: Typed) -> Response:
    """Change a box: only what was typed anew is written."""
    read = form.read(BoxChange)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    box, room = box_of(opened, box_id)
    house = opened.house
    fields = read.fields
    if read.model is not None:
        fields = _checked(read.model, fields, room, house, _sizes(box, opened))
    if read.model is None or fields.errors:
        return render(
            request, "boxes/edit.html", _page(opened, box, room, fields), job=opened.bar, status=422
        )
    wanted = read.model
    values = wanted.model_dump(exclude=set(_NOT_FACTS))
    before = typed_of(box, yes_or_no=_ASKED_THREE_WAYS)
    different = changed(box, values, form.values, before)
    wall = house.walls.get(wanted.wall_id or "")
    if wall is not None and wanted.at_in is not None:
        at_in = from_left(wanted.at_in, wanted.measured, wall)
        if wanted.snap:
            at_in = beside_stud(at_in, wall, room, house, gangs=wanted.gangs)
        if "at_in" in different or wanted.snap or wanted.measured == "right":
            different["at_in"] = at_in
    with change_of(request, person, job_id, f"changed {box_name(box)} in {room.name}") as change:
        change.edit("box", box_id, different)
    return done(f"/jobs/{job_id}/boxes/{box_id}", f"{wanted.label or 'Box'} changed.", change)


def _checked(wanted: BoxChange, fields: Fields, room: Room, house: Dwelling, sizes: list[str]) -> Fields:
    wall: Wall | None = None
    if wanted.wall_id:
        wall = house.walls.get(wanted.wall_id)
        if wall is None or wall.room_id != room.id:
            fields = fields.wrong("wall_id", "Choose one of this room's walls.")
    if wall is not None and wanted.at_in is not None and wanted.at_in > wall.length_in:
        fields = fields.wrong(
            "at_in",
            f"Expected at most {format_length(wall.length_in)}, the length of {wall_name(wall)}; came {format_length(wanted.at_in)}.",
        )
    if wanted.trade_size and wanted.trade_size not in sizes:
        fields = fields.wrong(
            "trade_size", f"Choose one of the standard sizes; came {wanted.trade_size[:40]!r}."
        )
    if wanted.counter_id:
        counter = house.counters.get(wanted.counter_id)
        if counter is None or counter.room_id != room.id:
            fields = fields.wrong("counter_id", "Choose one of this room's counters.")
    return fields
