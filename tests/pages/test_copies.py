"""Copies, levels, and laying out a room within what is entered: as pages."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.dwelling import CounterKind, DeviceKind, Dwelling, Surface
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import bedroom_house, kitchen_house, put_house
from tests.pages.test_boxes import ODD, undo_of

As = Callable[[str], TestClient]
COPY = "/jobs/job-1/rooms/room-1/copy"
LEVELS = "/jobs/job-1/levels"


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, kitchen_house())


def house_of(engine: Engine) -> Dwelling:
    with reading(engine) as session:
        return load_house(session, "job-1")


# copies --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("mirrored", ["", "yes"])
def test_a_room_is_copied_and_undone(as_: As, engine: Engine, job: str, mirrored: str) -> None:
    client = as_("elena")
    before = house_of(engine).facts

    answer = client.post(COPY, data={"name": "Kitchen upstairs", "level_id": "level-1", "mirrored": mirrored})

    house = house_of(engine)
    (made,) = [room for room in house.facts.rooms if room.name == "Kitchen upstairs"]
    assert answer.headers["location"] == f"/jobs/job-1/rooms/{made.id}"
    assert [box.at_in for box in house.boxes_of_room[made.id] if box.wall_id] == [123 if mirrored else 45]
    page = client.get(answer.headers["location"]).text
    assert "2 boxes, on no circuit yet" in page
    client.post(f"/jobs/job-1/changes/{undo_of(page)}")
    assert house_of(engine).facts == before


def test_several_copies_are_numbered_and_are_one_change(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")

    answer = client.post(COPY, data={"name": "Kitchenette", "level_id": "level-1", "copies": "3"})

    names = [room.name for room in house_of(engine).facts.rooms]
    assert names == ["Kitchen", "Hall", "Kitchenette", "Kitchenette 2", "Kitchenette 3"]
    client.post(f"/jobs/job-1/changes/{undo_of(client.get(answer.headers['location']).text)}")
    assert len(house_of(engine).facts.rooms) == 2


def test_the_form_offers_a_free_name_and_shows_both(as_: As, job: str) -> None:
    page = as_("elena").get(COPY).text

    assert 'value="Kitchen 2"' in page
    assert page.count('class="drawing"') == 2
    assert len(set(re.findall(r'\bid="([^"]+)"', page))) == page.count(' id="'), "no id stands twice"


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("name", "", "Fill this in"),
        ("level_id", "attic", "Choose one of the levels"),
        ("copies", "21", "Expected at most 20"),
        ("copies", "a few", "came"),
        ("mirrored", "somewhat", "Expected yes, no or nothing"),
    ],
)
def test_a_wrong_field_of_a_copy_is_named(
    as_: As, engine: Engine, job: str, field: str, typed: str, says: str
) -> None:
    answer = as_("elena").post(COPY, data={"name": "typed with care", "level_id": "level-1", field: typed})

    assert answer.status_code == 422
    assert says in answer.text
    assert field == "name" or "typed with care" in answer.text
    assert len(house_of(engine).facts.rooms) == 2


@pytest.mark.parametrize(("name", "status"), [("elena", 303), ("pat", 403), ("gus", 403), ("sol", 404)])
def test_who_may_copy_and_lay_out(as_: As, job: str, name: str, status: int) -> None:
    assert as_(name).post(COPY, data={"name": "x", "level_id": "level-1"}).status_code == status
    assert as_(name).post("/jobs/job-1/rooms/room-2/lay-out").status_code == status
    assert as_(name).get(COPY).status_code == (200 if status == 303 else status)


# laying out ----------------------------------------------------------------------------------------------------


def test_an_empty_kitchen_is_laid_out_within_its_walls_counters_and_appliances(
    as_: As, engine: Engine, cast: object
) -> None:
    house = kitchen_house()
    for box in ("box-1", "box-2"):
        house.remove(box)
    for device in ("device-1", "device-2"):
        house.remove(device)
    put_house(engine, CREW, house)
    client = as_("elena")
    before = house_of(engine)
    assert "Lay out this room" in client.get("/jobs/job-1/rooms/room-1").text

    answer = client.post("/jobs/job-1/rooms/room-1/lay-out")

    after = house_of(engine)
    assert after.facts.walls == before.facts.walls
    assert after.facts.openings == before.facts.openings
    assert after.facts.counters == before.facts.counters
    assert after.facts.breaks == before.facts.breaks
    assert after.facts.fixtures == before.facts.fixtures
    boxes = after.boxes_of_room["room-1"]
    on_counter = [box for box in boxes if box.counter_id == "counter-1"]
    assert len(on_counter) >= 2
    assert all(
        box.wall_id == "wall-3" and box.at_in is not None and not 68 < box.at_in < 101 for box in on_counter
    )
    (range_,) = [device for device in after.devices_in_room("room-1") if device.fixture_id == "fixture-1"]
    assert (range_.configuration, after.boxes[range_.box_id].at_in) == ("14-50", 90)
    switches = [
        box for box in boxes if any(d.kind is DeviceKind.SWITCH for d in after.devices_of_box[box.id])
    ]
    assert [(box.wall_id, box.at_in) for box in switches] == [("wall-1", 45)], (
        "beside the door that is entered"
    )
    page = client.get(answer.headers["location"]).text
    assert "whatever this edition leaves open at an island" in page
    assert "Too far without a receptacle" not in page


def test_an_island_gets_its_receptacle_where_the_edition_asks_for_one(
    as_: As, engine: Engine, cast: object
) -> None:
    house = HouseBuilder()
    kitchen = house.room("kitchen", length_in=168, width_in=144)
    house.counter(kitchen, "island", 60, 36)
    put_house(engine, CREW, house)
    as_("hugo").post(
        "/jobs/job-1/settings", data={"name": "x", "edition": "2020", "stage": "rough-in", "work": "new"}
    )

    as_("elena").post("/jobs/job-1/rooms/room-1/lay-out")

    found = house_of(engine)
    (island,) = [counter for counter in found.facts.counters if counter.kind is CounterKind.ISLAND]
    assert [box.surface for box in found.boxes_of_room[kitchen] if box.counter_id == island.id] == [
        Surface.COUNTER
    ] * 2


def test_a_room_with_boxes_is_not_laid_out_again(as_: As, engine: Engine, job: str) -> None:
    before = house_of(engine).facts
    client = as_("elena")

    answer = client.post("/jobs/job-1/rooms/room-1/lay-out")

    assert house_of(engine).facts == before
    assert "has boxes already" in client.get(answer.headers["location"]).text


# levels --------------------------------------------------------------------------------------------------------


def levels_of(engine: Engine) -> list[str]:
    return [level.name for level in sorted(house_of(engine).facts.levels, key=lambda each: -each.order)]


def test_levels_are_added_above_and_below_renamed_moved_and_deleted(
    as_: As, engine: Engine, job: str
) -> None:
    client = as_("elena")
    client.post(LEVELS, data={"name": "Second floor", "below_grade": "no"})
    client.post(LEVELS, data={"name": "Cellar", "below_grade": "yes"})
    assert levels_of(engine) == ["Second floor", "First floor", "Cellar"]

    client.post(f"{LEVELS}/level-1/move", data={"where": "up"})
    assert levels_of(engine) == ["First floor", "Second floor", "Cellar"]

    client.post(f"{LEVELS}/level-1", data={"name": "Ground floor", "below_grade": "no"})
    assert "Ground floor" in levels_of(engine)

    answer = client.post(f"{LEVELS}/level-1/delete")
    assert house_of(engine).facts.rooms == ()
    page = client.get(answer.headers["location"]).text
    assert "Ground floor deleted with its 2 rooms." in page
    client.post(f"/jobs/job-1/changes/{undo_of(page)}")
    assert len(house_of(engine).facts.rooms) == 2
    assert house_of(engine).boxes_of_room["room-1"]


def test_the_top_level_stays_on_top(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")

    client.post(f"{LEVELS}/level-1/move", data={"where": "up"})

    assert "stays where it is" in client.get(LEVELS).text


@pytest.mark.parametrize(
    ("path", "data"), [(LEVELS, {"name": ""}), (f"{LEVELS}/level-1", {"name": "", "below_grade": "no"})]
)
def test_a_level_needs_a_name(as_: As, engine: Engine, job: str, path: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(path, data=data)

    assert answer.status_code == 422
    assert "Fill this in" in answer.text
    assert levels_of(engine) == ["First floor"]


@pytest.mark.parametrize(("name", "status"), [("pat", 403), ("gus", 403), ("sol", 404)])
def test_who_may_not_touch_levels(as_: As, engine: Engine, job: str, name: str, status: int) -> None:
    client = as_(name)

    assert client.get(LEVELS).status_code == status
    assert client.post(LEVELS, data={"name": "x"}).status_code == status
    for deed in ("", "/move", "/delete"):
        assert client.post(f"{LEVELS}/level-1{deed}", data={"name": "x", "where": "up"}).status_code == status
    assert levels_of(engine) == ["First floor"]


@given(
    path=st.sampled_from([COPY, LEVELS, f"{LEVELS}/level-1", f"{LEVELS}/level-1/move"]),
    data=st.dictionaries(
        st.sampled_from(["name", "level_id", "mirrored", "copies", "below_grade", "where", "extra"]),
        st.text(max_size=100) | st.sampled_from(["level-1", "1", "20", "up", *ODD]),
    ),
)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_copies_or_levels(as_: As, job: str, path: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(path, data=data, headers={"Content-Type": "application/x-www-form-urlencoded"})

    assert answer.status_code in (303, 422)


def test_a_room_of_two_hundred_is_copied_as_quickly_as_one_of_two(
    as_: As, engine: Engine, cast: object, query_count: Callable[[], object]
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="s-", rooms=2), job_id="small")
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=200), job_id="large")
    client = as_("elena")

    counts = []
    for job, prefix in (("small", "s-"), ("large", "l-")):
        with query_count() as queries:  # type: ignore[attr-defined]
            assert client.get(f"/jobs/{job}/rooms/{prefix}room-1/copy").status_code == 200
        counts.append(queries.count)

    assert counts[0] == counts[1]
