"""Runs the rule book over a house.

Verdicts and raw operands only: no words are built here (see ``words`` and ``explain``).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

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
    Wall,
)
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.outcome import Outcome, outside
from server.rules.registry import RULES_ABOUT
from server.rules.rule import ABOUT_KINDS, NOT_IN_EDITION, Rule

__all__ = ["Finding", "due_rules", "evaluate", "judge", "judge_again", "subjects_of"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule's answer about one subject, and the rooms that it counts for (none: the whole job)."""

    rule: Rule
    subject: Ref
    rooms: tuple[str, ...]
    outcome: Outcome


def unasked(rule: Rule, code: Edition) -> Outcome | None:
    """The answer of a rule that this edition does not ask at all: it has no such rule, or an amendment suspends it."""
    if rule.cites[code.year] == NOT_IN_EDITION:
        return outside("absent", year=code.year)
    if rule.id in code.suspended_rules:
        return outside("suspended", layer=code.suspended_rules[rule.id])
    return None


def judge(rule: Rule, subject: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """One rule over one subject, with what holds for every rule: absence from the edition, suspension."""
    return unasked(rule, code) or rule.function(subject, house, code, work)


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
    now = house.site.stage.place
    return {
        about: tuple(rule for rule in rules if rule.stage.place <= now)
        for about, rules in RULES_ABOUT.items()
    }


def evaluate(house: Dwelling, code: Edition, *, only_rooms: frozenset[str] | None = None) -> list[Finding]:
    """Every due rule over every subject; with ``only_rooms``, over the subjects of these rooms."""
    due = due_rules(house)
    found: list[Finding] = []
    for about, subjects in subjects_of(house):
        rules = due.get(about, ())
        if not rules:
            continue
        kind = ABOUT_KINDS[about]
        asked = [(rule, rule.function, unasked(rule, code)) for rule in rules]
        for subject in subjects:
            rooms = () if about is Site else tuple(room.id for room in house.rooms_of(subject))
            if only_rooms is not None and only_rooms.isdisjoint(rooms):
                continue
            ref = Ref(kind, subject.id)
            for rule, function, settled in asked:
                outcome = function(subject, house, code, SILENT) if settled is None else settled
                found.append(Finding(rule, ref, rooms, outcome))
    return found


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
