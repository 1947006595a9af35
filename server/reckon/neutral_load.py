"""The load of the neutral: the most that can be out of balance between it and any line.

By every method it is reckoned like this: lighting, small-appliance and laundry after demand, appliances and motors
that use 120 V, and 70 percent of the demand of cooking and dryers. What uses 240 V only stays out. Above 200 A the
rest counts at 70 percent, but not on two lines and the neutral of a wye.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from server.editions import Edition
from server.reckon.appliance_demand import appliance_demand
from server.reckon.dwelling_loads import DwellingLoads, Method, System
from server.reckon.figures import percent_of, written
from server.reckon.heat_and_cooling import standard_hvac
from server.reckon.largest_motor import motor_demand
from server.reckon.lighting_load import demand_on_lighting, lighting_and_circuits
from server.reckon.load_result import NeutralLoad
from server.reckon.standard_method import cooking_of_building, dryers_of_building
from server.reckon.work import SILENT, Work

__all__ = ["full_neutral", "neutral_load", "reduced_above_limit"]


def neutral_load(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> NeutralLoad:
    """The neutral of a service or feeder, in volt-amperes and amperes (exact)."""
    again = Work(silent=not work or loads.method is Method.STANDARD)
    spread = loads.method is Method.STANDARD
    cites = code.cites("load.neutral_percent")
    lighting = demand_on_lighting(lighting_and_circuits(loads, code, again), code, again)
    appliances = appliance_demand(loads, code, again).neutral_va
    motors = motor_demand(loads, standard_hvac(loads, code).compressor_runs, code)
    rotating = motors.motors_neutral_va + motors.added_neutral_va
    cooking = cooking_of_building(loads, code, again, on_neutral=True, spread=spread)
    dryers = dryers_of_building(loads, code, again, on_neutral=True, spread=spread)
    chargers = sum(
        (item.va * loads.number(item) for item in loads.chargers if not item.only_240), Fraction(0)
    )
    _show_again(again, work)
    percent = code.number("load.neutral_percent", work)
    straight = lighting + appliances + rotating + chargers + loads.house_va
    rows = [lighting, appliances, rotating, chargers, loads.house_va]
    names = [
        "lighting, small-appliance and laundry",
        "120 V appliances",
        "120 V motors with the largest",
        "chargers",
        "house loads",
    ]
    if work:
        for name, va in zip(names, rows, strict=True):
            if va:
                work.step(f"Neutral: {name}", va, "VA", cites)
        for name, va in (("cooking", cooking), ("clothes dryers", dryers)):
            if va:
                work.step(
                    f"Neutral: {name}, {written(va)} VA × {written(percent)} %",
                    percent_of(percent, va),
                    "VA",
                    cites,
                )
    shared = percent_of(percent, cooking + dryers)
    total = straight + shared
    if work:
        parts = [va for va in (*rows, percent_of(percent, cooking), percent_of(percent, dryers)) if va]
        work.step(f"Neutral load: {' + '.join(written(va) for va in parts) or '0'} VA", total, "VA", cites)
    full = full_neutral(loads, straight, shared, code, work)
    return NeutralLoad(total, full, reduced_above_limit(loads, full, code, work), straight)


def _show_again(again: Work, work: Work) -> None:
    """The standard method's steps that only the neutral needs, each marked so."""
    if work:
        work.steps.extend(replace(step, text=f"For the neutral: {step.text}") for step in again.steps)
        work.confidences |= again.confidences


def full_neutral(
    loads: DwellingLoads, straight: Fraction, shared: Fraction, code: Edition, work: Work = SILENT
) -> Fraction:
    """Neutral amperes before any reduction: ``straight`` stands line to neutral, ``shared`` are cooking and dryers."""
    cites = code.cites("load.neutral_percent")
    match loads.system:
        case System.WYE_FOUR_WIRE:
            root = code.number("load.root_of_three", work)
            amperes = (straight + shared) / (loads.volts * root)
            text = f"{written(straight + shared)} VA ÷ ({written(loads.volts)} V × {written(root, 3)})"
        case System.WYE_THREE_WIRE:
            legs = 2 * code.number("load.lighting_circuit_volts", work)
            amperes = straight / legs + shared / loads.volts
            text = f"{written(straight)} VA ÷ {written(legs)} V + {written(shared)} VA ÷ {written(loads.volts)} V"
        case _:
            amperes = (straight + shared) / loads.volts
            text = f"{written(straight + shared)} VA ÷ {written(loads.volts)} V"
    if work:
        work.step(f"Neutral: {text}", amperes, "A", cites)
    return amperes


def reduced_above_limit(
    loads: DwellingLoads, amperes: Fraction, code: Edition, work: Work = SILENT
) -> Fraction:
    """Neutral amperes after the reduction of the part above 200 A."""
    limit = code.number("load.neutral_full_through_a")
    cites = code.cites("load.neutral_full_through_a")
    if amperes <= limit:
        return amperes
    if loads.system is System.WYE_THREE_WIRE:
        if work:
            work.skip("No reduction above 200 A on two lines and the neutral of a wye", cites)
        return amperes
    percent = code.number("load.neutral_above_percent", work)
    reduced = limit + percent_of(percent, amperes - limit)
    if work:
        work.step(
            f"Neutral above {written(limit)} A: {written(limit)} + {written(amperes - limit)} × {written(percent)} %",
            reduced,
            "A",
            cites,
        )
    return reduced
