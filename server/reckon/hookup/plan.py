"""Writes a choice out: which conductor of which cable carries what, and what is joined in each box."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from server.reckon.hookup.colors import Palettes, Role
from server.reckon.hookup.demand import Spot
from server.reckon.hookup.facts import Wiring
from server.reckon.hookup.nets import Net, nets_of
from server.reckon.hookup.orders import Choice
from server.reckon.hookup.result import BoxPlan, CableEnd, CablePlan, End, Join, Plan, Terminal
from server.reckon.hookup.supplies import Feeding, HotKey, span_of
from server.reckon.hookup.tree import Tree

__all__ = ["nets_of_choice", "signals_by_cable", "whole_plan", "written_out"]


def nets_of_choice(choice: Choice, wiring: Wiring) -> list[Net]:
    """Every net of a choice, neutrals first, named as a person would."""
    feeding = choice.feeding
    feeds: dict[HotKey, list[Spot]] = {}
    own: list[Net] = []
    for (group, key), option in zip(feeding.groups, choice.options, strict=True):
        hot, nets = nets_of(group, option.order)
        feeds.setdefault(key, []).extend(hot)
        own.extend(nets)
    named = _Names(wiring, feeding)
    found = [Net(net.role, named.neutral(net.text), net.spots, net.kept) for net in feeding.neutrals()]
    found += [Net(net.role, named.hot(key), net.spots) for key, net in feeding.hots(feeds)]
    return found + own


class _Names:
    """Signal texts; the circuit is named only where there are several."""

    def __init__(self, wiring: Wiring, feeding: Feeding) -> None:
        self.sources = {node.id: node for node in wiring.nodes if node.is_source}
        self.switched = feeding.switched

    def neutral(self, owner: str) -> str:
        if owner not in self.sources:
            return f"load-side neutral of {owner}"
        return "neutral" if len(self.sources) == 1 else f"neutral of {owner}"

    def hot(self, key: HotKey) -> str:
        owner, leg = key
        if owner not in self.sources:
            return f"load-side {'switched ' if key in self.switched else ''}hot of {owner}"
        text = "hot" if len(self.sources) == 1 else f"hot of {owner}"
        return f"{text}, leg {leg}" if self.sources[owner].legs > 1 else text


def signals_by_cable(nets: Iterable[Net], tree: Tree) -> dict[str, list[tuple[Role, str]]]:
    """What each cable of a tree has to carry."""
    found: dict[str, list[tuple[Role, str]]] = {cable.id: [] for cable in tree.cables}
    for net in nets:
        span = span_of(tree, net)
        for cable, bit in zip(tree.cables, tree.bits, strict=True):
            if span & bit:
                found[cable.id].append((net.role, net.text))
    return found


def written_out(
    nets: Sequence[Net], tree: Tree, palettes: Palettes, whole: Mapping[str, str]
) -> tuple[list[CablePlan], dict[str, list[Join]]]:
    """Cable plans, and joins by node. ``whole`` maps a part of an opened box to its box."""
    cables: list[CablePlan] = []
    ends_of: dict[str, dict[str, list[End]]] = {net.text: {node: [] for node in net.nodes} for net in nets}
    for cable, signals in zip(tree.cables, signals_by_cable(nets, tree).values(), strict=True):
        conductors = palettes.assign(cable, signals)
        a, b = whole.get(cable.a, cable.a), whole.get(cable.b, cable.b)
        cables.append(CablePlan(cable.id, a, b, conductors, palettes.ground(cable.kind)))
        for conductor in conductors:
            if conductor.signal is not None:
                end = CableEnd(cable.id, conductor.color)
                ends_of[conductor.signal].setdefault(cable.a, []).append(end)
                ends_of[conductor.signal].setdefault(cable.b, []).append(end)
    joins: dict[str, list[Join]] = {}
    for net in nets:
        ends = ends_of[net.text]
        for spot in net.spots:
            ends[spot.node].append(Terminal(spot.device, spot.terminal))
        for node, joined in ends.items():
            # A terminal with nothing to be joined to is left alone; a single conductor is capped and kept.
            if len(joined) > 1 or any(isinstance(end, CableEnd) for end in joined):
                joins.setdefault(whole.get(node, node), []).append(Join(tuple(joined), net.text))
    return cables, joins


def whole_plan(
    wiring: Wiring, palettes: Palettes, cables: Iterable[CablePlan], joins: Mapping[str, Sequence[Join]]
) -> Plan:
    """The plan of all cables and nodes, those without any part in it included, in the order they were given."""
    by_id = {cable.id: cable for cable in cables}
    grounds: dict[str, list[CableEnd]] = {node.id: [] for node in wiring.nodes}
    every = []
    for cable in wiring.cables:
        planned = by_id.get(cable.id)
        if planned is None:
            planned = CablePlan(
                cable.id, cable.a, cable.b, palettes.assign(cable, ()), palettes.ground(cable.kind)
            )
        every.append(planned)
        ground = CableEnd(cable.id, planned.ground)
        grounds[cable.a].append(ground)
        grounds[cable.b].append(ground)
    boxes = [
        BoxPlan(node.id, tuple(joins.get(node.id, ())), tuple(grounds[node.id])) for node in wiring.nodes
    ]
    return Plan(tuple(every), tuple(boxes))
