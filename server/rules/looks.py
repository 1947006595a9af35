"""Rules that a person settles: by looking, by measuring, by showing a paper.

``look`` and ``measured`` build the whole rule from its words, so that the hundredth looks like the first.
An observation of the subject itself stands before one that settled its whole room by the worst one. A measure
that stands among the facts (``recorded``) needs no observation.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Final

from server.dwelling import Answer, Dwelling, Observation, Room, Stage, Subject, format_length
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.reckon.remembered import remembered
from server.reckon.work import SILENT, Work
from server.rules.outcome import Missing, Operand, Outcome, Verdict, clear, correction, outside, unseen
from server.rules.rule import ABOUT_KINDS, Kind, Measure, Rule, rule

__all__ = ["Applies", "Recorded", "by_look", "judge_measure", "look", "measured", "observed"]

Applies = Callable[[Any, Dwelling, Edition], str | Missing | None]
"""Says why a rule does not reach a subject, or names the fact that would tell, or None where it reaches it."""
Recorded = Callable[[Any, Dwelling, Edition], tuple[list[Fraction], bool]]
"""The measures that stand among the facts, and whether they are all that there are to take."""

_SEEN_SAYS: Final = {
    "seen-right": "{who} looked and found it right{noted}.",
    "seen-wrong": "{who} looked and found it wrong{noted}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-looked": "Nobody has looked yet.",
    "not-reached": "{why}",
    "fact-missing": "It is not recorded: {what}.",
}
_MEASURED_SAYS: Final = {
    "measured-enough": "{measure} measured; {limit} is the {edge}.",
    "measured-short": "{measure} measured; {limit} is the {edge}.",
    "fact-missing": "It is not recorded: {what}.",
    "not-measured": "Not measured yet; {limit} is the {edge}.",
    "looked-right": "{who} looked and found it right without a figure{noted}.",
    "looked-wrong": "{who} looked and found it wrong{noted}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-reached": "{why}",
    "no-limit": "This edition has no figure for it: {why}.",
}


def observed(house: Dwelling, subject: Subject | Site, rule_id: str) -> Observation | None:
    """The observation that counts for a subject: its own, else the one that settled its room."""
    seen = house.seen_under(rule_id)
    if not seen:
        return None
    own = seen.get((ABOUT_KINDS[type(subject)], subject.id))
    if own is not None or isinstance(subject, Site | Room):
        return own
    room_id = getattr(subject, "room_id", None)
    if room_id is not None:
        return seen.get(("room", room_id))
    for room in house.rooms_of(subject):
        whole_room = seen.get(("room", room.id))
        if whole_room is not None:
            return whole_room
    return None


def _said(seen: Observation) -> dict[str, str]:
    return {"who": seen.by or "Someone", "noted": f": {seen.note}" if seen.note else ""}


def by_look(
    seen: Observation,
    *,
    right: str = "looked-right",
    wrong: str = "looked-wrong",
    cites: str = "",
    **operands: Operand,
) -> Outcome:
    """What a look comes to, for rules that reckon first and ask eyes for the rest: the reasons ``looked-right`` and
    ``looked-wrong`` (or others), which take ``{who}`` and ``{noted}``, and ``not-here``."""
    said: dict[str, Operand] = {**operands, **_said(seen)}
    if seen.answer is Answer.NOT_HERE:
        return Outcome(Verdict.OUTSIDE, "not-here", said, cites=cites)
    if seen.answer is Answer.WRONG:
        return Outcome(Verdict.CORRECTION, wrong, said, cites=cites)
    return Outcome(Verdict.CLEAR, right, said, cites=cites)


@cache
def _not_reached(answer: str | Missing) -> Outcome:
    """Why a rule does not reach a subject, or the fact that is missing to tell: a few dozen in all."""
    if isinstance(answer, Missing):
        return unseen("fact-missing", answer, what=answer.words)
    return outside("not-reached", why=answer)


def look(
    *,
    id: str,  # noqa: A002
    stage: Stage,
    about: type[Any],
    cites: Mapping[int, str],
    title: str,
    why: str,
    look_for: str,
    cure: str,
    kind: Kind = Kind.SEEN,
    applies: Applies | None = None,
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Rule:
    """A rule settled by eyes (or, with ``Kind.PAPER``, by a paper to show)."""
    not_looked = unseen("not-looked", Missing("a paper to show" if kind is Kind.PAPER else "a look"))

    def settle(subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        if applies is not None and (why_not := applies(subject, house, code)):
            return _not_reached(why_not)
        seen = observed(house, subject, id)
        if seen is None:
            return not_looked
        if work:
            work.step(f"{seen.by or 'Someone'} recorded “{seen.answer}”", seen.at)
        if seen.answer is Answer.NOT_HERE:
            return outside("not-here", **_said(seen))
        if seen.answer is Answer.WRONG:
            return correction("seen-wrong", **_said(seen))
        return clear("seen-right", **_said(seen))

    return _declared(
        settle, id=id, stage=stage, about=about, cites=cites, title=title, why=why, look_for=look_for, cure=cure,
        says=_SEEN_SAYS, kind=kind, mistakes=mistakes, plain=plain, danger=danger,
    )  # fmt: skip


def measured(
    *,
    id: str,  # noqa: A002
    stage: Stage,
    about: type[Any],
    cites: Mapping[int, str],
    title: str,
    why: str,
    look_for: str,
    cure: str,
    measure: Measure,
    applies: Applies | None = None,
    recorded: Recorded | None = None,
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Rule:
    """A rule settled by one figure against the edition's limit."""

    def settle(subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        if applies is not None and (why_not := applies(subject, house, code)):
            return _not_reached(why_not)
        seen = observed(house, subject, id)
        if recorded is None or not code.has(measure.limit):
            return judge_measure(seen, measure, code, work)
        figures, all_of_them = recorded(subject, house, code)
        if seen is not None and seen.measure is not None:
            figures = [*figures, seen.measure]
        elif seen is not None:
            return judge_measure(seen, measure, code, work)
        if figures:
            worst = min(figures) if measure.least else max(figures)
            if all_of_them or seen is not None or not _enough(worst, measure, code):
                return _judge_figure(worst, measure, code, work)
        return judge_measure(None, measure, code, work)

    return _declared(
        settle, id=id, stage=stage, about=about, cites=cites, title=title, why=why, look_for=look_for, cure=cure,
        says=_MEASURED_SAYS, kind=Kind.MEASURED, measure=measure, mistakes=mistakes, plain=plain, danger=danger,
    )  # fmt: skip


def judge_measure(seen: Observation | None, measure: Measure, code: Edition, work: Work = SILENT) -> Outcome:
    """Judge what was measured against the edition's limit."""
    if not code.has(measure.limit):
        return outside("no-limit", why=code.entry(measure.limit).absence)
    if seen is None:
        return _not_measured(measure, code.number(measure.limit, work))
    if seen.answer is Answer.NOT_HERE:
        return outside("not-here", **_said(seen))
    if seen.measure is None:
        if seen.answer is Answer.WRONG:
            return correction("looked-wrong", **_said(seen))
        return clear("looked-right", **_said(seen))
    return _judge_figure(seen.measure, measure, code, work)


@cache
def _not_measured(measure: Measure, limit: Fraction) -> Outcome:
    """Nobody measured: one outcome per rule and limit."""
    return unseen(
        "not-measured", Missing(f"a measurement ({measure.how})"), limit=_figure(limit, measure.unit),
        edge="least" if measure.least else "most",
    )  # fmt: skip


def _enough(figure: Fraction, measure: Measure, code: Edition) -> bool:
    limit = code.number(measure.limit)
    return figure >= limit if measure.least else figure <= limit


def _judge_figure(measured: Fraction, measure: Measure, code: Edition, work: Work) -> Outcome:
    return _reckon_figure(measured, measure, code, work) if work else _known_figure(measured, measure, code)


@remembered(8192)
def _known_figure(measured: Fraction, measure: Measure, code: Edition) -> Outcome:
    """What settled a room by its worst one is asked for every box of it."""
    return _reckon_figure(measured, measure, code, SILENT)


def _reckon_figure(measured: Fraction, measure: Measure, code: Edition, work: Work) -> Outcome:
    limit = code.number(measure.limit, work)
    figure, written = _figure(measured, measure.unit), _figure(limit, measure.unit)
    if work:
        sign = "at least" if measure.least else "at most"
        work.step(
            f"measured {figure}; allowed {sign} {written}", measured, measure.unit, code.cites(measure.limit)
        )
    enough = _enough(measured, measure, code)
    outcome = clear if enough else correction
    return outcome(
        "measured-enough" if enough else "measured-short", measure=figure, limit=written,
        edge="least" if measure.least else "most", cites=code.cites(measure.limit),
        confidence=code.confidence(measure.limit),
    )  # fmt: skip


@lru_cache(maxsize=4096)
def _figure(number: Fraction, unit: str) -> str:
    if unit == "in":
        return format_length(number)
    text = str(number.numerator) if number.denominator == 1 else f"{float(number):g}"
    return f"{text} {unit}"


def _declared(function: Callable[..., Outcome], **declaration: Any) -> Rule:
    """Declare a built rule as if it stood in the module that asked for it."""
    return rule(**declaration)(function)
