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
        self.terminal_join: dict[Terminal, int] = {}
        self.doubled: list[str] = []
        joins = 0
        for box in plan.boxes:
            for join in box.joins:
                for end in join.ends:
                    if (box.node, end) in self.join_of:
                        self.doubled.append(f"{box.node}: an end is joined twice: {end}")
                    self.join_of[box.node, end] = joins
                    if isinstance(end, Terminal):
                        self.terminal_join[end] = joins
                joins += 1
        self.along: list[list[tuple[int, int]]] = [[] for _ in range(joins)]
        """Joins reached from each over one conductor, with the current it puts on that cable."""
        self.conductors: list[tuple[str, str, str | None, int | None]] = []
        """Cable, color, band, and a join at either end."""
        cables = {cable.id: (1 << _FLOW * index, cable) for index, cable in enumerate(wiring.cables)}
        for planned in plan.cables:
            current, cable = cables[planned.id]
            for conductor in planned.conductors:
                end = CableEnd(cable.id, conductor.color)
                one, other = self.join_of.get((cable.a, end)), self.join_of.get((cable.b, end))
                at = one if one is not None else other
                self.conductors.append((cable.id, conductor.color, conductor.reidentified_as, at))
                if one is not None and other is not None:
                    self.along[one].append((other, current))
                    self.along[other].append((one, -current))
        self.net = self._numbered()
        """The net of each join."""
        self._ways: dict[tuple[int, int], int] = {}

    def _numbered(self) -> list[int]:
        net = [-1] * len(self.along)
        for start in range(len(net)):
            if net[start] < 0:
                net[start] = start
                waiting = [start]
                while waiting:
                    for following, _ in self.along[waiting.pop()]:
                        if net[following] < 0:
                            net[following] = start
                            waiting.append(following)
        return net

    def at(self, device: str, terminal: str) -> int | None:
        """The join of a terminal, None where it is joined to nothing."""
        return self.terminal_join.get(Terminal(device, terminal))

    def way(self, one: int, other: int) -> int:
        """The currents on the cables when one unit flows between two joins of a net."""
        if one == other:
            return 0
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

    def label(self, net: int) -> str:
        """A net by one of its ends."""
        ends = [end for (_, end), join in self.join_of.items() if self.net[join] == net]
        end = min(ends, key=str)
        return f"{end.device} {end.terminal}" if isinstance(end, Terminal) else f"{end.cable} {end.color}"
