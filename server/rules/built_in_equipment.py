"""Equipment that few houses have: central vacuums, gas fireplaces, attic fans, saunas, lifts."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import DEPARTMENT, carried, limited_energy
from server.rules.looks import look
from server.rules.reach import fixture_is
from server.rules.rule import Kind

__all__ = [
    "attic_fan_connected", "attic_fan_switch", "central_vacuum_circuit", "central_vacuum_metal",
    "fireplace_control_wires", "fireplace_shut_off", "fireplace_wiring", "lift_disconnect", "lift_permit",
    "sauna_controls", "sauna_heater", "sauna_wiring",
]  # fmt: skip

_VACUUM = fixture_is(FixtureKind.CENTRAL_VACUUM)
_FIREPLACE = fixture_is(FixtureKind.GAS_FIREPLACE)
_FAN = fixture_is(FixtureKind.ATTIC_FAN)
_SAUNA = fixture_is(FixtureKind.SAUNA)
_LIFT = fixture_is(FixtureKind.LIFT)

central_vacuum_circuit = look(
    id="central-vacuum-circuit",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("422.15"),
    title="The central vacuum has a circuit that carries it",
    why="It runs near the full current of a circuit for as long as somebody cleans.",
    look_for="A circuit of its own unless it takes less than eight tenths of a shared one; inlets with 120 V wired as outlets, in boxes.",
    cure="Run a circuit of its own to it.",
    applies=_VACUUM,
    plain="Give the central vacuum its own circuit.",
)

central_vacuum_metal = look(
    id="central-vacuum-metal",
    stage=Stage.FINAL,
    about=Fixture,
    cites=limited_energy("422.15(C), 725.136"),
    title="The vacuum's metal is grounded, its control wires are of class 2",
    why="The hose with its wire is in everybody's hand.",
    look_for="Metal parts of unit and powered inlets on the circuit's ground, the low-voltage wire along the tubes listed and out of power boxes, the plug reached.",
    cure="Ground the metal parts, and part the control wires from power.",
    applies=_VACUUM,
    plain="Ground the central vacuum and keep its thin wires out of power boxes.",
)

fireplace_wiring = look(
    id="fireplace-wiring",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("110.3(B), 300.15"),
    title="The fireplace's box and cable are where its leaflet has them, away from heat",
    why="Behind the firebox ordinary cable is brown after one winter.",
    look_for="The factory's box or receptacle space used, cable brought to it as the leaflet shows, clear of the flue and the glass, a switched and an unswitched leg where it needs both.",
    cure="Move the cable to where the leaflet allows it.",
    applies=_FIREPLACE,
    plain="Wire the gas fireplace exactly where its leaflet shows.",
)

fireplace_control_wires = look(
    id="fireplace-control-wires",
    stage=Stage.FINAL,
    about=Fixture,
    cites=limited_energy("725.136, 110.3(B)"),
    title="The fireplace's wall switch is of the kind that its valve asks for",
    why="A millivolt valve on 120 V burns out with its gas on.",
    look_for="Millivolt or low-voltage control in a bracket of its own, not in a box with 120 V; a 120 V switch only for blower or ignition that take it.",
    cure="Part the control wires from the 120 V, and connect them by the leaflet.",
    applies=_FIREPLACE,
    mistakes="The valve's wires in the same box as the blower's switch.",
    plain="Keep the fireplace's low-voltage switch wires out of power boxes.",
    danger="Never put 120 volts on a gas valve that is made for millivolts.",
)

fireplace_shut_off = look(
    id="fireplace-shut-off",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.31, 422.33"),
    title="Blower and ignition can be unplugged or switched off",
    why="Whoever cleans the glass reaches past the fan.",
    look_for="A plug that can be reached behind the lower grille, or a switch in sight or a breaker that locks.",
    cure="Bring the plug within reach, or put a lock on the breaker.",
    applies=_FIREPLACE,
    plain="You must be able to unplug or switch off the fireplace's fan.",
)

attic_fan_switch = look(
    id="attic-fan-switch",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("422.31, 430.102"),
    title="A whole-house or attic fan can be turned off in sight of it",
    why="Its thermostat starts it while somebody greases the bearing.",
    look_for="A switch in the attic by the fan or one that locks, a control rated for the motor, its fire cut-off where the place asks for it.",
    cure="Set a switch beside the fan.",
    applies=_FAN,
    plain="Put a switch next to the attic fan.",
)

attic_fan_connected = look(
    id="attic-fan-connected",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("430.12, 250.112, 110.3(B)"),
    title="The fan is guarded, grounded and wired in a box",
    why="Blade and belt are in the dark beside the hatch.",
    look_for="A guard or louver, cable through a connector into its box, ground connected, thermostat mounted as its leaflet says.",
    cure="Fit guard and connector, and ground the frame.",
    applies=_FAN,
    plain="Ground the attic fan and guard its blades.",
)

sauna_heater = look(
    id="sauna-heater",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 424.13"),
    title="The sauna's heater suits its room and keeps its distances",
    why="A heater for a larger room sets the bench on fire.",
    look_for="Listed for saunas, kilowatts for the room's volume, distances to wall and ceiling, the guard, nothing above it. Steam generators: their leaflet's drain and shut-off.",
    cure="Change or move the heater by its leaflet.",
    applies=_SAUNA,
    plain="The sauna heater must fit the room and keep its distance from wood.",
    danger="Towels on a sauna heater start fires.",
)

sauna_wiring = look(
    id="sauna-wiring",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("110.3(B), 310.15, 300.22"),
    title="Wiring in the sauna is for its heat, and there is no more of it than its heater and light need",
    why="Below the ceiling it is hotter than any ordinary cable withstands.",
    look_for="High-temperature conductors where the leaflet asks for them, no receptacle and no switch inside, the luminaire rated for it, cable outside the insulation.",
    cure="Take receptacles and cable out of the hot room, and use wire of the marked temperature.",
    applies=_SAUNA,
    mistakes="NM cable stapled behind the cedar.",
    plain="No outlets or ordinary cable inside a sauna.",
)

sauna_controls = look(
    id="sauna-controls",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 424.20"),
    title="The sauna turns itself off, and its controls are where they may be",
    why="It is forgotten, and the door warps shut.",
    look_for="A timer of at most the leaflet's hour, a limit switch that was tried, the control outside or low on the wall, GFCI where leaflet or department asks for it.",
    cure="Fit the maker's timer and limit.",
    applies=_SAUNA,
    plain="The sauna needs a timer that shuts it off.",
)

lift_permit = look(
    id="lift-permit",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="A stair lift, platform or elevator has its own permit, and its inspector was asked",
    why="Often another office looks at it, with a code of its own, and many places keep it from owners.",
    look_for="Its permit or a word from the department that none is wanted, the maker's wiring sheet with circuit and disconnect.",
    cure="Ask the department, and file what it wants.",
    applies=_LIFT,
    plain="Ask your building department before wiring a home elevator or lift.",
)

lift_disconnect = look(
    id="lift-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("620.51, 620.23"),
    title="The lift has a lockable disconnect, a light and a receptacle by its machine",
    why="Somebody kneels in its pit.",
    look_for="A circuit of its own, a fused switch or breaker that locks open in sight of the machine, its sign, a light, GFCI receptacles in pit and machine space. Plug-in stair lifts: their leaflet.",
    cure="Set a lockable disconnect in sight of the machine.",
    applies=_LIFT,
    plain="The home elevator needs a lockable shut-off by its motor.",
    danger="Elevators are for elevator mechanics and licensed electricians.",
)
