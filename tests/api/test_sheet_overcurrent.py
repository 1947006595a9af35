"""The overcurrent sheet: what publications say, and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.published_examples import asked, differences, examples, named, sheet_client

EXAMPLES = examples("conductors/overcurrent_examples.json")


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_a_published_statement_holds_in_every_edition(example: dict[str, Any], edition: str) -> None:
    came = asked("overcurrent", example["request"], edition)

    assert differences(example["published"], came) == {}
    assert differences(example["ours"], came) == {}


@pytest.mark.parametrize(
    ("body", "field", "says"),
    [
        ({"awg": "12", "load_a": 10, "load_va": 1200}, "load_va", "came both"),
        (
            {"awg": "12", "load_a": 10, "continuous_va": 1320},
            "continuous_va",
            "a part of the load (10 A), came 11 A",
        ),
        ({"awg": "12", "load_a": 10, "continuous_a": 11}, "continuous_a", "a part of the load"),
        ({"awg": "12", "continuous_va": 10, "continuous_a": 1}, "continuous_a", "came both"),
        ({"awg": "12", "load_a": -1}, "load_a", "greater than or equal to 0"),
        ({"awg": "12", "volts": 0}, "volts", "greater than 0"),
        ({"awg": "12", "outlets": ["duplex"]}, "outlets.0", "integer"),
        ({"awg": "12", "small_conductor_exempt": "heater"}, "small_conductor_exempt", "motor"),
        ({"awg": "12", "breaker": 20}, "breaker", "Extra inputs"),
    ],
)
def test_a_wrong_field_is_named_with_what_was_expected(
    client: TestClient, body: dict[str, Any], field: str, says: str
) -> None:
    response = client.post("/api/sheets/overcurrent", json=body)

    assert response.status_code == 422
    (error,) = response.json()["errors"]
    assert error["field"] == field
    assert says in error["expected"]


def test_volt_amperes_and_amperes_are_one_load() -> None:
    by_va = asked("overcurrent", {"awg": "12", "load_va": 3840, "volts": 240, "continuous_va": 1920})
    by_a = asked("overcurrent", {"awg": "12", "load_a": 16, "continuous_a": 8})

    assert by_va == by_a
    assert by_va["design_a"] == 18


def test_volts_that_are_not_given_are_said_to_be_taken_as_120(client: TestClient) -> None:
    came = client.post("/api/sheets/overcurrent", json={"awg": "12", "continuous_va": 1920}).json()

    assert came["result"]["design_a"] == 20
    assert "Volts not given: 120 V taken" in [step["text"] for step in came["steps"] if not step["applied"]]


def test_the_answer_says_why_in_one_sentence_with_the_numbers() -> None:
    result = asked("overcurrent", {"awg": "14", "kind": "nm-b", "outlets": [20, 20]})

    assert result["allowed"] is False
    assert result["why"] == "14 AWG copper may be protected at 15 A at most, not 20 A."
    assert (result["max_device_a"], result["device_a"], result["min_conductor_awg"]) == (15, 20, "12")
    assert result["most_cord_load_a"] == 16
