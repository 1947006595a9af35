"""The box-fill sheet against published examples, and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.published_examples import asked, differences, examples, named, sheet_client

EXAMPLES = examples("boxes/box_fill_examples.json")
EDITIONS = ("2017", "2020", "2023", "2026")


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


def reckoned(example: dict[str, Any], edition: str) -> dict[str, Any]:
    came = asked("box-fill", example["request"], edition)
    if "less" in example:
        came["required_in3"] -= asked("box-fill", example["less"], edition)["required_in3"]
    return came


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_a_published_example_comes_out_as_the_edition_has_it(example: dict[str, Any], edition: str) -> None:
    assert differences(example["ours"][edition], reckoned(example, edition)) == {}


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and e["agrees"]], ids=named)
def test_the_published_answer_is_ours_in_the_edition_that_it_was_given_for(example: dict[str, Any]) -> None:
    agreeing = [year for year in EDITIONS if not differences(example["published"], reckoned(example, year))]

    assert agreeing, example["why"]


@pytest.mark.parametrize("example", [e for e in EXAMPLES if e["published"] and not e["agrees"]], ids=named)
def test_a_published_answer_that_is_wrong_is_ours_in_no_edition(example: dict[str, Any]) -> None:
    assert example["why"]
    for year in EDITIONS:
        assert differences(example["published"], reckoned(example, year))


def test_how_many_examples_are_checked() -> None:
    answered = [e for e in EXAMPLES if e["published"]]

    assert (len(answered), sum(e["agrees"] for e in answered), len(EXAMPLES)) == (27, 24, 32)


def errors_of(client: TestClient, body: dict[str, Any]) -> dict[str, str]:
    response = client.post("/api/sheets/box-fill", json=body)
    assert response.status_code == 422
    assert response.headers["content-type"] == "application/problem+json"
    return {error["field"]: error["expected"] for error in response.json()["errors"]}


@pytest.mark.parametrize(
    ("body", "field", "says"),
    [
        ({"box": {"table": "4 x 7 square"}}, "box.table", "4 x 1-1/2 square"),
        ({"box": {"table": "4 x 1-1/2"}}, "box.table", "which of these is meant"),
        ({"box": {}}, "box", "table, volume_in3 or shape"),
        ({"box": {"volume_in3": 0}}, "box.volume_in3", "greater than 0"),
        ({"conductors": [{"awg": "13", "count": 1}]}, "conductors.0.awg", "pattern"),
        ({"conductors": [{"awg": "275", "count": 1}]}, "conductors.0.awg", "Chapter 9 Table 8"),
        ({"conductors": [{"awg": "14", "count": -1}]}, "conductors.0.count", "greater than or equal to 0"),
        ({"conductors": [{"awg": "14", "role": "neutral"}]}, "conductors.0.role", "insulated"),
        ({"devices": [{"kind": "switch"}]}, "devices", "largest_awg for the switch"),
        ({"fittings": {"bolt": 1}}, "fittings.bolt", "Extra inputs"),
        ({"colour": "blue"}, "colour", "Extra inputs"),
        ({"clamps": "inside"}, "clamps", "internal"),
        ({"barriers": [{}]}, "body", "expected spaces with barriers"),
        ({"conductors": [{"awg": "14"}], "spaces": [{}]}, "body", "contents within spaces"),
    ],
)
def test_a_wrong_field_is_named_with_what_was_expected(
    client: TestClient, body: dict[str, Any], field: str, says: str
) -> None:
    errors = errors_of(client, body)

    assert list(errors) == [field]
    assert says in errors[field]


def test_an_answer_shows_its_steps_articles_and_how_well_they_are_known(client: TestClient) -> None:
    body = {
        "edition": "2023",
        "box": {"table": "4 x 1-1/2 square"},
        "extensions_in3": [7.5],
        "conductors": [
            {"awg": "12", "count": 4, "role": "insulated"},
            {"awg": "12", "count": 2, "role": "ground"},
            {"awg": "12", "count": 2, "role": "pigtail"},
        ],
        "devices": [{"kind": "receptacle", "largest_awg": "12", "gangs": 1}],
        "clamps": "internal",
        "fittings": {"stud": 0, "hickey": 1},
        "terminal_blocks": [{"awg": "14"}],
    }

    came = client.post("/api/sheets/box-fill", json=body).json()

    # 4 + 1 clamps + 1 hickey + 2 yoke + 1 ground = 9 x 2.25, and 2.0 for the block.
    assert came["result"]["required_in3"] == 22.25
    assert came["result"]["available_in3"] == 28.5
    assert came["result"]["fits"] is True
    assert came["result"]["smallest_extension_in3"] == 0
    assert came["cites"][:6] == [
        "314.16(B)(1)", "314.16(B)(2)", "314.16(B)(3)", "314.16(B)(4)", "314.16(B)(5)", "314.16(B)(6)",
    ]  # fmt: skip
    assert came["confidence"] == "two"
    skipped = [step["text"] for step in came["steps"] if not step["applied"]]
    assert skipped == ["2 pigtails 12 AWG do not leave the box: no allowance"]


def test_a_later_edition_that_nobody_verified_is_shown_as_carried(client: TestClient) -> None:
    body = {"edition": "2026", "conductors": [{"awg": "14", "count": 2}]}

    assert client.post("/api/sheets/box-fill", json=body).json()["confidence"] == "carry"


def test_large_conductors_are_sent_to_the_pull_box_rules(client: TestClient) -> None:
    body = {"box": {"volume_in3": 42}, "conductors": [{"awg": "4", "count": 3}]}

    result = client.post("/api/sheets/box-fill", json=body).json()["result"]

    assert (result["required_in3"], result["fits"], result["smallest_box"]) == (None, None, None)
    assert "314.28" in result["outside"]


def test_a_shape_that_is_asked_for_is_kept_and_the_smallest_of_all_is_named_beside_it() -> None:
    request = {"box": {"shape": "octagonal"}, "conductors": [{"awg": "12", "count": 8}]}

    result = asked("box-fill", request)

    assert (result["required_in3"], result["available_in3"]) == (18, None)
    assert result["smallest_box"] == "4 x 2-1/8 octagonal"
    assert result["smallest_box_any_shape"] == "4 x 1-1/4 square"
    assert result["smallest_by_shape"]["device"] == "3 x 2 x 3-1/2 device"


def test_a_divided_box_is_reckoned_space_by_space() -> None:
    request = {
        "box": {"table": "4 x 2-1/8 square"},
        "barriers": [{"material": "nonmetallic"}],
        "spaces": [
            {"name": "line voltage", "conductors": [{"awg": "14", "count": 8}]},
            {"name": "low voltage", "volume_in3": 13.3, "conductors": [{"awg": "18", "count": 4}]},
        ],
    }

    result = asked("box-fill", request)

    # 30.3 - 1.0 = 29.3; 13.3 is given to one, 16.0 is left for the other, and 8 x 2.0 fills it exactly.
    assert [(s["required_in3"], s["available_in3"], s["fits"]) for s in result["spaces"]] == [
        (16, 16, True),
        (6, 13.3, True),
    ]
    assert (result["required_in3"], result["available_in3"], result["fits"]) == (22, 29.3, True)
