"""Wiring against a general graph library: hookup, protection and box fill of the whole demo house, next to one pass of
networkx's shortest paths over the same graph, from every box and panel to every other: without weights, and by the
length of the cables. Growth with boxes.

Every round begins with a house indexed anew and with nothing remembered, as after a start; the last line keeps what the
service remembers of circuits that did not change.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import networkx as nx

from seed_demo.building import HouseBuilder
from seed_demo.house import demo_house
from server.dwelling import Dwelling, Facts
from server.editions import load_edition
from server.reckon import remembered
from server.rules.box_fill import box_fill
from server.rules.hookups import State, hookups
from server.rules.protection_tree import protection
from tests.bench.ratio import compare, median_of, slope, told

CODE = load_edition(2023)
SIZES = (40, 80, 160, 320, 640)
USUAL_FT = Fraction(12)
"""The length of a cable of which none is recorded, for the pass by length."""


def graph_of(house: Dwelling) -> nx.Graph:
    """Boxes and panels joined by cables."""
    graph: nx.Graph = nx.Graph()
    for cable in house.facts.cables:
        length = float(cable.length_ft or USUAL_FT)
        graph.add_edge(cable.a_box_id or cable.a_panel_id, cable.b_box_id or cable.b_panel_id, length=length)
    return graph


def hook_up(house: Dwelling) -> int:
    """The hookup of every circuit; how many can be wired."""
    found = house.derive(hookups, CODE)
    return sum(found.of(circuit.id).state is State.LAWFUL for circuit in house.facts.circuits)


def fill(house: Dwelling) -> None:
    """The fill of every box."""
    for box in house.facts.boxes:
        box_fill(box, house, CODE)


def all_of_it(house: Dwelling) -> None:
    """Hookup, protection and fill."""
    hook_up(house)
    protection(house, CODE)
    fill(house)


def anew(facts: Facts, task: Callable[[Dwelling], object], *, forget: bool = True) -> Callable[[], None]:
    """A round: an indexed house from which nothing was derived yet. Indexing is not what is measured, so as many
    houses as rounds are made before."""
    houses = [Dwelling(facts) for _ in range(24)]

    def run() -> None:
        if forget:
            remembered.forget()
        task(houses.pop())

    return run


def street(boxes: int) -> Facts:
    """Rooms of ten boxes, each on a circuit of its own: a switch, five lights on it and four receptacles."""
    house = HouseBuilder()
    panel = house.panel(spaces=200)
    for number in range(boxes // 10):
        room = house.room("bedroom", f"Room {number}", length_in=168, width_in=144)
        circuit = house.circuit(panel, f"Room {number}", breaker="AFCI")
        wall = house.box(room, label="S1", wall=1, at_in=6, height_in=48)
        lamps = [house.box(room, label=f"L{n}", surface="ceiling", x_in=20 * n, y_in=40) for n in range(1, 6)]
        outlets = [house.box(room, label=f"R{n}", wall=n, at_in=60, height_in=16) for n in range(1, 5)]
        house.switch(wall, *(house.luminaire(box) for box in lamps))
        for box in outlets:
            house.receptacle(box)
        house.home_run(circuit, wall, *lamps)
        for a, b in pairwise([wall, *outlets]):
            house.cable(a, b, circuit)
    return house.facts()


def main() -> None:
    facts = demo_house(prefix="b-").builder.facts()
    house = Dwelling(facts)
    graph = graph_of(house)
    print(
        f"{len(house.boxes)} boxes, {len(house.cables)} cables, {len(house.circuits)} circuits, of which {hook_up(house)} can be wired"
    )
    for name, task in (
        ("hookup", hook_up),
        ("protection", lambda h: protection(h, CODE)),
        ("box fill", fill),
    ):
        print(f"  {name:<12} {median_of(anew(facts, task)) * 1000:7.2f} ms")
    plain, by_length = (
        lambda: dict(nx.all_pairs_shortest_path(graph)),
        lambda: dict(nx.all_pairs_dijkstra_path(graph, weight="length")),
    )
    told(
        "hookup, protection, fill / networkx, all shortest paths", *compare(anew(facts, all_of_it), plain), 2
    )
    told("the same / networkx, all shortest paths by length", *compare(anew(facts, all_of_it), by_length), 2)
    told(
        "the same, unchanged circuits remembered / all shortest paths",
        *compare(anew(facts, all_of_it, forget=False), plain),
        2,
    )
    times = [median_of(anew(street(boxes), all_of_it), 5) for boxes in SIZES]
    for boxes, moment in zip(SIZES, times, strict=True):
        print(f"  {boxes:4} boxes {moment * 1000:8.1f} ms")
    print(f"growth with boxes: slope {slope(SIZES, times):.2f} (1 is in proportion)")


if __name__ == "__main__":
    main()
