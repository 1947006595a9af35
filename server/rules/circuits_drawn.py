"""Is the wiring entered, all of it? A circuit's cables as one tree from its panel, and every box on a circuit."""

from __future__ import annotations

from server.dwelling import Box, Circuit, CircuitPurpose, Device, Dwelling, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.circuit_trees import circuit_trees
from server.rules.citing import PRACTICE
from server.rules.hookup_names import listed
from server.rules.hookup_wiring import circuits_on_device
from server.rules.hookups import CircuitHookup, State, hookups
from server.rules.naming import circuit_name, device_name
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, unseen
from server.rules.rule import rule

__all__ = ["box_on_a_circuit", "circuit_reached"]


@rule(
    id="circuit-reached",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    cites=PRACTICE,
    title="Every cable of the circuit is joined to its panel",
    why="Protection, box fill and the count of conductors all follow the cables from the panel. A cable that is drawn to "
    "nowhere, or in a circle, makes every answer beyond it a guess.",
    look_for="A home run from the panel, every cable between two boxes, no box reached by two ways.",
    cure="Trace the cable in the wall and record where it really ends.",
    says={
        "whole": "{legs:n} cables lead from the panel to {boxes:n} boxes.",
        "ring-open": "Two cables run side by side between the same boxes, and a hookup keeps their conductors apart.",
        "feeder": "{legs:n} cables lead from the panel.",
        "astray": "{why}",
        "not-entered": "{why}",
    },
    mistakes="Leaving the home run to be drawn later; drawing a cable twice.",
    plain="Every cable should lead from the panel to a box, and from that box to the next.",
)
def circuit_reached(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's run: whole, or what of it is loose, apart, astray or circular."""
    found = house.derive(hookups, code).of(circuit.id)
    run = found.run
    if work:
        work.step("cables that lead on from the panel", len(run.legs), "cables")
        for word, cables in (
            ("loose", run.loose),
            ("apart", run.apart),
            ("closing a ring", run.rings),
            ("astray", run.astray),
        ):
            if cables:
                work.step(
                    f"{word}: cables {listed([found.names.cable[cable.id] for cable in cables])}",
                    len(cables),
                    "cables",
                )
    if circuit.purpose is CircuitPurpose.FEEDER and run.legs and run.is_whole:
        return clear("feeder", legs=len(run.legs))
    gaps = [gap for gap in found.entered.run_gaps if gap.cable_id is not None or not run.legs]
    if run.astray:
        astray = next(gap for gap in gaps if gap.cable_id == run.astray[0].id)
        return correction("astray", why=astray.sentence)
    if gaps:
        return unseen(
            "not-entered", *dict.fromkeys(Missing(gap.words, gap.field) for gap in gaps), why=gaps[0].sentence
        )
    if run.rings:
        if _side_by_side(found):
            return clear("ring-open")
        ring = found.entered.ring_gap
        assert ring is not None
        return unseen("not-entered", Missing(ring.words, ring.field), why=ring.sentence)
    return clear("whole", legs=len(run.legs), boxes=len(run.reached))


@rule(
    id="box-on-a-circuit",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=PRACTICE,
    title="What feeds the box is recorded",
    why="An outlet that nobody put on a circuit is in no panel directory, and nobody can say what protects it.",
    look_for="Each box reached by a cable of a circuit; in a box with several circuits, each device marked with its own.",
    cure="Run a cable of that circuit into the box, or correct the circuit that is recorded on the device.",
    says={
        "fed": "It is on {circuits}.",
        "no-cable": "No cable is recorded at this box.",
        "no-circuit": "Its cables are on no circuit yet.",
        "which-circuit": "Several circuits enter; which of them feeds {device} is not recorded.",
        "not-reached": "Its cables are on {circuits}, but nothing joins them to the panel.",
        "other-circuit": "In it, {device} is recorded on {circuit}, but no cable of that circuit enters this box.",
    },
    mistakes="A second circuit brought into a switch box and its switch left on the first one's list.",
    plain="Write down which breaker feeds this box.",
    danger="A box can hold two circuits: prove every conductor in it dead, not only the one you turned off.",
)
def box_on_a_circuit(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Whether every device of a box is on a circuit that reaches the box."""
    if box.id not in house.cables_of_box:
        return unseen("no-cable", Missing("the cables that enter it", "cable"))
    circuits = house.circuits_of_box(box.id)
    if not circuits:
        return unseen("no-circuit", Missing("which circuit its cables are on", "cable.circuit_ids"))
    if work:
        for circuit in circuits:
            work.step(circuit_name(circuit), "enters")
    on = house.derive(circuits_on_device)
    here = {circuit.id for circuit in circuits}
    named = Lazily(lambda: listed([circuit_name(circuit) for circuit in circuits]))
    for device in house.devices_of_box.get(box.id, ()):
        own = on.get(device.id)
        if own is None:
            name = _named(device, house)
            return unseen(
                "which-circuit", Missing("which circuit feeds it", "device.circuit_id"), device=name
            )
        if own.id not in here:
            return correction("other-circuit", device=_named(device, house), circuit=circuit_name(own))
    trees = house.derive(circuit_trees)
    if not any(box.id in trees[circuit.id].feed for circuit in circuits):
        return unseen("not-reached", Missing("the cable that joins it to the panel", "cable"), circuits=named)
    return clear("fed", circuits=named)


def _side_by_side(found: CircuitHookup) -> bool:
    """Whether every ring is two cables between the same two boxes, each in use, in a lawful hookup."""
    if found.state is not State.LAWFUL:
        return False
    pairs = {frozenset((leg.start, leg.end)) for leg in found.run.legs}
    for cable in found.run.rings:
        planned = found.cable(cable.id)
        in_use = planned is not None and any(conductor.signal for conductor in planned.conductors)
        if not in_use or frozenset((cable.a_box_id, cable.b_box_id)) not in pairs:
            return False
    return True


def _named(device: Device, house: Dwelling) -> Lazily:
    return Lazily(lambda: device_name(device, house))
