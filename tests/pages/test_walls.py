"""Walls typed from a sketch, what stands in them, counters and fixtures: saved as one change, told in words, undone."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.dwelling import Dwelling, FixtureKind, OpeningKind, Wall
from server.readiness.room_shape import closing_words, shape_of
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import kitchen_house, put_house
from tests.pages.test_boxes import ODD, box_form, undo_of

As = Callable[[str], TestClient]
WALLS = "/jobs/job-1/rooms/room-1/walls"
PARTS = "/jobs/job-1/rooms/room-1/parts"


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, kitchen_house())


@pytest.fixture
def bare(engine: Engine, cast: object) -> str:
    """A room that nobody measured."""
    house = HouseBuilder()
    house.room("kitchen", walls=False)
    return put_house(engine, CREW, house)


def house_of(engine: Engine) -> Dwelling:
    with reading(engine) as session:
        return load_house(session, "job-1")


def walls_form(client: TestClient) -> dict[str, str]:
    """The form of the walls as a browser would send it untouched."""
    return box_form(client.get(WALLS).text)


def typed(*lengths: str, turns: dict[int, int] | None = None) -> dict[str, str]:
    """New walls as they would be typed."""
    form: dict[str, str] = {}
    for number, length in enumerate(lengths):
        form |= {
            f"w{number}_id": "", f"w{number}_length_in": length, f"w{number}_turn_deg": str((turns or {}).get(number, 90)),
            f"w{number}_is_wall_space": "yes",
        }  # fmt: skip
    return form


def lengths_of(engine: Engine) -> list[Fraction]:
    return [wall.length_in for wall in house_of(engine).walls_of_room.get("room-1", [])]


# walls ---------------------------------------------------------------------------------------------------------


def test_a_room_is_typed_wall_by_wall(as_: As, engine: Engine, bare: str) -> None:
    client = as_("elena")
    answer = client.post(
        WALLS, data=typed("14' 2 1/2\"", "12-0", "170.5", "12'") | {"ceiling_height_in": "8' 1\""}
    )

    assert answer.status_code == 303
    assert lengths_of(engine) == [Fraction(341, 2), 144, Fraction(341, 2), 144]
    room = house_of(engine).rooms["room-1"]
    assert (room.length_in, room.width_in, room.ceiling_height_in) == (Fraction(341, 2), 144, 97)
    page = client.get(answer.headers["location"]).text
    assert "4 walls saved." in page
    assert "The walls close." in page
    assert page.count('class="drawing"') == 5


def test_an_l_shape_begins_with_its_corners(as_: As, engine: Engine, bare: str) -> None:
    client = as_("elena")
    form = box_form(client.get(f"{WALLS}?shape=L").text)
    assert [form[f"w{n}_turn_deg"] for n in range(6)] == ["90", "90", "90", "-90", "90", "90"]

    form |= {f"w{n}_length_in": each for n, each in enumerate(("14'", "14'", "8'", "4'", "6'", "10'"))}
    client.post(WALLS, data=form)

    assert "The walls close." in client.get(WALLS).text
    room = house_of(engine).rooms["room-1"]
    assert (room.length_in, room.width_in, room.floor_area_ft2) == (168, 168, 14 * 14 - 4 * 6)


def test_walls_that_do_not_close_are_told_with_what_would_close_them(as_: As, bare: str) -> None:
    client = as_("elena")
    client.post(WALLS, data=typed("14'", "12'", "13' 9\"", "12'"))

    page = client.get(WALLS).text

    assert "The walls do not close: the last one ends 3 in along wall 1 from where wall 1 begins." in page
    assert "It would close with wall 1 3 in shorter or wall 3 3 in longer." in page


def test_saving_the_form_untouched_changes_nothing(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    before = house_of(engine).facts

    answer = client.post(WALLS, data=walls_form(client))

    assert answer.status_code == 303
    assert house_of(engine).facts == before
    assert "Nothing was different" in client.get(WALLS).text


def test_a_new_wall_takes_the_place_that_it_names(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    form = walls_form(client) | {"w4_length_in": "3'", "w4_place": "3", "w4_turn_deg": "0"}

    client.post(WALLS, data=form)

    assert lengths_of(engine) == [168, 144, 36, 168, 144]


def test_a_wall_that_goes_takes_its_openings_and_loosens_its_boxes(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")

    answer = client.post(WALLS, data=walls_form(client) | {"w0_remove": "yes"})

    house = house_of(engine)
    assert len(lengths_of(engine)) == 3
    assert [opening.kind for opening in house.facts.openings] == [OpeningKind.WINDOW]
    assert house.boxes["box-2"].wall_id is None
    page = client.get(answer.headers["location"]).text
    assert "1 boxes stood on a wall that went" in page
    client.post(f"/jobs/job-1/changes/{undo_of(page)}")
    assert house_of(engine).boxes["box-2"].wall_id == "wall-1"
    assert lengths_of(engine) == [168, 144, 168, 144]


def test_every_field_of_a_wall_and_the_ceiling_is_kept(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    form = walls_form(client) | {
        "w1_length_in": "11' 11 1/2\"", "w1_turn_deg": "45", "w1_name": "East wall", "w1_exterior": "yes",
        "ceiling_rise_in": "2'", "stud_spacing_in": "24",
    }  # fmt: skip
    del form["w1_is_wall_space"]

    client.post(WALLS, data=form)

    wall = house_of(engine).walls["wall-2"]
    assert (wall.length_in, wall.turn_deg, wall.name) == (Fraction(287, 2), 45, "East wall")
    assert (wall.exterior, wall.is_wall_space) == (True, False)
    room = house_of(engine).rooms["room-1"]
    assert (room.ceiling_rise_in, room.stud_spacing_in) == (24, 24)


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("w1_length_in", "a dozen", "Expected a length in inches"),
        ("w1_length_in", "", "Type its length, or tick that it goes"),
        ("w1_length_in", "0", "Expected a length above zero"),
        ("w1_turn_deg", "400", "Expected at most 180"),
        ("w1_exterior", "perhaps", "Expected yes, no or nothing"),
        ("w1_id", "wall-99", "This wall is gone meanwhile"),
        ("stud_spacing_in", "1/4", "Expected at least 1"),
        ("ceiling_height_in", "high", "Expected a length in inches"),
    ],
)
def test_a_wrong_wall_is_named_and_the_others_kept(
    as_: As, engine: Engine, job: str, field: str, text: str, says: str
) -> None:
    client = as_("elena")
    before = house_of(engine).facts
    form = walls_form(client) | {"w2_name": "typed with care", field: text}

    answer = client.post(WALLS, data=form)

    assert answer.status_code == 422
    assert says in answer.text
    assert "typed with care" in answer.text
    assert f'href="#{field.replace("w1_id", "w1_length_in")}"' in answer.text
    assert house_of(engine).facts == before


@given(
    data=st.dictionaries(
        st.builds(
            lambda number, name: f"w{number}_{name}", st.integers(0, 5),
            st.sampled_from(["id", "length_in", "turn_deg", "name", "exterior", "is_wall_space", "place", "remove", "x"]),
        )
        | st.sampled_from(["ceiling_height_in", "ceiling_rise_in", "stud_spacing_in", "x"]),
        st.text(max_size=20) | st.sampled_from(["wall-1", "12'", "90", "-90", *ODD]),
    )
)  # fmt: skip
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_the_walls(as_: As, job: str, data: dict[str, str]) -> None:
    client = as_("elena")
    answer = client.post(WALLS, data=data, headers={"Content-Type": "application/x-www-form-urlencoded"})

    assert answer.status_code in (303, 422)
    assert client.get(WALLS).status_code == 200
    assert client.get("/jobs/job-1/rooms/room-1").status_code == 200


# the outline ---------------------------------------------------------------------------------------------------


def outline(draw: Any) -> list[Wall]:
    """A staircase from corner to corner and straight back: right angles, any number of steps."""
    steps = draw(st.lists(st.tuples(st.integers(8, 2000), st.integers(8, 2000)), min_size=1, max_size=6))
    runs = [(Fraction(a, 16), Fraction(b, 16)) for a, b in steps]
    walls: list[tuple[Fraction, int]] = []
    for place, (across, down) in enumerate(runs):
        last = place + 1 == len(runs)
        walls += [(across, 90), (down, 90 if last else -90)]
    walls += [(sum((a for a, _ in runs), Fraction(0)), 90), (sum((b for _, b in runs), Fraction(0)), 90)]
    return [Wall(f"w{n}", "r", n, length, turn_deg=turn) for n, (length, turn) in enumerate(walls)]


outlines = st.composite(outline)()


@given(walls=outlines)
@settings(max_examples=200, deadline=None)
def test_the_outline_has_the_size_and_area_that_shapely_finds(walls: list[Wall]) -> None:
    shape = shape_of(walls)

    assert shape is not None
    polygon = Polygon([(float(x), float(y)) for x, y in shape.corners])
    assert polygon.is_valid
    assert float(shape.area_ft2) == pytest.approx(polygon.area / 144)
    left, top, right, bottom = polygon.bounds
    assert (float(shape.wide_in), float(shape.deep_in)) == pytest.approx((right - left, bottom - top))
    assert closing_words(walls) == (True, "The walls close.")


@given(walls=outlines, place=st.integers(0, 20), off=st.integers(9, 200).map(lambda n: Fraction(n, 16)))
@settings(max_examples=200, deadline=None)
def test_the_wall_that_is_named_closes_the_outline(walls: list[Wall], place: int, off: Fraction) -> None:
    wrong = list(walls)
    n = place % len(walls)
    wrong[n] = Wall(f"w{n}", "r", n, walls[n].length_in + off, turn_deg=walls[n].turn_deg)

    closes, words = closing_words(wrong)

    assert not closes
    named = re.findall(r"wall (\d+) ([\d/ ftin]+) (longer|shorter)", words)
    assert named
    for number, by, way in named:
        at = int(number) - 1
        feet, inches = re.fullmatch(r"(?:(\d+) ft)? ?(?:([\d/ ]+) in)?", by.strip()).groups()  # type: ignore[union-attr]
        length = Fraction(int(feet or 0) * 12) + sum(
            (Fraction(each) for each in (inches or "0").split()), Fraction(0)
        )
        mended = list(wrong)
        mended[at] = Wall(
            wrong[at].id,
            "r",
            at,
            wrong[at].length_in + (length if way == "longer" else -length),
            turn_deg=wrong[at].turn_deg,
        )
        assert closing_words(mended)[0]


@pytest.mark.parametrize(("off", "closes"), [("1/2", True), ("9/16", False), ("7/16", True)])
def test_half_an_inch_is_close_enough_and_a_sixteenth_more_is_not(off: str, closes: bool) -> None:
    lengths = [Fraction(168) + Fraction(off), Fraction(144), Fraction(168), Fraction(144)]

    assert closing_words([Wall(str(n), "r", n, each) for n, each in enumerate(lengths)])[0] is closes


# what stands in walls ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", OpeningKind)
def test_each_kind_of_opening_is_added_where_it_begins_and_how_wide(
    as_: As, engine: Engine, job: str, kind: OpeningKind
) -> None:
    answer = as_("elena").post(
        f"{PARTS}/opening",
        data={
            "wall_id": "wall-4",
            "kind": kind.value,
            "from_in": "1' 6\"",
            "width_in": "32",
            "sill_in": "",
            "head_in": "80",
        },
    )

    assert answer.headers["location"] == f"{WALLS}#openings"
    (made,) = [item for item in house_of(engine).facts.openings if item.wall_id == "wall-4"]
    assert (made.kind, made.from_in, made.to_in, made.head_in) == (kind, 18, 50, 80)


def test_an_opening_may_be_measured_from_the_right_end(as_: As, engine: Engine, job: str) -> None:
    as_("elena").post(
        f"{PARTS}/opening",
        data={"wall_id": "wall-4", "kind": "window", "from_in": "12", "measured": "right", "width_in": "36"},
    )

    (made,) = [item for item in house_of(engine).facts.openings if item.wall_id == "wall-4"]
    assert (made.from_in, made.to_in) == (144 - 12 - 36, 144 - 12)


def test_another_one_comes_back_to_the_same_wall_with_its_drawing(as_: As, job: str) -> None:
    client = as_("elena")
    answer = client.post(
        f"{PARTS}/opening",
        data={"wall_id": "wall-4", "kind": "window", "from_in": "12", "width_in": "36", "then": "another"},
    )

    assert answer.headers["location"] == f"{PARTS}/opening/new?wall=wall-4"
    page = client.get(answer.headers["location"]).text
    assert "Window added." in page
    assert page.count('class="drawing"') == 1
    assert ">window</text>" in page


@pytest.mark.parametrize("kind", ["wall", "island", "peninsula"])
def test_each_kind_of_counter_is_added_with_its_breaks(as_: As, engine: Engine, job: str, kind: str) -> None:
    client = as_("elena")
    client.post(
        f"{PARTS}/counter",
        data={
            "kind": kind,
            "wall_id": "wall-2",
            "from_in": "30",
            "length_in": "6'",
            "depth_in": "25",
            "height_in": "36",
        },
    )
    counter = next(item for item in house_of(engine).facts.counters if item.length_in == 72)
    assert (counter.kind, counter.wall_id, counter.from_in) == (kind, "wall-2", 30)

    answer = client.post(
        f"{PARTS}/break",
        data={
            "counter_id": counter.id,
            "kind": "sink",
            "from_in": "20",
            "width_in": "30",
            "behind_in": "3",
            "in_corner": "yes",
        },
    )

    assert answer.status_code == 303
    (made,) = house_of(engine).breaks_of_counter[counter.id]
    assert (made.from_in, made.to_in, made.behind_in, made.in_corner) == (20, 50, 3, True)
    assert client.get("/jobs/job-1/rooms/room-1").status_code == 200


@pytest.mark.parametrize("kind", FixtureKind)
def test_each_kind_of_fixture_is_added_with_its_nameplate(
    as_: As, engine: Engine, job: str, kind: FixtureKind
) -> None:
    as_("elena").post(
        f"{PARTS}/fixture",
        data={
            "kind": kind.value, "name": "the old one", "wall_id": "wall-4", "at_in": "40", "out_in": "2", "width_in": "30",
            "depth_in": "26", "fuel_burning": "no", "fastened_in_place": "yes", "va": "1,200", "volts": "240", "motor": "yes",
            "minimum_circuit_a": "12.5", "maximum_overcurrent_a": "20", "listed_hvac": "", "note": "as found",
        },
    )  # fmt: skip

    (made,) = [item for item in house_of(engine).facts.fixtures if item.name == "the old one"]
    assert (made.kind, made.at_in, made.va, made.volts) == (kind, 40, 1200, 240)
    assert (made.fuel_burning, made.fastened_in_place, made.motor, made.listed_hvac) == (
        False,
        True,
        True,
        None,
    )
    assert (made.minimum_circuit_a, made.maximum_overcurrent_a) == (Fraction(25, 2), 20)


@pytest.mark.parametrize(
    ("kind", "fact_id", "change", "field", "value"),
    [
        ("opening", "opening-1", {"width_in": "36"}, "to_in", 42),
        ("opening", "opening-1", {"kind": "sliding door"}, "kind", "sliding door"),
        ("opening", "opening-2", {"from_in": "5' 6\""}, "to_in", 66 + 48),
        ("counter", "counter-1", {"depth_in": "26 1/2"}, "depth_in", Fraction(53, 2)),
        ("counter", "counter-2", {"kind": "peninsula", "wall_id": "wall-4", "from_in": "20"}, "from_in", 20),
        ("break", "break-1", {"from_in": "60"}, "to_in", 93),
        ("fixture", "fixture-1", {"at_in": "20", "measured": "right"}, "at_in", 124),
    ],
)
def test_a_part_is_changed(
    as_: As, engine: Engine, job: str, kind: str, fact_id: str, change: dict[str, str], field: str, value: Any
) -> None:
    client = as_("elena")
    form = box_form(client.get(f"{PARTS}/{kind}/{fact_id}").text) | change
    form["kind"] = change.get("kind", form.get("kind", ""))
    if not form["kind"]:
        page = client.get(f"{PARTS}/{kind}/{fact_id}").text
        form["kind"] = re.search(r'name="kind" value="([^"]+)" checked', page)[1]  # type: ignore[index]

    answer = client.post(f"{PARTS}/{kind}/{fact_id}", data=form)

    assert answer.status_code == 303, answer.text
    facts = house_of(engine).facts
    found = next(
        item
        for item in (*facts.openings, *facts.counters, *facts.breaks, *facts.fixtures)
        if item.id == fact_id
    )
    assert getattr(found, field) == value


@pytest.mark.parametrize(
    ("kind", "fact_id"),
    [("opening", "opening-2"), ("counter", "counter-1"), ("break", "break-1"), ("fixture", "fixture-1")],
)
def test_a_part_saved_untouched_is_as_it_was_and_a_deleted_one_comes_back(
    as_: As, engine: Engine, job: str, kind: str, fact_id: str
) -> None:
    client = as_("elena")
    before = house_of(engine).facts
    form = box_form(client.get(f"{PARTS}/{kind}/{fact_id}").text)

    client.post(f"{PARTS}/{kind}/{fact_id}", data=form)
    assert house_of(engine).facts == before

    answer = client.post(f"{PARTS}/{kind}/{fact_id}/delete")
    assert house_of(engine).facts != before
    client.post(f"/jobs/job-1/changes/{undo_of(client.get(answer.headers['location'].split('#')[0]).text)}")
    assert house_of(engine).facts == before


@pytest.mark.parametrize(
    ("kind", "form", "field", "says"),
    [
        ("opening", {"wall_id": "wall-4", "kind": "door", "from_in": "120", "width_in": "32"}, "width_in", "the length of Wall 4"),
        ("opening", {"wall_id": "wall-4", "kind": "door", "from_in": "12", "width_in": "0"}, "width_in", "above zero"),
        ("opening", {"wall_id": "wall-9", "kind": "door", "from_in": "12", "width_in": "32"}, "wall_id", "Choose one of this room"),
        ("opening", {"wall_id": "wall-5", "kind": "door", "from_in": "12", "width_in": "32"}, "wall_id", "Choose one of this room"),
        ("opening", {"wall_id": "wall-4", "kind": "cat flap", "from_in": "12", "width_in": "32"}, "kind", "came"),
        ("opening", {"wall_id": "wall-4", "kind": "door", "from_in": "x", "width_in": "32"}, "from_in", "Expected a length"),
        ("opening", {"wall_id": "wall-4", "kind": "door", "width_in": "32"}, "from_in", "Fill this in"),
        ("opening", {"wall_id": "wall-4", "kind": "window", "from_in": "9", "width_in": "9", "sill_in": "40", "head_in": "30"}, "head_in", "above the sill"),
        ("counter", {"kind": "wall", "length_in": "60"}, "wall_id", "Choose the wall that the counter runs along"),
        ("counter", {"kind": "wall", "wall_id": "wall-2", "from_in": "100", "length_in": "60"}, "length_in", "the length of Wall 2"),
        ("counter", {"kind": "peninsula", "wall_id": "wall-2", "from_in": "130", "length_in": "60"}, "depth_in", "the length of Wall 2"),
        ("break", {"counter_id": "counter-9", "kind": "sink", "from_in": "1", "width_in": "2"}, "counter_id", "Choose one of this room"),
        ("break", {"counter_id": "counter-2", "kind": "sink", "from_in": "40", "width_in": "30"}, "width_in", "the length of the counter"),
        ("fixture", {"kind": "range", "wall_id": "wall-2", "at_in": "13'"}, "at_in", "the length of Wall 2"),
        ("fixture", {"kind": "range", "va": "lots"}, "va", "Expected a number"),
        ("fixture", {"kind": "range", "volts": "240 V"}, "volts", "came"),
    ],
)  # fmt: skip
def test_a_wrong_part_is_named_and_nothing_is_stored(
    as_: As, engine: Engine, job: str, kind: str, form: dict[str, str], field: str, says: str
) -> None:
    before = house_of(engine).facts

    answer = as_("elena").post(f"{PARTS}/{kind}", data=form)

    assert answer.status_code == 422
    assert says in answer.text
    assert f'href="#{field}"' in answer.text
    assert house_of(engine).facts == before


@given(
    kind=st.sampled_from(["opening", "counter", "break", "fixture"]),
    data=st.dictionaries(
        st.sampled_from(
            ["wall_id", "counter_id", "kind", "from_in", "measured", "width_in", "length_in", "depth_in", "height_in", "sill_in",
             "head_in", "behind_in", "in_corner", "has_counter", "name", "at_in", "va", "volts", "motor", "note", "then", "extra"]
        ),
        st.text(max_size=20)
        | st.sampled_from(["wall-1", "counter-1", "door", "wall", "island", "sink", "range", "left", "right", "12'", *ODD]),
    ),
)  # fmt: skip
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_a_part(as_: As, job: str, kind: str, data: dict[str, str]) -> None:
    client = as_("elena")
    answer = client.post(
        f"{PARTS}/{kind}", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text
    assert client.get(WALLS).status_code == 200
    assert client.get("/jobs/job-1/rooms/room-1").status_code == 200


# who may -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "status"), [("elena", 200), ("pat", 403), ("gus", 403), ("sol", 404)])
@pytest.mark.parametrize("path", [WALLS, f"{PARTS}/opening/new", f"{PARTS}/counter/counter-1"])
def test_who_may_open_the_forms(as_: As, job: str, name: str, status: int, path: str) -> None:
    assert as_(name).get(path).status_code == status


@pytest.mark.parametrize(
    "path",
    [f"{PARTS}/window/new", f"{PARTS}/opening/none", "/jobs/job-1/rooms/room-2/parts/opening/opening-1"],
)
def test_what_is_not_of_this_room_is_missing(as_: As, job: str, path: str) -> None:
    assert as_("elena").get(path).status_code == 404


@pytest.mark.parametrize("name", ["pat", "gus", "sol"])
def test_who_may_not_change_anything(as_: As, engine: Engine, job: str, name: str) -> None:
    before = house_of(engine).facts

    for path in (
        WALLS,
        f"{PARTS}/opening",
        f"{PARTS}/opening/opening-1",
        f"{PARTS}/opening/opening-1/delete",
    ):
        assert as_(name).post(path, data=typed("14'", "12'", "14'", "12'")).status_code in (403, 404)

    assert house_of(engine).facts == before


def test_the_drawing_shows_what_was_just_saved(as_: As, job: str) -> None:
    client = as_("elena")
    assert ">railing</text>" not in client.get(WALLS).text

    client.post(
        f"{PARTS}/opening", data={"wall_id": "wall-4", "kind": "railing", "from_in": "12", "width_in": "60"}
    )

    assert ">railing</text>" in client.get(WALLS).text


@given(lengths=st.lists(st.integers(16, 5000), min_size=3, max_size=12))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_lengths_are_stored_exactly_and_drawn(
    as_: As, engine: Engine, bare: str, lengths: list[int]
) -> None:
    exact = [Fraction(each, 16) for each in lengths]
    assume(len(exact) <= 12)
    client = as_("elena")
    form = walls_form(client)
    old = {f"w{n}_remove": "yes" for n in range(60) if form.get(f"w{n}_id")}
    first = len(old)
    new = {
        name.replace(f"w{n}_", f"w{n + first}_"): text
        for n in range(len(exact))
        for name, text in typed(*(str(each) for each in exact)).items()
        if name.startswith(f"w{n}_")
    }
    kept = {
        name: text for name, text in form.items() if name[0] == "w" and int(name[1:].split("_")[0]) < first
    }

    answer = client.post(WALLS, data={**kept, **old, **new})

    assert answer.status_code == 303
    assert lengths_of(engine) == exact
    assert client.get(WALLS).status_code == 200
