"""From the triangles of a solid to the outline of its floor: corners in inches, clockwise seen from above.

Kept apart from the library that makes the triangles, so that it can be checked by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import atan2, degrees, hypot
from typing import Final

__all__ = ["OutlineError", "floor_outline", "to_inches", "turns_of"]

_M_PER_INCH: Final = 0.0254
_SAME_M: Final = 1e-5
_FLAT_M: Final = 2e-3
_STRAIGHT_DEG: Final = 0.3
_SIXTEENTH: Final = 16

Point = tuple[float, float]
Corner = tuple[float, float, float]


class OutlineError(ValueError):
    """A solid without a floor that can be walked around."""


def to_inches(metres: float) -> Fraction:
    """Metres as inches, to the nearest 1/16: plans are drawn finer than walls are framed."""
    return Fraction(round(metres / _M_PER_INCH * _SIXTEENTH), _SIXTEENTH)


def floor_outline(corners: Sequence[Corner], triangles: Iterable[tuple[int, int, int]]) -> list[Point]:
    """The outline of a solid's flat bottom, in metres, clockwise seen from above.

    Raises:
        OutlineError: it has no flat bottom, or one in several pieces.
    """
    if not corners:
        raise OutlineError("it has no shape")
    bottom = min(z for _, _, z in corners)
    number: dict[tuple[int, int], int] = {}
    points: list[Point] = []

    def at(corner: Corner) -> int:
        key = (round(corner[0] / _SAME_M), round(corner[1] / _SAME_M))
        if key not in number:
            number[key] = len(points)
            points.append((corner[0], corner[1]))
        return number[key]

    edges: dict[tuple[int, int], int] = {}
    for triangle in triangles:
        three = [corners[index] for index in triangle]
        if any(z > bottom + _FLAT_M for _, _, z in three):
            continue
        a, b, c = (at(corner) for corner in three)
        if len({a, b, c}) < 3:
            continue
        for edge in ((a, b), (b, c), (c, a)):
            edges[edge] = edges.get(edge, 0) + 1
    # an edge between two triangles of the floor is run through in both directions
    following: dict[int, int] = {}
    for start, end in edges:
        if (end, start) not in edges:
            if start in following:
                raise OutlineError("its floor touches itself in a corner")
            following[start] = end
    if not following:
        raise OutlineError("its floor is not flat")
    loops = _loops(following)
    outer = max(loops, key=lambda loop: abs(_area([points[each] for each in loop])))
    outline = [points[each] for each in outer]
    if _area(outline) > 0:
        outline.reverse()
    outline = _without_straight_corners(outline)
    if len(outline) < 3:
        raise OutlineError("its floor has no area")
    return _from_the_top_wall(outline)


def _loops(following: dict[int, int]) -> list[list[int]]:
    left = dict(following)
    found: list[list[int]] = []
    while left:
        start = next(iter(left))
        loop, at = [start], left.pop(start)
        while at != start:
            loop.append(at)
            if at not in left:
                raise OutlineError("the edge of its floor is not closed")
            at = left.pop(at)
        found.append(loop)
    return found


def _area(points: Sequence[Point]) -> float:
    """The signed area: above zero where the points run anticlockwise seen from above."""
    return (
        sum(points[n - 1][0] * points[n][1] - points[n][0] * points[n - 1][1] for n in range(len(points))) / 2
    )


def _turn(before: Point, at: Point, after: Point) -> float:
    """The turn to the right in degrees, seen from above."""
    one = atan2(at[1] - before[1], at[0] - before[0])
    two = atan2(after[1] - at[1], after[0] - at[0])
    return (degrees(one - two) + 180) % 360 - 180


def _without_straight_corners(points: list[Point]) -> list[Point]:
    count = len(points)
    return [
        points[n]
        for n in range(count)
        if abs(_turn(points[n - 1], points[n], points[(n + 1) % count])) > _STRAIGHT_DEG
        and hypot(points[n][0] - points[n - 1][0], points[n][1] - points[n - 1][1]) > _SAME_M
    ]


def _from_the_top_wall(points: list[Point]) -> list[Point]:
    """Begin with the wall that runs most to the right, of several the highest on the plan: wall 1 lies at the top."""

    def rank(n: int) -> tuple[int, float, float]:
        (x1, y1), (x2, y2) = points[n], points[(n + 1) % len(points)]
        slope = abs(atan2(y2 - y1, x2 - x1))
        return (round(degrees(slope)), -round(y1, 3), round(x1, 3))

    first = min(range(len(points)), key=rank)
    return points[first:] + points[:first]


def turns_of(points: Sequence[Point]) -> list[float]:
    """For each wall, which begins at its point, the turn to the right at its right end, in degrees."""
    count = len(points)
    return [_turn(points[n], points[(n + 1) % count], points[(n + 2) % count]) for n in range(count)]
