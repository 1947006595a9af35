"""The shell of a box: whole, closed where nothing enters, cables through the right connectors, reachable afterwards."""

from __future__ import annotations

from server.dwelling import Box, Room, Stage
from server.rules.citing import carried, held
from server.rules.looks import look
from server.rules.reach import has_boxes, holds_cables, outdoors_or_wet

__all__ = ["box_reachable", "box_whole", "connectors_fit", "openings_closed", "weatherproof_box"]

openings_closed = look(
    id="openings-closed",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("110.12(A)"),
    title="Openings that nothing uses are closed",
    why="An open knockout lets a spark out and mice, insulation and joint compound in.",
    look_for="Every knockout that was broken out and left without a cable has a plug made for it.",
    cure="Snap a knockout seal of the right size into the opening, or change the box.",
    mistakes="Breaking out a knockout on the wrong side and leaving it; closing one with tape.",
    plain="Plug every hole in a box that has no cable in it.",
)

box_whole = look(
    id="box-whole",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("110.12(B)"),
    title="The box is whole",
    why="A cracked, cut or melted box holds neither its device nor a fault.",
    look_for="No crack from a missed hammer blow, no side cut away for another cable, no broken ear, no screw hole stripped out.",
    cure="Take the box out and set a new one.",
    mistakes="Cutting the side of a plastic box to bring one more cable in.",
    plain="A cracked or cut box has to be replaced.",
)

connectors_fit = look(
    id="connectors-fit",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=held("110.3(B)"),
    title="Cables enter through connectors made for them",
    why="A connector holds only the cables and the number of them that it was tested with; a sheath crushed by two "
    "cables too many is a fault waiting behind the board.",
    look_for="A connector of the right kind in each knockout of a metal box, its locknut tight; no more cables in it than "
    "its package allows; armored cable in its own connector with a bushing.",
    cure="Give the extra cable a connector of its own, or one that is listed for two.",
    applies=holds_cables,
    mistakes="Three cables under one clamp; a connector for pipe used on cable.",
    plain="Each cable needs the right clamp where it enters the box, and most clamps take one or two cables.",
)

weatherproof_box = look(
    id="weatherproof-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("314.15"),
    title="A box in a damp or wet place is made for it",
    why="Rain that runs down the wall into an indoor box stands around the splices.",
    look_for="Boxes outdoors and in damp places listed for them, drained or sealed at the top, hubs or sealing rings at entries from "
    "above, room for a cover that closes over the plugs.",
    cure="Change to a box that is listed for wet places, and seal its entries.",
    applies=outdoors_or_wet,
    mistakes="An indoor plastic box let into the siding.",
    plain="Boxes outside must be the weatherproof kind.",
)

box_reachable = look(
    id="box-reachable",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("314.29"),
    title="Every box can still be reached when the room is finished",
    why="A splice that nobody can get at without breaking the wall will one day have to be found by breaking the wall.",
    look_for="No box that the board, a cabinet back, a tub apron or a built-in will cover; junction boxes in attic and "
    "basement marked and free of fixed flooring.",
    cure="Move the box, or bring it out to a blank plate in the finished surface.",
    applies=has_boxes,
    mistakes="A splice box behind the microwave cabinet or above a drywall soffit.",
    plain="No box with wires in it may be buried behind the finished wall.",
)
