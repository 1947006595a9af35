"""Openings, counters, breaks, fixtures: one form each, beside the drawing of their wall; saved, deleted, undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from server.dwelling import (
    BreakKind,
    CounterKind,
    Dwelling,
    FixtureKind,
    OpeningKind,
    Room,
    RoomKind,
    format_length,
)
from server.pages.box_placing import Tab
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Form, Typed
from server.pages.opened import JobFacts, OpenJob, open_job, room_of
from server.pages.part_forms import PARTS, Part, PartKind
from server.pages.rendering import render
from server.pages.room_drawings import drawn_plan, drawn_walls, wall_name
from server.pages.typed_facts import changed
from server.people.access import NotFound
from server.people.current import Builder
from server.people.roles import Role

__all__ = ["counter_name", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class PartPage:
    """The form of one part, new or there."""

    job: JobFacts
    room: Room
    kind: PartKind
    word: str
    fact_id: str
    path: str
    fields: Fields
    tabs: tuple[Tab, ...]
    drawing: Markup
    drawn_on: str
    walls: tuple[tuple[str, str], ...]
    counters: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    usual: Mapping[str, str]


_USUAL_FIXTURES: Mapping[RoomKind, tuple[FixtureKind, ...]] = {
    RoomKind.KITCHEN: (
        FixtureKind.SINK, FixtureKind.RANGE, FixtureKind.REFRIGERATOR, FixtureKind.DISHWASHER, FixtureKind.DISPOSER,
        FixtureKind.MICROWAVE, FixtureKind.RANGE_HOOD,
    ),
    RoomKind.BATHROOM: (
        FixtureKind.BASIN, FixtureKind.TOILET, FixtureKind.BATHTUB, FixtureKind.SHOWER, FixtureKind.BATH_FAN,
    ),
    RoomKind.LAUNDRY: (FixtureKind.WASHER, FixtureKind.DRYER, FixtureKind.LAUNDRY_SINK),
}  # fmt: skip


def counter_name(counter_id: str, house: Dwelling) -> str:
    """``wall counter on wall 3, 12 ft``."""
    counter = house.counters[counter_id]
    wall = house.walls.get(counter.wall_id or "")
    on = f" on {wall_name(wall).lower()}" if wall is not None else ""
    return (
        f"{counter.kind.value}{' counter' if counter.kind is CounterKind.WALL else ''}{on}, "
        f"{format_length(counter.length_in)}"
    )


def _page(opened: OpenJob, room: Room, part: Part, fact_id: str, fields: Fields) -> PartPage:
    house, job_id = opened.house, opened.job.id
    wall_id = fields.value("wall_id")
    if part.kind == "break" and fields.value("counter_id") in house.counters:
        wall_id = house.counters[fields.value("counter_id")].wall_id or ""
    walls = drawn_walls(job_id, room, house, opened.code, may_build=True, only=wall_id or "-")
    base = f"/jobs/{job_id}/rooms/{room.id}/parts/{part.kind}"
    kinds: Mapping[str, Any] = {
        "opening": OpeningKind,
        "counter": CounterKind,
        "break": BreakKind,
        "fixture": (
            *_USUAL_FIXTURES.get(room.kind, ()),
            *(each for each in FixtureKind if each not in _USUAL_FIXTURES.get(room.kind, ())),
        ),
    }
    words = {"wall": "along a wall"}
    return PartPage(
        opened.job, room, part.kind, part.word, fact_id, f"{base}/{fact_id}" if fact_id else base, fields,
        () if fact_id or part.kind == "break" else tuple(
            Tab(wall_name(wall), f"{base}/new?wall={wall.id}", wall.id == wall_id) for wall in house.walls_of_room.get(room.id, ())
        ),
        walls[0].svg if walls else drawn_plan(job_id, room, house, may_build=False),
        walls[0].name if walls else "From above",
        tuple((wall.id, f"{wall_name(wall)}, {format_length(wall.length_in)}") for wall in house.walls_of_room.get(room.id, ())),
        tuple((counter.id, counter_name(counter.id, house)) for counter in house.counters_of_room.get(room.id, ())),
        tuple((each.value, words.get(each.value, each.value)) for each in kinds[part.kind]), part.usual,
    )  # fmt: skip


@router.get("/rooms/{room_id}/parts/{kind}/new", name="new_part")
def new_part(
    request: Request,
    job_id: str,
    room_id: str,
    kind: PartKind,
    person: Builder,
    wall: Annotated[str, Query(max_length=64)] = "",
    counter: Annotated[str, Query(max_length=64)] = "",
) -> HTMLResponse:
    """The form of a new part, on the wall or counter that was chosen."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    fields = Fields({**PARTS[kind].usual, "wall_id": wall, "counter_id": counter})
    return render(request, "rooms/part.html", _page(opened, room, PARTS[kind], "", fields), job=opened.bar)


@router.post("/rooms/{room_id}/parts/{kind}", name="add_part")
def add_part(
    request: Request, job_id: str, room_id: str, kind: PartKind, person: Builder, form: Typed
) -> Response:
    """Add a part; ``then=another`` comes back for the next one."""
    part = PARTS[kind]
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    values, fields = _read(part, form, room, opened.house)
    if fields.errors:
        return render(
            request, "rooms/part.html", _page(opened, room, part, "", fields), job=opened.bar, status=422
        )
    fact = part.fact(
        id=str(uuid4()), **({"room_id": room_id} if kind in ("counter", "fixture") else {}), **values
    )
    name = fact.kind.value
    with change_of(request, person, job_id, f"added a {name} in {room.name}") as change:
        change.add(fact)
    walls = f"/jobs/{job_id}/rooms/{room_id}/walls"
    if form.values.get("then") == "another":
        on = f"?wall={fact.wall_id}" if getattr(fact, "wall_id", None) else ""
        on = f"?counter={fact.counter_id}" if kind == "break" else on
        return done(
            f"/jobs/{job_id}/rooms/{room_id}/parts/{kind}/new{on}", f"{name.capitalize()} added.", change
        )
    return done(f"{walls}#{kind}s", f"{name.capitalize()} added.", change)


def _read(part: Part, form: Form, room: Room, house: Dwelling) -> tuple[dict[str, Any], Fields]:
    values = {name: text for name, text in form.values.items() if name != "then"}
    read = Form(values, form.lists).read(part.form)
    if read.model is None:
        return {}, read.fields
    return part.read(read.model, read.fields, room, house)


def _find(part: Part, room_id: str, fact_id: str, house: Dwelling) -> Any:
    """A part of this room.

    Raises:
        NotFound: the room has none by that id.
    """
    facts: Mapping[str, tuple[Any, ...]] = {
        "opening": house.facts.openings,
        "counter": house.facts.counters,
        "break": house.facts.breaks,
        "fixture": house.facts.fixtures,
    }
    found = next((fact for fact in facts[part.kind] if fact.id == fact_id), None)
    if found is None or _room_of(found, house) != room_id:
        raise NotFound
    return found


def _room_of(fact: Any, house: Dwelling) -> str:
    owner = (
        house.walls.get(fact.wall_id)
        if not hasattr(fact, "room_id") and hasattr(fact, "wall_id")
        else house.counters.get(fact.counter_id)
        if hasattr(fact, "counter_id")
        else fact
    )
    return str(getattr(owner, "room_id", ""))


@router.get("/rooms/{room_id}/parts/{kind}/{fact_id}", name="part")
def edit_part(
    request: Request, job_id: str, room_id: str, kind: PartKind, fact_id: str, person: Builder
) -> HTMLResponse:
    """The form of a part that is there."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room, part = room_of(opened, room_id), PARTS[kind]
    fact = _find(part, room_id, fact_id, opened.house)
    page = _page(opened, room, part, fact_id, Fields(part.typed(fact)))
    return render(request, "rooms/part.html", page, job=opened.bar)


@router.post("/rooms/{room_id}/parts/{kind}/{fact_id}", name="change_part")
def change_part(
    request: Request, job_id: str, room_id: str, kind: PartKind, fact_id: str, person: Builder, form: Typed
) -> Response:
    """Change a part: only what was typed anew is written."""
    part = PARTS[kind]
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    fact = _find(part, room_id, fact_id, opened.house)
    values, fields = _read(part, form, room, opened.house)
    if fields.errors:
        return render(
            request, "rooms/part.html", _page(opened, room, part, fact_id, fields), job=opened.bar, status=422
        )
    before = part.typed(fact)
    moved = form.values.get("measured", "left") != "left" or any(
        form.values.get(name, "") != before.get(name, "") for name in ("from_in", "width_in", "wall_id")
    )
    names = {"from_in", "to_in"} if moved else set()
    different = changed(
        fact,
        {name: value for name, value in values.items() if name not in ("from_in", "to_in")},
        form.values,
        before,
    )
    different |= {name: values[name] for name in names & values.keys()}
    if form.values.get("measured") == "right" and "at_in" in values:
        different["at_in"] = values["at_in"]
    with change_of(request, person, job_id, f"changed a {fact.kind.value} in {room.name}") as change:
        change.edit(kind, fact_id, different)
    return done(
        f"/jobs/{job_id}/rooms/{room_id}/walls#{kind}s", f"{fact.kind.value.capitalize()} changed.", change
    )


@router.post("/rooms/{room_id}/parts/{kind}/{fact_id}/delete", name="delete_part")
def delete_part(
    request: Request, job_id: str, room_id: str, kind: PartKind, fact_id: str, person: Builder
) -> RedirectResponse:
    """Delete a part, a counter with its breaks."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    room = room_of(opened, room_id)
    fact = _find(PARTS[kind], room_id, fact_id, opened.house)
    with change_of(request, person, job_id, f"deleted a {fact.kind.value} in {room.name}") as change:
        change.delete(kind, fact_id)
    return done(
        f"/jobs/{job_id}/rooms/{room_id}/walls#{kind}s", f"{fact.kind.value.capitalize()} deleted.", change
    )
