"""From the facts of a house to what a hookup is asked with: the wiring of one circuit, or of two that share a neutral.

What is not entered yet is a :class:`~server.rules.hookup_gaps.Gap`. Nothing here raises on odd facts.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from server.dwelling import (
    Box,
    CableKind,
    Circuit,
    CircuitPurpose,
    Device,
    DeviceKind,
    Dwelling,
    Half,
    SwitchWays,
)
from server.editions import Edition
from server.reckon.hookup import Cable as WiredCable
from server.reckon.hookup import Device as WiredDevice
from server.reckon.hookup import Kind, Node, Wiring
from server.rules.hookup_gaps import Gap, Gaps
from server.rules.hookup_names import Names, listed, names_of
from server.rules.naming import circuit_name
from server.rules.runs import Run, run_of

__all__ = ["Entered", "circuit_sets", "circuits_on_device", "entered", "is_straight"]

_KINDS: Final[Mapping[DeviceKind, Kind]] = {
    DeviceKind.RECEPTACLE: Kind.RECEPTACLE,
    DeviceKind.SWITCH: Kind.SWITCH,
    DeviceKind.LUMINAIRE: Kind.LUMINAIRE,
    DeviceKind.FAN: Kind.FAN,
    DeviceKind.EXHAUST_FAN: Kind.FAN,
    DeviceKind.PROTECTOR: Kind.GFCI,
}
"""What each device is to its conductors; any other is a load."""
_OF_SEVERAL: Final = (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY)
_WHOLE_VOLTS: Final = 200
_MOST_RINGS: Final = 2
"""Rings that are looked into; more of them are a drawing that got tangled."""


@dataclass(frozen=True, slots=True)
class Entered:
    """The circuits that are wired together, their run, what is missing, and the wiring where nothing is.

    ``run_gaps`` are those of the ``gaps`` that lie in the cables; ``ring_gap`` says that they close a ring, which is a
    gap only where the ring is not looked into.
    ``straight`` holds for a two-pole circuit: its loads hang between the poles; ``neutrals`` are the names of those
    of its devices that take a neutral besides. ``why_outside`` is not empty where a hookup is no question here.
    """

    circuits: tuple[Circuit, ...]
    run: Run
    names: Names
    gaps: tuple[Gap, ...]
    run_gaps: tuple[Gap, ...]
    ring_gap: Gap | None
    wiring: Wiring | None
    straight: bool = False
    neutrals: frozenset[str] = frozenset()
    why_outside: str = ""


def is_straight(circuit: Circuit) -> bool:
    """Whether a circuit's loads hang between two poles (240 or 208 V)."""
    return circuit.poles == 2 and circuit.volts >= _WHOLE_VOLTS


def circuit_sets(house: Dwelling) -> Mapping[str, tuple[Circuit, ...]]:
    """The circuits that are wired together with each: partners of a multiwire circuit, circuits that share a cable,
    and those on the two halves of one receptacle."""
    together: dict[str, set[str]] = {circuit.id: {circuit.id} for circuit in house.facts.circuits}

    def join(ids: Iterator[str | None]) -> None:
        known = [each for each in ids if each is not None and each in together]
        whole = set().union(*(together[each] for each in known)) if known else set()
        for each in whole:
            together[each] = whole

    for circuit in house.facts.circuits:
        join(iter((circuit.id, circuit.multiwire_with)))
    for cable in house.facts.cables:
        if len(cable.circuit_ids) > 1:
            join(iter(cable.circuit_ids))
    for device in house.facts.devices:
        if device.second_circuit_id is not None:
            join(iter((device.circuit_id, device.second_circuit_id)))
    return {
        each: tuple(circuit for circuit in house.facts.circuits if circuit.id in members)
        for each, members in together.items()
    }


def circuits_on_device(house: Dwelling) -> Mapping[str, Circuit]:
    """The circuit of each device: recorded on it, or the only one in its box, or that of what it switches (or of
    what switches it). A device that none of these settles is left out."""
    found = {
        device.id: circuit
        for device in house.facts.devices
        if (circuit := house.circuit_of(device)) is not None
    }
    for device in house.facts.devices:
        if device.id in found or device.circuit_id is not None:
            continue
        near = (*device.controls, *(switch.id for switch in house.controlled_by.get(device.id, ())))
        settled = {found[other].id: found[other] for other in near if other in found}
        here = {circuit.id for circuit in house.circuits_of_box(device.box_id)}
        candidates = [circuit for each, circuit in settled.items() if each in here]
        if len(candidates) == 1:
            found[device.id] = candidates[0]
    return found


def _devices_by_circuit(house: Dwelling) -> Mapping[str, list[Device]]:
    """The devices that a circuit is recorded on."""
    found: dict[str, list[Device]] = defaultdict(list)
    for device in house.facts.devices:
        if device.circuit_id is not None:
            found[device.circuit_id].append(device)
    return dict(found)


def entered(circuits: tuple[Circuit, ...], house: Dwelling, code: Edition) -> Entered:
    """What is recorded of circuits that are wired together, made ready to be hooked up."""
    return _Reader(circuits, house, code).entered()


class _Reader:
    def __init__(self, circuits: tuple[Circuit, ...], house: Dwelling, code: Edition) -> None:
        self.circuits, self.house, self.code = circuits, house, code
        self.run = run_of(circuits, house)
        self.on = house.derive(circuits_on_device)
        self.ids = {circuit.id for circuit in circuits}
        cables = [house.cables[each] for each in self.run.numbers if each in house.cables]
        boxes: dict[str, Box] = {}
        for cable in cables:
            for end in self.run.ends[cable.id]:
                if end is not None and end[0] == "box":
                    boxes[end[1]] = house.boxes[end[1]]
        self.boxes = boxes
        self.cables = cables
        self.devices = self._devices()
        panel = house.panels.get(self.run.panel_id)
        self.names = names_of(
            panel.name if panel else "the panel", self._named_boxes(), self.devices, self.run, house
        )
        self.straight = any(map(is_straight, circuits))

    def _devices(self) -> list[Device]:
        """The devices on these circuits, in the order of the run."""
        of_box = self.house.devices_of_box
        place = {box_id: number for number, box_id in enumerate((*self.run.reached, *self.boxes))}
        here = [device for box_id in self.boxes for device in of_box.get(box_id, ()) if self._is_ours(device)]
        recorded = self.house.derive(_devices_by_circuit)
        elsewhere = [
            device
            for circuit in self.circuits
            for device in recorded.get(circuit.id, ())
            if device.box_id not in self.boxes
        ]
        return sorted(here, key=lambda device: place[device.box_id]) + elsewhere

    def _is_ours(self, device: Device) -> bool:
        circuit = self.on.get(device.id)
        if circuit is not None:
            return circuit.id in self.ids
        return device.second_circuit_id in self.ids

    def _named_boxes(self) -> list[Box]:
        more = {
            device.box_id: self.house.boxes[device.box_id]
            for device in self.devices
            if device.box_id in self.house.boxes
        }
        return list((self.boxes | more).values())

    def entered(self) -> Entered:
        why = self._outside()
        missing = Gaps(
            self.house, self.circuits, self.run, self.names, self.boxes, self.cables, self.devices, self.on, self.straight
        )  # fmt: skip
        run_gaps = tuple(missing.of_run())
        ring_gap = missing.of_ring()
        gaps: tuple[Gap, ...] = ()
        if not why:
            tangled = len(self.run.rings) > (0 if self.straight else _MOST_RINGS)
            gaps = (*run_gaps, *((ring_gap,) if ring_gap and tangled else ()), *missing.of_devices())
        wiring = None if why or gaps else self._wiring()
        neutrals = frozenset(
            self.names.device[device.id] for device in self.devices if self._takes_neutral(device)
        )
        return Entered(
            self.circuits, self.run, self.names, gaps, run_gaps, ring_gap, wiring, self.straight, neutrals, why
        )  # fmt: skip

    def _outside(self) -> str:
        """Why no hookup is reckoned here; empty where one is."""
        named = listed([circuit_name(circuit) for circuit in self.circuits])
        if any(circuit.purpose is CircuitPurpose.FEEDER for circuit in self.circuits):
            return "A feeder ends on the terminals of the panel that it feeds."
        if len(self.circuits) > 2:
            return (
                f"The circuits {named} share cables or devices; only two that share one neutral are reckoned."
            )
        if len({circuit.panel_id for circuit in self.circuits}) > 1:
            return f"The circuits {named} come from different panels and share cables or devices."
        if self.straight and len(self.circuits) > 1:
            return f"The circuits {named} share cables, and one of them is a two-pole circuit."
        if self.straight and any(device.kind is DeviceKind.SWITCH for device in self.devices):
            return "Switches on a two-pole circuit are not reckoned: follow the diagram of the equipment."
        return ""

    # -- the wiring -------------------------------------------------------------------------------------------

    def _wiring(self) -> Wiring:
        names = self.names
        legs = 2 if self.straight or len(self.circuits) > 1 else 1
        nodes = [Node(names.panel, is_source=True, legs=legs)]
        nodes += [Node(names.box[each]) for each in self.boxes]
        cables = []
        for cable in self.cables:
            ends = [
                names.panel if end is None or end[0] == "panel" else names.box[end[1]]
                for end in self.run.ends[cable.id]
            ]
            kind = "raceway" if cable.kind is CableKind.RACEWAY else str(cable.kind)
            cables.append(
                WiredCable(names.cable[cable.id], ends[0], ends[1], max(1, cable.insulated), kind, cable.awg)
            )
        devices = [self._device(device) for device in self.devices if device.box_id in self.boxes]
        return Wiring(
            tuple(nodes), tuple(cables), tuple(devices), neutral_exempt=frozenset(self._exempt()),
        )  # fmt: skip

    def _leg(self, circuit_id: str | None) -> int | None:
        if len(self.circuits) < 2:
            return None
        return next(
            (place for place, circuit in enumerate(self.circuits, 1) if circuit.id == circuit_id), None
        )

    def _device(self, device: Device) -> WiredDevice:
        names = self.names
        kind = _KINDS.get(device.kind, Kind.LOAD)
        circuit = self.on.get(device.id)
        split = None
        if kind is Kind.RECEPTACLE and device.second_circuit_id in self.ids and device.receptacles > 1:
            split = device.switched_half or Half.TOP
        elif kind is Kind.RECEPTACLE and (device.gfci or device.afci):
            kind = Kind.GFCI
        elif kind is Kind.RECEPTACLE and device.receptacles > 1 and self.house.controlled_by.get(device.id):
            split = device.switched_half
        return WiredDevice(
            names.device[device.id],
            names.box[device.box_id],
            kind,
            controls=tuple(
                dict.fromkeys(names.device[each] for each in device.controls if each in names.device)
            )
            if kind is Kind.SWITCH
            else (),
            ways=device.ways if kind is Kind.SWITCH else None,
            split=split,
            protects=tuple(self._protects(device)) if kind is Kind.GFCI else (),
            leg=self._leg(circuit.id if circuit else device.second_circuit_id),
            second_leg=self._leg(device.second_circuit_id) if split else None,
        )

    def _protects(self, device: Device) -> Iterator[str]:
        """The devices beyond the cables on its load side."""
        onward: dict[str, list[tuple[str, str]]] = defaultdict(list)
        for leg in self.run.legs:
            if leg.start is not None:
                onward[leg.start].append((leg.cable.id, leg.end))
        waiting = [
            end for cable_id, end in onward.get(device.box_id, ()) if cable_id in device.load_cable_ids
        ]
        beyond: dict[str, None] = {}
        while waiting:
            box_id = waiting.pop()
            if box_id not in beyond:
                beyond[box_id] = None
                waiting.extend(end for _, end in onward.get(box_id, ()))
        for other in self.devices:
            if other.box_id in beyond and other.id != device.id:
                yield self.names.device[other.id]

    def _takes_neutral(self, device: Device) -> bool:
        configuration = device.configuration or ""
        return device.kind is DeviceKind.RECEPTACLE and configuration.split("-")[0] in ("10", "14")

    def _exempt(self) -> Iterator[str]:
        """Boxes whose switches need no grounded conductor: 404.2(C) and its list, as far as facts tell."""
        where = self.code.names("hookup.no_neutral_at_switch_where")
        not_in = self.code.names("hookup.no_neutral_at_switch_for_rooms")
        house = self.house
        by_box: dict[str, list[Device]] = defaultdict(list)
        for device in self.devices:
            if device.kind is DeviceKind.SWITCH:
                by_box[device.box_id].append(device)
        for box_id, switches in by_box.items():
            if box_id not in self.boxes:
                continue
            room = house.rooms.get(self.boxes[box_id].room_id)
            cables = house.cables_of_box.get(box_id, ())
            loads = [
                house.devices[each]
                for switch in switches
                for each in switch.controls
                if each in house.devices
            ]
            served = [house.room_of_device(load) for load in loads]
            if (
                ("raceway" in where and all(cable.kind is CableKind.RACEWAY for cable in cables))
                or ("unfinished" in where and room is not None and room.finished is False)
                or (served and all(each is not None and each.kind in not_in for each in served))
                or (loads and all(load.kind is DeviceKind.HARDWIRED for load in loads))
            ):
                yield self.names.box[box_id]
