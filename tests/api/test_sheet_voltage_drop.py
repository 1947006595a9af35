"""The voltage-drop sheet against published examples, and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.published_examples import asked, differences, examples, named, sheet_client

EXAMPLES = examples("conductors/voltage_drop_examples.json")
RUN = {"volts": 120, "load_a": 16, "one_way_ft": 100, "awg": "12"}


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_a_published_example_comes_out_the_same_in_every_edition(
    example: dict[str, Any], edition: str
) -> None:
    assert differences(example["ours"], asked("voltage-drop", example["request"], edition)) == {}


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and e["agrees"]], ids=named)
def test_the_published_answer_is_ours(example: dict[str, Any]) -> None:
    assert differences(example["published"], asked("voltage-drop", example["request"])) == {}


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and not e["agrees"]], ids=named)
def test_a_published_answer_that_is_wrong_is_not_ours(example: dict[str, Any]) -> None:
    assert example["why"]
    assert differences(example["published"], asked("voltage-drop", example["request"]))


def test_which_published_answers_are_disputed() -> None:
    assert [e["id"] for e in EXAMPLES if e["published"] and not e["agrees"]] == ["voltexam_12"]
    assert len({e["id"] for e in EXAMPLES}) == 6


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"phases": 2}, "phases", "1 or 3"),
        ({"volts": 0}, "volts", "greater than 0"),
        ({"method": "ohm"}, "method", "table8"),
        ({"method": "table9", "awg": "700"}, "awg", "Chapter 9 Table 9"),
        ({"method": "table9", "awg": "14", "material": "aluminum"}, "awg", "from 12 to 1000"),
        ({"power_factor": 1.2}, "power_factor", "less than or equal to 1"),
        ({"conduit": "copper"}, "conduit", "pvc"),
        ({"feet": 10}, "feet", "Extra inputs"),
    ],
)
def test_a_wrong_field_is_named_with_what_was_expected(
    client: TestClient, change: dict[str, Any], field: str, says: str
) -> None:
    response = client.post("/api/sheets/voltage-drop", json={**RUN, **change})

    assert response.status_code == 422
    (error,) = response.json()["errors"]
    assert error["field"] == field
    assert says in error["expected"]


def test_another_limit_is_answered_beside_the_recommended_one() -> None:
    result = asked("voltage-drop", {**RUN, "limit_percent": 5})

    assert (result["smallest_awg_for_3_percent"], result["smallest_awg_for_limit"]) == ("8", "10")
    assert result["limit_percent"] == 5


def test_the_steps_show_the_formula_with_its_numbers(client: TestClient) -> None:
    steps = client.post("/api/sheets/voltage-drop", json=RUN).json()["steps"]

    assert steps[0]["text"] == "2 × K 12.9 × 16 A × 100 ft ÷ 6,530 cmil"
    assert steps[0]["unit"] == "V"
