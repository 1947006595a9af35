"""Situations as a master electrician would put them to the book: what is found, what must be written up, and nothing else."""

from __future__ import annotations

import importlib
import pkgutil
import re
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

import tests.examined
from server.api.sheets.base import SHEETS, answer
from server.dwelling import Breaker, Dwelling, Facts
from server.editions import YEARS, load_edition
from server.readiness.evaluate import Finding, evaluate, judge
from server.readiness.explain import line_of
from server.rules.outcome import Verdict
from tests.examined.sheets import QUESTIONS, Question
from tests.examined.situation import UNFURNISHED, Situation

SITUATIONS: list[Situation] = [
    each
    for module in pkgutil.iter_modules(tests.examined.__path__)
    for each in getattr(importlib.import_module(f"tests.examined.{module.name}"), "SITUATIONS", ())
]


@cache
def found_in(situation: Situation, year: int) -> tuple[Finding, ...]:
    return tuple(evaluate(situation.house(), load_edition(year)))


def test_enough_is_examined_and_no_name_stands_twice() -> None:
    names = [each.name for each in (*SITUATIONS, *QUESTIONS)]
    assert len(names) == len(set(names))
    assert len(names) >= 200
    assert all(each.source for each in (*SITUATIONS, *QUESTIONS))


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda each: each.name)
def test_what_is_wrong_is_written_up_and_nothing_else(situation: Situation) -> None:
    for year in situation.years:
        corrected = {
            finding.rule.id
            for finding in found_in(situation, year)
            if finding.outcome.verdict is Verdict.CORRECTION
        }
        assert corrected - (UNFURNISHED - situation.wrong) == situation.expected(year), year


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda each: each.name)
def test_what_is_good_is_clear_and_what_is_not_settled_is_not(situation: Situation) -> None:
    for year in situation.years:
        verdicts: dict[str, set[Verdict]] = {}
        for finding in found_in(situation, year):
            verdicts.setdefault(finding.rule.id, set()).add(finding.outcome.verdict)
        for rule in situation.clear:
            assert Verdict.CLEAR in verdicts.get(rule, ()), (year, rule, verdicts.get(rule))
        for rule in situation.unsettled:
            assert Verdict.CLEAR not in verdicts.get(rule, ()), (year, rule)


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda each: each.name)
def test_a_sentence_names_things_by_their_names(situation: Situation) -> None:
    """No id of ours, no plural of one, and every correction says what mends it."""
    house = situation.house()
    ids = {*house.boxes, *house.cables, *house.devices, *house.circuits}
    year = YEARS[-2] if YEARS[-2] in situation.years else situation.years[0]
    for finding in found_in(situation, year):
        if finding.outcome.verdict is not Verdict.CORRECTION:
            continue
        line = line_of(finding, load_edition(year))
        words = f"{line.sentence} {line.cure}"
        assert not ids & set(words.replace(".", " ").replace(";", " ").replace(",", " ").split()), words
        assert line.cure, finding.rule.id
        assert line.sentence[0].isupper() or not line.sentence[0].isalpha(), line.sentence


def _mended(house: Dwelling, finding: Finding, year: int) -> list[Dwelling]:
    """The house after each way of a cure that names its figure: a wire, a breaker, a cable, a ring."""
    cure = line_of(finding, load_edition(year)).cure
    facts = house.facts
    ways: list[Facts] = []
    if found := re.search(r"[Rr]un (\S+) AWG (copper|aluminum)", cure):
        ways.append(replace(facts, cables=tuple(replace(c, awg=found[1]) for c in facts.cables)))
    if found := re.search(r"breaker of at most (\d+) A", cure):
        ways.append(
            replace(facts, circuits=tuple(replace(c, rating_a=int(found[1])) for c in facts.circuits))
        )
    if found := re.search(r"\b(two-pole )?(AFCI and GFCI|AFCI|GFCI) breaker for", cure):
        poles = {"poles": 2} if found[1] else {}
        fitted = (replace(c, breaker=Breaker(found[2]), **poles) for c in facts.circuits)
        ways.append(replace(facts, circuits=tuple(fitted)))
    if found := re.search(r"GFCI receptacle in the box", cure):
        at = finding.subject.id
        ways.append(
            replace(facts, devices=tuple(replace(d, gfci=d.gfci or d.id == at) for d in facts.devices))
        )
    if found := re.search(r"[Pp]ull a (\d+)-(\d) in its place", cure):
        at, count = finding.subject.id, int(found[2])
        pulled = (replace(c, insulated=count, white_use=None) if c.id == at else c for c in facts.cables)
        ways.append(replace(facts, cables=tuple(pulled)))
    if found := re.search(r"marked with at least ([\d.]+) in³", cure):
        at, room = finding.subject.id, Fraction(found[1])
        ways.append(
            replace(facts, boxes=tuple(replace(b, ring_in3=room) if b.id == at else b for b in facts.boxes))
        )
    return [Dwelling(way) for way in ways]


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda each: each.name)
def test_a_cure_that_names_its_figure_mends_it(situation: Situation) -> None:
    house = situation.house()
    for year in (situation.years[0], situation.years[-1]):
        for finding in found_in(situation, year):
            if finding.outcome.verdict is not Verdict.CORRECTION:
                continue
            for mended in _mended(house, finding, year):
                subject = mended.find(finding.subject)
                again = judge(finding.rule, subject, mended, load_edition(year))
                assert again.verdict is not Verdict.CORRECTION, (year, finding.rule.id, again.reason)


def test_no_receptacle_is_proposed_where_none_is_made() -> None:
    """GFCI receptacles are made for 120 V and 20 A: a range, a dryer or a charger gets a breaker."""
    large = [
        each
        for each in SITUATIONS
        if each.name.startswith(("A range's rec", "A dryer's rec", "A charger's rec"))
    ]
    assert len(large) >= 4
    for situation in large:
        for finding in found_in(situation, 2026):
            if finding.rule.id == "gfci-locations" and finding.outcome.verdict is Verdict.CORRECTION:
                cure = line_of(finding, load_edition(2026)).cure
                assert "GFCI breaker" in cure, cure
                assert "receptacle" not in cure, cure


def test_the_mending_reaches_every_kind_of_figure() -> None:
    """The test above looks at something: wires, breakers, protection, cables and rings are named and mended."""
    mended = {
        finding.rule.id
        for situation in SITUATIONS
        for finding in found_in(situation, situation.years[-1])
        if finding.outcome.verdict is Verdict.CORRECTION
        and _mended(situation.house(), finding, situation.years[-1])
    }
    assert mended >= {
        "conductor-overcurrent",
        "gfci-locations",
        "afci-locations",
        "cable-carries",
        "box-fill",
    }


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda each: each.name)
def test_a_sheet_answers_as_expected(question: Question) -> None:
    for year in question.years:
        asks = SHEETS[question.sheet].asks
        given = answer(question.sheet, asks.model_validate({**question.request, "edition": str(year)}))
        result = given.result.model_dump(mode="json")
        for name, expected in question.answer.items():
            came = result
            for part in name.split("."):
                came = came[part]
            assert came == (
                pytest.approx(expected, abs=0.01) if type(expected) in (int, float) else expected
            ), (year, name)
