"""From the facts of a house to what a hookup is asked with: the wiring of one circuit, or of two that share a neutral.

What is not entered yet is a :class:`Gap`, a sentence that names the box and the cable. Nothing here raises on odd facts.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from server.dwelling import (
    Box,
    Cable,
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
from server.rules.hookup_names import Names, listed, names_of
from server.rules.naming import circuit_name
from server.rules.runs import Run, run_of

__all__ = ["Entered", "Gap", "circuit_sets", "circuits_on_device", "entered", "is_straight"]

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
class Gap:
    """Something about a circuit's wiring that is not entered yet, or that contradicts itself.

    ``sentence`` names box and cable; ``words`` and ``field`` are the missing fact; the ids say where it is entered.
    """

    sentence: str
    words: str
    field: str
    box_id: str | None = None
    cable_id: str | None = None
    device_id: str | None = None


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
        run_gaps = tuple(self._gaps_of_run())
        ring_gap = self._ring_gap()
        gaps: tuple[Gap, ...] = ()
        if not why:
            tangled = len(self.run.rings) > (0 if self.straight else _MOST_RINGS)
            gaps = (*run_gaps, *((ring_gap,) if ring_gap and tangled else ()), *self._gaps_of_devices())
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

    # -- what is missing ------------------------------------------------------------------------------------

    def _gaps_of_run(self) -> Iterator[Gap]:
        run, names = self.run, self.names
        circuit = listed([circuit_name(each) for each in self.circuits])
        sentence = f"No cable is on {circuit} yet."
        if not self.cables:
            yield Gap(sentence, "the cables of its run", "cable.circuit_ids")
            return
        for cable in run.loose:
            ends = [end for end in self.run.ends[cable.id] if end is not None]
            at = f" from {self._place(ends[0])}" if ends else ""
            box_id = ends[0][1] if ends and ends[0][0] == "box" else None
            yield Gap(
                f"Cable {names.cable[cable.id]}{at} ends nowhere yet.", "the box where the cable ends", "cable.b_box_id",
                box_id, cable.id,
            )  # fmt: skip
        for cable in run.astray:
            yield self._astray(cable)
        if not run.legs:
            first = run.apart[0] if run.apart else None
            box_id = first.a_box_id if first else None
            yield Gap(
                f"No cable of {circuit} leads from {names.panel} to a box: the home run is missing.", "the home run",
                "cable.a_panel_id", box_id, first.id if first else None,
            )  # fmt: skip
        elif run.apart:
            cable = run.apart[0]
            ends = [end for end in self.run.ends[cable.id] if end is not None]
            also = f" (nor do {len(run.apart) - 1} more)" if len(run.apart) > 1 else ""
            yield Gap(
                f"Cable {names.cable[cable.id]} between {' and '.join(map(self._place, ends))} is joined to nothing that "
                f"comes from {names.panel}{also}.",
                "the cable that joins it to the run", "cable", ends[0][1] if ends[0][0] == "box" else None, cable.id,
            )  # fmt: skip

    def _ring_gap(self) -> Gap | None:
        if not self.run.rings:
            return None
        cable = self.run.rings[0]
        ends = [end for end in self.run.ends[cable.id] if end is not None]
        return Gap(
            f"Cable {self.names.cable[cable.id]} between {' and '.join(map(self._place, ends))} closes a ring: both ends are "
            "reached another way already.",
            "which cable of the ring is not there", "cable", ends[0][1] if ends[0][0] == "box" else None, cable.id,
        )  # fmt: skip

    def _astray(self, cable: Cable) -> Gap:
        one, other = self.run.ends[cable.id]
        assert one is not None
        assert other is not None
        name, box = self.names.cable[cable.id], one[1] if one[0] == "box" else None
        if one == other:
            sentence = f"Cable {name} begins and ends in {self._place(one)}."
        else:
            far = next(end for end in (one, other) if end[0] == "panel" and end[1] != self.run.panel_id)
            sentence = f"Cable {name} lands in {self.house.panels[far[1]].name}, but its breaker is in {self.names.panel}."
        return Gap(sentence, "where the cable really ends", "cable.b_box_id", box, cable.id)

    def _place(self, end: tuple[str, str]) -> str:
        kind, each = end
        return self.names.box.get(each, "a box") if kind == "box" else self.house.panels[each].name

    def _gaps_of_devices(self) -> Iterator[Gap]:
        reached = set(self.run.reached)
        for device in self.devices:
            if device.box_id in reached:
                continue
            name = self.names.device[device.id]
            if device.box_id not in self.house.boxes:
                continue
            cables = [names for cable in self.run.apart if device.box_id in (cable.a_box_id, cable.b_box_id)
                      for names in (self.names.cable[cable.id],)]  # fmt: skip
            if not cables:
                box = self.names.box.get(device.box_id, "its box")
                yield Gap(
                    f"{name} is on this circuit, but no cable of it enters {box}.", "the cable that feeds it", "cable",
                    device.box_id,
                )  # fmt: skip
        yield from self._unsettled()
        for device in self.devices:
            if device.kind is DeviceKind.SWITCH:
                yield from self._gaps_of_switch(device)
            elif self.straight and device.kind is DeviceKind.RECEPTACLE and not _between_poles(device):
                yield Gap(
                    f"{self.names.device[device.id]} takes 120 V, and the circuit has two poles: enter it as two circuits that "
                    "share their neutral.",
                    "which of the two poles feeds it", "circuit.multiwire_with", device.box_id,
                )  # fmt: skip

    def _unsettled(self) -> Iterator[Gap]:
        """Devices in boxes with several circuits of which nobody said which one feeds them."""
        for box_id, box in self.boxes.items():
            here = {each for cable in self.house.cables_of_box.get(box_id, ()) for each in cable.circuit_ids}
            if len(here) < 2:
                continue
            circuits = self.house.circuits_of_box(box_id)
            if len(circuits) < 2:
                continue
            for device in self.house.devices_of_box.get(box_id, ()):
                if device.id not in self.on and device.circuit_id is None:
                    name = self.names.box.get(box_id, box.label)
                    yield Gap(
                        f"{len(circuits)} circuits enter {name}; which of them feeds the {device.label or device.kind} there is "
                        "not recorded.",
                        "which circuit feeds it", "device.circuit_id", box_id, device_id=device.id,
                    )  # fmt: skip

    def _gaps_of_switch(self, switch: Device) -> Iterator[Gap]:
        house, name = self.house, self.names.device[switch.id]
        loads = [house.devices[each] for each in switch.controls if each in house.devices]
        lamps = [load for load in loads if load.kind is not DeviceKind.SWITCH]
        if not loads:
            yield Gap(
                f"What {name} switches is not recorded.",
                "what the switch controls",
                "device.controls",
                switch.box_id,
                device_id=switch.id,
            )
        elif len(lamps) < len(loads):
            yield Gap(
                f"{name} is recorded as turning another switch.",
                "what the switch controls",
                "device.controls",
                switch.box_id,
                device_id=switch.id,
            )
        for load in lamps:
            circuit = self.on.get(load.id)
            where = house.boxes.get(load.box_id)
            if circuit is None:
                what = f"the {load.label or load.kind} in {self.names.box.get(load.box_id) or (where.label if where else 'no box')}"
                yield Gap(
                    f"{name} turns {what}, which is on no circuit yet.", "the cable that feeds what it switches", "cable",
                    load.box_id,
                )  # fmt: skip
            elif circuit.id not in self.ids:
                yield Gap(
                    f"{name} turns a {load.kind} of {circuit_name(circuit)}, but is itself on "
                    f"{listed([circuit_name(each) for each in self.circuits])}.",
                    "which circuit the switch is on", "device.circuit_id", switch.box_id, device_id=switch.id,
                )  # fmt: skip
        if switch.ways in _OF_SEVERAL and lamps:
            others = {
                other.id for load in lamps for other in house.controlled_by.get(load.id, ()) if other.kind is DeviceKind.SWITCH
            } - {switch.id}  # fmt: skip
            if not others:
                yield Gap(
                    f"{name} is a {switch.ways}, but no second location is recorded for what it switches.",
                    "the other switch location", "device.controls", switch.box_id, device_id=switch.id,
                )  # fmt: skip

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


def _between_poles(receptacle: Device) -> bool:
    """Whether a receptacle takes 240 V, or both 240 and 120."""
    return (receptacle.configuration or "6").split("-")[0] in ("6", "10", "14")
