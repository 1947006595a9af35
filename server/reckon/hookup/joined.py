"""The nets that the joins of a written plan make, and the way a current takes through them."""

from __future__ import annotations

from typing import Final

from server.reckon.hookup.facts import Wiring
from server.reckon.hookup.result import CableEnd, End, Plan, Terminal

__all__ = ["JoinedNets"]

_FLOW: Final = 16
"""Bits per cable in a packed sum of currents."""


class JoinedNets:
    """Joined ends, numbered; each net a graph of joins along conductors, for the way a current takes."""

    def __init__(self, wiring: Wiring, plan: Plan) -> None:
        self.join_of: dict[tuple[str, End], int] = {}
        self.net: list[int] = []
        self.terminal_join: dict[Terminal, int] = {}
        self.doubled: list[str] = []
        for box in plan.boxes:
            for join in box.joins:
                for end in join.ends:
                    if (box.node, end) in self.join_of:
                        self.doubled.append(f"{box.node}: an end is joined twice: {end}")
                    self.join_of[box.node, end] = len(self.net)
                    if isinstance(end, Terminal):
                        self.terminal_join[end] = len(self.net)
                self.net.append(len(self.net))
        self.along: list[list[tuple[int, int]]] = [[] for _ in self.net]
        """Joins reached from each over one conductor, with the current it puts on that cable."""
        self.conductors: list[tuple[str, str, str | None, int | None]] = []
        """Cable, color, band, and a join at either end."""
        cables = {cable.id: (index, cable) for index, cable in enumerate(wiring.cables)}
        for planned in plan.cables:
            index, cable = cables[planned.id]
            for conductor in planned.conductors:
                end = CableEnd(cable.id, conductor.color)
                one, other = self.join_of.get((cable.a, end)), self.join_of.get((cable.b, end))
                at = one if one is not None else other
                self.conductors.append((cable.id, conductor.color, conductor.reidentified_as, at))
                if one is not None and other is not None:
                    self.along[one].append((other, 1 << _FLOW * index))
                    self.along[other].append((one, -1 << _FLOW * index))
                    self._merge(one, other)
        self.net = [self._root(join) for join in range(len(self.net))]
        self._ways: dict[tuple[int, int], int] = {}

    def _root(self, join: int) -> int:
        while self.net[join] != join:
            join = self.net[join]
        return join

    def _merge(self, one: int, other: int) -> None:
        self.net[self._root(one)] = self._root(other)

    def of(self, terminal: Terminal) -> int | None:
        """The net of a terminal, None where it is joined to nothing."""
        join = self.terminal_join.get(terminal)
        return None if join is None else self.net[join]

    def way(self, start: Terminal, goal: Terminal) -> int:
        """The currents on the cables when one unit flows between two terminals of a net."""
        one, other = self.terminal_join[start], self.terminal_join[goal]
        if (one, other) not in self._ways:
            reached = {one: 0}
            waiting = [one]
            while waiting:
                join = waiting.pop()
                for following, current in self.along[join]:
                    if following not in reached:
                        reached[following] = reached[join] + current
                        waiting.append(following)
            self._ways.update({(one, end): current for end, current in reached.items()})
        return self._ways[one, other]
