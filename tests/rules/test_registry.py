"""The rule book as a whole: every rule has its words, its articles and its cases, and every case holds."""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections import defaultdict

import pytest

import tests.cases
from server.dwelling import Site
from server.editions import YEARS, load_edition
from server.readiness import explain, judge
from server.rules.registry import RULES, SUBJECTS
from server.rules.rule import Rule
from tests.cases.case import Case

CASES: list[Case] = [
    case
    for module in pkgutil.iter_modules(tests.cases.__path__)
    if module.name != "case"
    for case in importlib.import_module(f"tests.cases.{module.name}").CASES
]
BY_RULE: dict[str, list[Case]] = defaultdict(list)
for _case in CASES:
    BY_RULE[_case.rule].append(_case)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.rule}: {case.name}")
def test_the_rule_gives_the_verdict_of_its_case(case: Case) -> None:
    house, ref = case.build()
    subject = house.site if ref.kind == "job" else house.find(ref)
    assert subject is not None
    rule = RULES[case.rule]

    for year in case.years:
        outcome = judge(rule, subject, house, case.edition(year))

        assert str(outcome.verdict) == case.verdict, f"{year}: {outcome}"
        assert not case.reason or outcome.reason == case.reason, f"{year}: {outcome}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.rule}: {case.name}")
def test_every_answer_can_be_put_into_words_and_explained(case: Case) -> None:
    house, ref = case.build()
    rule = RULES[case.rule]

    for year in case.years:
        told = explain(rule, ref, house, case.edition(year))

        assert told is not None
        line = told.line
        assert line.sentence.strip(), f"{year}: no sentence"
        assert "{" not in line.sentence + line.cure
        assert (line.cure != "") == (line.verdict == "correction")
        assert bool(line.missing) == (line.verdict == "unseen")


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_every_rule_has_a_clear_a_correction_and_an_unseen_case(rule: Rule) -> None:
    verdicts = {case.verdict for case in BY_RULE[rule.id]}

    assert {"clear", "correction", "unseen"} <= verdicts


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_every_rule_says_why_what_to_look_for_and_what_mends_it(rule: Rule) -> None:
    for text in (rule.why, rule.look_for, rule.cure):
        assert len(text.split()) >= 5
        assert text.rstrip().endswith((".", "?"))
    assert not rule.title.endswith(".")


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_every_rule_names_its_article_or_its_absence_in_every_edition(rule: Rule) -> None:
    assert set(rule.cites) == set(YEARS)
    for article in rule.cites.values():
        assert article in ("not in this edition", "common practice", "local department") or re.match(
            r"^(Table |IRC |Article |Annex )?[A-Z]?\d+(\.\d+)?", article
        ), article


@pytest.mark.parametrize("rule", [rule for rule in RULES.values() if rule.measure], ids=lambda rule: rule.id)
def test_every_measured_rule_reads_its_limit_from_the_editions(rule: Rule) -> None:
    assert rule.measure is not None
    for year in YEARS:
        assert load_edition(year).node(rule.measure.limit).unit == rule.measure.unit


def test_cases_name_rules_that_exist() -> None:
    assert set(BY_RULE) <= set(RULES)


def test_every_rule_has_its_subject() -> None:
    assert set(SUBJECTS) == set(RULES)


def test_a_rule_about_the_whole_job_is_asked_once() -> None:
    assert all(rule.about_kind == "job" for rule in RULES.values() if rule.about is Site)
