"""The facts of an outlet as the reckonings of protection ask for them, out of the house's own.

Distances: what the tape said (``box.from_sink_in``) stands first; else they are reckoned on the plan of the room, and
where the plan cannot settle the edition's limit they stay unknown. Sinks and tubs of other rooms are not looked for:
a receptacle near a doorway to one needs the tape.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from server.dwelling import (
    RECEPTACLE_RATINGS,
    Box,
    BreakKind,
    Circuit,
    CounterKind,
    Device,
    DeviceKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Inches,
    Level,
    Room,
    RoomKind,
    Surface,
    Wetness,
    WorkKind,
)
from server.editions import Edition
from server.reckon.protection.facts import NOWHERE_NEAR, Kind, OutletFacts, WorkOn
from server.reckon.protection.sentences import FACT_WORDS
from server.reckon.protection.served import AT_THE_SINK
from server.rules.outcome import Missing
from server.rules.room_plan import distance_to, sinks_near, tubs_near

__all__ = [
    "basement_unsettled",
    "circuits_of",
    "height_of",
    "missing_facts",
    "outlet_facts",
    "serves_counter",
    "work_on",
]

_KINDS: Final[Mapping[DeviceKind, Kind]] = {
    DeviceKind.RECEPTACLE: "receptacle",
    DeviceKind.LUMINAIRE: "lighting",
    DeviceKind.SWITCH: "switch",
    DeviceKind.FAN: "hardwired",
    DeviceKind.EXHAUST_FAN: "hardwired",
    DeviceKind.SMOKE_ALARM: "hardwired",
    DeviceKind.CO_ALARM: "hardwired",
    DeviceKind.SMOKE_CO_ALARM: "hardwired",
    DeviceKind.HARDWIRED: "hardwired",
    DeviceKind.OTHER: "hardwired",
}
_SERVES: Final = {
    DeviceKind.FAN: "fan",
    DeviceKind.EXHAUST_FAN: "exhaust fan",
    DeviceKind.SMOKE_ALARM: "smoke alarm",
    DeviceKind.CO_ALARM: "CO alarm",
    DeviceKind.SMOKE_CO_ALARM: "smoke and CO alarm",
}
_WORK: Final[Mapping[WorkKind, WorkOn]] = {
    WorkKind.NEW: "new", WorkKind.EXTENSION: "extension", WorkKind.REPLACEMENT: "replacement",
}  # fmt: skip
_COUNTER_TOP_IN: Final = Fraction(36)
_CEILING_LEAST_IN: Final = Fraction(84)
"""The least height of a ceiling over a room that people use (IRC R305): a receptacle in it is at least that high."""
_PREPARATION: Final = frozenset(
    {FixtureKind.RANGE, FixtureKind.COOKTOP, FixtureKind.WALL_OVEN, FixtureKind.MICROWAVE, FixtureKind.REFRIGERATOR,
     FixtureKind.DISHWASHER}
)  # fmt: skip
_SUPPLIES: Final = frozenset({FixtureKind.GENERATOR, FixtureKind.SOLAR_ARRAY, FixtureKind.ENERGY_STORAGE})
_FIELDS: Final[Mapping[str, str]] = {
    "finished": "room.finished",
    "habitable": "room.finished",
    "floor_at_grade": "level.below_grade",
    "damp": "box.wetness",
    "serves": "device.serves",
    "from_sink_in": "box.from_sink_in",
    "from_tub_in": "box.from_tub_in",
    "readily_accessible": "device.readily_accessible",
    "dedicated": "device.dedicated",
    "single": "device.receptacles",
    "listed_hvac": "fixture.listed_hvac",
    "height_in": "box.height_in",
    "permit_date": "job.permit_date",
    "circuit_amps": "circuit.rating_a",
    "circuit_volts": "device.circuit_id",
}
"""The field of the house that would hold each fact."""


def missing_facts(names: tuple[str, ...], device: Device, house: Dwelling) -> tuple[Missing, ...]:
    """What a reckoning misses, in words and with the field that would hold it."""
    return tuple(Missing(FACT_WORDS[name], _field(name, device, house)) for name in names)


def _field(name: str, device: Device, house: Dwelling) -> str:
    if name in ("volts", "amps"):
        return "device.configuration" if device.kind is DeviceKind.RECEPTACLE else "device.volts"
    if name in ("circuit_volts", "circuit_amps") and house.circuit_of(device) is None:
        return "device.circuit_id" if house.circuits_of_box(device.box_id) else "cable.circuit_ids"
    return _FIELDS.get(name, "")


def basement_unsettled(device: Device, house: Dwelling) -> bool:
    """Whether nobody said if the lowest of several storeys is below grade: a basement is listed by itself."""
    room = house.room_of_device(device)
    level = house.levels.get(room.level_id) if room else None
    if level is None or room is None or level.below_grade is not None:
        return False
    if room.kind in (RoomKind.BASEMENT, RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.CRAWL_SPACE):
        return False
    return len(house.levels) > 1 and level is min(house.levels.values(), key=lambda each: each.order)


def work_on(house: Dwelling) -> WorkOn:
    """The kind of work, in the words of the reckonings."""
    return _WORK[house.site.work]


def outlet_facts(device: Device, house: Dwelling, code: Edition) -> OutletFacts | None:
    """The facts of one outlet or switch; None for what is none (a faceless device) or hangs nowhere."""
    return house.derive(_all, code).get(device.id)


def _all(house: Dwelling, code: Edition) -> Mapping[str, OutletFacts]:
    found: dict[str, OutletFacts] = {}
    rooms = house.derive(_rooms_of_circuits)
    for device in house.facts.devices:
        box = house.boxes.get(device.box_id)
        room = house.rooms.get(box.room_id) if box else None
        kind = _KINDS.get(device.kind)
        if box is None or room is None or kind is None or _supplies(device, house):
            continue
        found[device.id] = _facts(device, kind, box, room, house, code, rooms)
    return found


def _supplies(device: Device, house: Dwelling) -> bool:
    """Whether what is connected there feeds the house, and is no outlet."""
    fixture = house.fixtures.get(device.fixture_id) if device.fixture_id else None
    return fixture is not None and fixture.kind in _SUPPLIES and device.kind is DeviceKind.HARDWIRED


def _rooms_of_circuits(house: Dwelling) -> Mapping[str, tuple[str, ...]]:
    """The kinds of room whose outlets and devices each circuit supplies."""
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for device in house.facts.devices:
        room = house.room_of_device(device)
        if room is None or device.kind is DeviceKind.PROTECTOR:
            continue
        circuit = house.circuit_of(device)
        for circuit_id in (circuit.id if circuit else None, device.second_circuit_id):
            if circuit_id is not None:
                found[circuit_id][str(room.kind)] = None
    return {circuit_id: tuple(rooms) for circuit_id, rooms in found.items()}


def _facts(
    device: Device,
    kind: Kind,
    box: Box,
    room: Room,
    house: Dwelling,
    code: Edition,
    rooms: Mapping[str, tuple[str, ...]],
) -> OutletFacts:
    fixture = house.fixtures.get(device.fixture_id) if device.fixture_id else None
    circuit = house.circuit_of(device)
    level = house.levels.get(room.level_id)
    rated = RECEPTACLE_RATINGS.get(device.configuration or "") if kind == "receptacle" else None
    serves = _serves(device, fixture, box, room, house)
    volts = rated[0] if rated else device.volts or (fixture.volts if fixture else None)
    return OutletFacts(
        room=str(room.kind),
        kind=kind,
        finished=room.finished,
        in_basement=level is not None and level.below_grade is True and room.kind is not RoomKind.BASEMENT,
        volts=volts,
        amps=rated[1] if rated else None,
        serves=serves,
        height_in=height_of(box, room),
        from_sink_in=_from_sink(box, serves, house, code) if kind == "receptacle" else None,
        from_tub_in=_near(box, house, code, sink=False) if kind == "receptacle" else None,
        path_crosses=("cabinet door",) if box.inside_cabinet else (),
        dedicated=device.dedicated,
        single=device.receptacles == 1,
        readily_accessible=device.readily_accessible,
        damp=None if box.wetness is None else box.wetness is Wetness.DAMP,
        wet=None if box.wetness is None else box.wetness is Wetness.WET,
        listed_hvac=fixture.listed_hvac if fixture else None,
        floor_at_grade=_floor_at_grade(level, house),
        habitable=room.finished,
        food_provisions=_food_provisions(room, house),
        circuit_volts=circuit.volts if circuit else None,
        circuit_amps=circuit.rating_a if circuit else None,
        circuit_rooms=rooms.get(circuit.id, ()) if circuit else (),
        work_on=work_on(house),
        added_outlets=1 if house.site.work is WorkKind.EXTENSION else 0,
        nongrounding=device.configuration == "1-15",
        permit_date=house.site.permit_date,
    )  # fmt: skip


def _floor_at_grade(level: Level | None, house: Dwelling) -> bool | None:
    """A building's lowest storey stands on the ground; one above it does not."""
    if level is None:
        return None
    return level.below_grade is True or level is min(house.levels.values(), key=lambda each: each.order)


def height_of(box: Box, room: Room) -> Inches | None:
    """Height above the floor; at least that of a ceiling for a box in one."""
    if box.surface is Surface.CEILING:
        return room.ceiling_height_in or _CEILING_LEAST_IN
    if box.surface is Surface.FLOOR:
        return Fraction(0)
    return box.height_in


def _serves(device: Device, fixture: Fixture | None, box: Box, room: Room, house: Dwelling) -> str:
    if device.serves:
        return device.serves
    if fixture is not None:
        return str(fixture.kind)
    if device.kind in _SERVES:
        return _SERVES[device.kind]
    if device.kind is not DeviceKind.RECEPTACLE or room.kind is not RoomKind.KITCHEN:
        return "general"
    found = serves_counter(box, house)
    return "" if found is None else "countertop" if found else "general"


def serves_counter(box: Box, house: Dwelling) -> bool | None:
    """Whether a box is there for a counter: recorded so, or standing over one along its wall. None: not known."""
    if box.counter_id is not None or box.surface is Surface.COUNTER or box.below_counter_in is not None:
        return True
    if box.surface is not Surface.WALL:
        return False
    counters = [
        counter
        for counter in house.counters_of_room.get(box.room_id, ())
        if counter.kind is CounterKind.WALL and counter.wall_id is not None
    ]
    if box.wall_id is None or box.at_in is None:
        return None
    above = None if box.height_in is None else True
    for counter in counters:
        if counter.wall_id != box.wall_id or counter.from_in is None:
            continue
        top = counter.height_in or _COUNTER_TOP_IN
        if above and box.height_in is not None and box.height_in < top:
            continue
        start = counter.from_in
        if start <= box.at_in <= start + counter.length_in and not _at_appliance(
            counter.id, box.at_in - start, house
        ):
            return above
    return False


def _at_appliance(counter_id: str, at_in: Inches, house: Dwelling) -> bool:
    """Whether a place along a counter is behind a range or refrigerator, where there is no counter."""
    return any(
        item.kind in (BreakKind.RANGE, BreakKind.REFRIGERATOR) and item.from_in < at_in < item.to_in
        for item in house.breaks_of_counter.get(counter_id, ())
    )


def _food_provisions(room: Room, house: Dwelling) -> bool:
    """A sink, and something fixed to prepare, cook or keep food with, in a room that is no kitchen."""
    if room.kind is RoomKind.KITCHEN or not sinks_near(house, room.id):
        return False
    return any(fixture.kind in _PREPARATION for fixture in house.fixtures_of_room.get(room.id, ()))


def _from_sink(box: Box, serves: str, house: Dwelling, code: Edition) -> Inches | None:
    """Distance to a sink; what is plugged in under one is left to the reckoning, which knows that it is near."""
    distance = _near(box, house, code, sink=True)
    return None if serves in AT_THE_SINK and box.from_sink_in is None else distance


def _near(box: Box, house: Dwelling, code: Edition, *, sink: bool) -> Inches | None:
    """Distance to the nearest sink (or tub): the tape's, else what the plan settles; NOWHERE_NEAR without one."""
    measured = box.from_sink_in if sink else box.from_tub_in
    if measured is not None:
        return measured
    things = (sinks_near if sink else tubs_near)(house, box.room_id)
    if not things:
        return NOWHERE_NEAR
    node = "gfci.sink.within_ft" if sink else "gfci.tub.within_ft"
    if not code.has(node):
        return NOWHERE_NEAR
    limit_in = code.number(node) * 12
    nearest: Inches | None = NOWHERE_NEAR
    for thing in things:
        bounds = distance_to(box, thing, house) if thing is not None else None
        distance = bounds.settled(limit_in) if bounds is not None else None
        if distance is not None and distance <= limit_in:
            return distance
        if distance is None:
            nearest = None
        elif nearest is not None:
            nearest = min(nearest, distance)
    return nearest


def circuits_of(device: Device, house: Dwelling) -> tuple[Circuit, ...]:
    """The circuit of a device, and the second one of a split receptacle."""
    first = house.circuit_of(device)
    second = house.circuits.get(device.second_circuit_id) if device.second_circuit_id else None
    return tuple(circuit for circuit in (first, second) if circuit is not None)
