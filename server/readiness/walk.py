"""What is to be looked at in a room, in the order one walks it.

A room with thirty boxes has hundreds of findings; a person has one question at a time. So findings are folded
by rule: one *stop* per rule and room, with the subjects that are still unseen, those recorded wrong and those
that are right. A stop can be settled for the whole room (by a look, or by measuring the worst one) or subject
by subject.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from server.readiness.evaluate import Finding
from server.readiness.standing import JOB
from server.rules.outcome import Verdict
from server.rules.registry import RULES
from server.rules.rule import Rule

__all__ = ["Left", "Stop", "facts_missing", "left_of", "stops_of"]

_ORDER = {rule_id: place for place, rule_id in enumerate(RULES)}


@dataclass(frozen=True, slots=True)
class Stop:
    """One rule in one room: what is left of it, what is wrong, what is done."""

    rule: Rule
    unseen: tuple[Finding, ...]
    wrong: tuple[Finding, ...]
    right: tuple[Finding, ...]
    inspector: tuple[Finding, ...]

    @property
    def settled(self) -> bool:
        """Nothing of it is left to look at."""
        return not self.unseen

    @property
    def subjects(self) -> int:
        """How many subjects the rule reaches here."""
        return len(self.unseen) + len(self.wrong) + len(self.right) + len(self.inspector)

    @property
    def by_eyes(self) -> bool:
        """Whether a look or a tape settles what is left, rather than a fact that nobody entered."""
        return self.rule.recordable and any(
            not missing.field for finding in self.unseen for missing in finding.outcome.missing
        )


def stops_of(room_id: str, findings: Iterable[Finding]) -> list[Stop]:
    """The stops of a room, or under :data:`JOB` of what belongs to none, in the order of the rule book; rules that reach
    nothing here are left out."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        if room_id in (finding.rooms or (JOB,)) and finding.outcome.verdict is not Verdict.OUTSIDE:
            by_rule.setdefault(finding.rule.id, []).append(finding)
    return [_stop(by_rule[rule_id]) for rule_id in sorted(by_rule, key=_ORDER.__getitem__)]


def _stop(findings: Sequence[Finding]) -> Stop:
    def having(verdict: Verdict) -> tuple[Finding, ...]:
        return tuple(finding for finding in findings if finding.outcome.verdict is verdict)

    return Stop(
        findings[0].rule, having(Verdict.UNSEEN), having(Verdict.CORRECTION), having(Verdict.CLEAR),
        having(Verdict.INSPECTOR),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a place, a rule counted once: to look at (a card of the walk each), and to enter."""

    looks: int
    facts: int

    def __add__(self, other: Left) -> Left:
        return Left(self.looks + other.looks, self.facts + other.facts)


def left_of(findings: Iterable[Finding]) -> Left:
    """What is left of some findings of one place."""
    by_eyes: dict[str, bool] = {}
    for finding in findings:
        outcome = finding.outcome
        if outcome.verdict is Verdict.UNSEEN:
            rule = finding.rule
            by_eyes[rule.id] = by_eyes.get(rule.id, False) or (
                rule.recordable and any(not missing.field for missing in outcome.missing)
            )
    looks = sum(by_eyes.values())
    return Left(looks, len(by_eyes) - looks)


def facts_missing(stops: Iterable[Stop]) -> dict[str, tuple[str, list[Finding]]]:
    """Facts that no look settles: field name to what it is in words and the findings that wait for it."""
    waiting: dict[str, tuple[str, list[Finding]]] = {}
    for stop in stops:
        for finding in stop.unseen:
            for missing in finding.outcome.missing:
                if missing.field:
                    waiting.setdefault(missing.field, (missing.words, []))[1].append(finding)
    return waiting
