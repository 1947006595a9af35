"""Circuits that laundry, bathroom and garage must have for themselves."""

from __future__ import annotations

from collections.abc import Iterable

from server.dwelling import Circuit, Dwelling, Room, RoomKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import Outlet, outlet_words, outlets_of
from server.rules.citing import carried, held
from server.rules.naming import capital, circuit_name
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.room_spacing import required_receptacles_in
from server.rules.rule import rule

__all__ = ["bathroom_circuit", "garage_circuit", "laundry_circuit"]

_SAYS = {
    "own": "{circuit} is rated {rating_a:n} A and serves only what it may.",
    "too-small": "{circuit} is rated {has_a:n} A; {rating_a:n} A is asked for.",
    "shared": "{circuit} also serves {outlet}.",
    "circuit-not-recorded": "Which circuit feeds the receptacles here is not recorded.",
    "rating-not-recorded": "What {circuit} is rated is not recorded.",
    "nothing-recorded": "No receptacle is recorded in this room yet.",
    "other-room": "Only a {kind} is meant.",
}


def _circuits_here(room: Room, house: Dwelling, *, general: bool = False) -> list[Circuit] | None:
    """The circuits of the room's receptacles (of those for nothing in particular, with ``general``); None where the
    circuit of one is not recorded."""
    found: dict[str, Circuit] = {}
    for device, _ in required_receptacles_in(room, house):
        if general and (
            device.dedicated or device.fixture_id is not None or device.serves not in ("", "general")
        ):
            continue
        circuit = house.circuit_of(device)
        if circuit is None:
            return None
        found[circuit.id] = circuit
    return list(found.values())


def _named(circuit: Circuit) -> Lazily:
    """The circuit at the beginning of a sentence."""
    return Lazily(lambda: capital(circuit_name(circuit)))


def _words(outlet: Outlet, house: Dwelling) -> Lazily:
    return Lazily(lambda: outlet_words(outlet, house))


def _judge(
    room: Room,
    house: Dwelling,
    code: Edition,
    node: str,
    strays: Iterable[tuple[Circuit, Outlet | None]],
    work: Work,
) -> Outcome:
    """The first circuit that is right, else what is wrong with the last one looked at."""
    rating_a = code.number(node, work)
    cites = code.cites(node)
    found: Outcome | None = None
    for circuit, stray in strays:
        name = _named(circuit)
        if work:
            work.step(circuit_name(circuit), circuit.rating_a, "A", cites)
            if stray is not None:
                work.step(f"also serves {outlet_words(stray, house)}", False, "", cites)
        if circuit.rating_a is None:
            missing = Missing("the rating of the circuit", "circuit.rating_a")
            found = unseen("rating-not-recorded", missing, cites=cites, circuit=name)
        elif circuit.rating_a != rating_a:
            found = correction(
                "too-small", cites=cites, circuit=name, has_a=circuit.rating_a, rating_a=rating_a
            )
        elif stray is not None:
            found = correction("shared", cites=cites, circuit=name, outlet=_words(stray, house))
        else:
            return clear("own", cites=cites, circuit=name, rating_a=rating_a)
    assert found is not None
    return found


@rule(
    id="laundry-circuit",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=held("210.11(C)(2)"),
    title="The laundry has a 20 A circuit of its own",
    why="A washer starting up and an iron fill a 20 A circuit; whatever else hangs on it goes dark with them.",
    look_for="A 20 A circuit that feeds the receptacles of the laundry and nothing else: no light, no receptacle in another room.",
    cure="Run a 20 A circuit to the laundry receptacles, and take everything else off it.",
    says=_SAYS,
    cures={"shared": "Feed that outlet from another circuit."},
    mistakes="Picking up the laundry light or the hall receptacle on the way.",
    plain="The laundry outlets need their own 20 amp circuit with nothing else on it.",
)
def laundry_circuit(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A circuit among those of the laundry's receptacles that is rated 20 A and serves laundry receptacles only."""
    if room.kind is not RoomKind.LAUNDRY:
        return outside("other-room", kind="laundry")
    circuits = _circuits_here(room, house)
    if circuits == []:
        return unseen("nothing-recorded", Missing("the room's receptacles", "box"))
    if circuits is None:
        return unseen("circuit-not-recorded", Missing("the circuit that feeds it", "device.circuit_id"))

    def stray(circuit: Circuit) -> Outlet | None:
        return next(
            (each for each in outlets_of(circuit, house) if not each.is_receptacle or each.room.kind is not RoomKind.LAUNDRY),
            None,
        )  # fmt: skip

    return _judge(room, house, code, "circuits.laundry_a", ((c, stray(c)) for c in circuits), work)


@rule(
    id="bathroom-circuit",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.11(C)(3)"),
    title="Bathroom receptacles have a 20 A circuit of their own",
    why="A hair dryer alone draws nearly all that a circuit carries.",
    look_for="A 20 A circuit that feeds bathroom receptacles only, in one or several bathrooms; or one that serves a single "
    "bathroom and everything in it.",
    cure="Run a 20 A circuit to the bathroom receptacles, and take everything else off it.",
    says=_SAYS,
    cures={"shared": "Feed that outlet from another circuit, or keep the circuit to one bathroom alone."},
    mistakes="One circuit for two bathrooms with the fan of one of them on it; the hall light on the bathroom circuit.",
    plain="Bathroom outlets need a 20 amp circuit that feeds nothing outside the bathrooms.",
)
def bathroom_circuit(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit serves bathroom receptacles only, or this bathroom only."""
    if room.kind is not RoomKind.BATHROOM:
        return outside("other-room", kind="bathroom")
    circuits = _circuits_here(room, house)
    if circuits == []:
        return unseen("nothing-recorded", Missing("the room's receptacles", "box"))
    if circuits is None:
        return unseen("circuit-not-recorded", Missing("the circuit that feeds it", "device.circuit_id"))
    alone = code.flag("circuits.bathroom_one_room", work)

    def stray(circuit: Circuit) -> Outlet | None:
        outlets = outlets_of(circuit, house)
        if alone and all(each.room.id == room.id for each in outlets):
            return None
        return next(
            (
                each
                for each in outlets
                if not each.is_receptacle or each.room.kind not in (RoomKind.BATHROOM, RoomKind.TOILET_ROOM)
            ),
            None,
        )

    return _judge(room, house, code, "circuits.bathroom_a", ((c, stray(c)) for c in circuits), work)


@rule(
    id="garage-circuit",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.11(C)(4)"),
    title="Garage receptacles have a 20 A circuit of their own",
    why="Saws, compressors and freezers stand in garages; a lighting circuit does not start them.",
    look_for="A 20 A circuit for the receptacles of the garage; outdoor receptacles within reach may hang on it, nothing else.",
    cure="Run a 20 A circuit to the garage receptacles, and take everything else off it.",
    says=_SAYS,
    cures={"shared": "Feed that outlet from another circuit."},
    mistakes="Feeding the garage lights or the opener's light from the receptacle circuit; 15 A on a long run.",
    plain="Garage outlets need their own 20 amp circuit.",
)
def garage_circuit(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A circuit among those of the garage's receptacles that is rated 20 A and serves garage and outdoor ones only."""
    if room.kind is not RoomKind.GARAGE:
        return outside("other-room", kind="garage")
    circuits = _circuits_here(room, house, general=True)
    if circuits == []:
        return unseen("nothing-recorded", Missing("the room's receptacles", "box"))
    if circuits is None:
        return unseen("circuit-not-recorded", Missing("the circuit that feeds it", "device.circuit_id"))

    def stray(circuit: Circuit) -> Outlet | None:
        allowed = (RoomKind.GARAGE, RoomKind.OUTDOORS, RoomKind.DECK)
        return next(
            (each for each in outlets_of(circuit, house) if not each.is_receptacle or each.room.kind not in allowed),
            None,
        )  # fmt: skip

    return _judge(room, house, code, "circuits.garage_a", ((c, stray(c)) for c in circuits), work)
