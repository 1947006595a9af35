"""The pages of the rule book: every rule has one, and they are found."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient

from server.rules.registry import RULES

As = Callable[[str], TestClient]


def test_every_rule_has_its_page_with_why_look_and_cure(as_: As) -> None:
    client = as_("gus")
    for rule in RULES.values():
        page = client.get(f"/rules/{rule.id}")

        assert page.status_code == 200, rule.id
        for words in ("Why", "What to look for", "The cure", "NEC 2017", "NEC 2026"):
            assert words in page.text


def test_words_find_rules(as_: As) -> None:
    page = as_("gus").get("/rules?q=314.16").text

    assert "/rules/box-fill" in page
    assert "Nothing found" in as_("gus").get("/rules?q=zebra").text


@pytest.mark.parametrize(
    "path",
    ["/rules?stage=nonsense", "/rules?q=%27%3B--&stage=rough-in", "/rules/editions?earlier=2017&later=2023"],
)
def test_odd_questions_are_answered(as_: As, path: str) -> None:
    assert as_("gus").get(path).status_code == 200


@pytest.mark.parametrize("path", ["/rules/no-such-rule", "/rules/editions?earlier=2014&later=2023"])
def test_what_is_not_there_is_not_found(as_: As, path: str) -> None:
    assert as_("gus").get(path).status_code == 404


def test_it_requires_sign_in(client: TestClient, as_: As) -> None:
    as_("gus")

    assert client.get("/rules").status_code == 303


def test_a_rules_page_shows_what_good_looks_like(as_: As) -> None:
    measured = as_("gus").get("/rules/sheath-into-box").text
    elsewhere = as_("gus").get("/rules/meter-height").text

    for page in (measured, elsewhere):
        assert "What good looks like" in page
        assert "css/drawing" in page  # without it everything is filled black
        assert '<svg xmlns="http://www.w3.org/2000/svg" class="drawing"' in page
    assert re.search(r"<text[^>]*>at least 1/4 in</text>", measured)
    assert "Here: at most" in elsewhere
