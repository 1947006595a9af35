"""Whether any hookup at all exists, decided by a SAT solver (python-sat) over every way of joining what is in the boxes.

Nothing is assumed about how switches are usually wired: in each box any ends may be joined with any others. The rules
are stated on what is then connected with what:

* in every position of the switches each load is hot exactly as its switches say (either phase; loads of the same
  switches together), and what nobody switches is always hot;
* every outlet's neutral is joined to the source's without a switch, hot and neutral never meet, no switch opens a
  neutral, a neutral conductor (that of the switch's loads) lies in the box of every switch that asks for one;
* only white conductors are neutrals, and no white conductor lies on the way from a switch to its outlet;
* with a GFCI open, what it protects is dead on both sides and all else is as before.

In a tree of cables out and back then cancel by themselves: whatever crosses one cable has no other way.

"Connected" is stated twice for each meaning: as a closure (what is joined to something connected is connected), where a
thing must not be connected, and by distance (each connected end has a neighbor one step nearer), where it must be.

One source with one leg only; cables of one to six conductors. For small circuits: the formula has some ten thousand
clauses for four boxes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, product
from typing import Any

import networkx as nx
from pysat.card import CardEnc, EncType
from pysat.solvers import Glucose4

from tests.reckon.hookup.circuit_graph import CONTACTS, FAMILIES, intended, switch_sets

__all__ = ["EveryHookup", "Undecided", "exists", "fewest_added", "size_of"]

Json = dict[str, Any]
Point = tuple[str, ...]

COLORS = {
    1: ("black",),
    2: ("black", "white"),
    3: ("black", "red", "white"),
    4: ("black", "red", "blue", "white"),
    5: ("black", "red", "blue", "orange", "white"),
    6: ("black", "red", "blue", "orange", "white", "gray"),
}
WHITE = ("white", "gray")
MOST_CONFLICTS = 150_000
"""Where the solver gives up: some twenty seconds."""


class Undecided(Exception):
    """The solver gave up."""


class EveryHookup:
    """The formula for one circuit, with the kind of each switch chosen."""

    def __init__(self, request: Json, families: dict[str, str]) -> None:
        self.request, self.families = request, families
        self.clauses: list[list[int]] = []
        self.last = 0
        (self.source,) = (node["id"] for node in request["nodes"] if node["kind"] == "source")
        self.outlets = list(intended(request))
        self.boxes = self._boxes()
        self.joined = self._joins()
        self.wires: list[tuple[Point, Point]] = []
        for cable in request["cables"]:
            for color in COLORS[cable["insulated"]]:
                self.wires.append(
                    (("cable", cable["id"], color, cable["a"]), ("cable", cable["id"], color, cable["b"]))
                )
        tree = nx.Graph((cable["a"], cable["b"]) for cable in request["cables"])
        self.diameter = nx.diameter(tree)
        self.points = [point for points in self.boxes.values() for point in points]
        self.hot, self.neutral = ("device", self.source, "hot"), ("device", self.source, "neutral")
        self._state_rules()

    # -- variables and small formulas ------------------------------------------------------------------------

    def new(self) -> int:
        self.last += 1
        return self.last

    def add(self, *clause: int) -> None:
        self.clauses.append(list(clause))

    def any_of(self, literals: Sequence[int]) -> int:
        """A variable that is true only if one of some is."""
        name = self.new()
        self.add(-name, *literals)
        return name

    def both(self, one: int, other: int) -> int:
        """A variable that is true only if both are."""
        name = self.new()
        self.add(-name, one)
        self.add(-name, other)
        return name

    # -- what there is ---------------------------------------------------------------------------------------

    def _boxes(self) -> dict[str, list[Point]]:
        boxes: dict[str, list[Point]] = {node["id"]: [] for node in self.request["nodes"]}
        for cable in self.request["cables"]:
            for color in COLORS[cable["insulated"]]:
                boxes[cable["a"]].append(("cable", cable["id"], color, cable["a"]))
                boxes[cable["b"]].append(("cable", cable["id"], color, cable["b"]))
        boxes[self.source] += [("device", self.source, "hot"), ("device", self.source, "neutral")]
        for device in self.request["devices"]:
            if device["kind"] == "switch":
                names = sorted(FAMILIES[self.families[device["id"]]] - {"neutral"})
            elif device["kind"] == "gfci":
                names = ["line_hot", "line_neutral", "load_hot", "load_neutral"]
            else:
                names = sorted(
                    {t for d, hot, back, _ in self.outlets if d == device["id"] for t in (hot, back)}
                )
            boxes[device["node"]] += [("device", device["id"], name) for name in names]
        return boxes

    def _joins(self) -> dict[tuple[Point, Point], int]:
        joined: dict[tuple[Point, Point], int] = {}
        for points in self.boxes.values():
            for one, other in combinations(points, 2):
                joined[one, other] = joined[other, one] = self.new()
            for one, other, third in combinations(points, 3):
                a, b, c = joined[one, other], joined[other, third], joined[one, third]
                self.add(-a, -b, c)
                self.add(-a, -c, b)
                self.add(-b, -c, a)
        return joined

    def _contacts(self, position: dict[str, str]) -> list[tuple[Point, Point]]:
        return [
            (("device", switch, one), ("device", switch, other))
            for switch, family in self.families.items()
            for one, other in CONTACTS[family][position[switch]]
        ]

    def _gfcis(self, tripped: str | None = None) -> list[tuple[Point, Point]]:
        return [
            (("device", device["id"], f"line_{pole}"), ("device", device["id"], f"load_{pole}"))
            for device in self.request["devices"]
            if device["kind"] == "gfci" and device["id"] != tripped
            for pole in ("hot", "neutral")
        ]

    # -- what is connected -----------------------------------------------------------------------------------

    def closure(self, roots: Iterable[Point], contacts: Iterable[tuple[Point, Point]]) -> dict[Point, int]:
        """Variables that are true at least for all that is connected to some points."""
        mark = {point: self.new() for point in self.points}
        for root in roots:
            self.add(mark[root])
        for (one, other), join in self.joined.items():
            self.add(-join, -mark[one], mark[other])
        for one, other in [*self.wires, *contacts]:
            self.add(-mark[one], mark[other])
            self.add(-mark[other], mark[one])
        return mark

    def support(
        self, root: Point, contacts: Iterable[tuple[Point, Point]], switches: int
    ) -> dict[Point, int]:
        """Variables that can be true only for what is connected to a point."""
        near: dict[Point, list[Point]] = {point: [] for point in self.points}
        fixed = list(contacts)
        for one, other in [*self.wires, *fixed]:
            near[one].append(other)
            near[other].append(one)
        # The longest way that is ever needed: between two switches it crosses no cable twice, each with a join before
        # it, and one join after the last.
        longest = (switches + 1) * (2 * self.diameter + 1) + switches
        level = {point: self.new() for point in self.points}
        for point, name in level.items():
            self.add(name if point == root else -name)
        for _ in range(longest):
            following = {}
            for box in self.boxes.values():
                for point in box:
                    ways = [level[point], *(level[other] for other in near[point])]
                    ways += [
                        self.both(level[other], self.joined[other, point]) for other in box if other != point
                    ]
                    following[point] = self.any_of(ways)
            level = following
        return level

    # -- the rules -------------------------------------------------------------------------------------------

    def _state_rules(self) -> None:
        gfcis = self._gfcis()
        self.grounded = self.closure([self.neutral], gfcis)
        home = self.support(self.neutral, gfcis, len(gfcis) // 2)
        phase = {by: self.new() for by in set(switch_sets(self.request).values())}
        for device, _, back, _ in self.outlets:
            self.add(home["device", device, back])
        for switch, family in self.families.items():
            for terminal in FAMILIES[family] - {"neutral"}:
                self.add(-self.grounded["device", switch, terminal])
        self._state_colors()
        self.trips = {d["id"]: self._tripped(d) for d in self.request["devices"] if d["kind"] == "gfci"}
        self._state_neutrals(home)
        names = sorted(self.families)
        for chosen in product(*(list(CONTACTS[self.families[name]]) for name in names)):
            position = dict(zip(names, chosen, strict=True))
            contacts = [*gfcis, *self._contacts(position)]
            hot = self.closure([self.hot], contacts)
            reaches = self.support(self.hot, contacts, len(names) + len(gfcis) // 2)
            for point in self.points:
                self.add(-hot[point], -self.grounded[point])
            for device, terminal, _, by in self.outlets:
                point = ("device", device, terminal)
                if not by:
                    self.add(reaches[point])
                    continue
                odd = sum(list(CONTACTS[self.families[s]]).index(position[s]) for s in by) % 2
                on = phase[by] if odd else -phase[by]
                self.add(-on, reaches[point])
                self.add(on, -hot[point])
            self._state_trips(position, phase)

    def _tripped(self, gfci: Json) -> tuple[set[str], dict[Point, int], dict[Point, int]]:
        """What a GFCI protects (with the loads of listed switches), and the neutral while it is open."""
        devices = {device["id"]: device for device in self.request["devices"]}
        behind: set[str] = set()
        waiting = list(gfci.get("protects", []))
        while waiting:
            device = devices[waiting.pop()]
            if device["id"] not in behind:
                behind.add(device["id"])
                waiting += [*device.get("protects", []), *device.get("controls", [])]
        rest = self._gfcis(gfci["id"])
        return behind, self.closure([self.neutral], rest), self.support(self.neutral, rest, len(rest) // 2)

    def _state_trips(self, position: dict[str, str], phase: dict[frozenset[str], int]) -> None:
        for gfci, (behind, grounded, home) in self.trips.items():
            rest = self._gfcis(gfci)
            contacts = [*rest, *self._contacts(position)]
            hot = self.closure([self.hot], contacts)
            reaches = self.support(self.hot, contacts, len(self.families) + len(rest) // 2)
            for name, terminal, back, by in self.outlets:
                if name in behind:
                    self.add(-hot["device", name, terminal])
                    self.add(-grounded["device", name, back])
                    continue
                self.add(home["device", name, back])
                if not by:
                    self.add(reaches["device", name, terminal])
                else:
                    odd = sum(list(CONTACTS[self.families[s]]).index(position[s]) for s in by) % 2
                    self.add(-(phase[by] if odd else -phase[by]), reaches["device", name, terminal])

    def _state_colors(self) -> None:
        returns = self.closure([("device", d, terminal) for d, terminal, _, by in self.outlets if by], [])
        for one, _ in self.wires:
            if one[2] in WHITE:
                self.add(-returns[one])
            else:
                self.add(-self.grounded[one])

    def _state_neutrals(self, home: dict[Point, int]) -> None:
        """The neutral that is kept for a switch is that of its loads: on the load side of a GFCI where they are. In the
        box of that GFCI it is there with the device's own terminal."""
        rule = self.request["neutral_at_switch"]
        for device in self.request["devices"]:
            if device["kind"] != "switch":
                continue
            node = device["node"]
            if rule == "exempt" or (isinstance(rule, list) and node in rule) or node == self.source:
                continue
            ways = []
            for point in self.boxes[node]:
                way = self.both(home[point], home[point])
                for behind, grounded, still_home in self.trips.values():
                    inside = behind & {device["id"], *device["controls"]}
                    self.add(-way, -grounded[point] if inside else still_home[point])
                ways.append(way)
            self.add(*ways)

    # -- what it costs ---------------------------------------------------------------------------------------

    def usual(self) -> None:
        """Ask every group of several switches to have a common on the hot itself."""
        gfcis = self._gfcis()
        solid = self.support(self.hot, gfcis, len(gfcis) // 2)
        for group in _groups(self.request):
            if len(group) > 1:
                self.add(
                    *(
                        solid["device", switch, "common"]
                        for switch in group
                        if self.families[switch] == "three-way"
                    )
                )

    def once(self) -> None:
        """Ask that no cable carries anything twice: a spare conductor beside the one that it is joined with can save a
        splice at the far end, and nobody would count that as the better hookup."""
        for points in self.boxes.values():
            for one, other in combinations(points, 2):
                if one[0] == other[0] == "cable" and one[1] == other[1]:
                    self.add(-self.joined[one, other])

    def splices(self) -> list[int]:
        """A variable per end, true if a splice's first end is there."""
        found = []
        for points in self.boxes.values():
            for at, first in enumerate(points):
                is_first = self.new()
                self.add(is_first, *(self.joined[other, first] for other in points[:at]))
                splice = self.new()
                found.append(splice)
                later = points[at + 1 :]
                for one, other in combinations(later, 2):
                    self.add(-is_first, -self.joined[first, one], -self.joined[first, other], splice)
                for other in later:
                    if first[0] == other[0] == "cable":
                        self.add(-is_first, -self.joined[first, other], splice)
        return found

    def used(self, *, white: bool) -> list[int]:
        """A variable per conductor, true if it is joined at either end (``white``: and is white, but no neutral)."""
        found = []
        for ends in self.wires:
            if white and ends[0][2] not in WHITE:
                continue
            name = self.new()
            found.append(name)
            for end in ends:
                for other in self.boxes[end[3]]:
                    if other != end:
                        self.add(-self.joined[end, other], name, *([self.grounded[end]] if white else []))
        return found

    def at_most(self, variables: list[int], most: int) -> None:
        if most < 0:
            self.add()
            return
        encoded = CardEnc.atmost(variables, most, top_id=self.last, encoding=EncType.seqcounter)
        self.last = max(self.last, encoded.nv)
        self.clauses += encoded.clauses

    def satisfiable(self) -> bool | None:
        """Whether it can be fulfilled; None where the solver gives up."""
        if [] in self.clauses:
            return False
        with Glucose4(bootstrap_with=self.clauses) as solver:
            solver.conf_budget(MOST_CONFLICTS)
            return solver.solve_limited()


def _groups(request: Json) -> list[set[str]]:
    groups: list[set[str]] = []
    for by in switch_sets(request).values():
        touching = [group for group in groups if group & by]
        groups = [group for group in groups if not group & by] + [set(by).union(*touching)]
    return groups


def _families(request: Json) -> Iterable[dict[str, str]]:
    """Every choice of which switches are three-way and which four-way."""
    said = {
        device["id"]: {1: "single-pole", 3: "three-way", 4: "four-way", None: None}[device.get("ways")]
        for device in request["devices"]
        if device["kind"] == "switch"
    }
    choices = []
    for group in _groups(request):
        names = sorted(group)
        if len(names) == 1:
            choices.append([{names[0]: said[names[0]] or "single-pole"}])
            continue
        choices.append(
            [
                chosen
                for ends in combinations(names, 2)
                for chosen in [{name: "three-way" if name in ends else "four-way" for name in names}]
                if all(said[name] in (None, chosen[name]) for name in names)
            ]
        )
    for chosen in product(*choices):
        yield {name: family for part in chosen for name, family in part.items()}


def exists(
    request: Json,
    *,
    usual: bool = False,
    splices: int | None = None,
    reidentified: int | None = None,
    conductors: int | None = None,
) -> bool:
    """Whether there is any hookup, within some limits; with these, one that carries nothing twice in one cable.

    Raises:
        Undecided: the solver gave up.
    """
    for families in _families(request):
        formula = EveryHookup(request, families)
        if usual:
            formula.usual()
        if splices is not None:
            formula.once()
            formula.at_most(formula.splices(), splices)
        if reidentified is not None:
            formula.at_most(formula.used(white=True), reidentified)
        if conductors is not None:
            formula.at_most(formula.used(white=False), conductors)
        found = formula.satisfiable()
        if found is None:
            raise Undecided
        if found:
            return True
    return False


def fewest_added(request: Json, most: int) -> int | None:
    """The fewest conductors that have to be added in all, tried one by one; None if more than ``most``."""
    cables = request["cables"]
    for added in range(most + 1):
        for chosen in product(range(added + 1), repeat=len(cables)):
            if sum(chosen) != added or any(
                cable["insulated"] + more > max(COLORS) for cable, more in zip(cables, chosen, strict=True)
            ):
                continue
            larger = [
                {**cable, "insulated": cable["insulated"] + more}
                for cable, more in zip(cables, chosen, strict=True)
            ]
            if exists({**request, "cables": larger}):
                return added
    return None


def size_of(request: Json) -> int:
    """How many clauses the formula has."""
    families = next(iter(_families(request)), None)
    return 0 if families is None else len(EveryHookup(request, families).clauses)
