"""The counter-receptacles sheet over HTTP: the contract's fields, each edition, refusals that name the field."""

from __future__ import annotations

from typing import Any

import httpx
import pytest

from tests.published_examples import sheet_client

KITCHEN: dict[str, Any] = {
    "counters": [
        {"kind": "wall", "length_in": "10'", "depth_in": 25, "breaks": [{"from_in": 40, "to_in": 70, "kind": "sink"}]},
        {"kind": "island", "length_in": 96, "depth_in": 40},
        {"kind": "peninsula", "length_in": 60, "depth_in": 24, "receptacles": [{"at_in": 50, "below_in": 8, "overhang_in": 3}]},
    ]
}  # fmt: skip


CLIENT = sheet_client()


def post(body: dict[str, Any]) -> httpx.Response:
    return CLIENT.post("/api/sheets/counter-receptacles", json=body)


@pytest.mark.parametrize(("edition", "fewest"), [("2017", 5), ("2020", 7), ("2023", 3), ("2026", 3)])
def test_a_kitchen_needs_what_its_edition_asks(edition: str, fewest: int) -> None:
    """Wall: 40 in -> 1, 50 in -> 2. 2017: one for each top. 2020: 26.7 ft2 -> 2, 10 ft2 -> 2. From 2023: none."""
    result = post({**KITCHEN, "edition": edition}).json()["result"]

    assert result["fewest"] == fewest
    assert result["complies"] is False
    assert [space["length_in"] for space in result["spaces"][:2]] == [40, 50]
    assert len(result["not_allowed"]) == (edition == "2026")


def test_the_answer_has_the_fields_of_the_contract() -> None:
    body = post({**KITCHEN, "edition": "2020"}).json()

    assert set(body) == {"result", "edition", "steps", "cites", "confidence"}
    result = body["result"]
    assert {"spaces", "uncovered", "complies", "fewest", "added"} <= set(result)
    assert result["spaces"][1]["from"] == {"counter": 0, "at_in": 70, "name": "counter A"}
    assert {"from", "to", "length_in"} <= set(result["uncovered"][0])
    assert {(item["counter"], item["at_in"]) for item in result["added"]} >= {(0, 20), (1, 24), (1, 72)}
    assert "210.52(C)(2)(a)" in body["cites"]


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_adding_what_is_proposed_makes_the_kitchen_comply(edition: str) -> None:
    kitchen = {
        "counters": [{**counter, "provision": True} for counter in KITCHEN["counters"]],
        "edition": edition,
    }
    first = post(kitchen).json()["result"]
    for item in first["added"]:
        counter = kitchen["counters"][item["counter"]]
        counter["receptacles"] = [*counter.get("receptacles", []), {"at_in": item["at_in"]}]

    second = post(kitchen).json()["result"]

    assert (second["complies"], second["added"], second["uncovered"]) == (True, [], [])


def test_an_island_of_2023_with_nothing_said_of_a_provision_is_not_called_clear() -> None:
    result = post(
        {"counters": [{"kind": "island", "length_in": 90, "depth_in": 40}], "edition": "2023"}
    ).json()["result"]

    assert (result["complies"], result["fewest"], len(result["unseen"])) == (None, 0, 1)


@pytest.mark.parametrize(
    ("counter", "field", "said"),
    [
        ({"length_in": 0}, "counters.0.length_in", "greater than 0"),
        ({"length_in": 40, "kind": "shelf"}, "counters.0.kind", "'wall'"),
        ({"length_in": 40, "width": 3}, "counters.0.width", "not permitted"),
        ({"length_in": 40, "breaks": [{"from_in": 1, "to_in": 9, "kind": "piano"}]},
         "counters.0.breaks.0.kind", "came 'piano'"),
        ({"length_in": 40, "breaks": [{"from_in": 9, "to_in": 9, "kind": "sink"}]},
         "counters.0.breaks.0", "beyond from_in"),
        ({"length_in": 40, "breaks": [{"from_in": 9, "to_in": 49, "kind": "sink"}]}, "counters.0", "break 0"),
        ({"length_in": 40, "receptacles": [{"at_in": 41}]}, "counters.0", "receptacle 0"),
        ({"length_in": 40, "receptacles": [{"at_in": 4, "id": "x"}] * 2}, "counters", "id of its own"),
        ({"length_in": 40, "continues": True}, "counters", "the one that it continues"),
    ],
)  # fmt: skip
def test_a_counter_that_cannot_be_is_refused_by_field(counter: dict[str, Any], field: str, said: str) -> None:
    response = post({"counters": [counter]})

    assert response.status_code == 422
    assert {error["field"] for error in response.json()["errors"]} == {field}
    assert said in response.json()["errors"][0]["expected"]
