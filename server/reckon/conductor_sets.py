"""The smallest conductor for a current at 75 °C, single or in parallel sets, and the area of what was found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.ampacity import table_ampacity
from server.reckon.conductor_sizes import ConductorError, circular_mils, sizes
from server.reckon.work import SILENT, Work

__all__ = ["SIZE_UNIT", "ConductorSet", "area_of", "conductor_set", "smallest_carrying", "smallest_of_area"]

_COLUMN_C = 75
SIZE_UNIT: Final = "AWG or kcmil"
"""What a conductor's size is counted in, for steps."""


@dataclass(frozen=True, slots=True)
class ConductorSet:
    """One conductor, or so many in parallel, for each line; ``ampacity_a`` is that of all of them together."""

    size: str
    sets: int
    ampacity_a: Fraction

    def __str__(self) -> str:
        return self.size if self.sets == 1 else f"{self.sets} x {self.size}"


def conductor_set(
    size: str, sets: int, material: ConductorMaterial, code: Edition, work: Work = SILENT
) -> ConductorSet:
    """Conductors that are known by size, with their 75 °C ampacity.

    Raises:
        ConductorError: there is no such size of the material.
    """
    return ConductorSet(size, sets, sets * table_ampacity(size, material, _COLUMN_C, code, work))


def area_of(conductor: ConductorSet, code: Edition) -> Fraction:
    """Circular mils of a conductor or of its parallel sets together."""
    return circular_mils(conductor.size, code) * conductor.sets


def smallest_of_area(cmil: Fraction, code: Edition) -> str | None:
    """The smallest size with at least an area in circular mils; None beyond the table."""
    return next((size for size in sizes(code) if circular_mils(size, code) >= cmil), None)


def smallest_carrying(
    amperes: Fraction,
    material: ConductorMaterial,
    code: Edition,
    work: Work = SILENT,
    *,
    sets: int | None = None,
    least_cmil: Fraction = Fraction(0),
) -> ConductorSet:
    """The smallest conductor whose 75 °C ampacity reaches so many amperes, and whose area is not below
    ``least_cmil`` (that of all sets together).

    Beyond the largest usual size: the smallest in the fewest parallel sets, or in ``sets`` where that is given (then
    of any size; more sets only where no size is enough).
    """
    number = sets or 1
    while True:
        for size, ampacity in _rows(material, code, parallel=number > 1, usual=sets is None):
            if ampacity * number >= amperes and circular_mils(size, code) * number >= least_cmil:
                table_ampacity(size, material, _COLUMN_C, code, work)
                if number > 1:
                    code.value("service.parallel_from", work)
                return ConductorSet(size, number, ampacity * number)
        number += 1


def _rows(
    material: ConductorMaterial, code: Edition, *, parallel: bool, usual: bool
) -> Iterator[tuple[str, Fraction]]:
    """Sizes that services use, smallest first, each with its 75 °C ampacity; not ``usual``: every size."""
    largest = str(code.value("service.largest_single")) if usual else sizes(code)[-1]
    most = circular_mils(largest, code)
    least = circular_mils(str(code.value("service.parallel_from")), code) if parallel else Fraction(0)
    for size in sizes(code):
        if not least <= circular_mils(size, code) <= most:
            continue
        try:
            yield size, table_ampacity(size, material, _COLUMN_C, code)
        except ConductorError:
            # The smallest sizes are not made of aluminum.
            continue
