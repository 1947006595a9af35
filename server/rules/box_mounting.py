"""Boxes in the wall: held fast, set to the finish, and left without a gap around them."""

from __future__ import annotations

from server.dwelling import Box, Room, Stage, Surface
from server.rules.citing import carried
from server.rules.looks import look, measured
from server.rules.reach import has_boxes, on_surface
from server.rules.rule import Measure

__all__ = ["box_fastened", "box_gap", "box_in_wood_finish", "box_nails", "box_set_back"]

_IN_A_SURFACE = on_surface(Surface.WALL, Surface.CEILING, words="wall or ceiling")

box_fastened = look(
    id="box-fastened",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("314.23"),
    title="The box is held fast to the framing",
    why="A box that moves takes the splices with it each time somebody pulls a plug; once the board is on, the only "
    "way to fasten it is from inside.",
    look_for="Push the box up, down and in: nothing moves. Both nails driven home, bar hangers screwed at both ends, "
    "brackets against the stud, no box hanging on its cables.",
    cure="Drive or add nails or screws into the stud, or set a brace or bar hanger between two studs and fasten both ends.",
    mistakes="One nail pulled through the ear; a box held by a single drywall screw; a ceiling box on a bar that nobody screwed down.",
    plain="Every box must be nailed or screwed so firmly that it does not move when you push it.",
)

box_nails = measured(
    id="box-nails",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("314.23(B)(1)"),
    title="Nails through a box pass close to its back or ends",
    why="A nail across the middle of the box takes the room of the conductors and cuts into them when the device is pushed in.",
    look_for="Boxes fastened through their inside: the nails lie against the back wall or against the top and bottom.",
    cure="Pull the nail and fasten the box through its ears or bracket, or change to a box with outside nails.",
    measure=Measure(
        unit="in",
        limit="box.nail_within_in",
        least=False,
        how="Measure inside the box from the nail to the back wall, or to the nearer end.",
        worst="the nail that lies farthest from the back and the ends",
    ),
    applies=has_boxes,
    mistakes="Nailing an old metal box through its side knockouts.",
    plain="If a nail goes through the inside of a box, it has to run along the back or the top or bottom edge.",
)

box_set_back = measured(
    id="box-set-back",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("314.20"),
    title="The box will come to the face of the wall",
    why="A box that stands too deep leaves a rim of wall open to sparks from a loose connection, and a device that "
    "hangs in the air.",
    look_for="Each box set forward by the thickness of the board that will cover it, tile included where tile comes. "
    "Behind wood or other finish that burns it must come flush.",
    cure="Move the box forward on the stud, or fit a ring or box extender of the missing depth.",
    measure=Measure(
        unit="in",
        limit="box.set_back_in",
        least=False,
        how="Lay a scrap of the coming finish against the stud and measure from its face back to the edge of the box or ring.",
        worst="the box that stands deepest, and those behind tile or double board",
    ),
    applies=_IN_A_SURFACE,
    mistakes="Setting every box for half-inch board and then tiling over backer board; forgetting the second layer on a garage wall.",
    plain="The front edge of the box may end at most a quarter inch behind the finished wall.",
)

box_in_wood_finish = look(
    id="box-in-wood-finish",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("314.20"),
    title="Behind a finish that burns the box comes flush",
    why="Wood, paneling and most acoustic tile feed a spark that escapes past the rim of a box.",
    look_for="Where paneling, wainscot, a wooden ceiling or a cabinet back will cover the wall: the front edge of box "
    "or ring level with that face, or standing out from it.",
    cure="Fit an extension ring so that the box ends at the face of the wood, or move the box forward.",
    applies=has_boxes,
    mistakes="Setting the box for drywall behind a wainscot that comes on top of it.",
    plain="Behind wood the box must reach all the way to the surface, with no set-back at all.",
)

box_gap = measured(
    id="box-gap",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("314.21"),
    title="No wide gap is left around a flush box",
    why="Through a gap in the board a spark reaches the stud bay, and the plate has nothing to sit on.",
    look_for="Board or plaster cut close around every box; gaps filled with compound before the plate goes on.",
    cure="Fill the gap around the box with joint compound or plaster, and let it dry before the plate is fitted.",
    measure=Measure(
        unit="in",
        limit="box.gap_in",
        least=False,
        how="Take the plate off and measure the widest gap between the box and the board.",
        worst="the widest gap in the room",
    ),
    applies=has_boxes,
    mistakes="Relying on an oversized plate to hide a broken cut-out.",
    plain="The hole in the wall should fit the box closely, to an eighth of an inch.",
)
