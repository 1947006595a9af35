"""Cables in framing: away from nails, behind plates, through bushings, unhurt; the framing itself not cut to pieces."""

from __future__ import annotations

from server.dwelling import Framing, Room, RoomKind, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.reach import SHEATHED, all_of, framed_in, has_boxes, has_cables, in_rooms, not_in_rooms
from server.rules.rule import Measure

__all__ = [
    "bored_holes",
    "cable_along_framing",
    "cables_per_hole",
    "circuit_conductors_together",
    "framing_not_weakened",
    "jackets_whole",
    "metal_stud_bushings",
    "metal_stud_plates",
    "notches_plated",
    "roof_deck",
]

_IN_FRAMING = not_in_rooms(
    RoomKind.OUTDOORS, RoomKind.DECK, why="Outdoors there is no framing for cables to run in."
)
_CABLES_IN_WOOD = all_of(_IN_FRAMING, has_cables(), framed_in(Framing.WOOD))
_CABLES_PERHAPS_IN_WOOD = all_of(_IN_FRAMING, has_cables(), framed_in(Framing.WOOD, asks_which=True))
_SHEATHED_IN_METAL = all_of(_IN_FRAMING, has_cables(*SHEATHED), framed_in(Framing.METAL))

bored_holes = measured(
    id="bored-holes",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(A)(1)", e2026="300.6(A)(1)"),
    title="Bored holes keep their distance from the edge of the wood",
    why="A drywall screw goes an inch and more into the stud; a cable nearer than that to the face will be hit.",
    look_for="Holes bored in the middle of studs and plates; where the edge of the hole comes nearer than an inch and a "
    "quarter to either face, a steel plate over it, long and wide enough.",
    cure="Nail a steel plate over the face of the stud or plate at that hole, before the board goes on.",
    measure=Measure(
        unit="in",
        limit="framing.hole_edge_in",
        least=True,
        how="Measure from the edge of the hole (not its middle) to the nearer face of the stud; a plated hole counts as right.",
        worst="the hole nearest to a face, and every hole in a 2 by 3 or beside a pocket",
    ),
    applies=_CABLES_PERHAPS_IN_WOOD,
    mistakes="A one-inch hole in a 2 by 4 bored slightly off center; plates on one face only.",
    plain="Holes for cables must be at least an inch and a quarter away from the face of the stud, or be covered by a nail plate.",
)

notches_plated = look(
    id="notches-plated",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(A)(2), (F)", e2026="300.6(A)(2), (F)"),
    title="Notches and shallow grooves are covered with steel",
    why="In a notch the cable lies right behind the board, where every screw will find it.",
    look_for="Each notch or groove with a cable has a plate a sixteenth of an inch thick over its whole length.",
    cure="Nail steel plates over the notch for its whole length, overlapping both sides.",
    applies=_CABLES_IN_WOOD,
    mistakes="Notching the face of a beam or furring strip and covering it with board alone.",
    plain="If a cable lies in a notch in the wood, cover the notch with a steel plate.",
)

cable_along_framing = measured(
    id="cable-along-framing",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(D)", e2026="300.6(D)"),
    title="Cables along framing lie back from the face",
    why="Screws miss the stud as often as they hit it; the cable beside it needs the same margin as one in a hole.",
    look_for="Cables stapled to the middle of the stud's side, and an inch and a quarter back on furring and strapping, else steel.",
    cure="Move the cable back on the stud with a standoff, or cover the stretch with steel plates or sleeve.",
    measure=Measure(
        unit="in",
        limit="framing.parallel_edge_in",
        least=True,
        how="Measure from the outside of the cable to the nearest face of the stud or strapping that will take a screw.",
        worst="the cable nearest to a face: beside boxes, at double studs, on strapped walls",
    ),
    applies=all_of(_IN_FRAMING, has_cables()),
    mistakes="Two cables stacked on a 2 by 4 so that the outer one ends up half an inch from the face.",
    plain="Keep cables at least an inch and a quarter back from the edge of the stud they are stapled to.",
)

metal_stud_bushings = look(
    id="metal-stud-bushings",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(B)(1)", e2026="300.6(B)(1)"),
    title="NM cable passes metal studs through bushings",
    why="The edge of a punched steel stud is a knife; it has cut the sheath by the time the cable is pulled tight.",
    look_for="A listed bushing or grommet that covers the whole edge, snapped into every opening before the cable went through.",
    cure="Pull the cable back, snap in the bushing, and look the sheath over before it goes through again.",
    applies=_SHEATHED_IN_METAL,
    mistakes="Adding split bushings around a cable that was already dragged over the edge; relying on factory-rolled holes.",
    plain="In metal studs every hole needs a plastic grommet before the cable goes in.",
)

metal_stud_plates = look(
    id="metal-stud-plates",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(B)(2)", e2026="300.6(B)(2)"),
    title="Where screws may find the cable in metal framing, steel is in between",
    why="In a metal stud wall the cable lies loose and a long screw reaches it.",
    look_for="Steel sleeves, plates or clips a sixteenth of an inch thick where cabinets, handrails or tall screws will come.",
    cure="Fit a steel plate, clip or sleeve at that place.",
    applies=_SHEATHED_IN_METAL,
    mistakes="Forgetting the wall that will carry the kitchen cabinets.",
    plain="Put steel plates where long screws could reach a cable in a metal stud wall.",
)

roof_deck = measured(
    id="cable-below-roof-deck",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4(E)", e2026="300.6(E)"),
    title="Wiring keeps its distance below the roof deck",
    why="Roofing fasteners come through the deck; whoever re-roofs in twenty years cannot see what is below.",
    look_for="Cables, raceways and boxes an inch and a half below the deck. Until 2026 this is about corrugated metal "
    "decks; from then on about every roof.",
    cure="Move the wiring down the side of the rafter, or cover it as the article allows.",
    measure=Measure(
        unit="in",
        limit="framing.below_roof_deck_in",
        least=True,
        how="Measure from the lowest surface of the deck to the top of the wiring.",
        worst="the cable or box nearest to the deck",
    ),
    applies=all_of(in_rooms(RoomKind.ATTIC), has_cables()),
    mistakes="Stapling a run to the very top of a rafter in a cathedral ceiling.",
    plain="Keep cables at least an inch and a half below the roof boards.",
)

cables_per_hole = look(
    id="cables-per-hole",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.80"),
    title="Not too many cables share a hole or a bundle",
    why="Cables packed together warm each other; foam or insulation around them keeps the heat in.",
    look_for="No more than two cables through a hole that will be sealed, none bundled over a longer way, none pressed together in "
    "insulation; where more must pass, larger wire or more holes.",
    cure="Bore another hole and spread the cables, or record the bundle so that the wire is judged for it.",
    applies=all_of(_IN_FRAMING, has_cables(*SHEATHED)),
    mistakes="Nine home runs through one two-inch hole above the panel, foamed shut.",
    plain="Spread the cables over several holes instead of stuffing them all through one.",
)

jackets_whole = look(
    id="jackets-whole",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="300.4", e2026="300.6"),
    title="Cable jackets are whole",
    why="Other trades work around the cables for days; what they nick is easy to mend now and a fire later.",
    look_for="No cut, crushed, scorched or skinned jacket: look beside plumbing, ducts, nailers and truss plates.",
    cure="Run the damaged cable again, or cut it and splice it in a box that stays within reach.",
    applies=has_cables(),
    mistakes="Wrapping a cut jacket with tape.",
    plain="A damaged cable must be replaced. Tape does not mend it.",
    danger="Do not handle a damaged cable before the circuit is off and proved dead.",
)

circuit_conductors_together = look(
    id="circuit-conductors-together",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.3(B)"),
    title="All conductors of a circuit run together",
    why="A hot that goes one way and a neutral that comes back another heat the metal between them, and no GFCI will hold.",
    look_for="Travelers, feeds and neutrals of one circuit in the same cable, pipe or trench; no neutral borrowed from a neighbor.",
    cure="Run a cable with enough conductors, and take the neutral from the same circuit.",
    applies=all_of(has_cables(), has_boxes),
    mistakes="Bringing a single conductor across to a three-way switch; taking the neutral from the nearest box.",
    plain="Both wires of a circuit, and its ground, must run side by side all the way.",
    danger="A borrowed neutral can carry current with its breaker off: prove every conductor dead.",
)

framing_not_weakened = look(
    id="framing-not-weakened",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R502.8, R602.6"),
    title="Holes and notches leave the framing its strength",
    why="The building inspector looks at the same holes: a joist notched in its middle third, or a bearing stud bored "
    "half away, is written up by both.",
    look_for="Holes in joists away from the edges and no larger than a third of the depth; no notch in the middle third; "
    "bearing studs notched no more than a quarter and bored no more than two fifths; nothing cut in trusses or I-joist flanges.",
    cure="Have the framer double or plate the member; do not cover it before the building inspector has seen it.",
    applies=_CABLES_IN_WOOD,
    mistakes="A row of holes through every joist at the same bay; any hole in a truss chord.",
    plain="Do not cut big holes or notches into beams and studs: they hold up the house.",
)
