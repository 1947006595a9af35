"""The hookup sheet: the contract's words in and out, and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.published_examples import asked, sheet_client
from tests.reckon.hookup.circuit_graph import complaints

Json = dict[str, Any]


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


def pair() -> Json:
    """Two locations, feed at one, light at the other."""
    return {
        "nodes": [
            {"id": "P", "kind": "source"},
            {"id": "A", "kind": "box"},
            {"id": "B", "kind": "box"},
            {"id": "L", "kind": "box"},
        ],
        "cables": [
            {"id": "c0", "a": "P", "b": "A", "insulated": 2, "awg": "14", "kind": "nm-b"},
            {"id": "c1", "a": "A", "b": "B", "insulated": 3, "awg": "14", "kind": "nm-b"},
            {"id": "c2", "a": "B", "b": "L", "insulated": 2, "awg": "14", "kind": "nm-b"},
        ],
        "devices": [
            {"id": "S1", "node": "A", "kind": "switch", "controls": ["L1"]},
            {"id": "S2", "node": "B", "kind": "switch", "controls": ["L1"]},
            {"id": "L1", "node": "L", "kind": "luminaire"},
        ],
    }


def errors_of(client: TestClient, body: Json) -> dict[str, str]:
    response = client.post("/api/sheets/hookup", json=body)
    assert response.status_code == 422
    assert response.headers["content-type"] == "application/problem+json"
    return {error["field"]: error["expected"] for error in response.json()["errors"]}


def test_a_whole_answer_over_http(client: TestClient) -> None:
    response = client.post("/api/sheets/hookup", json=pair() | {"edition": "2020"})

    assert response.status_code == 200
    answer = response.json()
    assert answer["edition"] == "2020"
    assert answer["confidence"] == "derived"
    assert "404.2(C)" in answer["cites"]
    assert answer["steps"][0]["text"] == "4 nodes, 3 cables, 2 switches, 1 other device"
    result = answer["result"]
    assert (result["possible"], result["why"], result["short"], result["cheapest"]) == (True, None, [], [])
    assert result["truth"] == [
        {"positions": {"S1": "1", "S2": "1"}, "on": ["L1"]},
        {"positions": {"S1": "1", "S2": "2"}, "on": []},
        {"positions": {"S1": "2", "S2": "1"}, "on": []},
        {"positions": {"S1": "2", "S2": "2"}, "on": ["L1"]},
    ]
    assert (result["splices"], result["reidentified"], result["conductors"]) == (2, 0, 7)
    assert complaints(pair(), result) == []


def test_a_box_is_written_out_in_the_words_of_the_contract() -> None:
    plan = asked("hookup", pair())["plan"]

    box = next(box for box in plan["boxes"] if box["node"] == "A")
    assert box["joins"] == [
        [{"cable": "c0", "color": "white"}, {"cable": "c1", "color": "white"}],
        [{"cable": "c0", "color": "black"}, {"device": "S1", "terminal": "common"}],
        [{"cable": "c1", "color": "black"}, {"device": "S1", "terminal": "traveler_1"}],
        [{"cable": "c1", "color": "red"}, {"device": "S1", "terminal": "traveler_2"}],
    ]
    assert box["grounds"] == [{"cable": "c0", "color": "bare"}, {"cable": "c1", "color": "bare"}]
    assert plan["cables"][0] == {
        "id": "c0",
        "conductors": [
            {"color": "black", "reidentified_as": None, "signal": "hot"},
            {"color": "white", "reidentified_as": None, "signal": "neutral"},
        ],
    }
    source = next(box for box in plan["boxes"] if box["node"] == "P")
    assert [{"cable": "c0", "color": "black"}, {"device": "P", "terminal": "hot"}] in source["joins"]


def test_a_short_cable_is_named_with_what_it_needs_and_the_whole_cheapest_plan() -> None:
    request = pair()
    request["cables"][1]["insulated"] = 2

    result = asked("hookup", request)

    assert (result["possible"], result["plan"], result["splices"]) == (False, None, None)
    assert result["short"] == [
        {
            "cable": "c1",
            "has": 2,
            "needs": 3,
            "signals": ["neutral", "traveler 1 (S1 to S2)", "traveler 2 (S1 to S2)"],
        }
    ]
    assert [(need["cable"], need["insulated"]) for need in result["cheapest"]] == [
        ("c0", 2),
        ("c1", 3),
        ("c2", 2),
    ]
    assert result["why"].startswith("Cable c1 from A to B has 2 insulated conductors and needs 3: ")


@pytest.mark.parametrize(
    ("place", "value", "field", "says"),
    [
        (("cables", 1, "b"), "Z", "cables.1.b", "a node for this end of cable c1"),
        (("cables", 1, "insulated"), 0, "cables.1.insulated", "greater than or equal to 1"),
        (("cables", 1, "colors"), ["black"], "cables.1.colors", "3 colors"),
        (("cables", 1, "id"), "c0", "cables.1.id", "no other of cables has"),
        (("cables", 1, "length_ft"), 5, "cables.1.length_ft", "Extra inputs"),
        (("cables", 1, "awg"), "15", "cables.1.awg", "match pattern"),
        (("devices", 0, "node"), "Z", "devices.0.node", "the node that S1 is in"),
        (("devices", 0, "controls"), ["L1", "L9"], "devices.0.controls.1", "the id of a device"),
        (("devices", 0, "controls"), ["S2"], "devices.0.controls.0", "S2 is a switch"),
        (("devices", 0, "kind"), "button", "devices.0.kind", "switch"),
        (("devices", 0, "ways"), 5, "devices.0.ways", "single-pole"),
        (("devices", 2, "controls"), ["L1"], "devices.2.controls", "only a switch controls"),
        (("devices", 2, "protects"), ["L1"], "devices.2.protects", "only a gfci protects"),
        (("devices", 2, "split"), "top", "devices.2.split", "only a receptacle is split"),
        (("devices", 2, "split"), "left", "devices.2.split", "top"),
        (("nodes", 1, "kind"), "panel", "nodes.1.kind", "source"),
        (("nodes", 1, "id"), "", "nodes.1.id", "at least 1 character"),
        (("nodes", 1, "legs"), 2, "nodes.1.legs", "multiwire"),
    ],
)
def test_a_wrong_field_is_named_with_what_was_expected(
    client: TestClient, place: tuple[str, int, str], value: object, field: str, says: str
) -> None:
    body = pair()
    body[place[0]][place[1]][place[2]] = value

    assert says in errors_of(client, body)[field]


def test_a_missing_list_an_unknown_field_and_an_unknown_node_are_named(client: TestClient) -> None:
    body = pair()
    del body["cables"]

    assert errors_of(client, body) == {"cables": "Field required"}
    assert "wires" in errors_of(client, pair() | {"wires": []})
    assert "neutral_at_switch" in errors_of(client, pair() | {"neutral_at_switch": ["Z"]})


@pytest.mark.parametrize(
    ("said", "possible"),
    [
        (None, False),
        ("required", False),
        ("exempt", True),
        (["A"], True),
        (["L"], False),
        ([], False),
        ({"exempt": ["A"]}, True),
        ({"required": ["A"]}, False),
        ({}, False),
    ],
)
def test_a_neutral_at_the_switch_is_asked_for_as_said(said: object, possible: bool) -> None:
    request = {
        "nodes": [{"id": "P", "kind": "source"}, {"id": "L", "kind": "box"}, {"id": "A", "kind": "box"}],
        "cables": [
            {"id": "c0", "a": "P", "b": "L", "insulated": 2},
            {"id": "c1", "a": "L", "b": "A", "insulated": 2},
        ],
        "devices": [
            {"id": "S1", "node": "A", "kind": "switch", "controls": ["L1"]},
            {"id": "L1", "node": "L", "kind": "luminaire"},
        ],
        "neutral_at_switch": said,
    }

    assert asked("hookup", request)["possible"] is possible


@pytest.mark.parametrize("ways", [None, 3, "3", "three-way", "3-way", "Three_Way"])
def test_ways_are_said_as_number_or_word_or_follow_from_the_controls(ways: object) -> None:
    request = pair()
    for switch in request["devices"][:2]:
        switch["ways"] = ways

    assert asked("hookup", request)["possible"]


def test_a_ring_is_said_in_a_sentence_even_where_it_can_be_kept_open() -> None:
    request = pair()
    request["cables"].append({"id": "c3", "a": "L", "b": "A", "insulated": 2})

    result = asked("hookup", request)

    assert result["possible"]
    assert complaints(request, result) == []
    assert result["why"].startswith("Cables c1, c2 and c3 close a ring through A, B and L: the joins in ")


def test_a_switch_said_to_be_single_pole_is_named() -> None:
    request = pair()
    request["devices"][1]["ways"] = "single-pole"

    assert "Switch S2 in B is single-pole" in asked("hookup", request)["why"]


def test_loads_that_no_switch_turns_are_listed_apart_from_the_truth() -> None:
    request = pair()
    request["devices"].append({"id": "R1", "node": "A", "kind": "receptacle"})

    result = asked("hookup", request)

    assert result["always_live"] == ["R1"]
    assert all("R1" not in row["on"] for row in result["truth"])


def test_switches_that_act_apart_share_one_table_while_it_is_small() -> None:
    request = pair()
    request["devices"] += [
        {"id": "S3", "node": "B", "kind": "switch", "controls": ["R1"]},
        {"id": "R1", "node": "B", "kind": "receptacle"},
    ]
    request["cables"][1]["insulated"] = 4

    result = asked("hookup", request)

    assert len(result["truth"]) == 8
    assert {frozenset(row["positions"]) for row in result["truth"]} == {frozenset(("S1", "S2", "S3"))}
    assert complaints(request, result) == []


def test_many_switches_have_a_table_for_each_set_that_acts_together() -> None:
    request: Json = {
        "nodes": [{"id": "P", "kind": "source"}, {"id": "A", "kind": "box"}],
        "cables": [{"id": "c0", "a": "P", "b": "A", "insulated": 2}],
        "devices": [],
    }
    for number in range(11):
        request["devices"] += [
            {"id": f"S{number}", "node": "A", "kind": "switch", "controls": [f"L{number}"]},
            {"id": f"L{number}", "node": "A", "kind": "luminaire"},
        ]

    result = asked("hookup", request)

    assert len(result["truth"]) == 22
    assert result["truth"][1] == {"positions": {"S0": "on"}, "on": ["L0"]}
    assert complaints(request, result) == []


def test_more_than_a_circuit_can_hold_is_refused(client: TestClient) -> None:
    body = pair()
    body["nodes"] += [{"id": f"N{number}", "kind": "box"} for number in range(300)]

    assert "at most 300" in errors_of(client, body)["nodes"]


def test_the_document_describes_the_sheet(client: TestClient) -> None:
    document = client.get("/openapi.json").json()

    operation = document["paths"]["/api/sheets/hookup"]["post"]
    assert operation["summary"] == "Hookup"
    asks = document["components"]["schemas"]["HookupRequest"]["properties"]
    assert {"nodes", "cables", "devices", "neutral_at_switch", "edition"} == set(asks)
    gives = document["components"]["schemas"]["HookupResult"]["properties"]
    assert {"possible", "plan", "truth", "splices", "reidentified", "short", "cheapest"} <= set(gives)
