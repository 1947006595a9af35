"""A new circuit as it is proposed: the next free spaces, the conductor that its rating asks for, the usual breaker."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from server.dwelling import Breaker, CircuitPurpose, ConductorMaterial, Dwelling, Panel
from server.editions import Edition
from server.reckon.ampacity import reckon_ampacity
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import ConductorError, sizes
from server.reckon.overcurrent_ratings import breaker_ratings, most_device_a

__all__ = [
    "RATINGS_A",
    "conductor_for",
    "conductor_sizes",
    "free_spaces",
    "next_free_spaces",
    "usual_breaker",
]

RATINGS_A: Final = (15, 20, 30, 40, 50, 60)
"""What circuits in a house mostly are; any other standard rating can be typed."""
_GROUND_FAULT: Final = (CircuitPurpose.BATHROOM, CircuitPurpose.GARAGE, CircuitPurpose.OUTDOOR)
_BOTH: Final = (CircuitPurpose.SMALL_APPLIANCE, CircuitPurpose.LAUNDRY)
_NEITHER: Final = (CircuitPurpose.FEEDER, CircuitPurpose.INDIVIDUAL)


def free_spaces(panel: Panel, house: Dwelling, *, without: str = "") -> list[int]:
    """The spaces of a panel that no circuit fills, in order; ``without`` leaves one circuit out of account."""
    taken = {
        space
        for circuit in house.facts.circuits
        if circuit.panel_id == panel.id and circuit.id != without
        for space in circuit.spaces
    }
    most = max(panel.spaces or 0, max(taken, default=0) + 2)
    return [space for space in range(1, most + 1) if space not in taken]


def next_free_spaces(panel: Panel, poles: int, house: Dwelling) -> tuple[int, ...]:
    """The first space, or the first two that lie under each other (1 and 3, 2 and 4); empty where none is free."""
    free = free_spaces(panel, house)
    if poles < 2:
        return tuple(free[:1])
    return next(((space, space + 2) for space in free if space + 2 in free), ())


def conductor_for(
    rating_a: int, code: Edition, material: ConductorMaterial = ConductorMaterial.COPPER
) -> str | None:
    """The smallest conductor of a nonmetallic-sheathed cable that a breaker of this rating may protect; None where
    no size of the tables does."""
    for awg in sizes(code):
        run = ConductorRun(awg, material)
        try:
            allowed_a = reckon_ampacity(run, code).allowed_a
        except ConductorError:
            continue
        # two receptacles: nothing is rounded up, as on any circuit with more than one
        most = most_device_a(allowed_a, run, (Fraction(1), Fraction(1)), code)
        if most is not None and most >= rating_a:
            return awg
    return None


def conductor_sizes(code: Edition) -> tuple[str, ...]:
    """The sizes that circuits of a house are wired with, smallest first."""
    smallest = conductor_for(RATINGS_A[0], code)
    every = sizes(code)
    return every[every.index(smallest) :] if smallest in every else every


def standard_ratings_a(code: Edition) -> tuple[int, ...]:
    """The standard ratings of breakers."""
    return tuple(int(rating) for rating in breaker_ratings(code))


_USUAL: Final[Mapping[CircuitPurpose, Breaker]] = {
    **dict.fromkeys(_GROUND_FAULT, Breaker.GFCI),
    **dict.fromkeys(_BOTH, Breaker.DUAL),
    **dict.fromkeys(_NEITHER, Breaker.STANDARD),
}


def usual_breaker(purpose: CircuitPurpose) -> Breaker:
    """The kind of breaker that a circuit of a purpose mostly has (common practice); the rules say what it needs."""
    return _USUAL.get(purpose, Breaker.AFCI)
