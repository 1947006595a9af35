"""The solar array itself: modules, their cables and raceways, the roof around them."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Carried, Kind, Measure

__all__ = [
    "solar_array_bonded", "solar_cable_kind", "solar_cables_held", "solar_cables_whole", "solar_circuits_apart", "solar_connectors",
    "solar_ground_wire", "solar_guarded", "solar_listed", "solar_metal_raceway_inside", "solar_plans", "solar_ridge",
    "solar_roof_boxes", "solar_roof_flashed", "solar_roof_paths", "solar_roof_raceway", "solar_utility_agreement",
    "solar_voltage",
]  # fmt: skip

_SOLAR = fixture_is(FixtureKind.SOLAR_ARRAY)
_DANGER = "A module in daylight cannot be turned off. Leave its plugs alone; a plug that is pulled under load burns on."
_FALL = (
    "Nobody goes on the roof without fall protection, and nobody has to for this list: a photograph will do."
)

solar_plans = look(
    id="solar-plans",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Plans of the solar array are approved and on site",
    why="What is on the roof is compared with them module by module; another inverter is another plan.",
    look_for="Roof plan with the free ways, one-line with sizes and ratings, data sheets, the roof's calculation or letter, all stamped; models as installed.",
    cure="Have the plans approved, or revised to what was installed.",
    applies=_SOLAR,
    mistakes="A module or inverter changed for one in stock, the plans left as they were.",
    plain="Keep the approved solar plans on site, and install what they show.",
)

solar_utility_agreement = look(
    id="solar-utility-agreement",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The utility has agreed to the solar array, and nothing runs before it says so",
    why="It has to know what feeds its lines, and often changes the meter first.",
    look_for="The interconnection agreement; before the last switch is closed, the permission to operate.",
    cure="File the application, and leave the array off until the utility allows it.",
    applies=_SOLAR,
    plain="Do not turn the solar on before the power company says yes in writing.",
)

solar_listed = look(
    id="solar-listed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.4(B)"),
    title="Modules, inverters and racks are listed for solar use and for each other",
    why="A module is tested on its rack: with other clamps neither its ground nor its fire rating holds.",
    look_for="Marks on module, inverter (made to work with the utility), optimizers, combiner, rack; the rack's instructions name the module.",
    cure="Change what is not listed, or get the maker's list that names the pair.",
    applies=_SOLAR,
    plain="Every part of the solar system must carry a testing lab's mark and fit the others.",
)

solar_array_bonded = look(
    id="solar-array-bonded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.43"),
    title="Module frames and rails are bonded",
    why="Paint and anodizing insulate; a frame that a fault has reached waits for the roofer.",
    look_for="The clamps, washers or lugs of the rack's instructions at every module and rail joint, bonding across each splice, tin-plated lugs for outdoors.",
    cure="Fit the bonding parts that the rack's instructions show.",
    applies=_SOLAR,
    mistakes="Indoor lugs of plain copper on aluminum; end clamps in place of bonding clamps.",
    plain="All the metal of the solar panels must be joined to ground.",
    danger=_FALL,
)

solar_ground_wire = look(
    id="solar-ground-wire",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.45, 690.46, 690.47", e2020="690.45, 690.47"),
    title="The array's equipment ground is of its size, protected, and ends at the house's electrodes",
    why="It is the way home for a fault's current, and the only one on the roof.",
    look_for="Sized by the circuit's device; smaller than 6 AWG only where nothing can strike it; unbroken to the inverter and on to the electrodes.",
    cure="Run a ground of its size, protected, to the house's grounding system.",
    applies=_SOLAR,
    plain="The bare or green wire of the solar array must be big enough and reach the house's ground.",
)

solar_cables_held = measured(
    id="solar-cables-held",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.31(C)(1), 334.30", e2020="690.31(C)(1)"),
    title="Cables below the modules are fastened along their way",
    why="A cable that hangs is chafed on the shingles by the wind, and snow tears it off.",
    look_for="Stainless clips or ties that withstand the sun along every cable and lead, nothing on the roof, nothing over the edge of a rail.",
    cure="Fasten the cables with clips that are made for it.",
    measure=Measure(
        unit="in",
        limit="solar.cable_support_in",
        least=False,
        how="Measure between two fastenings along the cable, from a ladder or on a photograph with a tape in it.",
        worst="the longest free stretch of cable",
    ),
    applies=_SOLAR,
    mistakes="Indoor cable ties, which are gone after two summers.",
    plain="Clip the solar cables up so that none touches the roof.",
    danger=_FALL,
)

solar_cables_whole = look(
    id="solar-cables-whole",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.31(A), 300.4, 110.12", e2026=Carried("690.31(A), 300.6, 110.12")),
    title="Solar cables are off the roof, off sharp edges, and not bent hard",
    why="Direct current does not let go: where the jacket is through, it burns a hole into the roof.",
    look_for="Nothing pinched between module and rail, no bend tighter than the cable's maker allows, nothing through a bare hole of sheet metal.",
    cure="Reroute the cable and replace what is damaged.",
    applies=_SOLAR,
    plain="No solar cable may lie on the shingles or rub on metal.",
    danger=_DANGER,
)

solar_cable_kind = look(
    id="solar-cable-kind",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.31(C)"),
    title="Exposed solar cables are of a kind for sun, rain and heat",
    why="Building wire on a roof is brittle in a few years.",
    look_for="“PV wire” or USE-2 printed on exposed single conductors, the maker's trunk cable for small inverters with its unused ends capped.",
    cure="Replace the cable by one for solar arrays, and cap open ends.",
    applies=_SOLAR,
    mistakes="Building wire in the open between two modules.",
    plain="The wires under the panels must be the sunlight-proof solar kind.",
)

solar_connectors = look(
    id="solar-connectors",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.33"),
    title="Plug connectors are mates of one make, pushed home",
    why="Two makes that click together have different contacts: the commonest cause of roof fires from solar.",
    look_for="Same maker and type on both halves, or listed for each other; crimped with the maker's tool; closed until they click; off the roof.",
    cure="Cut off the odd half and crimp one of the same make.",
    applies=_SOLAR,
    mistakes="“Compatible” connectors at the end of a string.",
    plain="Solar plugs must be the same brand on both sides.",
    danger=_DANGER,
)

solar_roof_raceway = look(
    id="solar-roof-raceway",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="310.15(B)(3)(c), 300.7(B)", e2020="310.15(B)(2), 300.7(B)"),
    title="Raceways on the roof stand off it, are strapped and can move",
    why="In the sun they are as hot as the roof, and lengthen by half an inch between night and noon.",
    look_for="Blocks or straps that hold them off the roof (close to it their conductors are reckoned warmer), supports at their distance, expansion fittings "
    "on long runs, fittings for rain.",
    cure="Raise the raceway on blocks, and add supports and expansion fittings.",
    applies=_SOLAR,
    plain="Pipes on the roof need blocks under them and room to stretch.",
)

solar_roof_boxes = look(
    id="solar-roof-boxes",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.34, 314.15"),
    title="Boxes on the roof keep the rain out and can be reached",
    why="They fill with water from the top, and nobody looks below a module for twenty years.",
    look_for="Rated for rain as they lie, entries from below or with sealing hubs, below a module only where that one can be taken off.",
    cure="Change the box or its fittings, or move it to where it can be opened.",
    applies=_SOLAR,
    plain="Roof boxes must be rainproof, and you must be able to get to them.",
)

solar_roof_flashed = look(
    id="solar-roof-flashed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R324.4, R905"),
    title="Feet and raceways that pass the roof are flashed and sit in rafters",
    why="A leak shows years later, on the bedroom ceiling.",
    look_for="Flashing at each foot as its maker shows, lags in the middle of rafters at the spacing of the plan, no stray holes, sealed entries.",
    cure="Flash and seal each foot, and close stray holes.",
    applies=_SOLAR,
    plain="Every hole in the roof for the solar must be properly sealed.",
)

solar_roof_paths = measured(
    id="solar-roof-paths",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R324.6"),
    title="Ways for the fire department are left free on the roof",
    why="They cut the roof open beside the modules, never through them.",
    look_for="Two ways from eave to ridge, one of them on the street or driveway side, along structure that carries; below bedroom windows too. "
    "Ground arrays and detached sheds: “not here”.",
    cure="Take out the modules that stand in the way.",
    measure=Measure(
        unit="in",
        limit="solar.roof_path_in",
        least=True,
        how="Measure the free width beside the modules, on the roof or on the approved plan to scale.",
        worst="the narrowest way",
    ),
    applies=_SOLAR,
    plain="Leave three feet free on the roof for firefighters.",
    danger=_FALL,
)

solar_ridge = measured(
    id="solar-ridge",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R324.6.2"),
    title="Modules keep off the ridge",
    why="Smoke is let out at the ridge.",
    look_for="The free strip on both sides of the ridge; twice as wide where the modules cover more than a third of the roof and there are no sprinklers.",
    cure="Take out or move the row at the ridge.",
    measure=Measure(
        unit="in",
        limit="solar.ridge_in",
        least=True,
        how="Measure from the ridge down to the nearest module.",
        worst="the module that is nearest to the ridge",
    ),
    applies=_SOLAR,
    plain="Keep the panels a foot and a half below the ridge.",
    danger=_FALL,
)

solar_metal_raceway_inside = look(
    id="solar-metal-raceway-inside",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(e2017="690.31(G)", e2020="690.31(D)"),
    title="Direct current inside the house runs in metal",
    why="In a wall it cannot be turned off by the main, and its arc does not go out by itself.",
    look_for="Metal raceway, metal-clad cable or a metal enclosure from where it comes in to the first disconnect, along framing. Only alternating current inside: “not here”.",
    cure="Change the run for metal raceway or metal-clad cable.",
    applies=_SOLAR,
    mistakes="NM cable down the wall from an attic combiner.",
    plain="Solar DC wires inside the house must be in metal pipe or metal cable.",
    danger=_DANGER,
)

solar_voltage = measured(
    id="solar-voltage",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.7"),
    title="The array's voltage stays within what a house may have",
    why="On the coldest morning a string gives the most, and everything in it has to withstand that.",
    look_for="The highest voltage of the plans, reckoned for the record low temperature, on every direct-current circuit. Inverters below the modules: “not here”.",
    cure="Shorten the strings, or use module-level electronics.",
    measure=Measure(
        unit="v",
        limit="solar.voltage_most_v",
        least=False,
        how="Read it from the approved plans and the label at the disconnect; nothing is to be measured.",
        worst="the longest string",
    ),
    applies=_SOLAR,
    plain="The solar voltage on the label may not be above 600.",
    danger=_DANGER,
)

solar_circuits_apart = look(
    id="solar-circuits-apart",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.31(B)"),
    title="Solar direct current lies apart from other wiring, its poles marked",
    why="An arc between it and the house's wiring goes on until the sun sets.",
    look_for="No wires of the house in the array's raceways and boxes without a barrier; plus and minus, and each string, marked at every joint and end, never in white, gray or green. "
    "Inverters below the modules: “not here”.",
    cure="Part the circuits, and mark the conductors.",
    applies=_SOLAR,
    plain="Keep solar wires out of the house's own pipes and boxes, and mark plus and minus.",
    danger=_DANGER,
)

solar_guarded = look(
    id="solar-guarded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.31(A)"),
    title="Cables that anybody could reach are guarded or in raceway",
    why="A child pulls at what hangs behind a ground array.",
    look_for="Arrays on the ground, a low roof or a fence: backs closed by mesh, or wiring in raceway. Out of reach on a roof: “not here”.",
    cure="Close the back with mesh, or put the wiring in raceway.",
    applies=_SOLAR,
    plain="If people can reach the solar wires, cover them.",
    danger=_DANGER,
)
