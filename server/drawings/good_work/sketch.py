"""A small drawing of good work: a fixed sheet, and what all such drawings are made of."""

from __future__ import annotations

from typing import Final

from server.drawings.dimensions import short_length
from server.drawings.svg import Medium, Svg
from server.editions import Edition

__all__ = ["HIGH", "WIDE", "Sketch"]

WIDE: Final = 380
HIGH: Final = 210
_TICK: Final = 3.5


class Sketch:
    """Marks in pixels on a sheet of 380 by 210, the origin at its upper left.

    ``limit`` is the figure that the rule is judged by, in words; empty where it has none. A scene writes it where it is
    measured. Figures of the scene itself are the edition's (:meth:`figure`).
    """

    def __init__(self, title: str, shows: str, code: Edition, limit: str = "") -> None:
        self.code = code
        self.svg = Svg(WIDE, HIGH, title, shows, medium=Medium.SCREEN, name="good-work")
        self.limit = limit

    def figure(self, name: str, times: int = 1) -> str:
        """A length of the edition as it is written on drawings; nothing where the edition has none."""
        if not self.code.has(name):
            return ""
        inches = self.code.number(name) * (12 if self.code.node(name).unit == "ft" else 1)
        return short_length(inches * times)

    def line(self, *points: tuple[float, float], layer: str = "open") -> None:
        self.svg.stroke(layer, *points)

    def box(self, x: float, y: float, width: float, height: float, layer: str = "box") -> None:
        self.svg.box(layer, x, y, width, height)

    def dot(self, x: float, y: float, radius: float = 3, layer: str = "fill") -> None:
        self.svg.circle(layer, x, y, radius)

    def cable(self, *points: tuple[float, float]) -> None:
        self.svg.stroke("cable", *points)

    def note(self, x: float, y: float, words: str, anchor: str = "start") -> None:
        self.svg.text(x, y, words, layer="note", anchor=anchor)

    def word(self, x: float, y: float, words: str, anchor: str = "middle") -> None:
        self.svg.text(x, y, words, anchor=anchor)

    def studs(self, *xs: float, top: float = 10, foot: float = 190, wide: float = 12) -> None:
        """Studs seen from the room, on their plate."""
        for x in xs:
            self.svg.box("stud", x, top, wide, foot - top)

    def staple(self, x: float, y: float) -> None:
        self.line((x - 5, y), (x + 5, y), layer="heavy")

    def across(self, x1: float, x2: float, y: float, words: str = "") -> None:
        """A dimension from left to right, with the rule's own figure where no words are given."""
        self.line((x1, y), (x2, y), layer="dim")
        for x in (x1, x2):
            self.line((x - _TICK, y + _TICK), (x + _TICK, y - _TICK), layer="dim")
        if words or self.limit:
            self.word((x1 + x2) / 2, y - 6, words or self.limit)

    def upright(self, x: float, y1: float, y2: float, words: str = "") -> None:
        """A dimension from top to bottom, its words to the right of it."""
        self.line((x, y1), (x, y2), layer="dim")
        for y in (y1, y2):
            self.line((x - _TICK, y + _TICK), (x + _TICK, y - _TICK), layer="dim")
        if words or self.limit:
            self.word(x + 8, (y1 + y2) / 2 + 4, words or self.limit, anchor="start")

    def ground(self, y: float) -> None:
        """The line of the soil or the floor."""
        self.line((10, y), (WIDE - 10, y), layer="heavy")
        for x in range(20, WIDE - 20, 24):
            self.line((x, y + 8), (x + 8, y), layer="stud")
