"""Holes that wiring makes in walls and floors: closed against fire, smoke and air; insulation where it belongs."""

from __future__ import annotations

from server.dwelling import Room, RoomKind, Stage
from server.rules.citing import carried
from server.rules.looks import look, measured
from server.rules.reach import (
    all_of,
    any_exterior_wall,
    has_boxes,
    has_cables,
    in_rooms,
    not_in_rooms,
    perhaps_exterior_wall,
)
from server.rules.rule import Measure

__all__ = [
    "air_seal",
    "boxes_back_to_back",
    "fire_separation",
    "fire_stops",
    "insulation_behind",
]

_INDOORS = not_in_rooms(RoomKind.OUTDOORS, RoomKind.DECK, why="Outdoors there is nothing to close.")
_BESIDE_A_FIRE_WALL = in_rooms(
    RoomKind.GARAGE, RoomKind.ACCESSORY_BUILDING, words="garages and buildings beside the house"
)

fire_stops = look(
    id="fire-stops",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.21, IRC R302.11"),
    title="Holes through plates and floors are closed against fire",
    why="An open hole in the top plate turns a stud bay into a chimney.",
    look_for="Every hole for a cable through top and bottom plates, floors and soffits packed with mineral wool or sealed with "
    "caulk or foam that is approved for it.",
    cure="Pack or seal each hole around the cable with an approved material.",
    applies=all_of(_INDOORS, has_cables()),
    mistakes="Ordinary foam where the department wants fire-rated; the holes at the panel forgotten.",
    plain="Seal every hole where cables go through the top or bottom of a wall.",
)

fire_separation = look(
    id="fire-separation",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R302.5, R302.6"),
    title="The wall between garage and house stays tight",
    why="Cars burn; the board on that wall gives the family time.",
    look_for="Steel or listed boxes in the wall between garage and house, no larger than 16 square inches each, holes sealed, no "
    "panel let into it without approval.",
    cure="Seal around the boxes with approved putty or caulk; move the panel to another wall or box it out.",
    applies=_BESIDE_A_FIRE_WALL,
    mistakes="A flush panel in the garage's house wall; plastic boxes without a fire listing.",
    plain="Boxes in the wall between the garage and the house need fire-rated sealing.",
)

boxes_back_to_back = measured(
    id="boxes-back-to-back",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R302.4.2"),
    title="Boxes on both sides of a fire-rated wall stand apart",
    why="Two boxes in one bay are a hole straight through the wall.",
    look_for="In the fire-rated wall: two feet along the wall between a box on one side and one on the other, or listed putty pads.",
    cure="Move one of the boxes to another bay, or fit listed putty pads on both.",
    measure=Measure(
        unit="in",
        limit="fire.boxes_apart_in",
        least=True,
        how="Measure along the wall between the nearest boxes on its two sides.",
        worst="the pair that stand closest",
    ),
    applies=all_of(_BESIDE_A_FIRE_WALL, has_boxes),
    plain="In a fire wall, boxes on opposite sides should be two feet apart.",
)

air_seal = look(
    id="air-seal",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC N1102.4.1.1"),
    title="Boxes and cables on outside walls are sealed against air",
    why="Cold air comes in around every receptacle on the outside wall; moist air goes out and wets the framing.",
    look_for="Gasketed or sealed boxes on outside walls and insulated ceilings, cable holes through the plates caulked.",
    cure="Seal around the box and its knockouts with gaskets, caulk or sealing boots.",
    applies=all_of(has_boxes, perhaps_exterior_wall),
    mistakes="Foam inside the box: it belongs around it.",
    plain="Seal the gaps around electrical boxes in outside walls.",
)

insulation_behind = look(
    id="insulation-behind",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC N1102.4.1.1"),
    title="Insulation goes behind boxes and cables on outside walls",
    why="Insulation pressed in front of a box leaves its back cold, and a wet box fails.",
    look_for="Room between box and sheathing for insulation; cables held toward the middle so that the batt can be split around them.",
    cure="Move the cable or the box so that insulation fits behind it, or fill behind it before the board goes on.",
    applies=all_of(has_boxes, any_exterior_wall),
    plain="Put insulation behind the boxes in outside walls, not in front.",
)
