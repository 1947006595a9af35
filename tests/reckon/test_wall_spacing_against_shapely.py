"""Wall spaces and what is unserved, against geometry in the plane by shapely, on thousands of random rooms.

The check draws the room: its outline is a polygon of right angles (unions of random boxes on a half-inch grid, so
that doubles hold every coordinate exactly), openings are cut out of the outline with shapely's ``difference``,
what is left is joined by ``linemerge``, receptacles are points in the plane, and what they serve is cut out of
each piece along the line. Nothing of ours takes part in it but the room's facts.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from fractions import Fraction

import pytest
from shapely.geometry import LineString, MultiLineString, Point, Polygon, box
from shapely.ops import linemerge, substring, unary_union

from server.editions import load_edition
from server.reckon.spacing_result import Part
from server.reckon.wall_layout import Opening, Wall, WallLayout, WallReceptacle
from server.reckon.wall_spacing import reckon_wall_spacing

ROOMS = 4000
CHUNK = 250
REACH, LEAST = 72.0, 24.0
TOLERANCE_IN = 1e-6
"""Shapely places a point along a line by a double's fraction of it; the rooms' own sizes are half inches."""
BREAKS, NO_BREAKS = ("door", "sliding door", "fireplace", "cabinet"), ("window", "fixed panel", "railing")


@dataclass(frozen=True)
class Drawn:
    """A room as facts and as a drawing: the corners in order, and whether it closes."""

    layout: WallLayout
    corners: tuple[tuple[float, float], ...]

    def point(self, wall: str, at_in: Fraction) -> tuple[float, float]:
        index = int(wall)
        (x0, y0), (x1, y1) = self.corners[index], self.corners[(index + 1) % len(self.corners)]
        length = abs(x1 - x0) + abs(y1 - y0)
        part = float(at_in) / length
        return (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part)


def outline(chance: random.Random) -> Polygon:
    """A random room of right angles without an inner court."""
    while True:
        boxes = []
        for _ in range(chance.randint(1, 3)):
            x, y = chance.randint(0, 300) / 2, chance.randint(0, 300) / 2
            boxes.append(box(x, y, x + chance.randint(30, 500) / 2, y + chance.randint(30, 400) / 2))
        shape = unary_union(boxes)
        if shape.geom_type == "Polygon" and not shape.interiors:
            plain = shape.simplify(0)
            if len(plain.exterior.coords) >= 5:
                return plain


def draw(chance: random.Random) -> Drawn:
    corners = tuple(outline(chance).exterior.coords)[:-1]
    closed = chance.random() < 0.7
    walls = []
    count = len(corners) if closed else len(corners) - 1
    for index in range(count):
        (x0, y0), (x1, y1) = corners[index], corners[(index + 1) % len(corners)]
        length = Fraction(abs(x1 - x0) + abs(y1 - y0))
        openings = []
        at = Fraction(0)
        while chance.random() < 0.35 and at + 1 < length:
            left = at + Fraction(chance.randint(0, int(2 * (length - at)) - 1), 2)
            right = min(length, left + Fraction(chance.randint(1, 96), 2))
            openings.append(Opening(from_in=left, to_in=right, kind=chance.choice(BREAKS + NO_BREAKS)))
            at = right
        walls.append(
            Wall(id=str(index), length_in=length, openings=tuple(openings), space=chance.random() > 0.08)
        )
    there = []
    for number in range(chance.randint(0, 6)):
        wall = chance.choice(walls)
        # Now and then in a corner or at the edge of an opening, where two spaces or none may be.
        edges = [
            Fraction(0),
            wall.length_in,
            *(o.from_in for o in wall.openings),
            *(o.to_in for o in wall.openings),
        ]
        anywhere = Fraction(chance.randint(0, int(2 * wall.length_in)), 2)
        at = chance.choice(edges) if chance.random() < 0.3 else anywhere
        there.append(WallReceptacle(id=str(number), wall=wall.id, at_in=at))
    layout = WallLayout(room="living room", walls=tuple(walls), closed=closed, receptacles=tuple(there))
    return Drawn(layout, corners)


def pieces_of(room: Drawn) -> list[LineString]:
    """What the breaks leave of the outline, joined around corners."""
    lines = []
    for wall in room.layout.walls:
        whole = LineString([room.point(wall.id, Fraction(0)), room.point(wall.id, wall.length_in)])
        if not wall.space:
            continue
        for item in wall.openings:
            if item.kind in BREAKS:
                hole = LineString([room.point(wall.id, item.from_in), room.point(wall.id, item.to_in)])
                whole = whole.difference(hole)
        lines.extend(part for part in getattr(whole, "geoms", [whole]) if part.length > 0)
    if not lines:
        return []
    joined = linemerge(MultiLineString(lines)) if len(lines) > 1 else lines[0]
    return list(getattr(joined, "geoms", [joined]))


def unserved_of(piece: LineString, receptacles: list[Point]) -> list[LineString]:
    on_it = [point for point in receptacles if piece.distance(point) == 0]
    if not on_it:
        return [piece]
    if piece.is_ring:
        first = piece.project(on_it[0])
        around = [*substring(piece, first, piece.length).coords, *substring(piece, 0, first).coords[1:]]
        piece = LineString([point for n, point in enumerate(around) if n == 0 or point != around[n - 1]])
        places = [piece.project(point) for point in on_it[1:]]
        places = [0.0, *(place for place in places if place > 0), piece.length]
    else:
        places = [piece.project(point) for point in on_it]
    served = unary_union(
        [substring(piece, max(place - REACH, 0), min(place + REACH, piece.length)) for place in places]
    )
    rest = piece.difference(served)
    rest = linemerge(rest) if rest.geom_type == "MultiLineString" else rest
    return [part for part in getattr(rest, "geoms", [rest]) if part.length > TOLERANCE_IN]


def ends(line: LineString) -> list[float]:
    """The two ends of a line in the plane, in an order that does not depend on its direction."""
    return flat(line.coords[0], line.coords[-1])


def our_ends(part: Part, room: Drawn) -> list[float]:
    return flat(room.point(part.start.on, part.start.at_in), room.point(part.end.on, part.end.at_in))


def flat(*points: tuple[float, ...]) -> list[float]:
    rounded = sorted(tuple(round(value, 6) + 0.0 for value in point) for point in points)
    return [value for point in rounded for value in point]


def alike(ours: list[list[float]], theirs: list[list[float]]) -> bool:
    return len(ours) == len(theirs) and all(
        a == pytest.approx(b, abs=TOLERANCE_IN) for a, b in zip(sorted(ours), sorted(theirs), strict=True)
    )


@pytest.mark.parametrize("chunk", range(ROOMS // CHUNK))
def test_wall_spaces_and_what_is_unserved_are_what_the_plane_says(chunk: int) -> None:
    code = load_edition(2023)
    rings = bends = gaps = 0
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        room = draw(random.Random(seed))
        receptacles = [Point(room.point(item.wall, item.at_in)) for item in room.layout.receptacles]

        found = reckon_wall_spacing(room.layout, code)

        pieces = [piece for piece in pieces_of(room) if piece.length >= LEAST]
        unserved = [part for piece in pieces for part in unserved_of(piece, receptacles)]
        spaces = [[float(space.part.length_in)] for space in found.spaces]
        assert alike(spaces, [[piece.length] for piece in pieces]), seed
        missing = [[float(part.length_in)] for part in found.uncovered]
        assert alike(missing, [[part.length] for part in unserved]), seed
        assert found.complies is (not unserved), seed
        open_pieces = [piece for piece in pieces if not piece.is_ring]
        ours = [our_ends(space.part, room) for space in found.spaces if not space.unbroken_ring]
        assert alike(ours, [ends(piece) for piece in open_pieces]), seed
        if len(open_pieces) == len(pieces):
            ours = [our_ends(part, room) for part in found.uncovered]
            assert alike(ours, [ends(part) for part in unserved]), seed
        rings += len(pieces) - len(open_pieces)
        bends += sum(1 for piece in pieces if len(piece.simplify(0).coords) > 2)
        gaps += len(unserved)
    # The rooms drawn are of every sort, or the check would say little.
    assert rings >= 3
    assert bends > CHUNK / 2
    assert gaps > CHUNK
