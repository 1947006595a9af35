"""Separate buildings on the lot: one supply, a disconnect of their own, their electrode joined."""

from __future__ import annotations

from collections.abc import Mapping

from server.dwelling import Circuit, Dwelling, Panel, Room, RoomKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import look
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import in_rooms
from server.rules.rule import rule

__all__ = [
    "outbuilding_disconnect",
    "outbuilding_electrode",
    "outbuilding_grounds",
    "outbuilding_one_supply",
    "outbuilding_overhead",
]

_SEPARATE = (RoomKind.ACCESSORY_BUILDING, RoomKind.BOATHOUSE)
_APART = in_rooms(*_SEPARATE, words="separate buildings")


def _supplies(house: Dwelling) -> Mapping[str, dict[str, Circuit]]:
    """For each room of a separate building the circuits that come to it from outside, a shared neutral's as one."""
    rooms = {room.id for room in house.facts.rooms if room.kind in _SEPARATE}
    inside = {panel.id: panel.room_id for panel in house.facts.panels if panel.room_id in rooms}
    found: dict[str, dict[str, Circuit]] = {room_id: {} for room_id in rooms}
    for box in house.facts.boxes:
        if box.room_id in rooms:
            for circuit in house.circuits_of_box(box.id):
                if circuit.panel_id not in inside:
                    found[box.room_id].setdefault(_run(circuit), circuit)
    for panel in house.facts.panels:
        feeder = _feeder(panel, house)
        if panel.room_id in rooms and feeder is not None:
            found[panel.room_id].setdefault(_run(feeder), feeder)
    return found


def _run(circuit: Circuit) -> str:
    return min(circuit.id, circuit.multiwire_with or circuit.id)


def _feeder(panel: Panel, house: Dwelling) -> Circuit | None:
    return house.circuits.get(panel.fed_by_circuit_id) if panel.fed_by_circuit_id else None


@rule(
    id="outbuilding-one-supply",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("225.30"),
    title="One feeder or one circuit supplies a separate building",
    why="Whoever turns one off believes the shed dead.",
    look_for="A single feeder, branch circuit or shared-neutral circuit to the building; more only for special reasons.",
    cure="Run one feeder to a small panel there, and take the circuits from it.",
    says={
        "one": "It is supplied by {circuit} alone.",
        "several": "It is supplied by {circuits:list}: {count:n} supplies.",
        "not-recorded": "What supplies this building is not recorded.",
        "no-outbuilding": "Only separate buildings are meant.",
    },
    mistakes="A second cable to the shed “for the lights”.",
    plain="A shed or detached garage may be fed by only one circuit or one feeder.",
    danger="Before work in an outbuilding turn off every supply and prove it dead.",
)
def outbuilding_one_supply(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The feeders and circuits that come to the building from another panel."""
    if room.kind not in _SEPARATE:
        return outside("no-outbuilding")
    supplies = house.derive(_supplies)[room.id]
    if work:
        for circuit in supplies.values():
            work.step(circuit_name(circuit), "comes from outside", "", "225.30")
    if not supplies:
        return unseen("not-recorded", Missing("the circuit or feeder to the building", "cable"))
    names = tuple(circuit_name(circuit) for circuit in supplies.values())
    return (
        clear("one", circuit=names[0])
        if len(names) == 1
        else correction("several", circuits=names, count=len(names))
    )


outbuilding_disconnect = look(
    id="outbuilding-disconnect",
    stage=Stage.SERVICE,
    about=Room,
    cites=carried("225.31, 225.32"),
    title="The building has a disconnect where its supply comes in",
    why="Nobody runs to the house when the shed burns.",
    look_for="A switch or main at or just inside the building, readily reached, marked; a snap switch will do for a single branch circuit.",
    cure="Set a disconnect where the supply enters.",
    applies=_APART,
    plain="Put a main switch in the shed or detached garage.",
)

outbuilding_electrode = look(
    id="outbuilding-electrode",
    stage=Stage.SERVICE,
    about=Room,
    cites=carried("250.32(A)"),
    title="The building's electrode is joined to its grounds",
    why="Lightning into the shed's wiring goes to earth there, not through the house.",
    look_for="An electrode at the building, joined to the ground bar of its panel and not to a neutral that is kept apart. A single branch circuit with its "
    "ground may do without: “not here”.",
    cure="Drive an electrode and join it to the ground bar.",
    applies=_APART,
    plain="A shed with a panel needs its own ground rod.",
)

outbuilding_grounds = look(
    id="outbuilding-grounds",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("250.32(B)"),
    title="Neutral and ground are apart in the building",
    why="Bonded there too, the neutral's current comes home over the water pipe.",
    look_for="Neutral bar off the enclosure, ground bar on it, four wires in the feeder; the bonding screw out.",
    cure="Take the bond out and separate the bars.",
    applies=_APART,
    plain="In the shed's panel the white and bare wires must be on different bars.",
)

outbuilding_overhead = look(
    id="outbuilding-overhead",
    stage=Stage.SERVICE,
    about=Room,
    cites=carried("225.6, 225.18, 225.19"),
    title="A line through the air to a separate building is high, strong and clear of roofs",
    why="Ladders, kites and the boat's mast pass below it.",
    look_for="Ten feet over walks and the attachment, twelve over the drive, clear of roofs, windows and trees like the house's own drop; 10 AWG up to fifty feet of span and 8 beyond, or on "
    "a messenger; a loop and head at both ends. Underground: “not here”.",
    cure="Raise it, hang it on a messenger, or bury it.",
    applies=_APART,
    mistakes="NM cable from eave to eave.",
    plain="Wires through the air to a shed must be as high as the power company's.",
    danger="Its insulation is not to be relied on. Keep ladders away.",
)
