"""General lighting, small-appliance and laundry load of dwellings, its demand, and the number of circuits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.code_rows import number_row
from server.reckon.dwelling_loads import DwellingLoads
from server.reckon.figures import percent_of, written
from server.reckon.work import SILENT, Work

__all__ = [
    "Circuits",
    "circuits_of",
    "demand_on_lighting",
    "general_lighting",
    "lighting_and_circuits",
    "lighting_circuits",
]


@dataclass(frozen=True, slots=True)
class Circuits:
    """How many small-appliance and laundry circuits one unit has."""

    small_appliance: int
    laundry: int


def circuits_of(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> Circuits:
    """The circuits as given, or the least that the code asks of a dwelling unit."""
    small, laundry = loads.small_appliance_circuits, loads.laundry_circuits
    if small is None:
        small = int(code.number("load.small_appliance_circuits_least", work)) if loads.floor_area_ft2 else 0
    if laundry is None:
        laundry = int(code.number("load.laundry_circuits_least", work)) if loads.floor_area_ft2 else 0
    return Circuits(small, laundry)


def general_lighting(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> Fraction:
    """Floor area times the unit load, of one unit, in volt-amperes."""
    each = code.number("load.general_va_per_ft2", work)
    va = loads.floor_area_ft2 * each
    if work and loads.floor_area_ft2:
        work.step(
            f"General lighting and receptacles: {written(loads.floor_area_ft2)} ft² × {written(each)} VA",
            va, "VA", code.cites("load.general_va_per_ft2"),
        )  # fmt: skip
    return va


def lighting_and_circuits(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> Fraction:
    """Lighting, small-appliance and laundry load of all units together, before any demand."""
    lighting = general_lighting(loads, code, work)
    circuits = circuits_of(loads, code, work)
    each = code.number("load.circuit_va", work)
    cites = code.cites("load.circuit_va")
    small, laundry = circuits.small_appliance * each, circuits.laundry * each
    if work:
        if circuits.small_appliance:
            work.step(
                f"Small-appliance circuits: {circuits.small_appliance} × {written(each)} VA",
                small,
                "VA",
                cites,
            )
        if circuits.laundry:
            work.step(f"Laundry circuits: {circuits.laundry} × {written(each)} VA", laundry, "VA", cites)
    of_one = lighting + small + laundry
    if work and of_one:
        parts = " + ".join(written(part) for part in (lighting, small, laundry) if part)
        work.step(f"Lighting, small-appliance and laundry together: {parts}", of_one, "VA", cites)
        if loads.units > 1:
            work.step(f"All units: {loads.units} × {written(of_one)}", of_one * loads.units, "VA", cites)
    return of_one * loads.units


def demand_on_lighting(connected_va: Fraction, code: Edition, work: Work = SILENT) -> Fraction:
    """The tiers of the lighting demand table applied to a connected load."""
    if not connected_va:
        return Fraction(0)
    limits = number_row("load.lighting_tiers", "up_to_va", code, work) or ()
    percents = number_row("load.lighting_tiers", "percent", code) or ()
    cites = code.cites("load.lighting_tiers")
    total, below = Fraction(0), Fraction(0)
    for limit, percent in zip((*limits, None), percents, strict=True):
        top = connected_va if limit is None else min(connected_va, limit)
        part = top - below
        if part <= 0:
            break
        demand = percent_of(percent, part)
        total += demand
        if work:
            from_to = (
                "First"
                if not below
                else ("Next" if limit is not None and top < connected_va else "Remainder")
            )
            work.step(f"{from_to} {written(part)} VA at {written(percent)} %", demand, "VA", cites)
        below = top
    if work and total != connected_va:
        work.step("Lighting, small-appliance and laundry after demand", total, "VA", cites)
    return total


def lighting_circuits(loads: DwellingLoads, rating_a: int, code: Edition, work: Work = SILENT) -> int:
    """Least number of general lighting circuits of a rating for one unit."""
    if not loads.floor_area_ft2:
        return 0
    each = code.number("load.branch_va_per_ft2", work)
    volts = code.number("load.lighting_circuit_volts", work)
    amperes = loads.floor_area_ft2 * each / volts
    count = -(-amperes // rating_a)
    if work:
        work.step(
            f"General lighting circuits of {rating_a} A: {written(loads.floor_area_ft2)} ft² × {written(each)} VA "
            f"÷ {written(volts)} V = {written(amperes)} A; ÷ {rating_a} A, rounded up",
            int(count), "circuits", code.cites("load.branch_va_per_ft2"),
        )  # fmt: skip
    return int(count)
