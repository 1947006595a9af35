"""Cables that close a ring, parallel cables between two boxes included: every way of opening it.

In a ring a current could go out one way and come back the other, which is unlawful (300.3(B)), and two ways for one
conductor are conductors in parallel. A lawful hookup over a ring therefore keeps the two ends of it apart in one of its
boxes: what is in that box falls into two *parts* that share no join. Each way of dividing a box makes a tree; the best
hookup over all of them is the best over the ring.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

from server.reckon.hookup.facts import Cable, Node, Wiring
from server.reckon.hookup.faults import NoHookup

__all__ = ["MOST_OPENINGS", "Island", "Opened", "islands_of", "openings_of"]

MOST_OPENINGS: Final = 3000
"""Ways of opening rings that are tried."""


@dataclass(frozen=True, slots=True)
class Island:
    """Nodes joined by cables, and these cables."""

    nodes: tuple[Node, ...]
    cables: tuple[Cable, ...]

    @property
    def rings(self) -> int:
        """How many cables could go without parting it."""
        return len(self.cables) - len(self.nodes) + 1


@dataclass(frozen=True, slots=True)
class Opened:
    """An island made a tree: ``nodes`` with the parts of opened boxes, cables ending in them, ``device_part`` and
    ``kept_part`` for the devices of opened boxes and the neutral kept there, ``pole`` for sources, ``whole`` from
    part to box."""

    nodes: tuple[str, ...]
    cables: tuple[Cable, ...]
    device_part: dict[str, str]
    kept_part: dict[str, str]
    pole: dict[str, str]
    whole: dict[str, str]


def islands_of(wiring: Wiring) -> list[Island]:
    """The islands, in the order of their first node.

    Raises:
        NoHookup: a cable starts and ends in the same node.
    """
    around: dict[str, list[Cable]] = {node.id: [] for node in wiring.nodes}
    for cable in wiring.cables:
        if cable.a == cable.b:
            raise NoHookup(
                f"Cable {cable.id} starts and ends in {cable.a}: say which box its other end is in."
            )
        around[cable.a].append(cable)
        around[cable.b].append(cable)
    seen: set[str] = set()
    found = []
    for node in wiring.nodes:
        if node.id in seen:
            continue
        reached = {node.id}
        waiting = [node.id]
        while waiting:
            here = waiting.pop()
            for cable in around[here]:
                for other in (cable.a, cable.b):
                    if other not in reached:
                        reached.add(other)
                        waiting.append(other)
        seen |= reached
        found.append(
            Island(
                tuple(other for other in wiring.nodes if other.id in reached),
                tuple(cable for cable in wiring.cables if cable.a in reached),
            )
        )
    return found


def ring_in(nodes: Sequence[str], cables: Sequence[Cable]) -> tuple[list[str], list[Cable]] | None:
    """A shortest ring through the first cable that closes one: its nodes, and its cables in the same order."""
    own = {node: node for node in nodes}

    def root(node: str) -> str:
        while own[node] != node:
            node = own[node]
        return node

    around: dict[str, list[tuple[str, Cable]]] = {node: [] for node in nodes}
    for cable in cables:
        if root(cable.a) == root(cable.b):
            return _back(cable, around)
        own[root(cable.a)] = root(cable.b)
        around[cable.a].append((cable.b, cable))
        around[cable.b].append((cable.a, cable))
    return None


def _back(closing: Cable, around: dict[str, list[tuple[str, Cable]]]) -> tuple[list[str], list[Cable]]:
    came: dict[str, tuple[str, Cable]] = {}
    waiting = deque([closing.a])
    while closing.b not in came:
        node = waiting.popleft()
        for other, cable in around[node]:
            if other not in came and other != closing.a:
                came[other] = (node, cable)
                waiting.append(other)
    nodes, cables = [closing.b], [closing]
    while nodes[-1] != closing.a:
        node, cable = came[nodes[-1]]
        nodes.append(node)
        cables.append(cable)
    return nodes, cables


def openings_of(island: Island, wiring: Wiring, kept: frozenset[str]) -> Iterator[Opened]:
    """Every way of making an island a tree, each once; one way if it is a tree already.

    ``kept`` are the nodes where a neutral is kept for switches: it may lie in another part than the switch.

    Raises:
        NoHookup: there are more than :data:`MOST_OPENINGS`.
    """
    start = Opened(tuple(node.id for node in island.nodes), island.cables, {}, {}, {}, {})
    if not island.rings:
        yield start
        return
    ids = {node.id for node in island.nodes}
    devices: dict[str, list[str]] = {node: [] for node in ids}
    for device in wiring.devices:
        if device.node in ids:
            devices[device.node].append(device.id)
    things: dict[str, frozenset[str]] = {}
    for node in island.nodes:
        extra = [f"source:{node.id}"] if node.is_source else []
        extra += [f"kept:{node.id}"] if node.id in kept else []
        things[node.id] = frozenset([*extra, *(f"device:{device}" for device in devices[node.id])])
    seen: set[object] = set()
    waiting = [(start, things)]
    tried = 0
    while waiting:
        opened, inside = waiting.pop()
        ring = ring_in(opened.nodes, opened.cables)
        if ring is None:
            yield _placed(opened, inside)
            continue
        for following in _divided(opened, inside, ring):
            mark = _mark(*following)
            if mark in seen:
                continue
            seen.add(mark)
            tried += 1
            if tried > MOST_OPENINGS:
                raise NoHookup(
                    f"Cables {', '.join(cable.id for cable in ring[1])} close a ring through {', '.join(ring[0])}, one "
                    "of too many to try every way of opening them: leave out cables that are not needed."
                )
            waiting.append(following)


def _divided(
    opened: Opened, inside: dict[str, frozenset[str]], ring: tuple[list[str], list[Cable]]
) -> Iterator[tuple[Opened, dict[str, frozenset[str]]]]:
    """Each node of a ring divided in every way that parts its two ring cables."""
    nodes, cables = ring
    for at, node in enumerate(nodes):
        # Around the ring, node i lies between cable i - 1 and cable i, counted so that the closing cable is first.
        stays, goes = cables[at], cables[(at + 1) % len(cables)]
        others = [c for c in opened.cables if node in (c.a, c.b) and c.id not in (stays.id, goes.id)]
        loose = [*map(_thing, others), *sorted(inside[node])]
        # No id that a person gives has a zero byte in it.
        part = f"{node}\0{len(opened.whole)}"
        for sides in product((False, True), repeat=len(loose)):
            moved = {thing for thing, side in zip(loose, sides, strict=True) if side} | {_thing(goes)}
            yield (
                replace(
                    opened,
                    nodes=(*opened.nodes, part),
                    cables=tuple(
                        _moved(cable, node, part) if _thing(cable) in moved else cable
                        for cable in opened.cables
                    ),
                    whole={**opened.whole, part: opened.whole.get(node, node)},
                ),
                {**inside, node: inside[node] - moved, part: inside[node] & moved},
            )


def _thing(cable: Cable) -> str:
    return f"cable:{cable.id}"


def _moved(cable: Cable, node: str, part: str) -> Cable:
    return replace(cable, a=part) if cable.a == node else replace(cable, b=part)


def _mark(opened: Opened, inside: dict[str, frozenset[str]]) -> object:
    """What an opening comes to, whatever the order it was reached in."""
    parts: dict[str, set[str]] = {node: set(things) for node, things in inside.items()}
    for cable in opened.cables:
        parts[cable.a].add(_thing(cable))
        parts[cable.b].add(_thing(cable))
    return frozenset((opened.whole.get(node, node), frozenset(things)) for node, things in parts.items())


def _placed(opened: Opened, inside: dict[str, frozenset[str]]) -> Opened:
    """Note in which part everything of the opened boxes came to lie."""
    device_part: dict[str, str] = {}
    kept_part: dict[str, str] = {}
    pole: dict[str, str] = {}
    for part, things in inside.items():
        for thing in things:
            kind, _, name = thing.partition(":")
            if kind == "device":
                device_part[name] = part
            elif kind == "kept":
                kept_part[name] = part
            else:
                pole[name] = part
    return replace(opened, device_part=device_part, kept_part=kept_part, pole=pole)
