"""Circuits of equipment whose nameplate decides them: the circuit that is there, against what it has to be rated."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from server.dwelling import Circuit, Dwelling, Fixture
from server.editions import Edition
from server.reckon.figures import percent_of
from server.reckon.work import Work
from server.rules.circuit_outlets import devices_of_fixture, outlets_of
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, unseen

__all__ = ["NAMEPLATE", "SAYS", "circuit_for", "fixtures_on", "judge_rating", "not_recorded"]

NAMEPLATE: Final = Missing("what the nameplate says it takes", "fixture.va")
_OUTLET: Final = Missing("the outlet that is there for it", "device.fixture_id")
_CIRCUIT: Final = Missing("the circuit that feeds it", "device.circuit_id")
_RATING: Final = Missing("the rating of its circuit", "circuit.rating_a")

SAYS: Final = {
    "enough": "It takes {load_a:n} A, for which a circuit of {least_a:n} A is needed; {circuit} is rated {rating_a:n} A.",
    "too-small": "It takes {load_a:n} A, for which a circuit of {least_a:n} A is needed; {circuit} is rated only {rating_a:n} A.",
    "not-recorded": "It is not recorded: {what}.",
    "other-kind": "Only {kinds} are meant.",
    "burns-fuel": "It burns fuel.",
}


def circuit_for(fixture: Fixture, house: Dwelling) -> Circuit | Missing:
    """The circuit of the outlet that is there for a piece of equipment, with a rating; or what is missing."""
    devices = devices_of_fixture(fixture, house)
    if not devices:
        return _OUTLET
    circuit = house.circuit_of(devices[0])
    if circuit is None:
        return _CIRCUIT
    return _RATING if circuit.rating_a is None else circuit


def fixtures_on(circuit: Circuit, house: Dwelling) -> list[Fixture]:
    """The equipment on a circuit, each once, in the order of the house."""
    found = {
        outlet.fixture.id: outlet.fixture
        for outlet in outlets_of(circuit, house)
        if outlet.fixture is not None
    }
    return list(found.values())


def judge_rating(
    load_va: Fraction,
    percent_node: str,
    circuit: Circuit,
    code: Edition,
    work: Work,
    volts: int | None = None,
) -> Outcome:
    """The circuit's rating against a percentage of the load's current, at the voltage that the equipment is made for where
    that is known: another one of the circuit is told by ``equipment-voltage``."""
    assert circuit.rating_a is not None
    volts = volts or circuit.volts
    load_a = load_va / volts
    least_a = percent_of(code.number(percent_node, work), load_a)
    cites = code.cites(percent_node)
    if work:
        work.step(f"{load_va} VA ÷ {volts} V", load_a, "A", cites)
        work.step(f"× {float(code.number(percent_node)):g} %: the least rating", least_a, "A", cites)
    outcome, reason = (clear, "enough") if circuit.rating_a >= least_a else (correction, "too-small")
    return outcome(
        reason, cites=cites, confidence=code.confidence(percent_node), load_a=load_a, least_a=least_a,
        circuit=circuit_name(circuit), rating_a=circuit.rating_a,
    )  # fmt: skip


def not_recorded(missing: Missing) -> Outcome:
    """A fact is missing, said the same way for all of them."""
    return unseen("not-recorded", missing, what=missing.words)
