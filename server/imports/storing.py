"""The facts that a plan becomes, beside what a house has already."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from server.dwelling import Dwelling, Level, Opening, Room, RoomKind, Wall
from server.imports.plans import HousePlan, RoomPlan
from server.readiness.room_shape import shape_of

__all__ = ["facts_of"]


def facts_of(plan: HousePlan, house: Dwelling, new_id: Callable[[str], str]) -> list[Any]:
    """The facts of a plan beside what a house has: levels by name, names that nobody else has.

    A room that nobody said the kind of is taken for a den: an ordinary finished room.
    """
    levels = {level.name.casefold(): level.id for level in house.facts.levels}
    top = max((level.order for level in house.facts.levels), default=-1)
    taken = {room.name for room in house.facts.rooms}
    order = max((room.order for room in house.facts.rooms), default=-1)
    found: list[Any] = []
    for room in plan.rooms:
        level_name = room.level or (house.facts.levels[0].name if house.facts.levels else "First floor")
        if level_name.casefold() not in levels:
            top += 1
            level = Level(new_id("level"), level_name, top)
            levels[level_name.casefold()] = level.id
            found.append(level)
        order += 1
        name = _free(room.name, taken)
        taken.add(name)
        found += _room(room, name, levels[level_name.casefold()], order, new_id)
    return found


def _free(name: str, taken: set[str]) -> str:
    number, found = 2, name
    while found in taken:
        found = f"{name[:74]} {number}"
        number += 1
    return found


def _room(plan: RoomPlan, name: str, level_id: str, order: int, new_id: Callable[[str], str]) -> list[Any]:
    room_id = new_id("room")
    walls = [
        Wall(
            new_id("wall"),
            room_id,
            place,
            each.length_in,
            exterior=each.exterior,
            turn_deg=each.turn_deg,
        )
        for place, each in enumerate(plan.walls)
    ]
    shape = shape_of(walls) if len(walls) > 2 else None
    area = shape.area_ft2 if shape is not None and shape.closes and len(walls) != 4 else None
    room = Room(
        room_id, level_id, name, plan.kind or RoomKind.DEN, order,
        length_in=plan.length_in if shape is None else shape.wide_in,
        width_in=plan.width_in if shape is None else shape.deep_in,
        floor_area_ft2=area, ceiling_height_in=plan.ceiling_in, plan_x_in=plan.x_in, plan_y_in=plan.y_in,
    )  # fmt: skip
    openings = [
        Opening(new_id("opening"), wall.id, item.kind, item.from_in, item.to_in, item.sill_in, item.head_in)
        for wall, each in zip(walls, plan.walls, strict=True)
        for item in each.openings
    ]
    return [room, *walls, *openings]
