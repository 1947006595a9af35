"""A room's walls and counters with what stands in them, in the words of the spacing reckonings.

What has no place (a receptacle on no wall, a counter without a start) is left out of the layout and named in
``unplaced``: it may be the one that would serve the gap.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from server.dwelling import (
    RECEPTACLE_RATINGS,
    Box,
    Counter,
    CounterKind,
    Device,
    DeviceKind,
    Dwelling,
    Inches,
    Room,
    Surface,
    Wall,
)
from server.editions import Edition
from server.reckon import counter_layout, wall_layout
from server.rules.outlet_facts import serves_counter
from server.rules.switched_receptacles import habitable
from server.rules.switching import room_lights, switched

__all__ = ["Laid", "counters_of", "required_receptacles_in", "wall_layout_of", "walls_kind"]

_REQUIRED_VOLTS, _REQUIRED_AMPS = 125, (15, 20)
_COUNTER_TOP_IN = Fraction(36)
_FULL_TURN = 360


@dataclass(frozen=True, slots=True)
class Laid:
    """A layout, and the devices that it had to leave out because nobody said where they are."""

    walls: wall_layout.WallLayout
    unplaced: tuple[Device, ...]


def required_receptacles_in(room: Room, house: Dwelling) -> list[tuple[Device, Box]]:
    """The room's receptacles of the rating that counts as required: 125 V, 15 or 20 A (unrated ones included)."""
    return house.derive(_by_room).get(room.id, [])


def _by_room(house: Dwelling) -> Mapping[str, list[tuple[Device, Box]]]:
    found: dict[str, list[tuple[Device, Box]]] = {}
    for device in house.facts.devices:
        box = house.boxes.get(device.box_id)
        if box is None or device.kind is not DeviceKind.RECEPTACLE:
            continue
        rated = RECEPTACLE_RATINGS.get(device.configuration or "")
        if rated is None or (rated[0] == _REQUIRED_VOLTS and rated[1] in _REQUIRED_AMPS):
            found.setdefault(box.room_id, []).append((device, box))
    return found


def wall_layout_of(room: Room, house: Dwelling, code: Edition) -> Laid | None:
    """The room's walls as receptacle spacing walks them; None where no wall is recorded."""
    walls = house.walls_of_room.get(room.id, ())
    if not walls:
        return None
    lengths = {wall.id: wall.length_in for wall in walls}
    placed: list[wall_layout.WallReceptacle] = []
    unplaced: list[Device] = []
    for device, box in required_receptacles_in(room, house):
        if box.wall_id not in lengths or box.at_in is None or box.at_in > lengths[box.wall_id]:
            if box.surface in (Surface.WALL, Surface.FLOOR):
                unplaced.append(device)
            continue
        assert box.wall_id is not None
        placed.append(
            wall_layout.WallReceptacle(
                id=device.id, wall=box.wall_id, at_in=box.at_in, height_in=box.height_in,
                switched=switched(device, house), fixed_in="cabinet" if box.inside_cabinet else "",
                floor_offset_in=(box.off_wall_in or Fraction(0)) if box.surface is Surface.FLOOR else None,
                serves_counter=serves_counter(box, house) is True,
            )
        )  # fmt: skip
    layout = wall_layout.WallLayout(
        room=walls_kind(room, code),
        walls=tuple(_wall(wall, house) for wall in walls),
        closed=sum(wall.turn_deg for wall in walls) == _FULL_TURN and len(walls) > 2,
        receptacles=tuple(placed),
        stud_spacing_in=room.stud_spacing_in,
        lighting_outlet=bool(room_lights(house, room.id).switched),
        floor_area_ft2=room.floor_area_ft2,
        centerline_in=_centerline(room),
    )
    return Laid(layout, tuple(unplaced))


def walls_kind(room: Room, code: Edition) -> str:
    """Whose rule the walls follow: a basement or attic finished as living space has the walls of any living space."""
    if room.kind not in code.names("lighting.habitable_rooms") and habitable(room, code):
        return "recreation room"
    return str(room.kind)


def _centerline(room: Room) -> Inches | None:
    if room.length_in is None or room.width_in is None:
        return None
    return max(room.length_in, room.width_in)


def _wall(wall: Wall, house: Dwelling) -> wall_layout.Wall:
    openings = [
        wall_layout.Opening(
            id=item.id, from_in=item.from_in, to_in=item.to_in, sill_in=item.sill_in,
            kind="cabinet with counter" if item.kind == "cabinet" and item.has_counter else str(item.kind),
        )
        for item in house.openings_of_wall.get(wall.id, ())
    ]  # fmt: skip
    for counter in house.counters_of_room.get(wall.room_id, ()):
        if counter.wall_id == wall.id and counter.from_in is not None and counter.kind is CounterKind.WALL:
            # base cabinets take their stretch out of the wall space
            end = min(counter.from_in + counter.length_in, wall.length_in)
            if counter.from_in < end:
                openings.append(
                    wall_layout.Opening(
                        id=counter.id, from_in=counter.from_in, to_in=end, kind="base cabinet"
                    )
                )
    openings.sort(key=lambda item: item.from_in)
    return wall_layout.Wall(
        id=wall.id, length_in=wall.length_in, name=wall.name or f"wall {wall.order + 1}", openings=tuple(openings),
        space=wall.is_wall_space,
    )  # fmt: skip


def counters_of(room: Room, house: Dwelling) -> tuple[list[counter_layout.Counter], list[Counter]]:
    """The room's counters as counter spacing walks them, those that meet in a corner in order; and the wall
    counters of which nobody said where they start."""
    counters = house.counters_of_room.get(room.id, ())
    order = {wall.id: wall.order for wall in house.walls_of_room.get(room.id, ())}
    along = [
        c for c in counters if c.kind is CounterKind.WALL and c.wall_id in order and c.from_in is not None
    ]
    along.sort(key=lambda counter: (order[counter.wall_id or ""], counter.from_in))
    for _ in along:
        # a counter may go on around the corner where the first wall begins: then it comes before that wall's
        if len(along) > 1 and _meets(along[-1], along[0], house):
            along = [along[-1], *along[:-1]]
    found: list[counter_layout.Counter] = []
    before: Counter | None = None
    for counter in along:
        found.append(
            _counter(counter, house, continues=before is not None and _meets(before, counter, house))
        )
        before = counter
    islands = [counter for counter in counters if counter.kind is not CounterKind.WALL]
    found += [_counter(counter, house, continues=False) for counter in islands]
    return found, [counter for counter in counters if counter not in along and counter not in islands]


def _meets(before: Counter, counter: Counter, house: Dwelling) -> bool:
    """Whether a counter goes on around the corner from the one before it."""
    first, second = house.walls[before.wall_id or ""], house.walls[counter.wall_id or ""]
    assert before.from_in is not None
    walls = house.walls_of_room.get(counter.room_id, [])
    following = walls.index(first) + 1
    if following == len(walls) and len(walls) > 2:
        following = 0
    return (
        walls[following : following + 1] == [second]
        and counter.from_in == 0
        and before.from_in + before.length_in >= first.length_in
    )


def _counter(counter: Counter, house: Dwelling, *, continues: bool) -> counter_layout.Counter:
    wall = house.walls.get(counter.wall_id or "")
    name = f"the {counter.kind} counter" + (f" on {wall.name or f'wall {wall.order + 1}'}" if wall else "")
    return counter_layout.Counter(
        id=counter.id,
        name=name,
        length_in=counter.length_in,
        depth_in=counter.depth_in,
        kind=counter.kind.value,
        continues=continues,
        # whether a later receptacle is provided for is a look of its own
        provision=True,
        breaks=tuple(
            counter_layout.CounterBreak(
                id=item.id, from_in=item.from_in, to_in=item.to_in, kind=str(item.kind), behind_in=item.behind_in,
                corner=item.in_corner,
            )
            for item in house.breaks_of_counter.get(counter.id, ())
        ),
        receptacles=tuple(_counter_receptacles(counter, house)),
    )  # fmt: skip


def _counter_receptacles(counter: Counter, house: Dwelling) -> list[counter_layout.CounterReceptacle]:
    start = counter.from_in or Fraction(0)
    top = counter.height_in or _COUNTER_TOP_IN
    found = []
    for device, box in house.derive(_by_room).get(counter.room_id, ()):
        at = _along(box, counter, start)
        if at is None:
            continue
        below = box.below_counter_in
        above = None if below is not None or box.height_in is None else box.height_in - top
        found.append(
            counter_layout.CounterReceptacle(
                id=device.id, at_in=at, above_in=above, below_in=below,
                in_top="listed" if box.surface is Surface.COUNTER else "no", out_of_reach=box.inside_cabinet,
            )
        )  # fmt: skip
    return found


def _along(box: Box, counter: Counter, start: Inches) -> Inches | None:
    """How far along a counter a box stands, where it is there for this one."""
    if box.at_in is None:
        return None
    if box.counter_id is not None:
        if box.counter_id != counter.id:
            return None
        at = (
            box.at_in - start
            if counter.kind is CounterKind.WALL and box.wall_id == counter.wall_id
            else box.at_in
        )
        return at if 0 <= at <= counter.length_in else None
    if (
        counter.kind is not CounterKind.WALL
        or box.wall_id != counter.wall_id
        or box.surface is not Surface.WALL
    ):
        return None
    at = box.at_in - start
    top = counter.height_in or _COUNTER_TOP_IN
    if not 0 <= at <= counter.length_in or box.height_in is None or box.height_in < top:
        return None
    return at
