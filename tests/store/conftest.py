"""A small house in a job, and someone who writes."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.store.engine import writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings

ANN = Author("account-ann", "Ann Ames")
BEN = Author("account-ben", "Ben Ortiz")


def small_house() -> HouseBuilder:
    """A kitchen and a hall, a panel, a circuit through three boxes, a switched receptacle."""
    house = HouseBuilder()
    kitchen = house.room("kitchen", length_in=144, width_in=120)
    hall = house.room("hallway", length_in=144, width_in=42)
    counter = house.counter(kitchen, "wall", 96, 25, wall=1, from_in=0)
    house.break_(counter, "sink", 30, 63)
    sink = house.fixture(kitchen, "sink", wall=1, at_in=46)
    house.opening(kitchen, 2, "door", 40, 72)
    panel = house.panel(room_id=hall)
    circuit = house.circuit(panel, "Kitchen")
    first = house.box(kitchen, wall=1, at_in=36, height_in=44, counter_id=counter)
    second = house.box(kitchen, wall=3, at_in=20)
    third = house.box(hall, wall=1, at_in=20)
    receptacle = house.receptacle(first)
    house.device(first, "hardwired", fixture_id=sink)
    cables = house.home_run(circuit, first, second, third)
    house.switch(third, receptacle, load_cable_ids=(cables[2],), circuit_id=circuit)
    return house


@pytest.fixture
def job(engine: Engine, crew: str) -> str:
    """The id of a job with the small house in it."""
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings("job-1", "Alder Street", 2023), ANN)
        store_facts(session, job_id, small_house().facts(), ANN, "laid out")
    return job_id
