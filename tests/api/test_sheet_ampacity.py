"""The ampacity sheet against published examples, and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.published_examples import asked, differences, examples, named, sheet_client

EXAMPLES = examples("conductors/ampacity_examples.json")


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_a_published_example_comes_out_the_same_in_every_edition(
    example: dict[str, Any], edition: str
) -> None:
    assert differences(example["ours"], asked(example["sheet"], example["request"], edition)) == {}


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and e["agrees"]], ids=named)
def test_the_published_answer_is_ours(example: dict[str, Any]) -> None:
    assert differences(example["published"], asked(example["sheet"], example["request"])) == {}


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and not e["agrees"]], ids=named)
def test_a_published_answer_that_is_wrong_is_not_ours(example: dict[str, Any]) -> None:
    assert example["why"]
    assert differences(example["published"], asked(example["sheet"], example["request"]))


def test_which_published_answers_are_disputed() -> None:
    disputed = [e["id"] for e in EXAMPLES if e["published"] and not e["agrees"]]

    assert disputed == ["am07", "am08", "am15", "am17"]
    assert len({e["id"] for e in EXAMPLES}) == 14


@pytest.mark.parametrize(
    ("body", "field", "says"),
    [
        ({"awg": "14", "material": "aluminum"}, "awg", "aluminum of 12 AWG or larger"),
        ({"awg": "8000"}, "awg", "Chapter 9 Table 8"),
        ({"awg": 12}, "awg", "string"),
        ({"awg": "12", "insulation_c": 80}, "insulation_c", "60, 75 or 90"),
        ({"awg": "12", "terminal_c": 105}, "terminal_c", "60, 75 or 90"),
        ({"awg": "12", "kind": "romex"}, "kind", "nm-b"),
        ({"awg": "12", "ambient_f": 86, "ambient_c": 30}, "ambient_c", "came both"),
        ({"awg": "12", "length_together_in": "a while"}, "length_together_in", "expected a length"),
        ({"awg": "12", "bundle": 3}, "bundle", "Extra inputs"),
        ({}, "awg", "required"),
    ],
)
def test_a_wrong_field_is_named_with_what_was_expected(
    client: TestClient, body: dict[str, Any], field: str, says: str
) -> None:
    response = client.post("/api/sheets/ampacity", json=body)

    assert response.status_code == 422
    (error,) = response.json()["errors"]
    assert error["field"] == field
    assert says in error["expected"]


def test_an_answer_names_every_article_on_the_way(client: TestClient) -> None:
    body = {
        "edition": "2020", "awg": "12", "material": "copper", "kind": "nm-b", "insulation_c": 90, "terminal_c": 75,
        "ambient_f": 110, "current_carrying": 6, "spaced": False, "in_insulation": False,
        "length_together_in": "3' 0\"",
    }  # fmt: skip

    came = client.post("/api/sheets/ampacity", json=body).json()

    # 30 x 0.87 x 0.80 = 20.88; the 60 C column caps NM at 20 although 75 C terminals would take 25.
    assert came["result"]["derated_a"] == 20.88
    assert (came["result"]["terminal_limit_a"], came["result"]["cable_limit_a"]) == (25, 20)
    assert came["result"]["allowed_a"] == 20
    assert came["cites"] == [
        "Table 310.16", "Table 310.15(B)(1)", "Table 310.15(C)(1)", "334.80", "110.14(C)(1)",
    ]  # fmt: skip
    assert came["confidence"] == "two"


def test_an_ambient_too_hot_for_the_insulation_leaves_no_ampacity() -> None:
    result = asked("ampacity", {"awg": "12", "insulation_c": 60, "ambient_f": 132})

    assert (result["correction"], result["derated_a"], result["allowed_a"]) == (0, 0, 0)
