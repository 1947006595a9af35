"""Standard ratings and what may be rounded up to them; the small-conductor limits; receptacles on a circuit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import sized
from server.reckon.figures import written
from server.reckon.remembered import remembered
from server.reckon.work import SILENT, Work

__all__ = [
    "Exemption",
    "Fault",
    "breaker_ratings",
    "most_cord_load_a",
    "most_device_a",
    "receptacle_fault",
    "small_conductor_limit_a",
    "standard_ratings",
]

_HUNDRED = 100
_SMALL: Final = {
    ConductorMaterial.COPPER: ("overcurrent.small_copper_a", "overcurrent.tiny_copper_a"),
    ConductorMaterial.ALUMINUM: ("overcurrent.small_aluminum_a",),
    ConductorMaterial.COPPER_CLAD: ("overcurrent.small_copper_clad_a",),
}


class Exemption(StrEnum):
    """Circuits whose small conductors may have larger devices by 240.4(G)."""

    MOTOR = "motor"
    AC = "ac"
    """Air-conditioning and refrigerating equipment."""


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong, as the rest of a sentence, and the article that says so."""

    text: str
    cites: str


def _numbers(node: str, code: Edition, work: Work = SILENT) -> tuple[Fraction, ...]:
    if not code.has(node):
        return ()
    found = code.value(node, work)
    assert isinstance(found, tuple)
    return tuple(Fraction(number) for number in found if isinstance(number, int | Fraction))


def breaker_ratings(code: Edition, work: Work = SILENT) -> tuple[Fraction, ...]:
    """The standard ratings that fuses and breakers both have, smallest first."""
    return tuple(sorted(_numbers("overcurrent.standard_ratings_a", code, work)))


def standard_ratings(code: Edition, work: Work = SILENT) -> tuple[Fraction, ...]:
    """Every standard rating, with those of fuses alone, smallest first."""
    if not work:
        return _every_rating(code)
    return tuple(sorted({*breaker_ratings(code, work), *_numbers("overcurrent.fuse_ratings_a", code)}))


@remembered(64)
def _every_rating(code: Edition) -> tuple[Fraction, ...]:
    return tuple(sorted({*breaker_ratings(code), *_numbers("overcurrent.fuse_ratings_a", code)}))


def small_conductor_limit_a(run: ConductorRun, code: Edition, work: Work = SILENT) -> Fraction | None:
    """The most that may protect a small conductor (240.4(D)); None for one that is not small."""
    for node in _SMALL[run.material]:
        found = code.table(node).get(run.awg)
        if isinstance(found, int | Fraction):
            work.trust(code.confidence(node))
            return Fraction(found)
    return None


def most_device_a(
    ampacity_a: Fraction,
    run: ConductorRun,
    outlets: Sequence[Fraction],
    code: Edition,
    work: Work = SILENT,
    *,
    exempt: Exemption | None = None,
    nameplate_most_a: Fraction | None = None,
    whole_dwelling: bool = False,
) -> Fraction | None:
    """The largest device that may protect a conductor of an ampacity; None where none may.

    ``outlets`` are the receptacles on the circuit: with two or more, nothing is rounded up (240.4(B)(1)).
    ``nameplate_most_a`` is the largest device marked on the motor or air conditioner that ``exempt`` names.
    ``whole_dwelling`` is a service or feeder that carries a dwelling's whole load (310.12).
    """
    if ampacity_a <= 0:
        return None
    if exempt is not None and nameplate_most_a is not None:
        if work:
            work.step(
                "Largest device marked on the equipment",
                nameplate_most_a,
                "A",
                code.cites("overcurrent.specific_applications"),
            )
        return nameplate_most_a
    most = _by_ampacity(ampacity_a, outlets, code, work)
    if whole_dwelling:
        most = _for_dwelling(ampacity_a, most, code, work)
    limit = small_conductor_limit_a(run, code, work)
    if limit is None or most is None:
        return most
    cites = code.cites("overcurrent.small_copper_a")
    if exempt is not None:
        work.skip(
            f"{sized(run.awg)} is a small conductor, but a {exempt.value} circuit is exempt",
            code.cites("overcurrent.specific_applications"),
        )
        return most
    if work:
        work.step(f"Small conductor: {sized(run.awg)} {run.material.value} at most", limit, "A", cites)
    return min(most, limit)


def _by_ampacity(
    ampacity_a: Fraction, outlets: Sequence[Fraction], code: Edition, work: Work
) -> Fraction | None:
    ratings = standard_ratings(code, work)
    cites = code.cites("overcurrent.standard_ratings_a")
    below = max((rating for rating in ratings if rating <= ampacity_a), default=None)
    above = min((rating for rating in ratings if rating > ampacity_a), default=None)
    if below == ampacity_a:
        if work:
            work.step(f"{written(ampacity_a)} A is a standard rating", below, "A", cites)
        return below
    node = "overcurrent.next_size_most_a"
    if len(outlets) > code.number("overcurrent.next_size_most_receptacles", work):
        work.skip(
            "More than one receptacle for cord-connected loads: no rounding up",
            code.cites("overcurrent.next_size_most_receptacles"),
        )
    elif above is not None and above <= code.number(node, work):
        if work:
            work.step(f"Next standard rating above {written(ampacity_a)} A", above, "A", code.cites(node))
        return above
    if work and below is not None:
        work.step(f"Largest standard rating within {written(ampacity_a)} A", below, "A", cites)
    return below


def _for_dwelling(ampacity_a: Fraction, most: Fraction | None, code: Edition, work: Work) -> Fraction | None:
    """The rating of a dwelling's service or main feeder whose share the conductor carries, if that is more."""
    share = code.number("service.dwelling_percent", work) / _HUNDRED
    least, greatest = _numbers("service.dwelling_ratings_a", code, work)
    allowed = [
        rating
        for rating in breaker_ratings(code)
        if least <= rating <= greatest and rating * share <= ampacity_a
    ]
    if not allowed:
        return most
    if work:
        work.step(
            f"Dwelling service or main feeder: {written(ampacity_a)} A carries {written(share)} of", allowed[-1], "A",
            code.cites("service.dwelling_percent"),
        )  # fmt: skip
    return max(allowed[-1], most or allowed[-1])


def receptacle_fault(device_a: Fraction, outlets: Sequence[Fraction], code: Edition) -> Fault | None:
    """What is wrong with receptacles of some ratings on a circuit of a rating. One entry for each contact
    device: a duplex is two."""
    if not outlets:
        return None
    circuit = f"a {written(device_a)} A circuit"
    if device_a in _numbers("overcurrent.no_receptacles_at_a", code):
        return Fault(f"{circuit} may not supply receptacles", code.cites("overcurrent.no_receptacles_at_a"))
    if len(outlets) == 1:
        if outlets[0] >= device_a:
            return None
        text = f"a single receptacle on {circuit} is rated at least that, not {written(outlets[0])} A"
        return Fault(text, code.cites("overcurrent.single_receptacle_at_least_circuit"))
    node = "overcurrent.receptacle_ratings_a"
    ratings = code.table(node)
    fitting = ratings.get(str(device_a))
    if not isinstance(fitting, tuple):
        text = f"two or more receptacles go on a circuit of {_either(ratings)} A, not {written(device_a)} A"
        return Fault(text, code.cites(node))
    if wrong := sorted({rating for rating in outlets if rating not in fitting}):
        text = f"receptacles on {circuit} are rated {_either(map(str, fitting))} A, not {written(wrong[0])} A"
        return Fault(text, code.cites(node))
    return None


def _either(names: Iterable[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} or {last}" if others else last


def most_cord_load_a(receptacle_a: Fraction, code: Edition) -> Fraction | None:
    """The most that may be plugged into one of two or more receptacles of a circuit; None where no limit is
    given."""
    found = code.table("overcurrent.cord_load_a").get(str(receptacle_a))
    return Fraction(found) if isinstance(found, int | Fraction) else None
