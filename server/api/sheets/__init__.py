"""The sheets: single reckonings without a job. Importing this package registers all of them."""

from server.api.sheets import (
    ampacity,
    box_fill,
    counter_receptacles,
    dwelling_load,
    hookup,
    overcurrent,
    protection,
    service_sizing,
    voltage_drop,
    wall_receptacles,
    working_space,
)
from server.api.sheets.base import SHEETS, answer

__all__ = [
    "SHEETS",
    "ampacity",
    "answer",
    "box_fill",
    "counter_receptacles",
    "dwelling_load",
    "hookup",
    "overcurrent",
    "protection",
    "service_sizing",
    "voltage_drop",
    "wall_receptacles",
    "working_space",
]
