"""The sheets: single reckonings without a job. Importing this package registers all of them."""

from server.api.sheets import counter_receptacles, protection, wall_receptacles
from server.api.sheets.base import SHEETS, answer

__all__ = ["SHEETS", "answer", "counter_receptacles", "protection", "wall_receptacles"]
