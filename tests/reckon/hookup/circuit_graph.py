"""A second opinion on hookups: the plan as a graph of conductors (networkx), tried in every switch position.

Nothing here is shared with the service: request and answer are read as JSON, in the words of the sheets' contract.
``complaints(request, result)`` lists everything that is wrong with a plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import combinations, islice, pairwise, product
from typing import Any

import networkx as nx

__all__ = ["complaints", "intended", "switch_sets"]

Json = dict[str, Any]

WHITES = ("white", "gray")
COLORS = {
    1: ["black"],
    2: ["black", "white"],
    3: ["black", "red", "white"],
    4: ["black", "blue", "red", "white"],
}
FAMILIES: dict[str, set[str]] = {
    "single-pole": {"line", "load", "neutral"},
    "three-way": {"common", "traveler_1", "traveler_2", "neutral"},
    "four-way": {"in_1", "in_2", "out_1", "out_2", "neutral"},
}
CONTACTS: dict[str, dict[str, list[tuple[str, str]]]] = {
    "single-pole": {"off": [], "on": [("line", "load")]},
    "three-way": {"1": [("common", "traveler_1")], "2": [("common", "traveler_2")]},
    "four-way": {
        "straight": [("in_1", "out_1"), ("in_2", "out_2")],
        "crossed": [("in_1", "out_2"), ("in_2", "out_1")],
    },
}
WORDS = {1: "single-pole", 3: "three-way", 4: "four-way"}
MOST_POSITIONS = 128


def is_white(color: str) -> bool:
    return color in WHITES or color.startswith("white")


def switch_sets(request: Json) -> dict[tuple[str, str | None], frozenset[str]]:
    """Which switches turn what: (load, half of a receptacle or None) to switch ids."""
    devices = {device["id"]: device for device in request["devices"]}
    found: dict[tuple[str, str | None], set[str]] = {}
    for switch in request["devices"]:
        for load in switch.get("controls", []):
            half = switch.get("halves", {}).get(load) or devices[load].get("split")
            found.setdefault((load, half), set()).add(switch["id"])
    return {target: frozenset(by) for target, by in found.items()}


def intended(request: Json) -> Iterator[tuple[str, str, str, frozenset[str]]]:
    """Every outlet as (device, hot terminal, neutral terminal, the switches that are to turn it)."""
    by = switch_sets(request)
    split = {load for load, half in by if half} | {d["id"] for d in request["devices"] if d.get("split")}
    for device in request["devices"]:
        name = device["id"]
        if device["kind"] in ("switch", "dimmer"):
            continue
        if device["kind"] == "gfci":
            yield name, "line_hot", "line_neutral", by.get((name, None), frozenset())
        elif name in split:
            for half in ("top", "bottom"):
                yield name, f"hot_{half}", "neutral", by.get((name, half), frozenset())
        else:
            yield name, "hot", "neutral", by.get((name, None), frozenset())


class Circuit:
    """The conductors and joins of a plan."""

    def __init__(self, request: Json, result: Json) -> None:
        self.request, self.result = request, result
        self.wrong: list[str] = []
        self.devices = {device["id"]: device for device in request["devices"]}
        self.sources = [node["id"] for node in request["nodes"] if node["kind"] == "source"]
        self.cables = {cable["id"]: cable for cable in request["cables"]}
        self.color: dict[tuple[str, str], Json] = {}
        self.wires = nx.Graph()
        self._read_cables()
        self._read_joins()
        self.family = {
            device["id"]: self._family(device)
            for device in request["devices"]
            if device["kind"] in ("switch", "dimmer")
        }
        if not nx.is_forest(self.wires):
            self.wrong.append("conductors are joined in a loop")

    def _read_cables(self) -> None:
        planned = {cable["id"]: cable for cable in self.result["plan"]["cables"]}
        if set(planned) != set(self.cables):
            self.wrong.append(f"cables planned: {sorted(planned)}")
        for name, plan in planned.items():
            cable = self.cables[name]
            colors = sorted(conductor["color"] for conductor in plan["conductors"])
            usual = sorted(cable.get("colors") or COLORS.get(cable["insulated"], colors))
            if cable.get("kind") == "raceway":
                usual = colors
            if len(colors) != cable["insulated"] or len(set(colors)) != len(colors) or colors != usual:
                self.wrong.append(f"{name} has the conductors {colors}")
            for conductor in plan["conductors"]:
                color = conductor["color"]
                self.color[name, color] = conductor
                self.wires.add_edge(
                    ("cable", name, color, cable["a"]), ("cable", name, color, cable["b"]), cable=name
                )

    def _read_joins(self) -> None:
        seen: Counter[Any] = Counter()
        for box in self.result["plan"]["boxes"]:
            for number, join in enumerate(box["joins"]):
                center = ("join", box["node"], number)
                for end in join:
                    point = self._point(box["node"], end)
                    seen[point] += 1
                    self.wires.add_edge(center, point)
        self.wrong += [f"joined twice: {point}" for point, times in seen.items() if times > 1]

    def _point(self, node: str, end: Json) -> tuple[str, ...]:
        if "cable" in end:
            cable = self.cables[end["cable"]]
            if (end["cable"], end["color"]) not in self.color or node not in (cable["a"], cable["b"]):
                self.wrong.append(f"no such conductor in {node}: {end}")
            return ("cable", end["cable"], end["color"], node)
        name = end["device"]
        home = self.devices[name]["node"] if name in self.devices else name
        if home != node or (name not in self.devices and name not in self.sources):
            self.wrong.append(f"{name} is not in {node}")
        return ("device", name, end["terminal"])

    def terminals(self, device: str) -> set[str]:
        return {point[2] for point in self.wires if point[0] == "device" and point[1] == device}

    def _family(self, switch: Json) -> str:
        used = self.terminals(switch["id"])
        fitting = [name for name, terminals in FAMILIES.items() if used and used <= terminals]
        said = switch.get("ways")
        if said is not None and WORDS.get(said, said) not in fitting:
            self.wrong.append(f"{switch['id']} is not wired as {said}")
        if not fitting:
            self.wrong.append(f"{switch['id']} has the terminals {sorted(used)}")
            return "single-pole"
        return fitting[0]

    # -- states ------------------------------------------------------------------------------------------------

    def live(self, positions: dict[str, str], tripped: str | None = None) -> nx.Graph:
        """The conductors with the contacts that are closed."""
        graph = self.wires.copy()
        for switch, position in positions.items():
            for one, other in CONTACTS[self.family[switch]][position]:
                graph.add_edge(("device", switch, one), ("device", switch, other))
        return self.with_gfcis(graph, tripped)

    def with_gfcis(self, graph: nx.Graph, tripped: str | None = None) -> nx.Graph:
        for device in self.devices.values():
            if device["kind"] == "gfci" and device["id"] != tripped:
                for pole in ("hot", "neutral"):
                    graph.add_edge(
                        ("device", device["id"], f"line_{pole}"), ("device", device["id"], f"load_{pole}")
                    )
        return graph

    def hots(self) -> list[tuple[str, ...]]:
        legs = {node["id"]: node.get("legs", 1) for node in self.request["nodes"]}
        return [
            ("device", source, "hot" if leg == 1 else f"hot_{leg}")
            for source in self.sources
            for leg in range(1, legs[source] + 1)
        ]

    def positions(self) -> Iterable[dict[str, str]]:
        """Every combination, or an even choice of them where there are many."""
        names = sorted(self.family)
        choices = [list(CONTACTS[self.family[name]]) for name in names]
        every = product(*choices)
        step = max(1, 2 ** len(names) // MOST_POSITIONS)
        if step > 1:
            step += 1 - step % 2  # an odd step meets both positions of every switch
        return (dict(zip(names, chosen, strict=True)) for chosen in islice(every, 0, None, step))


def reached(graph: nx.Graph, start: tuple[str, ...]) -> set[Any]:
    return nx.node_connected_component(graph, start) if start in graph else {start}


def complaints(request: Json, result: Json) -> list[str]:
    """Everything that is wrong with a plan."""
    circuit = Circuit(request, result)
    wrong = circuit.wrong
    grounded = circuit.with_gfcis(circuit.wires.copy())
    neutral = {source: reached(grounded, ("device", source, "neutral")) for source in circuit.sources}
    outlets = list(intended(request))
    wrong += _wrong_colors(circuit, outlets, neutral)
    wrong += _wrong_switches(circuit, neutral)
    wrong += _wrong_counts(circuit)
    wrong += _wrong_gfcis(circuit, outlets)
    wrong += _missing_neutrals(circuit, neutral)
    truth = {tuple(sorted(row["positions"].items())): set(row["on"]) for row in result["truth"]}
    phase: dict[tuple[str, str], bool] = {}
    tried = 0
    for positions in circuit.positions():
        tried += 1
        graph = circuit.live(positions)
        hot = {root: reached(graph, root) for root in circuit.hots()}
        for one, other in combinations(hot, 2):
            if hot[one] & hot[other]:
                wrong.append(f"{one} and {other} meet at {positions}")
        for root, points in hot.items():
            if any(points & others for others in neutral.values()):
                wrong.append(f"short of {root} at {positions}")
        on = set()
        for device, hot_at, neutral_at, switches in outlets:
            is_on, note = _energized(circuit, graph, hot, neutral, device, hot_at, neutral_at)
            wrong += note
            odd = sum(list(CONTACTS[circuit.family[s]]).index(positions[s]) for s in switches) % 2 == 1
            if not switches:
                if not is_on:
                    wrong.append(f"{device} {hot_at} is dead at {positions}")
            elif is_on != (phase.setdefault((device, hot_at), is_on ^ odd) ^ odd):
                wrong.append(f"{device} {hot_at} does not follow its switches at {positions}")
            if switches and is_on:
                on.add(device)
        key = tuple(sorted(positions.items()))
        if key in truth and {name.split(" ")[0] for name in truth[key]} != on:
            wrong.append(f"truth says {truth[key]} at {positions}, the graph {on}")
        if positions and len(circuit.family) <= 10 and key not in truth:
            wrong.append(f"no row of truth for {positions}")
    together: dict[frozenset[str], set[bool]] = {}
    for device, hot_at, _, switches in outlets:
        if switches:
            together.setdefault(switches, set()).add(phase[device, hot_at])
    wrong += [
        f"loads of {sorted(by)} are not on together" for by, phases in together.items() if len(phases) > 1
    ]
    assert tried >= 1
    return list(dict.fromkeys(wrong))


def _energized(
    circuit: Circuit, graph: nx.Graph, hot: Any, neutral: Any, device: str, hot_at: str, neutral_at: str
) -> tuple[bool, list[str]]:
    """Whether an outlet has its voltage, and what is wrong about the way of its current."""
    goal, back = ("device", device, hot_at), ("device", device, neutral_at)
    homes = [source for source, points in neutral.items() if back in points]
    if len(homes) != 1:
        return False, [f"{device} has {len(homes)} neutrals"]
    roots = [root for root, points in hot.items() if goal in points]
    if not roots:
        return False, []
    if roots[0][1] != homes[0]:
        return True, [f"{device} takes hot from {roots[0][1]} and neutral from {homes[0]}"]
    flow: Counter[str] = Counter()
    for start, end in ((roots[0], goal), (back, ("device", homes[0], "neutral"))):
        path = nx.shortest_path(graph, start, end)
        for here, there in pairwise(path):
            name = graph.edges[here, there].get("cable")
            if name is not None:
                flow[name] += 1 if here[3] == circuit.cables[name]["a"] else -1
    return True, [f"{device}: net current {count} in {name}" for name, count in flow.items() if count]


def _wrong_colors(circuit: Circuit, outlets: Any, neutral: Any) -> list[str]:
    wrong = []
    grounded = set().union(*neutral.values())
    returns: set[Any] = set()
    for device, hot_at, _, switches in outlets:
        if switches:
            returns |= reached(circuit.wires, ("device", device, hot_at))
    for (name, color), conductor in circuit.color.items():
        ends = [("cable", name, color, circuit.cables[name][side]) for side in ("a", "b")]
        joined = [end for end in ends if circuit.wires.degree(end) > 1]
        band = conductor["reidentified_as"]
        if ends[0] in grounded:
            if not is_white(color) or band:
                wrong.append(f"neutral on {color} of {name}")
        elif joined and is_white(color):
            if not band or is_white(band) or band.startswith("green"):
                wrong.append(f"{color} of {name} is used, and re-identified as {band}")
            if ends[0] in returns:
                wrong.append(f"{color} of {name} is the way back from a switch")
        elif band:
            wrong.append(f"{color} of {name} has a band for nothing")
        if bool(joined) != (conductor["signal"] is not None):
            wrong.append(
                f"{color} of {name} is {'' if joined else 'not '}joined, signal {conductor['signal']}"
            )
    return wrong


def _wrong_switches(circuit: Circuit, neutral: Any) -> list[str]:
    grounded = set().union(*neutral.values())
    return [
        f"{switch} switches a neutral at {terminal}"
        for switch in circuit.family
        for terminal in circuit.terminals(switch) - {"neutral"}
        if ("device", switch, terminal) in grounded
    ]


def _wrong_counts(circuit: Circuit) -> list[str]:
    splices = 0
    for box in circuit.result["plan"]["boxes"]:
        for join in box["joins"]:
            cable_ends = sum("cable" in end for end in join)
            splices += cable_ends > 1 or len(join) > 2
    bands = sum(conductor["reidentified_as"] is not None for conductor in circuit.color.values())
    used = sum(conductor["signal"] is not None for conductor in circuit.color.values())
    counted = (splices, bands, used)
    said = tuple(circuit.result[name] for name in ("splices", "reidentified", "conductors"))
    return [] if counted == said else [f"counted {counted}, said {said}"]


def _missing_neutrals(circuit: Circuit, neutral: Any) -> list[str]:
    """A neutral conductor in each box of a switch that is for lighting, or where the request asks for one."""
    rule = circuit.request.get("neutral_at_switch")
    kinds = {device["id"]: device["kind"] for device in circuit.request["devices"]}
    wrong = []
    for switch in circuit.family:
        node = circuit.devices[switch]["node"]
        sharing = {load for load, by in switch_sets(circuit.request).items() if switch in by}
        lighting = any(kinds[load] in ("luminaire", "load") for load, _ in sharing)
        match rule:
            case None:
                needed = lighting or _shares_with_lighting(circuit.request, switch, kinds)
            case "required":
                needed = True
            case "exempt":
                needed = False
            case list():
                needed = node not in rule
            case _:
                raise AssertionError(rule)
        there = any(
            point[0] == "cable" and point[3] == node for points in neutral.values() for point in points
        ) or any(source == node for source in neutral)
        if needed and not there:
            wrong.append(f"no neutral at {switch} in {node}")
        if circuit.devices[switch].get("needs_neutral") and not any(
            ("device", switch, "neutral") in points for points in neutral.values()
        ):
            wrong.append(f"{switch} has no neutral of its own")
    return wrong


def _shares_with_lighting(request: Json, switch: str, kinds: dict[str, str]) -> bool:
    """Whether the switches that work together with one turn a light among them."""
    sets = list(switch_sets(request).items())
    group, grown = {switch}, True
    while grown:
        more = set().union(*(by for _, by in sets if by & group), group)
        grown, group = more != group, more
    return any(kinds[load] in ("luminaire", "load") for (load, _), by in sets if by & group)


def _wrong_gfcis(circuit: Circuit, outlets: Any) -> list[str]:
    """Each GFCI tripped alone: what it protects is dead on both sides, the rest has its neutral and can be hot."""
    wrong = []
    for gfci in circuit.devices.values():
        if gfci["kind"] != "gfci" or not gfci.get("protects"):
            continue
        behind, waiting = set(), list(gfci["protects"])
        while waiting:
            device = circuit.devices[waiting.pop()]
            if device["id"] not in behind:
                behind.add(device["id"])
                waiting += [*device.get("protects", []), *device.get("controls", [])]
        graph = circuit.with_gfcis(circuit.wires.copy(), gfci["id"])
        grounded = set().union(*(reached(graph, ("device", s, "neutral")) for s in circuit.sources))
        alive: set[Any] = set()
        for positions in circuit.positions():
            live = circuit.live(positions, gfci["id"])
            for root in circuit.hots():
                alive |= reached(live, root)
        for device, hot_at, neutral_at, _ in outlets:
            hot, back = ("device", device, hot_at) in alive, ("device", device, neutral_at) in grounded
            if device in behind and (hot or back):
                wrong.append(f"{device} is not behind {gfci['id']}")
            if device not in behind and not (hot and back):
                wrong.append(f"{device} goes dead with {gfci['id']}")
    return wrong
