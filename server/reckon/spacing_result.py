"""What receptacle spacing comes to: parts of a floor or counter line, spaces, gaps to dimension, what to add."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from server.dwelling.length import Inches, format_length
from server.reckon.floor_line import FloorLine, Place, Span, Stretch
from server.reckon.receptacles_that_count import Uncounted

__all__ = [
    "Added", "BothWays", "CounterSpace", "CounterSpacing", "Gap", "Part", "RoomRule", "WallSpace", "WallSpacing",
    "gaps_of", "part_of",
]  # fmt: skip

RoomRule = Literal["spacing", "foyer", "hallway", "outside"]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the floor line between two places; ``start`` to ``end`` runs the way the walls run."""

    start: Place
    end: Place
    length_in: Inches

    def __str__(self) -> str:
        if self.start.on == self.end.on and self.start.at_in <= self.end.at_in:
            return f"from {format_length(self.start.at_in)} to {self.end}"
        return f"from {self.start} to {self.end}"


@dataclass(frozen=True, slots=True)
class Gap:
    """What a drawing dimensions: from an end of the space or a receptacle to the next, and how long it may be.

    ``between`` names the receptacles at its ends, "" for an end of the space.
    """

    part: Part
    between: tuple[str, str]
    most_in: Inches

    @property
    def over_in(self) -> Inches:
        return max(self.part.length_in - self.most_in, Fraction(0))

    @property
    def ends(self) -> str:
        """What lies at its ends, in words."""
        left, right = self.between
        if left and left == right:
            return "all the way round to the only receptacle"
        return "between receptacles" if left and right else "from the last receptacle to the end"


@dataclass(frozen=True, slots=True)
class WallSpace:
    """One wall space: where it runs, the receptacles that count in it, what they leave unserved."""

    part: Part
    unbroken_ring: bool
    receptacles: tuple[str, ...]
    gaps: tuple[Gap, ...]
    uncovered: tuple[Part, ...]
    fewest: int


@dataclass(frozen=True, slots=True)
class Added:
    """A receptacle to add: where, on what ground (on a stud, between studs ...)."""

    place: Place
    ground: str


@dataclass(frozen=True, slots=True)
class BothWays:
    """Something that the inspector may read either way, and what each reading comes to."""

    question: str
    part: Part
    complies_if_it_breaks: bool | None
    complies_if_not: bool | None


@dataclass(frozen=True, slots=True)
class WallSpacing:
    """The answer. ``complies`` is None where the rule does not reach the room, or a fact is missing
    (``unseen``). ``fewest`` is for the room without receptacles, wherever they may stand."""

    rule: RoomRule
    why: str
    spaces: tuple[WallSpace, ...]
    too_short: tuple[Part, ...]
    uncovered: tuple[Part, ...]
    complies: bool | None
    fewest: int
    added: tuple[Added, ...]
    uncounted: tuple[Uncounted, ...] = ()
    not_allowed: tuple[Uncounted, ...] = ()
    inspector: tuple[str, ...] = ()
    both_ways: tuple[BothWays, ...] = ()
    unseen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterSpace:
    """One counter space. ``required``: the fewest for it when empty; ``short_by``: how many are missing,
    wherever they may stand."""

    kind: Literal["wall", "island", "peninsula"]
    part: Part
    required: int
    receptacles: tuple[str, ...]
    gaps: tuple[Gap, ...]
    uncovered: tuple[Part, ...]
    short_by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterSpacing:
    """The answer for all counters of a kitchen. ``complies`` is None where a fact is missing (``unseen``)."""

    spaces: tuple[CounterSpace, ...]
    too_narrow: tuple[Part, ...]
    uncovered: tuple[Part, ...]
    complies: bool | None
    fewest: int
    added: tuple[Added, ...]
    uncounted: tuple[Uncounted, ...]
    not_allowed: tuple[Uncounted, ...]
    inspector: tuple[str, ...]
    unseen: tuple[str, ...]


def part_of(line: FloorLine, stretch: Stretch) -> Part:
    """A stretch of running inches by its places."""
    return Part(line.place(stretch.start_in), line.place(stretch.end_in, ends=True), stretch.length_in)


def gaps_of(
    line: FloorLine, span: Span, here: Sequence[tuple[Inches, str]], reach_in: Inches
) -> tuple[Gap, ...]:
    """The gaps of a span between its ends and the receptacles in it (running place and id, in order):
    from an end at most one reach, from receptacle to receptacle at most two. None without a receptacle."""
    if not here:
        return ()
    if span.ring:
        first_at, first = here[0]
        marks = [*here, (first_at + span.length_in, first)]
    else:
        marks = [(span.start_in, ""), *here, (span.end_in, "")]
    return tuple(
        Gap(part_of(line, Stretch(left, right)), (a, b), 2 * reach_in if a and b else reach_in)
        for (left, a), (right, b) in pairwise(marks)
        if left < right
    )
