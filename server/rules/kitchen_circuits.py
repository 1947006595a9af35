"""The small-appliance circuits: enough of them, at the counters, and nothing else on them."""

from __future__ import annotations

from server.dwelling import Circuit, CircuitPurpose, Dwelling, FixtureKind, Room, RoomKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import Outlet, outlet_words, outlets_of
from server.rules.citing import carried
from server.rules.naming import capital, circuit_name
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.outlet_facts import circuits_of, serves_counter
from server.rules.room_spacing import required_receptacles_in
from server.rules.rule import rule

__all__ = ["counter_circuits", "small_appliance_only", "small_appliance_receptacles"]

_COOKING = (FixtureKind.RANGE, FixtureKind.COOKTOP, FixtureKind.WALL_OVEN)


@rule(
    id="counter-circuits",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.11(C)(1), 210.52(B)(3)"),
    title="Two small-appliance circuits serve the kitchen counters",
    why="A toaster and a kettle together are all that one 20 A circuit carries.",
    look_for="The counter receptacles shared between at least two 20 A circuits, for example one on each side of the sink.",
    cure="Run a second 20 A circuit to some of the counter receptacles.",
    says={
        "enough": "{circuits:n} small-appliance circuits of {rating_a:n} A serve the counter receptacles; {least:n} is the fewest.",
        "too-few": "{circuits:n} small-appliance circuit of {rating_a:n} A serves the counter receptacles; {least:n} is the fewest.",
        "circuit-not-recorded": "Which circuit feeds {receptacles:n} of the counter receptacles is not recorded.",
        "no-counter": "No receptacle is recorded at a counter of this kitchen.",
        "other-room": "Only kitchens are meant.",
    },
    mistakes="Both sides of the sink on one circuit, and the second run to the dining room alone.",
    plain="The kitchen counter needs at least two separate 20 amp circuits.",
)
def counter_circuits(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The 20 A small-appliance circuits among those of the counter receptacles."""
    if room.kind is not RoomKind.KITCHEN:
        return outside("other-room")
    at_counter = [
        device for device, box in required_receptacles_in(room, house) if serves_counter(box, house)
    ]
    if not at_counter:
        return unseen("no-counter", Missing("the receptacles at the counters", "box.counter_id"))
    rating_a, least = (
        code.number("circuits.small_appliance_a", work),
        code.number("circuits.small_appliance_least", work),
    )
    without = [device for device in at_counter if house.circuit_of(device) is None]
    serving = {
        circuit.id
        for device in at_counter
        for circuit in circuits_of(device, house)
        if circuit.purpose is CircuitPurpose.SMALL_APPLIANCE and circuit.rating_a == rating_a
    }
    if work:
        work.step(
            "small-appliance circuits at the counters",
            len(serving),
            "count",
            code.cites("circuits.small_appliance_least"),
        )
    if len(serving) >= least:
        return clear("enough", circuits=len(serving), rating_a=rating_a, least=least)
    if without:
        missing = Missing("the circuit that feeds it", "device.circuit_id")
        return unseen("circuit-not-recorded", missing, receptacles=len(without))
    return correction("too-few", circuits=len(serving), rating_a=rating_a, least=least)


@rule(
    id="small-appliance-receptacles",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(B)(1)"),
    title="Kitchen and dining receptacles are on the small-appliance circuits",
    why="Coffee machines and roasters move to the dining table; the circuits that carry them must reach there.",
    look_for="Every wall and floor receptacle of kitchen, pantry and dining room, and every one at a counter, on a 20 A "
    "small-appliance circuit. A refrigerator or another fixed appliance may have its own circuit; a switched "
    "receptacle in place of a light is an extra one.",
    cure="Feed that receptacle from one of the small-appliance circuits.",
    says={
        "all": "{receptacles:n} receptacles are on small-appliance circuits.",
        "not-on-one": "{outlet} is on {circuit}, which is no small-appliance circuit.",
        "wrong-rating": "{outlet} is on {circuit}, which is not rated {rating_a:n} A.",
        "circuit-not-recorded": "Which circuit feeds {outlet} is not recorded.",
        "nothing-recorded": "No receptacle is recorded in this room yet.",
        "other-room": "The small-appliance circuits do not reach a {kind}.",
    },
    cures={"wrong-rating": "Put the small-appliance circuit on a 20 A breaker with 12 AWG copper."},
    mistakes="Dining room receptacles on the living room circuit.",
    plain="All the regular outlets in the kitchen, pantry and dining room go on the 20 amp kitchen circuits.",
)
def small_appliance_receptacles(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Each general receptacle of the room against the purpose and rating of its circuit."""
    if room.kind not in code.names("circuits.small_appliance_rooms", work):
        return outside("other-room", kind=str(room.kind))
    rating_a = code.number("circuits.small_appliance_a", work)
    receptacles = required_receptacles_in(room, house)
    if not receptacles:
        return unseen("nothing-recorded", Missing("the room's receptacles", "box"))
    judged = 0
    for device, box in receptacles:
        if device.fixture_id is not None or device.dedicated or device.id in house.controlled_by:
            continue
        outlet = Outlet(device, box, room, None, device.serves)
        words = _named(outlet, house)
        circuit = house.circuit_of(device)
        if circuit is None:
            return unseen(
                "circuit-not-recorded",
                Missing("the circuit that feeds it", "device.circuit_id"),
                outlet=words,
            )
        if work:
            work.step(f"{outlet_words(outlet, house)}: {circuit_name(circuit)}", str(circuit.purpose))
        if circuit.purpose is not CircuitPurpose.SMALL_APPLIANCE:
            return correction("not-on-one", outlet=words, circuit=circuit_name(circuit))
        if circuit.rating_a is not None and circuit.rating_a != rating_a:
            return correction("wrong-rating", outlet=words, circuit=circuit_name(circuit), rating_a=rating_a)
        judged += 1
    return clear("all", receptacles=judged)


def _gas_cooking(outlet: Outlet) -> bool:
    """Whether it is there for the light and ignition of a gas range, oven or cooktop."""
    fixture = outlet.fixture
    return fixture is not None and fixture.kind in _COOKING and bool(fixture.fuel_burning)


def _named(outlet: Outlet, house: Dwelling) -> Lazily:
    """The outlet at the beginning of a sentence."""

    return Lazily(lambda: capital(outlet_words(outlet, house)))


@rule(
    id="small-appliance-only",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    cites=carried("210.52(B)(2), (B)(3)"),
    title="A small-appliance circuit serves nothing else",
    why="Every light, hood or dishwasher on it takes away from what the counters need.",
    look_for="On these circuits only the receptacles of one kitchen with its pantry and dining room; a clock, the light and "
    "ignition of a gas range, and the refrigerator are allowed.",
    cure="Feed that outlet from another circuit.",
    says={
        "only": "{outlets:n} outlets are on the circuit, and all of them may be.",
        "other-outlet": "{outlet} is on the circuit, and may not be.",
        "two-kitchens": "The circuit serves receptacles in two kitchens.",
        "nothing-recorded": "No outlet is recorded on this circuit yet.",
        "other-circuit": "This is no small-appliance circuit.",
    },
    cures={"two-kitchens": "Give the second kitchen circuits of its own."},
    mistakes="Picking up the range hood, the disposer or the outdoor receptacle behind the counter.",
    plain="Do not connect lights, fans, disposers or outdoor outlets to the kitchen counter circuits.",
)
def small_appliance_only(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Every outlet of the circuit against what such a circuit may serve."""
    if circuit.purpose is not CircuitPurpose.SMALL_APPLIANCE:
        return outside("other-circuit")
    outlets = outlets_of(circuit, house)
    if not outlets:
        return unseen("nothing-recorded", Missing("the outlets of the circuit", "device.circuit_id"))
    rooms, allowed = (
        code.names("circuits.small_appliance_rooms", work),
        code.names("circuits.small_appliance_allows", work),
    )
    for outlet in outlets:
        may = (
            outlet.is_receptacle
            and outlet.room.kind in rooms
            and (not outlet.serves or outlet.serves in allowed or _gas_cooking(outlet))
        )
        if work:
            work.step(outlet_words(outlet, house), may, "", code.cites("circuits.small_appliance_allows"))
        if not may:
            return correction("other-outlet", outlet=_named(outlet, house))
    kitchens = {outlet.room.id for outlet in outlets if outlet.room.kind is RoomKind.KITCHEN}
    if len(kitchens) > 1:
        return correction("two-kitchens")
    return clear("only", outlets=len(outlets))
