"""What each sheet is for, which fields stand first, and an example to look at (invented numbers)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

__all__ = ["SHEET_PAGES", "SheetPage"]


@dataclass(frozen=True, slots=True)
class SheetPage:
    """How a sheet stands on its page."""

    answers: str
    shown: tuple[str, ...]
    example: Mapping[str, Any]


SHEET_PAGES: Final[Mapping[str, SheetPage]] = {
    "box-fill": SheetPage(
        "Is this box large enough for what is in it, and which one would be?",
        ("edition", "box", "conductors", "devices", "clamps"),
        {
            "box": {"table": "4 x 1-1/2 square"}, "clamps": "internal", "devices": [{"kind": "receptacle", "largest_awg": "12"}],
            "conductors": [{"awg": "12", "count": 4, "role": "insulated"}, {"awg": "12", "count": 2, "role": "ground"}],
        },
    ),
    "ampacity": SheetPage(
        "How much may this conductor carry here, after heat and company?",
        ("edition", "awg", "material", "kind", "current_carrying", "ambient_f", "in_insulation", "sealed_hole", "length_together_in", "terminal_c"),
        {"awg": "12", "kind": "nm-b", "current_carrying": 8, "sealed_hole": True},
    ),
    "overcurrent": SheetPage(
        "Which breaker may protect this conductor, and does it fit load and receptacles?",
        ("edition", "awg", "material", "kind", "load_a", "load_va", "volts", "continuous_va", "device_a", "outlets"),
        {"awg": "12", "kind": "nm-b", "load_va": 1800, "volts": 120, "device_a": 20, "outlets": [15, 15]},
    ),
    "voltage-drop": SheetPage(
        "How much voltage is left at the far end? Advice, not a requirement.",
        ("edition", "awg", "material", "volts", "phases", "load_a", "one_way_ft", "method"),
        {"awg": "12", "volts": 120, "load_a": 16, "one_way_ft": 95, "method": "k"},
    ),
    "dwelling-load": SheetPage(
        "How large must the service be for this house?",
        ("edition", "method", "floor_area_ft2", "small_appliance_circuits", "laundry_circuits", "appliances", "dryers_va", "cooking", "heat_va", "heat_units", "cool_va", "ev"),
        {
            "method": "optional", "floor_area_ft2": 2400, "dryers_va": [5500], "cooking": [{"kind": "range", "va": 12000}],
            "appliances": [{"name": "dishwasher", "va": 1200}, {"name": "water heater", "va": 4500}], "heat_va": 9000, "cool_va": 6000,
        },
    ),
    "service-sizing": SheetPage(
        "Which rating, conductors, electrode conductor and bonding jumper for so many amperes?",
        ("edition", "amperes", "material", "method", "floor_area_ft2"),
        {"amperes": 168},
    ),
    "wall-receptacles": SheetPage(
        "Where along these walls is it too far to a receptacle, and where would the fewest more go?",
        ("edition", "room", "walls", "receptacles", "stud_spacing_in", "closed"),
        {
            "room": "bedroom",
            "walls": [
                {"length_in": "14'", "openings": [{"from_in": "6", "to_in": "38", "kind": "door"}]}, {"length_in": "12'"},
                {"length_in": "14'"}, {"length_in": "12'"},
            ],
            "receptacles": [{"wall": "1", "at_in": "8'", "height_in": "16"}],
        },
    ),
    "counter-receptacles": SheetPage(
        "Which counter spaces lack a receptacle, and where would the fewest go?",
        ("edition", "counters"),
        {"counters": [{"kind": "wall", "length_in": "9'", "depth_in": "25", "breaks": [{"from_in": "38", "to_in": "71", "kind": "sink", "behind_in": "3"}]}]},
    ),
    "protection": SheetPage(
        "Does this outlet need GFCI, AFCI, tamper or weather resistance?",
        ("edition", "room", "finished", "outlet", "circuit", "work"),
        {"room": "laundry", "finished": True, "outlet": {"kind": "receptacle", "volts": 125, "amps": 20, "serves": "washer"}},
    ),
    "hookup": SheetPage(
        "Can these cables make these switches work, and which conductor goes where?",
        ("edition", "nodes", "cables", "devices", "neutral_at_switch"),
        {
            "nodes": [{"id": "panel", "kind": "source"}, {"id": "foot", "kind": "box"}, {"id": "head", "kind": "box"}, {"id": "lamp", "kind": "box"}],
            "cables": [
                {"id": "feed", "a": "panel", "b": "foot", "insulated": 2}, {"id": "up", "a": "foot", "b": "head", "insulated": 3},
                {"id": "on", "a": "head", "b": "lamp", "insulated": 2},
            ],
            "devices": [
                {"id": "S1", "node": "foot", "kind": "switch", "controls": ["L"]}, {"id": "S2", "node": "head", "kind": "switch", "controls": ["L"]},
                {"id": "L", "node": "lamp", "kind": "luminaire"},
            ],
        },
    ),
    "working-space": SheetPage(
        "Is there room to work in front of this panel?",
        ("edition", "width_in", "depth_in", "height_in", "voltage_to_ground", "condition", "door_swing_deg", "room"),
        {"width_in": "30", "depth_in": "36", "height_in": "6' 6\"", "condition": 1, "door_swing_deg": 110, "room": "garage"},
    ),
}  # fmt: skip
