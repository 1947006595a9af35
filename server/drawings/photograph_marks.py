"""Arrows and circles over a photograph: ink with a white edge, so that they stand on any picture and in grey.

A mark is kept in parts of the picture's width and height (0 to 1), so it fits every size that the picture is shown in.
``static/mark.js`` draws the same paths while somebody marks; ``tests/browser/test_marking.py`` holds the two together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

__all__ = ["PhotographMark", "draw_marks", "mark_of", "words_of_marks"]

_INK: Final = 0.008
_EDGE: Final = 0.018
"""Widths of the strokes, in parts of the picture's longer side."""
_HEAD: Final = 0.05
"""Length of an arrow's head, likewise."""
_HEAD_ANGLE: Final = math.radians(28)


@dataclass(frozen=True, slots=True)
class PhotographMark:
    """An arrow from one place to another, or a circle within the box between them."""

    kind: Literal["arrow", "circle"]
    x: float
    y: float
    to_x: float
    to_y: float


def mark_of(kept: Mapping[str, Any]) -> PhotographMark | None:
    """A mark as it was kept; None for what is none (a job's file may hold anything)."""
    kind = kept.get("kind")
    places = [kept.get(name) for name in ("x", "y", "to_x", "to_y")]
    if kind not in ("arrow", "circle"):
        return None
    if not all(isinstance(at, int | float) and not isinstance(at, bool) and 0 <= at <= 1 for at in places):
        return None
    x, y, to_x, to_y = (float(at) for at in places if at is not None)
    return PhotographMark(kind, x, y, to_x, to_y)


def draw_marks(marks: Iterable[Mapping[str, Any]], width_px: int, height_px: int) -> str:
    """The marks of a picture of that size as SVG to lay over it; empty text where there are none.

    Without a name of its own: the picture's description tells of them (:func:`words_of_marks`).
    """
    found = [mark for kept in marks if (mark := mark_of(kept)) is not None]
    if not found:
        return ""
    longer = max(width_px, height_px)
    paths = "".join(_path(mark, width_px, height_px) for mark in found)
    return (
        f'<svg class="photo-marks" viewBox="0 0 {width_px} {height_px}" aria-hidden="true" focusable="false" fill="none" '
        f'stroke-linecap="round" stroke-linejoin="round"><path d="{paths}" stroke="#fff" stroke-width="{_round(longer * _EDGE)}"/>'
        f'<path d="{paths}" stroke="#1B2530" stroke-width="{_round(longer * _INK)}"/></svg>'
    )


def words_of_marks(marks: Iterable[Mapping[str, Any]]) -> str:
    """``marked with 1 arrow and 2 circles``; empty text where there are none."""
    kinds = [mark.kind for kept in marks if (mark := mark_of(kept)) is not None]
    counted = [
        f"{number} {kind}{'' if number == 1 else 's'}"
        for kind in ("arrow", "circle")
        if (number := kinds.count(kind))
    ]
    return f"marked with {' and '.join(counted)}" if counted else ""


def _path(mark: PhotographMark, width_px: int, height_px: int) -> str:
    ax, ay = mark.x * width_px, mark.y * height_px
    bx, by = mark.to_x * width_px, mark.to_y * height_px
    if mark.kind == "circle":
        rx, ry = _round(abs(bx - ax) / 2), _round(abs(by - ay) / 2)
        cx, cy = _round((ax + bx) / 2), _round((ay + by) / 2)
        return f"M{cx - rx} {cy}a{rx} {ry} 0 1 0 {2 * rx} 0a{rx} {ry} 0 1 0 {-2 * rx} 0"
    head = min(max(width_px, height_px) * _HEAD, math.hypot(bx - ax, by - ay) * 0.6)
    back = math.atan2(ay - by, ax - bx)
    wings = [
        (_round(bx + head * math.cos(back + turn)), _round(by + head * math.sin(back + turn)))
        for turn in (-_HEAD_ANGLE, _HEAD_ANGLE)
    ]
    tip = f"{_round(bx)} {_round(by)}"
    return f"M{_round(ax)} {_round(ay)}L{tip}M{wings[0][0]} {wings[0][1]}L{tip}L{wings[1][0]} {wings[1][1]}"


def _round(at: float) -> int:
    """Halves up, as JavaScript's ``Math.round`` does it."""
    return math.floor(at + 0.5)
