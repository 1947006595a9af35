"""Runs the rule book over a house.

Verdicts and raw operands only: no words are built here (see ``words`` and ``explain``).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import repeat
from typing import Any, NamedTuple

from server.dwelling import (
    Box,
    Cable,
    Circuit,
    Counter,
    Device,
    Dwelling,
    Fixture,
    Level,
    Observation,
    Panel,
    Ref,
    Room,
    Stage,
    Wall,
)
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.readiness.one_of_room import may_be_shared, one_of_room
from server.reckon.work import SILENT, Work
from server.rules.outcome import Outcome, outside
from server.rules.registry import RULES_ABOUT
from server.rules.rule import ABOUT_KINDS, NOT_IN_EDITION, Rule

__all__ = ["Finding", "due_rules", "evaluate", "judge", "judge_again", "subjects_of"]


class Finding(NamedTuple):
    """One rule's answer about one subject, and the rooms that it counts for (none: the whole job)."""

    rule: Rule
    subject: Ref
    rooms: tuple[str, ...]
    outcome: Outcome

    @property
    def place(self) -> Ref:
        """What it is shown under: its subject, or the room where nobody said which one it is."""
        return Ref("room", self.outcome.of_room) if self.outcome.of_room else self.subject


def unasked(rule: Rule, code: Edition) -> Outcome | None:
    """The answer of a rule that this edition does not ask at all: it has no such rule, or an amendment suspends it."""
    if rule.cites[code.year] == NOT_IN_EDITION:
        return outside("absent", year=code.year)
    if rule.id in code.suspended_rules:
        return outside("suspended", layer=code.suspended_rules[rule.id])
    return None


def judge(rule: Rule, subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """One rule over one subject, with what holds for every rule: absence from the edition, suspension, and what a look
    at a whole room says of one that is in it."""
    settled = unasked(rule, code)
    if settled is not None:
        return settled
    outcome = rule.function(subject, house, code, work)
    if not may_be_shared(rule, house):
        return outcome
    peers = next(members for about, members in subjects_of(house) if about is rule.about)
    return one_of_room(rule, subject, outcome, peers, house, code)


def subjects_of(house: Dwelling) -> Iterator[tuple[type[Any], Iterable[Any]]]:
    """Every kind of subject with its members."""
    facts = house.facts
    yield Site, (house.site,)
    yield Level, facts.levels
    yield Room, facts.rooms
    yield Wall, facts.walls
    yield Counter, facts.counters
    yield Fixture, facts.fixtures
    yield Box, facts.boxes
    yield Device, facts.devices
    yield Panel, facts.panels
    yield Circuit, facts.circuits
    yield Cable, facts.cables


def due_rules(house: Dwelling) -> Mapping[type[Any], tuple[Rule, ...]]:
    """The rules that are due at the job's stage, by kind of subject."""
    return _due_at(house.site.stage)


@cache
def _due_at(stage: Stage) -> Mapping[type[Any], tuple[Rule, ...]]:
    return {
        about: tuple(rule for rule in rules if rule.stage.place <= stage.place)
        for about, rules in RULES_ABOUT.items()
    }


def evaluate(house: Dwelling, code: Edition, *, only_rooms: frozenset[str] | None = None) -> list[Finding]:
    """Every due rule over every subject; with ``only_rooms``, over the subjects of these rooms.

    Rule by rule over all subjects of a kind, then laid out subject by subject: the order in which they are read.
    """
    due = due_rules(house)
    found: list[Finding] = []
    for about, members in subjects_of(house):
        rules = due.get(about, ())
        subjects = [(subject, _places(subject, house)) for subject in members] if rules else []
        if only_rooms is not None:
            subjects = [(subject, rooms) for subject, rooms in subjects if not only_rooms.isdisjoint(rooms)]
        if not subjects:
            continue
        columns = [
            _column(rule, [subject for subject, _ in subjects], members, house, code) for rule in rules
        ]
        for (subject, rooms), outcomes in zip(subjects, zip(*columns, strict=True), strict=True):
            ref = Ref(ABOUT_KINDS[about], subject.id)
            found.extend(map(Finding._make, zip(rules, repeat(ref), repeat(rooms), outcomes, strict=False)))
    return found


def _column(
    rule: Rule, subjects: Sequence[Any], peers: Iterable[Any], house: Dwelling, code: Edition
) -> list[Outcome]:
    settled = unasked(rule, code)
    if settled is not None:
        return [settled] * len(subjects)
    function = rule.function
    outcomes = [function(subject, house, code, SILENT) for subject in subjects]
    if not may_be_shared(rule, house):
        return outcomes
    return [
        one_of_room(rule, subject, outcome, peers, house, code)
        for subject, outcome in zip(subjects, outcomes, strict=True)
    ]


def _places(subject: Any, house: Dwelling) -> tuple[str, ...]:
    return () if isinstance(subject, Site) else tuple(room.id for room in house.rooms_of(subject))


def judge_again(
    findings: Iterable[Finding], house: Dwelling, code: Edition, observations: Iterable[Observation]
) -> list[Finding]:
    """The findings after more was seen: only those of the observed rules and rooms are judged anew.

    A rule reads no observations but its own (a test holds that), so nothing else can have changed.
    """
    touched: set[tuple[str, str]] = set()
    for seen in observations:
        subject = house.find(seen.subject)
        places = [room.id for room in house.rooms_of(subject)] if subject is not None else []
        touched.update((seen.rule, place) for place in (*places, seen.subject.id))
    rules = {rule for rule, _ in touched}
    return [
        finding
        if finding.rule.id not in rules
        or not any((finding.rule.id, place) in touched for place in (finding.subject.id, *finding.rooms))
        else Finding(
            finding.rule,
            finding.subject,
            finding.rooms,
            judge(finding.rule, _subject(finding.subject, house), house, code),
        )
        for finding in findings
    ]


def _subject(ref: Ref, house: Dwelling) -> Any:
    return house.site if ref.kind == "job" else house.find(ref)
