"""What an outlet serves: the words, and what they have in common for the rules of protection.

The words are those of ``FixtureKind`` where there is one; purposes that are no fixture stand here.
"""

from __future__ import annotations

from typing import Final

__all__ = [
    "ALARM_SYSTEMS",
    "AT_THE_SINK",
    "CEILING_SUPPORT",
    "COMFORT_EQUIPMENT",
    "EQUIPMENT_OF_A_CLOSET",
    "EXHAUST_FANS",
    "FIXED_APPLIANCES",
    "LAUNDRY_MACHINES",
    "OUTDOOR_HEAT_CABLE",
    "STATION_ALARMS",
]

LAUNDRY_MACHINES: Final = frozenset({"washer", "dryer", "gas dryer"})
"""Where one of these stands, there is a laundry area."""

AT_THE_SINK: Final = frozenset({"disposer", "instant hot water", "under-sink water filter"})
"""Plugged in inside the sink's own cabinet: a few feet of cord from the bowl, through a cabinet door."""

COMFORT_EQUIPMENT: Final = frozenset(
    {"air conditioner", "heat pump", "mini-split", "furnace", "air handler", "HVAC", "boiler"}
)
"""Heating, ventilating and air-conditioning equipment."""

EQUIPMENT_OF_A_CLOSET: Final = COMFORT_EQUIPMENT | {"water heater"}
"""What turns a closet into a mechanical space in the eyes of many inspectors."""

OUTDOOR_HEAT_CABLE: Final = frozenset({"snow melting", "deicing", "pipe heating"})
"""Cables with their own ground-fault protection of equipment (426.28, 427.22)."""

ALARM_SYSTEMS: Final = frozenset({"security panel", "fire alarm"})
"""A permanently installed burglar or fire alarm system (not station smoke alarms)."""

STATION_ALARMS: Final = frozenset({"smoke alarm", "CO alarm", "smoke and CO alarm"})
"""Single- and multiple-station alarms: ordinary outlets."""

CEILING_SUPPORT: Final = frozenset({"ceiling luminaire support", "ceiling fan support"})
"""A weight-supporting ceiling receptacle with its attachment fitting."""

EXHAUST_FANS: Final = frozenset({"bath fan", "exhaust fan"})

FIXED_APPLIANCES: Final = (
    frozenset(
        {
            "refrigerator", "freezer", "range", "gas range", "wall oven", "cooktop", "range hood", "microwave",
            "dishwasher", "disposer", "trash compactor", "water heater", "sump pump", "well pump",
            "garage door opener", "electric heat", "hydromassage tub", "security panel", "central vacuum",
        }
    )
    | LAUNDRY_MACHINES
    | COMFORT_EQUIPMENT
)  # fmt: skip
"""Appliances that in normal use are not easily moved from one place to another."""
