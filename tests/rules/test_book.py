"""The rule book as people read it: search and what differs between editions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling import Stage
from server.editions import YEARS
from server.rules.book import closest_rule, differences, find_rules, numbers_of, write_value
from server.rules.registry import RULES


def test_every_rule_is_found_by_its_own_title() -> None:
    for rule in RULES.values():
        assert rule in find_rules(rule.title)[:12], rule.id


@pytest.mark.parametrize(
    ("words", "rule_id"),
    [
        ("314.16", "box-fill"),
        ("fan", "fan-box"),
        ("sheath", "sheath-into-box"),
        ("WHITE hot", "white-as-hot"),
        ("sheat insid", "sheath-into-box"),
    ],
)
def test_a_rule_is_found_by_words_article_or_thing(words: str, rule_id: str) -> None:
    assert rule_id in {rule.id for rule in find_rules(words)}


def test_every_word_must_stand_and_nothing_is_found_for_nonsense() -> None:
    assert find_rules("sheath zebra") == []
    assert find_rules("") == list(RULES.values())


def test_a_stage_narrows_what_is_found() -> None:
    assert all(rule.stage is Stage.ROUGH_IN for rule in find_rules("box", stage=Stage.ROUGH_IN))


@given(st.text(max_size=80))
def test_no_words_break_the_search(words: str) -> None:
    assert {rule.id for rule in find_rules(words)} <= set(RULES)


def test_the_quarter_for_each_further_ground_is_new_in_2020() -> None:
    """314.16(B)(5), 2020: four grounds count one, each further one a quarter (reference tables, two sources)."""
    found = [
        item
        for item in differences(2017, 2020)
        if "ground" in item.what.lower() and item.subject == "box fill"
    ]

    assert found


@pytest.mark.parametrize("year", YEARS)
def test_an_edition_does_not_differ_from_itself(year: int) -> None:
    assert differences(year, year) == []


def test_differences_are_the_same_both_ways() -> None:
    there, back = differences(2017, 2023), differences(2023, 2017)

    assert {(d.what, d.before, d.after) for d in there} == {(d.what, d.after, d.before) for d in back}


def test_a_measured_rule_shows_its_limit_in_every_edition() -> None:
    (number,) = numbers_of(RULES["sheath-into-box"])

    assert [(year, value) for year, value, _, _ in number.by_year] == [(year, "1/4 in") for year in YEARS]


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (True, "flag", "yes"),
        (("a", "b"), "names", "a, b"),
        ((), "names", "none"),
        (1500, "va", "1,500 VA"),
        ({"x": 2}, "a", "x: 2 A"),
    ],
)
def test_a_value_is_written_in_words(value: object, unit: str, written: str) -> None:
    assert write_value(value, unit) == written  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("written", "rule_id"),
    [
        ("box too small 314.16", "box-fill"),
        ("Box fill exceeded at hall switch", "box-fill"),
        ("staple cable within 8 in of single gang plastic box", "cable-held-at-box"),
        ("cable sheath not inside box", "sheath-into-box"),
        ("kitchen counter not GFCI protected 210.8", "gfci-locations"),
        ("bedroom circuit needs AFCI 210.12", "afci-locations"),
        ("Stair rail is loose", "safe-access"),
        ("nail plate missing", "plates-on"),
        ("hole bored too close to edge of stud", "bored-holes"),
    ],
)
def test_what_an_inspector_writes_is_matched_to_its_rule(written: str, rule_id: str) -> None:
    found = closest_rule(written)

    assert found is not None
    assert found.id == rule_id


@pytest.mark.parametrize(
    "written",
    ["Downspout dumps onto the footing", "see me", "", "!!!", "window flashing missing at north side"],
)
def test_a_line_about_something_else_is_matched_to_nothing(written: str) -> None:
    assert closest_rule(written) is None
