"""A circuit's run as a person walks it: leg by leg from the panel, down one branch to its end, then the next.

``circuit_trees`` answers what feeds what; this gives the legs their order, their numbers and their place in a
one-line drawing, and sorts out the cables that are no leg: loose ends, rings, what hangs apart from the panel.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from server.dwelling import Cable, Circuit, Dwelling

__all__ = ["Leg", "Run", "run_of", "whole_ends"]

End = tuple[str, str]
"""``("box", id)`` or ``("panel", id)``."""


@dataclass(frozen=True, slots=True)
class Leg:
    """One cable of a run, from the panel (``start`` None) or a box to a box not reached before (or, of a feeder, to
    the panel that it feeds).

    ``column`` counts boxes from the panel, ``row`` branches from the top: the first leg out of a box keeps its row.
    """

    number: int
    cable: Cable
    start: str | None
    end: str
    column: int
    row: int


@dataclass(frozen=True, slots=True)
class Run:
    """The run of one circuit, or of two that share cables.

    ``rings`` are cables between places that were reached already; ``loose`` have an end that leads nowhere;
    ``apart`` are whole, but nothing joins them to the panel; ``astray`` begin and end in one box, or land in a
    panel that is not the circuit's. ``numbers`` gives every cable its number, the legs' first; ``ends`` both its ends.
    """

    panel_id: str
    legs: tuple[Leg, ...]
    rings: tuple[Cable, ...]
    loose: tuple[Cable, ...]
    apart: tuple[Cable, ...]
    astray: tuple[Cable, ...]
    numbers: Mapping[str, int]
    ends: Mapping[str, tuple[End | None, End | None]]

    @property
    def reached(self) -> tuple[str, ...]:
        """The boxes that the panel feeds, in the order of the run."""
        return tuple(leg.end for leg in self.legs)

    @property
    def is_whole(self) -> bool:
        """Nothing is loose, apart or astray, and no ring is closed."""
        return not (self.rings or self.loose or self.apart or self.astray)


def whole_ends(cable: Cable, house: Dwelling) -> tuple[End | None, End | None]:
    """Both ends of a cable; None for an end that leads nowhere, or to something that is not there."""

    def end(box_id: str | None, panel_id: str | None) -> End | None:
        if box_id is not None and box_id in house.boxes:
            return "box", box_id
        if panel_id is not None and panel_id in house.panels:
            return "panel", panel_id
        return None

    return end(cable.a_box_id, cable.a_panel_id), end(cable.b_box_id, cable.b_panel_id)


def run_of(circuits: Iterable[Circuit], house: Dwelling) -> Run:
    """The run of circuits that belong together (one, for most); they come from the first one's panel."""
    circuits = tuple(circuits)
    panel: End = ("panel", circuits[0].panel_id)
    by_id = {cable.id: cable for circuit in circuits for cable in house.cables_of_circuit.get(circuit.id, ())}
    cables = tuple(by_id.values())
    at: dict[End, list[tuple[Cable, End]]] = defaultdict(list)
    ids = {circuit.id for circuit in circuits}
    panels = {panel, *(("panel", fed.id) for fed in house.facts.panels if fed.fed_by_circuit_id in ids)}
    loose: list[Cable] = []
    astray: list[Cable] = []
    ends = {cable.id: whole_ends(cable, house) for cable in cables}
    for cable in cables:
        one, other = ends[cable.id]
        if one is None or other is None:
            loose.append(cable)
        elif one == other or any(end[0] == "panel" and end not in panels for end in (one, other)):
            astray.append(cable)
        else:
            at[one].append((cable, other))
            at[other].append((cable, one))
    legs, rings, seen = _walk(panel, at)
    no_leg = {cable.id for cable in (*loose, *astray)}
    apart = [cable for cable in cables if cable.id not in seen and cable.id not in no_leg]
    rest = (*rings, *apart, *loose, *astray)
    numbers = {leg.cable.id: leg.number for leg in legs}
    numbers |= {cable.id: len(legs) + place for place, cable in enumerate(rest, 1)}
    return Run(panel[1], tuple(legs), tuple(rings), tuple(loose), tuple(apart), tuple(astray), numbers, ends)


def _walk(panel: End, at: Mapping[End, list[tuple[Cable, End]]]) -> tuple[list[Leg], list[Cable], set[str]]:
    """Legs and rings, and the ids of all cables met. A loop over a stack: a run may be longer than a call stack."""
    legs: list[Leg] = []
    rings: list[Cable] = []
    seen: set[str] = set()
    reached = {panel}
    rows = -1
    # (cable, where from, where to, column, row; None: a row of its own)
    waiting: list[tuple[Cable, End, End, int, int | None]] = []

    def go_on(place: End, column: int, row: int | None) -> None:
        onward = [(cable, far) for cable, far in at.get(place, ()) if cable.id not in seen]
        for number, (cable, far) in reversed(list(enumerate(onward))):
            waiting.append((cable, place, far, column, row if number == 0 else None))

    go_on(panel, 1, None)
    while waiting:
        cable, start, end, column, row = waiting.pop()
        if cable.id in seen:
            continue
        seen.add(cable.id)
        if end in reached:
            rings.append(cable)
            continue
        reached.add(end)
        if row is None:
            rows += 1
            row = rows
        legs.append(Leg(len(legs) + 1, cable, start[1] if start[0] == "box" else None, end[1], column, row))
        go_on(end, column + 1, row)
    return legs, rings, seen
