"""Each circuit of a house as the tree that protection is followed along, and what came of it.

Built once per house and edition (``house.derive(protection, code)``): what every outlet needs, by what it is
protected, and what is wrong with the wiring of breakers and devices. Circuits that share their grounded conductor
are one tree with two legs.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from operator import attrgetter

from server.dwelling import (
    Box,
    BoxMaterial,
    Breaker,
    Cable,
    CableKind,
    Circuit,
    Device,
    DeviceKind,
    Dwelling,
    Surface,
)
from server.editions import Edition
from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.cheapest import Placement, cheapest_protection
from server.reckon.protection.coverage import Coverage, OutletCoverage, trace_protection
from server.reckon.protection.facts import OutletFacts, Requirement
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.protection.tree import (
    SOURCE,
    ProtectionTree,
    Protector,
    Source,
    TreeBox,
    TreeCable,
    TreeOutlet,
)
from server.reckon.remembered import remembered
from server.rules.naming import box_name, circuit_name, device_name
from server.rules.outlet_facts import circuits_of, outlet_facts, work_on

__all__ = ["CircuitProtection", "Need", "cure_words", "placement_words", "protected_by_words", "protection"]

_LARGEST_DEVICE_A = 20
"""Receptacles and faceless devices with protection are made for 120 V and up to 20 A (common practice)."""
_HIGHEST_REACH_IN = Fraction(79)
"""Above this a device is no longer within reach from the floor (404.8(A): 6 ft 7 in)."""


@dataclass(frozen=True, slots=True)
class Need:
    """What one outlet needs (None for a faceless device) and by what it is protected, per protection."""

    gfci: Requirement
    afci: Requirement
    coverage: OutletCoverage | None


@dataclass(frozen=True, slots=True)
class CircuitProtection:
    """One circuit, or two that share their neutral: the tree and what following it gave."""

    circuits: tuple[Circuit, ...]
    tree: ProtectionTree
    coverage: Coverage


@dataclass(frozen=True, slots=True)
class Protection:
    """Everything about protection in a house: per device, and per circuit."""

    needs: Mapping[str, Need]
    by_circuit: Mapping[str, CircuitProtection]


def protection(house: Dwelling, code: Edition) -> Protection:
    """Who needs what, who has it; over the whole house."""
    wanted: dict[str, tuple[Requirement, Requirement]] = {}
    gfci: dict[Hashable, Requirement] = {}
    afci: dict[Hashable, Requirement] = {}
    for device in house.facts.devices:
        facts = outlet_facts(device, house, code)
        if facts is not None:
            # a bedroom's receptacles are all asked the same question
            key = _circuit_question(facts)
            if key not in afci:
                afci[key] = _afci(facts, code)
            near = (key, facts.from_sink_in, facts.from_tub_in, *_outlet_question(facts))
            if near not in gfci:
                gfci[near] = _gfci(facts, code)
            wanted[device.id] = gfci[near], afci[key]
    by_circuit: dict[str, CircuitProtection] = {}
    covered: dict[str, OutletCoverage] = {}
    on = house.derive(_devices_of_circuits)
    for circuit in house.facts.circuits:
        if circuit.id in by_circuit:
            continue
        partner = house.circuits.get(circuit.multiwire_with or "")
        circuits = (circuit, partner) if partner is not None and partner is not circuit else (circuit,)
        tree = _tree(circuits, house, wanted, on)
        found = CircuitProtection(circuits, tree, trace_protection(tree, code))
        for each in circuits:
            by_circuit[each.id] = found
        covered.update((outlet.outlet, outlet) for outlet in found.coverage.outlets)
    needs = {
        device_id: Need(gfci, afci, covered.get(device_id)) for device_id, (gfci, afci) in wanted.items()
    }
    return Protection(needs, by_circuit)


_circuit_question = attrgetter(
    "room", "kind", "finished", "habitable", "serves", "dedicated", "outdoors", "volts", "amps", "phases", "circuit_volts",
    "circuit_amps", "circuit_rooms", "work_on", "extension_in", "added_outlets", "gfci_protected", "metal_wiring",
)  # fmt: skip
"""All that 210.12 looks at in an outlet."""
_outlet_question = attrgetter(
    "in_basement", "path_crosses", "single", "readily_accessible", "part_of_equipment", "damp", "wet", "listed_hvac",
    "floor_at_grade", "food_provisions", "walk_out", "volts_to_ground", "permit_date",
)  # fmt: skip
"""What 210.8 looks at besides, the distances apart."""


@remembered(8192)
def _gfci(facts: OutletFacts, code: Edition) -> Requirement:
    return gfci_required(facts, code)


@remembered(8192)
def _afci(facts: OutletFacts, code: Edition) -> Requirement:
    return afci_required(facts, code)


def _devices_of_circuits(house: Dwelling) -> Mapping[str, list[Device]]:
    found: dict[str, list[Device]] = {circuit.id: [] for circuit in house.facts.circuits}
    for device in house.facts.devices:
        for circuit in circuits_of(device, house):
            found[circuit.id].append(device)
    return found


def _tree(
    circuits: tuple[Circuit, ...],
    house: Dwelling,
    wanted: Mapping[str, tuple[Requirement, Requirement]],
    on: Mapping[str, list[Device]],
) -> ProtectionTree:
    legs = {circuit.id: leg for circuit, leg in zip(circuits, "AB", strict=False)}
    by_id = {cable.id: cable for circuit in circuits for cable in house.cables_of_circuit.get(circuit.id, ())}
    cables = tuple(by_id.values())
    boxes: dict[str, Box] = {}
    for cable in cables:
        for end in (cable.a_box_id, cable.b_box_id):
            if end and end in house.boxes:
                boxes[end] = house.boxes[end]
    devices = tuple({device.id: device for circuit in circuits for device in on[circuit.id]}.values())
    for device in devices:
        if device.box_id in house.boxes:
            boxes[device.box_id] = house.boxes[device.box_id]
    panel = circuits[0].panel_id
    return ProtectionTree(
        source=_source(circuits),
        boxes=tuple(_box(box, takes_devices=_takes_devices(circuits)) for box in boxes.values()),
        cables=tuple(_cable(cable, panel, legs) for cable in cables),
        outlets=tuple(_outlet(device, legs, house, wanted) for device in devices if device.id in wanted),
        devices=tuple(_protector(device, legs, house) for device in devices if device.gfci or device.afci),
        work_on=work_on(house),
    )


def _source(circuits: tuple[Circuit, ...]) -> Source:
    breakers = {circuit.breaker for circuit in circuits}
    gfci = breakers <= {Breaker.GFCI, Breaker.DUAL}
    arc = breakers <= {Breaker.AFCI, Breaker.DUAL}
    return Source(
        gfci=gfci,
        arc="combination" if arc else "",
        poles=max(circuit.poles for circuit in circuits),
        legs=("A", "B")[: len(circuits)],
        replaceable=Breaker.FUSE not in breakers,
    )


def _takes_devices(circuits: tuple[Circuit, ...]) -> bool:
    """Whether GFCI and AFCI receptacles are made for circuits like these: of one pole and up to 20 A."""
    return all(circuit.poles == 1 and (circuit.rating_a or 0) <= _LARGEST_DEVICE_A for circuit in circuits)


def _box(box: Box, *, takes_devices: bool) -> TreeBox:
    high = box.surface is Surface.CEILING or (box.height_in is not None and box.height_in > _HIGHEST_REACH_IN)
    return TreeBox(
        box.id, box.label, None if box.material is None else box.material is BoxMaterial.METAL,
        reachable=takes_devices and not high and not box.inside_cabinet,
    )  # fmt: skip


def _cable(cable: Cable, panel_id: str, legs: Mapping[str, str]) -> TreeCable:
    def end(box_id: str | None, panel: str | None) -> str:
        return SOURCE if panel == panel_id else box_id or panel or ""

    metal = cable.kind in (CableKind.MC, CableKind.AC)
    return TreeCable(
        cable.id, end(cable.a_box_id, cable.a_panel_id), end(cable.b_box_id, cable.b_panel_id),
        tuple(legs[each] for each in cable.circuit_ids if each in legs),
        "metal" if metal else None if cable.kind is CableKind.RACEWAY else "cable", cable.awg, cable.length_ft,
    )  # fmt: skip


def _outlet(
    device: Device,
    legs: Mapping[str, str],
    house: Dwelling,
    wanted: Mapping[str, tuple[Requirement, Requirement]],
) -> TreeOutlet:
    gfci, afci = wanted[device.id]
    kinds = {
        DeviceKind.RECEPTACLE: "receptacle",
        DeviceKind.LUMINAIRE: "lighting",
        DeviceKind.SWITCH: "switch",
    }
    return TreeOutlet(
        device.id, device.box_id, kinds.get(device.kind, "hardwired"),  # type: ignore[arg-type]
        tuple(legs[each.id] for each in circuits_of(device, house) if each.id in legs),
        needs_gfci=gfci.required is True, needs_afci=afci.required is True, no_gfci=device.serves == "fire alarm",
    )  # fmt: skip


def _protector(device: Device, legs: Mapping[str, str], house: Dwelling) -> Protector:
    circuit = house.circuit_of(device)
    face = device.kind in (DeviceKind.RECEPTACLE, DeviceKind.SWITCH)
    return Protector(
        device.id, device.box_id, device.gfci, device.afci, legs.get(circuit.id if circuit else "", "A"),
        outlet=device.id if face else None, load_cables=device.load_cable_ids,
        readily_accessible=device.readily_accessible,
    )  # fmt: skip


def protected_by_words(by: str, circuits: tuple[Circuit, ...], house: Dwelling) -> str:
    """What protects an outlet, by name: the breaker of its circuit, or a device."""
    if by == SOURCE:
        return f"the breaker of {' and '.join(circuit_name(circuit) for circuit in circuits)}"
    device = house.devices.get(by)
    return device_name(device, house) if device else by


_WORDS: Mapping[str, str] = {
    "gfci device": "GFCI",
    "afci device": "AFCI",
    "dual device": "AFCI and GFCI",
    "gfci breaker": "GFCI",
    "afci breaker": "AFCI",
    "dual breaker": "AFCI and GFCI",
}


def cure_words(found: CircuitProtection, house: Dwelling, code: Edition) -> str:
    """The cheapest way to give the circuit's outlets what they lack, and the best one of the other kind.

    Where the cheapest is a breaker, the other is the best set of devices, and the other way round.
    """
    plan = cheapest_protection(found.tree, code)
    if not plan.possible:
        return plan.why
    ways = [placement_words(plan.placements, found, house)]
    at_panel = any(item.where == SOURCE for item in plan.placements)
    if at_panel:
        source = found.tree.source
        fixed = Source(source.gfci, source.arc, source.poles, source.legs, replaceable=False)
        tree = ProtectionTree(
            fixed,
            found.tree.boxes,
            found.tree.cables,
            found.tree.outlets,
            found.tree.devices,
            found.tree.work_on,
        )
        other = cheapest_protection(tree, code)
        if other.possible and other.placements:
            ways.append(placement_words(other.placements, found, house))
    else:
        lacks = {what for outlet in found.coverage.outlets for what in outlet.lacks}
        kinds = " and ".join(word for word, what in (("AFCI", "afci"), ("GFCI", "gfci")) if what in lacks)
        if kinds and found.tree.source.replaceable:
            ways.append(f"{_article(kinds)} {kinds} breaker for {_names(found)}")
    text = ", or ".join(ways)
    return f"{text[0].upper()}{text[1:]}."


def placement_words(placements: tuple[Placement, ...], found: CircuitProtection, house: Dwelling) -> str:
    """What is to be fitted and where, by name."""
    return "; ".join(_piece(item, found, house) for item in placements)


def _piece(item: Placement, found: CircuitProtection, house: Dwelling) -> str:
    if item.where == SOURCE:
        two_pole = "two-pole " if item.what.startswith("two-pole ") else ""
        kind = _WORDS.get(item.what.removeprefix("two-pole "), "standard")
        return f"{_article(two_pole or kind)} {two_pole}{kind} breaker for {_names(found)}"
    box = house.boxes.get(item.where)
    where = box_name(box, house) if box else item.where
    if item.what.startswith("move"):
        side = "load" if item.what == "move to load" else "line"
        return f"what goes on from {where} moved to the {side} side of the device"
    if item.what == "upgrade to dual":
        return f"the device in {where} exchanged for one with AFCI and GFCI"
    kind = _WORDS.get(item.what, item.what)
    shape = "receptacle" if item.outlet else "device without a face"
    onward = " with the cable onward on its load side" if item.load_cables else ""
    return f"{_article(kind)} {kind} {shape} in {where}{onward}"


def _names(found: CircuitProtection) -> str:
    return " and ".join(circuit_name(circuit) for circuit in found.circuits)


def _article(word: str) -> str:
    return "an" if word[:1] in "AEIO" else "a"
