"""The electric water heater: its circuit, its disconnect, its connection."""

from __future__ import annotations

from server.dwelling import Dwelling, Fixture, FixtureKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.equipment_circuits import NAMEPLATE, SAYS, circuit_for, judge_rating, not_recorded
from server.rules.looks import look
from server.rules.outcome import Missing, Outcome, outside
from server.rules.rule import rule

__all__ = ["water_heater_circuit", "water_heater_connection", "water_heater_disconnect"]


def _electric(fixture: Fixture, house: Dwelling, code: Edition) -> str | None:
    if fixture.kind is not FixtureKind.WATER_HEATER:
        return "Only water heaters are meant."
    return "The water heater burns fuel." if fixture.fuel_burning else None


@rule(
    id="water-heater-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("422.10, 422.13"),
    title="The water heater's circuit is rated for a load that runs for hours",
    why="After a bath it heats for an hour and more without rest.",
    look_for="The watts of the nameplate, and a quarter more, against breaker and wire (storage heaters up to 120 gallons).",
    cure="Run a larger circuit, or fit smaller elements.",
    says=SAYS,
    mistakes="4500 W on a 20 A circuit because it is just under.",
    plain="A 4500 watt water heater needs at least a 25 amp circuit, in practice 30.",
)
def water_heater_circuit(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's rating against 125 percent of the heater's current."""
    if fixture.kind is not FixtureKind.WATER_HEATER:
        return outside("other-kind", kinds="electric water heaters")
    if fixture.fuel_burning:
        return outside("burns-fuel")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    if fixture.va is None:
        return not_recorded(NAMEPLATE)
    return judge_rating(fixture.va, "equipment.water_heater_percent", circuit, code, work, fixture.volts)


water_heater_disconnect = look(
    id="water-heater-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.31(B)"),
    title="The water heater can be turned off in sight, or its breaker locked",
    why="The plumber changes an element; nobody upstairs must turn the breaker back on.",
    look_for="A switch in sight of the heater, the panel in sight, or a lock-off device that stays on its breaker.",
    cure="Fit a lock-off device on the breaker, or a switch at the heater.",
    applies=_electric,
    plain="You need a switch near the water heater or a lock for its breaker.",
    danger="Turn it off and prove both legs dead before a cover of the heater comes off.",
)

water_heater_connection = look(
    id="water-heater-connection",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 334.15(B)"),
    title="The cable to the water heater is clamped and protected",
    why="It hangs where the next one drags the old heater out.",
    look_for="A connector at the top of the heater, the cable in flexible raceway or protected where it can be struck, the ground on its screw, the "
    "cover on.",
    cure="Fit a connector, protect the cable, and connect the ground.",
    applies=_electric,
    mistakes="NM cable in free air from the ceiling to the tank.",
    plain="Protect the last few feet of cable at the water heater and clamp it.",
)
