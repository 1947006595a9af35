"""Receptacles that a house must have outdoors: at the front, at the back, at decks, porches and balconies."""

from __future__ import annotations

from server.dwelling import Dwelling, Room, RoomKind, Site, Stage
from server.editions import Edition
from server.reckon.required_outdoors import (
    Deck,
    OutdoorReceptacle,
    deck_receptacle,
    front_and_back_receptacles,
)
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Missing, Outcome, ask_inspector, clear, outside, unseen
from server.rules.receptacle_counts import COUNT_SAYS, counted
from server.rules.room_spacing import required_receptacles_in
from server.rules.rule import rule

__all__ = ["deck_receptacle_rule", "front_and_back"]


def _side(room: Room) -> str:
    """Which side of the house an outdoor place lies on, by its name."""
    name = f" {room.name.lower()} "
    if "front" in name:
        return "front"
    return "back" if any(word in name for word in ("back", "rear", "yard", "patio", "garden")) else ""


def _deck_on(side: str, house: Dwelling) -> Room | None:
    """A deck with a receptacle that lies on a side of the house, or of which nobody said where it lies."""
    for room in house.facts.rooms:
        if room.kind is RoomKind.DECK and _side(room) in (side, "") and required_receptacles_in(room, house):
            return room
    return None


@rule(
    id="outdoor-receptacles",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("210.52(E)(1)"),
    title="A receptacle is outdoors at the front and at the back",
    why="Mowers and holiday lights otherwise hang on a cord through the door.",
    look_for="One at the front and one at the back, within reach from the ground, not higher than six and a half feet.",
    cure="Set a receptacle outdoors on that side, within reach from the ground.",
    says=COUNT_SAYS | {
        "both": "Front and back each have a receptacle within reach from the ground.",
        "deck-only": "At the {side} the only receptacle is on {deck}; whether it is readily accessible from grade is read differently.",
        "side-not-recorded": "Which side of the house {rooms:list} is on is not recorded: say front or back in its name.",
        "no-outdoors": "No place outdoors is recorded.",
    },
    mistakes="Counting the one on the raised deck; one at the side of the house for both.",
    plain="You need one outside outlet at the front of the house and one at the back.",
)  # fmt: skip
def front_and_back(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The outdoor receptacles by side of the house."""
    rooms = [room for room in house.facts.rooms if room.kind is RoomKind.OUTDOORS]
    if not rooms:
        return unseen("no-outdoors", Missing("the places outdoors", "room"))
    receptacles = [
        OutdoorReceptacle(
            id=device.id, side=_side(room), above_grade_in=box.height_in,
            from_grade=True if device.readily_accessible is None else device.readily_accessible,
        )
        for room in rooms
        for device, box in required_receptacles_in(room, house)
    ]  # fmt: skip
    for found in front_and_back_receptacles(receptacles, code, work):
        if not found.complies:
            unnamed = tuple(room.name for room in rooms if not _side(room))
            if unnamed and not any(_side(room) == found.subject for room in rooms):
                missing = Missing("which side of the house it is on", "room.name")
                return unseen("side-not-recorded", missing, rooms=unnamed)
            deck = _deck_on(found.subject, house)
            if deck is not None and not any(_side(room) == found.subject for room in rooms):
                return ask_inspector("deck-only", cites=found.cites, side=found.subject, deck=deck.name)
            return counted(found, "box.height_in", house)
    return clear("both", cites=code.cites("outlet.outdoor.sides"))


@rule(
    id="deck-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(E)(3)"),
    title="The deck, porch or balcony has a receptacle",
    why="People grill, string lights and charge phones there.",
    look_for="One receptacle that can be used from it, not higher than six and a half feet above its floor.",
    cure="Set a receptacle in the wall at the deck.",
    says=COUNT_SAYS | {"nothing-recorded": "No box is recorded at this deck yet."},
    plain="A deck, porch or balcony needs an outlet.",
)  # fmt: skip
def deck_receptacle_rule(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The receptacles of a deck; it is taken to be attached and entered from the house."""
    if room.kind is not RoomKind.DECK:
        return outside("other-room", kind="deck")
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the room's boxes", "box"))
    receptacles = [
        OutdoorReceptacle(id=device.id, above_deck_in=box.height_in, deck=room.name)
        for device, box in required_receptacles_in(room, house)
    ]
    found = deck_receptacle(Deck(id=room.name, attached=True, from_inside=True), receptacles, code, work)
    return counted(found, "box.height_in", house)
