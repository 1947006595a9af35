"""The guided way and the shopping list."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


def test_the_way_says_how_far_each_step_is_and_when_to_stop(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/guide").text

    assert "3 of 3 boxes on a cable" in page
    assert page.count("Stop and call a licensed electrician") >= 3


def test_plain_words_come_first_for_who_asks_for_them(as_: As) -> None:
    client = as_("pat")
    before = client.get("/jobs/job-1/rooms/room-1/walk").text
    client.post("/jobs/job-1/guide", data={"who": "homeowner"})
    client.cookies.set("who", "homeowner", domain="127.0.0.1")

    after = client.get("/jobs/job-1/rooms/room-1/walk").text

    assert "say-plain" not in before
    assert "say-plain" in after
    assert "314.17" in before
    assert "314.17" not in after


@pytest.mark.parametrize("data", [{"who": "king"}, {}, {"colour": "red"}])
def test_an_odd_answer_changes_nothing(as_: As, data: dict[str, str]) -> None:
    answer = as_("gus").post(
        "/jobs/job-1/guide", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code == 303
    assert "set-cookie" not in answer.headers


def test_the_shopping_list_is_counted(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/shopping").text

    assert "duplex receptacle 5-15, tamper-resistant" in page
    assert "14-2 NM-B with ground" in page
