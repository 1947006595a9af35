"""The protection sheet over HTTP: the contract, defaults said aloud, names people use, bad input."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from tests.protection_facts import rows
from tests.published_examples import sheet_client

WHAT = ("gfci", "afci", "tamper_resistant", "weather_resistant")
RECEPTACLE = {"kind": "receptacle", "volts": 120, "amps": 20}


@pytest.fixture(scope="module")
def client() -> TestClient:
    return sheet_client()


def ask(client: TestClient, **body: Any) -> dict[str, Any]:
    answer = client.post("/api/sheets/protection", json=body)
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def test_the_answer_has_the_shape_of_the_contract(client: TestClient) -> None:
    found = ask(
        client, edition="2023", room="bathroom", outlet=RECEPTACLE, circuit={"volts": 120, "amps": 20}
    )

    assert set(found["result"]) == set(WHAT)
    for what in WHAT:
        assert found["result"][what]["required"] in (True, False, "inspector")
        assert found["result"][what]["why"].endswith(".")
        assert found["result"][what]["cites"]
    assert found["result"]["gfci"]["required"] is True
    assert found["result"]["gfci"]["cites"] == ["210.8(A)(1)"]
    assert found["edition"] == "2023"
    assert all(set(step) == {"text", "value", "unit", "cites", "applied"} for step in found["steps"])
    assert found["confidence"] == "two"


def test_the_default_edition_is_the_newest_verified(client: TestClient) -> None:
    assert ask(client, room="kitchen")["edition"] == "2023"


def test_a_2026_answer_is_shown_as_unverified(client: TestClient) -> None:
    assert ask(client, edition="2026", room="laundry", outlet=RECEPTACLE)["confidence"] == "carry"


def as_request(facts: dict[str, Any], year: str) -> dict[str, Any]:
    """A published row as somebody outside would ask it, in the contract's own fields where there is one."""
    outlet = {
        name: facts[name]
        for name in ("kind", "volts", "amps", "phases", "serves", "height_in", "dedicated", "readily_accessible",
                     "listed_hvac", "single", "part_of_equipment", "damp", "wet", "locking", "nongrounding")
        if name in facts
    }  # fmt: skip
    for name in ("from_sink_in", "from_tub_in"):
        if facts.get(name, "none") != "none":
            outlet[name] = facts[name]
    crossed = list(facts.get("path_crosses", []))
    if {"door", "cabinet door"} & set(crossed):
        outlet["behind_door"] = True
    outlet["path_crosses"] = [barrier for barrier in crossed if barrier not in ("door", "cabinet door")]
    circuit = {
        name: facts[f"circuit_{name}"] for name in ("volts", "amps", "rooms") if f"circuit_{name}" in facts
    }
    if "metal_wiring" in facts:
        circuit["metal_wiring"] = facts["metal_wiring"]
    request = {"edition": year, "room": facts["room"], "outlet": outlet, "circuit": circuit}
    for name in ("finished", "habitable", "floor_at_grade", "in_basement", "permit_date"):
        if name in facts:
            request[name] = facts[name]
    if facts.get("work_on") == "extension":
        request["work"] = {
            "extension_ft": facts["extension_in"] / 12,
            "added_outlets": facts["added_outlets"],
        }
    elif "work_on" in facts:
        request["work"] = facts["work_on"]
    return request


PUBLISHED = [
    pytest.param(what, row, year, cell, id=f"{row['id']}-{year}")
    for what, name in (("gfci", "gfci_rows.json"), ("afci", "afci_rows.json"))
    for row in rows(name)
    for year, cell in row["by_edition"].items()
    if cell["published"] != "conditional"
]


@pytest.mark.parametrize(("what", "row", "year", "cell"), PUBLISHED)
def test_a_published_row_is_answered_over_http(
    client: TestClient, what: str, row: dict[str, Any], year: str, cell: dict[str, Any]
) -> None:
    found = ask(client, **as_request(row["facts"], year))

    assert found["result"][what]["required"] is {"yes": True, "no": False}[cell["published"]]


@pytest.mark.parametrize(
    ("row", "year", "required"),
    [
        ("G004", "2017", "inspector"), ("G006", "2023", "inspector"), ("G018", "2017", "inspector"),
        ("G041", "2017", "inspector"), ("G056", "2023", "inspector"), ("G057", "2026", "inspector"),
        ("G062", "2023", "inspector"), ("G072", "2020", "inspector"), ("G073", "2017", True), ("G075", "2017", True),
    ],
)  # fmt: skip
def test_a_published_conditional_is_the_inspectors_or_the_demanding_reading(
    client: TestClient, row: str, year: str, required: object
) -> None:
    """G073 and G075 turn on whether the basement is finished: unfinished is taken, and said."""
    facts = next(found["facts"] for found in rows("gfci_rows.json") if found["id"] == row)

    gfci = ask(client, **as_request(facts, year))["result"]["gfci"]

    assert gfci["required"] == required
    assert ("Assumed: the room is not finished." in gfci["assumed"]) is (row in ("G073", "G075"))
    assert any("permit" in sentence for sentence in gfci["assumed"]) is (row in ("G056", "G057", "G062"))


@pytest.mark.parametrize(("what", "row", "year", "cell"), PUBLISHED)
def test_a_published_row_is_answered_by_its_own_name_of_the_place(
    client: TestClient, what: str, row: dict[str, Any], year: str, cell: dict[str, Any]
) -> None:
    """The room in the source's words; what those words say of floor and use is left out of the fields."""
    request = as_request(row["facts"], year) | {"room": row["place"]}
    for name in ("habitable", "floor_at_grade"):
        request.pop(name, None)

    found = ask(client, **request)

    assert found["result"][what]["required"] is {"yes": True, "no": False}[cell["published"]]


SHEET_NAME = {"gfci": "gfci", "afci": "afci", "tamper": "tamper_resistant", "weather": "weather_resistant"}


@pytest.mark.parametrize(
    ("puzzle", "year"),
    [
        pytest.param(puzzle, year, id=f"{puzzle['id']}-{year}")
        for puzzle in rows("protection_puzzles.json")
        if "amendment" not in puzzle
        for year in puzzle["expect"]
    ],
)
def test_a_published_question_is_answered_over_http(
    client: TestClient, puzzle: dict[str, Any], year: str
) -> None:
    found = ask(client, **as_request(puzzle["facts"], year))

    assert found["result"][SHEET_NAME[puzzle["asks"]]]["required"] == puzzle["expect"][year]


# --- what is left out


def test_nothing_but_a_room_is_enough(client: TestClient) -> None:
    found = ask(client, room="garage")["result"]

    assert [found[what]["required"] for what in WHAT] == [True, False, True, False]


def test_what_was_assumed_stands_in_the_answer_and_in_the_steps(client: TestClient) -> None:
    found = ask(client, edition="2017", room="basement", outlet=RECEPTACLE)

    assert found["result"]["gfci"]["assumed"] == ["Assumed: the room is not finished."]
    assert "Assumed: the room is not finished." in found["result"]["gfci"]["why"]
    assert "Assumed: the room is not finished." in [step["text"] for step in found["steps"]]


@pytest.mark.parametrize(
    ("permit", "required"), [("2026-08-31", False), ("2026-09-01", True), (None, "inspector")]
)
def test_listed_comfort_equipment_goes_by_the_permits_date(
    client: TestClient, permit: str | None, required: object
) -> None:
    outlet = {"kind": "hardwired", "volts": 240, "amps": 30, "serves": "hvac", "listed_hvac": True}

    found = ask(client, edition="2023", room="outdoors", outlet=outlet, permit_date=permit)

    assert found["result"]["gfci"]["required"] == required


@pytest.mark.parametrize(
    ("work", "more", "required"),
    [
        ("new", {}, True), ("replacement", {}, True), ({"extension_ft": 6}, {}, False),
        ({"extension_ft": 6.1}, {}, True), ({"extension_ft": 4, "added_outlets": 1}, {}, True),
        ("extension", {"extension_ft": 6}, False), ("extension_ft", {"extension_ft": 7}, True),
        ("extension_ft: 5", {}, False), ("extension 8 ft", {}, True), ("extension", {}, True),
    ],
)  # fmt: skip
def test_work_on_an_old_circuit_is_said_in_several_ways(
    client: TestClient, work: object, more: dict[str, Any], required: bool
) -> None:
    found = ask(client, room="bedroom", outlet=RECEPTACLE, work=work, **more)

    assert found["result"]["afci"]["required"] is required


# --- names


@pytest.mark.parametrize(
    ("room", "gfci_2017", "afci_2017"),
    [
        ("Bathroom", True, False), ("powder room", True, False), ("living", False, True), ("family", False, True),
        ("master bedroom", False, True), ("Bedrooms", False, True), ("unfinished basement", True, False),
        ("finished basement", False, True), ("basement bedroom", False, True), ("walk-in closet", False, True),
        ("closet off the bathroom", False, True), ("outdoor", True, False), ("front porch", True, False),
        ("covered patio", True, False), ("detached garage", True, False), ("laundry room", True, True),
        ("laundry closet off a hall", True, True), ("crawlspace", True, False), ("stairway", False, True),
        ("entry", False, True), ("rec room", False, True), ("home office", False, True), ("attic", False, True),
        ("unfinished attic", False, False), ("LIVING_ROOM", False, True), ("sun room", False, True),
    ],
)  # fmt: skip
def test_rooms_go_by_the_names_people_use(
    client: TestClient, room: str, gfci_2017: bool, afci_2017: bool
) -> None:
    found = ask(client, edition="2017", room=room, outlet=RECEPTACLE)["result"]

    assert (found["gfci"]["required"], found["afci"]["required"]) == (gfci_2017, afci_2017)


@pytest.mark.parametrize(
    ("room", "serves", "year", "required"),
    [
        ("kitchen", "counter", "2017", True), ("kitchen", "refrigerator", "2020", False),
        ("kitchen", "fridge", "2023", True), ("kitchen", "garbage disposal", "2017", "inspector"),
        ("kitchen", "garbage disposal", "2020", True), ("kitchen", "Dish washer", "2017", True),
        ("bathroom", "exhaust fan", "2023", True), ("utility room", "sump", "2020", True),
        ("outdoors", "holiday lights", "2017", True), ("recreation room", "whirlpool tub", "2020", True),
    ],
)  # fmt: skip
def test_purposes_go_by_the_names_people_use(
    client: TestClient, room: str, serves: str, year: str, required: object
) -> None:
    found = ask(client, edition=year, room=room, outlet={**RECEPTACLE, "serves": serves})

    assert found["result"]["gfci"]["required"] == required


@pytest.mark.parametrize(
    ("volts", "required"), [("120/240", True), ("125/250 V", True), ("240 V", True), (277, False)]
)
def test_volts_may_be_written_as_on_the_nameplate(client: TestClient, volts: object, required: bool) -> None:
    outlet = {"volts": volts, "amps": 30, "serves": "dryer"}

    assert (
        ask(client, edition="2020", room="laundry", outlet=outlet)["result"]["gfci"]["required"] is required
    )


@pytest.mark.parametrize(
    ("length", "required"), [("6'", True), ("6-0 1/16", False), (72, True), ("72 1/2", False)]
)
def test_lengths_may_be_written_as_the_trade_does(client: TestClient, length: object, required: bool) -> None:
    outlet = {**RECEPTACLE, "from_sink_in": length}

    assert ask(client, room="bedroom", outlet=outlet)["result"]["gfci"]["required"] is required


# --- bad input names the field


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({}, "room"),
        ({"room": "spaceship"}, "room"),
        ({"room": "bath", "colour": 1}, "colour"),
        ({"room": "bath", "edition": "2014"}, "edition"),
        ({"room": "bath", "outlet": {"kind": "socket"}}, "outlet.kind"),
        ({"room": "bath", "outlet": {"volts": "many"}}, "outlet.volts"),
        ({"room": "bath", "outlet": {"volts": 0}}, "outlet.volts"),
        ({"room": "bath", "outlet": {"amps": -1}}, "outlet.amps"),
        ({"room": "bath", "outlet": {"from_sink_in": "near"}}, "outlet.from_sink_in"),
        ({"room": "bath", "outlet": {"phases": 2}}, "outlet.phases"),
        ({"room": "bath", "circuit": {"rooms": ["spaceship"]}}, "circuit.rooms.0"),
        ({"room": "bath", "permit_date": "soon"}, "permit_date"),
        ({"room": "bath", "extension_ft": -1}, "extension_ft"),
    ],
)
def test_a_bad_field_is_named(client: TestClient, body: dict[str, Any], field: str) -> None:
    answer = client.post("/api/sheets/protection", json=body)

    assert answer.status_code == 422
    assert answer.headers["content-type"].startswith("application/problem+json")
    assert field in [error["field"] for error in answer.json()["errors"]]


def test_an_unknown_work_is_named(client: TestClient) -> None:
    answer = client.post("/api/sheets/protection", json={"room": "bath", "work": "demolition"})

    assert answer.status_code == 422
    assert all(error["field"].startswith("work") for error in answer.json()["errors"])


anything = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.floats() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
NAMES = [
    "room",
    "finished",
    "outlet",
    "circuit",
    "work",
    "permit_date",
    "edition",
    "extension_ft",
    "added_outlets",
]
OUTLET_NAMES = ["kind", "volts", "amps", "phases", "serves", "height_in", "from_sink_in", "from_tub_in", "dedicated",
                "outdoors", "behind_door", "listed_hvac", "path_crosses", "damp"]  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(
    body=st.dictionaries(st.sampled_from(NAMES), anything, max_size=5),
    outlet=st.dictionaries(st.sampled_from(OUTLET_NAMES), anything, max_size=4),
    room=st.sampled_from(["kitchen", "bath", None]),
)
def test_no_body_breaks_the_sheet(
    client: TestClient, body: dict[str, Any], outlet: dict[str, Any], room: str | None
) -> None:
    import json

    whole = {**body, **({"room": room} if room else {}), **({"outlet": outlet} if outlet else {})}

    answer = client.post(
        "/api/sheets/protection", content=json.dumps(whole), headers={"content-type": "application/json"}
    )

    assert answer.status_code in (200, 422), answer.text
