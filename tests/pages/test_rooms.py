"""The rooms of a job and one room: laying out, changing, deleting, undoing, and the same few queries for any size."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from server.dwelling import RoomKind
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


def rooms_of(engine: Engine, job: str) -> dict[str, Any]:
    with reading(engine) as session:
        return {room.name: room for room in load_house(session, job).facts.rooms}


def test_it_works(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/rooms")

    assert page.status_code == 200
    assert "Bedroom 1" in page.text
    assert "to look at" in page.text


def test_a_room_is_laid_out_from_its_kind_and_size(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")

    answer = client.post(
        f"/jobs/{job}/rooms",
        data={"kind": "bedroom", "length_in": "13' 6\"", "width_in": "11-4 1/2", "lay_out": "yes"},
    )

    assert answer.status_code == 303
    room = rooms_of(engine, job)["Bedroom"]
    assert (room.length_in, room.width_in) == (162, 136.5)
    page = client.get(answer.headers["location"])
    assert "laid out:" in page.text
    assert "13 ft 6 in x 11 ft 4 1/2 in" in page.text
    assert page.text.count('class="drawing"') >= 4


def test_a_laid_out_room_is_undone_as_a_whole(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    where = client.post(f"/jobs/{job}/rooms", data={"kind": "kitchen", "lay_out": "yes"}).headers["location"]
    undo = client.get(where).text.split(f'action="/jobs/{job}/changes/')[1].split('"')[0]

    answer = client.post(f"/jobs/{job}/changes/{undo}", headers={"Referer": f"http://127.0.0.1:8000{where}"})

    assert answer.headers["location"] == f"/jobs/{job}/rooms"
    assert set(rooms_of(engine, job)) == {"Bedroom 1"}


def test_names_are_counted_up_where_none_is_given(as_: As, engine: Engine, job: str) -> None:
    for _ in range(3):
        as_("elena").post(f"/jobs/{job}/rooms", data={"kind": "closet"})

    assert {"Closet", "Closet 2", "Closet 3"} <= set(rooms_of(engine, job))


@pytest.mark.parametrize(
    ("name", "status"),
    [("ana", 303), ("hugo", 303), ("elena", 303), ("pat", 403), ("gus", 403), ("sol", 404)],
)
def test_who_may_add_a_room(as_: As, job: str, name: str, status: int) -> None:
    assert as_(name).post(f"/jobs/{job}/rooms", data={"kind": "den"}).status_code == status


@pytest.mark.parametrize("name", ["pat", "gus", "sol"])
def test_who_may_not_change_or_delete_one(as_: As, engine: Engine, job: str, name: str) -> None:
    for action in ("edit", "delete"):
        assert as_(name).post(
            f"/jobs/{job}/rooms/room-1/{action}", data={"name": "x", "kind": "den", "level_id": "level-1"}
        ).status_code in (403, 404)

    assert set(rooms_of(engine, job)) == {"Bedroom 1"}


def test_a_wrong_length_is_named_and_kept(as_: As, job: str) -> None:
    answer = as_("elena").post(
        f"/jobs/{job}/rooms", data={"kind": "den", "length_in": "twelve feet", "name": "Den by the stair"}
    )

    assert answer.status_code == 422
    assert "Expected a length in inches or feet and inches" in answer.text
    assert "twelve feet" in answer.text
    assert "Den by the stair" in answer.text


def test_changing_a_room_keeps_what_the_form_does_not_show(as_: As, engine: Engine, job: str) -> None:
    as_("elena").post(
        f"/jobs/{job}/rooms/room-1/edit",
        data={
            "name": "Guest room",
            "kind": "bedroom",
            "level_id": "level-1",
            "length_in": "12'",
            "width_in": "10'",
            "finished": "yes",
        },
    )

    room = rooms_of(engine, job)["Guest room"]
    assert room.finished is True
    assert room.order == 0


def test_a_deleted_room_comes_back_with_its_boxes(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    client.post(f"/jobs/{job}/rooms/room-1/delete")
    assert rooms_of(engine, job) == {}
    undo = client.get(f"/jobs/{job}/rooms").text.split(f'action="/jobs/{job}/changes/')[1].split('"')[0]

    client.post(f"/jobs/{job}/changes/{undo}")

    with reading(engine) as session:
        house = load_house(session, job)
    assert len(house.boxes_of_room["room-1"]) == 3
    assert len(house.cables) == 3


def test_a_page_takes_the_same_queries_for_a_small_and_a_large_house(
    as_: As, engine: Engine, cast: object, query_count: Any
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="s-", rooms=1, boxes=1), job_id="small")
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=40, boxes=8), job_id="large")
    client = as_("gus")

    counts: dict[str, list[int]] = {}
    for job, room in (("small", "s-room-1"), ("large", "l-room-1")):
        for path in ("rooms", f"rooms/{room}", f"rooms/{room}/walk", "readiness", "walk"):
            with query_count() as queries:
                assert client.get(f"/jobs/{job}/{path}").status_code == 200
            counts.setdefault(path.replace(room, "ROOM"), []).append(queries.count)

    assert all(small == large for small, large in counts.values()), counts
    assert max(max(pair) for pair in counts.values()) <= 18


def test_two_hundred_rooms_are_listed_on_one_page(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, bedroom_house(prefix="x-", rooms=200, boxes=1), job_id="many")

    page = as_("gus").get("/jobs/many/rooms")

    assert page.text.count('class="row room-row"') == 200


@given(
    data=st.dictionaries(
        st.sampled_from(["kind", "name", "level", "length_in", "width_in", "lay_out", "extra"]),
        st.text(max_size=50)
        | st.sampled_from([*RoomKind])
        | st.sampled_from(["6' 2 1/2\"", "1/0", "-4", "9" * 39, "0", "1/64"]),
    )
)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_whatever_it_holds_breaks_the_page(as_: As, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        f"/jobs/{job}/rooms", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text


@pytest.mark.parametrize(
    ("field", "typed", "is_taken"),
    [
        ("width_in", "12", False),
        ("width_in", "59.5", False),
        ("width_in", "60", True),
        ("width_in", "12'", True),
        ("width_in", '12"', True),
        ("length_in", "14", False),
        ("length_in", "150", True),
    ],
)
def test_a_small_number_without_a_unit_is_asked_for_again_since_it_may_be_feet(
    as_: As, job: str, field: str, typed: str, is_taken: bool
) -> None:
    answer = as_("elena").post(f"/jobs/{job}/rooms", data={"kind": "closet", field: typed})

    assert answer.status_code == (303 if is_taken else 422)
    if not is_taken:
        said = html.unescape(answer.text)
        assert f"{typed} may be feet or inches: write {typed}' or {typed}\"." in said
        assert f'value="{typed}"' in answer.text, "what was typed stays"
        assert f">{field.removesuffix('_in').capitalize()}: {typed} may be" in said, (
            "the summary names the field"
        )


def test_a_room_without_boxes_offers_to_place_them_before_it_offers_a_walk(as_: As, job: str) -> None:
    client = as_("elena")
    page = client.get(client.post(f"/jobs/{job}/rooms", data={"kind": "closet"}).headers["location"]).text
    deeds = page.partition('class="actions page-actions"')[2].partition("</p>")[0]

    assert re.search(r'class="button button-main" href="[^"]+/boxes/new"', deeds)
    assert page.count("/boxes/new") == 1, "said once"
