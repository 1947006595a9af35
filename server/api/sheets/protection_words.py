"""The many names of rooms and purposes, brought to the words that the rules know.

A room's name can carry facts of its own (``unfinished basement``, ``basement bedroom``, ``pet wash``): they come
back beside the room. A purpose nobody knows is kept as it was written; no rule is about it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from server.dwelling.room_kinds import RoomKind

__all__ = ["read_purpose", "read_room"]

Carried = Mapping[str, bool]
_NOTHING: Final[Carried] = MappingProxyType({})

_ROOMS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "any room": "living room", "room": "living room", "living": "living room", "family": "family room",
        "great room": "living room", "sitting room": "living room", "lounge": "living room", "parlour": "parlor",
        "dining": "dining room", "breakfast room": "dining room", "breakfast nook": "dining room",
        "breakfast area": "dining room", "master bedroom": "bedroom", "primary bedroom": "bedroom",
        "guest room": "bedroom", "nursery": "bedroom", "sleeping room": "bedroom", "bed room": "bedroom",
        "study": "office", "home office": "office", "bonus room": "office", "loft": "office", "craft room": "office",
        "sewing room": "office", "rec room": "recreation room", "game room": "recreation room",
        "recreation": "recreation room",
        "playroom": "recreation room", "media room": "recreation room", "home theater": "recreation room",
        "theater": "recreation room", "exercise room": "recreation room", "gym": "recreation room",
        "home gym": "recreation room", "sun room": "sunroom", "solarium": "sunroom", "conservatory": "sunroom",
        "sun porch": "sunroom", "bath": "bathroom", "bath room": "bathroom", "powder room": "bathroom",
        "half bath": "bathroom", "washroom": "bathroom", "ensuite": "bathroom", "toilet compartment": "toilet room",
        "toilet": "toilet room", "water closet": "toilet room", "walk-in closet": "closet", "wardrobe": "closet",
        "clothes closet": "closet", "storage closet": "closet", "hall": "hallway", "corridor": "hallway",
        "landing": "hallway", "passage": "hallway", "entry": "foyer", "entryway": "foyer", "entrance": "foyer",
        "vestibule": "foyer", "stairs": "stair", "stairway": "stair", "staircase": "stair", "stairwell": "stair",
        "stair hall": "stair", "laundry room": "laundry", "laundry area": "laundry", "laundry closet": "laundry",
        "mud room": "mudroom", "utility": "utility room", "storage room": "utility room", "storage": "utility room",
        "mechanical": "mechanical room", "furnace room": "mechanical room", "boiler room": "mechanical room",
        "equipment room": "mechanical room", "electrical room": "mechanical room", "shop": "workshop",
        "attached garage": "garage", "detached garage": "garage", "shed": "accessory building",
        "outbuilding": "accessory building", "barn": "accessory building", "storage shed": "accessory building",
        "pool house": "accessory building", "detached building": "accessory building", "cellar": "basement",
        "crawlspace": "crawl space", "crawl": "crawl space", "outdoor": "outdoors", "outside": "outdoors",
        "exterior": "outdoors", "yard": "outdoors", "patio": "outdoors", "carport": "outdoors", "roof": "outdoors",
        "driveway": "outdoors", "soffit": "outdoors", "dock": "outdoors", "pool area": "outdoors", "porch": "deck",
        "balcony": "deck", "veranda": "deck", "boat house": "boathouse", "boat hoist": "boathouse", "accessory dwelling": "living room",
        "service equipment": "mechanical room", "bar": "wet bar",
        "wet bar": "wet bar", "beverage station": "wet bar", "coffee bar": "wet bar", "kitchenette": "wet bar",
        "alcove": "alcove", "butler's pantry": "pantry", "coffee niche": "pantry", "kitchen island": "kitchen",
        "kitchen peninsula": "kitchen",
    }
)  # fmt: skip
"""Names that are not a room's own word."""

_INSIDE: Final = (
    "crawl space", "crawlspace", "attic", "laundry", "closet", "garage", "wet bar", "toilet", "bathroom", "bath",
    "bedroom", "kitchen", "pantry", "family room", "living room", "dining room", "recreation room", "rec room",
    "office", "den", "library", "parlor", "sunroom", "mudroom", "utility", "mechanical", "furnace", "workshop",
    "hallway", "hall", "foyer", "stair", "accessory dwelling", "shed", "accessory building", "boathouse", "boat hoist",
    "deck", "porch", "balcony", "patio", "outdoors", "outdoor", "outside", "exterior", "service equipment", "basement",
)  # fmt: skip
"""Words looked for inside a longer name, the more telling first: a closet off a bathroom is a closet."""

_ANY_ROOM: Final = re.compile(
    r"\b(any|listed|habitable|similar|other|another|adjoining|adjacent|room)\b.*\b(room|area|wall)"
)
"""A room by what it is to another, without a kind of its own."""

_PURPOSES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "counter": "countertop", "counters": "countertop", "countertops": "countertop", "counter top": "countertop",
        "kitchen counter": "countertop", "kitchen countertop": "countertop", "island": "countertop",
        "peninsula": "countertop", "work surface": "countertop", "countertop appliances": "countertop",
        "small appliances": "countertop", "small appliance": "countertop",
        "wall": "general", "none": "general", "general use": "general", "general purpose": "general",
        "general-purpose": "general", "convenience": "general", "fridge": "refrigerator",
        "refrigeration": "refrigerator", "disposal": "disposer", "garbage disposal": "disposer",
        "garbage disposer": "disposer", "waste disposer": "disposer", "food waste disposer": "disposer",
        "dish washer": "dishwasher", "clothes washer": "washer", "washing machine": "washer",
        "clothes dryer": "dryer", "electric dryer": "dryer", "electric clothes dryer": "dryer",
        "gas clothes dryer": "gas dryer", "electric range": "range", "stove": "range", "electric stove": "range",
        "oven": "wall oven", "wall-mounted oven": "wall oven", "electric oven": "wall oven",
        "counter-mounted cooking unit": "cooktop", "counter-mounted cooking": "cooktop",
        "electric cooktop": "cooktop", "microwave oven": "microwave", "over-the-range microwave": "microwave",
        "hood": "range hood", "ac": "air conditioner", "a/c": "air conditioner",
        "air conditioning": "air conditioner", "air-conditioner": "air conditioner",
        "air-conditioning": "air conditioner", "condenser": "air conditioner", "condensing unit": "air conditioner",
        "ac unit": "air conditioner", "mini split": "mini-split", "minisplit": "mini-split", "hvac": "HVAC",
        "hvac equipment": "HVAC", "ev": "EV charger", "evse": "EV charger", "ev charging": "EV charger",
        "ev charger": "EV charger", "electric vehicle": "EV charger", "electric vehicle charging": "EV charger",
        "car charger": "EV charger", "sump": "sump pump", "snow-melting": "snow melting", "snowmelt": "snow melting",
        "de-icing": "deicing", "roof deicing": "deicing", "deicing cable": "deicing", "heat tape": "pipe heating",
        "heat trace": "pipe heating", "pipe heat": "pipe heating", "pipeline heating": "pipe heating",
        "burglar alarm": "security panel", "security": "security panel", "security system": "security panel",
        "premises security": "security panel", "premises security system": "security panel",
        "alarm panel": "security panel", "fire alarm system": "fire alarm", "smoke detector": "smoke alarm",
        "bathroom fan": "bath fan", "bathroom exhaust fan": "bath fan", "bath exhaust fan": "bath fan",
        "whirlpool": "hydromassage tub", "whirlpool tub": "hydromassage tub", "jacuzzi": "hydromassage tub",
        "hydromassage": "hydromassage tub", "hydromassage bathtub": "hydromassage tub", "spa": "hot tub",
        "pool pump motor": "pool pump", "floor heat": "floor heating", "heated floor": "floor heating",
        "radiant floor": "floor heating", "floor-heating": "floor heating", "opener": "garage door opener",
        "garage opener": "garage door opener", "door opener": "garage door opener", "boat lift": "boat hoist",
        "hvac service": "HVAC service", "hvac service receptacle": "HVAC service",
        "equipment servicing": "HVAC service", "service receptacle": "HVAC service",
        "drinking fountain": "drinking water cooler", "water cooler": "drinking water cooler",
        "bottle filler": "drinking water cooler", "pressure washing": "pressure washer",
        "high-pressure spray washer": "pressure washer", "vending": "vending machine",
        "instant hot": "instant hot water", "co alarm": "CO alarm", "ceiling fan support": "ceiling fan support",
    }
)  # fmt: skip


def read_room(came: str) -> tuple[str, Carried]:
    """The room's word, and the facts that its name carries.

    Raises:
        ValueError: no room is recognised in it.
    """
    plain = re.sub(r"[\s_]+", " ", came.strip().lower())
    carried: dict[str, bool] = {}
    if "unfinished" in plain:
        carried["finished"] = False
    elif re.search(r"\bfinished\b", plain):
        carried["finished"] = True
    if re.search(r"\b(pet|dog) wash|\bdamp\b|\bwet (place|location|area)", plain):
        return "mudroom", {"damp": True}
    bare = re.sub(r"\b(un)?finished\b", "", plain).strip()
    word = _known(bare) or _known(bare.removesuffix("s")) or _found_inside(bare)
    if word is None and _ANY_ROOM.search(plain):
        word = "living room"
    if word is None:
        raise ValueError(f"expected a kind of room such as {', '.join(RoomKind)}; came {came!r}")
    if "basement" in bare and word != "basement":
        carried["in_basement"] = True
    if word == "accessory building":
        carried |= _about_a_building(bare)
    return word, carried or _NOTHING


def _about_a_building(plain: str) -> dict[str, bool]:
    """What the name of an accessory building says of its floor and use."""
    said: dict[str, bool] = {}
    if re.search(r"above grade|raised", plain):
        said["floor_at_grade"] = False
    elif "grade" in plain:
        said["floor_at_grade"] = True
    if re.search(r"storage|shed|barn|work|pool house", plain):
        said["habitable"] = False
    return said


def _known(plain: str) -> str | None:
    if plain in set(RoomKind):
        return plain
    return _ROOMS.get(plain)


def _found_inside(plain: str) -> str | None:
    for word in _INSIDE:
        if re.search(rf"\b{word}s?\b", plain):
            return _known(word) or _known(f"{word} room")
    return None


def read_purpose(came: str, room: str) -> str:
    """The purpose's word; ``exhaust fan`` in a bathroom is a bath fan. Unknown purposes stay as written."""
    plain = re.sub(r"[\s_]+", " ", came.strip().lower())
    if plain in ("exhaust fan", "fan") and room in ("bathroom", "toilet room"):
        return "bath fan"
    return _PURPOSES.get(plain, plain)
