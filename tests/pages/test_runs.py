"""Drawing a run on its page: with a script (a part of the page) and without (the whole page), undone tap by tap."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from tests.cast import CREW
from tests.pages.circuit_houses import house_in, stair_house
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
HTMX = {"HX-Request": "true"}
LEG = {"awg": "14", "insulated": "2", "kind": "nm-b"}


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, stair_house(drawn=False))


@pytest.fixture
def run(job: str) -> str:
    return f"/jobs/{job}/circuits/circuit-1/run"


def tap(client: TestClient, run: str, to: str, at: str = "panel", *, script: bool = True, **more: str) -> Any:
    return client.post(run, data={**LEG, "to": to, "at": at, **more}, headers=HTMX if script else {})


def ways(engine: Engine, job: str, circuit: str = "circuit-1") -> list[tuple[str, str, int]]:
    house = house_in(engine, job)
    label = {box.id: f"{house.rooms[box.room_id].name} {box.label}" for box in house.facts.boxes}
    return [
        (label.get(cable.a_box_id or "", "P"), label.get(cable.b_box_id or "", "-"), cable.insulated)
        for cable in house.cables_of_circuit.get(circuit, ())
    ]


def test_the_page_shows_the_boxes_of_a_room_to_tap(as_: As, run: str) -> None:
    page = as_("elena").get(f"{run}?room=room-2").text

    for label in ("S1", "S2", "S3", "L1"):
        assert re.search(rf'class="tap-label">{label}', page)
    assert "From</span> <strong>Panel A</strong>" in page
    assert 'value="2" checked' in page
    assert 'id="run"' in page
    assert "<!doctype html>" in page.lower()


def test_a_stair_is_drawn_tap_by_tap_and_judged_at_once(as_: As, engine: Engine, job: str, run: str) -> None:
    client = as_("elena")
    tap(client, run, "box-2")
    tap(client, run, "box-3", "box-2", insulated="3")
    tap(client, run, "box-4", "box-3", insulated="3")
    answer = tap(client, run, "box-1", "box-4")

    assert ways(engine, job) == [
        ("P", "Stair S1", 2),
        ("Stair S1", "Stair S2", 3),
        ("Stair S2", "Stair S3", 3),
        ("Stair S3", "Stair L1", 2),
    ]
    assert "<html" not in answer.text
    assert 'data-say="14-2 from Stair S3 to Stair L1."' in answer.text
    assert "It can be wired: 10 conductors in use" in answer.text


def test_without_a_script_the_same_form_leads_to_the_whole_page(
    as_: As, engine: Engine, job: str, run: str
) -> None:
    client = as_("elena")
    answer = tap(client, run, "box-2", script=False)

    assert answer.status_code == 303
    assert "at=box-2" in answer.headers["location"]
    page = client.get(answer.headers["location"]).text
    assert "14-2 from Panel A to Stair S1." in page
    assert "<strong>Stair S1</strong>" in page
    undo = page.split(f'action="/jobs/{job}/changes/')[1].split('"')[0]
    back = client.post(
        f"/jobs/{job}/changes/{undo}",
        headers={"Referer": f"http://127.0.0.1:8000{answer.headers['location']}"},
    )
    assert back.headers["location"].startswith(run)
    assert ways(engine, job) == []


def test_each_tap_is_undone_and_done_again(as_: As, engine: Engine, job: str, run: str) -> None:
    client = as_("elena")
    tap(client, run, "box-2")
    answer = tap(client, run, "box-3", "box-2")
    change = answer.text.split('name="change" value="')[1].split('"')[0]

    undone = client.post(f"{run}/undo", data={"change": change, **LEG}, headers=HTMX)
    assert ways(engine, job) == [("P", "Stair S1", 2)]
    assert "Do it again" in undone.text
    again = undone.text.split('name="change" value="')[1].split('"')[0]
    client.post(f"{run}/undo", data={"change": again, **LEG}, headers=HTMX)
    assert len(ways(engine, job)) == 2
    twice = client.post(f"{run}/undo", data={"change": again, **LEG}, headers=HTMX)
    assert "undone before" in twice.text


def test_a_tap_sent_twice_is_one_leg(as_: As, engine: Engine, job: str, run: str) -> None:
    client = as_("elena")
    for _ in range(3):
        assert tap(client, run, "box-2").status_code == 200

    assert ways(engine, job) == [("P", "Stair S1", 2)]


def test_a_box_is_put_into_a_leg_taken_out_and_an_end_taken_elsewhere(
    as_: As, engine: Engine, job: str, run: str
) -> None:
    client = as_("elena")
    tap(client, run, "box-2")
    tap(client, run, "box-4", "box-2", insulated="3")
    leg = house_in(engine, job).cables_of_circuit["circuit-1"][1].id
    page = client.get(f"{run}?leg={leg}&mode=insert", headers=HTMX).text
    assert "Tap the box to put into cable 2" in page
    tap(client, run, "box-3", mode="insert", leg=leg)
    assert [way[1] for way in ways(engine, job)] == ["Stair S1", "Stair S2", "Stair S3"]
    last = house_in(engine, job).cables_of_circuit["circuit-1"][2].id
    tap(client, run, "box-1", mode="move", leg=last)
    assert [way[1] for way in ways(engine, job)] == ["Stair S1", "Stair S2", "Stair L1"]
    client.post(run, data={**LEG, "deed": "leave", "to": "box-3"}, headers=HTMX)
    assert ways(engine, job) == [("P", "Stair S1", 2), ("Stair S1", "Stair L1", 3)]


def test_a_legs_cable_is_changed_and_a_leg_is_removed(as_: As, engine: Engine, job: str, run: str) -> None:
    client = as_("elena")
    tap(client, run, "box-2")
    tap(client, run, "box-3", "box-2")
    leg = house_in(engine, job).cables_of_circuit["circuit-1"][1].id

    answer = client.post(
        run, data={**LEG, "deed": "leg", "leg": leg, "insulated": "3", "at": "box-3"}, headers=HTMX
    )
    assert "Cable 2 is now 14-3 NM-B." in answer.text
    assert ways(engine, job)[1][2] == 3
    nothing = client.post(
        run, data={**LEG, "deed": "leg", "leg": leg, "insulated": "3", "at": "box-3"}, headers=HTMX
    )
    assert "nothing was changed" in nothing.text
    client.post(run, data={**LEG, "deed": "remove", "leg": leg}, headers=HTMX)
    assert len(ways(engine, job)) == 1


def test_what_is_short_is_said_and_mended_with_one_tap(as_: As, engine: Engine, job: str, run: str) -> None:
    client = as_("elena")
    for at, to in (("panel", "box-2"), ("box-2", "box-3"), ("box-3", "box-4"), ("box-4", "box-1")):
        answer = tap(client, run, to, at)
    assert "Cable 2 (14-2) needs 3 conductors and cable 3 (14-2) needs 3 conductors." in answer.text
    assert "Put these cables in the run" in answer.text

    answer = client.post(run, data={**LEG, "deed": "plan", "at": "box-1"}, headers=HTMX)

    assert "It can be wired" in answer.text
    assert [way[2] for way in ways(engine, job)] == [2, 3, 3, 2]


def test_a_cable_on_no_circuit_is_shown_and_taken_along(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    run = f"/jobs/{job}/circuits/circuit-2/run"
    loose = next(cable for cable in house_in(engine, job).facts.cables if not cable.circuit_ids)
    page = client.get(run).text
    assert "It is on no circuit yet." in page
    client.post(run, data={**LEG, "deed": "adopt", "leg": loose.id, "at": "box-6"}, headers=HTMX)

    assert house_in(engine, job).cables[loose.id].circuit_ids == ("circuit-2",)


def test_the_load_side_is_marked_at_the_device(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    run = f"/jobs/{job}/circuits/circuit-2/run"
    onward = house_in(engine, job).cables_of_circuit["circuit-2"][1].id
    gfci = next(device for device in house_in(engine, job).facts.devices if device.gfci).id
    page = client.get(f"{run}?at=box-5").text
    assert "is on the <strong>line side</strong> of the GFCI receptacle" in page
    data = {**LEG, "deed": "load", "leg": onward, "device": gfci, "load": "yes", "at": "box-5"}
    answer = client.post(run, data=data, headers=HTMX)

    assert house_in(engine, job).devices[gfci].load_cable_ids == (onward,)
    assert "<strong>load side</strong>" in answer.text
    protection = client.get(f"/jobs/{job}/circuits/circuit-2").text.split('id="protection"')[1]
    assert "GFCI by" in protection


def test_devices_in_a_box_with_two_circuits_keep_theirs_and_can_be_given_the_other(
    as_: As, engine: Engine, job: str
) -> None:
    client = as_("elena")
    tap(client, f"/jobs/{job}/circuits/circuit-1/run", "box-5")
    devices = house_in(engine, job).devices_of_box["box-5"]
    assert [device.circuit_id for device in devices] == ["circuit-2"]
    page = client.get(f"/jobs/{job}/circuits/circuit-1/run?at=box-5").text
    assert "GFCI receptacle is on" in page or "Gfci receptacle is on" in page
    data = {**LEG, "deed": "device", "device": devices[0].id, "device_circuit": "circuit-1", "at": "box-5"}
    client.post(f"/jobs/{job}/circuits/circuit-1/run", data=data, headers=HTMX)

    assert house_in(engine, job).devices_of_box["box-5"][0].circuit_id == "circuit-1"


def test_what_cannot_be_is_refused_in_words_and_changes_nothing(
    as_: As, engine: Engine, job: str, run: str
) -> None:
    client = as_("elena")
    before = house_in(engine, job).facts

    gone = tap(client, run, "no-such-box")
    assert gone.status_code == 409
    assert "That box is gone." in gone.text
    odd = client.post(run, data={"deed": "sing"}, headers=HTMX)
    assert odd.status_code == 422
    assert "deed" in odd.text
    assert house_in(engine, job).facts == before


@pytest.mark.parametrize(("name", "status"), [("ana", 200), ("hugo", 200), ("elena", 200), ("pat", 403), ("gus", 403), ("sol", 404)])  # fmt: skip
def test_who_may_draw(as_: As, run: str, name: str, status: int) -> None:
    assert as_(name).get(run).status_code == status
    assert tap(as_(name), run, "box-2").status_code == status


def test_a_tap_costs_the_same_queries_in_a_small_and_a_large_house(
    as_: As, engine: Engine, cast: object, query_count: Any
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="s-", rooms=1, boxes=2), job_id="small")
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=30, boxes=8), job_id="large")
    client = as_("elena")
    counts = []
    for job, prefix in (("small", "s"), ("large", "l")):
        circuit = f"/jobs/{job}/circuits/{prefix}-circuit-1/run"
        box = house_in(engine, job).facts.boxes[0]
        with query_count() as queries:
            client.post(
                circuit,
                data={**LEG, "deed": "leg", "leg": f"{prefix}-cable-1", "insulated": "3", "at": box.id},
                headers=HTMX,
            )
        counts.append(queries.count)

    assert counts[0] == counts[1], counts


DEEDS = st.sampled_from(["tap", "leg", "remove", "leave", "adopt", "load", "device", "plan", "x"])
IDS = st.sampled_from(
    [
        "box-1",
        "box-2",
        "box-3",
        "box-5",
        "panel",
        "cable-1",
        "cable-2",
        "device-1",
        "circuit-1",
        "circuit-2",
        "",
        "gone",
    ]
)


@given(st.lists(st.fixed_dictionaries({"deed": DEEDS, "to": IDS, "at": IDS, "leg": IDS, "device": IDS, "device_circuit": IDS, "load": st.sampled_from(["", "yes", "no", "maybe"]),
                 "mode": st.sampled_from(["add", "insert", "move"]), "insulated": st.sampled_from(["2", "3", "0", "x", ""]), "kind": st.sampled_from(["nm-b", "mc", "rope"]),
                 "awg": st.sampled_from(["14", "", "99", "a" * 20])}), max_size=6))  # fmt: skip
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_tap_whatever_it_holds_breaks_the_page(as_: As, job: str, taps: list[dict[str, str]]) -> None:
    client = as_("elena")
    for data in taps:
        answer = client.post(f"/jobs/{job}/circuits/circuit-1/run", data=data, headers=HTMX)

        assert answer.status_code in (200, 404, 409, 422), answer.text[:500]
    for path in (
        "circuits/circuit-1/run",
        "circuits/circuit-1",
        "circuits/circuit-1/hookup",
        "panels",
        "boxes/box-2/hookup",
    ):
        assert client.get(f"/jobs/{job}/{path}").status_code == 200
