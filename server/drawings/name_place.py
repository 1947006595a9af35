"""Where a room's name stands on its plan: inside its walls, and on no symbol."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

__all__ = ["name_place"]

Point = tuple[float, float]

_LETTER_PX: Final = 6.0
_HIGH_PX: Final = 12.0
_SYMBOL_PX: Final = 11.0
_STEPS: Final = 12


def name_place(words: str, corners: Sequence[Point], symbols: Sequence[Point], wanted: Point) -> Point:
    """The middle of the base line of a name, in pixels.

    Args:
        words: the name.
        corners: of the room on the page, in order.
        symbols: the middles of what is drawn in it.
        wanted: where the name would stand in an empty room; of the free places the nearest is taken, and where
            none is free the one that covers least.
    """
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    top, bottom = min(y for _, y in corners), max(y for _, y in corners)
    wide = len(words) * _LETTER_PX

    def cost(at: Point) -> tuple[int, int, float]:
        x, y = at
        edges = [
            (x - wide / 2, y - _HIGH_PX),
            (x + wide / 2, y - _HIGH_PX),
            (x - wide / 2, y + 3),
            (x + wide / 2, y + 3),
        ]
        beyond = sum(not _within(corner, corners) for corner in edges)
        covered = sum(
            abs(x - a) < wide / 2 + _SYMBOL_PX and abs(y - _HIGH_PX / 2 - b) < _HIGH_PX / 2 + _SYMBOL_PX
            for a, b in symbols
        )
        return beyond, covered, abs(x - wanted[0]) + abs(y - wanted[1])

    places = [
        (left + (right - left) * column / _STEPS, top + (bottom - top) * row / _STEPS)
        for row in range(1, _STEPS)
        for column in range(1, _STEPS)
    ]
    return min((wanted, *places), key=cost)


def _within(point: Point, corners: Sequence[Point]) -> bool:
    """Whether a point lies inside a closed outline: the edges to its right are crossed an odd number of times."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in pairwise((*corners, corners[0])):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside
