"""What kind of room a name means: ``Master Bath``, ``BED 2``, ``WC``. None where it could be anything."""

from __future__ import annotations

import re
from typing import Final

from server.dwelling import RoomKind

__all__ = ["kind_of_name"]

# the longer words first: a "bathroom closet" is a closet, a "garage stair" a stair
_WORDS: Final[tuple[tuple[RoomKind, tuple[str, ...]], ...]] = (
    (RoomKind.STAIR, ("stair", "stairs", "stairway", "steps")),
    (RoomKind.CLOSET, ("closet", "wardrobe", "walk in", "wic", "linen", "storage")),
    (RoomKind.TOILET_ROOM, ("toilet", "powder", "wc", "half bath", "lavatory")),
    (RoomKind.BATHROOM, ("bath", "bathroom", "shower", "ensuite", "en suite")),
    (RoomKind.LAUNDRY, ("laundry", "washroom")),
    (RoomKind.PANTRY, ("pantry", "larder")),
    (RoomKind.KITCHEN, ("kitchen", "kitchenette")),
    (RoomKind.DINING_ROOM, ("dining", "breakfast")),
    (RoomKind.FAMILY_ROOM, ("family", "great room")),
    (RoomKind.LIVING_ROOM, ("living", "lounge", "sitting")),
    (RoomKind.BEDROOM, ("bed", "bedroom", "nursery", "guest room")),
    (RoomKind.OFFICE, ("office", "study")),
    (RoomKind.LIBRARY, ("library",)),
    (RoomKind.PARLOR, ("parlor", "parlour")),
    (RoomKind.DEN, ("den",)),
    (RoomKind.SUNROOM, ("sunroom", "sun room", "conservatory")),
    (RoomKind.RECREATION_ROOM, ("recreation", "rec room", "game room", "playroom", "media room")),
    (RoomKind.HALLWAY, ("hallway", "corridor", "hall", "landing")),
    (RoomKind.FOYER, ("foyer", "entry", "entrance", "vestibule")),
    (RoomKind.MUDROOM, ("mudroom", "mud room")),
    (RoomKind.MECHANICAL_ROOM, ("mechanical", "furnace", "boiler")),
    (RoomKind.UTILITY_ROOM, ("utility",)),
    (RoomKind.WORKSHOP, ("workshop", "shop")),
    (RoomKind.GARAGE, ("garage", "carport")),
    (RoomKind.CRAWL_SPACE, ("crawl", "crawlspace", "crawl space")),
    (RoomKind.BASEMENT, ("basement", "cellar")),
    (RoomKind.ATTIC, ("attic", "loft")),
    (RoomKind.DECK, ("deck", "balcony", "porch", "terrace", "patio")),
    (RoomKind.OUTDOORS, ("outdoors", "outside", "yard")),
)


def kind_of_name(name: str) -> RoomKind | None:
    """The kind that a name means."""
    plain = " ".join(re.split(r"[^a-z]+", name.lower())).strip()
    for kind in RoomKind:
        if plain == kind.value:
            return kind
    for kind, words in _WORDS:
        if any(re.search(rf"\b{word}\b", plain) for word in words):
            return kind
    return None
