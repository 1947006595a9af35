"""Boxes and what is in them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from server.dwelling.length import Inches

__all__ = [
    "RECEPTACLE_RATINGS",
    "Box",
    "BoxMaterial",
    "Clamps",
    "Device",
    "DeviceKind",
    "Half",
    "Surface",
    "SwitchWays",
    "Wetness",
]


class BoxMaterial(StrEnum):
    METAL = "metal"
    NONMETALLIC = "nonmetallic"


class Surface(StrEnum):
    WALL = "wall"
    CEILING = "ceiling"
    FLOOR = "floor"
    COUNTER = "counter"
    FREE = "free"


class Clamps(StrEnum):
    """What holds the cables: clamps inside the box take room, connectors outside do not."""

    NONE = "none"
    INTERNAL = "internal"
    EXTERNAL = "external"


class Wetness(StrEnum):
    DRY = "dry"
    DAMP = "damp"
    WET = "wet"


class DeviceKind(StrEnum):
    RECEPTACLE = "receptacle"
    SWITCH = "switch"
    LUMINAIRE = "luminaire"
    FAN = "fan"
    EXHAUST_FAN = "exhaust fan"
    SMOKE_ALARM = "smoke alarm"
    CO_ALARM = "CO alarm"
    SMOKE_CO_ALARM = "smoke and CO alarm"
    HARDWIRED = "hardwired"
    PROTECTOR = "protector"
    """A faceless GFCI or AFCI device."""
    OTHER = "other"


class SwitchWays(StrEnum):
    SINGLE_POLE = "single-pole"
    THREE_WAY = "three-way"
    FOUR_WAY = "four-way"
    DOUBLE_POLE = "double-pole"


class Half(StrEnum):
    """Which half of a duplex receptacle."""

    TOP = "top"
    BOTTOM = "bottom"


RECEPTACLE_RATINGS: dict[str, tuple[int, int]] = {
    "1-15": (125, 15),
    "5-15": (125, 15),
    "5-20": (125, 20),
    "5-30": (125, 30),
    "6-15": (250, 15),
    "6-20": (250, 20),
    "6-30": (250, 30),
    "6-50": (250, 50),
    "10-30": (250, 30),
    "10-50": (250, 50),
    "14-20": (250, 20),
    "14-30": (250, 30),
    "14-50": (250, 50),
    "14-60": (250, 60),
}
"""Volts and amperes of the receptacle configurations met in houses (ANSI/NEMA WD 6, an open standard)."""


@dataclass(frozen=True, slots=True)
class Box:
    """A box at its place. ``at_in`` along its wall from the left end, ``height_in`` from the floor to its middle;
    on a ceiling or floor ``x_in`` and ``y_in`` from the room's first corner.

    ``volume_in3`` is the marked volume (every nonmetallic box has one); ``trade_size`` a standard metal size.
    ``ring_in3`` is what a marked ring or extension adds. ``from_sink_in`` and ``from_tub_in`` are tape
    measurements that stand before anything reckoned from positions.
    """

    id: str
    room_id: str
    label: str = ""
    order: int = 0
    surface: Surface = Surface.WALL
    wall_id: str | None = None
    at_in: Inches | None = None
    height_in: Inches | None = None
    x_in: Inches | None = None
    y_in: Inches | None = None
    material: BoxMaterial | None = None
    trade_size: str | None = None
    volume_in3: Inches | None = None
    ring_in3: Inches | None = None
    gangs: int = 1
    clamps: Clamps | None = None
    luminaire_studs: int = 0
    hickeys: int = 0
    fan_rated: bool | None = None
    rated_lb: Inches | None = None
    wetness: Wetness | None = None
    from_sink_in: Inches | None = None
    from_tub_in: Inches | None = None
    off_wall_in: Inches | None = None
    below_counter_in: Inches | None = None
    counter_id: str | None = None
    inside_cabinet: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Device:
    """What is fitted in or on a box: receptacle, switch, luminaire, fan, alarm, a hardwired appliance's outlet.

    ``controls`` lists the devices that a switch turns; ``switched_half`` says which half of a receptacle is
    switched (both halves where it is None and a switch controls it). ``load_cable_ids`` are the cables on the
    load side of a GFCI or AFCI device. ``circuit_id`` is needed only where a box holds several circuits;
    ``second_circuit_id`` is the other half's circuit in a split receptacle.
    """

    id: str
    box_id: str
    kind: DeviceKind
    label: str = ""
    order: int = 0
    circuit_id: str | None = None
    second_circuit_id: str | None = None
    configuration: str | None = None
    receptacles: int = 2
    gfci: bool = False
    afci: bool = False
    tamper_resistant: bool | None = None
    weather_resistant: bool | None = None
    switched_half: Half | None = None
    ways: SwitchWays | None = None
    dimmer: bool = False
    controls: tuple[str, ...] = ()
    load_cable_ids: tuple[str, ...] = ()
    fixture_id: str | None = None
    serves: str = ""
    dedicated: bool = False
    readily_accessible: bool | None = None
    volts: int | None = None
    va: Inches | None = None
    weight_lb: Inches | None = None
    domed: bool = False
    recessed: bool | None = None
    lamp: str = ""
    largest_awg: str | None = None
    gangs_wide: int = 1
    isolated_ground: bool = False
    note: str = ""
