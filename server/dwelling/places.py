"""Levels, rooms, and what a room is made of: walls, openings, counters, fixtures.

Standing in a room one faces a wall; ``at_in`` runs along the floor line from the wall's left end. Walls
follow each other to the right (clockwise seen from above), so wall 2 begins where wall 1 ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from server.dwelling.length import Inches
from server.dwelling.room_kinds import RoomKind

__all__ = [
    "Break",
    "BreakKind",
    "Counter",
    "CounterKind",
    "Fixture",
    "FixtureKind",
    "Framing",
    "Level",
    "Opening",
    "OpeningKind",
    "Room",
    "Wall",
]


class Framing(StrEnum):
    WOOD = "wood"
    METAL = "metal"


class OpeningKind(StrEnum):
    """What interrupts or occupies a stretch of wall."""

    DOOR = "door"
    DOORWAY = "doorway"
    SLIDING_DOOR = "sliding door"
    WINDOW = "window"
    FIREPLACE = "fireplace"
    CABINET = "cabinet"
    RAILING = "railing"
    STAIR_OPENING = "stair opening"


class CounterKind(StrEnum):
    WALL = "wall"
    ISLAND = "island"
    PENINSULA = "peninsula"


class BreakKind(StrEnum):
    """What stands in or before a counter and divides it."""

    SINK = "sink"
    RANGE = "range"
    COOKTOP = "cooktop"
    REFRIGERATOR = "refrigerator"


class FixtureKind(StrEnum):
    """Wet fixtures and appliances: what water, heat and loads come from."""

    SINK = "sink"
    BASIN = "basin"
    LAUNDRY_SINK = "laundry sink"
    BATHTUB = "bathtub"
    SHOWER = "shower"
    HYDROMASSAGE_TUB = "hydromassage tub"
    TOILET = "toilet"
    RANGE = "range"
    COOKTOP = "cooktop"
    WALL_OVEN = "wall oven"
    RANGE_HOOD = "range hood"
    MICROWAVE = "microwave"
    DISHWASHER = "dishwasher"
    DISPOSER = "disposer"
    REFRIGERATOR = "refrigerator"
    FREEZER = "freezer"
    TRASH_COMPACTOR = "trash compactor"
    WASHER = "washer"
    DRYER = "dryer"
    WATER_HEATER = "water heater"
    FURNACE = "furnace"
    AIR_HANDLER = "air handler"
    AIR_CONDITIONER = "air conditioner"
    HEAT_PUMP = "heat pump"
    MINI_SPLIT = "mini-split"
    ELECTRIC_HEAT = "electric heat"
    FLOOR_HEATING = "floor heating"
    DEICING = "deicing"
    BOILER = "boiler"
    SUMP_PUMP = "sump pump"
    SEWAGE_PUMP = "sewage pump"
    WELL_PUMP = "well pump"
    SPRINKLER_CONTROLLER = "sprinkler controller"
    GARAGE_DOOR_OPENER = "garage door opener"
    EV_CHARGER = "EV charger"
    BATH_FAN = "bath fan"
    POOL = "pool"
    HOT_TUB = "hot tub"
    FOUNTAIN = "fountain"
    GARDEN_LIGHTING = "garden lighting"
    LOW_VOLTAGE_LIGHTING = "low-voltage lighting"
    CENTRAL_VACUUM = "central vacuum"
    ATTIC_FAN = "attic fan"
    GAS_FIREPLACE = "gas fireplace"
    SAUNA = "sauna"
    LIFT = "lift"
    ROOM_AIR_CONDITIONER = "room air conditioner"
    TRACK_LIGHTING = "track lighting"
    RV_OUTLET = "RV outlet"
    MANUFACTURED_HOME = "manufactured home"
    """Recorded at its place outdoors: the home that came from the factory, whose hookup is ours."""
    GENERATOR = "generator"
    SOLAR_ARRAY = "solar array"
    ENERGY_STORAGE = "energy storage"
    SECURITY_PANEL = "security panel"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Level:
    """A storey of the house, lowest first by ``order``."""

    id: str
    name: str
    order: int = 0
    below_grade: bool | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """A room, or a place that is walked like one (outdoors front, attic, crawl space).

    ``length_in`` and ``width_in`` give a rectangle until walls are entered; ``floor_area_ft2`` is what the
    walls or the rectangle come to where neither was measured. ``plan_x_in`` and ``plan_y_in`` place the room's
    first corner (the left end of wall 1) on the plan of its level, x to the right and y down the page.
    """

    id: str
    level_id: str
    name: str
    kind: RoomKind
    order: int = 0
    finished: bool | None = None
    length_in: Inches | None = None
    width_in: Inches | None = None
    floor_area_ft2: Inches | None = None
    ceiling_height_in: Inches | None = None
    ceiling_rise_in: Inches | None = None
    framing: Framing | None = None
    stud_spacing_in: Inches | None = None
    risers: int | None = None
    readily_accessible: bool | None = None
    plan_x_in: Inches | None = None
    plan_y_in: Inches | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight wall of a room; ``turn_deg`` is the turn to the right at its right end (90 at a corner)."""

    id: str
    room_id: str
    order: int
    length_in: Inches
    name: str = ""
    exterior: bool | None = None
    is_wall_space: bool = True
    turn_deg: int = 90


@dataclass(frozen=True, slots=True)
class Opening:
    """A door, window, fireplace, fixed cabinet or railing in a wall, from its left to its right edge."""

    id: str
    wall_id: str
    kind: OpeningKind
    from_in: Inches
    to_in: Inches
    sill_in: Inches | None = None
    head_in: Inches | None = None
    has_counter: bool = False


@dataclass(frozen=True, slots=True)
class Counter:
    """A kitchen or bath counter: along a wall (``from_in`` on it), or an island or peninsula."""

    id: str
    room_id: str
    kind: CounterKind
    length_in: Inches
    depth_in: Inches
    wall_id: str | None = None
    from_in: Inches | None = None
    height_in: Inches | None = None


@dataclass(frozen=True, slots=True)
class Break:
    """A sink, range, cooktop or refrigerator in or before a counter."""

    id: str
    counter_id: str
    kind: BreakKind
    from_in: Inches
    to_in: Inches
    behind_in: Inches | None = None
    in_corner: bool = False


@dataclass(frozen=True, slots=True)
class Fixture:
    """A wet fixture or an appliance at its place, with what its nameplate says.

    ``at_in`` is the middle of it along its wall; ``out_in`` how far its nearest edge stands off that wall.
    """

    id: str
    room_id: str
    kind: FixtureKind
    name: str = ""
    wall_id: str | None = None
    at_in: Inches | None = None
    out_in: Inches | None = None
    width_in: Inches | None = None
    depth_in: Inches | None = None
    fuel_burning: bool | None = None
    fastened_in_place: bool | None = None
    va: Inches | None = None
    volts: int | None = None
    motor: bool | None = None
    minimum_circuit_a: Inches | None = None
    maximum_overcurrent_a: Inches | None = None
    listed_hvac: bool | None = None
    note: str = ""
