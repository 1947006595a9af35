"""Ranges, ovens, dryers, dishwashers and disposers: their circuits, cords and receptacles."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Circuit, Dwelling, Fixture, FixtureKind, Stage
from server.editions import Edition
from server.reckon.cooking_demand import cooking_circuits
from server.reckon.dwelling_loads import CookingKind, CookingUnit
from server.reckon.work import SILENT, Work
from server.rules.bands import banded
from server.rules.citing import carried, moved
from server.rules.equipment_circuits import (
    NAMEPLATE,
    SAYS,
    circuit_for,
    fixtures_on,
    judge_rating,
    not_recorded,
)
from server.rules.looks import look
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside
from server.rules.reach import fixture_is
from server.rules.rule import rule

__all__ = [
    "appliance_connection",
    "appliance_disconnect",
    "appliance_plug_reached",
    "dishwasher_cord",
    "disposer_cord",
    "dryer_circuit",
    "hood_connection",
    "range_circuit",
    "range_dryer_strap",
]

_COOKING = {
    FixtureKind.RANGE: CookingKind.RANGE,
    FixtureKind.WALL_OVEN: CookingKind.OVEN,
    FixtureKind.COOKTOP: CookingKind.COOKTOP,
}
_FOUR_WIRE = (FixtureKind.RANGE, FixtureKind.WALL_OVEN, FixtureKind.COOKTOP, FixtureKind.DRYER)


@rule(
    id="range-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(
        e2017="210.19(A)(3), Table 220.55", e2023="210.19(C), Table 220.55", e2026="210.19(C), Table 120.55"
    ),
    title="The circuit of range, oven or cooktop is large enough",
    why="On a holiday everything is on at once, for hours.",
    look_for="The nameplate by the code's range table (one range, or a cooktop with its ovens on one circuit) against breaker and wire; forty "
    "amperes at least for a range of 8 3/4 kW and up.",
    cure="Run a larger circuit, or one for each appliance.",
    says={
        "enough": "It needs {least_a:n} A by the table; {circuit} is rated {rating_a:n} A.",
        "too-small": "It needs {least_a:n} A by the table; {circuit} is rated only {rating_a:n} A.",
        "any-range": "Its nameplate is not recorded; {circuit} of {rating_a:n} A is what a household range asks for.",
        "not-recorded": "It is not recorded: {what}.",
        "other-kind": "Only electric ranges, ovens and cooktops are meant.",
        "burns-fuel": "It burns fuel.",
    },
    mistakes="Two wall ovens and a cooktop on one 30 A circuit.",
    plain="An electric range needs at least a 40 amp circuit.",
)
def range_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What the cooking appliances on the circuit need by the table, against its rating."""
    if fixture.kind not in _COOKING:
        return outside("other-kind")
    if fixture.fuel_burning:
        return outside("burns-fuel")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    assert circuit.rating_a is not None
    least_a = _least_a(circuit, house, code, work)
    if least_a is None:
        of_any = code.number("load.range_circuit_least_a", work)
        if fixture.kind is FixtureKind.RANGE and circuit.rating_a >= of_any:
            return clear("any-range", circuit=circuit_name(circuit), rating_a=circuit.rating_a)
        return not_recorded(NAMEPLATE)
    outcome, reason = (clear, "enough") if circuit.rating_a >= least_a else (correction, "too-small")
    return outcome(reason, least_a=least_a, circuit=circuit_name(circuit), rating_a=circuit.rating_a)


def _least_a(circuit: Circuit, house: Dwelling, code: Edition, work: Work) -> Fraction | None:
    """What all cooking appliances of a circuit need; None where a nameplate is not recorded."""
    units, name = [], circuit_name(circuit)
    for fixture in fixtures_on(circuit, house):
        if fixture.kind in _COOKING:
            if fixture.va is None:
                return None
            units.append(CookingUnit(_COOKING[fixture.kind], fixture.va, str(fixture.kind), name))
    (found,) = cooking_circuits(units, Fraction(circuit.volts), code, work)
    return max(found.amperes, Fraction(found.least_rating_a or 0))


@rule(
    id="dryer-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(e2017="220.54, 422.10(A)", e2026="120.54, 422.10(A)"),
    title="The dryer's circuit is large enough",
    why="Lint and heat are enough of a fire risk without a wire that runs hot.",
    look_for="The nameplate, and never less than the least load the code gives a dryer, against breaker and wire: thirty amperes is usual.",
    cure="Run a 30 A circuit.",
    says=SAYS,
    mistakes="A dryer on a 20 A, 240 V circuit that was there for a window unit.",
    plain="An electric dryer needs a 30 amp circuit.",
)
def dryer_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The dryer's load, at least the code's least, against its circuit."""
    if fixture.kind is not FixtureKind.DRYER:
        return outside("other-kind", kinds="electric dryers")
    if fixture.fuel_burning:
        return outside("burns-fuel")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    load_va = max(fixture.va or Fraction(0), code.number("load.dryer_least_va", work))
    return judge_rating(load_va, "equipment.dryer_percent", circuit, code, work)


def _electric_on_four_wires(fixture: Fixture, house: Dwelling, code: Edition) -> str | None:
    if fixture.kind not in _FOUR_WIRE:
        return "Only ranges, ovens, cooktops and dryers are meant."
    return "It burns fuel." if fixture.fuel_burning else None


range_dryer_strap = look(
    id="range-dryer-strap",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("250.140, 250.142(B)"),
    title="Range and dryer have a four-wire cord, and their bonding strap is out",
    why="With the strap in, the neutral grounds the case: a broken neutral makes the whole dryer live.",
    look_for="A four-wire cord in its strain relief, the strap between neutral and case taken out of the terminal block, the green wire on the case.",
    cure="Take the strap out and fit a four-wire cord with its strain relief.",
    applies=_electric_on_four_wires,
    mistakes="A new four-wire receptacle and cord, and the strap left in the dryer.",
    plain="Use a four-prong cord, and remove the metal strap inside the dryer or stove.",
    danger="On a three-wire appliance a broken neutral puts 120 V on its case. Unplug it before its cover comes off.",
)

disposer_cord = banded(
    id="disposer-cord",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.16(B)(1)"),
    title="The disposer's cord is neither too short nor too long",
    why="A long one hangs into the trash and the water, a short one pulls out of its clamp.",
    look_for="A grounding cord with its clamp at the disposer. Wired without a cord: “not here”.",
    cure="Fit a cord of the right length.",
    least="cord.disposer_least_in",
    most="cord.disposer_most_in",
    how="Measure from the face of the plug to where the cord enters the disposer.",
    worst="the disposer's cord",
    applies=fixture_is(FixtureKind.DISPOSER),
    plain="A disposer cord must be between a foot and a half and three feet long.",
)

dishwasher_cord = banded(
    id="dishwasher-cord",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.16(B)(2)"),
    title="The dishwasher's cord is neither too short nor too long",
    why="It has to let the machine be pulled out, and not be run over by it.",
    look_for="A grounding cord through a bushed hole into the space beside the machine. Wired without a cord: “not here”.",
    cure="Fit a cord of the right length.",
    least="cord.dishwasher_least_in",
    most="cord.dishwasher_most_in",
    how="Measure from the face of the plug to the plane of the machine's back.",
    worst="the dishwasher's cord",
    applies=fixture_is(FixtureKind.DISHWASHER),
    mistakes="The receptacle behind the machine, where nobody can pull the plug.",
    plain="A dishwasher cord must be between three and six and a half feet long.",
)

appliance_plug_reached = look(
    id="appliance-plug-reached",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.16(B), 422.33"),
    title="The plug of a built-in appliance can be reached",
    why="The plug is its disconnect; behind a screwed-in machine it is none.",
    look_for="Dishwasher: the receptacle in the space beside it. Disposer, compactor, hood, microwave: in the cabinet, without taking the appliance out. "
    "Wired without a plug: “not here”.",
    cure="Move the receptacle to the cabinet beside or above.",
    applies=fixture_is(
        FixtureKind.DISHWASHER,
        FixtureKind.DISPOSER,
        FixtureKind.TRASH_COMPACTOR,
        FixtureKind.RANGE_HOOD,
        FixtureKind.MICROWAVE,
    ),
    plain="You must be able to reach the plugs of built-in appliances.",
)

appliance_disconnect = look(
    id="appliance-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.31"),
    title="An appliance that is wired in can be disconnected",
    why="Whoever repairs it turns it off, and must be sure that it stays off.",
    look_for="A switch or its breaker in sight, or a lock-off device that stays on the breaker; small ones may rely on their branch breaker. With a "
    "plug: “not here”.",
    cure="Fit a lock-off device on its breaker.",
    applies=fixture_is(
        FixtureKind.DISHWASHER,
        FixtureKind.DISPOSER,
        FixtureKind.WALL_OVEN,
        FixtureKind.COOKTOP,
        FixtureKind.WELL_PUMP,
        FixtureKind.TRASH_COMPACTOR,
    ),
    plain="Built-in appliances without a plug need a switch or a lock on their breaker.",
)

appliance_connection = look(
    id="appliance-connection",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 422.16"),
    title="The appliance is connected through its own box, with connector and cover",
    why="Behind a built-in oven nobody sees the splice that was left open.",
    look_for="A connector where cable or whip enters, splices in the wiring box, its cover on, the ground on its screw; no NM cable used as a cord.",
    cure="Fit the connector, close the cover, use a cord that is listed for it.",
    applies=fixture_is(
        FixtureKind.DISHWASHER,
        FixtureKind.DISPOSER,
        FixtureKind.WALL_OVEN,
        FixtureKind.COOKTOP,
        FixtureKind.RANGE_HOOD,
        FixtureKind.TRASH_COMPACTOR,
    ),
    mistakes="A plug on the end of a piece of NM cable.",
    plain="Use the appliance's own wiring box with a clamp and its cover.",
    danger="Turn the circuit off and prove it dead before you open the wiring box.",
)

hood_connection = look(
    id="hood-connection",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.16(B)(4)"),
    title="A range hood or microwave with a plug has a circuit of its own",
    why="Hoods get exchanged for microwave hoods, which take a whole circuit.",
    look_for="A plugged-in hood: an individual circuit, the receptacle in the cabinet above. Wired in: “not here”.",
    cure="Feed the receptacle from a circuit of its own.",
    applies=fixture_is(FixtureKind.RANGE_HOOD),
    plain="If the hood plugs in, its outlet needs its own breaker.",
)
