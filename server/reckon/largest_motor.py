"""The largest motor of a dwelling, which adds a quarter of its load in the standard method."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.code_rows import number_row
from server.reckon.dwelling_loads import DwellingLoads, LoadError
from server.reckon.figures import percent_of, written
from server.reckon.work import SILENT, Work

__all__ = ["MotorDemand", "motor_demand", "motor_va", "motors_connected"]

COMPRESSOR = "cooling compressor"


@dataclass(frozen=True, slots=True)
class MotorDemand:
    """Motors that are no appliances, and the addition for the largest motor of all."""

    motors_va: Fraction
    motors_neutral_va: Fraction
    largest: str
    added_va: Fraction
    added_neutral_va: Fraction


def motor_va(
    hp: Fraction, volts: Fraction, code: Edition, work: Work = SILENT, *, name: str = "motor"
) -> Fraction:
    """Volt-amperes of a single-phase motor known by its horsepower, by the table of full-load currents.

    Raises:
        LoadError: the table has no such motor.
    """
    row = number_row("load.motor_full_load_a", str(hp), code, work)
    if row is None:
        known = ", ".join(code.table("load.motor_full_load_a"))
        raise LoadError(f"expected hp of {known}, came {hp}")
    amperes = row[0] if volts < code.number("load.motor_columns_split_v") else row[1]
    if work:
        work.step(
            f"{name.capitalize()}, {hp} hp: {written(amperes)} A × {written(volts)} V",
            amperes * volts,
            "VA",
            code.cites("load.motor_full_load_a"),
        )
    return amperes * volts


def motors_connected(loads: DwellingLoads, cites: str, work: Work = SILENT) -> Fraction:
    """All motors that are no appliances, at full load (those on a named leg too)."""
    total = Fraction(0)
    for item in loads.motors:
        number = loads.number(item)
        total += item.va * number
        if work:
            times = f"{number} × " if number != 1 else ""
            work.step(
                f"{item.name.capitalize()}: {times}{written(item.va)} VA", item.va * number, "VA", cites
            )
    return total


def motor_demand(
    loads: DwellingLoads, cooling_counts: bool, code: Edition, work: Work = SILENT
) -> MotorDemand:
    """Motors at full load plus 25 percent of the largest motor (a motor, a motor appliance or the compressor).

    ``cooling_counts`` says whether cooling is the larger of heat and cooling. Where it is not, the compressor
    stays a candidate in the editions that say so. Motors on a named leg stay out: they are added line by line.
    """
    percent = code.number("load.largest_motor_percent", work)
    cites = code.cites("load.largest_motor_percent")
    motors = [item for item in loads.motors if item.leg is None]
    total = sum((item.va * loads.number(item) for item in motors), Fraction(0))
    neutral = sum((item.va * loads.number(item) for item in motors if not item.only_240), Fraction(0))
    if work:
        for item in motors:
            times = f"{loads.number(item)} × " if loads.number(item) != 1 else ""
            work.step(
                f"{item.name.capitalize()}: {times}{written(item.va)} VA",
                item.va * loads.number(item),
                "VA",
                cites,
            )
    candidates = [(item.name, item.va, item.only_240) for item in motors]
    candidates += [
        (item.name, item.va, item.only_240) for item in loads.appliances if item.motor and item.leg is None
    ]
    if loads.cool_motor_va:
        if cooling_counts:
            candidates.append((COMPRESSOR, loads.cool_motor_va, True))
        elif code.flag("load.omitted_compressor_is_largest_motor", work):
            candidates.append((f"{COMPRESSOR}, although heat is the larger load", loads.cool_motor_va, True))
        elif work:
            work.skip(
                "Cooling compressor as largest motor: cooling is left out", code.cites("load.noncoincident")
            )
    if not candidates:
        return MotorDemand(total, neutral, "", Fraction(0), Fraction(0))
    name, va, _ = max(candidates, key=lambda candidate: candidate[1])
    added = percent_of(percent, va)
    on_neutral = max((va for _, va, only_240 in candidates if not only_240), default=Fraction(0))
    if work:
        work.step(f"Largest motor ({name}): {written(va)} VA × {written(percent)} %", added, "VA", cites)
    return MotorDemand(total, neutral, name, added, percent_of(percent, on_neutral))
