"""Every item that building departments publish for the rough-in visit is asked for, at its stage, with its figures."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from server.dwelling import Stage
from server.editions import YEARS, load_edition
from server.rules.registry import RULES
from server.rules.rule import Kind

DATA = Path(__file__).parents[1] / "data" / "inspection"
ITEMS: list[dict[str, Any]] = json.loads((DATA / "rough_items.json").read_text(encoding="utf-8"))["items"]
SETTLED_BY = {
    "computable": {Kind.RECKONED, Kind.SEEN, Kind.MEASURED},
    "measured": {Kind.MEASURED, Kind.RECKONED, Kind.SEEN},
    "observed": {Kind.SEEN, Kind.RECKONED},
    "document": {Kind.PAPER},
}
"""A published item may be reckoned from facts where the department looks, never the other way round for a paper."""


def by_id(item: dict[str, Any]) -> str:
    return f"{item['id']} {item['about']}"


def test_all_of_the_published_rough_in_items_are_here() -> None:
    assert len(ITEMS) == 56
    assert len({item["id"] for item in ITEMS}) == 56


@pytest.mark.parametrize("item", ITEMS, ids=by_id)
def test_a_published_item_has_rules_of_its_stage(item: dict[str, Any]) -> None:
    assert item["rules"]
    for rule_id in item["rules"]:
        assert RULES[rule_id].stage is Stage.ROUGH_IN, rule_id
        assert RULES[rule_id].kind in SETTLED_BY[item["kind"]], rule_id


@pytest.mark.parametrize("item", [item for item in ITEMS if item["facts"]], ids=by_id)
def test_the_figures_of_an_item_are_those_of_the_editions(item: dict[str, Any]) -> None:
    for node, figure in item["facts"].items():
        for year in YEARS:
            assert load_edition(year).number(node) == Fraction(figure), f"{node} in {year}"
