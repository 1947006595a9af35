"""The load of a job from its own facts, amendments of its own, and what another edition would change."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine, update

from server.dwelling import FixtureKind
from server.store.engine import reading, writing
from server.store.houses import load_code
from server.store.journal import NOBODY
from server.store.observations import record
from server.store.tables import JobRow
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
FORM = {
    "title": "More sheath", "source": "Town ordinance 12, 2024", "cites": "12-3(b)", "kind": "replaces",
    "node": "sheath.reach_in", "value": "1/2", "why": "the town asks for more",
}  # fmt: skip


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    house = bedroom_house()
    kitchen = house.room("kitchen", length_in=144, width_in=120)
    house.fixture(kitchen, FixtureKind.RANGE, va=12000)
    laundry = house.room("laundry", length_in=96, width_in=72)
    house.fixture(laundry, FixtureKind.DRYER, va=5500)
    house.observe("room", "room-1", "sheath-into-box", measure="3/8")
    made = put_house(engine, CREW, house)
    with writing(engine) as session:
        record(session, made, house.facts().observations[0], key="k1234567", author=NOBODY)
    return made


def test_without_a_floor_area_the_page_says_what_is_missing(as_: As) -> None:
    assert "the floor area of the house" in as_("gus").get("/jobs/job-1/load").text


def test_annex_d_example_d1a_comes_out_of_a_jobs_own_facts(as_: As, engine: Engine) -> None:
    """Annex D, example D1(a): 1,500 ft2, 12 kW range, 5.5 kW dryer: 18,600 VA, 78 A (published 2005 to 2023)."""
    with writing(engine) as session:
        session.execute(update(JobRow).values(floor_area_ft2=1500))

    page = as_("gus").get("/jobs/job-1/load").text

    assert "18,600 VA" in page
    assert "78 A" in page


def test_an_amendment_is_in_force_with_its_own_source(as_: As, engine: Engine) -> None:
    client = as_("hugo")
    assert client.post("/jobs/job-1/amendments", data=FORM).status_code == 303

    page = as_("gus").get("/jobs/job-1/why/sheath-into-box/box/box-1").text
    assert "12-3(b)" in page
    assert "1/2 in is the least" in page
    with reading(engine) as session:
        row = session.get(JobRow, "job-1")
        assert row is not None
        assert load_code(row).entry("sheath.reach_in").sources == ("Town ordinance 12, 2024",)


def test_an_amendment_is_taken_away_and_undone(as_: As, engine: Engine) -> None:
    client = as_("hugo")
    client.post("/jobs/job-1/amendments", data=FORM)

    client.post("/jobs/job-1/amendments/0/remove")

    page = client.get("/jobs/job-1/amendments").text
    assert "No amendment of this job's own" in page.replace("&#39;", "'")
    undo = page.split('action="/jobs/job-1/changes/')[1].split('"')[0]
    client.post(f"/jobs/job-1/changes/{undo}")
    assert "More sheath" in client.get("/jobs/job-1/amendments").text


def test_a_rule_is_suspended_by_name(as_: As) -> None:
    as_("hugo").post(
        "/jobs/job-1/amendments",
        data=FORM | {"kind": "suspends", "node": "rule:sheath-into-box", "value": ""},
    )

    assert (
        "Suspended here by the amendment" in as_("gus").get("/jobs/job-1/why/sheath-into-box/box/box-1").text
    )


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("node", "no.such", "expected a name from the edition files"),
        ("value", "a lot", "expected a number in in"),
        ("source", "", "Fill this in"),
        ("kind", "overrules", "kind"),
        ("node", "rule:no-such", "There is no such rule"),
    ],
)
def test_an_amendment_that_does_not_fit_is_refused_and_kept(
    as_: As, field: str, typed: str, says: str
) -> None:
    answer = as_("hugo").post(
        "/jobs/job-1/amendments",
        data=FORM | {field: typed} | ({"kind": "suspends", "value": ""} if typed == "rule:no-such" else {}),
    )

    assert answer.status_code == 422
    assert says in answer.text
    assert "the town asks for more" in answer.text


def test_two_amendments_of_one_value_are_refused_naming_both(as_: As) -> None:
    as_("hugo").post("/jobs/job-1/amendments", data=FORM)

    answer = as_("hugo").post("/jobs/job-1/amendments", data=FORM | {"title": "Again", "value": "1"})

    assert answer.status_code == 422


@pytest.mark.parametrize(("name", "status"), [("elena", 403), ("pat", 403), ("gus", 403), ("sol", 404)])
def test_only_a_foreman_amends(as_: As, name: str, status: int) -> None:
    assert as_(name).post("/jobs/job-1/amendments", data=FORM).status_code == status


def test_another_edition_shows_what_would_change_and_changes_nothing(as_: As, engine: Engine) -> None:
    page = as_("gus").get("/jobs/job-1/editions/2017")

    assert page.status_code == 200
    assert re.search(r"\d+ answers? would be otherwise|Nothing would change", page.text)
    with reading(engine) as session:
        row = session.get(JobRow, "job-1")
        assert row is not None
        assert row.edition == 2023
    assert as_("gus").get("/jobs/job-1/editions/2014").status_code == 404
