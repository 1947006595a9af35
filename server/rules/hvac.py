"""Heating and cooling: circuits by the nameplate, disconnects in sight, heaters and cords."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from server.dwelling import Circuit, Dwelling, Fixture, FixtureKind, Stage
from server.editions import Edition
from server.reckon.ampacity import reckon_ampacity
from server.reckon.conductor_sizes import ConductorError
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, held, limited_energy, moved
from server.rules.conductor_overcurrent import run_of
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
    "condensate_pump_plug",
    "electric_heat_circuit",
    "furnace_disconnect",
    "heater_clear_of_cords",
    "hvac_conductors",
    "hvac_disconnect_closed",
    "hvac_disconnect_in_sight",
    "hvac_disconnect_reached",
    "hvac_overcurrent",
    "hvac_whip",
    "mini_split_cable",
    "mini_split_indoor_switch",
]

_MARKED = (FixtureKind.AIR_CONDITIONER, FixtureKind.HEAT_PUMP, FixtureKind.MINI_SPLIT)
"""Equipment whose nameplate always gives a least circuit ampacity and a largest overcurrent device."""
_ALSO_MARKED = (FixtureKind.AIR_HANDLER, FixtureKind.FURNACE, FixtureKind.BOILER, FixtureKind.ELECTRIC_HEAT)
"""Equipment whose nameplate may give them: judged where they are recorded."""
_TERMINAL_C = 75
"""What terminals of such equipment are usually marked for. Where a breaker needs more than the 60 °C column,
``conductor-overcurrent`` asks for a look at the marking."""
_HEATERS = frozenset({FixtureKind.ELECTRIC_HEAT, FixtureKind.FLOOR_HEATING})
_OUTDOORS = fixture_is(*_MARKED)
_INDOORS = fixture_is(FixtureKind.FURNACE, FixtureKind.AIR_HANDLER, FixtureKind.BOILER)
_LEAST = Missing("the minimum circuit ampacity of its nameplate", "fixture.minimum_circuit_a")
_MOST = Missing("the maximum overcurrent device of its nameplate", "fixture.maximum_overcurrent_a")
_CABLES = Missing("the cables of its circuit with their wire size", "cable.awg")


def _carried(circuit: Circuit, house: Dwelling, code: Edition, work: Work) -> Fraction | Missing:
    """What the weakest cable of a circuit carries."""
    cables = house.cables_of_circuit.get(circuit.id, ())
    if not cables or any(cable.awg is None for cable in cables):
        return _CABLES
    try:
        return min(
            reckon_ampacity(replace(run_of(cable), terminal_c=_TERMINAL_C), code, work).allowed_a
            for cable in cables
        )
    except ConductorError:
        return _CABLES


@rule(
    id="hvac-conductors",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("440.4(B), 440.32"),
    title="The conductors carry what the cooling equipment's nameplate asks for",
    why="The maker has reckoned motors, starting and heat into one figure; smaller wire runs hot every summer.",
    look_for="“Minimum circuit ampacity” (MCA) on the nameplate against what the wire carries as it is run.",
    cure="Run larger conductors before the wall is closed.",
    says={
        "carries": "The nameplate asks for {least_a:n} A; the weakest cable of {circuit} carries {carries_a:n} A.",
        "too-small": "The nameplate asks for {least_a:n} A; the weakest cable of {circuit} carries only {carries_a:n} A.",
        "not-recorded": "It is not recorded: {what}.",
        "other-kind": "Only equipment whose nameplate gives a minimum circuit ampacity is meant.",
    },
    mistakes="Sizing by the tons of the old unit.",
    plain="The wire must carry at least the number called MCA on the unit's label.",
)
def hvac_conductors(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The nameplate's least ampacity against the weakest cable of the circuit."""
    if fixture.kind not in _MARKED and (
        fixture.kind not in _ALSO_MARKED or fixture.minimum_circuit_a is None
    ):
        return outside("other-kind")
    if fixture.minimum_circuit_a is None:
        return not_recorded(_LEAST)
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    carries_a = _carried(circuit, house, code, work)
    if isinstance(carries_a, Missing):
        return not_recorded(carries_a)
    enough = carries_a >= fixture.minimum_circuit_a
    if work:
        work.step("nameplate: minimum circuit ampacity", fixture.minimum_circuit_a, "A", "440.4(B)")
    outcome, reason = (clear, "carries") if enough else (correction, "too-small")
    return outcome(
        reason, least_a=fixture.minimum_circuit_a, carries_a=carries_a, circuit=circuit_name(circuit)
    )


@rule(
    id="hvac-overcurrent",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("440.22, 110.3(B)"),
    title="The breaker is no larger than the nameplate of the equipment allows",
    why="The compressor's winding is protected by it; a larger breaker lets it burn.",
    look_for="“Maximum fuse or breaker” (MOCP) on the nameplate against the breaker; fuses where the nameplate says fuses only.",
    cure="Fit a breaker of at most the nameplate's figure.",
    says={
        "suits": "The nameplate allows {most_a:n} A; {circuit} is rated {rating_a:n} A.",
        "too-large": "The nameplate allows {most_a:n} A; {circuit} is rated {rating_a:n} A.",
        "not-recorded": "It is not recorded: {what}.",
        "other-kind": "Only equipment whose nameplate gives a maximum overcurrent device is meant.",
    },
    mistakes="The old 60 A breaker kept for a new, smaller unit.",
    plain="The breaker may not be bigger than the maximum on the unit's label.",
)
def hvac_overcurrent(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's rating against the nameplate's largest device."""
    if fixture.kind not in _MARKED and (
        fixture.kind not in _ALSO_MARKED or fixture.maximum_overcurrent_a is None
    ):
        return outside("other-kind")
    if fixture.maximum_overcurrent_a is None:
        return not_recorded(_MOST)
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    assert circuit.rating_a is not None
    if work:
        work.step("nameplate: largest overcurrent device", fixture.maximum_overcurrent_a, "A", "440.22")
    fits = circuit.rating_a <= fixture.maximum_overcurrent_a
    outcome, reason = (clear, "suits") if fits else (correction, "too-large")
    return outcome(
        reason, most_a=fixture.maximum_overcurrent_a, circuit=circuit_name(circuit), rating_a=circuit.rating_a
    )


@rule(
    id="electric-heat-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(e2017="424.3(B)", e2020="424.4(B)"),
    title="The circuit of electric heat is rated for a load that runs for hours",
    why="On the coldest night it runs without a break.",
    look_for="The watts of all heaters on the circuit, and a quarter more, against breaker and wire.",
    cure="Divide the heaters over two circuits, or run a larger one.",
    says=SAYS,
    mistakes="Adding one more baseboard to a circuit that was full.",
    plain="Add up the heaters on the circuit, add a quarter, and use that size breaker or bigger.",
)
def electric_heat_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's rating against 125 percent of all electric heat on it."""
    if fixture.kind not in _HEATERS:
        return outside("other-kind", kinds="electric heaters")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    together = Fraction(0)
    for heater in fixtures_on(circuit, house):
        if heater.kind in _HEATERS:
            if heater.va is None:
                return not_recorded(NAMEPLATE)
            together += heater.va
    return judge_rating(together, "equipment.heat_percent", circuit, code, work)


hvac_disconnect_in_sight = look(
    id="hvac-disconnect-in-sight",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("440.14"),
    title="The outdoor unit has its disconnect in sight",
    why="The mechanic's hand is in the fan; nobody must be able to turn it on from the panel.",
    look_for="A disconnect within sight of the unit and not more than fifty feet away, on the wall and not on a panel that has to be taken off.",
    cure="Set a disconnect on the wall beside the unit.",
    applies=_OUTDOORS,
    mistakes="Behind the unit, where only the pump truck can reach it.",
    plain="There must be a shut-off right by the outdoor unit.",
    danger="Pull the disconnect and prove both legs dead before you open the unit.",
)

hvac_disconnect_reached = look(
    id="hvac-disconnect-reached",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.26(A), 440.14"),
    title="One can stand before the outdoor unit's disconnect",
    why="It is opened live to test, leaning over a spinning fan if it must be.",
    look_for="Clear space before the disconnect, not above or behind the unit.",
    cure="Move the disconnect to the side of the unit.",
    applies=_OUTDOORS,
    plain="Leave room to stand in front of the unit's shut-off.",
)

hvac_disconnect_closed = look(
    id="hvac-disconnect-closed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2023="440.11", e2026="440.11"),
    title="The outdoor unit's disconnect cannot be opened by a child",
    why="Behind a lid that lifts with a finger are live lugs, at the height of a child's hand.",
    look_for="A lid that needs a tool, or takes a lock (from 2026 on: that is locked), wherever opening it bares live parts; an inner cover over the lugs that is in place.",
    cure="Fit a lock or a screw, or change the disconnect for one that covers its live parts.",
    applies=_OUTDOORS,
    mistakes="The inner cover left in the grass by the last service call.",
    plain="Lock or screw shut the shut-off box beside the air conditioner.",
    danger="Pulling the handle out does not kill the lugs that come from the house.",
)

furnace_disconnect = look(
    id="furnace-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="422.31, 424.19"),
    title="Furnace, boiler or air handler has a switch in sight",
    why="The service man turns it off where he kneels.",
    look_for="A switch at the unit or in sight of it, marked; for oil and gas often a second one at the stair, where the place asks for it.",
    cure="Set a switch at the unit.",
    applies=_INDOORS,
    plain="Put an on-off switch at the furnace.",
)

heater_clear_of_cords = look(
    id="heater-clear-of-cords",
    stage=Stage.FINAL,
    about=Fixture,
    cites=held("110.3(B)"),
    title="No receptacle is above an electric baseboard heater",
    why="A cord that hangs down onto the fins bakes until it shorts.",
    look_for="Receptacles beside the heater, in its blank section or in the heater itself; the instructions say how far.",
    cure="Move the receptacle past the end of the heater, or use a heater with a receptacle in it.",
    applies=fixture_is(FixtureKind.ELECTRIC_HEAT),
    mistakes="A heater set below a receptacle that was there before.",
    plain="Do not put outlets above baseboard heaters.",
    danger="Cords and curtains on a heater start fires.",
)

hvac_whip = look(
    id="hvac-whip",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("350.30, 356.30, 300.6"),
    title="The flexible raceway to the outdoor unit is liquid-tight, short and held",
    why="It is pulled by every gardener, and water runs down it into the unit.",
    look_for="Liquid-tight raceway with its own fittings tight, fastened unless it is short (three feet for small sizes), a ground wire in it, kept off the ground and from the line set's heat.",
    cure="Change it for liquid-tight raceway with listed fittings, and strap it.",
    applies=_OUTDOORS,
    plain="The flexible pipe to the outdoor unit must be waterproof, tight and fastened.",
)

mini_split_cable = look(
    id="mini-split-cable",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=limited_energy("110.3(B), 300.3, 725.136"),
    title="The cable between the halves of a mini-split is one that may be there",
    why="It carries power and signal, runs outdoors and through the wall, and cord is not made for either.",
    look_for="Cable or wire in raceway of the leaflet's kind and size (four conductors, no splice), for sun and wet outdoors and for walls inside, fastened along the line set's cover or in raceway.",
    cure="Pull the kind of cable that leaflet and place ask for.",
    applies=fixture_is(FixtureKind.MINI_SPLIT),
    mistakes="Appliance cord or NM along the line set outdoors.",
    plain="Use proper outdoor-rated cable between the two halves of a mini-split, not cord.",
)

mini_split_indoor_switch = look(
    id="mini-split-indoor-switch",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("440.14, 422.31, 110.3(B)"),
    title="The indoor half of a mini-split can be cut off for service where it is asked for",
    why="Whoever cleans it hangs over the bed, and the outdoor switch is round the house.",
    look_for="A switch that opens all conductors of the cable at the indoor half, or a lock on the outdoor disconnect, as leaflet and inspector want it.",
    cure="Set a multi-pole switch at the indoor half, or a lock on the outdoor one.",
    applies=fixture_is(FixtureKind.MINI_SPLIT),
    plain="Ask whether your inspector wants a switch at the indoor unit too.",
)

condensate_pump_plug = look(
    id="condensate-pump-plug",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("400.10, 400.12, 210.63"),
    title="A condensate pump is plugged in by its own cord, and stops the unit when it overflows",
    why="An extension cord through the furnace's sheet metal is found live years later.",
    look_for="Its cord straight into a receptacle near the unit, GFCI where the place asks for it, float switch wired by the leaflet. Drained by itself: “not here”.",
    cure="Set a receptacle by the unit, and connect the float switch.",
    applies=_INDOORS,
    plain="Plug the furnace's drain pump into its own outlet, without extension cords.",
)
