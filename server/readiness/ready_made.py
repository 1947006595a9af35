"""Boxes as they are usually set, each with its device: one tap places both, and what differs is changed afterwards.

Heights and volumes are common practice (``practice.*`` in the editions). The devices are what the trade fits there;
whether that is enough is judged by the rules, like anything else that is entered.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Final

from server.dwelling import (
    Box,
    BoxMaterial,
    Clamps,
    Device,
    DeviceKind,
    Dwelling,
    Inches,
    Room,
    RoomKind,
    Surface,
    SwitchWays,
    Wetness,
)
from server.editions import Edition

__all__ = ["READY_MADE", "ReadyMade", "Spot", "make_ready", "next_label", "uncontrolled_lights"]

_HEAVY_BOX: Final = "4-11/16 x 2-1/8 square"
_OUTDOORS: Final = (RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.BOATHOUSE)
_CONTROLLED: Final = (DeviceKind.LUMINAIRE, DeviceKind.FAN, DeviceKind.EXHAUST_FAN)


@dataclass(frozen=True, slots=True)
class ReadyMade:
    """A box with its devices. ``height`` names a value of ``practice.*_height_in``; ``devices`` are kind and fields."""

    id: str
    word: str
    note: str
    letter: str
    surface: Surface
    height: str = ""
    gangs: int = 1
    heavy: bool = False
    box: Mapping[str, Any] = field(default_factory=dict)
    devices: tuple[tuple[DeviceKind, Mapping[str, Any]], ...] = ()


_RECEPTACLE: Final = {"configuration": "5-15", "tamper_resistant": True}
_20_A: Final = {"configuration": "5-20", "tamper_resistant": True}


def _receptacle(**more: Any) -> tuple[tuple[DeviceKind, Mapping[str, Any]], ...]:
    return ((DeviceKind.RECEPTACLE, {**_RECEPTACLE, **more}),)


def _switch(ways: SwitchWays = SwitchWays.SINGLE_POLE, **more: Any) -> tuple[DeviceKind, Mapping[str, Any]]:
    return DeviceKind.SWITCH, {"ways": ways, **more}


READY_MADE: Final[Mapping[str, ReadyMade]] = {
    item.id: item
    for item in (
        ReadyMade("receptacle", "Receptacle", "15 A duplex, tamper-resistant", "R", Surface.WALL, "receptacle", devices=_receptacle()),
        ReadyMade("gfci", "GFCI receptacle", "20 A, tamper-resistant", "R", Surface.WALL, "receptacle", devices=_receptacle(**_20_A, gfci=True)),
        ReadyMade("counter", "Counter receptacle", "20 A GFCI over a counter", "R", Surface.WALL, "counter_box", devices=_receptacle(**_20_A, gfci=True, serves="countertop")),
        ReadyMade("switch", "Switch", "single-pole", "S", Surface.WALL, "switch", devices=(_switch(),)),
        ReadyMade("three-way", "Three-way switch", "one of two places", "S", Surface.WALL, "switch", devices=(_switch(SwitchWays.THREE_WAY),)),
        ReadyMade("two-switches", "Two switches", "two-gang box", "S", Surface.WALL, "switch", gangs=2, devices=(_switch(), _switch())),
        ReadyMade("luminaire", "Ceiling light", "luminaire on a ceiling box", "L", Surface.CEILING, devices=((DeviceKind.LUMINAIRE, {}),)),
        ReadyMade("wall-luminaire", "Wall light", "luminaire on the wall, 6 ft 8 in up", "L", Surface.WALL, box={"height_in": Fraction(80)}, devices=((DeviceKind.LUMINAIRE, {}),)),
        ReadyMade("fan", "Ceiling fan", "box rated for a fan", "F", Surface.CEILING, box={"fan_rated": True}, devices=((DeviceKind.FAN, {}),)),
        ReadyMade("exhaust-fan", "Exhaust fan", "bath or laundry", "F", Surface.CEILING, devices=((DeviceKind.EXHAUST_FAN, {}),)),
        ReadyMade("smoke", "Smoke alarm", "on the ceiling", "A", Surface.CEILING, devices=((DeviceKind.SMOKE_ALARM, {}),)),
        ReadyMade("smoke-co", "Smoke and CO alarm", "on the ceiling", "A", Surface.CEILING, devices=((DeviceKind.SMOKE_CO_ALARM, {}),)),
        ReadyMade(
            "dryer", "Dryer receptacle", "14-30 in a large metal box", "R", Surface.WALL, "counter_box", 2, True,
            devices=((DeviceKind.RECEPTACLE, {"configuration": "14-30", "receptacles": 1, "serves": "dryer", "dedicated": True}),),
        ),
        ReadyMade(
            "range", "Range receptacle", "14-50 in a large metal box", "R", Surface.WALL, "receptacle", 2, True,
            devices=((DeviceKind.RECEPTACLE, {"configuration": "14-50", "receptacles": 1, "serves": "range", "dedicated": True}),),
        ),
        ReadyMade("floor", "Floor receptacle", "in the floor near this wall", "R", Surface.FLOOR, box={"height_in": Fraction(0)}, devices=_receptacle()),
        ReadyMade("junction", "Junction box", "no device, blank cover", "J", Surface.WALL, "switch"),
    )
}  # fmt: skip
"""By id, the most used first."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a box goes: along a wall, or on the ceiling or floor from the room's first corner. What is None is
    filled from common practice: the usual height, the middle of the ceiling."""

    wall_id: str | None = None
    at_in: Inches | None = None
    height_in: Inches | None = None
    x_in: Inches | None = None
    y_in: Inches | None = None
    off_wall_in: Inches | None = None
    counter_id: str | None = None


def make_ready(
    item: ReadyMade, spot: Spot, room: Room, house: Dwelling, code: Edition, new_id: Callable[[str], str]
) -> tuple[Box, tuple[Device, ...]]:
    """The box and its devices, ready to be added.

    A switch is given the room's lights and fans that nothing controls yet, in order: one a gang. Outdoors a box
    is in a wet place and its receptacle weather-resistant.
    """
    wet = room.kind in _OUTDOORS
    on_wall = item.surface is not Surface.CEILING
    size: dict[str, Any] = (
        {
            "material": BoxMaterial.METAL,
            "trade_size": _HEAVY_BOX,
            "clamps": Clamps.EXTERNAL,
        }
        if item.heavy
        else {
            "material": BoxMaterial.NONMETALLIC,
            "volume_in3": _volume_in3(item, code),
            "clamps": Clamps.NONE if item.gangs == 1 and on_wall else Clamps.INTERNAL,
        }
    )
    usual_in = code.number(f"practice.{item.height}_height_in") if item.height else item.box.get("height_in")
    box = Box(
        id=new_id("box"), room_id=room.id, label=next_label(item.letter, room.id, house),
        order=1 + max((one.order for one in house.boxes_of_room.get(room.id, ())), default=-1),
        surface=item.surface,
        wall_id=spot.wall_id if on_wall else None,
        at_in=spot.at_in if on_wall else None,
        height_in=(spot.height_in if spot.height_in is not None else usual_in) if on_wall else None,
        x_in=None if on_wall else _or_middle(spot.x_in, room.length_in),
        y_in=None if on_wall else _or_middle(spot.y_in, room.width_in),
        off_wall_in=spot.off_wall_in if item.surface is Surface.FLOOR else None,
        gangs=item.gangs, counter_id=spot.counter_id, wetness=Wetness.WET if wet else None,
        **size, **{name: value for name, value in item.box.items() if name != "height_in"},
    )  # fmt: skip
    waiting = uncontrolled_lights(room.id, house)
    devices = []
    for order, (kind, given) in enumerate(item.devices):
        more = dict(given)
        if kind is DeviceKind.SWITCH and order < len(waiting):
            more["controls"] = (waiting[order].id,)
        if kind is DeviceKind.RECEPTACLE and wet:
            more |= {"weather_resistant": True}
        devices.append(Device(id=new_id("device"), box_id=box.id, kind=kind, order=order, **more))
    return box, tuple(devices)


def _volume_in3(item: ReadyMade, code: Edition) -> Fraction:
    if item.surface is Surface.CEILING:
        return code.number("practice.ceiling_box_in3")
    return code.number("practice.deep_box_in3") + (item.gangs - 1) * code.number(
        "practice.each_more_gang_in3"
    )


def _or_middle(given: Inches | None, side_in: Inches | None) -> Inches | None:
    return given if given is not None else side_in / 2 if side_in is not None else None


def next_label(letter: str, room_id: str, house: Dwelling) -> str:
    """The next free label of a room: ``R5`` after ``R4``."""
    taken = {box.label for box in house.boxes_of_room.get(room_id, ())}
    number = 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"


def uncontrolled_lights(room_id: str, house: Dwelling) -> list[Device]:
    """The luminaires and fans of a room that no switch controls yet."""
    return [
        device
        for device in house.devices_in_room(room_id)
        if device.kind in _CONTROLLED and not house.controlled_by.get(device.id)
    ]
