"""``POST /api/sheets/service-sizing``: for amperes, for a dwelling's loads, for conductors that are there."""

from __future__ import annotations

from typing import Any

import pytest

from tests.published_examples import sheet_client

CLIENT = sheet_client()


def post(body: dict[str, Any]) -> dict[str, Any]:
    response = CLIENT.post("/api/sheets/service-sizing", json=body)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    return found


@pytest.mark.parametrize(
    ("body", "rating", "conductor", "gec", "jumper"),
    [
        ({"amperes": 78}, 100, "4", "8", "8"),  # Annex D D1(a)
        ({"amperes": 175}, 175, "1/0", "6", "6"),  # Annex D D7
        ({"amperes": 175, "material": "aluminum"}, 175, "3/0", "6", "6"),
        ({"amperes": 200}, 200, "2/0", "4", "4"),
        ({"amperes": 200, "material": "aluminium"}, 200, "4/0", "4", "4"),  # EC&M quiz: 4/0 Al, jumper 4 Cu
        ({"amperes": 320}, 350, "350", "2", "2"),
        ({"amperes": 400}, 400, "400", "1/0", "1/0"),
        (
            {"amperes": 400, "units": 2},
            400,
            "600",
            "1/0",
            "1/0",
        ),  # the full ampacity where two units share it
    ],
)
def test_a_load_in_amperes_is_sized(
    body: dict[str, Any], rating: int, conductor: str, gec: str, jumper: str
) -> None:
    result = post(body)["result"]

    found = (result["rating_a"], result["conductor"], result["gec"], result["bonding_jumper"])
    assert found == (rating, conductor, gec, jumper)


def test_the_loads_of_a_dwelling_are_reckoned_first() -> None:
    loads = {"method": "standard", "floor_area_ft2": 1500, "small_appliance_circuits": 2, "laundry_circuits": 1,
             "cooking": [{"kind": "range", "va": 12000}], "dryers_va": [5500]}  # fmt: skip

    found = post(loads)

    assert found["result"]["rating_a"] == 100
    assert found["result"]["neutral"] == "6"
    assert any(step["text"].startswith("Calculated load") for step in found["steps"])


def test_conductors_alone_get_their_grounding() -> None:
    result = post({"conductor": "3/0", "sets": 2})["result"]

    assert (result["rating_a"], result["gec"], result["bonding_jumper"]) == (None, "2", "2")


@pytest.mark.parametrize(("conductor", "adequate"), [("1/0", False), ("2/0", True)])
def test_conductors_beside_amperes_are_judged(conductor: str, adequate: bool) -> None:
    assert post({"amperes": 200, "conductor": conductor})["result"]["adequate"] is adequate


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ({}, "expected amperes, the loads of a dwelling, or a conductor"),
        ({"amperes": 100, "floor_area_ft2": 1500}, "expected amperes or loads, not both"),
        ({"amperes": 6001}, "less than or equal to 6000"),
        ({"amperes": -1}, "greater than or equal to 0"),
        ({"amperes": 100, "material": "tin"}, "copper"),
        ({"conductor": "5"}, "pattern"),
        ({"conductor": "14", "material": "aluminum"}, "came '14'"),
        ({"conductor": "999"}, "expected a conductor size"),
        ({"amperes": 100, "bogus": 1}, "not permitted"),
    ],
)
def test_what_cannot_be_sized_is_refused_with_words(body: dict[str, Any], words: str) -> None:
    response = CLIENT.post("/api/sheets/service-sizing", json=body)

    assert response.status_code == 422
    assert any(words in error["expected"] for error in response.json()["errors"])
