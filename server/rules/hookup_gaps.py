"""What is missing in the wiring of a circuit, or contradicts itself: one sentence each, naming box and cable."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from server.dwelling import Box, Cable, Circuit, Device, DeviceKind, Dwelling, SwitchWays
from server.rules.hookup_names import Names, listed
from server.rules.naming import circuit_name
from server.rules.runs import Run

__all__ = ["Gap", "Gaps"]

_OF_SEVERAL: Final = (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY)


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
class Gaps:
    """Looks for what is missing in circuits that are wired together.

    ``on`` is the circuit of each device, as far as it is settled; ``straight`` holds for a two-pole circuit.
    """

    house: Dwelling
    circuits: tuple[Circuit, ...]
    run: Run
    names: Names
    boxes: Mapping[str, Box]
    cables: Sequence[Cable]
    devices: Sequence[Device]
    on: Mapping[str, Circuit]
    straight: bool

    @property
    def _ids(self) -> set[str]:
        return {circuit.id for circuit in self.circuits}

    def of_run(self) -> Iterator[Gap]:
        """What of the cables leads nowhere, hangs apart or lands in the wrong place."""
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

    def of_ring(self) -> Gap | None:
        """The first cable that closes a ring."""
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

    def of_devices(self) -> Iterator[Gap]:
        """Devices that nothing feeds, switches that turn nothing, loads of another circuit."""
        entered = {
            *self.run.reached,
            *(end for cable in self.run.apart for end in (cable.a_box_id, cable.b_box_id)),
        }
        for device in self.devices:
            if device.box_id in entered or device.box_id not in self.house.boxes:
                continue
            name, box = self.names.device[device.id], self.names.box.get(device.box_id, "its box")
            yield Gap(
                f"{name} is on this circuit, but no cable of it enters {box}.", "the cable that feeds it", "cable",
                device.box_id,
            )  # fmt: skip
        yield from self._unsettled()
        for device in self.devices:
            if device.kind is DeviceKind.SWITCH:
                yield from self._of_switch(device)
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

    def _of_switch(self, switch: Device) -> Iterator[Gap]:
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
            elif circuit.id not in self._ids:
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


def _between_poles(receptacle: Device) -> bool:
    """Whether a receptacle takes 240 V, or both 240 and 120."""
    return (receptacle.configuration or "6").split("-")[0] in ("6", "10", "14")
