"""Lengths as the trade types and reads them, kept exact.

A length is a :class:`fractions.Fraction` of inches, so that 1/16 in is 1/16 in and two lengths can be
compared for equality. ``parse_length`` reads what people type; ``format_length`` writes what they read.

Accepted::

    74.5        74 1/2       1/4        3/8"        74 1/2"       74.5 in
    6'          6' 2         6' 2 1/2"  6'-2 1/2"   6-2 1/2       6 ft 2 in
    1 m         1200 mm      12.5 cm                              (exact at 25.4 mm to the inch)

``6-2 1/2`` is six feet, two and a half inches: the way a plan writes it.
"""

from __future__ import annotations

import re
from fractions import Fraction

__all__ = ["Inches", "LengthError", "format_length", "parse_length"]

Inches = Fraction
"""An exact length in inches."""

_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)"
_FEET_AND_INCHES = re.compile(
    rf"^(?P<feet>{_NUMBER})\s*(?:'|ft\.?|feet|foot)\s*-?\s*(?:(?P<inches>{_NUMBER})\s*(?:\"|''|in\.?|inches|inch)?)?$"
)
_PLAN_STYLE = re.compile(rf"^(?P<feet>\d+)\s*-\s*(?P<inches>{_NUMBER})\s*(?:\"|''|in\.?)?$")
_INCHES_ONLY = re.compile(rf"^(?P<inches>{_NUMBER})\s*(?:\"|''|in\.?|inches|inch)?$")
_METRIC = re.compile(rf"^(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m)$")
_MM_PER = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_MM_PER_INCH = Fraction(254, 10)
_LONGEST_TEXT = 40
_MARKS = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "“": '"', "–": "-", "\u00a0": " "})
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}


class LengthError(ValueError):
    """Text that is no length; says what was expected and what came."""

    def __init__(self, came: object) -> None:
        self.came = came
        super().__init__(
            "expected a length in inches or feet and inches, such as 6' 2 1/2\", 6-2 1/2, 74.5 or 1/4; "
            f"came {came!r}"
        )


def parse_length(text: str | int | float | Fraction) -> Inches:
    """Read a length in the trade's ways of writing it, in exact inches.

    A bare number is inches. A float is read through its decimal text, so ``74.5`` is exact.

    Raises:
        LengthError: the text is not a length, is negative, or divides by zero.
    """
    if isinstance(text, bool):
        raise LengthError(text)
    if isinstance(text, Fraction | int):
        if text < 0:
            raise LengthError(text)
        return Fraction(text)
    if isinstance(text, float):
        if text != text or text < 0 or text in (float("inf"), float("-inf")):
            raise LengthError(text)
        return Fraction(repr(text))
    if not isinstance(text, str) or len(text) > _LONGEST_TEXT:
        raise LengthError(text if not isinstance(text, str) else text[:_LONGEST_TEXT] + "...")
    plain = text.translate(_MARKS).strip().lower()
    for glyph, written in _VULGAR.items():
        plain = plain.replace(glyph, f" {written}")
    plain = re.sub(r"\s+", " ", plain).strip()
    try:
        if found := _METRIC.match(plain):
            return _number(found["number"]) * _MM_PER[found["unit"]] / _MM_PER_INCH
        for form in (_FEET_AND_INCHES, _PLAN_STYLE):
            if found := form.match(plain):
                inches = found["inches"]
                return _number(found["feet"]) * 12 + (_number(inches) if inches else 0)
        if found := _INCHES_ONLY.match(plain):
            return _number(found["inches"])
    except (ZeroDivisionError, ValueError):
        pass
    raise LengthError(text)


def _number(text: str) -> Fraction:
    """``2 1/2``, ``1/2``, ``2.5`` or ``2`` as a fraction."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def format_length(length_in: Inches, *, feet_from_in: int = 24) -> str:
    """Write a length the way it is read on site: ``6 ft 2 1/2 in``, ``3/8 in``, ``18 in``.

    Lengths of ``feet_from_in`` inches and more are written in feet and inches. A length that is no
    64th of an inch is written as a decimal, marked with a tilde where the decimal is not exact.
    """
    sign = "-" if length_in < 0 else ""
    length = abs(length_in)
    feet, inches = (divmod(length, 12)) if length >= feet_from_in else (0, length)
    parts = []
    if feet:
        parts.append(f"{int(feet)} ft")
    if inches or not feet:
        parts.append(f"{_mixed(Fraction(inches))} in")
    return sign + " ".join(parts)


def _mixed(number: Fraction) -> str:
    whole, part = divmod(number, 1)
    if not part:
        return str(int(whole))
    if 64 % part.denominator == 0:
        return f"{int(whole)} {part}" if whole else str(part)
    decimal = f"{float(number):.3f}".rstrip("0").rstrip(".")
    return decimal if Fraction(decimal) == number else f"~{decimal}"
