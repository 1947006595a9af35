"""Wiring in the ground: how deep by method and place, what lies above it, how it comes up."""

from __future__ import annotations

from server.dwelling import CableKind, Site, Stage
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.job_facts import house_has_cable
from server.rules.looks import look, measured
from server.rules.rule import Measure, Rule

__all__ = [
    "backfill_clean",
    "buried_bushing",
    "buried_cable_depth",
    "buried_conductors_together",
    "buried_gfci_circuit_depth",
    "buried_joints",
    "buried_low_voltage_depth",
    "buried_metal_raceway_depth",
    "buried_pvc_depth",
    "buried_raceway_sealed",
    "buried_splices",
    "buried_under_building",
    "buried_under_drive",
    "buried_under_slab",
    "buried_wet_conductors",
    "ground_movement",
    "lines_marked",
    "riser_guard_height",
    "riser_schedule",
    "trench_open",
    "trench_shared",
    "uf_into_building",
    "warning_ribbon",
]

_TABLE = moved(e2017="Table 300.5", e2023="Table 300.5(A)")


def _depth(*, id: str, title: str, limit: str, why: str, look_for: str, cure: str, worst: str, mistakes: str = "", plain: str = "") -> Rule:  # noqa: A002  # fmt: skip
    """A depth of the table: from the top of cable or raceway up to finished grade."""
    return measured(
        id=id,
        stage=Stage.UNDERGROUND,
        about=Site,
        cites=_TABLE,
        title=title,
        why=why,
        look_for=look_for,
        cure=cure,
        measure=Measure(
            unit="in",
            limit=limit,
            least=True,
            how="Lay a board across the trench at finished grade and measure down to the top of the cable or raceway.",
            worst=worst,
        ),
        mistakes=mistakes,
        plain=plain,
        danger="Have the utilities mark their lines before anybody digs, and dig by hand near a mark.",
    )


lines_marked = look(
    id="lines-marked",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=DEPARTMENT,
    title="Buried lines were marked before digging",
    why="Gas, water and the neighbor's feeder lie where nobody drew them.",
    look_for="The ticket of the one-call service, its marks on the ground, and a few days' wait between call and digging.",
    cure="Call the one-call service, wait for the marks, and dig by hand near them.",
    plain="Call before you dig, wait for the colored marks, and dig carefully near them.",
    danger="A shovel through a buried service or gas line kills. Stop at the first mark and dig by hand.",
)

trench_open = look(
    id="trench-open",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=DEPARTMENT,
    title="The trench stays open until it has been approved",
    why="Depth, bedding and ribbon are seen only from above; a filled trench is dug out again at your cost.",
    look_for="Every trench, slab run and footing open from end to end, safe to stand beside, dry enough to see the bottom.",
    cure="Open the trench along its whole length, or ask what the inspector accepts in its place.",
    mistakes="Backfilling the middle so that the concrete truck can pass.",
    plain="Do not fill the trench before the inspector has seen it.",
    danger="Trench walls cave in. Nobody goes into a deep trench that is not sloped or shored.",
)

buried_cable_depth = _depth(
    id="buried-cable-depth",
    title="Cable laid in the earth is deep enough",
    limit="burial.cable_in",
    why="A spade goes a foot deep; nothing but earth protects this cable.",
    look_for="UF or underground service cable straight in the earth, at its depth along the whole run, the corners and the ends too.",
    cure="Dig deeper, or run the shallow stretch in a raceway that may lie there.",
    worst="the shallowest place of any cable that lies in the earth without a raceway",
    mistakes="Measuring to the bottom of the trench; a trench that rises where it reaches the house.",
    plain="Cable buried without pipe must lie at least two feet deep.",
)

buried_metal_raceway_depth = _depth(
    id="buried-metal-raceway-depth",
    title="Rigid or intermediate metal conduit in the ground is deep enough",
    limit="burial.metal_raceway_in",
    why="Steel stands a spade, not a tiller; a few inches keep it out of the lawn's way.",
    look_for="Rigid or intermediate conduit only (not EMT, not flexible), with corrosion protection where the ground asks for it.",
    cure="Lower the conduit, or cover it with the concrete that the table allows.",
    worst="the shallowest place of the conduit",
    mistakes="Taking EMT for rigid conduit.",
    plain="Rigid steel conduit needs six inches of earth over it.",
)

buried_pvc_depth = _depth(
    id="buried-pvc-depth",
    title="Plastic conduit in the ground is deep enough",
    limit="burial.pvc_in",
    why="Plastic breaks under a pickaxe.",
    look_for="PVC or other raceway listed for burial without concrete, at its depth up to the sweep at the wall.",
    cure="Dig deeper, or change the shallow stretch to rigid metal conduit.",
    worst="the shallowest place of the conduit, often where it comes up",
    mistakes="Losing six inches at the end because the sweep was set too high.",
    plain="Plastic conduit must lie at least a foot and a half deep.",
)

buried_gfci_circuit_depth = _depth(
    id="buried-gfci-circuit-depth",
    title="A 120 V circuit with GFCI protection is deep enough",
    limit="burial.gfci_circuit_in",
    why="The smaller depth is given for the GFCI ahead of it, and holds only with that.",
    look_for="One residential branch circuit of at most 20 A and 120 V, GFCI protected before it goes into the ground.",
    cure="Dig deeper, or give the circuit GFCI protection where it leaves the house.",
    worst="the shallowest place of the cable",
    mistakes="Taking this depth for a feeder or a 240 V pump; putting the GFCI at the far end.",
    plain="A small GFCI-protected garden circuit may lie one foot deep.",
)

buried_low_voltage_depth = _depth(
    id="buried-low-voltage-depth",
    title="Low-voltage cable for garden lights and sprinklers is deep enough",
    limit="burial.low_voltage_in",
    why="It hurts nobody, but an edger cuts it every spring.",
    look_for="Irrigation and landscape lighting cable of at most 30 V, of a type for burial; less where its listed system says so.",
    cure="Lower the cable below the reach of an edger.",
    worst="the shallowest place of the cable",
    plain="Bury garden-light cable at least six inches.",
)

buried_under_drive = _depth(
    id="buried-under-drive",
    title="Below the drive everything is deep enough",
    limit="burial.drive_in",
    why="Wheels press the bedding down, and drives are dug up for new ones.",
    look_for="Where the run passes below the dwelling's drive or parking, whatever the raceway; deeper still below a public street.",
    cure="Dig deeper below the drive.",
    worst="the shallowest crossing below any drive or parking place",
    mistakes="Keeping six inches for rigid conduit below the drive as in the lawn.",
    plain="Anything below your driveway must lie at least a foot and a half deep.",
)

buried_under_slab = _depth(
    id="buried-under-slab",
    title="A raceway below an outdoor slab is deep enough",
    limit="burial.slab_raceway_in",
    why="The slab is the protection; the raceway has to stay clear of whoever cuts it.",
    look_for="Below a concrete slab of at least four inches that carries no vehicles and reaches past the raceway.",
    cure="Lower the raceway before the slab is poured.",
    worst="the raceway nearest to the underside of the slab",
    plain="Conduit below a patio slab must be a few inches under it.",
)

buried_under_building = look(
    id="buried-under-building",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(C)"),
    title="Below a building cables run in a raceway that reaches past its walls",
    why="Nobody can dig below a house to mend a cable.",
    look_for="A raceway from outside the footing to where it comes up, for every cable that passes below a floor.",
    cure="Sleeve the cable in a raceway that goes on past the outer walls.",
    plain="Any cable that goes under a building has to be in pipe.",
)

buried_conductors_together = look(
    id="buried-conductors-together",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(I)"),
    title="All conductors of a circuit lie in the same raceway or close together",
    why="A ground wire that takes another way opens the breaker late or never.",
    look_for="Hots, neutral and ground of each circuit in one cable, one raceway, or side by side in the trench.",
    cure="Pull the missing conductor into the same raceway.",
    plain="Keep all wires of a circuit in the same trench and pipe.",
)

backfill_clean = look(
    id="backfill-clean",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(F)"),
    title="Nothing sharp lies around the cable or raceway",
    why="Frost works a stone through a jacket in a few winters.",
    look_for="Sand or fine earth below and above, no rock, rubble, slag or frozen lumps within reach of the cable; boards or sleeves where needed.",
    cure="Bed the run in sand or screened earth before it is filled in.",
    mistakes="Throwing the brick scraps of the site into the trench.",
    plain="Put sand or soft soil around the cable, never rocks.",
)

warning_ribbon = measured(
    id="warning-ribbon",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(D)(3)"),
    title="A warning ribbon lies above buried service conductors",
    why="No breaker stands ahead of a service lateral: whoever cuts it meets the utility's full current.",
    look_for="Ribbon along the whole run, well above the conductors, where they lie a foot and a half deep or more and are not in concrete.",
    cure="Lay ribbon in the trench above the conductors before it is filled in.",
    measure=Measure(
        unit="in",
        limit="burial.ribbon_above_in",
        least=True,
        how="Measure from the top of the service conductors or their raceway up to the ribbon.",
        worst="the place where the ribbon lies nearest to the conductors",
    ),
    mistakes="Ribbon taped to the conduit.",
    plain="Lay the yellow or red warning tape a foot above the main cable.",
    danger="Service conductors have no breaker before them. Digging into them causes an explosion of metal.",
)

riser_guard_height = measured(
    id="riser-guard-height",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(D)(1)"),
    title="Cable that comes up out of the ground is guarded high enough",
    why="Mowers, bicycles and dogs reach what a wall does not hide.",
    look_for="A raceway or guard from below grade up past where anything strikes it, at posts and at the house.",
    cure="Extend the raceway up the wall or post.",
    measure=Measure(
        unit="in",
        limit="burial.riser_above_in",
        least=True,
        how="Measure from finished grade to the top of the guard, or to where the cable enters the building or box if that is lower and guarded.",
        worst="the shortest guard",
    ),
    plain="Where buried cable comes up, it must be in pipe to eight feet above ground or into its box.",
)

riser_schedule = look(
    id="riser-schedule",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(D)(4)"),
    title="Where it can be struck the riser is of the heavy kind",
    why="Thin plastic shatters at the first bumper.",
    look_for="Schedule 80 PVC (gray, marked so), rigid or intermediate metal conduit wherever a vehicle, mower or tool may strike it.",
    cure="Change the exposed stretch to Schedule 80 or to rigid metal conduit.",
    mistakes="Schedule 40 on the meter riser beside the drive.",
    plain="Use the heavy Schedule 80 pipe where something may hit it.",
)

buried_wet_conductors = look(
    id="buried-wet-conductors",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(B)"),
    title="Conductors in raceways underground are of a kind for wet places",
    why="Every buried raceway fills with water sooner or later.",
    look_for="A W in the marking of each conductor (THWN, XHHW, USE), or UF cable; never NM in a buried pipe.",
    cure="Pull the conductors out and pull ones marked for wet places.",
    mistakes="NM cable pushed through the pipe to the garage.",
    plain="Wires in underground pipe must be marked with a W. Regular indoor cable is not allowed there.",
)

buried_splices = look(
    id="buried-splices",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(E), 110.14(B)"),
    title="Splices in the earth are of a listed kind",
    why="Water finds a wire nut in a week.",
    look_for="No splice in the trench, or one made with a kit listed for direct burial and noted on the plan.",
    cure="Make the splice anew with a listed burial kit, or bring it up into a box.",
    plain="Splices in the ground need a special waterproof kit.",
)

buried_raceway_sealed = look(
    id="buried-raceway-sealed",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(G)"),
    title="Raceways that come in from the ground are sealed",
    why="A conduit is a drain pipe: it brings water, and the soil's gas, into the panel.",
    look_for="Sealing compound, made for conductors, at the end of every raceway that leads from the ground into the house.",
    cure="Seal the raceway with compound that is identified for conductors.",
    mistakes="Foam from a can that attacks the insulation.",
    plain="Plug pipes from outside with electrician's putty so that water cannot run in.",
)

buried_bushing = look(
    id="buried-bushing",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(H)"),
    title="Where a raceway ends in the earth it has a bushing",
    why="The edge of a cut pipe saws through the cable as the ground moves.",
    look_for="A bushing or terminal fitting at every end where cable goes on into the earth.",
    cure="Fit a bushing over the end of the raceway.",
    plain="Put a smooth bushing on the end of every buried pipe.",
)

ground_movement = look(
    id="ground-movement",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(J)"),
    title="Where the ground settles the run can give",
    why="New backfill sinks beside the wall and pulls the conduit off the meter.",
    look_for="An expansion fitting or slip joint on the riser, a loop of slack in cable, compacted fill at the wall.",
    cure="Fit an expansion fitting on the riser, or leave a loop of cable below it.",
    plain="Use a slip joint on the riser so that settling soil does not pull it apart.",
)

trench_shared = look(
    id="trench-shared",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=DEPARTMENT,
    title="Power keeps its distance from gas, water and sewer in the trench",
    why="Whoever digs for one of them meets the other, and a gas leak follows a conduit into the house.",
    look_for="The distance that utilities and department ask for between power and other lines (a foot is usual), side by side and where they cross; "
    "communications apart too. Nothing else in the trench: “not here”.",
    cure="Shift the run, or give it a shelf of its own in the trench.",
    plain="Keep the electric line about a foot away from gas and water lines.",
    danger="A damaged gas line: leave, and call from far away.",
)

buried_joints = look(
    id="buried-joints",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5(D), 352.48"),
    title="Joints of buried raceways are glued or screwed home",
    why="A joint that opens under the fill lets stones in, and the cable cannot be drawn any more.",
    look_for="PVC cleaned, glued and pushed to the stop; metal couplings wrench tight; sweeps round, not kinked by heat.",
    cure="Glue or tighten the joint, or change the kinked bend.",
    plain="Glue every joint of the plastic pipe properly.",
)

uf_into_building = look(
    id="uf-into-building",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("340.10, 340.12"),
    title="UF cable is protected where it enters and suits what is inside",
    why="Sun eats a jacket that is not made for it, and the wall's edge wears it through.",
    look_for="Sunlight-resistant marking where it lies open to light, a sleeve through the wall, fastened inside like NM.",
    cure="Sleeve the cable through the wall, or change over to another cable in a box at the entry.",
    applies=house_has_cable(CableKind.UF_B),
    plain="Protect buried cable where it goes through the wall and out of the sun.",
)
