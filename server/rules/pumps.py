"""Pumps of a house: sumps, sewage, wells, and the controller of the sprinklers."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import PRACTICE, carried, limited_energy
from server.rules.looks import look
from server.rules.reach import fixture_is

__all__ = [
    "pressure_switch_closed", "pump_disconnect", "pump_overload", "sewage_pump_alarm", "sewage_pump_basin",
    "sewage_pump_sealed", "sprinkler_controller", "sprinkler_splices", "sump_pump_alone", "sump_pump_cord",
    "well_cable", "well_casing_bonded", "well_pump_ground",
]  # fmt: skip

_SUMP = fixture_is(FixtureKind.SUMP_PUMP)
_SEWAGE = fixture_is(FixtureKind.SEWAGE_PUMP)
_PIT = fixture_is(FixtureKind.SUMP_PUMP, FixtureKind.SEWAGE_PUMP)
_WELL = fixture_is(FixtureKind.WELL_PUMP)
_MOTOR = fixture_is(FixtureKind.WELL_PUMP, FixtureKind.SEWAGE_PUMP)
_SPRINKLER = fixture_is(FixtureKind.SPRINKLER_CONTROLLER)
_WATER = "Water and a live pump in the same pit: turn off the breaker and prove it dead before you reach in."

sump_pump_alone = look(
    id="sump-pump-alone",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=PRACTICE,
    title="The pump is on a circuit that nothing else can trip",
    why="A hair dryer upstairs turns it off the night the rain comes.",
    look_for="A circuit of its own for sump or sewage pump, its outlet above the height that water could reach, near enough for the pump's own cord.",
    cure="Run a circuit of its own.",
    applies=_PIT,
    plain="Give the sump pump its own circuit.",
)

sump_pump_cord = look(
    id="sump-pump-cord",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("400.10, 400.12, 422.16(A), 110.3(B)"),
    title="The pump's own cord reaches its receptacle, whole and off the floor",
    why="A spliced or extended cord lies in water on the day that matters.",
    look_for="The maker's cord with its float's plug, no extension cord, kept from the pump's edges, the receptacle above the pit with its GFCI where the edition asks for it.",
    cure="Move the receptacle, or have the maker's longer cord fitted.",
    applies=_PIT,
    mistakes="An orange extension cord to the laundry.",
    plain="Plug the pump straight into its own outlet. No extension cords.",
    danger=_WATER,
)

sewage_pump_alarm = look(
    id="sewage-pump-alarm",
    stage=Stage.FINAL,
    about=Fixture,
    cites=PRACTICE,
    title="The high-water alarm is on another circuit than its pump",
    why="What stops the pump must not silence the alarm.",
    look_for="A float of its own, an alarm that is heard and seen, fed from another breaker, tried by lifting the float.",
    cure="Feed the alarm from another circuit.",
    applies=_SEWAGE,
    plain="Put the septic alarm on a different breaker than the pump.",
)

sewage_pump_sealed = look(
    id="sewage-pump-sealed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("300.5(G), 300.7(A)"),
    title="The raceway from the tank is sealed, and no ordinary box is in its gas",
    why="Sewer gas follows the pipe into the panel: it corrodes, and it burns.",
    look_for="Seal putty or a seal fitting in the raceway at the tank and at the house; control box and splices outside the tank, or of a kind sealed for it.",
    cure="Seal the raceway at both ends, and bring splices outside.",
    applies=_SEWAGE,
    plain="Seal the pipe between the septic tank and the house so gas cannot follow it.",
    danger="Never climb into a tank: its gas kills at the first breath.",
)

sewage_pump_basin = look(
    id="sewage-pump-basin",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.11, 314.15, 300.6"),
    title="Cords pass the basin's lid sealed, boxes by it are for wet places",
    why="It is damp there all year.",
    look_for="Grommets in the lid, covers and boxes that do not rust, no receptacle inside the basin, cords held clear of the float.",
    cure="Fit grommets, and change the box for one for wet places.",
    applies=_SEWAGE,
    plain="Use a wet-rated box at the sewage pit, and seal where cords go in.",
)

pump_disconnect = look(
    id="pump-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("430.102, 430.109"),
    title="The pump can be turned off in sight of it and of its control box",
    why="Whoever pulls a pump from a well holds its wires in wet hands.",
    look_for="A switch rated for the motor (horsepower on it) in sight of control box and wellhead or tank, or a breaker that locks.",
    cure="Set a motor-rated switch by the control box, or a lock on the breaker.",
    applies=_MOTOR,
    plain="The pump needs its own shut-off that you can see from it.",
)

pump_overload = look(
    id="pump-overload",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("430.32, 430.52, 110.3(B)"),
    title="Control box, overload and breaker are those of the pump's nameplate",
    why="A jammed pump draws several times its current; only the right overload saves it.",
    look_for="Control box of the pump's make, horsepower and volts, or a pump marked as protected in itself; breaker and wire by the maker's table for the length of the run.",
    cure="Fit the control box and breaker of the maker's table.",
    applies=_MOTOR,
    plain="Match the control box and breaker to the pump's label.",
)

pressure_switch_closed = look(
    id="pressure-switch-closed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.27(A), 300.15, 110.12"),
    title="Pressure switch and control box are closed, their cables in connectors",
    why="Open contacts at 240 V, in a damp corner, at a child's height.",
    look_for="Covers on, connectors at every hole, ground on its screw in the switch, flexible raceway or cable fastened down to it.",
    cure="Fit connectors and the cover, and connect the ground.",
    applies=_WELL,
    plain="Keep the cover on the pump's pressure switch and clamp its wires.",
)

well_casing_bonded = look(
    id="well-casing-bonded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("250.112(M)"),
    title="A metal well casing is joined to the pump's ground",
    why="A leaking pump puts its voltage on the casing that the dog leans on.",
    look_for="The circuit's ground on a listed clamp or lug at the casing, besides the pump's own. Plastic casing: “not here”.",
    cure="Clamp the circuit's ground to the casing.",
    applies=_WELL,
    plain="Connect the ground wire to the metal well pipe.",
)

well_pump_ground = look(
    id="well-pump-ground",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("250.112(L)"),
    title="A ground runs all the way down to the pump",
    why="Two-wire pump cable of old leaves its metal to the water.",
    look_for="A green or bare conductor in the drop cable, joined to the circuit's ground at the wellhead.",
    cure="Have the drop cable replaced by one with a ground when the pump is pulled.",
    applies=_WELL,
    plain="The pump's cable needs a ground wire.",
)

well_cable = look(
    id="well-cable",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("300.5(D), 314.15, 110.3(B)"),
    title="The cable to the well is buried, guarded where it rises, and closed at the cap",
    why="The mower cuts it, and an open cap lets in mice and surface water.",
    look_for="Depth as for any buried cable, conduit from below grade into the well cap, a cap with its conduit entry, splices in it made for water, cable for submersion.",
    cure="Set conduit up to the cap and close it.",
    applies=_WELL,
    mistakes="Bare pump cable from the grass into the side of the casing.",
    plain="Run the well wires in pipe up to the well cap.",
)

sprinkler_controller = look(
    id="sprinkler-controller",
    stage=Stage.FINAL,
    about=Fixture,
    cites=limited_energy("725.121, 725.136, 406.9"),
    title="The sprinkler controller is fed by its listed transformer, its valve wires apart",
    why="Its box is opened by whoever tends the garden.",
    look_for="Outdoors: weatherproof, its plug under an in-use cover with GFCI or wired in a listed way; valve wires not in the 120 V compartment; class 2 on its label.",
    cure="Give it a covered GFCI receptacle and part the valve wires.",
    applies=_SPRINKLER,
    plain="The sprinkler box outside must be weatherproof and plugged into a covered GFCI.",
)

sprinkler_splices = look(
    id="sprinkler-splices",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("300.5(E), 110.14(B)"),
    title="Splices in valve boxes are sealed against water",
    why="They stand in it every night.",
    look_for="Gel-filled connectors for direct burial on every valve, cable for the earth, the boxes' lids on.",
    cure="Make the splices anew with gel-filled connectors.",
    applies=_SPRINKLER,
    plain="Use waterproof connectors on sprinkler wires.",
)
