"""What single rules say of an outlet, and how their answers fold into one.

A :class:`Reach` is one rule's word. Folding is plain "or": one rule that asks is enough; else what is missing;
else what is the inspector's; else no.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final

from server.editions import Edition
from server.reckon.protection.facts import Answer, Operand, Requirement
from server.reckon.protection.sentences import FACT_WORDS
from server.reckon.work import CONFIDENCE_ORDER, Work, lowest_confidence

__all__ = ["NOTHING", "Reach", "both", "fold", "unless"]

NOTHING: Final[Mapping[str, Operand]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Reach:
    """One rule's answer.

    ``nodes`` are the edition's values behind it, the first of them cited unless ``cites`` says otherwise; ``also``
    are nodes cited beside it (an exception that may apply). ``place`` marks a "no" that says more than "nowhere on
    the list", ``lifted`` one that took back a "yes" (out of scope, excepted): that says most.
    """

    answer: Answer
    reason: str
    nodes: tuple[str, ...]
    operands: Mapping[str, Operand] = field(default_factory=lambda: NOTHING)
    missing: tuple[str, ...] = ()
    cites: str = ""
    place: str = ""
    also: tuple[str, ...] = ()
    lifted: bool = False

    def articles(self, code: Edition) -> tuple[str, ...]:
        """The articles behind the answer in an edition, each once."""
        own = self.cites or code.cites(self.nodes[0])
        return tuple(dict.fromkeys(cited for cited in (own, *map(code.cites, self.also)) if cited))

    def confidence(self, code: Edition) -> str:
        return lowest_confidence(code.confidence(node) for node in self.nodes if code.has(node))


def both(first: Reach, second: Reach) -> Reach:
    """One rule's answer on a condition that a second one states: "and"."""
    if first.answer is False:
        return first
    if second.answer is False:
        return replace(second, place=first.place, lifted=True)
    nodes = first.nodes + second.nodes
    if first.answer is None or second.answer is None:
        also = (*second.nodes[:1], *second.also) if second.answer is None else ()
        return replace(
            first, answer=None, nodes=nodes, missing=first.missing + second.missing, also=first.also + also
        )
    return replace(first if second.answer is True else second, nodes=nodes, place=first.place)


def unless(rule: Reach, exception: Reach | None) -> Reach:
    """One rule's answer where an exception may lift it."""
    if exception is None or exception.answer is False or rule.answer is False:
        return rule
    if exception.answer is True:
        return replace(exception, answer=False, place=rule.place, lifted=True)
    if exception.answer is None:
        also = rule.also + exception.nodes[:1]
        return replace(rule, answer=None, missing=rule.missing + exception.missing, also=also)
    return exception if rule.answer is True else rule


def fold(reaches: Iterable[Reach], otherwise: Reach, code: Edition, work: Work) -> Requirement:
    """Fold the rules' answers into one requirement and show the work.

    ``otherwise`` is the sentence for "no rule reaches it"; a rule that came close (in a listed place but out of
    scope, or excepted) is named instead, since it says more.
    """
    found = list(reaches)
    asked = [reach for reach in found if reach.answer is True]
    if asked:
        best = min(asked, key=lambda reach: _rank(reach.confidence(code)))
        result = _requirement(asked[0], code, _articles(asked, code), best.confidence(code))
    elif unsettled := [reach for reach in found if reach.answer is None]:
        missing = tuple(dict.fromkeys(name for reach in unsettled for name in reach.missing))
        facts = " and ".join(FACT_WORDS[name] for name in missing)
        asks = Reach(None, "missing", unsettled[0].nodes, {"facts": facts}, missing)
        result = _requirement(asks, code, _articles(unsettled, code), _weakest(unsettled, code))
    elif judged := [reach for reach in found if reach.answer == "inspector"]:
        result = _requirement(judged[0], code, _articles(judged, code), _weakest(judged, code))
    else:
        near = max(found, key=lambda reach: (reach.lifted, bool(reach.place)), default=otherwise)
        if not (near.lifted or near.place):
            near = otherwise
        consulted = [*found, otherwise]
        result = _requirement(near, code, near.articles(code), _weakest(consulted, code))
    if work:
        _show(found, result, code, work)
    return result


def _requirement(lead: Reach, code: Edition, cites: tuple[str, ...], confidence: str) -> Requirement:
    return Requirement(lead.answer, lead.reason, lead.operands, cites, lead.missing, confidence)


def _articles(reaches: Sequence[Reach], code: Edition) -> tuple[str, ...]:
    return tuple(dict.fromkeys(cited for reach in reaches for cited in reach.articles(code)))


def _weakest(reaches: Iterable[Reach], code: Edition) -> str:
    return lowest_confidence(reach.confidence(code) for reach in reaches)


def _rank(confidence: str) -> int:
    return CONFIDENCE_ORDER.index(confidence)


def _show(found: Sequence[Reach], result: Requirement, code: Edition, work: Work) -> None:
    for reach in found:
        cites = ", ".join(reach.articles(code))
        if reach.missing:
            for name in reach.missing:
                work.step(f"Unknown: {FACT_WORDS[name]}.", cites=cites)
            continue
        said = Requirement(reach.answer, reach.reason, reach.operands, ())
        if reach.answer is False:
            work.skip(said.why, cites)
        else:
            work.step(said.why, reach.answer, "", cites)
    work.trust(result.confidence)
