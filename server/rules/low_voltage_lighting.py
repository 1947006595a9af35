"""Lighting at low voltage: below cabinets and in coves, in the garden, and lamps on posts."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import carried, limited_energy
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Measure

__all__ = [
    "driver_load", "driver_reached", "garden_cable", "garden_lights_from_water", "garden_transformer",
    "lamp_post_grounded", "low_voltage_lights_listed", "low_voltage_wire_in_wall",
]  # fmt: skip

_STRIPS = fixture_is(FixtureKind.LOW_VOLTAGE_LIGHTING)
_GARDEN = fixture_is(FixtureKind.GARDEN_LIGHTING)
_BOTH = fixture_is(FixtureKind.LOW_VOLTAGE_LIGHTING, FixtureKind.GARDEN_LIGHTING)

low_voltage_wire_in_wall = look(
    id="low-voltage-wire-in-wall",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=limited_energy("411.5, 725.136, 725.154"),
    title="Low-voltage lighting wire in the wall is a kind for walls, and apart from power",
    why="Speaker wire and the tape's own leads carry fire from stud to stud.",
    look_for="Class 2 cable (CL2 or better printed on it) inside walls and ceilings, not through power boxes, its ends free for the strip and the driver.",
    cure="Pull listed class 2 cable.",
    applies=_STRIPS,
    mistakes="The strip's thin leads fished through the wall.",
    plain="Inside walls use cable marked CL2 for LED strips, away from power cables.",
)

driver_reached = look(
    id="driver-reached",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 314.29"),
    title="Drivers and transformers of lights can be reached, and have air",
    why="They fail first, and run hot where they are shut in.",
    look_for="Behind a door or panel, not in the wall or loose on insulation; their 120 V side in a covered box with a clamp; ventilated as the leaflet says.",
    cure="Move it to a cabinet or a box with a cover that can be opened.",
    applies=_STRIPS,
    mistakes="Walled in above the cabinet; taped to the back of a drawer.",
    plain="Put LED drivers where you can get to them, not inside a wall.",
)

driver_load = look(
    id="driver-load",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("411.3, 110.3(B)"),
    title="The driver carries the strips on it, and the dimmer suits it",
    why="An overloaded driver flickers, hums, and melts its leads.",
    look_for="Watts of all strips or lamps within the driver's, each output within a class 2 circuit, wire for the length, a dimmer that the leaflet names.",
    cure="Divide the strips over two drivers.",
    applies=_BOTH,
    plain="Add up the LED strips: the driver must carry them all.",
)

low_voltage_lights_listed = look(
    id="low-voltage-lights-listed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("411.4"),
    title="Low-voltage lights and their supply are listed together",
    why="Tape by the yard from anywhere has no rating at all, and strips get wet below counters.",
    look_for="A mark on driver and lights or on the kit; damp or wet marks where they need it; bare rails and wires only where the listing lets them.",
    cure="Change them for a listed system.",
    applies=_BOTH,
    plain="Use LED strips and power supplies that carry a testing lab's mark.",
)

garden_transformer = look(
    id="garden-transformer",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("411.4, 411.6, 406.9(B)"),
    title="The garden lights' transformer is for outdoors, off the ground, on a covered GFCI",
    why="It hangs in the sprinkler.",
    look_for="“Outdoor” on its mark, mounted as high as its leaflet says (a foot is usual), plugged in under an in-use cover with GFCI, its cable strapped down the wall.",
    cure="Hang it by its leaflet at a covered GFCI receptacle.",
    applies=_GARDEN,
    plain="Hang the garden-light transformer a foot up and plug it into a covered GFCI.",
)

garden_cable = look(
    id="garden-cable",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("411.6, 300.5, 340.10"),
    title="Garden cable is for the earth and spliced for water",
    why="The spade and the mower find what lies on the grass.",
    look_for="Listed landscape cable below the turf, connectors made for burial, none through a house wall unless in raceway.",
    cure="Bury it, and make the splices anew with listed connectors.",
    applies=_GARDEN,
    plain="Bury garden-light cable and use waterproof connectors.",
)

garden_lights_from_water = measured(
    id="garden-lights-from-water",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("411.5(B)"),
    title="Garden lights keep away from pool, hot tub and fountain",
    why="Twelve volts are enough through a wet body.",
    look_for="The distance of the nearest light or cable to the water's edge, unless it is listed for nearer. No water: “not here”.",
    cure="Move the lights away, or use ones that are listed for it.",
    measure=Measure(
        unit="in",
        limit="lighting.from_water_in",
        least=True,
        how="Measure on the ground from the light to the water's edge.",
        worst="the light that is nearest to the water",
    ),
    applies=_GARDEN,
    plain="Keep garden lights ten feet from a pool.",
    danger="Low voltage in water paralyzes too.",
)

lamp_post_grounded = look(
    id="lamp-post-grounded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("410.30(B), 410.42"),
    title="A metal lamp post is grounded and can be opened at its splices",
    why="A post that a mower has cut into is live to the hand.",
    look_for="A ground on the post itself, a handhole or a head that comes off, the cable's depth, a wet-place mark on the head. No metal post: “not here”.",
    cure="Ground the post and open its handhole.",
    applies=_GARDEN,
    plain="Connect the ground wire to a metal lamp post.",
)
