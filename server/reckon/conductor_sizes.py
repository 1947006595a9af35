"""Conductor sizes in order, as the trade writes them: ``"14"``, ``"1/0"``, ``"250"``.

The order is that of circular mils (Chapter 9 Table 8), so that no list of sizes stands in code.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from server.editions import Edition
from server.reckon.work import SILENT, Work

__all__ = ["ConductorError", "circular_mils", "largest", "not_smaller_than", "sized", "sizes"]

_CMILS = "conductor.circular_mils"
_KCMIL_FROM = 250


class ConductorError(ValueError):
    """A conductor that cannot be reckoned; ``field`` is the fact that is wrong."""

    def __init__(self, field: str, message: str, came: object) -> None:
        self.field, self.came = field, came
        super().__init__(message)


def sizes(code: Edition) -> tuple[str, ...]:
    """Every size, smallest first."""
    return tuple(code.table(_CMILS))


def circular_mils(awg: str, code: Edition, work: Work = SILENT) -> Fraction:
    """The area of a conductor.

    Raises:
        ConductorError: no such size is in Chapter 9 Table 8.
    """
    found = code.table(_CMILS, work).get(awg)
    if not isinstance(found, int | Fraction):
        raise ConductorError(
            "awg", f"expected a conductor size of {code.cites(_CMILS)} (18 to 2000 kcmil), came {awg!r}", awg
        )
    return Fraction(found)


def largest(awgs: Iterable[str], code: Edition) -> str | None:
    """The largest of some sizes, None for none."""
    return max(awgs, key=lambda awg: circular_mils(awg, code), default=None)


def not_smaller_than(awg: str, code: Edition) -> tuple[str, ...]:
    """A size and all larger ones, smallest first."""
    every = sizes(code)
    circular_mils(awg, code)
    return every[every.index(awg) :]


def sized(awg: str) -> str:
    """A size with its unit, as it is read aloud: ``14 AWG``, ``1/0 AWG``, ``250 kcmil``."""
    return f"{awg} kcmil" if awg.isdigit() and int(awg) >= _KCMIL_FROM else f"{awg} AWG"
