"""A look at a whole room that found something wrong.

A room may be settled by its worst one. Where that one is enough, all are; where it falls short, one is known to be
wrong and the others are not. So the room has one correction, not one for each of its boxes: the first of those that
the look stands for bears it (``Outcome.of_room`` says for which room), and the others wait to be looked at.
Once somebody names the wrong one, by recording it under itself, the room's own record has said what it had to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from server.dwelling import Answer, Dwelling, Level, Observation, Room
from server.dwelling.dwelling import Site
from server.editions import Edition
from server.rules.looks import observed
from server.rules.outcome import Missing, Outcome, Verdict, unseen
from server.rules.rule import Rule

__all__ = ["may_be_shared", "one_of_room"]

_WHOLE = (Site, Level, Room)
"""Subjects that no look at a room stands for."""


def may_be_shared(rule: Rule, house: Dwelling) -> bool:
    """Whether some room was looked at as a whole under a rule about what is in it."""
    return (
        rule.recordable
        and rule.about not in _WHOLE
        and any(kind == "room" for kind, _ in house.seen_under(rule.id))
    )


def one_of_room(
    rule: Rule, subject: Any, outcome: Outcome, peers: Iterable[Any], house: Dwelling, code: Edition
) -> Outcome:
    """The outcome of one subject where a look at its whole room stands behind a correction; else as it came.

    ``peers`` are the rule's subjects in the order of the house, this one among them.
    """
    if outcome.verdict is not Verdict.CORRECTION:
        return outcome
    seen = observed(house, subject, rule.id)
    if seen is None or seen.subject.kind != "room" or not _rests_on_looks(rule, subject, house, code):
        return outcome
    if _named_since(seen, rule, house, code):
        return unseen("one-named", Missing("a look at each of the others"))
    sharing = _sharing(seen, rule, peers, house, code)
    first, second = next(sharing, None), next(sharing, None)
    if second is None:
        return outcome
    if first is not None and first.id == subject.id:
        return outcome._replace(of_room=seen.subject.id)
    return unseen("one-of-room", Missing("which one it is, or a look at each"))


def _rests_on_looks(rule: Rule, subject: Any, house: Dwelling, code: Edition) -> bool:
    """Whether the correction goes when nobody has looked: else the entered facts say it of this very subject."""
    return rule.function(subject, house.without_looks(rule.id), code).verdict is not Verdict.CORRECTION


def _sharing(
    seen: Observation, rule: Rule, peers: Iterable[Any], house: Dwelling, code: Edition
) -> Iterator[Any]:
    """The subjects that one look at their room stands for."""
    for peer in peers:
        if (
            observed(house, peer, rule.id) is seen
            and rule.function(peer, house, code).verdict is Verdict.CORRECTION
            and _rests_on_looks(rule, peer, house, code)
        ):
            yield peer


def _named_since(seen: Observation, rule: Rule, house: Dwelling, code: Edition) -> bool:
    """Whether after the room's look somebody recorded one of its subjects, itself, as wrong. The whole log is read: the
    one that was named may be mended and right by now."""
    log = house.facts.observations
    void = {item.takes_back for item in log if item.takes_back}
    later = False
    for own in log:
        if own is seen:
            later = True
        elif later and own.rule == rule.id and own.subject.kind != "room" and own.id not in void:
            subject = house.find(own.subject)
            if subject is None or own.answer is Answer.TAKEN_BACK:
                continue
            in_room = any(room.id == seen.subject.id for room in house.rooms_of(subject))
            told = rule.function(subject, house.with_one_look(own), code) if in_room else None
            if told is not None and told.verdict is Verdict.CORRECTION:
                return True
    return False
