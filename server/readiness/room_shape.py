"""The outline that a room's walls make: its corners, its size and area, and whether the last wall meets the first.

Exact where every corner is a right angle; rooms with other angles are closed by tape on site, and only told apart
here by how far off they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin
from typing import Final

from server.dwelling import Inches, Wall, format_length

__all__ = ["Shape", "closing_words", "shape_of"]

_RIGHT_ANGLE: Final = 90
_SIXTEENTH: Final = 16
_CLOSE_ENOUGH_IN: Final = Fraction(1, 2)
"""Tape and studs differ by as much (common practice)."""

Point = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline. ``corners`` begin at the left end of wall 1, x to the right and y into the page; ``off_x_in`` and
    ``off_y_in`` are how far the end of the last wall is from there. ``right_angled`` where every number is exact."""

    corners: tuple[Point, ...]
    off_x_in: Inches
    off_y_in: Inches
    right_angled: bool

    @property
    def closes(self) -> bool:
        """Whether the last wall meets the first, within half an inch."""
        return max(abs(self.off_x_in), abs(self.off_y_in)) <= _CLOSE_ENOUGH_IN

    @property
    def wide_in(self) -> Inches:
        """Its extent along wall 1."""
        return max(x for x, _ in self.corners) - min(x for x, _ in self.corners)

    @property
    def deep_in(self) -> Inches:
        """Its extent across wall 1."""
        return max(y for _, y in self.corners) - min(y for _, y in self.corners)

    @property
    def area_ft2(self) -> Fraction:
        """The area inside, by the surveyor's formula."""
        doubled = sum(
            (a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*self.corners, self.corners[0]))), Fraction(0)
        )
        return abs(doubled) / 2 / 144


def shape_of(walls: Sequence[Wall]) -> Shape | None:
    """The outline of walls in order; None without walls."""
    if not walls:
        return None
    x = y = Fraction(0)
    heading = 0
    corners: list[Point] = []
    for wall in walls:
        corners.append((x, y))
        along_x, along_y = _along(heading)
        x, y = x + along_x * wall.length_in, y + along_y * wall.length_in
        heading += wall.turn_deg
    right_angled = all(wall.turn_deg % _RIGHT_ANGLE == 0 for wall in walls)
    if not right_angled:
        x, y = _to_a_sixteenth(x), _to_a_sixteenth(y)
        corners = [(_to_a_sixteenth(a), _to_a_sixteenth(b)) for a, b in corners]
    return Shape(tuple(corners), x, y, right_angled)


def _along(heading_deg: int) -> Point:
    exact = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}.get(heading_deg % 360)
    if exact is not None:
        return Fraction(exact[0]), Fraction(exact[1])
    return Fraction(cos(radians(heading_deg))), Fraction(sin(radians(heading_deg)))


def _to_a_sixteenth(length_in: Fraction) -> Fraction:
    return Fraction((length_in * _SIXTEENTH + Fraction(1, 2)) // 1, _SIXTEENTH)


def closing_words(walls: Sequence[Wall]) -> tuple[bool, str]:
    """Whether the walls close, and a sentence about it with what would close them."""
    shape = shape_of(walls)
    if shape is None:
        return False, "No walls are entered yet."
    if len(walls) < 3:
        return True, "An open side: the walls are not meant to close."
    if shape.closes:
        off = max(abs(shape.off_x_in), abs(shape.off_y_in))
        return True, "The walls close." if not off else f"The walls close, within {format_length(off)}."
    offs = [
        (off, axis) for off, axis in ((shape.off_x_in, 0), (shape.off_y_in, 1)) if abs(off) > _CLOSE_ENOUGH_IN
    ]
    words = " and ".join(
        f"{format_length(abs(off))} {'along' if axis == 0 else 'across'} wall 1" for off, axis in offs
    )
    sentence = f"The walls do not close: the last one ends {words} from where wall 1 begins."
    if shape.right_angled and len(offs) == 1:
        return False, f"{sentence} {_cure(walls, *offs[0])}".strip()
    return False, f"{sentence} Measure again, or look at the corners."


def _cure(walls: Sequence[Wall], off_in: Fraction, axis: int) -> str:
    """One wall longer or shorter that would close them."""
    heading = 0
    found: list[str] = []
    for place, wall in enumerate(walls):
        along = _along(heading)[axis]
        heading += wall.turn_deg
        more = -off_in * along
        if along and wall.length_in + more > 0:
            change = "longer" if more > 0 else "shorter"
            found.append(f"wall {place + 1} {format_length(abs(more))} {change}")
    return f"It would close with {' or '.join(found[-2:])}." if found else ""
