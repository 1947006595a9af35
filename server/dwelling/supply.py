"""Where the power comes from and how it gets there: panels, circuits, cables."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from server.dwelling.length import Inches

__all__ = [
    "Breaker",
    "Cable",
    "CableKind",
    "Circuit",
    "CircuitPurpose",
    "ConductorMaterial",
    "Panel",
    "WhiteUse",
]


class ConductorMaterial(StrEnum):
    COPPER = "copper"
    ALUMINUM = "aluminum"
    COPPER_CLAD = "copper-clad aluminum"


class Breaker(StrEnum):
    """What kind of breaker (or fuse) protects the circuit."""

    STANDARD = "standard"
    GFCI = "GFCI"
    AFCI = "AFCI"
    DUAL = "AFCI and GFCI"
    FUSE = "fuse"


class CircuitPurpose(StrEnum):
    GENERAL = "general"
    SMALL_APPLIANCE = "small-appliance"
    LAUNDRY = "laundry"
    BATHROOM = "bathroom"
    GARAGE = "garage"
    INDIVIDUAL = "individual"
    FEEDER = "feeder"
    ALARMS = "alarms"
    OUTDOOR = "outdoor"


class CableKind(StrEnum):
    NM_B = "nm-b"
    UF_B = "uf-b"
    MC = "mc"
    AC = "ac"
    SE = "se"
    RACEWAY = "raceway"
    """Single conductors in a raceway between two boxes: a run like a cable's."""


class WhiteUse(StrEnum):
    """What a cable's white (or gray) conductor is used for."""

    GROUNDED = "grounded"
    SWITCH_FEED = "switch feed"
    SWITCH_RETURN = "switch return"
    TRAVELER = "traveler"
    UNGROUNDED = "ungrounded"


@dataclass(frozen=True, slots=True)
class Panel:
    """A panelboard. ``fed_by_circuit_id`` is the feeder of a subpanel; the service panel has none."""

    id: str
    name: str
    order: int = 0
    room_id: str | None = None
    wall_id: str | None = None
    at_in: Inches | None = None
    is_service: bool = False
    fed_by_circuit_id: str | None = None
    bus_a: int | None = None
    main_a: int | None = None
    spaces: int | None = None
    volts: int = 240
    handle_height_in: Inches | None = None
    space_width_in: Inches | None = None
    space_depth_in: Inches | None = None
    space_height_in: Inches | None = None
    door_swing_deg: int | None = None
    neutral_bonded: bool | None = None
    ground_bar: bool | None = None
    in_separate_building: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Circuit:
    """A branch circuit or feeder. ``spaces`` are the panel spaces that its breaker fills, as printed beside it.

    ``multiwire_with`` names the circuit that shares its grounded conductor; ``rating_a`` is the breaker's.
    """

    id: str
    panel_id: str
    name: str
    order: int = 0
    spaces: tuple[int, ...] = ()
    poles: int = 1
    rating_a: int | None = None
    volts: int = 120
    breaker: Breaker | None = None
    purpose: CircuitPurpose = CircuitPurpose.GENERAL
    conductor_awg: str | None = None
    material: ConductorMaterial = ConductorMaterial.COPPER
    multiwire_with: str | None = None
    handle_tied: bool | None = None
    continuous_va: Inches | None = None
    va: Inches | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable between two ends, each a box or a panel; ``order`` is its place in the run.

    ``insulated`` counts insulated conductors (2 in a 14-2, 3 in a 14-3); ``circuit_ids`` is empty for a cable
    that is not yet on a circuit and has two members for a multiwire run. ``white_use`` is recorded where it is
    known; the hookup finds it where it is not. ``fastened_a_in`` and ``fastened_b_in`` are the distances from
    each box to the nearest fastening along the sheath.
    """

    id: str
    kind: CableKind = CableKind.NM_B
    awg: str | None = None
    insulated: int = 2
    has_ground: bool = True
    order: int = 0
    circuit_ids: tuple[str, ...] = ()
    a_box_id: str | None = None
    a_panel_id: str | None = None
    b_box_id: str | None = None
    b_panel_id: str | None = None
    length_ft: Inches | None = None
    material: ConductorMaterial = ConductorMaterial.COPPER
    white_use: WhiteUse | None = None
    sheath_a_in: Inches | None = None
    sheath_b_in: Inches | None = None
    fastened_a_in: Inches | None = None
    fastened_b_in: Inches | None = None
    bundled_with: int | None = None
    bundled_length_in: Inches | None = None
    in_insulation: bool | None = None
    ambient_f: int | None = None
    note: str = ""
