"""A job with a small house for the tests of pages: made straight in the store, as the API would."""

from __future__ import annotations

from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.store.engine import writing
from server.store.jobs import make_job, store_facts
from server.store.journal import NOBODY
from server.store.kinds import JobSettings

__all__ = ["bedroom_house", "kitchen_house", "put_house"]


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


def kitchen_house(*, prefix: str = "") -> HouseBuilder:
    """A kitchen of 14 by 12 ft with a door, a window, a counter with its sink, an island, two boxes; and a hall
    beside it with a luminaire of its own."""
    house = HouseBuilder(prefix=prefix)
    kitchen = house.room("kitchen", length_in=168, width_in=144, ceiling_height_in=96, stud_spacing_in=16)
    house.opening(kitchen, 1, "door", 6, 38)
    house.opening(kitchen, 3, "window", 60, 108, sill_in=42, head_in=80)
    counter = house.counter(kitchen, "wall", 168, 25, wall=3, from_in=0, height_in=36)
    house.break_(counter, "sink", 68, 101, behind_in=3)
    house.counter(kitchen, "island", 60, 36)
    house.fixture(kitchen, "range", wall=2, at_in=90, width_in=30)
    lamp = house.luminaire(house.box(kitchen, surface="ceiling", x_in=84, y_in=72, label="L1"))
    house.switch(house.box(kitchen, wall=1, at_in=45, height_in=48, label="S1"), lamp)
    hall = house.room("hallway", "Hall", length_in=168, width_in=42)
    house.luminaire(house.box(hall, surface="ceiling", x_in=84, y_in=21, label="L1"))
    return house


def put_house(
    engine: Engine, crew_id: str, house: HouseBuilder, *, job_id: str = "job-1", name: str = "Alder Court"
) -> str:
    """Store a house as a job of a crew; returns the job's id."""
    with writing(engine) as session:
        made = make_job(session, crew_id, JobSettings(id=job_id, name=name, edition=2023), NOBODY)
        store_facts(session, made, house.facts(), NOBODY, "built")
    return made
