"""Flexible raceways and plastic pipe above ground."""

from __future__ import annotations

from server.dwelling import CableKind, Room, Stage
from server.rules.citing import carried
from server.rules.looks import look, measured
from server.rules.reach import has_cables
from server.rules.rule import Measure

__all__ = [
    "flexible_ground",
    "flexible_strapped_along",
    "flexible_strapped_near_box",
    "pvc_can_move",
    "pvc_strapped_along",
]

_PIPE = has_cables(CableKind.RACEWAY)

flexible_strapped_near_box = measured(
    id="flexible-strapped-near-box",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("348.30(A), 350.30(A)"),
    title="Flexible raceway is strapped near each end",
    why="Pulled out of its connector it leaves conductors on a sharp edge.",
    look_for="A strap near each box and fitting; where it has to flex, a short free length is let off. No flexible raceway: “not here”.",
    cure="Add a strap near the end.",
    measure=Measure(
        unit="in",
        limit="raceway.flexible_near_in",
        least=False,
        how="Measure along the raceway from the box or fitting to the first strap.",
        worst="the end with the farthest strap",
    ),
    applies=_PIPE,
    plain="Strap flexible conduit within a foot of each box.",
)

flexible_strapped_along = measured(
    id="flexible-strapped-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("348.30(A), 350.30(A)"),
    title="Flexible raceway is strapped along its run",
    why="It sags, and its turns pull open.",
    look_for="Straps or bored framing at their distance. Whips to luminaires above a ceiling and fished runs are let off; none here: “not here”.",
    cure="Add straps between the others.",
    measure=Measure(
        unit="in",
        limit="raceway.flexible_along_in",
        least=False,
        how="Measure between two straps along the raceway.",
        worst="the longest stretch between straps",
    ),
    applies=_PIPE,
    plain="Strap flexible conduit every four and a half feet.",
)

flexible_ground = look(
    id="flexible-ground",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("250.118, 348.60, 350.60"),
    title="Flexible raceway carries a ground wire where it is no ground itself",
    why="Its long spiral is a poor way home for a fault.",
    look_for="A ground wire in it wherever it flexes in use, is longer than six feet, or its circuit is above 20 A (60 A for larger liquid-tight). None here: “not here”.",
    cure="Pull a ground wire through it.",
    applies=_PIPE,
    plain="Pull a green wire through flexible conduit.",
)

pvc_strapped_along = measured(
    id="pvc-strapped-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("352.30"),
    title="Plastic pipe is strapped closely enough",
    why="It sags in the sun for good.",
    look_for="Straps that let it slide; the figure is that for sizes up to one inch, larger pipe may go farther by its table. None here: “not here”.",
    cure="Add straps between, of a kind that lets the pipe slide.",
    measure=Measure(
        unit="in",
        limit="raceway.pvc_along_in",
        least=False,
        how="Measure between two straps along the pipe.",
        worst="the longest stretch between straps",
    ),
    applies=_PIPE,
    plain="Strap small plastic conduit every three feet.",
)

pvc_can_move = look(
    id="pvc-can-move",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("352.44, 300.7(B)"),
    title="Plastic pipe outdoors can lengthen and shorten",
    why="Between winter and summer a long run pulls boxes off the wall.",
    look_for="Expansion fittings in straight runs between fixed ends outdoors and from the ground up to the meter; set half open, straps that let it slide. None here: “not here”.",
    cure="Put an expansion fitting into the run.",
    applies=_PIPE,
    plain="Long outdoor plastic conduit needs an expansion fitting.",
)
