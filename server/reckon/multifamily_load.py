"""The optional method for three or more dwelling units, and a two-family dwelling counted as three units."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from server.editions import Edition
from server.reckon.code_rows import number_rows
from server.reckon.dwelling_loads import CookingKind, CookingUnit, DwellingLoads
from server.reckon.figures import percent_of, written
from server.reckon.heat_and_cooling import hvac_connected
from server.reckon.load_result import LoadPart
from server.reckon.optional_method import NameplateLoad, nameplate_parts
from server.reckon.standard_method import standard_load
from server.reckon.work import SILENT, Work

__all__ = ["multifamily_load", "multifamily_percent", "two_family_load", "unmet_conditions"]


def multifamily_percent(units: int, code: Edition, work: Work = SILENT) -> Fraction:
    """The demand in percent on the connected load of a number of units (3 or more)."""
    rows = number_rows("load.multifamily_rows", code)
    if units < rows[0][0]:
        return code.number("load.multifamily_first_percent", work)
    return [row for row in number_rows("load.multifamily_rows", code, work) if row[0] <= units][-1][1]


def unmet_conditions(loads: DwellingLoads, code: Edition) -> tuple[str, ...]:
    """What the multifamily optional method asks for and these loads do not show."""
    if loads.has_hvac:
        return ()
    return (
        f"{code.cites('load.multifamily_units_least')}: expected electric heat, cooling or both in each unit, came none",
    )


def _connected(loads: DwellingLoads, code: Edition, work: Work) -> tuple[NameplateLoad, Fraction]:
    """All units at nameplate with the larger of heat and cooling."""
    cites = code.cites("load.multifamily_first_percent")
    parts = nameplate_parts(loads, cites, code, work)
    hvac = hvac_connected(loads, code, work)
    if hvac.va:
        whole = hvac.va * loads.units
        if work:
            work.step(f"All units: {loads.units} × {written(hvac.va)}", whole, "VA", cites)
        parts = (*parts, LoadPart(hvac.what.lower(), whole, whole))
    total = sum((part.connected_va for part in parts), Fraction(0))
    if work:
        work.step(
            f"Connected load: {' + '.join(written(part.connected_va) for part in parts) or '0'} VA",
            total,
            "VA",
            cites,
        )
    return parts, total


def _by_table(loads: DwellingLoads, code: Edition, work: Work) -> tuple[NameplateLoad, Fraction]:
    parts, connected = _connected(loads, code, work)
    percent = multifamily_percent(loads.units, code, work)
    demand = percent_of(percent, connected)
    if work:
        work.step(
            f"{loads.units} units: {written(connected)} VA × {written(percent)} %", demand, "VA",
            code.cites("load.multifamily_first_percent"),
        )  # fmt: skip
    rows = tuple(
        LoadPart(part.name, part.connected_va, percent_of(percent, part.connected_va)) for part in parts
    )
    return rows, demand


def _lesser(
    loads: DwellingLoads,
    other: tuple[NameplateLoad, Fraction],
    other_name: str,
    cites: str,
    code: Edition,
    work: Work,
) -> tuple[NameplateLoad, Fraction]:
    """The lesser of the standard method and another way, which was shown already."""
    part_work = Work(silent=not work)
    standard = standard_load(loads, code, part_work)
    if work:
        work.confidences |= part_work.confidences
        work.step("The same by the standard method", standard.total_va, "VA", cites)
    if standard.total_va < other[1]:
        if work:
            work.skip(f"{other_name}: {written(other[1])} VA is not the lesser", cites)
        return standard.parts, standard.total_va
    if work:
        work.step(
            f"The lesser of {written(standard.total_va)} and {written(other[1])} VA", other[1], "VA", cites
        )
    return other


def multifamily_load(
    loads: DwellingLoads, code: Edition, work: Work = SILENT
) -> tuple[NameplateLoad, Fraction]:
    """Three or more units by the optional method, without the house loads.

    Where no unit cooks by electricity, 8 kW of cooking is supposed in each and the lesser of that and the
    standard method counts.
    """
    if loads.cooking:
        return _by_table(loads, code, work)
    supposed = code.number("load.multifamily_cooking_va", work)
    cites = code.cites("load.multifamily_cooking_va")
    if work:
        work.step(f"No electric cooking: {written(supposed)} VA supposed in each unit", supposed, "VA", cites)
    with_range = replace(loads, cooking=(CookingUnit(CookingKind.RANGE, supposed),))
    return _lesser(loads, _by_table(with_range, code, work), "With cooking supposed", cites, code, work)


def two_family_load(
    loads: DwellingLoads, code: Edition, work: Work = SILENT
) -> tuple[NameplateLoad, Fraction]:
    """Two units: the lesser of the standard method and three such units by the multifamily table.

    An item with a ``count`` of its own is taken once and a half (rounded up), since three units stand for two.
    """
    three = int(code.number("load.multifamily_units_least", work))
    cites = code.cites("load.multifamily_units_least")
    if work:
        work.step(f"Two units, reckoned as {three} such units", three, "units", cites)
    supposed = replace(
        loads,
        units=three,
        appliances=tuple(replace(item, count=_of_three(item.count, three)) for item in loads.appliances),
        cooking=tuple(replace(item, count=_of_three(item.count, three)) for item in loads.cooking),
        dryers=tuple(replace(item, count=_of_three(item.count, three)) for item in loads.dryers),
        motors=tuple(replace(item, count=_of_three(item.count, three)) for item in loads.motors),
        chargers=tuple(replace(item, count=_of_three(item.count, three)) for item in loads.chargers),
    )
    return _lesser(loads, _by_table(supposed, code, work), f"{three} units", cites, code, work)


def _of_three(count: int | None, three: int) -> int | None:
    """A building's own count carried from two units to three, rounded up."""
    return None if count is None else -(-count * three // 2)
