"""Demand of appliances fastened in place, and of electric vehicle chargers."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.dwelling_loads import Appliance, DwellingLoads
from server.reckon.figures import percent_of, written
from server.reckon.work import SILENT, Work

__all__ = ["ApplianceDemand", "appliance_demand", "appliances_connected", "chargers_connected"]


@dataclass(frozen=True, slots=True)
class ApplianceDemand:
    """What the appliances come to, and what of it lies on the neutral (before any part of it is on a leg)."""

    connected_va: Fraction
    demand_va: Fraction
    neutral_va: Fraction
    reduced: bool


def _counts(item: Appliance, code: Edition, work: Work) -> bool:
    """Whether an appliance counts toward the number that earns the reduced demand."""
    if not item.fastened:
        return False
    if not code.has("load.appliance_least_va"):
        return True
    if item.va >= code.number("load.appliance_least_va", work):
        return True
    return item.hp is not None and item.hp >= code.number("load.appliance_least_hp", work)


def appliances_connected(loads: DwellingLoads, cites: str, work: Work = SILENT) -> Fraction:
    """All appliances of the building at nameplate (those on a named leg too)."""
    total = Fraction(0)
    for item in loads.appliances:
        number = loads.number(item)
        total += item.va * number
        if work:
            times = f"{number} × " if number != 1 else ""
            work.step(
                f"{item.name.capitalize()}: {times}{written(item.va)} VA", item.va * number, "VA", cites
            )
    return total


def appliance_demand(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> ApplianceDemand:
    """Appliances of the standard method: 75 percent where four or more are fastened in place.

    Appliances on a named leg stay out: they are added line by line.
    """
    items = [item for item in loads.appliances if item.leg is None]
    counted = [item for item in items if _counts(item, code, work)]
    number = sum(loads.number(item) for item in counted)
    least_number = code.number("load.appliance_count_least", work)
    reduced = number >= least_number
    percent = code.number("load.appliance_percent", work) if reduced else Fraction(100)
    connected, demand, neutral = Fraction(0), Fraction(0), Fraction(0)
    of_counted = Fraction(0)
    for item in items:
        va = item.va * loads.number(item)
        after = percent_of(percent, va) if item in counted else va
        connected += va
        demand += after
        neutral += 0 if item.only_240 else after
        of_counted += va if item in counted else 0
        if work:
            times = f"{loads.number(item)} × " if loads.number(item) != 1 else ""
            work.step(
                f"{item.name.capitalize()}: {times}{written(item.va)} VA",
                va,
                "VA",
                code.cites("load.appliance_percent"),
            )
    if work and items:
        cites = code.cites("load.appliance_percent")
        if reduced:
            work.step(
                f"{number} appliances fastened in place, {written(least_number)} or more: "
                f"{written(of_counted)} VA × {written(percent)} %", percent_of(percent, of_counted), "VA", cites,
            )  # fmt: skip
        else:
            work.skip(
                f"Reduced demand: {number} of the appliances count, {written(least_number)} are needed", cites
            )
        if len(counted) != len(items):
            left = ", ".join(item.name for item in items if item not in counted)
            work.step(
                f"In full, too small or not fastened to count: {left}", connected - of_counted, "VA", cites
            )
        work.step("Appliances", demand, "VA", cites)
    return ApplianceDemand(connected, demand, neutral, reduced)


def chargers_connected(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> Fraction:
    """Electric vehicle chargers of the building, each at nameplate or at the edition's least load."""
    least = (
        code.number("load.ev_least_va", work)
        if code.has("load.ev_least_va") and loads.chargers
        else Fraction(0)
    )
    total = Fraction(0)
    for item in loads.chargers:
        each, number = max(item.va, least), loads.number(item)
        total += each * number
        if work:
            times = f"{number} × " if number != 1 else ""
            raised = (
                f" (nameplate {written(item.va)} VA, at least {written(least)})" if each != item.va else ""
            )
            work.step(
                f"Vehicle charger{raised}: {times}{written(each)} VA",
                each * number,
                "VA",
                code.cites("load.ev_least_va"),
            )
    return total
