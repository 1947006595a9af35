"""Single-phase cooking appliances and dryers on a three-phase four-wire system.

The table is entered with twice the largest number connected between any two lines; half of that demand lies on one
phase, and three times it is the three-phase load (Example D5(a)).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from server.editions import Edition
from server.reckon.figures import written
from server.reckon.work import SILENT, Work

__all__ = ["spread_over_phases"]

_PAIRS = 3

Demand = Callable[[tuple[Fraction, ...], Edition, Work], Fraction]


def spread_over_phases(
    what: str,
    ratings_va: tuple[Fraction, ...],
    demand: Demand,
    cites: str,
    code: Edition,
    work: Work = SILENT,
) -> Fraction:
    """The three-phase load of appliances that are spread evenly over the three pairs of lines.

    Where the ratings differ, the largest ones are supposed to share the fullest pairs.
    """
    number = len(ratings_va)
    if number <= 1:
        return demand(ratings_va, code, work)
    fullest = -(-number // _PAIRS)
    basis = 2 * fullest
    if work:
        work.step(
            f"{what}, {number} over three phases: at most {fullest} between two lines; 2 × {fullest}",
            basis,
            "on the table",
            cites,
        )
    of_basis = demand(tuple(sorted(ratings_va, reverse=True)[:basis]), code, work)
    per_phase = of_basis / 2
    whole = per_phase * _PAIRS
    if work:
        work.step(f"{what}, one phase: {written(of_basis)} VA ÷ 2", per_phase, "VA", cites)
        work.step(f"{what}, three phases: {written(per_phase)} VA × 3", whole, "VA", cites)
    return whole
