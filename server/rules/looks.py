"""Rules that a person settles: by looking, by measuring, by showing a paper.

``look`` and ``measured`` build the whole rule from its words, so that the hundredth looks like the first.
An observation of the subject itself stands before one that settled its whole room by the worst one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from server.dwelling import Answer, Dwelling, Observation, Stage, Subject, format_length
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import ABOUT_KINDS, Kind, Measure, Rule, rule

__all__ = ["Applies", "judge_measure", "look", "measured", "observed"]

Applies = Callable[[Any, Dwelling, Edition], str | None]
"""Says why a rule does not reach a subject, or None where it does."""

_SEEN_SAYS: Final = {
    "seen-right": "{who} looked and found it right{noted}.",
    "seen-wrong": "{who} looked and found it wrong{noted}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-looked": "Nobody has looked yet.",
    "not-reached": "{why}",
}
_MEASURED_SAYS: Final = {
    "measured-enough": "{measure} measured; {limit} is the {edge}.",
    "measured-short": "{measure} measured; {limit} is the {edge}.",
    "not-measured": "Not measured yet; {limit} is the {edge}.",
    "looked-right": "{who} looked and found it right without a figure{noted}.",
    "looked-wrong": "{who} looked and found it wrong{noted}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-reached": "{why}",
    "no-limit": "This edition has no figure for it: {why}.",
}


def observed(house: Dwelling, subject: Subject | Site, rule_id: str) -> Observation | None:
    """The observation that counts for a subject: its own, else the one that settled its room."""
    own = house.seen(ABOUT_KINDS[type(subject)], subject.id, rule_id)
    if own is not None or isinstance(subject, Site):
        return own
    for room in house.rooms_of(subject):
        whole_room = house.seen("room", room.id, rule_id)
        if whole_room is not None:
            return whole_room
    return None


def _said(seen: Observation) -> dict[str, str]:
    return {"who": seen.by or "Someone", "noted": f": {seen.note}" if seen.note else ""}


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
    missing = Missing("a paper to show" if kind is Kind.PAPER else "a look")

    def settle(subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        if applies is not None and (why_not := applies(subject, house, code)):
            return outside("not-reached", why=why_not)
        seen = observed(house, subject, id)
        if seen is None:
            return unseen("not-looked", missing)
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
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Rule:
    """A rule settled by one figure against the edition's limit."""

    def settle(subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        if applies is not None and (why_not := applies(subject, house, code)):
            return outside("not-reached", why=why_not)
        return judge_measure(observed(house, subject, id), measure, code, work)

    return _declared(
        settle, id=id, stage=stage, about=about, cites=cites, title=title, why=why, look_for=look_for, cure=cure,
        says=_MEASURED_SAYS, kind=Kind.MEASURED, measure=measure, mistakes=mistakes, plain=plain, danger=danger,
    )  # fmt: skip


def judge_measure(seen: Observation | None, measure: Measure, code: Edition, work: Work = SILENT) -> Outcome:
    """Judge what was measured against the edition's limit."""
    if not code.has(measure.limit):
        return outside("no-limit", why=code.entry(measure.limit).absence)
    limit = code.number(measure.limit, work)
    edge = "least" if measure.least else "most"
    written = _figure(limit, measure.unit)
    if seen is None:
        return unseen("not-measured", Missing(f"a measurement ({measure.how})"), limit=written, edge=edge)
    if seen.answer is Answer.NOT_HERE:
        return outside("not-here", **_said(seen))
    if seen.measure is None:
        if seen.answer is Answer.WRONG:
            return correction("looked-wrong", **_said(seen))
        return clear("looked-right", **_said(seen))
    enough = seen.measure >= limit if measure.least else seen.measure <= limit
    figure = _figure(seen.measure, measure.unit)
    if work:
        sign = "at least" if measure.least else "at most"
        work.step(
            f"measured {figure}; allowed {sign} {written}",
            seen.measure,
            measure.unit,
            code.cites(measure.limit),
        )
    outcome = clear if enough else correction
    return outcome(
        "measured-enough" if enough else "measured-short", measure=figure, limit=written, edge=edge,
        cites=code.cites(measure.limit), confidence=code.confidence(measure.limit),
    )  # fmt: skip


def _figure(number: Any, unit: str) -> str:
    if unit == "in":
        return format_length(number)
    text = str(number.numerator) if number.denominator == 1 else f"{float(number):g}"
    return f"{text} {unit}"


def _declared(function: Callable[..., Outcome], **declaration: Any) -> Rule:
    """Declare a built rule as if it stood in the module that asked for it."""
    return rule(**declaration)(function)
