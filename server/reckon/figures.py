"""How a number is written in a step: thousands apart, fractions as short decimals, never a rounded figure
unmarked.

``written(Fraction(21480))`` is ``21,480``; ``written(Fraction(155, 2))`` is ``77.5``; a decimal that had to be cut
carries a tilde, ``~121.67``.
"""

from __future__ import annotations

from fractions import Fraction

__all__ = ["as_listed", "percent_of", "written"]

_HUNDRED = 100


def written(number: Fraction | int, places: int = 2) -> str:
    """A number as a worked example prints it, with a tilde where decimals were cut."""
    exact = Fraction(number)
    if exact.denominator == 1:
        return f"{exact.numerator:,}"
    scale = 10**places
    cut = Fraction(int(exact * scale + Fraction(1, 2) * (1 if exact >= 0 else -1)), scale)
    text = f"{float(cut):,.{places}f}".rstrip("0").rstrip(".")
    return text if cut == exact else f"~{text}"


def percent_of(percent: Fraction | int, number: Fraction | int) -> Fraction:
    """So many percent of a number, exact."""
    return Fraction(percent) * number / _HUNDRED


def as_listed(numbers: list[Fraction] | tuple[Fraction, ...]) -> str:
    """Summands in a row: ``4,500 + 3,000 + 1,500``; equal neighbours are written ``4 × 1,500``."""
    groups: list[tuple[Fraction, int]] = []
    for number in numbers:
        if groups and groups[-1][0] == number:
            groups[-1] = (number, groups[-1][1] + 1)
        else:
            groups.append((number, 1))
    return " + ".join(written(n) if count == 1 else f"{count} × {written(n)}" for n, count in groups)
