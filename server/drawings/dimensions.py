"""Dimension strings: a line with ticks at 45 degrees and a length written on it."""

from __future__ import annotations

from fractions import Fraction

from server.drawings.svg import Svg

__all__ = ["dimension", "short_length"]

_TICK = 3.5
_CHARACTER = 6.2


def short_length(length_in: Fraction) -> str:
    """A length as it is written on drawings: ``6'-2 1/2"``, ``16"``."""
    feet, inches = divmod(length_in, 12) if length_in >= 24 else (0, length_in)
    whole, part = divmod(Fraction(inches), 1)
    if part and 64 % part.denominator:
        part = Fraction(round(part * 16), 16)
        if part == 1:
            whole, part = whole + 1, Fraction(0)
    written = f"{int(whole)} {part}" if part and whole else str(part) if part else str(int(whole))
    return f"{int(feet)}'-{written}\"" if feet else f'{written}"'


def dimension(
    svg: Svg, x1: float, x2: float, y: float, words: str, *, layer: str = "dim", text_layer: str = "note"
) -> None:
    """A horizontal dimension string with its words above; left out of the string where they do not fit."""
    svg.stroke(layer, (x1, y), (x2, y))
    for x in (x1, x2):
        svg.stroke(layer, (x - _TICK, y + _TICK), (x + _TICK, y - _TICK))
    if len(words) * _CHARACTER <= abs(x2 - x1) + 8:
        svg.text((x1 + x2) / 2, y - 5, words, layer=text_layer)
