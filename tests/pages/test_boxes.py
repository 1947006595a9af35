"""Boxes and devices entered: placed with one tap, changed, deleted, undone; what is wrong stands beside its field."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from server.dwelling import Box, DeviceKind, Dwelling, Surface, Wall
from server.pages.box_placing import beside_stud
from server.readiness.ready_made import READY_MADE
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import bedroom_house, kitchen_house, put_house

As = Callable[[str], TestClient]
KITCHEN = "/jobs/job-1/rooms/room-1"
ODD = [
    "6' 2 1/2\"",
    "1/0",
    "-4",
    "9" * 39,
    "0",
    "1/64",
    "1e5",
    "NaN",
    "∞",
    "\x00",
    "box-1",
    "wall-1",
    "yes",
    "no",
]


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, kitchen_house())


def house_of(engine: Engine, job: str = "job-1") -> Dwelling:
    with reading(engine) as session:
        return load_house(session, job)


def undo_of(page: str, job: str = "job-1") -> str:
    return page.split(f'action="/jobs/{job}/changes/')[1].split('"')[0]


def new_box(engine: Engine, before: set[str]) -> Box:
    (made,) = [box for box in house_of(engine).facts.boxes if box.id not in before]
    return made


def place(client: TestClient, engine: Engine, **form: str) -> tuple[Any, Box]:
    before = set(house_of(engine).boxes)
    answer = client.post(f"{KITCHEN}/boxes", data={"surface": "wall", "wall_id": "wall-2", **form})
    assert answer.status_code == 303, answer.text
    return answer, new_box(engine, before)


# one box -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["ana", "hugo", "elena", "pat", "gus"])
def test_everybody_of_the_crew_reads_a_box(as_: As, job: str, name: str) -> None:
    page = as_(name).get("/jobs/job-1/boxes/box-2")

    assert page.status_code == 200
    assert "Wall 1 at 3 ft 9 in, 4 ft up" in page.text
    assert "controls luminaire in L1" in page.text
    assert ("Change the box" in page.text) == (name not in ("pat", "gus"))


def test_another_crews_box_answers_like_a_missing_one(as_: As, job: str) -> None:
    assert as_("sol").get("/jobs/job-1/boxes/box-2").status_code == 404
    assert as_("ana").get("/jobs/job-1/boxes/box-none").status_code == 404


def test_a_box_is_ringed_on_its_wall_and_on_the_plan(as_: As, job: str) -> None:
    on_wall = as_("gus").get("/jobs/job-1/boxes/box-2").text
    overhead = as_("gus").get("/jobs/job-1/boxes/box-1").text

    assert on_wall.count('class="d-mark"') == 1
    assert "wall 1" in on_wall.lower()
    assert overhead.count('class="d-mark"') == 1
    assert "From above" in overhead


def test_a_box_shows_its_findings_with_their_reckoning(as_: As, engine: Engine, cast: object) -> None:
    house = bedroom_house()
    house.change("box-1", volume_in3=Fraction(6))
    put_house(engine, CREW, house)

    page = as_("gus").get("/jobs/job-1/boxes/box-1").text

    assert "What holds it open" in page
    assert 'class="unfold why"' in page
    assert "14-2 NM-B to Panel A" in page
    assert 'href="/jobs/job-1/boxes/box-2"' in page, "its cable's other end and the next box"


# placing -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "ready", [item.id for item in READY_MADE.values() if item.surface is not Surface.CEILING]
)
def test_each_ready_made_box_goes_on_a_wall_with_its_devices(
    as_: As, engine: Engine, job: str, ready: str
) -> None:
    answer, box = place(as_("elena"), engine, ready=ready, at_in="6' 2 1/2\"")

    devices = house_of(engine).devices_of_box.get(box.id, [])
    assert (box.wall_id, box.at_in) == ("wall-2", Fraction(149, 2))
    assert [device.kind for device in devices] == [kind for kind, _ in READY_MADE[ready].devices]
    assert answer.headers["location"] == f"{KITCHEN}/boxes/new?wall=wall-2"


@pytest.mark.parametrize(
    "ready", [item.id for item in READY_MADE.values() if item.surface is Surface.CEILING]
)
def test_each_ready_made_box_goes_on_the_ceiling(as_: As, engine: Engine, job: str, ready: str) -> None:
    _, box = place(as_("elena"), engine, ready=ready, surface="ceiling", wall_id="", x_in="40", y_in="5'")

    assert (box.surface, box.wall_id, box.x_in, box.y_in) == (Surface.CEILING, None, 40, 60)


def test_a_light_without_a_place_goes_to_the_middle_of_the_ceiling(as_: As, engine: Engine, job: str) -> None:
    _, box = place(as_("elena"), engine, ready="luminaire", surface="ceiling", wall_id="")

    assert (box.x_in, box.y_in) == (84, 72)


def test_a_place_may_be_measured_from_the_right_end(as_: As, engine: Engine, job: str) -> None:
    _, box = place(as_("elena"), engine, ready="receptacle", at_in="2'", measured="right")

    assert box.at_in == 144 - 24


def test_the_next_box_is_labelled_and_ordered_after_the_others(as_: As, engine: Engine, job: str) -> None:
    boxes = [place(as_("elena"), engine, ready="receptacle", at_in=str(at))[1] for at in (24, 48, 72)]

    assert [box.label for box in boxes] == ["R1", "R2", "R3"]
    assert [box.order for box in boxes] == [2, 3, 4]


def test_a_new_switch_takes_the_light_that_nothing_controls(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    _, lamp = place(client, engine, ready="luminaire", surface="ceiling", wall_id="", x_in="20", y_in="20")
    answer, switch = place(client, engine, ready="switch", at_in="10")

    house = house_of(engine)
    (device,) = house.devices_of_box[switch.id]
    assert device.controls == (house.devices_of_box[lamp.id][0].id,)
    assert "It switches luminaire" in client.get(answer.headers["location"]).text


def test_a_counter_receptacle_belongs_to_the_counter_under_it(as_: As, engine: Engine, job: str) -> None:
    _, box = place(as_("elena"), engine, ready="counter", at_in="30", wall_id="wall-3")

    assert box.counter_id == "counter-1"
    assert box.height_in == 44


def test_placing_is_undone_and_stays_on_the_wall(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    answer, box = place(client, engine, ready="receptacle", at_in="24")
    here = answer.headers["location"]

    undone = client.post(
        f"/jobs/job-1/changes/{undo_of(client.get(here).text)}",
        headers={"Referer": f"http://127.0.0.1:8000{here}"},
    )

    assert box.id not in house_of(engine).boxes
    assert undone.headers["location"] == here


def test_undoing_a_change_of_a_box_that_went_leads_to_the_rooms(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    answer, box = place(client, engine, ready="receptacle", at_in="24")
    undo = undo_of(client.get(answer.headers["location"]).text)

    undone = client.post(
        f"/jobs/job-1/changes/{undo}", headers={"Referer": f"http://127.0.0.1:8000/jobs/job-1/boxes/{box.id}"}
    )

    assert undone.headers["location"] == "/jobs/job-1/rooms"


def test_a_change_that_never_was_cannot_be_undone(as_: As, job: str) -> None:
    assert as_("elena").post("/jobs/job-1/changes/nothing/undo").status_code == 404


@pytest.mark.parametrize(
    ("form", "field", "says"),
    [
        ({"ready": "receptacle"}, "at_in", "Tap the wall, or type how far it is"),
        (
            {"ready": "receptacle", "at_in": "13'"},
            "at_in",
            "Expected at most 12 ft, the length of Wall 2; came 13 ft",
        ),
        ({"ready": "receptacle", "at_in": "a bit"}, "at_in", "Expected a length in inches or feet"),
        (
            {"ready": "receptacle", "at_in": "24", "height_in": "9'"},
            "height_in",
            "Expected at most 8 ft, the ceiling",
        ),
        ({"ready": "luminaire", "at_in": "24"}, "ready", "A ceiling light goes on the ceiling"),
        ({"ready": "smoke signal", "at_in": "24"}, "ready", "Choose one of the boxes; came"),
        ({"ready": "receptacle", "at_in": "501'"}, "at_in", "Expected at most 500 ft"),
    ],
)
def test_a_wrong_place_is_named_and_what_was_typed_is_kept(
    as_: As, engine: Engine, job: str, form: dict[str, str], field: str, says: str
) -> None:
    before = set(house_of(engine).boxes)

    answer = as_("elena").post(
        f"{KITCHEN}/boxes", data={"surface": "wall", "wall_id": "wall-2", "off_wall_in": "7 1/16", **form}
    )

    assert answer.status_code == 422
    assert says.replace("'", "&#39;") in answer.text
    assert f'href="#{field}"' in answer.text
    assert 'value="7 1/16"' in answer.text
    assert set(house_of(engine).boxes) == before


def test_the_tapped_place_and_the_proposed_box_stand_in_the_form(as_: As, job: str) -> None:
    page = as_("elena").get(f"{KITCHEN}/boxes/new?wall=wall-2&at=6'+2\"&ready=counter").text

    assert 'value="6&#39; 2&#34;"' in page
    first = re.search(r'name="ready" value="([\w-]+)"', page)
    assert first is not None
    assert first[1] == "counter"
    assert page.count("button-main") == 1


def test_the_page_says_where_a_tap_is_in_inches(as_: As, job: str) -> None:
    wall = as_("elena").get(f"{KITCHEN}/boxes/new?wall=wall-2").text
    ceiling = as_("elena").get(f"{KITCHEN}/boxes/new?surface=ceiling").text

    assert 'data-wall="wall-2" data-along="144.0"' in wall
    assert 'data-plan-wide="168" data-plan-deep="144"' in ceiling


@given(at=st.integers(0, 144 * 4).map(lambda n: Fraction(n, 4)), gangs=st.integers(1, 4))
@settings(max_examples=100, deadline=None)
def test_a_snapped_box_touches_a_stud_and_stands_in_no_opening(at: Fraction, gangs: int) -> None:
    house = kitchen_house().dwelling()
    wall = house.walls["wall-1"]

    found = beside_stud(at, wall, house.rooms["room-1"], house, gangs=gangs)

    half = (Fraction(9, 4) + (gangs - 1) * Fraction(29, 16)) / 2
    assert half <= found <= wall.length_in - half
    assert not 6 < found < 38
    centres = [Fraction(16 * n) for n in range(1, 11)] + [Fraction(3, 4), Fraction(168) - Fraction(3, 4)]
    beside_opening = [Fraction(6) - Fraction(3, 4), Fraction(38) + Fraction(3, 4)]
    assert min(abs(abs(found - centre) - half - Fraction(3, 4)) for centre in centres + beside_opening) == 0


@given(
    data=st.dictionaries(
        st.sampled_from(
            ["ready", "surface", "wall_id", "at_in", "measured", "height_in", "off_wall_in", "x_in", "y_in", "snap", "extra"]
        ),
        st.text(max_size=30) | st.sampled_from([*READY_MADE, "wall", "ceiling", "left", "right", "wall-2", *ODD]),
    )
)  # fmt: skip
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_placing(as_: As, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        f"{KITCHEN}/boxes", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text


# what the spacing proposes -------------------------------------------------------------------------------------


def test_gaps_are_told_and_the_proposed_boxes_are_added_as_one_change(
    as_: As, engine: Engine, cast: object
) -> None:
    put_house(engine, CREW, bedroom_house(boxes=1))
    client = as_("elena")
    page = client.get("/jobs/job-1/rooms/room-1").text
    assert "Too far without a receptacle" in page
    places = re.findall(r'name="place" value="([^"]+)"', page)
    assert len(places) == page.count(">add one</text>") > 1

    answer = client.post("/jobs/job-1/rooms/room-1/boxes/proposed", data={"place": places})

    assert answer.status_code == 303
    after = client.get("/jobs/job-1/rooms/room-1").text
    assert f"{len(places)} boxes added" in after
    assert "Too far without a receptacle" not in after
    assert len(house_of(engine).boxes) == 1 + len(places)
    client.post(f"/jobs/job-1/changes/{undo_of(after)}")
    assert len(house_of(engine).boxes) == 1


def test_what_is_no_longer_proposed_is_not_added(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, bedroom_house(boxes=1))

    answer = as_("elena").post(
        "/jobs/job-1/rooms/room-1/boxes/proposed", data={"place": ["receptacle:wall-1:7", "nonsense"]}
    )

    assert answer.status_code == 303
    assert len(house_of(engine).boxes) == 1


@pytest.mark.parametrize("size", ["usual", "small", "large", "<script>"])
def test_the_drawings_come_in_three_sizes(as_: As, job: str, size: str) -> None:
    page = as_("gus").get(f"{KITCHEN}?size={size}")

    assert page.status_code == 200
    assert "<script>&" not in page.text
    assert page.text.count('aria-current="true"') >= 1


# changing ------------------------------------------------------------------------------------------------------


def box_form(page: str) -> dict[str, str]:
    """What a browser would send of a form that nobody touched."""
    form: dict[str, str] = {}
    main = page.split("<main", 1)[1].split('<form method="post"', 1)[1]
    if 'class="said"' in page.split("<main", 1)[1][:600]:
        main = main.split('<form method="post"', 1)[1]
    main = main.split("</form>", 1)[0]
    for tag in re.findall(r"<input[^>]*>", main):
        name = re.search(r'name="([^"]*)"', tag)
        value = re.search(r'value="([^"]*)"', tag)
        if name and (('type="checkbox"' not in tag and 'type="radio"' not in tag) or " checked" in tag):
            form[name[1]] = (value[1] if value else "").replace("&#34;", '"').replace("&#39;", "'")
    for name, options in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', main, re.S):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        first = re.search(r'<option value="([^"]*)"', options)
        form[name] = (chosen or first)[1] if chosen or first else ""  # type: ignore[index]
    for name, text in re.findall(r'<textarea[^>]*name="([^"]*)"[^>]*>(.*?)</textarea>', main, re.S):
        form[name] = text
    return form


def test_saving_a_form_that_nobody_touched_changes_nothing(as_: As, engine: Engine, cast: object) -> None:
    house = kitchen_house()
    # 2500 mm and a third of an inch: lengths that feet and inches do not write exactly
    house.change("box-2", at_in=Fraction(12500, 127), height_in=Fraction(145, 3), rated_lb=Fraction(1, 3))
    put_house(engine, CREW, house)
    client = as_("elena")
    for path in ("boxes/box-2", "boxes/box-1"):
        before = house_of(engine)
        form = box_form(client.get(f"/jobs/job-1/{path}/edit").text)

        answer = client.post(f"/jobs/job-1/{path}/edit", data=form)

        assert answer.status_code == 303, answer.text
        assert house_of(engine).boxes == before.boxes
        assert "Nothing was different" in client.get(answer.headers["location"]).text


def test_a_box_is_changed_in_every_field(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    form = box_form(client.get("/jobs/job-1/boxes/box-2/edit").text) | {
        "label": "S9", "wall_id": "wall-3", "at_in": "20", "measured": "right", "height_in": "50 1/2", "material": "metal",
        "volume_in3": "18.0", "ring_in3": "4", "gangs": "2", "clamps": "internal", "luminaire_studs": "1", "hickeys": "1",
        "fan_rated": "no", "rated_lb": "50", "wetness": "damp", "from_sink_in": "5' 1/2\"", "from_tub_in": "7'",
        "off_wall_in": "3", "below_counter_in": "10", "counter_id": "counter-1", "inside_cabinet": "yes", "note": "behind the door",
    }  # fmt: skip

    answer = client.post("/jobs/job-1/boxes/box-2/edit", data=form)

    assert answer.status_code == 303
    box = house_of(engine).boxes["box-2"]
    assert (box.label, box.wall_id, box.at_in, box.height_in) == ("S9", "wall-3", 148, Fraction(101, 2))
    assert (box.material, box.volume_in3, box.ring_in3, box.gangs, box.clamps) == (
        "metal",
        18,
        4,
        2,
        "internal",
    )
    assert (box.luminaire_studs, box.hickeys, box.fan_rated, box.rated_lb) == (1, 1, False, 50)
    assert (box.wetness, box.from_sink_in, box.from_tub_in) == ("damp", Fraction(121, 2), 84)
    assert (box.off_wall_in, box.below_counter_in, box.counter_id) == (3, 10, "counter-1")
    assert (box.inside_cabinet, box.note) == (True, "behind the door")


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("wall_id", "wall-5", "Choose one of this room's walls"),
        ("at_in", "15'", "Expected at most 14 ft, the length of Wall 1; came 15 ft"),
        ("trade_size", "a big one", "Choose one of the standard sizes"),
        ("counter_id", "counter-9", "Choose one of this room's counters"),
        ("volume_in3", "-1", "Expected zero or more"),
        ("gangs", "0", "Expected at least 1"),
        ("gangs", "two", "came"),
        ("fan_rated", "perhaps", "Expected yes, no or nothing"),
        ("surface", "roof", "came"),
        ("invented", "x", "This form has no such field"),
    ],
)
def test_a_wrong_field_of_a_box_is_named_and_the_rest_kept(
    as_: As, engine: Engine, job: str, field: str, typed: str, says: str
) -> None:
    client = as_("elena")
    form = box_form(client.get("/jobs/job-1/boxes/box-2/edit").text) | {
        "note": "typed with care",
        field: typed,
    }

    answer = client.post("/jobs/job-1/boxes/box-2/edit", data=form)

    assert answer.status_code == 422
    assert says.replace("'", "&#39;") in answer.text
    assert f'href="#{field}"' in answer.text
    assert "typed with care" in answer.text


@given(
    data=st.dictionaries(
        st.sampled_from(
            ["label", "surface", "wall_id", "at_in", "measured", "snap", "height_in", "material", "trade_size", "volume_in3",
             "gangs", "clamps", "hickeys", "fan_rated", "rated_lb", "wetness", "from_sink_in", "counter_id", "inside_cabinet", "note"]
        ),
        st.text(max_size=30) | st.sampled_from(["wall", "metal", "none", "left", "right", "wall-2", "counter-1", *ODD]),
    )
)  # fmt: skip
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_changing_a_box(as_: As, engine: Engine, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        "/jobs/job-1/boxes/box-2/edit",
        data=data,
        headers={"Content-Type": "application/x-www-form-urlencoded"},
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text
    else:
        # whatever was stored is shown again
        assert as_("elena").get("/jobs/job-1/boxes/box-2").status_code == 200
        assert as_("elena").get("/jobs/job-1/boxes/box-2/edit").status_code == 200


def test_a_deleted_box_comes_back_with_its_devices_and_cables(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, bedroom_house())
    before = house_of(engine)
    client = as_("elena")

    answer = client.post("/jobs/job-1/boxes/box-2/delete")

    assert answer.headers["location"] == "/jobs/job-1/rooms/room-1"
    assert "box-2" not in house_of(engine).boxes
    client.post(f"/jobs/job-1/changes/{undo_of(client.get(answer.headers['location']).text)}")
    after = house_of(engine)
    assert (set(after.boxes), set(after.devices)) == (set(before.boxes), set(before.devices))
    assert after.cables == before.cables


# devices -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", DeviceKind)
def test_each_kind_of_device_is_added_with_one_tap_and_has_a_form(
    as_: As, engine: Engine, job: str, kind: DeviceKind
) -> None:
    client = as_("elena")
    before = set(house_of(engine).devices)

    answer = client.post("/jobs/job-1/boxes/box-1/devices", data={"kind": kind.value})

    (made,) = set(house_of(engine).devices) - before
    assert answer.headers["location"].startswith("/jobs/job-1/boxes/box-1")
    assert house_of(engine).devices[made].kind is kind
    page = client.get(f"/jobs/job-1/devices/{made}")
    assert page.status_code == 200
    form = box_form(page.text)
    assert client.post(f"/jobs/job-1/devices/{made}", data={**form, "deed": "save"}).status_code == 303


def test_a_kind_of_device_that_is_none_adds_nothing(as_: As, engine: Engine, job: str) -> None:
    before = house_of(engine).devices

    assert as_("elena").post("/jobs/job-1/boxes/box-1/devices", data={"kind": "toaster"}).status_code == 303
    assert house_of(engine).devices == before


def test_a_receptacle_is_changed_in_every_field(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, bedroom_house())

    answer = as_("elena").post(
        "/jobs/job-1/devices/device-1",
        data={
            "kind": "receptacle", "configuration": "5-20", "receptacles": "1", "gfci": "yes", "afci": "yes", "dedicated": "yes",
            "tamper_resistant": "no", "weather_resistant": "yes", "switched_half": "top", "serves": "freezer",
            "load_cable_ids": "cable-2", "circuit_id": "circuit-1", "second_circuit_id": "circuit-1", "label": "freezer outlet",
            "readily_accessible": "no", "largest_awg": "12", "gangs_wide": "1", "isolated_ground": "yes", "note": "x",
        },
    )  # fmt: skip

    assert answer.status_code == 303
    device = house_of(engine).devices["device-1"]
    assert (device.configuration, device.receptacles, device.gfci, device.afci, device.dedicated) == (
        "5-20",
        1,
        True,
        True,
        True,
    )
    assert (device.tamper_resistant, device.weather_resistant, device.switched_half) == (False, True, "top")
    assert (device.serves, device.load_cable_ids, device.circuit_id) == ("freezer", ("cable-2",), "circuit-1")
    assert (device.second_circuit_id, device.label, device.readily_accessible) == (
        "circuit-1",
        "freezer outlet",
        False,
    )
    assert (device.largest_awg, device.isolated_ground) == ("12", True)


def test_a_switch_controls_devices_of_another_room_after_they_are_shown(
    as_: As, engine: Engine, job: str
) -> None:
    client = as_("elena")
    form = {"kind": "switch", "ways": "three-way", "controls": "device-1", "label": "hall and kitchen"}
    assert 'value="device-3"' not in client.get("/jobs/job-1/devices/device-2").text

    shown = client.post("/jobs/job-1/devices/device-2", data={**form, "other_room": "room-2", "deed": "show"})

    assert shown.status_code == 200
    assert 'value="device-3"' in shown.text
    assert 'value="hall and kitchen"' in shown.text, "what was typed is kept"
    assert house_of(engine).devices["device-2"].label == "", "nothing is stored yet"
    client.post(
        "/jobs/job-1/devices/device-2", data={**form, "controls": ["device-1", "device-3"], "deed": "save"}
    )
    device = house_of(engine).devices["device-2"]
    assert (device.controls, device.ways) == (("device-1", "device-3"), "three-way")


def test_what_a_kinds_form_does_not_ask_stays_as_it_is(as_: As, engine: Engine, cast: object) -> None:
    house = bedroom_house()
    house.change("device-1", weight_lb=Fraction(3), lamp="LED")
    put_house(engine, CREW, house)

    as_("elena").post(
        "/jobs/job-1/devices/device-1",
        data={"kind": "receptacle", "configuration": "5-15", "receptacles": "2"},
    )

    device = house_of(engine).devices["device-1"]
    assert (device.weight_lb, device.lamp) == (3, "LED")
    assert device.tamper_resistant is None, "asked and emptied"


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("configuration", "7-15", "Choose one of the list"),
        ("controls", "device-nowhere", "Choose devices of this house"),
        ("controls", "device-2", "A switch does not control itself"),
        ("circuit_id", "circuit-9", "this one is gone"),
        ("receptacles", "13", "Expected at most 12"),
        ("ways", "five-way", "came"),
    ],
)
def test_a_wrong_field_of_a_device_is_named(as_: As, job: str, field: str, typed: str, says: str) -> None:
    form = {"kind": "switch", "label": "typed with care", field: typed}

    answer = as_("elena").post("/jobs/job-1/devices/device-2", data=form)

    assert answer.status_code == 422
    assert says in answer.text
    assert "typed with care" in answer.text


@given(
    data=st.dictionaries(
        st.sampled_from(
            ["kind", "label", "configuration", "receptacles", "gfci", "tamper_resistant", "switched_half", "ways", "controls",
             "load_cable_ids", "fixture_id", "serves", "volts", "va", "weight_lb", "recessed", "gangs_wide", "deed", "other_room"]
        ),
        st.text(max_size=30) | st.sampled_from([*DeviceKind, "5-20", "top", "device-1", "room-2", "show", *ODD]),
    )
)  # fmt: skip
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_breaks_changing_a_device(as_: As, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        "/jobs/job-1/devices/device-2",
        data=data,
        headers={"Content-Type": "application/x-www-form-urlencoded"},
    )

    assert answer.status_code in (200, 303, 422)
    assert as_("elena").get("/jobs/job-1/devices/device-2").status_code == 200


def test_a_device_taken_out_comes_back_under_its_switch(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")

    answer = client.post("/jobs/job-1/devices/device-1/delete")

    assert house_of(engine).devices["device-2"].controls == ()
    client.post(f"/jobs/job-1/changes/{undo_of(client.get(answer.headers['location']).text)}")
    assert house_of(engine).devices["device-2"].controls == ("device-1",)


# who may -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "status"), [("pat", 403), ("gus", 403), ("sol", 404)])
@pytest.mark.parametrize(
    "path",
    ["rooms/room-1/boxes/new", "boxes/box-2/edit", "devices/device-2"],
)
def test_who_may_not_open_the_forms(as_: As, job: str, name: str, status: int, path: str) -> None:
    assert as_(name).get(f"/jobs/job-1/{path}").status_code == status


@pytest.mark.parametrize(("name", "status"), [("pat", 403), ("gus", 403), ("sol", 404)])
@pytest.mark.parametrize(
    ("path", "data"),
    [
        ("rooms/room-1/boxes", {"ready": "receptacle", "wall_id": "wall-2", "at_in": "24"}),
        ("rooms/room-1/boxes/proposed", {"place": "x"}),
        ("boxes/box-2/edit", {"surface": "wall"}),
        ("boxes/box-2/delete", {}),
        ("boxes/box-2/devices", {"kind": "switch"}),
        ("devices/device-2", {"kind": "switch"}),
        ("devices/device-2/delete", {}),
    ],
)
def test_who_may_not_change_anything(
    as_: As, engine: Engine, job: str, name: str, status: int, path: str, data: dict[str, str]
) -> None:
    before = house_of(engine).facts

    answer = as_(name).post(
        f"/jobs/job-1/{path}", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code == status
    assert house_of(engine).facts == before


def test_a_box_page_takes_the_same_queries_for_a_small_and_a_large_house(
    as_: As, engine: Engine, cast: object, query_count: Any
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="s-", rooms=1, boxes=1), job_id="small")
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=40, boxes=8), job_id="large")
    client = as_("elena")

    counts: dict[str, list[int]] = {}
    for job, prefix in (("small", "s-"), ("large", "l-")):
        for path in ("boxes/{}box-1", "boxes/{}box-1/edit", "devices/{}device-1", "rooms/{}room-1/boxes/new"):
            with query_count() as queries:
                assert client.get(f"/jobs/{job}/{path.format(prefix)}").status_code == 200
            counts.setdefault(path, []).append(queries.count)

    assert all(small == large for small, large in counts.values()), counts
    assert max(max(pair) for pair in counts.values()) <= 18


def test_long_names_and_odd_marks_are_shown_as_they_are(as_: As, engine: Engine, cast: object) -> None:
    house = kitchen_house()
    house.change("room-1", name="<b>" + "Very long kitchen name " * 3)
    house.change("box-2", label="<i>S&1</i>")
    house.change("device-2", label="'\"><script>")
    put_house(engine, CREW, house)
    client = as_("elena")

    for path in (
        f"{KITCHEN}",
        f"{KITCHEN}/boxes/new",
        "/jobs/job-1/boxes/box-2",
        "/jobs/job-1/devices/device-2",
    ):
        text = client.get(path).text
        assert "<b>Very" not in text
        assert "<i>S" not in text
        assert "><script>" not in text.replace('"></script>', "")


def test_a_room_without_walls_takes_boxes_on_its_ceiling_and_says_so(
    as_: As, engine: Engine, cast: object
) -> None:
    house = bedroom_house()
    house.room("attic", "Attic", walls=False)
    put_house(engine, CREW, house)
    client = as_("elena")

    assert "No walls yet" in client.get("/jobs/job-1/rooms/room-2").text
    assert client.get("/jobs/job-1/rooms/room-2/boxes/new").status_code == 200
    answer = client.post("/jobs/job-1/rooms/room-2/boxes", data={"ready": "luminaire", "surface": "ceiling"})
    assert answer.status_code == 303


def test_a_wall_of_a_mile_is_not_drawn_a_mile_wide(as_: As, engine: Engine, cast: object) -> None:
    house = bedroom_house()
    wall: Wall = house.dwelling().walls["wall-1"]
    house.change(wall.id, length_in=Fraction(63360))
    put_house(engine, CREW, house)

    page = as_("gus").get("/jobs/job-1/rooms/room-1").text

    widths = [float(width) for width in re.findall(r'class="drawing"[^>]* width="([\d.]+)"', page)]
    assert max(widths[:-1]) < 5000
