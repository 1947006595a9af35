"""Docks and boathouses of a house: a short list that defers. Current in the water around a dock drowns swimmers."""

from __future__ import annotations

from server.dwelling import Room, RoomKind, Stage
from server.rules.citing import DEPARTMENT, moved
from server.rules.looks import look
from server.rules.reach import in_rooms
from server.rules.rule import Kind

__all__ = ["dock_cables", "dock_ground_fault", "dock_permit", "dock_sign"]

_DOCK = in_rooms(RoomKind.BOATHOUSE, words="docks and boathouses")
_DANGER = "Do not swim near a dock with power. Have docks wired by a licensed electrician."

dock_permit = look(
    id="dock-permit",
    stage=Stage.PAPERWORK,
    about=Room,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The dock's wiring is on a permit, and its inspector was asked what is wanted",
    why="Water authorities and utilities have their own lists, and some look every year.",
    look_for="The permit that names the dock, the authority's sheet, the name of the electrician.",
    cure="Amend the permit and ask for the sheet on docks.",
    applies=_DOCK,
    plain="Ask before you put power on a dock.",
    danger=_DANGER,
)

dock_ground_fault = look(
    id="dock-ground-fault",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="555.3, 210.8(C)", e2020="555.35, 555.9"),
    title="Everything that feeds the dock has ground-fault protection that trips",
    why="A few thousandths of an ampere in the water take a swimmer's arms away.",
    look_for="Protection of the feeder as the edition asks, GFCI on every receptacle, luminaire and boat hoist, each tried.",
    cure="Fit the protection, and find the leak where it trips.",
    applies=_DOCK,
    plain="All power on a dock must have ground-fault protection that you have tested.",
    danger=_DANGER,
)

dock_cables = look(
    id="dock-cables",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="555.13, 555.9", e2020="555.34, 555.30"),
    title="Wiring on the dock is for water and movement, above the highest water",
    why="Waves saw through a cable at the hinge.",
    look_for="Hard-usage cord listed for it at hinges, raceway elsewhere, boxes and connections above the water's highest, a ground wire of insulated copper to all metal, a disconnect in sight ashore.",
    cure="Raise and renew what is in the water's reach.",
    applies=_DOCK,
    plain="Dock wiring must be waterproof, flexible at hinges, and above high water.",
    danger=_DANGER,
)

dock_sign = look(
    id="dock-sign",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="555.24", e2020="555.10"),
    title="Signs at the dock warn of shock in the water",
    why="Children jump where the boats are.",
    look_for="A lasting sign seen from every way to the dock and from the water, in the words of the edition.",
    cure="Put up the signs that the edition words.",
    applies=_DOCK,
    plain="Put up a sign: no swimming, electric shock hazard.",
    danger=_DANGER,
)
