"""What a subject is called where its room is known: short, by its label and place."""

from __future__ import annotations

from server.dwelling import (
    Box,
    Cable,
    Circuit,
    Counter,
    Device,
    Dwelling,
    Fixture,
    Level,
    Panel,
    Ref,
    Room,
    Surface,
    Wall,
    format_length,
)
from server.rules.naming import cable_name, circuit_name

__all__ = ["subject_name"]


def subject_name(ref: Ref, house: Dwelling) -> str:
    """``R3, wall 2 at 4 ft``, ``receptacle in R3``, ``14-2 NM-B from R3 to R4``, ``circuit 7 (Laundry)``."""
    match house.find(ref):
        case Box() as box:
            return _box(box, house)
        case Device() as device:
            held = house.boxes.get(device.box_id)
            what = device.label or device.kind.value
            return f"{what} in {held.label or _box(held, house)}" if held else what
        case Cable() as cable:
            ends = (
                _end(cable.a_panel_id, cable.a_box_id, house),
                _end(cable.b_panel_id, cable.b_box_id, house),
            )
            return f"{cable_name(cable)} {' to '.join(filter(None, ends))}".strip()
        case Circuit() as circuit:
            return circuit_name(circuit)
        case Wall() as wall:
            return wall.name or f"wall {wall.order + 1}"
        case Fixture() as fixture:
            return fixture.name or fixture.kind.value
        case Counter() as counter:
            return f"{counter.kind.value} counter, {format_length(counter.length_in)}"
        case Room() | Level() | Panel() as place:
            return place.name
        case _:
            return "the whole job"


def _box(box: Box, house: Dwelling) -> str:
    wall = house.walls.get(box.wall_id) if box.wall_id else None
    if wall is not None and box.at_in is not None:
        where = f"{wall.name or f'wall {wall.order + 1}'} at {format_length(box.at_in)}"
    else:
        where = "" if box.surface is Surface.WALL else box.surface.value
    return ", ".join(filter(None, (box.label, where))) or "a box"


def _end(panel_id: str | None, box_id: str | None, house: Dwelling) -> str:
    if panel_id and panel_id in house.panels:
        return house.panels[panel_id].name
    if box_id and box_id in house.boxes:
        return house.boxes[box_id].label or "a box"
    return ""
