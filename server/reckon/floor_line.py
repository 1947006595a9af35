"""The floor line of a room, or the wall line of a counter, unrolled into one running length.

Walls follow one another; a point is named by its wall and the distance from that wall's start
(:class:`Place`), and reckoned by its running distance from the start of the first wall. A closed line
goes round: running distances beyond its length mean the second time round, so that a stretch past the
last corner keeps ``start_in < end_in``::

    closed, 40 ft round:   0 ------- 28 ft (door) 31 ft ------- 40 ft = 0
    the one free span:     31 ft .. 68 ft   (37 ft long)
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import accumulate, pairwise

from server.dwelling.length import Inches, format_length

__all__ = ["FloorLine", "LayoutError", "Place", "Span", "Stretch", "merged", "uncovered"]


class LayoutError(ValueError):
    """A layout that cannot be: says which part, what was expected and what came."""


@dataclass(frozen=True, slots=True)
class Place:
    """A point on a wall or counter: which one (its id, and its name for people), how far from its start."""

    on: str
    at_in: Inches
    name: str = field(default="", compare=False)

    def __str__(self) -> str:
        return f"{format_length(self.at_in)} on {self.name or self.on}"


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the line, in running inches; on a closed line it may end beyond the line's length."""

    start_in: Inches
    end_in: Inches

    @property
    def length_in(self) -> Inches:
        return self.end_in - self.start_in


@dataclass(frozen=True, slots=True)
class Span(Stretch):
    """A stretch between two breaks. ``ring`` where nothing breaks a closed line: its ends are one point."""

    ring: bool = False

    def holds(self, running_in: Inches, line: FloorLine) -> Inches | None:
        """The running distance under which this span holds a point of the line, or None."""
        # On a closed line the end of the last wall is the start of the first.
        first = running_in % line.length_in if line.closed else running_in
        for seen in (first, first + line.length_in) if line.closed else (first,):
            if self.start_in <= seen <= self.end_in:
                return seen
        return None


@dataclass(frozen=True, slots=True)
class FloorLine:
    """Walls (or counter legs) in order, by id and length; ``closed`` where the last meets the first.
    ``names`` are how people call them (the ids, where none are given).

    Raises:
        LayoutError: no wall, two walls of one id, or a length that is not above zero.
    """

    ids: tuple[str, ...]
    lengths_in: tuple[Inches, ...]
    closed: bool
    names: tuple[str, ...] = ()
    starts_in: tuple[Inches, ...] = field(init=False)

    def __post_init__(self) -> None:
        if not self.ids:
            raise LayoutError("expected at least one wall, came none")
        if len(set(self.ids)) != len(self.ids):
            twice = next(name for name in self.ids if self.ids.count(name) > 1)
            raise LayoutError(f"expected a name of its own for each wall, came {twice!r} twice")
        for name, length in zip(self.ids, self.lengths_in, strict=True):
            if length <= 0:
                raise LayoutError(f"{name}: expected a length above zero, came {format_length(length)}")
        object.__setattr__(self, "names", self.names or self.ids)
        starts = tuple(accumulate(self.lengths_in[:-1], initial=Fraction(0)))
        object.__setattr__(self, "starts_in", starts)

    @property
    def length_in(self) -> Inches:
        return self.starts_in[-1] + self.lengths_in[-1]

    def running(self, place: Place) -> Inches:
        """The running distance of a place.

        Raises:
            LayoutError: there is no such wall, or the place lies beyond its end.
        """
        try:
            index = self.ids.index(place.on)
        except ValueError:
            raise LayoutError(f"expected one of {', '.join(self.ids)}; came {place.on!r}") from None
        if not 0 <= place.at_in <= self.lengths_in[index]:
            raise LayoutError(
                f"{place.on}: expected a place from 0 to {format_length(self.lengths_in[index])}, "
                f"came {format_length(place.at_in)}"
            )
        return self.starts_in[index] + place.at_in

    def place(self, running_in: Inches, *, ends: bool = False) -> Place:
        """The place at a running distance. A corner belongs to the wall that starts there, or with
        ``ends`` to the wall that ends there (the way a dimension reads that comes from the left)."""
        at = running_in % self.length_in if self.closed else running_in
        if ends and at == 0 and running_in > 0:
            at = self.length_in
        index = bisect_right(self.starts_in, at) - 1
        if ends and index > 0 and at == self.starts_in[index]:
            index -= 1
        return Place(self.ids[index], at - self.starts_in[index], self.names[index])

    def corners_within(self, stretch: Stretch) -> int:
        """How many corners the inside of a stretch goes around."""
        rounds = (0, 1) if self.closed else (0,)
        corners = {start + turn * self.length_in for start in self.starts_in for turn in rounds}
        return sum(1 for corner in corners if stretch.start_in < corner < stretch.end_in)

    def free(self, breaks: Iterable[Stretch]) -> tuple[Span, ...]:
        """What the breaks leave, in order. On a closed line the part before the first break and the part
        after the last are one span, around the corner where the line starts."""
        taken = merged(breaks)
        if not taken:
            return (Span(Fraction(0), self.length_in, ring=self.closed),)
        edges = [Fraction(0), *(edge for item in taken for edge in (item.start_in, item.end_in))]
        edges.append(self.length_in)
        spans = [Span(left, right) for left, right in list(pairwise(edges))[::2] if left < right]
        goes_round = self.closed and len(spans) > 1
        if goes_round and spans[0].start_in == 0 and spans[-1].end_in == self.length_in:
            first, *between, last = spans
            return (*between, Span(last.start_in, self.length_in + first.end_in))
        return tuple(spans)


def merged(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Stretches in order, those that overlap or touch made one."""
    found: list[Stretch] = []
    for item in sorted(stretches, key=lambda stretch: (stretch.start_in, stretch.end_in)):
        if found and item.start_in <= found[-1].end_in:
            if item.end_in > found[-1].end_in:
                found[-1] = Stretch(found[-1].start_in, item.end_in)
        else:
            found.append(Stretch(item.start_in, item.end_in))
    return found


def uncovered(span: Span, points_in: Sequence[Inches], reach_in: Inches) -> tuple[Stretch, ...]:
    """The parts of a span farther than ``reach_in`` from every point in it, by running distance.

    The distance is measured along the line. Ends that lie exactly at the reach are served; a part is
    given by its ends all the same, since every point inside it is not. On a ring the parts start at the
    first point and go round.
    """
    if not points_in:
        return (Stretch(span.start_in, span.end_in),)
    points = sorted(points_in)
    start, end = span.start_in, span.end_in
    if span.ring:
        start, end = points[0], points[0] + span.length_in
        points.append(end)
    gaps = []
    served_to = start
    for point in points:
        if point - reach_in > served_to:
            gaps.append(Stretch(served_to, point - reach_in))
        served_to = point + reach_in
    if served_to < end:
        gaps.append(Stretch(served_to, end))
    return tuple(gaps)
