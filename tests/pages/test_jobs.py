"""All jobs, a new job, a job's settings: who may, what is kept when something is wrong, what is undone."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, select

from server.store.engine import reading
from server.store.tables import JobRow
from tests.cast import CREW, OTHER_CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
FORM = {
    "name": "12 Mill Lane",
    "edition": "2023",
    "stage": "rough-in",
    "work": "new",
    "inspection_date": "2026-12-04",
}


def test_it_works(as_: As) -> None:
    answer = as_("ana").post("/jobs", data=FORM)

    assert answer.status_code == 303
    page = as_("gus").get(answer.headers["location"])
    assert "12 Mill Lane" in page.text
    assert "No rooms yet" in page.text


def test_an_empty_crew_is_told_what_a_job_is(as_: As) -> None:
    assert "Set up the first job" in as_("hugo").get("/jobs").text
    assert "Set up the first job" not in as_("elena").get("/jobs").text


@pytest.mark.parametrize(
    ("name", "status"), [("ana", 303), ("hugo", 303), ("elena", 403), ("pat", 403), ("gus", 403)]
)
def test_only_a_foreman_and_up_makes_jobs(as_: As, name: str, status: int) -> None:
    assert as_(name).post("/jobs", data=FORM).status_code == status


@pytest.mark.parametrize(
    "path",
    [
        "/jobs/job-1/rooms",
        "/jobs/job-1/settings",
        "/jobs/job-1/readiness",
        "/jobs/job-1/packet",
        "/jobs/job-1/walk",
    ],
)
def test_another_crews_job_answers_like_a_missing_one(as_: As, engine: Engine, path: str) -> None:
    put_house(engine, CREW, bedroom_house())

    theirs = as_("sol").get(path)
    missing = as_("sol").get(path.replace("job-1", "job-none"))

    assert (theirs.status_code, missing.status_code) == (404, 404)
    request_id = re.compile(r'(?<=class="code">)[0-9a-f]+')
    assert request_id.sub("", theirs.text).replace("job-1", "") == request_id.sub("", missing.text).replace(
        "job-none", ""
    )


def test_it_requires_sign_in(client: TestClient, as_: As) -> None:
    as_("ana")

    answer = client.get("/jobs")

    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/sign-in")


def test_a_list_shows_only_the_crews_own_jobs(as_: As, engine: Engine) -> None:
    put_house(engine, CREW, bedroom_house(prefix="a-"), job_id="a", name="Ours")
    put_house(engine, OTHER_CREW, bedroom_house(prefix="b-"), job_id="b", name="Theirs")

    page = as_("gus").get("/jobs").text

    assert "Ours" in page
    assert "Theirs" not in page


def test_the_list_takes_the_same_queries_for_one_job_and_for_twenty(
    as_: As, engine: Engine, query_count: Any
) -> None:
    client = as_("ana")
    counts = []
    for number in range(20):
        put_house(engine, CREW, bedroom_house(prefix=f"{number}-"), job_id=f"j{number}")
        if number in (0, 19):
            with query_count() as queries:
                assert client.get("/jobs").status_code == 200
            counts.append(queries.count)

    assert counts[0] == counts[1]
    assert counts[0] <= 6


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("name", "", "Fill this in"),
        ("edition", "2014", "Expected one of 2017, 2020, 2023, 2026; came 2014"),
        ("edition", "soon", "came"),
        ("stage", "later", "came"),
        ("inspection_date", "next week", "Expected a date as 2026-11-30"),
        ("presets", "atlantis", "do not go together"),
    ],
)
def test_a_wrong_field_is_named_and_nothing_typed_is_lost(
    as_: As, engine: Engine, field: str, typed: str, says: str
) -> None:
    answer = as_("ana").post("/jobs", data=FORM | {"address": "a long address typed with care", field: typed})

    assert answer.status_code == 422
    assert says in answer.text
    assert "a long address typed with care" in answer.text
    with reading(engine) as session:
        assert session.scalars(select(JobRow.id)).all() == []


def test_changed_settings_can_be_taken_back(as_: As, engine: Engine) -> None:
    put_house(engine, CREW, bedroom_house())
    client = as_("hugo")

    client.post("/jobs/job-1/settings", data=FORM | {"edition": "2017"})
    page = client.get("/jobs/job-1/rooms")
    undo = page.text.split('action="/jobs/job-1/changes/')[1].split('"')[0]
    client.post(f"/jobs/job-1/changes/{undo}")

    with reading(engine) as session:
        row = session.get(JobRow, "job-1")
        assert row is not None
        assert (row.name, row.edition) == ("Alder Court", 2023)


def test_a_job_put_away_leaves_the_list_and_comes_back(as_: As, engine: Engine) -> None:
    put_house(engine, CREW, bedroom_house())
    client = as_("hugo")

    client.post("/jobs/job-1/archive")
    assert 'href="/jobs/job-1/rooms"' not in client.get("/jobs").text
    assert 'href="/jobs/job-1/rooms"' in client.get("/jobs?archived=true").text

    client.post("/jobs/job-1/unarchive")
    assert 'href="/jobs/job-1/rooms"' in client.get("/jobs").text


@given(
    st.dictionaries(
        st.sampled_from([*FORM, "address", "presets", "permit_date", "floor_area_ft2", "colour"]),
        st.text(max_size=60)
        | st.integers().map(str)
        | st.sampled_from(["2023", "rough-in", "-1", "1e9", "’", "\x00", "<b>"]),
    )
)
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_whatever_it_holds_breaks_the_page(as_: As, data: dict[str, str]) -> None:
    answer = as_("ana").post(
        "/jobs", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answer.status_code in (303, 422)
    if answer.status_code == 422:
        assert 'id="wrong"' in answer.text
