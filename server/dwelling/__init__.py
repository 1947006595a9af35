"""The house as plain frozen facts.

Site                     stage, permit date, kind of work
Level > Room > Wall > Opening
             > Counter > Break
             > Fixture
             > Box > Device
Panel > Circuit          Cable joins boxes and panels, carries circuits
Observation              what somebody saw or measured of any of them
"""

from server.dwelling.boxes import (
    RECEPTACLE_RATINGS,
    Box,
    BoxMaterial,
    Clamps,
    Device,
    DeviceKind,
    Half,
    Surface,
    SwitchWays,
    Wetness,
)
from server.dwelling.dwelling import Dwelling, Facts, Site, Subject
from server.dwelling.length import Inches, LengthError, format_length, parse_length
from server.dwelling.observations import Answer, Observation, Ref, Stage, WorkKind
from server.dwelling.places import (
    Break,
    BreakKind,
    Counter,
    CounterKind,
    Fixture,
    FixtureKind,
    Framing,
    Level,
    Opening,
    OpeningKind,
    Room,
    Wall,
)
from server.dwelling.room_kinds import RoomKind
from server.dwelling.supply import (
    Breaker,
    Cable,
    CableKind,
    Circuit,
    CircuitPurpose,
    ConductorMaterial,
    Panel,
    WhiteUse,
)

__all__ = [
    "RECEPTACLE_RATINGS", "Answer", "Box", "BoxMaterial", "Break", "BreakKind", "Breaker", "Cable", "CableKind",
    "Circuit", "CircuitPurpose", "Clamps", "ConductorMaterial", "Counter", "CounterKind", "Device", "DeviceKind",
    "Dwelling", "Facts", "Fixture", "FixtureKind", "Framing", "Half", "Inches", "LengthError", "Level",
    "Observation", "Opening", "OpeningKind", "Panel", "Ref", "Room", "RoomKind", "Site", "Stage", "Subject",
    "Surface", "SwitchWays", "Wall", "Wetness", "WhiteUse", "WorkKind", "format_length", "parse_length",
]  # fmt: skip
