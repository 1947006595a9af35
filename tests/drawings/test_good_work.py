"""The small drawings of good work: one for every rule, on its sheet, with the edition's figures where they are measured."""

from __future__ import annotations

import re
from html import unescape
from xml.etree import ElementTree

import pytest

from server.drawings.good_work import _MEASURED_THERE, _OF_RULES, _OF_SUBJECTS, draw_good_work, scene_of
from server.drawings.good_work.sketch import HIGH, WIDE
from server.editions import load_edition
from server.editions.loader import parse_amendment
from server.rules.registry import RULES, SUBJECTS

CODE = load_edition(2023)
SVG = "{http://www.w3.org/2000/svg}"
ONE_OF_EACH = {scene_of(rule_id, SUBJECTS[rule_id]): rule_id for rule_id in RULES}
_CHARACTER_PX = 5.8


def drawn(rule_id: str, limit: str = "") -> ElementTree.Element:
    return ElementTree.fromstring(draw_good_work(rule_id, SUBJECTS[rule_id], CODE, limit))  # noqa: S314 - our own drawing


def words_of(picture: ElementTree.Element) -> str:
    return " | ".join(text.text or "" for text in picture.iter(f"{SVG}text"))


def test_every_rule_has_one() -> None:
    assert None not in ONE_OF_EACH
    assert len(ONE_OF_EACH) > 50


@pytest.mark.parametrize("rule_id", sorted(ONE_OF_EACH.values()))
def test_it_says_what_it_shows_and_stays_on_its_sheet(rule_id: str) -> None:
    picture = drawn(rule_id, "at least 1 1/4 in" if rule_id in _MEASURED_THERE else "")

    assert (picture.findtext(f"{SVG}desc") or "").endswith("Not to scale.")
    assert len(list(picture.iter(f"{SVG}path"))) >= 2
    for text in picture.iter(f"{SVG}text"):
        x, wide = float(text.get("x", "0")), len(text.text or "") * _CHARACTER_PX
        anchor = text.get("text-anchor", "start")
        left = x - (wide / 2 if anchor == "middle" else wide if anchor == "end" else 0)
        assert left >= 0, text.text
        assert left + wide <= WIDE, text.text
        assert 8 <= float(text.get("y", "0")) <= HIGH, text.text


def test_a_scene_of_some_rules_names_rules_that_are_there() -> None:
    assert set(_OF_RULES) <= set(RULES)
    assert set(_OF_SUBJECTS) == set(SUBJECTS.values())


@pytest.mark.parametrize("rule_id", sorted(_MEASURED_THERE))
def test_a_figure_stands_where_it_is_measured(rule_id: str) -> None:
    assert RULES[rule_id].measure is not None
    assert "at least 7 in" in words_of(drawn(rule_id, "at least 7 in"))


@pytest.mark.parametrize("rule_id", ["nm-bends", "meter-height", "warning-ribbon", "conductor-reaches-out"])
def test_a_figure_that_is_measured_elsewhere_is_not_written_there(rule_id: str) -> None:
    assert "at least 7 in" not in words_of(drawn(rule_id, "at least 7 in"))


def test_its_figures_are_the_editions_and_the_amendments() -> None:
    change = {
        "kind": "replaces",
        "node": "spacing.wall.reach_in",
        "value": 60,
        "cites": "Town 1",
        "why": "short cords",
    }
    layer = {"id": "nearer", "title": "Nearer", "source": "a town", "years": [2023], "change": [change]}
    amended = CODE.amended([parse_amendment(layer, "nearer")])

    before, after = (
        unescape(draw_good_work("wall-receptacle-spacing", "wall receptacles", code))
        for code in (CODE, amended)
    )

    assert re.findall(r">([^<]*at most)<", before) == ["6'-0\" at most", "12'-0\" at most"]
    assert re.findall(r">([^<]*at most)<", after) == ["5'-0\" at most", "10'-0\" at most"]
