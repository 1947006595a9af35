"""Everything that inspectors commonly write up at a dwelling is asked for, at its visit or before."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from server.dwelling import Stage
from server.rules.registry import RULES

DATA = Path(__file__).parents[1] / "data" / "inspection" / "trade_items.json"
ITEMS: list[dict[str, Any]] = json.loads(DATA.read_text(encoding="utf-8"))["items"]
LEAST = {
    Stage.PAPERWORK: 25, Stage.TEMPORARY: 15, Stage.UNDERGROUND: 25, Stage.SERVICE: 75, Stage.ROUGH_IN: 130,
    Stage.FINAL: 140,
}  # fmt: skip


def by_name(item: dict[str, Any]) -> str:
    return f"{item['stage']}: {item['about']}"


def test_the_list_is_long_at_every_visit_and_names_nothing_twice() -> None:
    counted = Counter(Stage(item["stage"]) for item in ITEMS)

    assert all(counted[stage] >= least for stage, least in LEAST.items()), counted
    assert len({by_name(item) for item in ITEMS}) == len(ITEMS)


@pytest.mark.parametrize("item", ITEMS, ids=by_name)
def test_an_item_has_rules_and_is_asked_by_its_visit(item: dict[str, Any]) -> None:
    """What is reckoned from facts may be settled later as well; one of its rules is due when the inspector looks."""
    due = [RULES[rule_id].stage.place for rule_id in item["rules"]]

    assert due
    assert min(due) <= Stage(item["stage"]).place
