"""How rules name things in their sentences: by the words on the job, else by kind and place.

Called only where a sentence needs the name (a correction, a recorder): never in the silent path of a clear one.
"""

from __future__ import annotations

from server.dwelling import Box, Cable, Circuit, Device, DeviceKind, Dwelling, Surface, format_length

__all__ = ["box_name", "cable_between", "cable_name", "capital", "circuit_name", "device_name", "kind_words"]


def capital(words: str) -> str:
    """Words at the beginning of a sentence."""
    return words[:1].upper() + words[1:]


def cable_name(cable: Cable) -> str:
    """``14-2 NM-B``, ``3-conductor MC``."""
    size = f"{cable.awg}-{cable.insulated}" if cable.awg else f"{cable.insulated}-conductor"
    return f"{size} {str(cable.kind).upper()}"


def cable_between(cable: Cable, house: Dwelling) -> str:
    """``the 14-3 NM-B from Panel A to the box “sink left” of Kitchen``."""
    ends = []
    for box_id, panel_id in ((cable.a_box_id, cable.a_panel_id), (cable.b_box_id, cable.b_panel_id)):
        if box_id is not None and box_id in house.boxes:
            ends.append(box_name(house.boxes[box_id], house))
        elif panel_id is not None and panel_id in house.panels:
            ends.append(house.panels[panel_id].name)
    return f"the {cable_name(cable)}" + (f" from {ends[0]} to {ends[1]}" if len(ends) == 2 else "")


def circuit_name(circuit: Circuit) -> str:
    """``circuit 7 (Kitchen counter)``; a two-pole one by both its spaces."""
    spaces = "-".join(map(str, circuit.spaces))
    return f"circuit {spaces} ({circuit.name})" if spaces else f"circuit {circuit.name}"


def box_name(box: Box, house: Dwelling) -> str:
    """``the box “sink left”``, or the box by its place: ``the box at 3 ft on wall 2 of the kitchen``."""
    room = house.rooms.get(box.room_id)
    where = f" of {room.name}" if room else ""
    if box.label:
        return f"the box “{box.label}”{where}"
    wall = house.walls.get(box.wall_id) if box.wall_id else None
    if wall is not None and box.at_in is not None:
        return f"the box at {format_length(box.at_in)} on {wall.name or f'wall {wall.order + 1}'}{where}"
    if box.surface is not Surface.WALL:
        return f"the {box.surface} box{where}"
    return f"a box{where}"


def device_name(device: Device, house: Dwelling) -> str:
    """``the receptacle “fridge”``, or the device by its box."""
    kind = kind_words(device)
    if device.label:
        return f"the {kind} “{device.label}”"
    box = house.boxes.get(device.box_id)
    return f"the {kind} at {box_name(box, house)}" if box else f"the {kind}"


def kind_words(device: Device) -> str:
    """What a device is called in a sentence: what is wired in for an appliance is its outlet."""
    return "wired-in outlet" if device.kind is DeviceKind.HARDWIRED else str(device.kind)
