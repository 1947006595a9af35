"""What a box and a device are called, and what is recorded of them, in the trade's words."""

from __future__ import annotations

from server.dwelling import (
    Box,
    Device,
    DeviceKind,
    Dwelling,
    Half,
    Surface,
    SwitchWays,
    format_length,
)
from server.pages.room_drawings import wall_name
from server.readiness.words import write_number

__all__ = ["box_name", "box_size", "box_where", "device_name", "device_notes"]

_HALVES = {Half.TOP: "top half switched", Half.BOTTOM: "bottom half switched"}


def box_name(box: Box) -> str:
    """``R3``, or ``Box`` where it has no label."""
    return box.label or "Box"


def box_where(box: Box, house: Dwelling) -> str:
    """``Wall 2 at 4 ft, 16 in up``; ``ceiling, 6 ft by 5 ft from the first corner``."""
    wall = house.walls.get(box.wall_id or "")
    if wall is not None and box.at_in is not None:
        up = f", {format_length(box.height_in)} up" if box.height_in is not None else ""
        words = f"{wall_name(wall)} at {format_length(box.at_in)}"
        if box.surface is Surface.FLOOR:
            out = f"{format_length(box.off_wall_in)} out" if box.off_wall_in is not None else "out"
            return f"floor, {out} from {words}"
        return words + up
    if box.x_in is not None and box.y_in is not None:
        return f"{box.surface.value}, {format_length(box.x_in)} by {format_length(box.y_in)} from the first corner"
    return f"{wall_name(wall)}, place not measured" if wall is not None else box.surface.value


def box_size(box: Box) -> str:
    """``22.5 in³ nonmetallic, 2-gang``."""
    volume = (
        f"{write_number(box.volume_in3)} in³"
        if box.volume_in3 is not None
        else box.trade_size or "size not entered"
    )
    words = [volume, *([box.material.value] if box.material else [])]
    return " ".join(words) + (f", {box.gangs}-gang" if box.gangs > 1 else "")


def device_name(device: Device) -> str:
    """``Receptacle``, ``three-way switch``, or its label."""
    if device.label:
        return device.label
    if device.kind is DeviceKind.SWITCH:
        ways = (device.ways or SwitchWays.SINGLE_POLE).value
        return f"{ways} {'dimmer' if device.dimmer else 'switch'}"
    return device.kind.value


def device_notes(device: Device, house: Dwelling) -> tuple[str, ...]:
    """What is recorded of a device, a few words each."""
    notes: list[str] = []
    if device.kind is DeviceKind.RECEPTACLE:
        notes.append(f"{device.configuration}" if device.configuration else "configuration not entered")
        if device.receptacles != 2:
            notes.append("single" if device.receptacles == 1 else f"{device.receptacles} receptacles")
    notes += [
        word
        for on, word in (
            (device.gfci, "GFCI"), (device.afci, "AFCI"), (device.tamper_resistant, "tamper-resistant"),
            (device.weather_resistant, "weather-resistant"), (device.dedicated, "for this alone"),
            (device.isolated_ground, "isolated ground"), (device.recessed, "recessed"),
            (device.domed, "domed"),
        )
        if on
    ]  # fmt: skip
    if device.switched_half is not None:
        notes.append(_HALVES[device.switched_half])
    if device.serves:
        notes.append(f"serves the {device.serves}")
    fixture = house.fixtures.get(device.fixture_id or "")
    if fixture is not None and not device.serves:
        notes.append(f"serves the {fixture.name or fixture.kind.value}")
    if device.lamp:
        notes.append(device.lamp)
    if device.weight_lb is not None:
        notes.append(f"{write_number(device.weight_lb)} lb")
    if device.kind is DeviceKind.SWITCH:
        targets = [house.devices[target] for target in device.controls if target in house.devices]
        notes.append("controls " + (", ".join(_in_box(each, house) for each in targets) or "nothing yet"))
    switches = house.controlled_by.get(device.id, [])
    if switches:
        notes.append("switched by " + ", ".join(_in_box(each, house) for each in switches))
    circuit = house.circuit_of(device)
    if device.circuit_id is not None and circuit is not None:
        notes.append(f"on {circuit.name}")
    return tuple(notes)


def _in_box(device: Device, house: Dwelling) -> str:
    box = house.box_of(device)
    return f"{device_name(device)} in {box_name(box)}" if box is not None else device_name(device)
