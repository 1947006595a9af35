"""The words and the arithmetic behind one finding, made when someone asks."""

from __future__ import annotations

from dataclasses import dataclass

from server.dwelling import Dwelling, Ref
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.readiness.evaluate import Finding, judge
from server.readiness.words import article_of, cure_of, sentence_of
from server.reckon.work import Step, Work
from server.rules.outcome import Missing, Outcome, Verdict
from server.rules.rule import Rule

__all__ = ["Explanation", "Line", "explain", "line_of"]


@dataclass(frozen=True, slots=True)
class Line:
    """A finding in words, without its steps: what a list of findings shows. ``doubt`` says why its article is not to be
    taken for verified; empty where it is."""

    rule_id: str
    title: str
    subject: Ref
    rooms: tuple[str, ...]
    verdict: Verdict
    sentence: str
    article: str
    doubt: str
    cure: str
    missing: tuple[Missing, ...]
    danger: str

    @property
    def verified(self) -> bool:
        """Whether somebody has read the article and its figure for this edition."""
        return not self.doubt


@dataclass(frozen=True, slots=True)
class Explanation:
    """One finding with its reckoning."""

    line: Line
    steps: tuple[Step, ...]
    cites: tuple[str, ...]
    confidence: str


def line_of(finding: Finding, code: Edition) -> Line:
    """Put a finding into words."""
    return _line(finding.rule, finding.place, finding.rooms, finding.outcome, code)


def explain(rule: Rule, ref: Ref, house: Dwelling, code: Edition) -> Explanation | None:
    """Run one rule once more over one subject with a recorder; None where the subject is not there."""
    subject = house.site if ref.kind == "job" else house.find(ref)
    if subject is None:
        return None
    work = Work()
    outcome = judge(rule, subject, house, code, work)
    rooms = () if isinstance(subject, Site) else tuple(room.id for room in house.rooms_of(subject))
    line = _line(rule, Finding(rule, ref, rooms, outcome).place, rooms, outcome, code)
    cites = tuple(dict.fromkeys((*((line.article,) if line.article else ()), *work.cites)))
    return Explanation(line, tuple(work.steps), cites, work.confidence)


def _line(rule: Rule, ref: Ref, rooms: tuple[str, ...], outcome: Outcome, code: Edition) -> Line:
    article, doubt = article_of(rule, outcome, code)
    return Line(
        rule_id=rule.id, title=rule.title, subject=ref, rooms=rooms, verdict=outcome.verdict,
        sentence=sentence_of(rule, outcome), article=article, doubt=doubt,
        cure=cure_of(rule, outcome), missing=outcome.missing,
        danger=rule.danger if outcome.verdict is Verdict.CORRECTION else "",
    )  # fmt: skip
