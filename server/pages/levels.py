"""The levels of a house: named, ordered, said to be below grade, deleted with their rooms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Level
from server.pages import flash
from server.pages.border import YesOrNo
from server.pages.entering import change_of, done
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.typed_facts import changed, typed_of
from server.people.access import NotFound
from server.people.current import Builder
from server.people.roles import Role

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


class LevelForm(BaseModel):
    """A level, new or there."""

    model_config = ConfigDict(extra="forbid")

    name: str = Field(min_length=1, max_length=80)
    below_grade: YesOrNo = None


class Moving(BaseModel):
    """One step up or down."""

    model_config = ConfigDict(extra="forbid")

    where: Literal["up", "down"]


@dataclass(frozen=True, slots=True)
class LevelRow:
    """A level with its form."""

    id: str
    name: str
    rooms: int
    fields: Fields
    is_top: bool
    is_bottom: bool


@dataclass(frozen=True, slots=True)
class LevelsPage:
    """All levels, the highest first as a house stands."""

    job: JobFacts
    levels: tuple[LevelRow, ...]
    fields: Fields


def _page(
    opened: OpenJob, fields: Fields = NOTHING_TYPED, wrong: tuple[str, Fields] | None = None
) -> LevelsPage:
    levels = _top_down(opened)
    rooms = [room.level_id for room in opened.house.facts.rooms]
    return LevelsPage(
        opened.job,
        tuple(
            LevelRow(
                level.id, level.name, rooms.count(level.id),
                wrong[1] if wrong is not None and wrong[0] == level.id else Fields(typed_of(level, yes_or_no=("below_grade",))),
                place == 0, place == len(levels) - 1,
            )
            for place, level in enumerate(levels)
        ),
        fields,
    )  # fmt: skip


def _top_down(opened: OpenJob) -> list[Level]:
    return sorted(opened.house.facts.levels, key=lambda level: -level.order)


@router.get("/levels", name="levels")
def levels(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """The levels of a job."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    return render(request, "rooms/levels.html", _page(opened), job=opened.bar)


@router.post("/levels", name="add_level")
def add_level(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Add a level on top; one below grade at the bottom."""
    read = form.read(LevelForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    if read.model is None:
        return render(request, "rooms/levels.html", _page(opened, read.fields), job=opened.bar, status=422)
    orders = [level.order for level in opened.house.facts.levels]
    order = min(orders, default=1) - 1 if read.model.below_grade else max(orders, default=-1) + 1
    with change_of(request, person, job_id, f"added the level {read.model.name}") as change:
        change.add(Level(str(uuid4()), read.model.name, order, read.model.below_grade))
    return done(f"/jobs/{job_id}/levels", f"{read.model.name} added.", change)


def _level(opened: OpenJob, level_id: str) -> Level:
    level = opened.house.levels.get(level_id)
    if level is None:
        raise NotFound
    return level


@router.post("/levels/{level_id}", name="change_level")
def change_level(request: Request, job_id: str, level_id: str, person: Builder, form: Typed) -> Response:
    """Rename a level, or say that it is below grade."""
    read = form.read(LevelForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    level = _level(opened, level_id)
    if read.model is None:
        page = _page(opened, wrong=(level_id, read.fields))
        return render(request, "rooms/levels.html", page, job=opened.bar, status=422)
    before = typed_of(level, yes_or_no=("below_grade",))
    with change_of(request, person, job_id, f"changed the level {level.name}") as change:
        change.edit("level", level_id, changed(level, read.model.model_dump(), form.values, before))
    return done(f"/jobs/{job_id}/levels", f"{read.model.name} changed.", change)


@router.post("/levels/{level_id}/move", name="move_level")
def move_level(
    request: Request, job_id: str, level_id: str, person: Builder, form: Typed
) -> RedirectResponse:
    """Move a level one step up or down."""
    read = form.read(Moving)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    level = _level(opened, level_id)
    standing = list(reversed(_top_down(opened)))
    place = standing.index(level)
    to = place + (1 if read.model is not None and read.model.where == "up" else -1)
    if read.model is None or not 0 <= to < len(standing):
        return flash.redirect(f"/jobs/{job_id}/levels", f"{level.name} stays where it is.")
    standing.insert(to, standing.pop(place))
    with change_of(request, person, job_id, f"moved the level {level.name}") as change:
        for order, each in enumerate(standing):
            change.edit("level", each.id, {"order": order})
    return done(f"/jobs/{job_id}/levels", f"{level.name} moved {read.model.where}.", change)


@router.post("/levels/{level_id}/delete", name="delete_level")
def delete_level(request: Request, job_id: str, level_id: str, person: Builder) -> RedirectResponse:
    """Delete a level with its rooms; the page after offers to undo it."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    level = _level(opened, level_id)
    rooms = sum(room.level_id == level_id for room in opened.house.facts.rooms)
    with change_of(request, person, job_id, f"deleted the level {level.name}") as change:
        change.delete("level", level_id)
    said = f"{level.name} deleted" + (
        f" with its {rooms} {'room' if rooms == 1 else 'rooms'}." if rooms else "."
    )
    return done(f"/jobs/{job_id}/levels", said, change)
