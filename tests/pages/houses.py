"""A job with a small house for the tests of pages: made straight in the store, as the API would."""

from __future__ import annotations

from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.store.engine import writing
from server.store.jobs import make_job, store_facts
from server.store.journal import NOBODY
from server.store.kinds import JobSettings

__all__ = ["bedroom_house", "put_house"]


def bedroom_house(*, prefix: str = "", rooms: int = 1, boxes: int = 3) -> HouseBuilder:
    """Bedrooms of so many receptacle boxes each, on one circuit."""
    house = HouseBuilder(prefix=prefix)
    circuit = house.circuit(house.panel(), "Bedrooms")
    for number in range(rooms):
        room = house.room("bedroom", f"Bedroom {number + 1}", length_in=144, width_in=120)
        made = [
            house.box(room, wall=1, at_in=12 * (n + 1), height_in=16, label=f"R{n + 1}") for n in range(boxes)
        ]
        for box in made:
            house.receptacle(box)
        house.home_run(circuit, *made)
    return house


def put_house(
    engine: Engine, crew_id: str, house: HouseBuilder, *, job_id: str = "job-1", name: str = "Alder Court"
) -> str:
    """Store a house as a job of a crew; returns the job's id."""
    with writing(engine) as session:
        made = make_job(session, crew_id, JobSettings(id=job_id, name=name, edition=2023), NOBODY)
        store_facts(session, made, house.facts(), NOBODY, "built")
    return made
