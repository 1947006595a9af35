"""The sheets: single reckonings without a job. Importing this package registers all of them."""

from server.api.sheets import protection
from server.api.sheets.base import SHEETS, answer

__all__ = ["SHEETS", "answer", "protection"]
