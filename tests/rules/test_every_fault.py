"""Fault injection over every reckoned rule, in both directions, at the last stage of a job.

The complete house is right: no rule reports anything, and every reckoned rule finds something that is clear. One fault in its
facts is reported by exactly the rules that are about it. Every look of the book, recorded as right, leaves it without a
correction; recorded as wrong it is one correction and no more.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cache

import pytest

from seed_demo.faults import FAULTS
from seed_demo.house import demo_house
from server.dwelling import Answer, Dwelling, Observation, Ref, Stage
from server.editions import YEARS, load_edition
from server.readiness import evaluate, judge_again
from server.readiness.evaluate import Finding
from server.rules.outcome import Verdict
from server.rules.registry import RULES, SUBJECTS
from server.rules.rule import Kind, Rule
from tests.complete_house import complete_house
from tests.injected_faults import INJECTED

YEAR = 2023
CODE = load_edition(YEAR)
RIGHT: Dwelling = complete_house().builder.dwelling()
RECKONED = [rule.id for rule in RULES.values() if rule.kind is Kind.RECKONED]
LEFT_OPEN = {"appliance-within-reach", "ceiling-box-for-fan"}
"""What waits for a fact, not for a look: where door opener and sump pump stand, whether the kitchen's box may hold a fan."""


@cache
def found(year: int = YEAR) -> list[Finding]:
    return evaluate(RIGHT, load_edition(year))


def corrections(findings: list[Finding]) -> set[tuple[str, Ref]]:
    return {(f.rule.id, f.subject) for f in findings if f.outcome.verdict is Verdict.CORRECTION}


@pytest.mark.parametrize("year", YEARS)
def test_a_house_that_is_right_has_no_correction_at_its_last_stage(year: int) -> None:
    assert corrections(found(year)) == set()


def test_every_reckoned_rule_reaches_something_in_the_house() -> None:
    clear = {f.rule.id for f in found() if f.outcome.verdict is Verdict.CLEAR}

    assert set(RECKONED) - clear == set()


def test_every_reckoned_rule_has_its_fault() -> None:
    about = {rule for fault in INJECTED.values() for rule in fault.rules}

    assert set(RECKONED) - about == set()


@pytest.mark.parametrize("name", INJECTED)
def test_a_fault_is_reported_by_exactly_its_rules(name: str) -> None:
    fault, house = INJECTED[name], complete_house()
    fault.put_in(house)

    findings = evaluate(house.builder.dwelling(), CODE.amended(fault.layers))

    assert {rule for rule, _ in corrections(findings)} == fault.rules


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_the_demo_is_reported_by_exactly_its_rules_at_the_last_stage(name: str) -> None:
    house = complete_house()
    FAULTS[name].put_in(house)

    findings = evaluate(house.builder.dwelling(), CODE)

    assert {rule for rule, _ in corrections(findings)} == set(FAULTS[name].rules)


def right_look(finding: Finding) -> Observation:
    """A look that finds it right, or a figure that is enough."""
    measure = finding.rule.measure
    if measure is not None and CODE.has(measure.limit) and finding.outcome.reason == "not-measured":
        limit = CODE.number(measure.limit)
        figure = limit + 1 if measure.least else limit
        return Observation("o", finding.subject, finding.rule.id, Answer.MEASURED, figure, by="R. Ames")
    return Observation("o", finding.subject, finding.rule.id, Answer.RIGHT, by="R. Ames")


def by_a_look(finding: Finding) -> bool:
    missing = finding.outcome.missing
    return finding.outcome.verdict is Verdict.UNSEEN and finding.rule.recordable and not missing[0].field


def test_with_every_look_recorded_as_right_nothing_is_left_and_nothing_is_wrong() -> None:
    looks = [right_look(finding) for finding in found() if by_a_look(finding)]
    house = RIGHT.seeing(looks)

    findings = evaluate(house, CODE)

    assert len(looks) > 2000
    assert corrections(findings) == set()
    unseen = {f.rule.id for f in findings if f.outcome.verdict is Verdict.UNSEEN}
    assert unseen <= LEFT_OPEN


def one_of_each() -> list[tuple[Rule, Ref]]:
    first: dict[str, Finding] = {}
    for finding in found():
        if by_a_look(finding):
            first.setdefault(finding.rule.id, finding)
    return [(finding.rule, finding.subject) for finding in first.values()]


@pytest.mark.parametrize(
    ("rule", "subject"), one_of_each(), ids=lambda value: value.id if isinstance(value, Rule) else ""
)
def test_one_look_that_finds_it_wrong_is_one_correction(rule: Rule, subject: Ref) -> None:
    seen = Observation("o", subject, rule.id, Answer.WRONG, by="R. Ames")

    findings = judge_again(found(), RIGHT.seeing([seen]), CODE, [seen])

    assert corrections(findings) == {(rule.id, subject)}


ONLY_IN = {
    "luminaires-for-wet": {"outdoors", "deck", "boathouse"},
    "in-use-cover": {"outdoors", "deck", "boathouse"},
    "outbuilding-one-supply": {"accessory building"},
    "outbuilding-disconnect": {"accessory building"},
    "outbuilding-electrode": {"accessory building"},
    "outbuilding-grounds": {"accessory building"},
    "gfci-covers-all": {
        "kitchen", "bathroom", "toilet room", "laundry", "garage", "basement", "outdoors", "deck", "accessory building",
        "mechanical room",
    },
}  # fmt: skip


@pytest.mark.parametrize("rule_id", ONLY_IN)
def test_a_rule_of_some_kinds_of_room_is_asked_in_no_other(rule_id: str) -> None:
    kinds = {
        str(RIGHT.rooms[room].kind)
        for finding in found()
        if finding.rule.id == rule_id and finding.outcome.verdict is not Verdict.OUTSIDE
        for room in finding.rooms
    }

    assert kinds
    assert kinds <= ONLY_IN[rule_id]


NOT_IN_THE_DEMO = (
    "pools_spas", "generators", "hydromassage", "solar_array", "solar_connection", "energy_storage", "electric_heat",
    "low_voltage_lighting", "built_in_equipment", "docks",
)  # fmt: skip
"""What few houses have; the demo's has none of it."""


@cache
def found_in_the_demo() -> list[Finding]:
    facts = demo_house().builder.dwelling().facts
    return evaluate(Dwelling(replace(facts, site=replace(facts.site, stage=Stage.FINAL))), CODE)


@pytest.mark.parametrize("module", NOT_IN_THE_DEMO)
def test_what_the_house_has_not_is_asked_nowhere(module: str) -> None:
    subject = module.replace("_", " ")
    asked = {
        finding.rule.id
        for finding in found_in_the_demo()
        if SUBJECTS[finding.rule.id] == subject and finding.outcome.verdict is not Verdict.OUTSIDE
    }

    assert asked == set()


def test_looks_reach_nearly_every_rule_that_is_settled_by_one() -> None:
    recordable = {rule.id for rule in RULES.values() if rule.recordable}
    reached = {rule.id for rule, _ in one_of_each()}

    assert len(reached) / len(recordable) > 0.8


@pytest.mark.parametrize("year", YEARS)
def test_no_rule_is_asked_before_its_stage(year: int) -> None:
    asked: dict[str, set[str]] = defaultdict(set)
    for stage in Stage:
        house = Dwelling(replace(RIGHT.facts, site=replace(RIGHT.site, stage=stage)))
        for finding in evaluate(house, load_edition(year)):
            asked[str(stage)].add(finding.rule.id)
            assert finding.rule.stage.place <= stage.place, finding.rule.id
    assert set(asked[Stage.FINAL]) == set(RULES) - {
        rule.id for rule in RULES.values() if rule.about_kind not in {f.subject.kind for f in found(year)}
    }
