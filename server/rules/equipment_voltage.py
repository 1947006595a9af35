"""Equipment against the voltage of the circuit it is on."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Circuit, Dwelling, Fixture, Stage
from server.editions import Edition
from server.reckon.figures import percent_of
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import devices_of_fixture
from server.rules.citing import carried
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["equipment_voltage"]

_CIRCUIT = Missing("the outlet and circuit that feed it", "device.fixture_id")


def _circuit(fixture: Fixture, house: Dwelling) -> Circuit | None:
    devices = devices_of_fixture(fixture, house)
    return house.circuit_of(devices[0]) if devices else None


@rule(
    id="equipment-voltage",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("110.4"),
    title="The equipment is made for the voltage of its circuit",
    why="A 120 V heater on 240 V gives four times its heat, for a few minutes; a 208 V one on 240 V a third too much, for years.",
    look_for="Volts on the nameplate against the circuit's: 120, or 240 between the legs.",
    cure="Run the circuit at the nameplate's voltage, or exchange the equipment.",
    says={
        "suits": "Its nameplate says {volts:n} V; {circuit} gives {circuit_volts:n} V.",
        "differs": "Its nameplate says {volts:n} V, but {circuit} gives {circuit_volts:n} V.",
        "not-recorded": "It is not recorded: {what}.",
        "not-said": "No voltage is recorded of its nameplate.",
    },
    mistakes="Baseboard heaters of 120 V and 240 V look the same.",
    plain="Check the volts on the label before you connect a heater or appliance.",
    danger="The wrong voltage burns a heater out within minutes.",
)
def equipment_voltage(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The nameplate's voltage within the usual tolerance of the circuit's nominal voltage."""
    if fixture.volts is None:
        return outside("not-said")
    circuit = _circuit(fixture, house)
    if circuit is None:
        return unseen("not-recorded", _CIRCUIT, what=_CIRCUIT.words)
    most = percent_of(code.number("equipment.voltage_percent", work), Fraction(circuit.volts))
    apart = abs(Fraction(fixture.volts - circuit.volts))
    if work:
        work.step(f"nameplate {fixture.volts} V, circuit {circuit.volts} V: apart by", apart, "V", "110.4")
        work.step("counts as the same voltage up to", most, "V")
    outcome, reason = (clear, "suits") if apart <= most else (correction, "differs")
    return outcome(
        reason, volts=fixture.volts, circuit_volts=circuit.volts, circuit=circuit_name(circuit),
        confidence=code.confidence("equipment.voltage_percent"),
    )  # fmt: skip
