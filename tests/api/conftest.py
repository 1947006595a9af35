"""The API is asked by everybody of the cast (tests/cast.py) through the whole application, on both databases."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.store.engine import make_engine, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings
from tests.cast import CREW, Cast, client_for, make_app, make_cast
from tests.conftest import fresh_sqlite

As = Callable[[str], TestClient]


@pytest.fixture
def cast(engine: Engine) -> Cast:
    """Everybody, in an empty database."""
    return make_cast(engine)


@pytest.fixture(scope="session")
def one_app(memory_folder: Path) -> FastAPI:
    """The application, built once: its sixty routes and their models take longer than most tests."""
    return make_app(make_engine(fresh_sqlite(memory_folder)))


@pytest.fixture
def app(one_app: FastAPI, engine: Engine) -> FastAPI:
    """The application over the test's database."""
    one_app.state.engine = engine
    return one_app


@pytest.fixture
def as_(app: FastAPI, cast: Cast) -> As:
    """A program that acts for somebody: ``as_("elena").get("/api/jobs")``."""

    def client(name: str) -> TestClient:
        made = client_for(app, cast.token(name))
        made.headers["Accept"] = "application/json"
        return made

    return client


def small_house() -> HouseBuilder:
    """A kitchen and a hall, a panel, a circuit through two boxes, a switch and a receptacle."""
    house = HouseBuilder()
    kitchen = house.room("kitchen", length_in=144, width_in=120)
    hall = house.room("hallway", length_in=144, width_in=42)
    house.opening(kitchen, 2, "door", 40, 72)
    circuit = house.circuit(house.panel(room_id=hall), "Kitchen")
    first = house.box(kitchen, wall=1, at_in=36, height_in=44)
    second = house.box(hall, wall=1, at_in=20)
    receptacle = house.receptacle(first)
    house.switch(second, receptacle)
    house.home_run(circuit, first, second)
    return house


@pytest.fixture
def job(engine: Engine, cast: Cast) -> str:
    """The id of a job of the crew, with the small house in it."""
    author = Author("account-hugo", "Hugo Lind")
    with writing(engine) as session:
        job_id = make_job(session, CREW, JobSettings("job-1", "Alder Street", 2023), author)
        store_facts(session, job_id, small_house().facts(), author, "laid out")
    return job_id


def fields_of(answer: Any) -> list[str]:
    """The fields that a problem document names."""
    assert answer.headers["content-type"] == "application/problem+json"
    return [error["field"] for error in answer.json().get("errors", [])]
