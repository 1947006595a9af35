"""Which subjects a rule reaches: small questions that rules are declared with.

Each is an :data:`~server.rules.looks.Applies`: it says why the rule does not reach a subject, names the fact
that would tell, or returns None where the rule reaches it. ``all_of`` asks several in order.

    applies=all_of(framed_in(Framing.METAL), has_cables(CableKind.NM_B))
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from typing import Any

from server.dwelling import (
    Box,
    BoxMaterial,
    CableKind,
    DeviceKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Framing,
    Level,
    Room,
    RoomKind,
    Surface,
    Wetness,
)
from server.editions import Edition
from server.rules.looks import Applies
from server.rules.outcome import Missing

__all__ = [
    "all_of", "any_exterior_wall", "box_holds", "framed_in", "has_boxes", "has_cables", "has_devices",
    "has_fixtures", "holds_cables", "in_rooms", "metal_box", "not_in_rooms", "on_surface", "outdoors_or_wet", "perhaps_exterior_wall",
    "room_of", "rooms_named_by", "with_conductors",
]  # fmt: skip

SHEATHED = (CableKind.NM_B, CableKind.UF_B)
"""Cables with a nonmetallic sheath; they are fastened and protected alike."""


def room_of(subject: Any, house: Dwelling) -> Room | None:
    """The room of a room, a box or a fixture."""
    return subject if isinstance(subject, Room) else house.rooms.get(subject.room_id)


def all_of(*questions: Applies) -> Applies:
    """Reaches what every one of them reaches; the first that does not is the reason."""

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | Missing | None:
        for question in questions:
            answer = question(subject, house, code)
            if answer is not None:
                return answer
        return None

    return asks


def _cable_kinds(house: Dwelling) -> Mapping[str, frozenset[CableKind]]:
    """The kinds of cable that end at a box of each room (or pass to one of it)."""
    found: dict[str, set[CableKind]] = defaultdict(set)
    for cable in house.facts.cables:
        for end in (cable.a_box_id, cable.b_box_id):
            box = house.boxes.get(end) if end else None
            if box is not None:
                found[box.room_id].add(cable.kind)
    return {room_id: frozenset(kinds) for room_id, kinds in found.items()}


def _device_kinds(house: Dwelling) -> Mapping[str, frozenset[DeviceKind]]:
    found: dict[str, set[DeviceKind]] = defaultdict(set)
    for device in house.facts.devices:
        box = house.boxes.get(device.box_id)
        if box is not None:
            found[box.room_id].add(device.kind)
    return {room_id: frozenset(kinds) for room_id, kinds in found.items()}


def _fixture_kinds(house: Dwelling) -> Mapping[str, frozenset[FixtureKind]]:
    found: dict[str, set[FixtureKind]] = defaultdict(set)
    for fixture in house.facts.fixtures:
        found[fixture.room_id].add(fixture.kind)
    return {room_id: frozenset(kinds) for room_id, kinds in found.items()}


def _holds(make: Callable[..., Mapping[str, frozenset[Any]]], kinds: tuple[Any, ...], why: str) -> Applies:
    wanted = frozenset(kinds)

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        room_id = subject.id if isinstance(subject, Room) else subject.room_id
        have = house.derive(make).get(room_id)
        if have is None or (wanted and have.isdisjoint(wanted)):
            return why
        return None

    return asks


def has_cables(*kinds: CableKind) -> Applies:
    """The room has a cable of one of these kinds (of any, where none is named)."""
    words = " or ".join(str(kind).upper() for kind in kinds) or "cable"
    return _holds(_cable_kinds, kinds, f"No {words} is recorded in this room.")


def has_devices(*kinds: DeviceKind) -> Applies:
    """The room has a device of one of these kinds."""
    return _holds(_device_kinds, kinds, f"No {' or '.join(map(str, kinds))} is recorded in this room.")


def has_fixtures(*kinds: FixtureKind) -> Applies:
    """The room has a fixture or appliance of one of these kinds."""
    return _holds(_fixture_kinds, kinds, f"No {' or '.join(map(str, kinds))} is recorded in this room.")


def has_boxes(subject: Any, house: Dwelling, code: Edition) -> str | None:
    """The room has a box."""
    return None if house.boxes_of_room.get(subject.id) else "No box is recorded in this room."


def holds_cables(subject: Box, house: Dwelling, code: Edition) -> Missing | None:
    """The box has a cable; where none is recorded, that is the missing fact."""
    return None if subject.id in house.cables_of_box else Missing("the cables that enter it", "cable")


def with_conductors(subject: Box, house: Dwelling, code: Edition) -> str | Missing | None:
    """The box has a cable, and the box is not a cover or a housing that the maker wires."""
    return holds_cables(subject, house, code)


def in_rooms(*kinds: RoomKind, words: str = "") -> Applies:
    """The room is one of these."""
    named = frozenset(kinds)
    why = f"Only {words or ', '.join(kind + 's' for kind in kinds)} are meant."

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        room = room_of(subject, house)
        return None if room is not None and room.kind in named else why

    return asks


def not_in_rooms(*kinds: RoomKind, why: str) -> Applies:
    """The room is none of these."""
    named = frozenset(kinds)

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        room = room_of(subject, house)
        return why if room is None or room.kind in named else None

    return asks


def rooms_named_by(node: str, why: str) -> Applies:
    """The room's kind is in a list of the edition."""

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        room = room_of(subject, house)
        return None if room is not None and room.kind in code.names(node) else why

    return asks


def framed_in(framing: Framing, *, asks_which: bool = False) -> Applies:
    """The room is framed so. Where nobody said, one rule of a set asks which; the others wait for its answer."""
    why = f"The framing is not recorded as {framing}."
    missing = Missing("whether the framing is wood or metal", "room.framing") if asks_which else why

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | Missing | None:
        room = room_of(subject, house)
        if room is None or room.framing is None:
            return missing
        return None if room.framing is framing else why

    return asks


def on_surface(*surfaces: Surface, words: str) -> Applies:
    """The box is set in one of these surfaces."""
    named = frozenset(surfaces)
    why = f"Only boxes in a {words} are meant."

    def asks(subject: Box, house: Dwelling, code: Edition) -> str | None:
        return None if subject.surface in named else why

    return asks


def metal_box(subject: Box, house: Dwelling, code: Edition) -> str | Missing | None:
    """The box is metal; where nobody said, that is the missing fact."""
    if subject.material is None:
        return Missing("whether the box is metal or nonmetallic", "box.material")
    return None if subject.material is BoxMaterial.METAL else "The box is nonmetallic."


def box_holds(*kinds: DeviceKind, words: str) -> Applies:
    """The box has a device of one of these kinds."""
    named = frozenset(kinds)
    why = f"No {words} is recorded at this box."

    def asks(subject: Box, house: Dwelling, code: Edition) -> str | None:
        return None if any(d.kind in named for d in house.devices_of_box.get(subject.id, ())) else why

    return asks


def outdoors_or_wet(subject: Box, house: Dwelling, code: Edition) -> str | None:
    """The box is outdoors, or in a damp or wet place."""
    room = room_of(subject, house)
    outside = room is not None and room.kind in (RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.BOATHOUSE)
    if outside or subject.wetness in (Wetness.DAMP, Wetness.WET):
        return None
    return "The place is dry."


def any_exterior_wall(subject: Room, house: Dwelling, code: Edition) -> str | None:
    """The room has a wall that is recorded as an outside wall."""
    if any(wall.exterior for wall in house.walls_of_room.get(subject.id, ())):
        return None
    return "No wall of this room is recorded as an outside wall."


def perhaps_exterior_wall(subject: Room, house: Dwelling, code: Edition) -> str | Missing | None:
    """The same; where nobody said of the walls, that is the missing fact."""
    walls = house.walls_of_room.get(subject.id, ())
    if not any(wall.exterior for wall in walls) and any(wall.exterior is None for wall in walls):
        return Missing("which walls are outside walls", "wall.exterior")
    return any_exterior_wall(subject, house, code)


def level_of(subject: Any, house: Dwelling) -> Level | None:
    """The storey of a room, box or fixture."""
    room = subject if isinstance(subject, Room) else house.rooms.get(subject.room_id)
    return house.levels.get(room.level_id) if room else None


def fixture_is(*kinds: FixtureKind) -> Applies:
    """The fixture is one of these."""
    named = frozenset(kinds)
    why = f"Only a {' or '.join(map(str, kinds))} is meant."

    def asks(subject: Fixture, house: Dwelling, code: Edition) -> str | None:
        return None if subject.kind in named else why

    return asks
