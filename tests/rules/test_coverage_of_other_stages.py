"""Every item that building departments publish for papers, temporary power, trenches, service and final is asked for."""

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
ITEMS: list[dict[str, Any]] = json.loads((DATA / "items_other_stages.json").read_text(encoding="utf-8"))[
    "items"
]
SETTLED_BY = {
    "computable": {Kind.RECKONED, Kind.SEEN, Kind.MEASURED, Kind.PAPER},
    "measured": {Kind.MEASURED, Kind.RECKONED, Kind.SEEN, Kind.PAPER},
    "observed": {Kind.SEEN, Kind.RECKONED},
    "document": {Kind.PAPER},
}
"""A paper (a load calculation, a torque record) may stand for a figure, a look for a tape, never the other way round."""
BY_THEN = {
    "paperwork": Stage.PAPERWORK, "underground": Stage.UNDERGROUND, "service": Stage.SERVICE, "final": Stage.FINAL,
}  # fmt: skip
"""A department's list of its service visit has the temporary pole on it."""


def by_id(item: dict[str, Any]) -> str:
    return f"{item['id']} {item['about']}"


def test_all_published_items_of_the_other_stages_are_here() -> None:
    assert len(ITEMS) == 79
    assert len({item["id"] for item in ITEMS}) == 79


@pytest.mark.parametrize("item", ITEMS, ids=by_id)
def test_a_published_item_has_rules_that_settle_it_in_its_way(item: dict[str, Any]) -> None:
    assert item["rules"]
    for rule_id in item["rules"]:
        assert RULES[rule_id].kind in SETTLED_BY[item["kind"]], rule_id


@pytest.mark.parametrize("item", ITEMS, ids=by_id)
def test_a_published_item_is_asked_at_its_visit_or_before(item: dict[str, Any]) -> None:
    """What can be found before the wall is closed is not left for the final visit; a paper may be wanted first, and
    reckoned when the service is set."""
    due = {RULES[rule_id].stage for rule_id in item["rules"]}

    assert min(stage.place for stage in due) <= BY_THEN[item["stage"]].place


@pytest.mark.parametrize("item", [item for item in ITEMS if item["facts"]], ids=by_id)
def test_the_figures_of_an_item_are_those_of_the_editions(item: dict[str, Any]) -> None:
    for node, figure in item["facts"].items():
        for year in YEARS:
            assert load_edition(year).number(node) == Fraction(figure), f"{node} in {year}"
