"""Houses whose circuits the tests of pages look at: a stair, a bathroom, two circuits on one neutral."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.dwelling import Dwelling, SwitchWays
from server.store.engine import reading
from server.store.houses import load_house

__all__ = ["house_in", "said", "stair_house", "undo_of"]


def stair_house(*insulated: int, drawn: bool = True, prefix: str = "") -> HouseBuilder:
    """A stair with three switch locations and a light, a hall with a GFCI receptacle and another beyond it; a panel in
    the hall. ``insulated`` for the four cables of the stair's circuit, where they are drawn."""
    house = HouseBuilder(prefix=prefix)
    hall = house.room("hallway", "Hall", length_in=168, width_in=60)
    stair = house.room("stair", "Stair", length_in=144, width_in=42)
    panel = house.panel("Panel A", room_id=hall, spaces=12)
    light = house.circuit(panel, "Stair light")
    lamp = house.box(stair, label="L1", surface="ceiling", x_in=72, y_in=20)
    load = house.luminaire(lamp)
    ways = (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY, SwitchWays.THREE_WAY)
    boxes = [house.box(stair, label=f"S{n + 1}", wall=1, at_in=20 + 40 * n, height_in=48) for n in range(3)]
    for box, way in zip(boxes, ways, strict=True):
        house.switch(box, load, ways=way)
    if drawn:
        for (a, b), count in zip(
            zip((panel, *boxes), (*boxes, lamp), strict=True), insulated or (2, 3, 3, 2), strict=True
        ):
            house.cable(a, b, light, insulated=count)
    outlets = house.circuit(panel, "Hall receptacles", rating_a=20, conductor_awg="12")
    first, second = (house.box(hall, label=f"R{n}", wall=1, at_in=40 * n, height_in=16) for n in (1, 2))
    house.receptacle(first, gfci=True)
    house.receptacle(second)
    house.home_run(outlets, first, second)
    house.cable(second, boxes[0])
    return house


def house_in(engine: Engine, job: str) -> Dwelling:
    """A job's house as it stands in the store."""
    with reading(engine) as session:
        return load_house(session, job)


def said(answer: Any, client: Any) -> str:
    """What the page after a form says."""
    page = client.get(answer.headers["location"]).text
    return str(page.split('class="said"')[1].split("<p>")[1].split("</p>")[0])


def undo_of(text: str, job: str) -> str:
    """The address of the undo that a page offers."""
    return f"/jobs/{job}/changes/" + text.split(f'action="/jobs/{job}/changes/')[1].split('"')[0]


As = Callable[[str], Any]
