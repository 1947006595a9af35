"""Who switches what: lights and receptacles under wall switches, room by room."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from server.dwelling import Device, DeviceKind, Dwelling

__all__ = ["RoomLights", "room_lights", "switched", "wall_switches_of"]


@dataclass(slots=True)
class RoomLights:
    """What gives light in a room: luminaires under a wall switch and without one, receptacles under one.

    ``idle_switches`` are switches of the room for which nobody recorded what they control.
    """

    switched: list[Device] = field(default_factory=list)
    unswitched: list[Device] = field(default_factory=list)
    receptacles: list[Device] = field(default_factory=list)
    idle_switches: list[Device] = field(default_factory=list)


_NONE = RoomLights()


def wall_switches_of(device: Device, house: Dwelling) -> list[Device]:
    """The switches that control a device."""
    return [d for d in house.controlled_by.get(device.id, ()) if d.kind is DeviceKind.SWITCH]


def switched(device: Device, house: Dwelling) -> Literal["no", "half", "whole"]:
    """How much of a receptacle a wall switch turns off: a duplex with one half always live is ``half``."""
    if device.kind is not DeviceKind.RECEPTACLE or device.id not in house.controlled_by:
        return "no"
    if not wall_switches_of(device, house):
        return "no"
    return "half" if device.switched_half is not None and device.receptacles > 1 else "whole"


def room_lights(house: Dwelling, room_id: str) -> RoomLights:
    """The lights of a room; empty where it has none."""
    return house.derive(_by_room).get(room_id, _NONE)


def _by_room(house: Dwelling) -> Mapping[str, RoomLights]:
    rooms: dict[str, RoomLights] = defaultdict(RoomLights)
    for device in house.facts.devices:
        box = house.boxes.get(device.box_id)
        if box is None:
            continue
        match device.kind:
            case DeviceKind.LUMINAIRE:
                lights = rooms[box.room_id]
                (lights.switched if wall_switches_of(device, house) else lights.unswitched).append(device)
            case DeviceKind.RECEPTACLE if switched(device, house) != "no":
                rooms[box.room_id].receptacles.append(device)
            case DeviceKind.SWITCH if not device.controls:
                rooms[box.room_id].idle_switches.append(device)
            case _:
                pass
    return dict(rooms)
