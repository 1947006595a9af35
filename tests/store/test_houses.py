"""A house is read in the same number of queries whatever its size, and judged by the code of its job."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import Engine

from server.dwelling import Answer, Box, Observation, Ref
from server.editions import AmendmentConflict, EditionError, load_edition
from server.store.engine import reading, writing
from server.store.errors import NotThere
from server.store.facts import add
from server.store.houses import edition_of, load_code, load_facts, load_house, site_of
from server.store.jobs import change_job, list_jobs, make_job
from server.store.journal import new_id
from server.store.kinds import KINDS, JobSettings
from server.store.observations import record
from server.store.tables import JobRow
from tests.store.conftest import ANN, small_house


def layer(name: str, value: str = "1/2", node: str = "sheath.reach_in") -> dict[str, Any]:
    change = {"kind": "replaces", "node": node, "value": value, "cites": "12.4"}
    return {"id": name, "title": name.title(), "source": "Ordinance", "change": [change]}


def test_a_house_is_the_one_that_was_put_in(engine: Engine, job: str) -> None:
    with reading(engine) as session:
        house = load_house(session, job)

    expected = small_house().dwelling()
    assert house.facts.boxes == expected.facts.boxes
    assert house.cables_of_box == expected.cables_of_box
    assert house.site.name == "Alder Street"


def test_a_house_takes_the_same_queries_whatever_its_size(engine: Engine, job: str, query_count: Any) -> None:
    with query_count() as few, reading(engine) as session:
        load_house(session, job)
    with writing(engine) as session:
        add(session, job, *(Box(f"more-{number}", "room-1") for number in range(200)), author=ANN)
        seen = Observation(new_id(), Ref("box", "more-1"), "box-fill", Answer.RIGHT)
        record(session, job, seen, key="k", author=ANN)

    with query_count() as many, reading(engine) as session:
        house = load_house(session, job)

    assert len(house.boxes) == 203
    assert many.count == few.count == len(KINDS) + 2  # the job, each kind, the log


def test_a_job_whose_row_is_at_hand_is_not_asked_for_again(
    engine: Engine, job: str, query_count: Any
) -> None:
    with reading(engine) as session:
        row = session.get_one(JobRow, job)
        with query_count() as queries:
            load_facts(session, row)

    assert queries.count == len(KINDS) + 1


def test_a_house_of_no_job_is_not_there(engine: Engine) -> None:
    with pytest.raises(NotThere), reading(engine) as session:
        load_house(session, "nowhere")


def test_the_list_of_jobs_takes_one_query(engine: Engine, crew: str, query_count: Any) -> None:
    with writing(engine) as session:
        for number in range(20):
            make_job(session, crew, JobSettings("", f"House {number}", 2023), ANN)

    with query_count() as queries, reading(engine) as session:
        jobs = list_jobs(session, JobRow.crew_id == crew)

    assert (len(jobs), queries.count) == (20, 1)


def test_a_job_is_judged_by_its_edition_and_amendments(engine: Engine, crew: str) -> None:
    with writing(engine) as session:
        job = make_job(session, crew, JobSettings("", "House", 2020, layers=(layer("our-town"),)), ANN)

    with reading(engine) as session:
        row = session.get_one(JobRow, job)
        code = load_code(row)
        assert site_of(row).name == "House"
    assert (code.year, code.number("sheath.reach_in")) == (2020, Fraction(1, 2))
    assert load_edition(2020).number("sheath.reach_in") != Fraction(1, 2)


def test_the_same_edition_is_built_once() -> None:
    assert edition_of(2023, (), (layer("a"),)) is edition_of(2023, (), (layer("a"),))
    assert edition_of(2023, (), (layer("a"),)) != edition_of(2023, (), (layer("a", "3/4"),))


def test_two_amendments_of_one_number_are_refused_naming_both() -> None:
    with pytest.raises(AmendmentConflict, match=r"'first'.*'second'"):
        edition_of(2023, (), (layer("first"), layer("second")))


@pytest.mark.parametrize(
    ("year", "presets", "layers"),
    [
        (2019, (), ()),
        (2023, ("atlantis",), ()),
        (2023, (), (layer("a"), layer("a", node="edition.title"))),
        (2023, (), (layer("a", node="no.such.number"),)),
    ],
)
def test_an_edition_that_does_not_exist_is_refused(year: int, presets: tuple[str, ...], layers: Any) -> None:
    with pytest.raises(EditionError):
        edition_of(year, presets, layers)


def test_a_job_is_not_given_amendments_that_do_not_fit(engine: Engine, job: str) -> None:
    with pytest.raises(EditionError), writing(engine) as session:
        change_job(session, job, {"layers": (layer("first"), layer("second"))}, author=ANN)

    with reading(engine) as session:
        assert session.get_one(JobRow, job).layers == []
