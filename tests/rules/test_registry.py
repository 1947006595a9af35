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
def test_the_rule_gives_the_verdict_of_its_case_and_says_it_in_words(case: Case) -> None:
    house, ref = case.build()
    subject = house.site if ref.kind == "job" else house.find(ref)
    assert subject is not None
    rule = RULES[case.rule]

    for year in case.years:
        code = case.edition(year)
        outcome = judge(rule, subject, house, code)
        told = explain(rule, ref, house, code)

        assert str(outcome.verdict) == case.verdict, f"{year}: {outcome}"
        assert not case.reason or outcome.reason == case.reason, f"{year}: {outcome}"
        assert told is not None
        line = told.line
        assert line.verdict is outcome.verdict, f"{year}: shown with its steps it comes out otherwise"
        assert line.sentence.strip(), f"{year}: no sentence"
        assert "{" not in line.sentence + line.cure
        assert (line.cure != "") == (line.verdict == "correction")
        assert bool(line.missing) == (line.verdict == "unseen")


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_every_rule_has_its_cases_its_words_and_its_articles(rule: Rule) -> None:
    assert {"clear", "correction", "unseen"} <= {case.verdict for case in BY_RULE[rule.id]}
    for text in (rule.why, rule.look_for, rule.cure):
        assert len(text.split()) >= 5
        assert text.rstrip().endswith((".", "?"))
    assert not rule.title.endswith(".")
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
