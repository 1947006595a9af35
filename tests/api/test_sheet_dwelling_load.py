"""``POST /api/sheets/dwelling-load``: the contract's fields, the ways a rating may be stated, refusals."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.published_examples import sheet_client

CLIENT = sheet_client()
# Annex D Example D1(a).
D1A: dict[str, Any] = {
    "edition": "2023",
    "method": "standard",
    "floor_area_ft2": 1500,
    "small_appliance_circuits": 2,
    "laundry_circuits": 1,
    "cooking": [{"kind": "range", "va": 12000}],
    "dryers_va": [5500],
}


def post(body: dict[str, Any]) -> dict[str, Any]:
    response = CLIENT.post("/api/sheets/dwelling-load", json=body)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    return found


def refused(body: dict[str, Any]) -> dict[str, str]:
    response = CLIENT.post("/api/sheets/dwelling-load", json=body)
    assert response.status_code == 422, response.text
    assert response.headers["content-type"] == "application/problem+json"
    return {error["field"]: error["expected"] for error in response.json()["errors"]}


def test_the_answer_has_the_contracts_fields() -> None:
    found = post(D1A)

    contract = {"total_va": 18600, "amperes": 78, "neutral_va": 14550, "neutral_a": 61, "service_rating_a": 100,
                "conductor_copper": "4", "conductor_aluminum": "2", "gec_copper": "8"}  # fmt: skip
    assert {name: found["result"][name] for name in contract} == contract
    assert found["edition"] == "2023"
    assert found["confidence"] == "one"
    assert "Table 220.55" in found["cites"]


def test_steps_can_be_followed_with_a_pencil() -> None:
    steps = post(D1A)["steps"]

    assert [step["text"] for step in steps][:10] == [
        "General lighting and receptacles: 1,500 ft² × 3 VA",
        "Small-appliance circuits: 2 × 1,500 VA",
        "Laundry circuits: 1 × 1,500 VA",
        "Lighting, small-appliance and laundry together: 4,500 + 3,000 + 1,500",
        "First 3,000 VA at 100 %",
        "Remainder 6,000 VA at 35 %",
        "Lighting, small-appliance and laundry after demand",
        "Clothes dryers: 5,500 VA",
        "Cooking, column C, 1 on it: 8 kW",
        "Calculated load: 5,100 + 5,500 + 8,000 VA",
    ]
    assert all(step["unit"] and step["value"] is not None for step in steps if step["applied"])


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026", None])
def test_every_edition_answers(edition: str | None) -> None:
    found = post({**D1A, "edition": edition})

    assert found["result"]["total_va"] == (18075 if edition == "2026" else 18600)
    assert found["edition"] == (edition or "2023")


@pytest.mark.parametrize(
    "rating",
    [{"va": 12000}, {"va": "12 kW"}, {"va": "12 kVA"}, {"va": "12000 W"}, {"va": "12,000 VA"}, {"kw": 12}, {"kw": "12"},
     {"amps": 50, "volts": 240}],
)  # fmt: skip
def test_a_rating_may_be_stated_as_the_nameplate_does(rating: dict[str, Any]) -> None:
    assert post({**D1A, "cooking": [{"kind": "range", **rating}]})["result"]["total_va"] == 18600


@pytest.mark.parametrize(
    ("hp", "volts", "va"), [("1/3", 120, 864), ("1/2", 115, 1127), (5, 230, 6440), ("1/4", 120, 696)]
)
def test_a_motor_may_be_stated_in_horsepower(hp: str | int, volts: int, va: int) -> None:
    # 7.2, 9.8, 28 and 5.8 A: JEEW 2017, Mike Holt Forum 2556130, EC&M August 2004, Mike Holt Forum 2554047.
    found = post({"motors": [{"name": "motor", "hp": hp, "volts": volts}]})

    assert found["result"]["total_va"] == va * 1.25


def test_lines_are_added_where_loads_name_a_leg() -> None:
    # Annex D Example D1(b); see the published examples for what is printed differently.
    motors = [
        {"name": "A/C", "amps": 6, "volts": 230, "leg": "AB"},
        {"name": "room A/C", "amps": 12, "volts": 115, "leg": "A", "circuit": 1},
        {"name": "dishwasher", "amps": 10, "volts": 120, "leg": "B", "circuit": 1},
        {"name": "disposer", "amps": 8, "volts": 115, "leg": "B"},
    ]

    result = post({**D1A, "motors": motors})["result"]

    assert result["lines"] == {"a": 99, "b": 104.5, "neutral": 84}
    assert (result["amperes"], result["service_rating_a"], result["neutral_a"]) == (105, 110, 84)


def test_null_says_nothing() -> None:
    nothing = dict.fromkeys(
        ["heat_va", "heat_units", "cool_va", "motors", "ev", "neutral", "units", "volts", "appliances"]
    )

    assert post({**D1A, **nothing})["result"] == post(D1A)["result"]
    assert post({**D1A, "heat_units": 0})["result"] == post(D1A)["result"]


def test_water_heaters_stay_off_the_neutral_where_nothing_is_said() -> None:
    heater = {"name": "Water heater", "va": 4500}

    assert post({"appliances": [heater]})["result"]["neutral_va"] == 0
    assert post({"appliances": [heater], "neutral": {"only_240": []}})["result"]["neutral_va"] == 4500
    assert (
        post({"appliances": [heater], "neutral": {"only_240": ["water heaters"]}})["result"]["neutral_va"]
        == 0
    )
    assert post({"appliances": [{"name": "spa", "va": 4500, "volts": 240}]})["result"]["neutral_va"] == 0


@pytest.mark.parametrize(
    ("name", "neutral_va"),
    [("range", 5100 + 3850), ("dryer", 5100 + 5600), ("Cooking", 5100 + 3850), ("spa", 14550)],
)
def test_named_loads_stay_off_the_neutral(name: str, neutral_va: int) -> None:
    found = post({**D1A, "neutral": {"only_240": [name]}})["result"]

    assert found["neutral_va"] == neutral_va
    assert any("'spa'" in note for note in found["notes"]) is (name == "spa")


def test_a_motor_on_the_neutral_brings_its_quarter_along() -> None:
    found = post({"motors": [{"name": "fan", "va": 800}, {"name": "pump", "va": 2000, "volts": 240}]})[
        "result"
    ]

    assert (found["total_va"], found["neutral_va"]) == (2800 + 500, 800 + 200)


@pytest.mark.parametrize(
    ("body", "divisor"),
    [
        ({}, 240),
        ({"volts": 230}, 230),
        ({"volts": 208}, 208),
        ({"phases": 3}, 208 * 1.732),
        ({"system": "208Y/120 4-wire"}, 208 * 1.732),
    ],
)
def test_amperes_follow_volts_and_system(body: dict[str, Any], divisor: float) -> None:
    found = post({"heat_va": 24000, **body})["result"]

    assert found["amperes_exact"] == pytest.approx(24000 / divisor, rel=1e-9)


def test_a_two_family_dwelling_takes_the_lesser_way() -> None:
    # Electrical Contractor magazine, part LVIII: 66,180 against 63,763 VA.
    body = {
        "floor_area_ft2": 1800, "small_appliance_circuits": 2, "laundry_circuits": 1, "units": 2,
        "appliances": [{"name": "water heater", "va": 4500}, {"name": "dishwasher", "va": 1800},
                       {"name": "compactor", "va": 2000}, {"name": "disposer", "va": 856, "motor": True}],
        "cooking": [{"kind": "range", "va": 12000}], "dryers_va": [5000], "heat_va": 11176, "cool_va": 5736,
    }  # fmt: skip

    assert post({**body, "method": "standard"})["result"]["total_va"] == 66180
    found = post({**body, "method": "optional"})
    assert found["result"]["total_va"] == pytest.approx(63763, abs=0.5)
    assert found["result"]["section"] == "220.84(A), 220.85"


def test_2026_says_that_its_values_are_not_all_verified() -> None:
    found = post({**D1A, "edition": "2026", "method": "optional", "ev": [{"va": 11520}]})

    assert found["confidence"] == "memory"
    assert any("draft" in note for note in found["result"]["notes"])


def test_a_load_beyond_every_standard_rating_has_no_service() -> None:
    found = post({"heat_va": 5_000_000})["result"]

    assert found["amperes"] == 20833
    assert found["service_rating_a"] is None
    assert found["conductor_copper"] is None


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"bogus": 1}, "bogus", "not permitted"),
        ({"units": 0}, "units", "greater than or equal to 1"),
        ({"units": 2, "method": "existing"}, "units", "expected 1 with method 'existing', came 2"),
        (
            {"units": 2, "motors": [{"name": "x", "va": 1, "leg": "A"}]},
            "units",
            "expected 1 where a load names a leg",
        ),
        (
            {"system": "208Y/120 4-wire", "motors": [{"name": "x", "va": 1, "leg": "A"}]},
            "system",
            "expected '120/240'",
        ),
        ({"method": "guess"}, "method", "standard"),
        ({"edition": "2014"}, "edition", "2017"),
        ({"floor_area_ft2": -1}, "floor_area_ft2", "greater than or equal to 0"),
        ({"floor_area_ft2": "large"}, "floor_area_ft2", "expected a number"),
        ({"dryers_va": ["5 horses"]}, "dryers_va.0", "expected a number"),
        ({"cooking": [{"kind": "grill", "va": 1}]}, "cooking.0.kind", "range"),
        ({"cooking": [{"kind": "range"}]}, "cooking.0", "expected one of va, kw"),
        ({"cooking": [{"kind": "range", "va": 1, "kw": 1}]}, "cooking.0", "expected one of va, kw"),
        ({"motors": [{"name": "x", "amps": 5}]}, "motors.0", "expected volts beside amps"),
        ({"motors": [{"name": "x", "hp": 9, "volts": 230}]}, "motors.0", "expected hp of 1/6"),
        ({"cooking": [{"kind": "range", "va": "1e999999"}]}, "cooking.0.va", "expected a plain number"),
        (
            {"appliances": [{"name": "x", "va": 1, "volts": 240, "leg": "A"}]},
            "body",
            "expected leg 'AB' for 'x'",
        ),
    ],
)
def test_what_cannot_be_reckoned_names_the_field(change: dict[str, Any], field: str, words: str) -> None:
    errors = refused({**D1A, **change})

    assert field in errors
    assert words in errors[field]


numbers = st.one_of(st.integers(0, 30_000), st.floats(0, 30_000, allow_nan=False).map(lambda n: round(n, 3)))


@settings(max_examples=150, deadline=None)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            "edition": st.sampled_from(["2017", "2020", "2023", "2026"]),
            "method": st.sampled_from(["standard", "optional", "existing"]),
            "floor_area_ft2": numbers,
            "small_appliance_circuits": st.integers(0, 9),
            "dryers_va": st.lists(numbers, max_size=6),
            "cooking": st.lists(
                st.fixed_dictionaries({"kind": st.sampled_from(["range", "oven", "cooktop"]), "va": numbers}),
                max_size=6,
            ),
            "appliances": st.lists(st.fixed_dictionaries({"name": st.just("a"), "va": numbers}), max_size=6),
            "motors": st.lists(
                st.fixed_dictionaries(
                    {"name": st.just("m"), "va": numbers}, optional={"leg": st.sampled_from(["A", "B", "AB"])}
                ),
                max_size=4,
            ),
            "heat_va": numbers,
            "heat_pump_va": numbers,
            "cool_va": numbers,
            "ev": st.lists(st.fixed_dictionaries({"va": numbers}), max_size=2),
            "units": st.integers(1, 90),
            "phases": st.sampled_from([1, 3]),
        },
    )
)
def test_any_plain_house_is_answered_or_refused_with_a_field(body: dict[str, Any]) -> None:
    response = CLIENT.post("/api/sheets/dwelling-load", json=body)

    assert response.status_code in (200, 422), response.text
    if response.status_code == 422:
        assert all(error["field"] for error in response.json()["errors"])
        return
    result = response.json()["result"]
    assert result["total_va"] >= 0
    assert sum(part["demand_va"] for part in result["parts"]) == pytest.approx(result["total_va"], abs=0.01)
    if result["service_rating_a"] is not None:
        assert result["service_rating_a"] >= result["amperes"]
