"""Appliances and equipment on their circuits: alone where they must be, within their share where they are not."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Circuit, Device, DeviceKind, Dwelling, Fixture, FixtureKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import Outlet, devices_of_fixture, outlet_words, outlets_of
from server.rules.citing import PRACTICE, carried, held, moved
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["appliance_own_circuit", "ev_own_circuit", "fixed_load_share", "heating_own_circuit"]

_HUNDRED = 100
_PLAIN = ("", "general")


def _alone(fixture: Fixture, house: Dwelling, work: Work, *, with_light: bool = False) -> Outcome:
    devices = devices_of_fixture(fixture, house)
    kind = str(fixture.kind)
    if not devices:
        return unseen("no-outlet", Missing("the outlet that is there for it", "device.fixture_id"), kind=kind)
    circuits: list[Circuit] = []
    for device in devices:
        circuit = house.circuit_of(device)
        if circuit is None:
            return unseen("no-circuit", Missing("the circuit that feeds it", "device.circuit_id"), kind=kind)
        circuits.append(circuit)
    for circuit in circuits:
        other = _other(circuit, devices, house, fixture.room_id if with_light else "")
        if work:
            work.step(
                circuit_name(circuit),
                "alone" if other is None else f"shared with {outlet_words(other, house)}",
            )
        if other is not None:
            return correction(
                "shared", kind=kind, circuit=circuit_name(circuit), outlet=outlet_words(other, house)
            )
        if with_light and _other(circuit, devices, house, "") is not None:
            return clear("with-light", kind=kind, circuit=circuit_name(circuit))
    return clear("alone", kind=kind)


def _other(circuit: Circuit, own: list[Device], house: Dwelling, light_in: str) -> Outlet | None:
    """An outlet of the circuit that is not there for the appliance itself: its service receptacle is, and where
    the edition takes it, the light of the room it stands in."""
    return next(
        (
            each
            for each in outlets_of(circuit, house)
            if each.device not in own
            and each.serves != "HVAC service"
            and not (each.room.id == light_in and each.device.kind is DeviceKind.LUMINAIRE)
        ),
        None,
    )


_SAYS = {
    "alone": "The {kind} is alone on its circuit.",
    "shared": "The {kind} shares {circuit} with {outlet}.",
    "no-outlet": "No outlet is recorded for the {kind}.",
    "no-circuit": "Which circuit feeds the {kind} is not recorded.",
    "other-kind": "A {kind} may share a circuit, as far as this rule goes.",
}


@rule(
    id="heating-own-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=held("422.12"),
    title="The heating has a circuit of its own",
    why="A tripped hair dryer must not leave the house without heat in January.",
    look_for="Furnace, boiler or air handler alone on its circuit, with its pump, valve or humidifier at most; from 2026 on also "
    "with the light that its place needs.",
    cure="Run a circuit from the panel for the heating alone.",
    says={**_SAYS, "with-light": "The {kind} shares {circuit} with the light of its place only."},
    mistakes="Hanging the basement lights or the condensate pump's receptacle for everybody on the furnace circuit.",
    plain="The furnace or boiler needs its own breaker.",
)
def heating_own_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Nothing else on the circuit of central heating equipment but what the edition lets share it."""
    if fixture.kind not in code.names("circuits.heating_alone", work):
        return outside("other-kind", kind=str(fixture.kind))
    return _alone(fixture, house, work, with_light=code.flag("circuits.heating_with_light", work))


@rule(
    id="appliance-own-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=PRACTICE,
    title="A large appliance has a circuit of its own where its instructions ask for one",
    why="The instructions that come with the appliance are part of its listing, and most ask for a circuit alone; two on one "
    "circuit trip it on a holiday.",
    look_for="Range, oven, dryer, water heater, dishwasher, disposer, microwave, pumps: each on its own circuit, unless "
    "its instructions let it share.",
    cure="Run a circuit for the appliance alone, or show instructions that let the two share.",
    says={**_SAYS, "burns-fuel": "The {kind} burns fuel; its igniter, fan or motor takes little."},
    mistakes="Dishwasher and disposer on one 15 A circuit; the built-in microwave on a counter circuit.",
    plain="Big appliances each need their own breaker. Their instructions say so.",
)
def appliance_own_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Nothing else on the circuit of a large appliance."""
    if fixture.kind not in code.names("circuits.appliances_alone", work):
        return outside("other-kind", kind=str(fixture.kind))
    if fixture.fuel_burning:
        return outside("burns-fuel", kind=str(fixture.kind))
    return _alone(fixture, house, work)


@rule(
    id="ev-own-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("625.40"),
    title="The car charger has a circuit of its own",
    why="It takes all that its circuit gives, for hours; a freezer beside it is off in the morning.",
    look_for="Nothing else on the charger's circuit or outlet; two chargers on one only under load management that is listed for it. From 2023 on a small one "
    "at 120 V, of at most 16 A, may share.",
    cure="Run a circuit for the charger alone, or show the listing of the load management that two chargers share.",
    says={
        **_SAYS,
        "small": "A charger of {amps:n} A at {volts:n} V may share its circuit since this edition.",
    },
    mistakes="A charger plugged in at the dryer's outlet, or on the garage's receptacle circuit.",
    plain="A car charger needs its own breaker, with nothing else on it.",
)
def ev_own_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Nothing else on the circuit of a car charger, but where the edition lets a small one share."""
    if fixture.kind is not FixtureKind.EV_CHARGER:
        return outside("other-kind", kind=str(fixture.kind))
    devices = devices_of_fixture(fixture, house)
    circuit = house.circuit_of(devices[0]) if devices else None
    if circuit is not None and fixture.va is not None and code.has("ev.shared_most_a"):
        amps = fixture.va / circuit.volts
        if work:
            work.step(f"{circuit.volts} V", amps, "A", code.cites("ev.shared_most_a"))
        if circuit.volts <= code.number("ev.shared_most_v", work) and amps <= code.number(
            "ev.shared_most_a", work
        ):
            return outside("small", amps=amps, volts=circuit.volts, cites=code.cites("ev.shared_most_a"))
    return _alone(fixture, house, work)


@rule(
    id="fixed-load-share",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(e2017="210.23(A)(2)", e2023="210.23(B)(2)"),
    title="Equipment fastened in place takes at most its share of a shared circuit",
    why="Lights and receptacles on the same circuit need what is left; a fixed load cannot be unplugged when it is too much.",
    look_for="On a circuit that also feeds lights or receptacles: all that is fastened in place together no more than half of "
    "its rating.",
    cure="Give the equipment a circuit of its own.",
    says={
        "within": "It takes {va:n} VA; {most_va:n} VA is the most on a shared {rating_a:n} A circuit.",
        "too-much": "It takes {va:n} VA of {circuit}, which it shares; {most_va:n} VA is the most on a shared {rating_a:n} A circuit.",
        "load-not-recorded": "It is fastened in place and shares {circuit}; what it takes is not recorded.",
        "no-circuit": "Which circuit feeds it is not recorded.",
        "alone": "It is alone on its circuit.",
        "plugged": "It is not fastened in place.",
        "no-outlet": "No outlet is recorded for it.",
    },
    mistakes="A central vacuum or a bathroom heater on a circuit that was there already.",
    plain="Built-in equipment may use at most half of a circuit that also feeds lights or outlets.",
)
def fixed_load_share(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The fixture's load against half of the circuit that it shares with general outlets."""
    if not fixture.fastened_in_place:
        return outside("plugged")
    devices = devices_of_fixture(fixture, house)
    if not devices:
        return outside("no-outlet")
    circuit = house.circuit_of(devices[0])
    if circuit is None or circuit.rating_a is None:
        return unseen("no-circuit", Missing("the circuit that feeds it", "device.circuit_id"))
    if not any(each.device not in devices and each.serves in _PLAIN for each in outlets_of(circuit, house)):
        return outside("alone")
    share = code.number("circuits.fixed_share_percent", work) / _HUNDRED
    most_va = Fraction(circuit.rating_a) * circuit.volts * share
    if fixture.va is None:
        missing = Missing("what the nameplate says it takes", "fixture.va")
        return unseen("load-not-recorded", missing, circuit=circuit_name(circuit))
    if work:
        work.step(
            f"{circuit.rating_a} A × {circuit.volts} V × {float(share):g}", most_va, "VA", "210.23(A)(2)"
        )
    if fixture.va > most_va:
        return correction(
            "too-much",
            va=fixture.va,
            most_va=most_va,
            rating_a=circuit.rating_a,
            circuit=circuit_name(circuit),
        )
    return clear("within", va=fixture.va, most_va=most_va, rating_a=circuit.rating_a)
