"""The load of a dwelling, of two, or of many on one service or feeder.

::

    reckon_dwelling_load
    |-- standard    standard_method.standard_load         each kind of load with its own demand
    |-- optional    1 unit:  optional_method.optional_load
    |               2 units: multifamily_load.two_family_load
    |               3 and more: multifamily_load.multifamily_load
    `-- existing    optional_method.existing_load
    then amperes (line_currents) and the neutral (neutral_load)

Article and numbers follow the edition: 220 through 2023, 120 in 2026.
"""

from __future__ import annotations

from fractions import Fraction

from server.editions import Edition
from server.reckon.dwelling_loads import DwellingLoads, Method, System
from server.reckon.figures import percent_of, written
from server.reckon.lighting_load import lighting_circuits
from server.reckon.line_currents import amperes_of, line_currents, without_legs
from server.reckon.load_result import LoadPart, LoadResult
from server.reckon.multifamily_load import multifamily_load, two_family_load, unmet_conditions
from server.reckon.neutral_load import neutral_load
from server.reckon.optional_method import existing_load, optional_load
from server.reckon.standard_method import standard_load
from server.reckon.work import SILENT, Work, round_half_up

__all__ = ["reckon_dwelling_load"]

_CIRCUITS_OF_A = (15, 20)


def reckon_dwelling_load(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> LoadResult:
    """Reckon the load by the method that the facts name.

    Raises:
        Absent: the edition has no value for something that the facts need.
    """
    balanced = without_legs(loads)
    section, rows, total = _by_method(balanced, code, work)
    if loads.house_va:
        total += loads.house_va
        rows = (*rows, LoadPart("house loads", loads.house_va, loads.house_va))
        if work:
            work.step("House loads", loads.house_va, "VA", section)
    if work:
        counted = [row.demand_va for row in rows if row.demand_va]
        work.step(
            f"Calculated load: {' + '.join(written(va) for va in counted) or '0'} VA", total, "VA", section
        )
    of_neutral = Work(silent=not work)
    neutral = neutral_load(balanced, code, of_neutral)
    straight = neutral.line_to_neutral_va if loads.method is Method.STANDARD else None
    exact = amperes_of(balanced, total, straight, code, work)
    if not loads.on_lines:
        _whole(exact, code, work)
    if work:
        work.steps.extend(of_neutral.steps)
        work.confidences |= of_neutral.confidences
    lines = line_currents(loads, exact, neutral.a, code, work)
    if lines is not None:
        exact = max(lines.a, lines.b)
        _whole(exact, code, work)
        added = _leg_parts(loads, code)
        rows, total = (*rows, *added), total + sum((row.demand_va for row in added), Fraction(0))
    small, large = (lighting_circuits(loads, rating, code, work) for rating in _CIRCUITS_OF_A)
    return LoadResult(
        method=loads.method,
        section=section,
        parts=rows,
        connected_va=sum((row.connected_va for row in rows), Fraction(0)),
        total_va=total,
        amperes_exact=exact,
        amperes=round_half_up(exact),
        neutral=neutral,
        neutral_a=round_half_up(neutral.a if lines is None else lines.neutral),
        lines=lines,
        lighting_circuits_15a=small,
        lighting_circuits_20a=large,
        unmet=_unmet(loads, code),
        notes=_notes(loads, code),
    )


def _whole(exact: Fraction, code: Edition, work: Work) -> None:
    """Show how a fraction of an ampere is dropped or counts up."""
    code.number("load.half_ampere", work)
    if work:
        cites = code.cites("load.half_ampere")
        work.step(f"{written(exact)} A in whole amperes, a half counts up", round_half_up(exact), "A", cites)


def _by_method(loads: DwellingLoads, code: Edition, work: Work) -> tuple[str, tuple[LoadPart, ...], Fraction]:
    match loads.method:
        case Method.STANDARD:
            found = standard_load(loads, code, work)
            return code.cites("load.standard_method"), found.parts, found.total_va
        case Method.EXISTING:
            rows, total = existing_load(loads, code, work)
            return code.cites("load.existing_first_va"), rows, total
        case _ if loads.units == 1:
            rows, total = optional_load(loads, code, work)
            return code.cites("load.optional_first_va"), rows, total
        case _ if loads.units < code.number("load.multifamily_units_least"):
            rows, total = two_family_load(loads, code, work)
            return code.cites("load.multifamily_units_least"), rows, total
        case _:
            rows, total = multifamily_load(loads, code, work)
            return code.cites("load.multifamily_first_percent"), rows, total


def _leg_parts(loads: DwellingLoads, code: Edition) -> tuple[LoadPart, ...]:
    rows = [LoadPart(item.name, item.va, item.va) for item in loads.on_lines]
    motors = [item.va for item in loads.on_lines if item in loads.motors or getattr(item, "motor", False)]
    if motors:
        added = percent_of(code.number("load.largest_motor_percent"), max(motors))
        rows.append(LoadPart("largest motor", Fraction(0), added))
    return tuple(rows)


def _unmet(loads: DwellingLoads, code: Edition) -> tuple[str, ...]:
    if loads.method is Method.OPTIONAL and loads.units > 1:
        return unmet_conditions(loads, code)
    if loads.method is Method.OPTIONAL and loads.system is System.WYE_FOUR_WIRE:
        return (
            f"{code.cites('load.optional_least_a')}: expected three wires to one dwelling, came {loads.system.value}",
        )
    return ()


def _notes(loads: DwellingLoads, code: Edition) -> tuple[str, ...]:
    """What was supposed, and what departments read differently."""
    found = []
    if loads.method is Method.STANDARD and (loads.cool_va or loads.heat_pump_va) and not loads.cool_motor_va:
        found.append(
            "No compressor is given: if it is the largest motor, "
            f"{written(code.number('load.largest_motor_percent'))} % of it is still to be added "
            f"({code.cites('load.largest_motor_percent')})."
        )
    elif (
        loads.method is Method.STANDARD
        and loads.cool_motor_va
        and code.flag("load.omitted_compressor_is_largest_motor")
    ):
        found.append(code.entry("load.omitted_compressor_is_largest_motor").note)
    if loads.method is Method.EXISTING and loads.has_hvac and loads.hvac_added is False:
        found.append(
            "Departments differ on how existing heat or cooling counts where none is added; here it stands in the general load."
        )
    if loads.chargers and loads.method is not Method.STANDARD and not code.has("load.optional_ev_percent"):
        found.append(
            "This edition does not name vehicle chargers in this method; here they stand in the general load. Some departments want them in full."
        )
    if (
        loads.chargers
        and code.has("load.optional_ev_percent")
        and loads.method is Method.OPTIONAL
        and loads.units == 1
    ):
        found.append(code.entry("load.optional_ev_percent").note)
    return tuple(found)
