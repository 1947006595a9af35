"""What a rule misses is a fact that the house can hold: the field exists, so a page can lead there."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import fields

import pytest

import tests.cases
from server.dwelling import (
    Box,
    Break,
    Cable,
    Circuit,
    Counter,
    Device,
    Fixture,
    Level,
    Opening,
    Panel,
    Room,
    Site,
    Wall,
)
from server.readiness import judge
from server.rules.registry import RULES
from tests.cases.case import Case

FACTS = {
    "job": Site, "level": Level, "room": Room, "wall": Wall, "opening": Opening, "counter": Counter, "break": Break,
    "fixture": Fixture, "box": Box, "device": Device, "panel": Panel, "circuit": Circuit, "cable": Cable,
}  # fmt: skip
HOLDS = {kind: {field.name for field in fields(fact)} for kind, fact in FACTS.items()}
UNSEEN: list[Case] = [
    case
    for module in pkgutil.iter_modules(tests.cases.__path__)
    if module.name != "case"
    for case in importlib.import_module(f"tests.cases.{module.name}").CASES
    if case.verdict == "unseen"
]


@pytest.mark.parametrize("case", UNSEEN, ids=lambda case: f"{case.rule}: {case.name}")
def test_a_missing_fact_is_one_that_the_house_can_hold_or_a_look_that_can_be_recorded(case: Case) -> None:
    """An empty field means a look or a measurement under the rule itself."""
    house, ref = case.build()
    subject = house.site if ref.kind == "job" else house.find(ref)

    missing = judge(RULES[case.rule], subject, house, case.edition(case.years[0])).missing

    assert missing
    for each in missing:
        assert each.words.strip()
        if each.field:
            kind, _, name = each.field.partition(".")
            assert kind in FACTS, each.field
            assert not name or name in HOLDS[kind], each.field
    if any(not each.field for each in missing):
        assert RULES[case.rule].recordable
