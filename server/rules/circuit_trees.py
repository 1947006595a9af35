"""Each circuit as the tree that its cables make, rooted at its panel.

Nobody enters which way the power runs: it runs away from the panel. Built once per house
(``house.derive(circuit_trees)``); the rules ask it what feeds a box and what lies beyond.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from server.dwelling import Cable, Circuit, Device, Dwelling

__all__ = ["CircuitTree", "circuit_trees", "far_end"]


@dataclass(frozen=True, slots=True)
class CircuitTree:
    """One circuit. Boxes stand in ``order`` from the panel outward.

    feed: the cable by which a box is reached; above: the box before it (None: the panel itself).
    loops: cables that join two boxes already reached. unreached: cables that no way from the panel leads to.
    """

    circuit_id: str
    order: tuple[str, ...]
    feed: Mapping[str, Cable]
    above: Mapping[str, str | None]
    below: Mapping[str, tuple[str, ...]]
    loops: tuple[Cable, ...] = ()
    unreached: tuple[Cable, ...] = ()

    def beyond(self, box_id: str) -> Iterator[str]:
        """A box and every box fed through it."""
        waiting = [box_id]
        while waiting:
            box = waiting.pop()
            yield box
            waiting.extend(self.below.get(box, ()))

    def way_to(self, box_id: str) -> tuple[str, ...]:
        """The boxes from the panel to this one, itself last."""
        way = []
        at: str | None = box_id
        while at is not None:
            way.append(at)
            at = self.above.get(at)
        return tuple(reversed(way))

    def devices_beyond(self, box_id: str, house: Dwelling) -> Iterator[Device]:
        """The devices of this circuit in a box and in every box fed through it."""
        for box in self.beyond(box_id):
            for device in house.devices_of_box.get(box, ()):
                if (
                    device.circuit_id in (None, self.circuit_id)
                    or device.second_circuit_id == self.circuit_id
                ):
                    yield device


def far_end(cable: Cable, tree: CircuitTree) -> str | None:
    """The box that this cable feeds, or None where it feeds none of this circuit."""
    for end in (cable.b_box_id, cable.a_box_id):
        if end is not None and tree.feed.get(end) is cable:
            return end
    return None


def circuit_trees(house: Dwelling) -> Mapping[str, CircuitTree]:
    """The tree of every circuit, by circuit id."""
    return {circuit.id: _grown(circuit, house) for circuit in house.facts.circuits}


def _grown(circuit: Circuit, house: Dwelling) -> CircuitTree:
    cables = house.cables_of_circuit.get(circuit.id, ())
    at_box: dict[str, list[Cable]] = defaultdict(list)
    waiting: deque[tuple[str | None, str, Cable]] = deque()
    for cable in cables:
        from_panel = circuit.panel_id in (cable.a_panel_id, cable.b_panel_id)
        for end in (cable.a_box_id, cable.b_box_id):
            if end is None:
                continue
            at_box[end].append(cable)
            if from_panel:
                waiting.append((None, end, cable))
    feed: dict[str, Cable] = {}
    above: dict[str, str | None] = {}
    below: dict[str, list[str]] = defaultdict(list)
    used: set[str] = set()
    loops: list[Cable] = []
    while waiting:
        before, box_id, cable = waiting.popleft()
        if cable.id in used:
            continue
        used.add(cable.id)
        if box_id in feed:
            loops.append(cable)
            continue
        feed[box_id], above[box_id] = cable, before
        if before is not None:
            below[before].append(box_id)
        for other in at_box[box_id]:
            if other.id not in used:
                next_box = other.b_box_id if other.a_box_id == box_id else other.a_box_id
                if next_box is not None:
                    waiting.append((box_id, next_box, other))
    return CircuitTree(
        circuit.id, tuple(feed), feed, above, {box: tuple(found) for box, found in below.items()}, tuple(loops),
        tuple(cable for cable in cables if cable.id not in used),
    )  # fmt: skip
