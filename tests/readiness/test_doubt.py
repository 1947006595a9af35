"""What is to be doubted about an article stands beside it, in words."""

from __future__ import annotations

from server.editions import load_edition
from server.editions.articles_read import article_read
from server.readiness.words import article_of, doubt_of
from server.rules.outcome import Missing, unseen
from server.rules.registry import RULES
from server.rules.rule import NOT_IN_EDITION

NOT_LOOKED = unseen("not-looked", Missing("a look"))


def test_a_number_that_was_read_is_not_doubted_and_one_that_was_not_is_told_as_from_memory() -> None:
    assert doubt_of("314.17(B)(1)") == ""
    assert doubt_of("999.1") == "number from memory"


def test_what_was_carried_says_so_before_anything_else() -> None:
    assert doubt_of("999.1", carried=True, from_memory=True) == "not verified for this edition"


def test_a_figure_from_memory_is_doubted_though_its_number_was_read() -> None:
    assert doubt_of("314.17(B)(1)", from_memory=True) == "from memory"


def test_every_finding_of_a_rule_tells_of_a_number_from_memory() -> None:
    code = load_edition(2023)
    rules = [rule for rule in RULES.values() if rule.recordable and rule.cites[2023] != NOT_IN_EDITION]

    told = {rule.id: article_of(rule, NOT_LOOKED, code)[1] for rule in rules}

    assert {"", "number from memory"} == set(told.values())
    assert all((told[rule.id] == "") == article_read(rule.cites[2023]) for rule in rules)
