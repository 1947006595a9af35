"""The cheapest cure of a circuit's protection, as changes of facts. Nothing is written here.

    edits = protection_edits(circuit_id, house, code)
    edits.add, edits.change, edits.said           # None where the cure has to be entered by hand

A cure that hangs one outlet of a box on the load side of another, or one device behind another in the same box, has
no fact of its own (load sides are told by cables) and is left to the person.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final
from uuid import UUID, uuid5

from server.dwelling import Breaker, Device, DeviceKind, Dwelling
from server.editions import Edition
from server.readiness.run_edits import Change
from server.reckon.protection.cheapest import Placement, cheapest_protection
from server.reckon.protection.tree import SOURCE
from server.rules.protection_tree import CircuitProtection, placement_words, protection

__all__ = ["ProtectionEdits", "protection_edits"]

_BREAKERS: Final[Mapping[str, Breaker]] = {
    "standard breaker": Breaker.STANDARD,
    "gfci breaker": Breaker.GFCI,
    "afci breaker": Breaker.AFCI,
    "dual breaker": Breaker.DUAL,
}
_DEVICES: Final[Mapping[str, tuple[bool, bool]]] = {
    "gfci device": (True, False),
    "afci device": (False, True),
    "dual device": (True, True),
}
_NAMES: Final = UUID("5b3e4a52-96f7-4ef7-8b3b-0f6d1c0a77de")
"""Names a new device after its box and circuit: the same cure asked for twice is the same device."""


@dataclass(frozen=True, slots=True)
class ProtectionEdits:
    """What is to be changed, and what to say about it."""

    said: str
    add: tuple[Device, ...]
    change: tuple[Change, ...]


def protection_edits(circuit_id: str, house: Dwelling, code: Edition) -> ProtectionEdits | None:
    """The cheapest cure of what the circuit's outlets lack; None where there is none, or none that facts can tell."""
    found = house.derive(protection, code).by_circuit.get(circuit_id)
    if found is None:
        return None
    plan = cheapest_protection(found.tree, code)
    if not plan.possible or not plan.placements:
        return None
    changes: dict[tuple[str, str], dict[str, Any]] = {}
    add: list[Device] = []
    hosts = [item.where for item in plan.placements if item.what in _DEVICES]
    for item in plan.placements:
        if item.load_outlets or hosts.count(item.where) > 1:
            return None
        if not _put(item, found, house, changes, add):
            return None
    return ProtectionEdits(
        placement_words(plan.placements, found, house),
        tuple(add),
        tuple((kind, each, values) for (kind, each), values in changes.items()),
    )


def _put(
    item: Placement,
    found: CircuitProtection,
    house: Dwelling,
    changes: dict[tuple[str, str], dict[str, Any]],
    add: list[Device],
) -> bool:
    """One placement into the changes; false where no fact says it."""
    if item.where == SOURCE:
        breaker = _BREAKERS.get(item.what.removeprefix("two-pole "))
        if breaker is None or (item.what.startswith("two-pole ") and found.circuits[0].poles == 1 and len(found.circuits) == 1):  # fmt: skip
            return False
        for circuit in found.circuits:
            changes.setdefault(("circuit", circuit.id), {})["breaker"] = breaker
        return True
    if item.what in _DEVICES:
        gfci, afci = _DEVICES[item.what]
        if item.outlet is None:
            circuit = found.circuits["AB".index(item.leg)] if item.leg else found.circuits[0]
            made = str(uuid5(_NAMES, f"{item.where} {circuit.id} {item.what}"))
            add.append(
                Device(
                    made, item.where, DeviceKind.PROTECTOR, gfci=gfci, afci=afci, circuit_id=circuit.id,
                    load_cable_ids=item.load_cables, readily_accessible=True,
                )
            )  # fmt: skip
            return True
        device = house.devices.get(item.outlet)
        if device is None or device.kind is not DeviceKind.RECEPTACLE:
            return False
        _edit(changes, device, gfci=gfci or device.gfci, afci=afci or device.afci, on_load=item.load_cables)
        return True
    if item.what == "upgrade to dual":
        _edit(changes, house.devices[item.device], gfci=True, afci=True)
        return True
    if item.what in ("move to load", "move to line"):
        for device in house.facts.devices:
            if device.box_id == item.where and set(item.load_cables) & set(device.load_cable_ids):
                _edit(changes, device, off_load=item.load_cables)
        if item.device:
            _edit(changes, house.devices[item.device], on_load=item.load_cables)
        return True
    return False


def _edit(
    changes: dict[tuple[str, str], dict[str, Any]],
    device: Device,
    *,
    on_load: tuple[str, ...] = (),
    off_load: tuple[str, ...] = (),
    **values: bool,
) -> None:
    """More changes of one device; its load side keeps what it had."""
    wanted = changes.setdefault(("device", device.id), {})
    wanted.update(values)
    now: tuple[str, ...] = wanted.get("load_cable_ids", device.load_cable_ids)
    after = tuple(each for each in dict.fromkeys((*now, *on_load)) if each not in off_load)
    if after != device.load_cable_ids or "load_cable_ids" in wanted:
        wanted["load_cable_ids"] = after
