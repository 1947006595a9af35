"""Situations as a master electrician would put them to the book: what is found, what must be written up, and nothing else."""

from __future__ import annotations

from functools import cache
from types import ModuleType

import pytest

from server.api.sheets.base import SHEETS, answer
from server.editions import YEARS, load_edition
from server.readiness.evaluate import Finding, evaluate
from server.readiness.explain import line_of
from server.rules.outcome import Verdict
from tests.examined import circuits, kitchens, panels, protection, rooms, second_look
from tests.examined.sheets import QUESTIONS, Question
from tests.examined.situation import UNFURNISHED, Situation

AREAS: tuple[ModuleType, ...] = (rooms, kitchens, protection, circuits, panels, second_look)
SITUATIONS: list[Situation] = [each for area in AREAS for each in area.SITUATIONS]


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
