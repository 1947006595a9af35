"""An answer where facts are missing: every reading is tried and the most demanding one stands.

For a single question asked from outside (a sheet). Rules of a house do not use it: they report what is missing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final

from server.editions import Edition
from server.reckon.protection.facts import NOWHERE_NEAR, Answer, OutletFacts, Requirement
from server.reckon.work import SILENT, Work

__all__ = ["Ask", "conservative_reading"]

Ask = Callable[[OutletFacts, Edition, Work], Requirement]

_READINGS: Final[Mapping[str, tuple[tuple[Any, str], ...]]] = MappingProxyType(
    {
        "finished": ((False, "the room is not finished"), (True, "the room is finished")),
        "habitable": ((False, "the space is not lived in"), (True, "the space is lived in")),
        "floor_at_grade": ((True, "the floor is at or below grade"), (False, "the floor is above grade")),
        "serves": (("countertop", "it serves the countertop"), ("general", "it serves no counter")),
        "from_sink_in": ((NOWHERE_NEAR, "no sink is within reach of a cord"),),
        "from_tub_in": ((NOWHERE_NEAR, "no tub or shower is within reach of a cord"),),
        "readily_accessible": ((True, "it is readily accessible"), (False, "it is not readily accessible")),
        "dedicated": ((False, "it is not alone on its circuit"), (True, "it is alone on its circuit")),
        "single": ((False, "it is a duplex receptacle"), (True, "it is a single receptacle")),
        "listed_hvac": ((False, "the equipment is not listed"), (True, "the equipment is listed")),
        "damp": ((True, "the location is damp"), (False, "the location is dry")),
        "metal_wiring": ((False, "the wiring is not all metal"), (True, "the wiring is all metal")),
        "walk_out": ((False, "the basement does not open at grade"), (True, "the basement opens at grade")),
        "gfci_protected": ((False, "it is not GFCI protected"), (True, "it is GFCI protected")),
        "height_in": ((Fraction(0), "it is within reach of a child"), (NOWHERE_NEAR, "it is out of reach")),
        "extension_in": ((NOWHERE_NEAR, "the extension is long"), (Fraction(0), "nothing is lengthened")),
        "permit_date": ((date.max, "the permit is of today"), (date.min, "the permit is of long ago")),
    }
)
"""What a missing fact may be, the likelier demanding one first. One reading only: nobody leaves the other unsaid."""


def _ratings(code: Edition) -> Mapping[str, tuple[tuple[Any, str], ...]]:
    """Ratings that a missing one may be: those that the edition's own lists turn on."""
    volts = tuple(
        (code.number(node), f"{what} V") for node, what in (("afci.circuit.volts", "120"), ("tamper.volts_max", "250"))
        if code.has(node)
    )  # fmt: skip
    amps = tuple((Fraction(rating), f"{rating} A") for rating in _tuple(code, "tamper.amps")[::-1])
    return {
        "volts": tuple((value, f"it is rated {shown}") for value, shown in volts),
        "circuit_volts": tuple((value, f"the circuit is {shown}") for value, shown in volts),
        "amps": tuple((value, f"it is rated {shown}") for value, shown in amps),
        "circuit_amps": tuple((value, f"the circuit is rated {shown}") for value, shown in amps),
    }


def _tuple(code: Edition, node: str) -> tuple[Any, ...]:
    value = code.value(node)
    assert isinstance(value, tuple)
    return value


def conservative_reading(ask: Ask, outlet: OutletFacts, code: Edition, work: Work = SILENT) -> Requirement:
    """Answer with every missing fact taken at its most demanding, and say what was taken for granted.

    A permit's date is not guessed: where it decides, the answer is the inspector's.
    """
    settled, assumed, dated = _settle(ask, outlet, code, ())
    if dated:
        settled = replace(settled, permit_date=None)
    found = ask(settled, code, work)
    said = tuple(f"Assumed: {word}." for word in assumed)
    if work:
        for sentence in said:
            work.step(sentence)
    if dated:
        ask_for = "The permit's date decides, and nobody stated it: ask which date counts."
        return replace(found, required="inspector", assumed=(*said, ask_for))
    return replace(found, assumed=said)


def _settle(
    ask: Ask, outlet: OutletFacts, code: Edition, assumed: tuple[str, ...]
) -> tuple[OutletFacts, tuple[str, ...], bool]:
    """The facts with what is missing filled in, the words for it, and whether the permit's date decided."""
    found = ask(outlet, code, SILENT)
    if found.required is not None:
        return outlet, assumed, False
    fact = found.missing[0]
    best: tuple[OutletFacts, tuple[str, ...], bool] | None = None
    answers: list[Answer] = []
    readings = _READINGS.get(fact) or _ratings(code)[fact]
    for value, words in readings:
        changed: dict[str, Any] = {fact: value}
        tried = _settle(ask, replace(outlet, **changed), code, (*assumed, words))
        answer: Answer = "inspector" if tried[2] else ask(tried[0], code, SILENT).required
        if best is None or _demand(answer) > max(map(_demand, answers)):
            best = tried
        answers.append(answer)
    assert best is not None
    if fact == "permit_date":
        return best[0], assumed, len(set(answers)) > 1
    if len(answers) > 1 and len(set(answers)) == 1:  # whatever it is, the answer is the same: nothing to say
        said = list(best[1])
        del said[len(assumed)]
        return best[0], tuple(said), best[2]
    return best


def _demand(answer: Answer) -> int:
    return {True: 2, "inspector": 1}.get(answer, 0) if answer else 0
