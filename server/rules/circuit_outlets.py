"""What each circuit serves: its outlets with their box, room and purpose, switches left out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from server.dwelling import Box, Circuit, Device, DeviceKind, Dwelling, Fixture, Room
from server.rules.naming import box_name, kind_words
from server.rules.outlet_facts import circuits_of

__all__ = ["Outlet", "devices_of_fixture", "outlet_words", "outlets_of"]

_NO_OUTLET = (DeviceKind.SWITCH, DeviceKind.PROTECTOR)


@dataclass(frozen=True, slots=True)
class Outlet:
    """A receptacle, luminaire, alarm or piece of equipment on a circuit. ``serves`` is the fixture's kind, or what
    was written; empty for a general receptacle."""

    device: Device
    box: Box
    room: Room
    fixture: Fixture | None
    serves: str

    @property
    def is_receptacle(self) -> bool:
        return self.device.kind is DeviceKind.RECEPTACLE


def outlets_of(circuit: Circuit, house: Dwelling) -> list[Outlet]:
    """The outlets of a circuit, in the order of the house."""
    return house.derive(_by_circuit).get(circuit.id, [])


def _by_circuit(house: Dwelling) -> Mapping[str, list[Outlet]]:
    found: dict[str, list[Outlet]] = defaultdict(list)
    for device in house.facts.devices:
        if device.kind in _NO_OUTLET:
            continue
        box = house.boxes.get(device.box_id)
        room = house.rooms.get(box.room_id) if box else None
        if box is None or room is None:
            continue
        fixture = house.fixtures.get(device.fixture_id) if device.fixture_id else None
        outlet = Outlet(device, box, room, fixture, device.serves or (str(fixture.kind) if fixture else ""))
        for circuit in circuits_of(device, house):
            found[circuit.id].append(outlet)
    return dict(found)


def devices_of_fixture(fixture: Fixture, house: Dwelling) -> list[Device]:
    """The outlets that are there for one appliance or piece of equipment."""
    return house.derive(_by_fixture).get(fixture.id, [])


def _by_fixture(house: Dwelling) -> Mapping[str, list[Device]]:
    found: dict[str, list[Device]] = defaultdict(list)
    for device in house.facts.devices:
        if device.fixture_id is not None and device.kind not in _NO_OUTLET:
            found[device.fixture_id].append(device)
    return dict(found)


def outlet_words(outlet: Outlet, house: Dwelling) -> str:
    """``the luminaire at the box ...``, ``the receptacle for the dishwasher of Kitchen``."""
    if outlet.device.label:
        return f"the {kind_words(outlet.device)} “{outlet.device.label}” of {outlet.room.name}"
    if outlet.serves not in ("", "general"):
        return f"the {kind_words(outlet.device)} for the {outlet.serves} of {outlet.room.name}"
    return f"the {kind_words(outlet.device)} at {box_name(outlet.box, house)}"
