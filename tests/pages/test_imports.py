"""Rooms from a file: looked at before anything is stored, stored as one change, refused by line or entity."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, delete

from server.dwelling import Dwelling
from server.imports.csv_rooms import EXAMPLE
from server.imports.reading import MOST_BYTES
from server.store.engine import reading, writing
from server.store.houses import load_house
from server.store.tables.people import ThrottleRow
from tests.cast import CREW
from tests.imports.ifc_houses import IfcHouse
from tests.pages.houses import kitchen_house, put_house
from tests.pages.test_boxes import undo_of

As = Callable[[str], TestClient]
IMPORT = "/jobs/job-1/import"


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, kitchen_house())


def house_of(engine: Engine) -> Dwelling:
    with reading(engine) as session:
        return load_house(session, "job-1")


def send(client: TestClient, content: bytes | str, name: str = "rooms.csv") -> object:
    return client.post(
        IMPORT, files={"file": (name, content if isinstance(content, bytes) else content.encode())}
    )


def hidden(page: str) -> dict[str, str]:
    """What the second form of the page would send."""
    form = page.split(f'action="{IMPORT}/store"', 1)[1]
    found = {
        name: unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form)
    }
    for name, options in re.findall(r'<select[^>]*name="(\w+)"[^>]*>(.*?)</select>', form, re.S):
        found[name] = re.search(r'value="([^"]*)" selected', options)[1]  # type: ignore[index]
    return found


def test_it_works(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    before = house_of(engine).facts

    preview = send(client, EXAMPLE)

    assert preview.status_code == 200  # type: ignore[attr-defined]
    text = preview.text  # type: ignore[attr-defined]
    assert "1 room in rooms.csv" in text
    assert "The walls close." in text
    assert 'class="drawing"' in text
    assert house_of(engine).facts == before, "nothing is stored before it was looked at"
    answer = client.post(f"{IMPORT}/store", data=hidden(text) | {"kind_0": "pantry"})
    assert answer.headers["location"] == "/jobs/job-1/rooms"
    house = house_of(engine)
    (made,) = [room for room in house.facts.rooms if room.name == "Kitchen 2"]
    assert (made.kind, made.length_in, made.width_in, made.ceiling_height_in) == ("pantry", 168, 144, 96)
    assert [wall.length_in for wall in house.walls_of_room[made.id]] == [168, 144, 168, 144]
    client.post(f"/jobs/job-1/changes/{undo_of(client.get('/jobs/job-1/levels').text)}")
    assert house_of(engine).facts == before


def test_an_ifc_file_goes_all_the_way_to_a_laid_out_room(
    as_: As, engine: Engine, job: str, tmp_path: Path
) -> None:
    model = IfcHouse("foot")
    storey = model.storey("Second floor", 108)
    corners = [(0.0, 0.0), (0.0, 132.0), (156.0, 132.0), (156.0, 0.0)]
    model.space(storey, "Bedroom 4", corners, z=108)
    wall = model.wall(storey, (0, 132), (156, 132), height=220)
    model.hole(wall, (0, 132), (156, 132), (100, 132), 108, 188)
    client = as_("elena")

    text = send(client, model.write(tmp_path / "house.ifc"), "house.ifc").text  # type: ignore[attr-defined]
    client.post(f"{IMPORT}/store", data=hidden(text))

    house = house_of(engine)
    (made,) = [room for room in house.facts.rooms if room.name == "Bedroom 4"]
    assert house.levels[made.level_id].name == "Second floor"
    client.post(f"/jobs/job-1/rooms/{made.id}/lay-out")
    house = house_of(engine)
    first = house.walls_of_room[made.id][0]
    switches = [
        box
        for box in house.boxes_of_room[made.id]
        if any(device.kind == "switch" for device in house.devices_of_box[box.id])
    ]
    assert [(box.wall_id, box.at_in) for box in switches] == [(first.id, 139)], (
        "right of the door at 100 to 132 in"
    )
    assert "Too far without a receptacle" not in client.get(f"/jobs/job-1/rooms/{made.id}").text


def test_a_bad_line_is_named_and_nothing_is_stored(as_: As, engine: Engine, job: str) -> None:
    before = house_of(engine).facts

    answer = send(as_("elena"), "room,wall,length\nDen,1,12'\nDen,2,about ten feet\n", "sketch.csv")

    assert answer.status_code == 422  # type: ignore[attr-defined]
    text = unescape(answer.text)  # type: ignore[attr-defined]
    assert "Nothing was read from sketch.csv." in text
    assert "Line 3, column length: expected a length" in text
    assert "came 'about ten feet'" in text
    assert house_of(engine).facts == before


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "The file is empty"),
        (b"PK\x03\x04", "unpack it first"),
        (b"ISO-10303-21;\nHEADER;", "the file ends early"),
    ],
)
def test_what_cannot_be_read_says_why(as_: As, job: str, content: bytes, says: str) -> None:
    answer = send(as_("elena"), content, "x.ifc")

    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert says in answer.text  # type: ignore[attr-defined]


def test_no_file_at_all_is_told(as_: As, job: str) -> None:
    for answer in (as_("elena").post(IMPORT), as_("elena").post(IMPORT, data={"file": "not a file"})):
        assert answer.status_code == 422
        assert "Choose a file first." in answer.text


def test_a_file_that_is_too_large_is_refused_before_it_is_read(as_: As, job: str) -> None:
    answer = send(as_("elena"), b"x" * (MOST_BYTES + 200_000))

    assert answer.status_code == 413  # type: ignore[attr-defined]


def test_what_comes_back_from_the_page_is_read_again(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    before = house_of(engine).facts

    changed = client.post(f"{IMPORT}/store", data={"table": "room,wall,length\nDen,1,-4\n"})
    wrong_kind = client.post(f"{IMPORT}/store", data={"table": EXAMPLE, "kind_0": "dungeon"})

    assert (changed.status_code, wrong_kind.status_code) == (422, 422)
    assert "line 2, column length" in changed.text.lower()
    assert "Room 1, kind" in wrong_kind.text or "room 1, kind" in wrong_kind.text
    assert house_of(engine).facts == before


def test_names_from_a_file_are_shown_and_never_run(as_: As, job: str) -> None:
    text = send(as_("elena"), "level,room,length,width\n<b>L</b>,<script>alert(1)</script>,9',9'\n").text  # type: ignore[attr-defined]

    assert "<script>alert" not in text
    assert "<b>L" not in text
    assert "&lt;script&gt;alert(1)" in text


def test_two_hundred_rooms_are_looked_at_and_stored(as_: As, engine: Engine, job: str) -> None:
    table = "room,wall,length\n" + "".join(f"Bedroom {n},{w},12'\n" for n in range(200) for w in range(1, 5))
    client = as_("elena")

    text = send(client, table).text  # type: ignore[attr-defined]
    assert "200 rooms in rooms.csv" in text
    answer = client.post(f"{IMPORT}/store", data=hidden(text))

    assert answer.status_code == 303
    assert len(house_of(engine).facts.rooms) == 202


@pytest.mark.parametrize(("name", "status"), [("elena", 200), ("pat", 403), ("gus", 403), ("sol", 404)])
def test_who_may_import(as_: As, engine: Engine, job: str, name: str, status: int) -> None:
    client = as_(name)

    assert client.get(IMPORT).status_code == status
    assert send(client, EXAMPLE).status_code == status  # type: ignore[attr-defined]
    assert client.post(f"{IMPORT}/store", data={"table": EXAMPLE}).status_code == (
        303 if status == 200 else status
    )
    assert len(house_of(engine).facts.rooms) == (3 if status == 200 else 2)


@given(content=st.binary(max_size=400) | st.text(max_size=200).map(str.encode), name=st.text(max_size=30))
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_file_breaks_the_page(as_: As, engine: Engine, job: str, content: bytes, name: str) -> None:
    with writing(engine) as session:  # eighty files in a row would have to wait
        session.execute(delete(ThrottleRow))

    answer = send(as_("elena"), content, name or "x")

    assert answer.status_code in (200, 422)  # type: ignore[attr-defined]


@given(
    data=st.dictionaries(
        st.sampled_from(["table", "file_name", "kind_0", "kind_1", "x"]),
        st.text(max_size=60) | st.sampled_from([EXAMPLE, "den", "room\nx"]),
    )
)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_storing(as_: As, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        f"{IMPORT}/store", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
