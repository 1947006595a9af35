"""Facts that do not fit together: references to nothing, and wiring that is only half entered.

A *fault* is a field that has to be corrected before anything can be reckoned (the sheet answers 422 with its
place); :class:`NoHookup` says in one sentence why whole facts have no lawful hookup.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from server.reckon.hookup.facts import Kind, Wiring

__all__ = ["Fault", "NoHookup", "faults_of"]

Place = tuple[str | int, ...]


class NoHookup(Exception):
    """Why there is no lawful hookup, in one sentence for a person. Never leaves this package."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A field that refers to nothing, or to the wrong thing."""

    place: Place
    expected: str
    came: object

    @property
    def sentence(self) -> str:
        """Place, what was expected and what came, in one line."""
        return f"{'.'.join(map(str, self.place))}: {self.expected}; came {self.came!r}"


def faults_of(wiring: Wiring) -> list[Fault]:
    """Every reference that leads nowhere and every id that stands twice."""
    return [*_ids(wiring), *_cables(wiring), *_devices(wiring), *_neutral(wiring)]


def _ids(wiring: Wiring) -> Iterator[Fault]:
    ids = {
        "nodes": [node.id for node in wiring.nodes],
        "cables": [cable.id for cable in wiring.cables],
        "devices": [device.id for device in wiring.devices],
    }
    for name, given in ids.items():
        seen: set[str] = set()
        for index, one in enumerate(given):
            if one in seen:
                yield Fault((name, index, "id"), f"expected an id that no other of {name} has", one)
            seen.add(one)
    sources = {node.id for node in wiring.nodes if node.is_source}
    for index, device in enumerate(wiring.devices):
        if device.id in sources:
            yield Fault(("devices", index, "id"), "expected an id that no source has", device.id)
    for index, node in enumerate(wiring.nodes):
        if node.legs not in (1, 2) or (node.legs == 2 and not node.is_source):
            yield Fault(("nodes", index, "legs"), "expected 1, or 2 for a multiwire source", node.legs)


def _cables(wiring: Wiring) -> Iterator[Fault]:
    nodes = {node.id for node in wiring.nodes}
    for index, cable in enumerate(wiring.cables):
        for end, node in (("a", cable.a), ("b", cable.b)):
            if node not in nodes:
                yield Fault(("cables", index, end), f"expected a node for this end of cable {cable.id}", node)
        if cable.insulated < 1:
            yield Fault(("cables", index, "insulated"), "expected at least 1", cable.insulated)
        if cable.colors and len(cable.colors) != cable.insulated:
            yield Fault(
                ("cables", index, "colors"),
                f"expected {cable.insulated} colors, one a conductor",
                cable.colors,
            )
        if len(set(cable.colors)) < len(cable.colors):
            yield Fault(("cables", index, "colors"), "expected each color once", cable.colors)


def _devices(wiring: Wiring) -> Iterator[Fault]:
    nodes = {node.id: node for node in wiring.nodes}
    kinds = {device.id: device.kind for device in wiring.devices}
    for index, device in enumerate(wiring.devices):
        here: Place = ("devices", index)
        if device.node not in nodes:
            yield Fault((*here, "node"), f"expected the node that {device.id} is in", device.node)
        if device.controls and device.kind is not Kind.SWITCH:
            yield Fault((*here, "controls"), "expected nothing: only a switch controls", device.controls)
        for at, load in enumerate(device.controls):
            if load not in kinds:
                yield Fault((*here, "controls", at), "expected the id of a device", load)
            elif kinds[load] is Kind.SWITCH:
                yield Fault((*here, "controls", at), f"expected a load; {load} is a switch", load)
        for load, _half in device.halves:
            if load not in device.controls or kinds.get(load) is not Kind.RECEPTACLE:
                yield Fault((*here, "halves"), "expected receptacles that the switch controls", load)
        if device.protects and device.kind is not Kind.GFCI:
            yield Fault((*here, "protects"), "expected nothing: only a gfci protects", device.protects)
        for at, load in enumerate(device.protects):
            if load not in kinds or load == device.id:
                yield Fault((*here, "protects", at), "expected the id of another device", load)
        if device.ways is not None and device.kind is not Kind.SWITCH:
            yield Fault((*here, "ways"), "expected nothing: only a switch has ways", device.ways.value)
        if device.split is not None and device.kind is not Kind.RECEPTACLE:
            yield Fault((*here, "split"), "expected nothing: only a receptacle is split", device.split.value)
        if device.source is not None and (device.source not in nodes or not nodes[device.source].is_source):
            yield Fault((*here, "source"), "expected the id of a source", device.source)
        for field, leg in (("leg", device.leg), ("second_leg", device.second_leg)):
            if leg not in (None, 1, 2):
                yield Fault((*here, field), "expected 1 or 2", leg)


def _neutral(wiring: Wiring) -> Iterator[Fault]:
    nodes = {node.id for node in wiring.nodes}
    for node in sorted((wiring.neutral_exempt | wiring.neutral_required) - nodes):
        yield Fault(("neutral_at_switch",), "expected ids of nodes", node)
