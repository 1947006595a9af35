"""Rules settled by one figure that must lie between a least and a most: cords, heights, a pool's receptacle."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from server.dwelling import Dwelling, Stage, format_length
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.looks import Applies, judge_measure, observed
from server.rules.outcome import Missing, Outcome, Verdict, clear, correction, outside, unseen
from server.rules.rule import Kind, Measure, Rule, rule

__all__ = ["banded"]

_SAYS: Final = {
    "between": "{measure} measured; {least:in} to {most:in} is right.",
    "too-little": "{measure} measured; {least:in} is the least.",
    "measured-short": "{measure} measured; {limit} is the {edge}.",
    "not-measured": "Not measured yet; {least:in} to {most:in} is right.",
    "looked-right": "{who} looked and found it right without a figure{noted}.",
    "looked-wrong": "{who} looked and found it wrong{noted}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-reached": "{why}",
    "fact-missing": "It is not recorded: {what}.",
}


def banded(
    *,
    id: str,  # noqa: A002
    stage: Stage,
    about: type[Any],
    cites: Mapping[int, str],
    title: str,
    why: str,
    look_for: str,
    cure: str,
    least: str,
    most: str,
    how: str,
    worst: str,
    applies: Applies | None = None,
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Rule:
    """A rule settled by one length between two of the edition's, named by ``least`` and ``most``."""
    measure = Measure(unit="in", limit=most, least=False, how=how, worst=worst)
    tape = Missing(f"a measurement ({how})")

    def settle(subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        if applies is not None and (why_not := applies(subject, house, code)):
            if isinstance(why_not, Missing):
                return unseen("fact-missing", why_not, what=why_not.words)
            return outside("not-reached", why=why_not)
        seen = observed(house, subject, id)
        if seen is None:
            return unseen("not-measured", tape, least=code.number(least, work), most=code.number(most, work))
        found = judge_measure(seen, measure, code, work)
        if found.verdict is not Verdict.CLEAR or seen.measure is None:
            return found
        least_in, written = code.number(least, work), format_length(seen.measure)
        if work:
            work.step(f"and at least {format_length(least_in)}", seen.measure, "in", code.cites(least))
        cites, confidence = code.cites(least), code.confidence(least)
        if seen.measure < least_in:
            return correction(
                "too-little", cites=cites, confidence=confidence, measure=written, least=least_in
            )
        return clear(
            "between",
            cites=cites,
            confidence=confidence,
            measure=written,
            least=least_in,
            most=code.number(most),
        )

    return rule(
        id=id, stage=stage, about=about, kind=Kind.MEASURED, cites=cites, title=title, why=why, look_for=look_for,
        cure=cure, says=_SAYS, measure=measure, mistakes=mistakes, plain=plain, danger=danger,
    )(settle)  # fmt: skip
