"""How long hookups take beside one pass of networkx shortest paths over the same graph. ``python tests/bench/bench_hookup.py``

Every time is the median of several rounds in one run: the whole answer (demand, search, plan, proof over all switch
positions) against ``all_pairs_shortest_path`` of the boxes and cables. The *house* is sixteen circuits of four to
fourteen boxes as a house has them, hooked up one after the other, against one pass over the whole house.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import networkx as nx

from server.editions import load_edition
from server.reckon.hookup import Cable, Device, Kind, Node, Wiring, solve_hookup

__all__ = ["main"]

ROUNDS = 30
CODE = load_edition(2023)


def circuit(
    boxes: int, *, groups: tuple[int, ...], insulated: int, seed: int = 0, prefix: str = ""
) -> Wiring:
    """A run of boxes with short branches, a receptacle in most, and lights that so many switches turn each."""
    choose = random.Random(seed)
    names = [f"{prefix}B{number}" for number in range(boxes)]
    cables = [Cable(f"{prefix}c0", f"{prefix}P", names[0])]
    for at in range(1, boxes):
        cables.append(
            Cable(f"{prefix}c{at}", names[choose.randrange(max(0, at - 3), at)], names[at], insulated)
        )
    devices = [
        Device(f"{prefix}R{at}", name, Kind.RECEPTACLE)
        for at, name in enumerate(names)
        if choose.random() < 0.6 or at == 0
    ]
    for number, size in enumerate(groups):
        load = f"{prefix}L{number}"
        devices.append(Device(load, choose.choice(names), Kind.LUMINAIRE))
        devices += [
            Device(f"{prefix}S{number}-{at}", choose.choice(names), Kind.SWITCH, (load,))
            for at in range(size)
        ]
    nodes = [Node(f"{prefix}P", is_source=True), *(Node(name) for name in names)]
    return Wiring(tuple(nodes), tuple(cables), tuple(devices))


def house() -> list[Wiring]:
    """Sixteen circuits: receptacles, rooms with a switch or two, stairs and halls with two to four locations."""
    kinds: list[tuple[int, tuple[int, ...]]] = [
        (4, ()), (6, ()), (8, ()), (8, (1,)), (10, (1, 1)), (10, (1, 2)), (12, (2,)), (12, (1, 1, 2)),
        (14, (3, 1)), (14, (2, 2)), (6, (1,)), (7, (1, 1)), (9, (4,)), (5, ()), (5, ()), (11, (1, 1, 1)),
    ]  # fmt: skip
    found = []
    for number, (boxes, groups) in enumerate(kinds):
        wiring = circuit(boxes, groups=groups, insulated=3, seed=number, prefix=f"{number}/")
        needs = {need.cable: need.insulated for need in solve_hookup(wiring, CODE).cheapest}
        cables = tuple(
            replace(cable, insulated=needs.get(cable.id, cable.insulated)) for cable in wiring.cables
        )
        found.append(replace(wiring, cables=cables))
    return found


def median_ms(task: Callable[[], object]) -> float:
    """The median of many rounds, in milliseconds."""
    task()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        task()
        times.append(time.perf_counter() - start)
    return statistics.median(times) * 1000


def graph_of(wirings: list[Wiring]) -> nx.Graph:
    """Boxes and cables; the sources of a house are one panel."""
    graph = nx.Graph()
    for wiring in wirings:
        for cable in wiring.cables:
            ends = ["panel" if end.endswith("P") else end for end in (cable.a, cable.b)]
            graph.add_edge(*ends)
    return graph


def row(name: str, wirings: list[Wiring]) -> None:
    answers = [solve_hookup(wiring, CODE) for wiring in wirings]
    ours = median_ms(lambda: [solve_hookup(wiring, CODE) for wiring in wirings])
    graph = graph_of(wirings)
    paths = median_ms(lambda: dict(nx.all_pairs_shortest_path(graph)))
    possible = f"{sum(answer.possible for answer in answers)} of {len(answers)} possible"
    print(f"{name:44} {ours:8.2f} ms {paths:8.2f} ms  x {ours / paths:5.2f}   {possible}")


def main() -> None:
    """Print hookup, one pass of shortest paths, and their ratio."""
    print(f"{'':44} {'hookup':>11} {'paths':>11}")
    row("house of 16 circuits", house())
    for boxes in (10, 20, 30, 60, 120):
        row(f"{boxes} boxes, a light from two places", [circuit(boxes, groups=(2,), insulated=6)])
    for size in (3, 4, 5, 6, 8):
        row(f"30 boxes, a light from {size} places", [circuit(30, groups=(size,), insulated=6)])
    row("30 boxes, six places, cables too small", [circuit(30, groups=(6,), insulated=3)])
    row("30 boxes, six lights from two places each", [circuit(30, groups=(2,) * 6, insulated=10)])


if __name__ == "__main__":
    main()
