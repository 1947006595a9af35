"""What boxes, cables and devices of a circuit are called where its wires are told: short, and no two alike.

A hookup is reckoned with these names as its ids, so that its sentences can be read by the person at the box:
``Cable 2 (14-2) from Stair S1 to Stair L1 has 2 insulated conductors and needs 3``.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from server.dwelling import Box, Cable, Device, DeviceKind, Dwelling, Surface, format_length
from server.rules.runs import Run

__all__ = ["Names", "cable_size", "device_word", "listed", "names_of", "short_box_name"]

_WORDS: Final[Mapping[DeviceKind, str]] = {
    DeviceKind.PROTECTOR: "faceless protector",
    DeviceKind.HARDWIRED: "outlet",
    DeviceKind.OTHER: "outlet",
}


@dataclass(frozen=True, slots=True)
class Names:
    """Name by id, and id by name. ``panel`` is what the source is called."""

    panel: str
    box: Mapping[str, str]
    cable: Mapping[str, str]
    device: Mapping[str, str]
    box_id: Mapping[str, str]
    cable_id: Mapping[str, str]
    device_id: Mapping[str, str]


def cable_size(cable: Cable) -> str:
    """``14-2``; ``2-wire`` where no size is recorded."""
    return f"{cable.awg}-{cable.insulated}" if cable.awg else f"{cable.insulated}-wire"


def short_box_name(box: Box, house: Dwelling) -> str:
    """``Stair S1``, ``Stair ceiling box``, ``Stair box at 3 ft on wall 2``."""
    room = house.rooms.get(box.room_id)
    wall = house.walls.get(box.wall_id) if box.wall_id else None
    if box.label:
        what = box.label
    elif wall is not None and box.at_in is not None:
        what = f"box at {format_length(box.at_in)} on {wall.name or f'wall {wall.order + 1}'}"
    else:
        what = "box" if box.surface is Surface.WALL else f"{box.surface} box"
    return _clean(f"{room.name} {what}" if room else what)


def device_word(device: Device) -> str:
    """``three-way``, ``dimmer``, ``GFCI receptacle``, ``luminaire``: what the trade calls it."""
    if device.kind is DeviceKind.SWITCH:
        ways = str(device.ways) if device.ways else "switch"
        if device.dimmer:
            return "dimmer" if ways in ("switch", "single-pole") else f"{ways} dimmer"
        return ways if ways in ("switch", "three-way", "four-way") else f"{ways} switch"
    marks = "/".join(word for on, word in ((device.gfci, "GFCI"), (device.afci, "AFCI")) if on)
    if device.kind is DeviceKind.PROTECTOR:
        return f"faceless {marks}" if marks else _WORDS[device.kind]
    word = (
        device.serves
        if device.kind in _WORDS and device.serves
        else _WORDS.get(device.kind, str(device.kind))
    )
    return f"{marks} {word}" if marks and device.kind is DeviceKind.RECEPTACLE else word


def names_of(panel: str, boxes: Iterable[Box], devices: Iterable[Device], run: Run, house: Dwelling) -> Names:
    """The names of everything on one run. A device alone in its box goes by the box's name."""
    taken: set[str] = set()
    panel = _free(_clean(panel), taken)
    box = {each.id: _free(short_box_name(each, house), taken) for each in boxes}
    in_box: dict[str, list[Device]] = {}
    for each in devices:
        in_box.setdefault(each.box_id, []).append(each)
    taken = {panel}
    device: dict[str, str] = {}
    for box_id, members in in_box.items():
        where = box.get(box_id, "nowhere")
        for each in members:
            own = _clean(each.label) or (device_word(each) if len(members) > 1 else "")
            device[each.id] = _free(f"{where} {own}".rstrip(), taken)
    cable = {
        each: f"{number} ({cable_size(house.cables[each])})"
        for each, number in run.numbers.items()
        if each in house.cables
    }
    return Names(panel, box, cable, device, _turned(box), _turned(cable), _turned(device))


def _free(name: str, taken: set[str]) -> str:
    """A name that nothing else has, which is then taken."""
    found, number = name, 2
    while found in taken:
        found = f"{name} ({number})"
        number += 1
    taken.add(found)
    return found


def _clean(name: str) -> str:
    """Without characters that no person typed on purpose; the reckoning uses one of them as a mark of its own."""
    if name.isprintable() and "  " not in name:
        return name.strip()
    return " ".join("".join(each if each.isprintable() else " " for each in name).split())


def _turned(names: Mapping[str, str]) -> dict[str, str]:
    return {name: each for each, name in names.items()}


def listed(names: Collection[str]) -> str:
    """``A``, ``A and B``, ``A, B and C``."""
    every = list(names)
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} and {every[-1]}" if every else ""
