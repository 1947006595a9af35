"""Raceways: strapped, joined tight, bent true and not too often, not overfilled, reamed, whole from box to box."""

from __future__ import annotations

from server.dwelling import CableKind, Room, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.reach import has_cables
from server.rules.rule import Measure

__all__ = [
    "conduit_bodies",
    "raceway_bends",
    "raceway_bends_true",
    "raceway_colors",
    "raceway_derating",
    "raceway_fill",
    "raceway_ground_size",
    "raceway_joints",
    "raceway_reamed",
    "raceway_strapped_along",
    "raceway_strapped_near_box",
]

_RACEWAYS = has_cables(CableKind.RACEWAY)

raceway_strapped_near_box = measured(
    id="raceway-strapped-near-box",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("358.30(A)"),
    title="Raceway is strapped near each box",
    why="The strap keeps the pull of the conductors off the connector.",
    look_for="A strap within three feet of every box, cabinet and fitting that ends the run.",
    cure="Add a strap within three feet of the box.",
    measure=Measure(
        unit="in",
        limit="raceway.strapped_box_in",
        least=False,
        how="Measure along the raceway from the box to the first strap.",
        worst="the box whose first strap is farthest away",
    ),
    applies=_RACEWAYS,
    plain="Strap conduit within three feet of each box.",
)

raceway_strapped_along = measured(
    id="raceway-strapped-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("358.30(A)"),
    title="Raceway is strapped along its run",
    why="Sagging tubing pulls its couplings apart.",
    look_for="Metal tubing strapped at least every ten feet; rigid plastic conduit much closer, by its size.",
    cure="Add straps at the missing places.",
    measure=Measure(
        unit="in",
        limit="raceway.strapped_along_in",
        least=False,
        how="Measure along the raceway from strap to strap.",
        worst="the longest stretch without a strap",
    ),
    applies=_RACEWAYS,
    plain="Strap metal conduit at least every ten feet, plastic conduit more often.",
)

raceway_joints = look(
    id="raceway-joints",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.10, 358.42"),
    title="Couplings and connectors of raceways are tight",
    why="Metal tubing is the ground path of its circuit; one loose set screw opens it.",
    look_for="Every set screw and compression nut turned home, locknuts tight, raceway whole from box to box.",
    cure="Tighten the fitting; replace one that is stripped or of the wrong kind.",
    applies=_RACEWAYS,
    mistakes="Set screws finger-tight at the couplings above the ceiling.",
    plain="Tighten every conduit fitting.",
)

raceway_bends = measured(
    id="raceway-bends",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("358.26"),
    title="No more than four quarter bends between pull points",
    why="Beyond that the insulation is pulled off the wire before the wire moves.",
    look_for="All bends and offsets between two boxes or conduit bodies added up: 360 degrees at most.",
    cure="Set a box or conduit body in the run.",
    measure=Measure(
        unit="degrees",
        limit="raceway.bends_deg",
        least=False,
        how="Add the angles of all bends and offsets from one pull point to the next.",
        worst="the run with the most bends",
    ),
    applies=_RACEWAYS,
    plain="Between two boxes a conduit may turn at most four right angles.",
)

raceway_bends_true = look(
    id="raceway-bends-true",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("358.24"),
    title="Bends of raceways are true",
    why="A kinked or flattened bend strips the conductors and will not pull again.",
    look_for="Round bends without kink or flat, offsets in one plane, saddles that meet the wall.",
    cure="Cut the bend out and make it again.",
    applies=_RACEWAYS,
    mistakes="Bending over the knee.",
    plain="A kinked conduit has to be replaced.",
)

raceway_colors = look(
    id="raceway-colors",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="200.6, 250.119, 310.110(C)", e2020="200.6, 250.119, 310.6(C)"),
    title="Conductors in raceways have the colors of their use",
    why="In a pipe nothing but the color tells a neutral from a hot.",
    look_for="White or gray along the whole length for neutrals of 6 AWG and smaller, green or bare for grounds, any other color for hots.",
    cure="Pull a conductor of the right color in place of the wrong one; tape will do only at 4 AWG and larger.",
    applies=_RACEWAYS,
    mistakes="Taping a black wire white because the white ran out.",
    plain="In conduit, neutrals must be white or gray wire and grounds green or bare, not taped.",
)

raceway_reamed = look(
    id="raceway-reamed",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("358.28"),
    title="Cut ends of raceways are reamed",
    why="The burr of a hacksaw cut skins the first wire that is pulled over it.",
    look_for="Smooth inside edges at every cut end, threads with bushings where they are called for.",
    cure="Take the fitting off and ream the end.",
    applies=_RACEWAYS,
    plain="Smooth the inside edge of every cut conduit.",
)

raceway_fill = measured(
    id="raceway-fill",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.17"),
    title="Raceways are not overfilled",
    why="Conductors that fill the pipe cannot shed their heat and cannot be pulled out again.",
    look_for="The areas of all conductors added and divided by the area of the raceway: 40 percent at most for three and more "
    "(53 for one, 31 for two).",
    cure="Use the next size of raceway, or a second one.",
    measure=Measure(
        unit="percent",
        limit="raceway.fill_percent",
        least=False,
        how="Add the areas of the conductors and divide by the inside area of the raceway.",
        worst="the fullest raceway in the room",
    ),
    applies=_RACEWAYS,
    plain="Do not stuff a conduit full: less than half of it may be wire.",
)

raceway_derating = look(
    id="raceway-derating",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="310.15(B)(2), (B)(3)(a)", e2020="310.15(B), (C)(1)"),
    title="Many conductors in one raceway, or a hot place, are reckoned with",
    why="Each warms the others, and an attic in August warms them all.",
    look_for="More than three that carry current in a raceway longer than two feet: the table's share of their ampacity (80 percent up to six, 70 up to nine) against the breaker; "
    "attics and roofs by the temperature there.",
    cure="Pull larger conductors, or use a second raceway.",
    applies=_RACEWAYS,
    mistakes="Ten circuits of 12 AWG in one pipe to the panel, on 20 A each.",
    plain="A pipe full of wires has to carry less in each of them.",
)

raceway_ground_size = look(
    id="raceway-ground-size",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("250.118, 250.122"),
    title="The ground in a raceway suits its breaker",
    why="A thin one burns off before the breaker trips.",
    look_for="A ground in every plastic raceway: 14 AWG copper at 15 A, 12 at 20, 10 up to 60, 8 at 100, 6 at 200; larger where the hots were made larger for distance. Metal "
    "raceway that is whole may stand for it.",
    cure="Pull a ground of the breaker's size.",
    applies=_RACEWAYS,
    mistakes="A plastic pipe with hots and neutral alone.",
    plain="Every plastic conduit needs a ground wire sized to the breaker.",
)

conduit_bodies = look(
    id="conduit-bodies",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("314.16(C), 314.28, 314.29"),
    title="Conduit bodies and pull boxes are large enough, and hold no splice that they may not",
    why="A splice in an elbow is wedged against its cover.",
    look_for="Joints only in bodies with their volume marked and room for it; with 4 AWG and larger the lengths of the article (eight times the pipe straight through, six at a turn, or "
    "the body's own marking); covers that stay within reach.",
    cure="Put a box in its place.",
    applies=_RACEWAYS,
    mistakes="Wire connectors in a half-inch elbow; short elbows with service conductors.",
    plain="Do not splice wires inside conduit elbows.",
)
