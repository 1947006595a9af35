"""A room copied or mirrored, and a room without boxes laid out within what is entered of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Box, Dwelling, Facts, Room
from server.pages import flash
from server.pages.border import Ticked
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.rendering import render
from server.pages.room_drawings import drawn_plan
from server.people.current import Builder
from server.people.roles import Role
from server.readiness.copy_room import copy_room
from server.readiness.lay_out import Within, lay_out_room
from server.store.kinds import KINDS_BY_FACT

__all__ = ["router"]

_MOST_AT_ONCE: Final = 20

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class CopyPage:
    """The form that copies a room."""

    job: JobFacts
    room: Room
    fields: Fields
    levels: tuple[tuple[str, str], ...]
    plan: Markup
    mirrored: Markup
    boxes: int


class Copying(BaseModel):
    """The form that copies a room; ``mirrored`` as the mirror shows it."""

    model_config = ConfigDict(extra="forbid")

    name: str = Field(min_length=1, max_length=80)
    level_id: str = Field(max_length=64)
    mirrored: Ticked = False
    copies: int = Field(default=1, ge=1, le=_MOST_AT_ONCE)


def _page(opened: OpenJob, room: Room, fields: Fields) -> CopyPage:
    house = opened.house
    return CopyPage(
        opened.job, room, fields, tuple((level.id, level.name) for level in house.facts.levels),
        drawn_plan(opened.job.id, room, house, may_build=False, scale=1.0), _seen_in_a_mirror(opened, room),
        len(house.boxes_of_room.get(room.id, ())),
    )  # fmt: skip


def _seen_in_a_mirror(opened: OpenJob, room: Room) -> Markup:
    count = iter(range(1_000_000))
    made = copy_room(
        room, opened.house, lambda kind: f"{kind}-{next(count)}", name=room.name, level_id=room.level_id, order=0,
        mirrored=True,
    )  # fmt: skip
    by_kind: dict[str, tuple[Any, ...]] = {}
    for fact in made.facts:
        plural = KINDS_BY_FACT[type(fact)].plural
        by_kind[plural] = (*by_kind.get(plural, ()), fact)
    return drawn_plan(
        opened.job.id, made.room, Dwelling(Facts(opened.house.site, **by_kind)), may_build=False, scale=1.0
    )


def _free_name(room: Room, house: Dwelling) -> str:
    """``Bedroom 3`` after ``Bedroom 2``."""
    taken = {each.name for each in house.facts.rooms}
    stem = room.name.rstrip("0123456789 ") or room.name
    number = 2
    while f"{stem} {number}" in taken:
        number += 1
    return f"{stem} {number}"[:80]


@router.get("/rooms/{room_id}/copy", name="copy_of_room")
def copy_form(request: Request, job_id: str, room_id: str, person: Builder) -> HTMLResponse:
    """The form that copies a room."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    fields = Fields({"name": _free_name(room, opened.house), "level_id": room.level_id, "copies": "1"})
    return render(request, "rooms/copy.html", _page(opened, room, fields), job=opened.bar)


@router.post("/rooms/{room_id}/copy", name="copy_room")
def make_copy(request: Request, job_id: str, room_id: str, person: Builder, form: Typed) -> Response:
    """Copy a room, once or several times, as one change."""
    read = form.read(Copying)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, house = room_of(opened, room_id), opened.house
    fields = read.fields
    if read.model is not None and read.model.level_id not in house.levels:
        fields = fields.wrong("level_id", "Choose one of the levels.")
    if read.model is None or fields.errors:
        return render(request, "rooms/copy.html", _page(opened, room, fields), job=opened.bar, status=422)
    wanted = read.model
    names = [wanted.name, *(f"{wanted.name} {number}"[:80] for number in range(2, wanted.copies + 1))]
    order = 1 + max((each.order for each in house.facts.rooms), default=-1)
    made = [
        copy_room(
            room, house, lambda _kind: str(uuid4()), name=name, level_id=wanted.level_id, order=order + place,
            mirrored=wanted.mirrored,
        )
        for place, name in enumerate(names)
    ]  # fmt: skip
    with change_of(request, person, job_id, f"copied {room.name}") as change:
        for each in made:
            change.add(*each.facts)
    boxes = sum(isinstance(fact, Box) for fact in made[0].facts)
    said = f"{wanted.name} made{', mirrored' if wanted.mirrored else ''}: {boxes} boxes, on no circuit yet."
    if len(made) > 1:
        said = f"{len(made)} rooms made from {room.name}, {boxes} boxes each, on no circuit yet."
    if made[0].controls_left:
        said += " Switches let go of what they control in other rooms."
    to = f"/jobs/{job_id}/rooms/{made[0].room.id}" if len(made) == 1 else f"/jobs/{job_id}/rooms"
    return done(to, said, change)


@router.post("/rooms/{room_id}/lay-out", name="lay_out_room")
def lay_out(request: Request, job_id: str, room_id: str, person: Builder) -> RedirectResponse:
    """Propose the boxes of a room that has none, within its walls, openings, counters and fixtures."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, house = room_of(opened, room_id), opened.house
    back = f"/jobs/{job_id}/rooms/{room_id}"
    if house.boxes_of_room.get(room_id):
        return flash.redirect(back, f"{room.name} has boxes already: what differs is changed box by box.")
    proposal = lay_out_room(room, opened.code, lambda _kind: str(uuid4()), Within.of(room, house))
    filled = {
        name: value
        for name in ("length_in", "width_in", "ceiling_height_in", "stud_spacing_in", "finished")
        if (value := getattr(proposal.room, name)) != getattr(room, name)
    }
    with change_of(request, person, job_id, f"laid out {room.name}") as change:
        change.edit("room", room_id, filled)
        change.add(*proposal.new_facts())
    assumed = f" Assumed: {', '.join(proposal.assumed)}." if proposal.assumed else ""
    return done(
        back,
        f"{room.name} laid out: {len(proposal.boxes)} boxes. Change what differs on site.{assumed}",
        change,
    )
