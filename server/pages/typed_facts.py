"""Facts as they would be typed, and what a form changed of them.

What stands in a form's field is read back to the same value, or left alone: a wall of 98.425... in from a metric
plan is shown as 2500 mm, and a field that nobody touched never rounds what is stored.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import StrEnum
from fractions import Fraction
from typing import Any, Final

from server.dwelling import format_length

__all__ = ["changed", "typed_of", "write_length"]

_MM_PER_INCH: Final = Fraction(254, 10)
_LENGTHS: Final = ("_in",)


def write_length(length_in: Fraction) -> str:
    """A length as text that reads back to the same length wherever it can be written exactly."""
    written = format_length(length_in)
    if "~" not in written:
        return written
    metric = length_in * _MM_PER_INCH
    text = f"{float(metric):.3f}".rstrip("0").rstrip(".")
    return f"{text} mm" if Fraction(text) == metric else f"{float(length_in):.6f}"


def _write(name: str, value: Any) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case StrEnum():
            return value.value
        case Fraction() if name.endswith(_LENGTHS):
            return write_length(value)
        case Fraction():
            return str(value.numerator) if value.denominator == 1 else f"{float(value):.6f}".rstrip("0")
        case _:
            return str(value)


def typed_of(fact: Any, *, yes_or_no: tuple[str, ...] = ()) -> dict[str, str]:
    """A fact's fields as text; lists are left out.

    ``yes_or_no`` names the fields that a form asks three ways (yes, no, not recorded); any other bool is a box to
    tick, which sends ``yes`` or nothing.
    """
    values: dict[str, str] = {}
    for item in fields(fact):
        value = getattr(fact, item.name)
        if isinstance(value, tuple):
            continue
        ticked = isinstance(value, bool) and item.name not in yes_or_no
        values[item.name] = ("yes" if value else "") if ticked else _write(item.name, value)
    return values


def changed(
    fact: Any, values: Mapping[str, Any], sent: Mapping[str, str], before: Mapping[str, str]
) -> dict[str, Any]:
    """The values that a form changed: those whose text is another than the one that was shown.

    Args:
        fact: the fact as it stands.
        values: what the form was read into.
        sent: the form's text, by field.
        before: :func:`typed_of` the fact.
    """
    return {
        name: value
        for name, value in values.items()
        if name not in before or sent.get(name, "") != before[name] or isinstance(getattr(fact, name), tuple)
    }
