"""Grounding electrode conductor, bonding jumpers, least grounded conductor and equipment grounding conductor."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.code_rows import word_rows
from server.reckon.conductor_sets import SIZE_UNIT, ConductorSet, area_of, smallest_of_area
from server.reckon.conductor_sizes import circular_mils, sizes
from server.reckon.figures import percent_of, written
from server.reckon.work import SILENT, Work

__all__ = ["bonding_jumper", "electrode_conductor", "equipment_conductor"]

_COPPER = ConductorMaterial.COPPER
_KCMIL = 1000


def _column(material: ConductorMaterial) -> int:
    """Copper first, then aluminum, with which copper-clad aluminum goes."""
    return 0 if material is _COPPER else 1


def _limit(size: str, code: Edition) -> Fraction:
    """Area of a row's limit: some, such as 1100 kcmil, are no sizes of conductors."""
    return circular_mils(size, code) if size in sizes(code) else Fraction(size) * _KCMIL


def _row_for(
    name: str, ungrounded: ConductorSet, material: ConductorMaterial, code: Edition, work: Work
) -> tuple[str, ...] | None:
    """The first row whose largest ungrounded conductor is at least this one; None beyond the table."""
    area = area_of(ungrounded, code)
    for row in word_rows(name, code, work):
        largest = row[_column(material)]
        if not largest or area <= _limit(largest, code):
            return row
    return None


def electrode_conductor(
    ungrounded: ConductorSet,
    material: ConductorMaterial,
    code: Edition,
    work: Work = SILENT,
    *,
    of: ConductorMaterial = _COPPER,
) -> str:
    """Grounding electrode conductor for the largest ungrounded service conductor, by its area."""
    row = _row_for("grounding.electrode_rows", ungrounded, material, code, work)
    assert row is not None
    size = row[2 + _column(of)]
    if work:
        work.step(
            f"Grounding electrode conductor, {of.value}, for {ungrounded} {material.value}",
            size,
            SIZE_UNIT,
            code.cites("grounding.electrode_rows"),
        )
    return size


def bonding_jumper(
    ungrounded: ConductorSet,
    material: ConductorMaterial,
    code: Edition,
    work: Work = SILENT,
    *,
    of: ConductorMaterial = _COPPER,
    what: str = "Bonding jumper",
) -> str:
    """Main or supply-side bonding jumper, and least grounded conductor, for the largest ungrounded conductors.

    Beyond the table: 12.5 percent of the area of the ungrounded conductors (of the same material).
    """
    cites = code.cites("grounding.jumper_rows")
    row = _row_for("grounding.jumper_rows", ungrounded, material, code, work)
    if row is not None:
        size = row[2 + _column(of)]
        if work:
            work.step(f"{what}, {of.value}, for {ungrounded} {material.value}", size, SIZE_UNIT, cites)
        return size
    percent = code.number("grounding.jumper_percent", work)
    area = area_of(ungrounded, code)
    least = percent_of(percent, area)
    size = smallest_of_area(least, code) or str(least // _KCMIL)
    if work:
        work.step(
            f"{what}: {written(area / _KCMIL)} kcmil × {written(percent)} % = {written(least / _KCMIL)} kcmil",
            size, SIZE_UNIT, code.cites("grounding.jumper_percent"),
        )  # fmt: skip
    return size


def equipment_conductor(
    rating_a: int, code: Edition, work: Work = SILENT, *, of: ConductorMaterial = _COPPER
) -> str | None:
    """Equipment grounding conductor by the rating of the overcurrent device; None beyond the table."""
    for row in word_rows("grounding.equipment_rows", code, work):
        if Fraction(row[0]) >= rating_a:
            size = row[1 + _column(of)]
            if work:
                work.step(
                    f"Equipment grounding conductor, {of.value}, for {rating_a} A",
                    size,
                    SIZE_UNIT,
                    code.cites("grounding.equipment_rows"),
                )
            return size
    return None
