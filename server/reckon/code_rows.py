"""Reads the tables of an edition as rows of numbers or of words, checked once here."""

from __future__ import annotations

from fractions import Fraction

from server.editions import Edition, EditionError, EditionValue
from server.reckon.work import SILENT, Work

__all__ = ["number_list", "number_row", "number_rows", "word_rows"]


def number_list(name: str, code: Edition, work: Work = SILENT) -> tuple[Fraction, ...]:
    """A plain list of numbers."""
    return _numbers(code.value(name, work), name)


def number_rows(
    name: str, code: Edition, work: Work = SILENT, key: str = "rows"
) -> tuple[tuple[Fraction, ...], ...]:
    """A list of number rows under a key of a table."""
    found = code.table(name, work).get(key)
    if not isinstance(found, tuple):
        raise EditionError(f"expected rows under {name}, came {found!r}")
    return tuple(_numbers(row, name) for row in found)


def number_row(name: str, row: str, code: Edition, work: Work = SILENT) -> tuple[Fraction, ...] | None:
    """One row of a table by its name; None where the table has no such row (then nothing was read)."""
    if row not in code.table(name):
        return None
    return _numbers(code.table(name, work)[row], name)


def word_rows(name: str, code: Edition, work: Work = SILENT) -> tuple[tuple[str, ...], ...]:
    """The rows of a table of words (sizes)."""
    found = code.table(name, work).get("rows")
    if not isinstance(found, tuple) or not all(isinstance(row, tuple) for row in found):
        raise EditionError(f"expected rows under {name}, came {found!r}")
    return tuple(tuple(str(word) for word in row) for row in found if isinstance(row, tuple))


def _numbers(found: EditionValue, name: str) -> tuple[Fraction, ...]:
    if not isinstance(found, tuple):
        raise EditionError(f"expected a list of numbers under {name}, came {found!r}")
    numbers = []
    for number in found:
        if isinstance(number, bool) or not isinstance(number, int | Fraction):
            raise EditionError(f"expected a number under {name}, came {number!r}")
        numbers.append(Fraction(number))
    return tuple(numbers)
