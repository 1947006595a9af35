"""Receptacle spacing of one room of a house: what a drawing dimensions as too long, and where to add the fewest.

The room's facts become the layouts that ``server.reckon`` judges; its answer becomes gaps and places on walls. Gaps run
around corners and are cut into a piece a wall, since each wall is drawn by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from server.dwelling import (
    RECEPTACLE_RATINGS,
    Box,
    Counter,
    CounterKind,
    Device,
    DeviceKind,
    Dwelling,
    Inches,
    Opening,
    Room,
    Surface,
    Wall,
    format_length,
)
from server.editions import Edition
from server.reckon import counter_layout, wall_layout
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.receptacles_that_count import Switched
from server.reckon.spacing_result import Part
from server.reckon.wall_spacing import reckon_wall_spacing

__all__ = ["GapPiece", "Proposed", "RoomSpacing", "counters_of", "spacing_of", "wall_layout_of"]

_COUNTER_IN: Final = Fraction(36)
_GENERAL_VOLTS, _GENERAL_AMPERES = 125, 20
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
    if not walls:
        return RoomSpacing()
    try:
        along = reckon_wall_spacing(wall_layout_of(room, house), code)
        over = reckon_counter_spacing(counters_of(room, house), code)
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
                ends = "between receptacles" if all(gap.between) else "from the last receptacle to the end"
                said.append(f"{words}, {ends}, {gap.part}")
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


def wall_layout_of(room: Room, house: Dwelling) -> wall_layout.WallLayout:
    """A room's walls, openings and receptacles as the spacing reckoning reads them."""
    walls = house.walls_of_room.get(room.id, [])
    lengths = {wall.id: wall.length_in for wall in walls}
    return wall_layout.WallLayout(
        room=room.kind.value,
        walls=tuple(
            wall_layout.Wall(
                id=wall.id, length_in=wall.length_in, name=wall.name or f"wall {wall.order + 1}",
                openings=(*_openings(house.openings_of_wall.get(wall.id, ())), *_behind_counters(wall, room, house)),
                space=wall.is_wall_space,
            )
            for wall in walls
        ),
        closed=len(walls) > 2,
        receptacles=tuple(
            _receptacle(box, device, house)
            for box, device in _general_receptacles(room, house)
            if box.wall_id in lengths and box.at_in is not None and box.at_in <= lengths[box.wall_id]
        ),
        stud_spacing_in=room.stud_spacing_in or None,
        lighting_outlet=_has_switched_light(room, house) or None,
        floor_area_ft2=room.floor_area_ft2,
    )  # fmt: skip


def _openings(openings: Iterable[Opening]) -> Iterator[wall_layout.Opening]:
    for item in sorted(openings, key=lambda opening: opening.from_in):
        kind = "cabinet with counter" if item.has_counter else item.kind.value
        yield wall_layout.Opening(
            from_in=item.from_in, to_in=item.to_in, kind=kind, id=item.id, sill_in=item.sill_in
        )


def _behind_counters(wall: Wall, room: Room, house: Dwelling) -> Iterator[wall_layout.Opening]:
    """A counter on its base cabinets takes its stretch out of the wall space where it has a rule of its own."""
    for counter in house.counters_of_room.get(room.id, ()):
        if counter.kind is CounterKind.WALL and counter.wall_id == wall.id:
            start = counter.from_in or Fraction(0)
            end = min(start + counter.length_in, wall.length_in)
            if start < end:
                yield wall_layout.Opening(
                    from_in=start, to_in=end, kind="cabinet with counter", id=counter.id
                )


def _general_receptacles(room: Room, house: Dwelling) -> Iterator[tuple[Box, Device]]:
    """Each box with a 15 or 20 A, 125 V receptacle, with the first of them."""
    for box in house.boxes_of_room.get(room.id, ()):
        for device in house.devices_of_box.get(box.id, ()):
            if device.kind is not DeviceKind.RECEPTACLE:
                continue
            volts, amperes = RECEPTACLE_RATINGS.get(device.configuration or "", (125, 15))
            if volts == _GENERAL_VOLTS and amperes <= _GENERAL_AMPERES:
                yield box, device
                break


def _receptacle(box: Box, device: Device, house: Dwelling) -> wall_layout.WallReceptacle:
    assert box.wall_id is not None
    assert box.at_in is not None
    switched: Switched = "no"
    if house.controlled_by.get(device.id):
        switched = "half" if device.switched_half is not None else "whole"
    in_floor = box.surface is Surface.FLOOR
    return wall_layout.WallReceptacle(
        id=box.id, wall=box.wall_id, at_in=box.at_in, height_in=None if in_floor else box.height_in, switched=switched,
        fixed_in="cabinet" if box.inside_cabinet else "",
        floor_offset_in=(box.off_wall_in or Fraction(0)) if in_floor else None,
        serves_counter=box.counter_id is not None or device.serves == "countertop",
    )  # fmt: skip


def _has_switched_light(room: Room, house: Dwelling) -> bool:
    return any(
        device.kind is DeviceKind.LUMINAIRE and house.controlled_by.get(device.id)
        for device in house.devices_in_room(room.id)
    )


def counters_of(room: Room, house: Dwelling) -> list[counter_layout.Counter]:
    """A room's counters as the spacing reckoning reads them: along the walls in order, then those that stand free."""
    places = {wall.id: place for place, wall in enumerate(house.walls_of_room.get(room.id, ()))}
    ordered = sorted(
        house.counters_of_room.get(room.id, ()),
        key=lambda counter: (
            counter.kind is not CounterKind.WALL or counter.wall_id not in places,
            places.get(counter.wall_id or "", 0),
            counter.from_in or Fraction(0),
        ),
    )
    found = []
    before: Counter | None = None
    for counter in ordered:
        found.append(_counter(counter, room, house, continues=_continues(before, counter, house)))
        before = counter
    return found


def _continues(before: Counter | None, counter: Counter, house: Dwelling) -> bool:
    """Whether a wall counter goes on around the corner where the one before it ends."""
    if before is None or before.kind is not CounterKind.WALL or counter.kind is not CounterKind.WALL:
        return False
    one, other = house.walls.get(before.wall_id or ""), house.walls.get(counter.wall_id or "")
    if one is None or other is None or other.order != one.order + 1:
        return False
    return (before.from_in or 0) + before.length_in >= one.length_in and not counter.from_in


def _counter(counter: Counter, room: Room, house: Dwelling, *, continues: bool) -> counter_layout.Counter:
    wall = house.walls.get(counter.wall_id or "")
    where = (
        f" on {wall.name or f'wall {wall.order + 1}'}"
        if wall is not None and counter.kind is CounterKind.WALL
        else ""
    )
    return counter_layout.Counter(
        id=counter.id, length_in=counter.length_in, kind=counter.kind.value, name=f"the {counter.kind.value} counter{where}",
        depth_in=counter.depth_in, continues=continues, stud_spacing_in=room.stud_spacing_in or None,
        breaks=tuple(
            counter_layout.CounterBreak(
                from_in=item.from_in, to_in=item.to_in, kind=item.kind.value, behind_in=item.behind_in, corner=item.in_corner,
                id=item.id,
            )
            for item in house.breaks_of_counter.get(counter.id, ())
        ),
        receptacles=tuple(
            found
            for box, _ in _general_receptacles(room, house)
            if (found := _for_counter(box, counter)) is not None
        ),
    )  # fmt: skip


def _for_counter(box: Box, counter: Counter) -> counter_layout.CounterReceptacle | None:
    """A box as a receptacle of a counter: said to be its, or standing over it on its wall."""
    start, top = counter.from_in or Fraction(0), counter.height_in or _COUNTER_IN
    along = counter.kind is CounterKind.WALL
    over = (
        along
        and box.wall_id == counter.wall_id
        and box.at_in is not None
        and start <= box.at_in <= start + counter.length_in
        and box.height_in is not None
        and box.height_in > top
    )
    if box.counter_id != counter.id and not (over and box.counter_id is None):
        return None
    at = box.at_in - (start if along else 0) if box.at_in is not None else counter.length_in / 2
    if not 0 <= at <= counter.length_in:
        return None
    above = box.height_in - top if box.height_in is not None and box.height_in > top and along else None
    return counter_layout.CounterReceptacle(
        id=box.id, at_in=at, above_in=above, below_in=box.below_counter_in
    )
