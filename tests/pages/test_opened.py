"""What is kept of a job in memory is what the database has, whatever was written and taken back again."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Observation, Ref
from server.pages.opened import opened_in
from server.store.base import Base
from server.store.engine import make_engine, reading, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import NOBODY
from server.store.kinds import JobSettings
from server.store.observations import record
from server.store.tables import CrewRow, JobRow
from tests.conftest import fresh_sqlite


def build(engine: Engine, crew: str, job: str = "") -> str:
    house = HouseBuilder()
    house.box(house.room("kitchen", length_in=144, width_in=120), wall=1, at_in=36)
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings(job, "House", 2023), NOBODY)
        store_facts(session, job_id, house.facts(), NOBODY, "")
    return job_id


@pytest.fixture
def job(engine: Engine, crew: str) -> str:
    return build(engine, crew)


def look(engine: Engine, job: str, name: str, *, fail: bool = False) -> None:
    seen = Observation(name, Ref("box", "box-1"), "sheath-into-box", Answer.RIGHT)
    with writing(engine) as session:
        record(session, job, seen, key=name, author=NOBODY)
        opened_in(session, session.get_one(JobRow, job, populate_existing=True))
        if fail:
            raise RuntimeError("the disk is full")


def kept(engine: Engine, job: str) -> list[str]:
    with reading(engine) as session:
        opened = opened_in(session, session.get_one(JobRow, job))
    return [seen.id for seen in opened.house.facts.observations]


def test_a_look_that_was_never_committed_is_not_kept(engine: Engine, job: str) -> None:
    assert kept(engine, job) == []

    with pytest.raises(RuntimeError, match="disk is full"):
        look(engine, job, "lost", fail=True)
    assert kept(engine, job) == []

    # it takes the revision that the lost one had
    look(engine, job, "real")
    assert kept(engine, job) == ["real"]


def test_two_databases_with_a_job_of_the_same_id_are_kept_apart(
    engine: Engine, job: str, memory_folder: Path
) -> None:
    other = make_engine(fresh_sqlite(memory_folder))
    Base.metadata.create_all(other)
    try:
        for one in (engine, other):
            if one is other:
                with writing(other) as session:
                    session.add(CrewRow(id="crew-1", name="Others", made_at=datetime.now(UTC)))
                build(other, "crew-1", job)
            # the same revision of the same id, and not the same look
            look(one, job, "first" if one is engine else "of others")

        assert kept(engine, job) == ["first"]
        assert kept(other, job) == ["of others"]
    finally:
        other.dispose()
