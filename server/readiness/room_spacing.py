"""Receptacle spacing of one room of a house: what a drawing dimensions as too long, and where to add the fewest.

The same layouts that the rules judge (``server.rules.room_spacing``) are reckoned with their cure; the answer becomes
gaps and places on walls. Gaps run around corners and are cut into a piece a wall, since each wall is drawn by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from server.dwelling import Counter, CounterKind, Dwelling, Inches, Room, Wall, format_length
from server.editions import Edition
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.spacing_result import Part
from server.reckon.wall_spacing import reckon_wall_spacing
from server.rules.room_spacing import counters_of, wall_layout_of

__all__ = ["GapPiece", "Proposed", "RoomSpacing", "spacing_of"]

_IN_THE_FLOOR: Final = "in the floor by the wall"


@dataclass(frozen=True, slots=True)
class GapPiece:
    """The part of a gap that lies on one wall. ``words`` stand on the longest piece of a gap only."""

    wall_id: str
    from_in: Inches
    to_in: Inches
    words: str


@dataclass(frozen=True, slots=True)
class Proposed:
    """A box to add: which ready-made one (``server.readiness.ready_made``), where, and on what ground."""

    ready: Literal["receptacle", "counter", "floor"]
    wall_id: str
    at_in: Inches
    counter_id: str | None
    ground: str

    @property
    def key(self) -> str:
        """How a form names it: the ready-made box, the wall, the exact place in inches."""
        return f"{self.ready}:{self.wall_id}:{self.at_in}"


@dataclass(frozen=True, slots=True)
class RoomSpacing:
    """What the spacing of a room comes to. ``said`` tells each gap in words; ``trouble`` says why nothing could be
    reckoned (an opening beyond its wall, for one); ``beside`` counts places that no wall of the drawing shows."""

    gaps: tuple[GapPiece, ...] = ()
    said: tuple[str, ...] = ()
    proposed: tuple[Proposed, ...] = ()
    trouble: str = ""
    beside: int = 0


def spacing_of(room: Room, house: Dwelling, code: Edition) -> RoomSpacing:
    """Reckon the walls and counters of a room that has walls."""
    walls = house.walls_of_room.get(room.id, [])
    laid = wall_layout_of(room, house, code)
    if laid is None:
        return RoomSpacing()
    has_counters = room.kind in code.names("spacing.counter_rooms")
    try:
        along = reckon_wall_spacing(laid.walls, code)
        over = reckon_counter_spacing(counters_of(room, house)[0] if has_counters else [], code)
    except LayoutError as error:
        return RoomSpacing(trouble=str(error))
    gaps: list[GapPiece] = []
    said: list[str] = []
    for space in along.spaces:
        if not space.receptacles and space.uncovered:
            words = f"{format_length(space.part.length_in)} of wall without a receptacle"
            gaps += _pieces(space.part, walls, words)
            said.append(f"{words}, {space.part}")
        for gap in space.gaps:
            if gap.over_in:
                words = f"{format_length(gap.part.length_in)}, at most {format_length(gap.most_in)}"
                gaps += _pieces(gap.part, walls, words)
                said.append(f"{words}, {gap.ends}, {gap.part}")
    counters = {counter.id: counter for counter in house.counters_of_room.get(room.id, ())}
    for part in over.uncovered:
        said.append(f"{format_length(part.length_in)} of counter without a receptacle in reach, {part}")
        gaps += _on_counter(part, counters)
    proposed = [
        Proposed("floor" if item.ground == _IN_THE_FLOOR else "receptacle", item.place.on, item.place.at_in, None, item.ground)
        for item in along.added
    ]  # fmt: skip
    beside = 0
    for item in over.added:
        counter = counters[item.place.on]
        if counter.kind is CounterKind.WALL and counter.wall_id is not None:
            at = (counter.from_in or Fraction(0)) + item.place.at_in
            proposed.append(Proposed("counter", counter.wall_id, at, counter.id, item.ground))
        else:
            beside += 1
    return RoomSpacing(tuple(gaps), tuple(said), tuple(proposed), beside=beside)


def _pieces(part: Part, walls: Sequence[Wall], words: str) -> list[GapPiece]:
    """A part of the floor line, a piece for each wall that it runs along."""
    at = next(place for place, wall in enumerate(walls) if wall.id == part.start.on)
    begin, left = part.start.at_in, part.length_in
    found: list[tuple[str, Inches, Inches]] = []
    while left > 0:
        wall = walls[at % len(walls)]
        run = min(wall.length_in - begin, left)
        if run > 0:
            found.append((wall.id, begin, begin + run))
        left, begin, at = left - max(run, Fraction(0)), Fraction(0), at + 1
    longest = max(found, key=lambda piece: piece[2] - piece[1], default=None)
    return [GapPiece(*piece, words if piece is longest else "") for piece in found]


def _on_counter(part: Part, counters: dict[str, Counter]) -> Iterator[GapPiece]:
    counter = counters.get(part.start.on)
    if counter is None or counter.kind is not CounterKind.WALL or counter.wall_id is None:
        return
    if part.end.on != part.start.on:
        return  # around a corner: told in words
    start = counter.from_in or Fraction(0)
    words = f"{format_length(part.length_in)} out of reach"
    yield GapPiece(counter.wall_id, start + part.start.at_in, start + part.end.at_in, words)
