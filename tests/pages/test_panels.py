"""The panels of a job and one panel: faces, directory, working space; added, changed, deleted, undone."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from tests.cast import CREW
from tests.pages.circuit_houses import house_in, stair_house, undo_of
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
PANEL = {
    "name": "Panel C",
    "spaces": "24",
    "main_a": "100",
    "space_depth_in": "3' 0 1/2\"",
    "neutral_bonded": "no",
}


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, stair_house())


def test_the_panels_page_has_faces_circuits_and_the_cables_on_none(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/panels").text

    assert "Face of Panel A" in page
    assert "Stair light" in page
    assert "Hall receptacles" in page
    assert "Cables on no circuit" in page
    assert "12-2" not in page.split('id="loose"')[1].split("</section>")[0]
    assert "Add a circuit" not in page, "a guest changes nothing"


def test_a_free_space_leads_to_a_circuit_in_it(as_: As, job: str) -> None:
    page = as_("elena").get(f"/jobs/{job}/panels").text

    assert f'href="/jobs/{job}/circuits/new?panel=panel-1&amp;space=5"' in page
    assert "space=1&quot;" not in page
    form = as_("elena").get(f"/jobs/{job}/circuits/new?panel=panel-1&space=5").text
    assert 'name="spaces" value="5"' in form


def test_without_a_panel_the_page_asks_for_one(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, HouseBuilder(prefix="e-"), job_id="empty")
    client = as_("elena")

    assert "Add the panel" in client.get("/jobs/empty/panels").text
    assert client.get("/jobs/empty/circuits/new").headers["location"] == "/jobs/empty/panels/new"


def test_a_panel_is_added_and_undone(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    answer = client.post(f"/jobs/{job}/panels", data=PANEL)

    assert answer.status_code == 303
    panel = next(panel for panel in house_in(engine, job).facts.panels if panel.name == "Panel C")
    assert (panel.spaces, panel.main_a, panel.neutral_bonded, panel.ground_bar) == (24, 100, False, None)
    assert panel.space_depth_in is not None
    assert float(panel.space_depth_in) == 36.5
    page = client.get(answer.headers["location"]).text
    assert "Panel C added" in page
    client.post(undo_of(page, job))
    assert len(house_in(engine, job).panels) == 1


def test_a_panels_page_shows_its_working_space_and_what_it_feeds(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/panels/panel-1").text

    assert "not measured" in page
    assert "Directory" in page
    assert "Stair" in page.split('id="directory"')[1]


def test_changing_a_panel_keeps_what_the_form_does_not_show(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    form = client.get(f"/jobs/{job}/panels/panel-1/edit").text
    assert 'value="Panel A"' in form
    client.post(f"/jobs/{job}/panels/panel-1/edit", data={"name": "Main panel", "spaces": "12", "main_a": "200", "bus_a": "200",
                "is_service": "yes", "room_id": "room-1", "space_width_in": "30"})  # fmt: skip

    panel = house_in(engine, job).panels["panel-1"]
    assert (panel.name, panel.order, panel.volts, panel.is_service) == ("Main panel", 0, 240, True)
    assert panel.space_width_in == 30


def test_a_deleted_panel_comes_back_with_its_circuits(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    answer = client.post(f"/jobs/{job}/panels/panel-1/delete")
    page = client.get(answer.headers["location"]).text
    assert "Panel A deleted with its 2 circuits." in page
    house = house_in(engine, job)
    assert (len(house.panels), len(house.circuits), len(house.cables)) == (0, 0, 7)

    client.post(undo_of(page, job))

    house = house_in(engine, job)
    assert (len(house.panels), len(house.circuits)) == (1, 2)
    assert house.cables["cable-1"].a_panel_id == "panel-1"


@pytest.mark.parametrize(("name", "status"), [("ana", 303), ("hugo", 303), ("elena", 303), ("pat", 403), ("gus", 403), ("sol", 404)])  # fmt: skip
def test_who_may_add_a_panel(as_: As, job: str, name: str, status: int) -> None:
    assert as_(name).post(f"/jobs/{job}/panels", data=PANEL).status_code == status


@pytest.mark.parametrize(("name", "status"), [("gus", 200), ("pat", 200), ("sol", 404)])
def test_who_may_look(as_: As, job: str, name: str, status: int) -> None:
    for path in ("panels", "panels/panel-1"):
        assert as_(name).get(f"/jobs/{job}/{path}").status_code == status
    assert as_(name).get(f"/jobs/{job}/panels/no-such").status_code == 404


def test_what_is_wrong_is_named_and_kept(as_: As, job: str) -> None:
    answer = as_("elena").post(
        f"/jobs/{job}/panels", data={**PANEL, "space_depth_in": "deep", "room_id": "gone"}
    )

    assert answer.status_code == 422
    assert "Expected a length" in answer.text
    assert 'value="deep"' in answer.text
    assert 'value="Panel C"' in answer.text
    wrong = as_("elena").post(f"/jobs/{job}/panels", data={**PANEL, "room_id": "gone"})
    assert wrong.status_code == 422
    assert "Choose one of the rooms" in wrong.text


def test_a_page_takes_the_same_queries_for_a_small_and_a_large_house(
    as_: As, engine: Engine, cast: object, query_count: Any
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="s-", rooms=1, boxes=1), job_id="small")
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=30, boxes=8), job_id="large")
    client = as_("gus")
    paths = (
        "panels",
        "panels/X-panel-1",
        "circuits/X-circuit-1",
        "circuits/X-circuit-1/hookup",
        "cables/X-cable-1",
        "boxes/X-box-1/hookup",
    )
    counts: dict[str, list[int]] = {}

    for job, prefix in (("small", "s"), ("large", "l")):
        for path in paths:
            with query_count() as queries:
                assert client.get(f"/jobs/{job}/{path.replace('X', prefix)}").status_code == 200, path
            counts.setdefault(path, []).append(queries.count)

    assert all(small == large for small, large in counts.values()), counts
    assert max(max(pair) for pair in counts.values()) <= 18


FIELDS = st.sampled_from(["name", "room_id", "spaces", "main_a", "bus_a", "space_depth_in", "door_swing_deg", "neutral_bonded", "is_service", "note", "extra"])  # fmt: skip


@given(
    data=st.dictionaries(
        FIELDS, st.text(max_size=40) | st.sampled_from(["12", "-4", "1/0", "9" * 30, "yes", "room-1"])
    )
)
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_whatever_it_holds_breaks_the_page(as_: As, job: str, data: dict[str, str]) -> None:
    answer = as_("elena").post(
        f"/jobs/{job}/panels", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text


def test_a_circuit_whose_outlets_lack_protection_says_so_in_the_list_as_on_its_own_page(
    as_: As, engine: Engine, cast: object
) -> None:
    job = put_house(engine, CREW, bedroom_house())
    client = as_("gus")
    listed = client.get(f"/jobs/{job}/panels").text
    circuit = re.search(rf"/jobs/{job}/circuits/([\w-]+)", listed)
    assert circuit is not None

    own = re.search(r"<span>(\d+) corrections</span>", client.get(circuit[0]).text)
    row = re.search(r"<span>(\d+) corrections</span>", listed)

    assert own is not None
    assert row is not None
    assert int(row[1]) == int(own[1]) >= 3, "three receptacles of a bedroom without arc-fault protection"
    assert "1 circuit with corrections" in listed
