"""The wall-receptacles sheet over HTTP: the contract's fields, exact lengths, and refusals that name the field."""

from __future__ import annotations

from typing import Any

import httpx
import pytest

from tests.published_examples import sheet_client

ROOM: dict[str, Any] = {
    "room": "bedroom",
    "closed": True,
    "walls": [
        {"length_in": "12'", "openings": [{"from_in": 20, "to_in": 56, "kind": "door"}]},
        {"length_in": 144, "name": "north"},
        {"length_in": "12 ft", "openings": [{"from_in": 40, "to_in": "6' 4\"", "kind": "window"}]},
        {"length_in": 144},
    ],
}


CLIENT = sheet_client()


def post(body: dict[str, Any]) -> httpx.Response:
    return CLIENT.post("/api/sheets/wall-receptacles", json=body)


def test_the_answer_has_the_fields_of_the_contract() -> None:
    response = post({**ROOM, "receptacles": [{"wall": 1, "at_in": 72, "height_in": 16}]})

    assert response.status_code == 200
    body = response.json()
    assert set(body) == {"result", "edition", "steps", "cites", "confidence"}
    result = body["result"]
    assert {"spaces", "uncovered", "complies", "fewest", "added"} <= set(result)
    (space,) = result["spaces"]
    assert space["from"] == {"wall": 0, "at_in": 56, "name": "wall A"}
    assert space["to"] == {"wall": 0, "at_in": 20, "name": "wall A"}
    assert space["length_in"] == 540
    assert result["fewest"] == 4
    assert result["complies"] is False
    assert [set(item) for item in result["added"]] == [{"wall", "at_in", "name", "ground"}] * 4
    assert "210.52(A)(1)" in body["cites"]


def test_a_wall_goes_by_its_name_in_the_steps_and_by_its_number_in_the_result() -> None:
    body = post({**ROOM, "receptacles": [{"wall": 1, "at_in": 72}]}).json()

    assert any("6 ft on north" in step["text"] for step in body["steps"])
    assert {"wall": 1, "at_in": 72, "name": "north"} in [g["to"] for g in body["result"]["spaces"][0]["gaps"]]


def test_adding_what_is_proposed_makes_the_room_comply() -> None:
    first = post({**ROOM, "stud_spacing_in": 16}).json()["result"]
    there = [{"wall": item["wall"], "at_in": item["at_in"]} for item in first["added"]]

    second = post({**ROOM, "stud_spacing_in": 16, "receptacles": there}).json()["result"]

    assert all(item["at_in"] % 16 == 0 for item in there)
    assert (second["complies"], second["added"], second["uncovered"]) == (True, [], [])


def test_three_walls_close_by_themselves_and_two_do_not() -> None:
    def spaces(count: int) -> list[Any]:
        walls = [{"length_in": 100, "openings": [{"from_in": 40, "to_in": 60, "kind": "door"}]}] * count
        return [s["length_in"] for s in post({"room": "den", "walls": walls}).json()["result"]["spaces"]]

    assert spaces(3) == [80, 80, 80]
    assert spaces(2) == [40, 80, 40]


@pytest.mark.parametrize(
    ("more", "counts"),
    [
        ({}, True), ({"switched": True}, False), ({"switched": "half"}, True), ({"switched": "whole"}, False),
        ({"fixed_in": "cabinet"}, False), ({"fixed_in": True}, False), ({"fixed_in": False}, True),
        ({"fixed_in": None}, True), ({"height_in": "5' 6\""}, True), ({"height_in": "5' 6 1/16\""}, False),
        ({"floor_offset_in": 18}, True), ({"floor_offset_in": 18.5}, False),
    ],
)  # fmt: skip
def test_a_receptacle_counts_by_what_is_said_of_it(more: dict[str, Any], counts: bool) -> None:
    body = {"room": "den", "closed": False, "walls": [{"length_in": 100}]}

    result = post({**body, "receptacles": [{"wall": 0, "at_in": 50, **more}]}).json()["result"]

    assert result["complies"] is counts
    assert len(result["uncounted"]) == (not counts)


@pytest.mark.parametrize(
    ("body", "field", "said"),
    [
        ({"room": "den"}, "walls", "required"),
        ({"room": "den", "walls": []}, "walls", "at least 1"),
        ({"room": "den", "walls": [{"length_in": 0}]}, "walls.0.length_in", "greater than 0"),
        ({"room": "den", "walls": [{"length_in": "tall"}]}, "walls.0.length_in", "expected a length"),
        ({"room": "den", "walls": [{"length_in": 10, "colour": "red"}]}, "walls.0.colour", "not permitted"),
        ({"room": "den", "walls": [{"length_in": 10, "openings": [{"from_in": 1, "to_in": 9, "kind": "dor"}]}]},
         "walls.0.openings.0.kind", "came 'dor'"),
        ({"room": "den", "walls": [{"length_in": 10, "openings": [{"from_in": 9, "to_in": 1, "kind": "door"}]}]},
         "walls.0.openings.0", "beyond from_in"),
        ({"room": "den", "walls": [{"length_in": 10, "openings": [{"from_in": 1, "to_in": 11, "kind": "door"}]}]},
         "walls.0", "within 10 in"),
        ({"room": "den", "walls": [{"length_in": 10}], "receptacles": [{"wall": 1, "at_in": 1}]},
         "receptacles", "expected a wall from 0 to 0, came 1"),
        ({"room": "den", "walls": [{"length_in": 10}], "receptacles": [{"wall": 0, "at_in": 11}]},
         "receptacles", "up to 10 in"),
        ({"room": "den", "walls": [{"length_in": 10}], "receptacles": [{"wall": 0, "at_in": 1, "fixed_in": "jar"}]},
         "receptacles.0.fixed_in", "came 'jar'"),
        ({"room": "den", "walls": [{"length_in": 10}], "receptacles": [{"wall": 0, "at_in": 1, "id": "x"}] * 2},
         "receptacles", "id of its own"),
        ({"room": "den", "walls": [{"length_in": 10}], "stud_spacing_in": 0}, "stud_spacing_in", "greater than or equal to 6"),
        ({"room": "den", "walls": [{"length_in": 10}], "edition": "1999"}, "edition", "2017"),
    ],
)  # fmt: skip
def test_a_request_that_cannot_be_is_refused_by_field(body: dict[str, Any], field: str, said: str) -> None:
    response = post(body)

    assert response.status_code == 422
    assert response.headers["content-type"] == "application/problem+json"
    assert {error["field"] for error in response.json()["errors"]} == {field}
    assert said in response.json()["errors"][0]["expected"]


def test_a_very_large_room_is_answered() -> None:
    walls = [{"length_in": 3000} for _ in range(60)]

    result = post({"room": "den", "walls": walls, "stud_spacing_in": 16}).json()["result"]

    assert result["fewest"] == 1250
    assert len(result["added"]) >= 1250


@pytest.mark.parametrize("room", ["bathroom", "garage", "closet"])
def test_a_room_that_the_rule_does_not_reach_is_neither_clear_nor_short(room: str) -> None:
    result = post({**ROOM, "room": room}).json()["result"]

    assert (result["complies"], result["rule"], result["fewest"], result["added"]) == (None, "outside", 0, [])


def test_the_newest_verified_edition_is_used_where_none_is_named_and_2026_is_told_as_carried() -> None:
    assert post(ROOM).json()["edition"] == "2023"
    assert post({**ROOM, "edition": "2026"}).json()["confidence"] == "carry"
