"""A room's outline from its walls in order: corner points in inches, seen from above.

Wall 1 runs to the right from the first corner; each wall turns right by its ``turn_deg`` at its right end. The
walker stands inside with the wall on the left hand of the page's top: on the page x grows to the right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from server.dwelling import Dwelling, Inches, Room, Wall

__all__ = ["Placed", "closing_error_in", "outline_of", "walls_or_rectangle"]


@dataclass(frozen=True, slots=True)
class Placed:
    """A wall at its place: left end, unit vector along it, unit vector into the room."""

    wall: Wall
    x_in: float
    y_in: float
    along: tuple[float, float]
    inward: tuple[float, float]

    def point(self, at_in: float, off_in: float = 0.0) -> tuple[float, float]:
        """A point so far along the wall and so far into the room."""
        return (
            self.x_in + self.along[0] * at_in + self.inward[0] * off_in,
            self.y_in + self.along[1] * at_in + self.inward[1] * off_in,
        )


def walls_or_rectangle(room: Room, house: Dwelling) -> list[Wall]:
    """The walls entered for a room, else four of its length and width, else none."""
    entered = house.walls_of_room.get(room.id)
    if entered:
        return entered
    if room.length_in is None or room.width_in is None:
        return []
    sides: list[Inches] = [room.length_in, room.width_in, room.length_in, room.width_in]
    return [Wall(f"{room.id}-{n}", room.id, n, side) for n, side in enumerate(sides)]


def outline_of(walls: Sequence[Wall]) -> list[Placed]:
    """Every wall at its place, the first from (0, 0) to the right."""
    placed = []
    x = y = heading = 0.0
    for wall in walls:
        along = (cos(radians(heading)), sin(radians(heading)))
        placed.append(Placed(wall, x, y, along, (-along[1], along[0])))
        x += along[0] * float(wall.length_in)
        y += along[1] * float(wall.length_in)
        heading += wall.turn_deg
    return placed


def closing_error_in(placed: Sequence[Placed]) -> float:
    """How far the last wall's end is from the first wall's beginning."""
    if not placed:
        return 0.0
    end = placed[-1].point(float(placed[-1].wall.length_in))
    return float((end[0] ** 2 + end[1] ** 2) ** 0.5)
