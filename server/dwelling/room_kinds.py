"""What a room is. The words are the code's own room words, so that lists in the editions can name them."""

from __future__ import annotations

from enum import StrEnum

__all__ = ["RoomKind"]


class RoomKind(StrEnum):
    """The kind of a room or of a place that is walked like a room."""

    KITCHEN = "kitchen"
    DINING_ROOM = "dining room"
    LIVING_ROOM = "living room"
    FAMILY_ROOM = "family room"
    PARLOR = "parlor"
    LIBRARY = "library"
    DEN = "den"
    OFFICE = "office"
    SUNROOM = "sunroom"
    BEDROOM = "bedroom"
    RECREATION_ROOM = "recreation room"
    BATHROOM = "bathroom"
    TOILET_ROOM = "toilet room"
    CLOSET = "closet"
    HALLWAY = "hallway"
    FOYER = "foyer"
    STAIR = "stair"
    LAUNDRY = "laundry"
    PANTRY = "pantry"
    MUDROOM = "mudroom"
    UTILITY_ROOM = "utility room"
    MECHANICAL_ROOM = "mechanical room"
    WORKSHOP = "workshop"
    GARAGE = "garage"
    ACCESSORY_BUILDING = "accessory building"
    BASEMENT = "basement"
    CRAWL_SPACE = "crawl space"
    ATTIC = "attic"
    OUTDOORS = "outdoors"
    DECK = "deck"
    BOATHOUSE = "boathouse"
