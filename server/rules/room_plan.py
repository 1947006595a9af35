"""Where things stand in a room, seen from above, and how far a receptacle is from a bowl or a tub.

The plan starts at the left end of the first wall and runs along it; each wall turns right by its angle. Only rooms of
right angles are laid out: elsewhere nothing is reckoned and the tape decides.

A distance is given as two bounds, since heights and sizes are seldom all recorded: the cord's path is no shorter than
the one and no longer than the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Final

from server.dwelling import (
    Box,
    BreakKind,
    CounterKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Inches,
    Surface,
    Wall,
)

__all__ = [
    "Bounds",
    "Thing",
    "WallLine",
    "distance_to",
    "placed_fixture",
    "room_lines",
    "sinks_near",
    "tubs_near",
]

_RIGHT_ANGLE: Final = 90
_SIXTEENTH: Final = 16
_SINKS: Final = frozenset({FixtureKind.SINK, FixtureKind.BASIN, FixtureKind.LAUNDRY_SINK})
_TUBS: Final = frozenset({FixtureKind.BATHTUB, FixtureKind.SHOWER, FixtureKind.HYDROMASSAGE_TUB})
_LARGEST: Final = {True: (Fraction(36), Fraction(25)), False: (Fraction(72), Fraction(48))}
"""Width and depth of the largest sink and of the largest tub that are met, where nobody recorded them."""
_RIM: Final = {True: (Fraction(29), Fraction(36)), False: (Fraction(0), Fraction(24))}
"""Heights above the floor between which the rim of a sink, and the outside edge of a tub, is reached."""


@dataclass(frozen=True, slots=True)
class WallLine:
    """A wall on the plan: its left end, and the unit steps along it and into the room."""

    x: Inches
    y: Inches
    dx: int
    dy: int

    def point(self, at_in: Inches, out_in: Inches = Fraction(0)) -> tuple[Inches, Inches]:
        """The point at a distance along the wall and out from it."""
        return self.x + at_in * self.dx - out_in * self.dy, self.y + at_in * self.dy + out_in * self.dx


@dataclass(frozen=True, slots=True)
class Bounds:
    """Squared distances: the path is at least the one and at most the other. ``across_least`` and ``across_most``
    leave heights out."""

    least: Inches
    most: Inches
    across_least: Inches
    across_most: Inches

    @property
    def least_across_in(self) -> Inches:
        """The least distance across the floor, to the 16th of an inch."""
        return Fraction(isqrt(int(self.across_least * _SIXTEENTH**2)), _SIXTEENTH)

    def across(self, limit_in: Inches) -> Inches | None:
        """The distance across the floor, as :meth:`settled`."""
        return Bounds(self.across_least, self.across_most, Fraction(0), Fraction(0)).settled(limit_in)

    def settled(self, limit_in: Inches) -> Inches | None:
        """The distance, to the 16th of an inch, where both bounds lie on one side of a limit; else None."""
        limit = limit_in * limit_in
        if self.most <= limit:
            return Fraction(isqrt(int(self.most * _SIXTEENTH**2)), _SIXTEENTH)
        if self.least > limit:
            return max(
                Fraction(isqrt(int(self.least * _SIXTEENTH**2)), _SIXTEENTH), limit_in + Fraction(1, 16)
            )
        return None


def room_lines(house: Dwelling) -> Mapping[str, WallLine]:
    """Every wall of the rooms with right angles, by wall id."""
    lines: dict[str, WallLine] = {}
    for walls in house.walls_of_room.values():
        lines.update(_lines(walls))
    return lines


def _lines(walls: Iterable[Wall]) -> Mapping[str, WallLine]:
    lines: dict[str, WallLine] = {}
    x = y = Fraction(0)
    dx, dy = 1, 0
    for wall in walls:
        if wall.turn_deg % _RIGHT_ANGLE:
            return {}
        lines[wall.id] = WallLine(x, y, dx, dy)
        x, y = x + wall.length_in * dx, y + wall.length_in * dy
        for _ in range(wall.turn_deg // _RIGHT_ANGLE % 4):
            dx, dy = -dy, dx
    return lines


@dataclass(frozen=True, slots=True)
class Thing:
    """A bowl or tub: the largest and the smallest ground it may take up, and the heights of its edge."""

    largest: tuple[Inches, Inches, Inches, Inches]
    smallest: tuple[Inches, Inches, Inches, Inches]
    rim: tuple[Inches, Inches]


def sinks_near(house: Dwelling, room_id: str) -> list[Thing | None]:
    """The sinks of a room (None for one without a place)."""
    return house.derive(_sinks).get(room_id, [])


def tubs_near(house: Dwelling, room_id: str) -> list[Thing | None]:
    """The tubs and showers of a room (None for one without a place)."""
    return house.derive(_tubs).get(room_id, [])


def _sinks(house: Dwelling) -> Mapping[str, list[Thing | None]]:
    found = {
        room_id: [placed_fixture(fixture, house, sink=True) for fixture in fixtures if fixture.kind in _SINKS]
        for room_id, fixtures in house.fixtures_of_room.items()
    }
    for room_id, thing in _sink_breaks(house):
        found.setdefault(room_id, []).append(thing)
    return found


def _tubs(house: Dwelling) -> Mapping[str, list[Thing | None]]:
    return {
        room_id: [placed_fixture(fixture, house, sink=False) for fixture in fixtures if fixture.kind in _TUBS]
        for room_id, fixtures in house.fixtures_of_room.items()
    }


def _sink_breaks(house: Dwelling) -> Iterator[tuple[str, Thing | None]]:
    """Sinks entered as breaks of a counter, unless the same room has a sink as a fixture."""
    lines = house.derive(room_lines)
    for counter in house.facts.counters:
        fixtures = house.fixtures_of_room.get(counter.room_id, ())
        if any(fixture.kind in _SINKS for fixture in fixtures):
            continue
        for item in house.breaks_of_counter.get(counter.id, ()):
            if item.kind is not BreakKind.SINK:
                continue
            line = lines.get(counter.wall_id or "")
            if line is None or counter.kind is not CounterKind.WALL or counter.from_in is None:
                yield counter.room_id, None
                continue
            left, right = counter.from_in + item.from_in, counter.from_in + item.to_in
            ground = _ground(line, left, right, item.behind_in or Fraction(0), counter.depth_in)
            yield counter.room_id, Thing(ground, ground, _RIM[True])


def placed_fixture(fixture: Fixture, house: Dwelling, *, sink: bool) -> Thing | None:
    """A fixture on the plan; None where it has no place. What nobody measured is taken at the sizes of sinks, or of
    tubs and other things that stand on the floor."""
    line = house.derive(room_lines).get(fixture.wall_id or "")
    if line is None or fixture.at_in is None:
        return None
    widest, deepest = _LARGEST[sink]
    at, out = fixture.at_in, fixture.out_in or Fraction(0)
    half = (fixture.width_in or widest) / 2
    deep = fixture.depth_in or deepest
    largest = _ground(line, at - half, at + half, out, out + deep)
    if fixture.width_in is not None and fixture.depth_in is not None:
        return Thing(largest, largest, _RIM[sink])
    half = (fixture.width_in or Fraction(0)) / 2
    near = fixture.out_in if fixture.out_in is not None else deepest / 4
    smallest = _ground(line, at - half, at + half, near, near + (fixture.depth_in or Fraction(0)))
    return Thing(largest, smallest, _RIM[sink])


def _ground(
    line: WallLine, left: Inches, right: Inches, near: Inches, far: Inches
) -> tuple[Inches, Inches, Inches, Inches]:
    (ax, ay), (bx, by) = line.point(left, near), line.point(right, far)
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def distance_to(box: Box, thing: Thing, house: Dwelling) -> Bounds | None:
    """How far a box is from a bowl or tub; None where the box has no place."""
    point = _point(box, house)
    if point is None:
        return None
    least = _squared(point, thing.largest)
    most = _squared(point, thing.smallest)
    low, high = thing.rim
    height = Fraction(0) if box.surface is Surface.FLOOR else box.height_in
    if box.surface is Surface.CEILING or height is None:
        # nothing is known of the way up or down: at most the height of a room
        return Bounds(least, most + Fraction(96) ** 2, least, most)
    beside = max(low - height, height - high, Fraction(0))
    farthest = max(abs(height - low), abs(height - high))
    return Bounds(least + beside**2, most + farthest**2, least, most)


def _point(box: Box, house: Dwelling) -> tuple[Inches, Inches] | None:
    if box.surface in (Surface.CEILING, Surface.FLOOR) and box.x_in is not None and box.y_in is not None:
        return box.x_in, box.y_in
    line = house.derive(room_lines).get(box.wall_id or "")
    if line is None or box.at_in is None:
        return None
    return line.point(box.at_in, box.off_wall_in or Fraction(0))


def _squared(point: tuple[Inches, Inches], ground: tuple[Inches, Inches, Inches, Inches]) -> Inches:
    (x, y), (left, top, right, bottom) = point, ground
    across = max(left - x, x - right, Fraction(0))
    deep = max(top - y, y - bottom, Fraction(0))
    return across * across + deep * deep
