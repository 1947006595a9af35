"""``POST /api/sheets/working-space``: measures in inches or as the trade writes them, verdict per measure."""

from __future__ import annotations

from typing import Any

import pytest

from tests.published_examples import sheet_client

CLIENT = sheet_client()
ENOUGH: dict[str, Any] = {
    "width_in": 30, "depth_in": "3'", "height_in": "6' 6\"", "voltage_to_ground": 120, "condition": 1,
    "door_swing_deg": 90, "obstructions": [], "room": "basement",
}  # fmt: skip


def post(body: dict[str, Any]) -> dict[str, Any]:
    response = CLIENT.post("/api/sheets/working-space", json=body)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()["result"]
    return found


def test_enough_space_complies_measure_by_measure() -> None:
    found = post(ENOUGH)

    assert found["complies"] is True
    measures = {
        name: (found[name]["required_in"], found[name]["given_in"]) for name in ("depth", "width", "height")
    }
    assert measures == {"depth": (36, 36), "width": (30, 30), "height": (78, 78)}
    assert found["door_swing"] == {
        "required_deg": 90,
        "given_deg": 90,
        "complies": True,
        "cites": "110.26(A)(2)",
    }


@pytest.mark.parametrize(
    ("change", "complies"),
    [
        ({"depth_in": "35 15/16"}, False),
        ({"width_in": 29.5}, False),
        ({"height_in": "6' 5 1/2\""}, False),
        ({"door_swing_deg": 80}, False),
        ({"obstructions": ["furnace"]}, False),
        ({"obstructions": [{"what": "meter", "electrical": True, "projects_in": 4}]}, True),
        ({"room": "bathroom"}, False),
        ({"voltage_to_ground": 277, "condition": 2}, False),
        ({"voltage_to_ground": 277, "condition": 2, "depth_in": 42}, True),
        ({"depth_in": None}, None),
    ],
)
def test_one_change_decides(change: dict[str, Any], complies: bool | None) -> None:
    assert post({**ENOUGH, **change})["complies"] is complies


@pytest.mark.parametrize(
    ("change", "field"),
    [({"depth_in": "three feet"}, "depth_in"), ({"condition": 4}, "condition"), ({"voltage_to_ground": 1200}, "voltage_to_ground"),
     ({"bogus": 1}, "bogus"), ({"door_swing_deg": 400}, "door_swing_deg")],
)  # fmt: skip
def test_what_cannot_be_judged_names_the_field(change: dict[str, Any], field: str) -> None:
    response = CLIENT.post("/api/sheets/working-space", json={**ENOUGH, **change})

    assert response.status_code == 422
    assert field in [error["field"] for error in response.json()["errors"]]
