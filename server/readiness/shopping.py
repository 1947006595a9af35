"""What to buy, counted from the facts: boxes, devices, breakers, cable with a usual allowance.

A cable's length is what was entered, else reckoned from where its ends are: along the walls and up and down the
framing inside a room (the estimate says so); between rooms nothing is guessed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from server.dwelling import Box, BoxMaterial, Breaker, Cable, Device, DeviceKind, Dwelling

__all__ = ["CableToBuy", "Item", "ShoppingList", "estimated_length_in", "shopping_list"]

_ALLOWANCE: Final = Fraction(115, 100)
"""A seventh more than measured, for slack at boxes and for the way around things (common practice)."""
_AT_EACH_BOX_IN: Final = Fraction(12)
"""Cable that goes into and stays beside each box (common practice)."""


@dataclass(frozen=True, slots=True)
class Item:
    """Something to buy, and how many."""

    what: str
    count: int


@dataclass(frozen=True, slots=True)
class CableToBuy:
    """Cable of one kind: feet to buy, over how many runs; ``unknown`` runs have no length that can be told."""

    what: str
    feet: int
    runs: int
    estimated: int
    unknown: int


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Everything to buy for a house, by kind."""

    boxes: tuple[Item, ...]
    devices: tuple[Item, ...]
    breakers: tuple[Item, ...]
    cable: tuple[CableToBuy, ...]

    @property
    def empty(self) -> bool:
        return not (self.boxes or self.devices or self.breakers or self.cable)


def shopping_list(house: Dwelling) -> ShoppingList:
    """Count what a house needs."""
    facts = house.facts
    return ShoppingList(
        _counted(_box(box) for box in facts.boxes), _counted(filter(None, map(_device, facts.devices))),
        _counted(
            f"{circuit.poles}-pole {circuit.rating_a} A {_BREAKERS.get(circuit.breaker, 'breaker')}"
            for circuit in facts.circuits
            if circuit.rating_a and circuit.breaker is not Breaker.FUSE
        ),
        _cable(house),
    )  # fmt: skip


_BREAKERS: Final = {
    Breaker.GFCI: "GFCI breaker", Breaker.AFCI: "AFCI breaker", Breaker.DUAL: "AFCI and GFCI breaker", Breaker.STANDARD: "breaker",
    None: "breaker",
}  # fmt: skip


def _counted(words: Iterable[str | None]) -> tuple[Item, ...]:
    tally = Counter(word for word in words if word)
    return tuple(
        Item(what, count) for what, count in sorted(tally.items(), key=lambda item: (-item[1], item[0]))
    )


def _box(box: Box) -> str:
    size = box.trade_size or (
        f"{float(box.volume_in3):g} in³" if box.volume_in3 is not None else "size not entered"
    )
    material = (
        "plastic"
        if box.material is BoxMaterial.NONMETALLIC
        else "metal"
        if box.material
        else "material not entered,"
    )
    gangs = f"{box.gangs}-gang" if box.gangs > 1 else "one-gang"
    if box.surface == "ceiling":
        gangs = "ceiling, rated for a fan" if box.fan_rated else "ceiling"
    return f"{gangs} {material} box, {size}"


def _device(device: Device) -> str | None:
    if device.kind is DeviceKind.RECEPTACLE:
        marks = [
            word
            for on, word in (
                (device.gfci, "GFCI"),
                (device.afci, "AFCI"),
                (device.tamper_resistant, "tamper-resistant"),
                (device.weather_resistant, "weather-resistant"),
            )
            if on
        ]
        form = {1: "single ", 2: "duplex ", 4: "quad "}.get(device.receptacles, "")
        return (
            f"{form}receptacle {device.configuration or ''}{', ' if marks else ''}{', '.join(marks)}".replace(
                "  ", " "
            )
        )
    if device.kind is DeviceKind.SWITCH:
        return f"{device.ways or 'single-pole'} {'dimmer' if device.dimmer else 'switch'}"
    if device.kind is DeviceKind.HARDWIRED:
        return None
    return device.kind.value


def _cable(house: Dwelling) -> tuple[CableToBuy, ...]:
    by_kind: dict[str, list[Cable]] = {}
    for cable in house.facts.cables:
        ground = " with ground" if cable.has_ground else ""
        by_kind.setdefault(
            f"{cable.awg or '?'}-{cable.insulated} {cable.kind.value.upper()}{ground}", []
        ).append(cable)
    found = []
    for what, cables in sorted(by_kind.items(), key=lambda item: -len(item[1])):
        known = [cable.length_ft for cable in cables if cable.length_ft is not None]
        guessed = [
            length
            for cable in cables
            if cable.length_ft is None and (length := estimated_length_in(cable, house)) is not None
        ]
        feet = (sum(known, Fraction(0)) + sum(guessed, Fraction(0)) / 12) * _ALLOWANCE
        found.append(
            CableToBuy(what, ceil(feet), len(cables), len(guessed), len(cables) - len(known) - len(guessed))
        )
    return tuple(found)


def estimated_length_in(cable: Cable, house: Dwelling) -> Fraction | None:
    """The way between two boxes of one room: along the floor line, and up and down the difference in height."""
    a, b = (house.boxes.get(end) if end else None for end in (cable.a_box_id, cable.b_box_id))
    if a is None or b is None or a.room_id != b.room_id:
        return None
    one, other = _running_in(a, house), _running_in(b, house)
    room = house.rooms.get(a.room_id)
    ceiling = (room.ceiling_height_in if room else None) or Fraction(96)
    if one is not None and other is not None:
        around = sum((wall.length_in for wall in house.walls_of_room.get(a.room_id, ())), Fraction(0))
        along = abs(one - other)
        level = abs((a.height_in or Fraction(16)) - (b.height_in or Fraction(16)))
        return min(along, around - along) + level + 2 * _AT_EACH_BOX_IN
    on_wall, overhead = (a, b) if one is not None else (b, a)
    if (
        room is None
        or room.length_in is None
        or room.width_in is None
        or on_wall.height_in is None
        or overhead.wall_id is not None
    ):
        return None
    # up the wall and half across the room: what a run to a luminaire comes to on average
    return ceiling - on_wall.height_in + (room.length_in + room.width_in) / 4 + 2 * _AT_EACH_BOX_IN


def _running_in(box: Box, house: Dwelling) -> Fraction | None:
    """How far along the room's walls a box is, from the first corner."""
    if box.at_in is None:
        return None
    so_far = Fraction(0)
    for wall in house.walls_of_room.get(box.room_id, ()):
        if wall.id == box.wall_id:
            return so_far + box.at_in
        so_far += wall.length_in
    return None
