"""Demand of electric clothes dryers: the least load of each, and the table for many."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from server.editions import Edition
from server.reckon.code_rows import number_rows
from server.reckon.figures import as_listed, percent_of, written
from server.reckon.work import SILENT, Work

__all__ = ["dryer_demand", "dryer_percent", "dryers_counted"]


def dryer_percent(number: int, code: Edition, work: Work = SILENT) -> Fraction:
    """The demand in percent for a number of dryers (1 or more)."""
    if number <= code.number("load.dryers_full_through", work):
        return Fraction(100)
    reached = [row for row in number_rows("load.dryer_rows", code, work) if row[0] <= number]
    start, percent, less_each = reached[-1]
    return percent - less_each * (number - start)


def dryers_counted(
    ratings_va: Iterable[Fraction], code: Edition, work: Work = SILENT
) -> tuple[Fraction, ...]:
    """Each dryer at its nameplate, or at the least load where that is larger."""
    least = code.number("load.dryer_least_va", work)
    return tuple(max(va, least) for va in ratings_va)


def dryer_demand(ratings_va: Iterable[Fraction], code: Edition, work: Work = SILENT) -> Fraction:
    """Demand of all dryers on a service or feeder, in volt-amperes, by their nameplates."""
    ratings = tuple(ratings_va)
    if not ratings:
        return Fraction(0)
    counted = dryers_counted(ratings, code, work)
    total = sum(counted, Fraction(0))
    percent = dryer_percent(len(counted), code, work)
    demand = percent_of(percent, total)
    if work:
        least, cites = code.number("load.dryer_least_va"), code.cites("load.dryer_least_va")
        raised = " (at least " + written(least) + " VA each)" if counted != ratings else ""
        work.step(f"Clothes dryers{raised}: {as_listed(counted)} VA", total, "VA", cites)
        if percent != 100:
            work.step(
                f"Demand of {len(counted)} dryers: {written(total)} VA × {written(percent)} %", demand, "VA",
                code.cites("load.dryers_full_through"),
            )  # fmt: skip
    return demand
