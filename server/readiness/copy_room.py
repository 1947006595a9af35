"""A room once more: the same boxes at the same places under another name, or as the mirror shows it.

A mirrored room is seen as in a looking-glass along wall 1: what was 4 ft from the left end of a wall is 4 ft from
its right end, and the walls follow each other the other way round, so that one still walks them to the right.
Cables and circuits are not copied: they are run anew in the new room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from server.dwelling import (
    Box,
    Counter,
    CounterKind,
    Device,
    Dwelling,
    Inches,
    Opening,
    Room,
    Surface,
    Wall,
)

__all__ = ["RoomCopy", "copy_room"]


@dataclass(frozen=True, slots=True)
class RoomCopy:
    """The new room and everything in it, ready to be added; and what could not come along: controls of devices in
    other rooms, places on circuits."""

    room: Room
    facts: tuple[Any, ...]
    controls_left: int
    circuits_left: int


def copy_room(
    room: Room,
    house: Dwelling,
    new_id: Callable[[str], str],
    *,
    name: str,
    level_id: str,
    order: int,
    mirrored: bool = False,
) -> RoomCopy:
    """Copy a room with its walls, openings, counters, fixtures, boxes and devices. Mirrored twice is as it was."""
    made = _Copy(room, house, new_id, mirrored)
    # two rooms of one outline at one place of the plan would lie on each other
    new_room = replace(
        room, id=new_id("room"), name=name, level_id=level_id, order=order, plan_x_in=None, plan_y_in=None
    )
    facts = made.facts(new_room.id)
    return RoomCopy(new_room, (new_room, *facts), made.controls_left, made.circuits_left)


class _Copy:
    """One copy in the making: old ids to new ones."""

    def __init__(self, room: Room, house: Dwelling, new_id: Callable[[str], str], mirrored: bool) -> None:
        self.room, self.house, self.mirrored = room, house, mirrored
        self.walls = {wall.id: wall for wall in house.walls_of_room.get(room.id, ())}
        self.counters = {counter.id: counter for counter in house.counters_of_room.get(room.id, ())}
        self.fixtures = house.fixtures_of_room.get(room.id, [])
        self.boxes = house.boxes_of_room.get(room.id, [])
        self.devices = house.devices_in_room(room.id)
        self.new_id = new_id
        self.ids: dict[str, str] = {}
        for kind, old in (
            ("wall", self.walls), ("counter", self.counters), ("fixture", [each.id for each in self.fixtures]),
            ("box", [each.id for each in self.boxes]), ("device", [each.id for each in self.devices]),
        ):  # fmt: skip
            self.ids.update((each, new_id(kind)) for each in old)
        self.controls_left = 0
        self.circuits_left = 0

    def facts(self, room_id: str) -> list[Any]:
        found: list[Any] = []
        for order, (wall, turn_deg) in enumerate(self._walls_in_order()):
            found.append(replace(wall, id=self.ids[wall.id], room_id=room_id, order=order, turn_deg=turn_deg))
            found += [self._opening(item, wall) for item in self.house.openings_of_wall.get(wall.id, ())]
        for counter in self.counters.values():
            found.append(self._counter(counter, room_id))
            for item in self.house.breaks_of_counter.get(counter.id, ()):
                start, end = item.from_in, item.to_in
                if self.mirrored and counter.kind is not CounterKind.PENINSULA:
                    start, end = counter.length_in - end, counter.length_in - start
                found.append(
                    replace(
                        item,
                        id=self.new_id("break"),
                        counter_id=self.ids[counter.id],
                        from_in=start,
                        to_in=end,
                    )
                )
        for fixture in self.fixtures:
            found.append(
                replace(
                    fixture, id=self.ids[fixture.id], room_id=room_id, wall_id=self._new(fixture.wall_id),
                    at_in=self._along(fixture.at_in, fixture.wall_id),
                )
            )  # fmt: skip
        found += [self._box(box, room_id) for box in self.boxes]
        found += [self._device(device) for device in self.devices]
        return found

    def _walls_in_order(self) -> Sequence[tuple[Wall, int]]:
        """The walls, each with the corner at its right end. In the mirror a closed room begins with the same wall and
        goes round the other way; the corner at a wall's right end is the one that was at its left."""
        walls = list(self.walls.values())
        if not self.mirrored:
            return [(wall, wall.turn_deg) for wall in walls]
        turns = [wall.turn_deg for wall in walls]
        closed = len(walls) > 2
        order = [0, *range(len(walls) - 1, 0, -1)] if closed else list(range(len(walls) - 1, -1, -1))
        # an open run's last corner leads nowhere and stays with its end
        return [(walls[place], turns[place - 1]) for place in order]

    def _new(self, old: str | None) -> str | None:
        return None if old is None else self.ids.get(old)

    def _along(self, at_in: Inches | None, wall_id: str | None) -> Inches | None:
        wall = self.walls.get(wall_id or "")
        if not self.mirrored or at_in is None or wall is None:
            return at_in
        return wall.length_in - at_in

    def _opening(self, item: Opening, wall: Wall) -> Opening:
        start, end = item.from_in, item.to_in
        if self.mirrored:
            start, end = wall.length_in - end, wall.length_in - start
        return replace(item, id=self.new_id("opening"), wall_id=self.ids[wall.id], from_in=start, to_in=end)

    def _counter(self, counter: Counter, room_id: str) -> Counter:
        start, wall = counter.from_in, self.walls.get(counter.wall_id or "")
        if self.mirrored and wall is not None and counter.kind is not CounterKind.ISLAND:
            wide = counter.depth_in if counter.kind is CounterKind.PENINSULA else counter.length_in
            if start is not None or counter.kind is CounterKind.WALL:
                start = wall.length_in - (start or Fraction(0)) - wide
        return replace(
            counter,
            id=self.ids[counter.id],
            room_id=room_id,
            wall_id=self._new(counter.wall_id),
            from_in=start,
        )

    def _box(self, box: Box, room_id: str) -> Box:
        x_in, at_in = box.x_in, self._along(box.at_in, box.wall_id)
        if self.mirrored:
            first = next(iter(self.walls.values()), None)
            length_in = first.length_in if first is not None else self.room.length_in
            if x_in is not None and length_in is not None:
                x_in = length_in - x_in
            counter = self.counters.get(box.counter_id or "")
            if (
                counter is not None
                and counter.kind is not CounterKind.PENINSULA
                and box.wall_id is None
                and box.surface is Surface.COUNTER
                and at_in is not None
            ):
                at_in = counter.length_in - at_in
        return replace(
            box, id=self.ids[box.id], room_id=room_id, wall_id=self._new(box.wall_id), counter_id=self._new(box.counter_id),
            at_in=at_in, x_in=x_in,
        )  # fmt: skip

    def _device(self, device: Device) -> Device:
        controls = tuple(self.ids[each] for each in device.controls if each in self.ids)
        self.controls_left += len(device.controls) - len(controls)
        self.circuits_left += device.circuit_id is not None
        return replace(
            device, id=self.ids[device.id], box_id=self.ids[device.box_id], controls=controls, circuit_id=None,
            second_circuit_id=None, load_cable_ids=(), fixture_id=self._new(device.fixture_id),
        )  # fmt: skip
