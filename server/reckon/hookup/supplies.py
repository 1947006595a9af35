"""Which source feeds which unit, and the hot and neutral nets that follow from it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from server.reckon.hookup.colors import Role
from server.reckon.hookup.demand import Group, Spot, Supply, Unit
from server.reckon.hookup.facts import Node
from server.reckon.hookup.nets import Net
from server.reckon.hookup.tree import Tree

__all__ = ["Feeding", "feeding_of", "sources_for"]

HotKey = tuple[str, int]
"""A source and its leg, or a GFCI and 0."""


@dataclass(slots=True)
class Feeding:
    """The nets of hot and neutral under one assignment of units to sources, before any group takes its hot.

    ``hot`` and ``neutral`` map to the terminals so far, ``kept`` to nodes that a neutral has to reach besides;
    ``groups`` name the hot that each group takes from. ``idle`` counts sources that feed nothing.
    """

    sources: Mapping[int, str]
    hot: dict[HotKey, list[Spot]] = field(default_factory=dict)
    neutral: dict[str, list[Spot]] = field(default_factory=dict)
    kept: dict[str, set[str]] = field(default_factory=dict)
    switched: set[HotKey] = field(default_factory=set)
    groups: list[tuple[Group, HotKey]] = field(default_factory=list)
    idle: int = 0

    def neutrals(self) -> Iterator[Net]:
        """Neutral nets that have something on them."""
        for owner, spots in self.neutral.items():
            kept = sorted(self.kept.get(owner, ()))
            if len(spots) > 1 or kept:
                yield Net(Role.NEUTRAL, owner, tuple(spots), tuple(kept))

    def hots(self, feeds: Mapping[HotKey, Sequence[Spot]]) -> Iterator[tuple[HotKey, Net]]:
        """Hot nets with what groups take from them."""
        for key, spots in self.hot.items():
            all_spots = (*spots, *feeds.get(key, ()))
            if len(all_spots) > 1:
                role = Role.SWITCHED if key in self.switched else Role.HOT
                yield key, Net(role, key[0], all_spots)


def feeding_of(
    units: Sequence[Unit],
    sources: Sequence[Node],
    chosen: Sequence[str],
    pole: Mapping[str, str] | None = None,
) -> Feeding:
    """The nets when unit ``i`` is fed by source ``chosen[i]``; ``pole`` is the node where a source's terminals lie
    (its own, unless a ring was opened there)."""
    at = pole or {}
    feeding = Feeding(dict(enumerate(chosen)))
    used = set(chosen)
    for source in sources:
        if source.id not in used:
            feeding.idle += 1
            continue
        place = at.get(source.id, source.id)
        feeding.neutral[source.id] = [Spot(place, source.id, "neutral")]
        for leg in range(1, source.legs + 1):
            terminal = "hot" if leg == 1 else f"hot_{leg}"
            feeding.hot[source.id, leg] = [Spot(place, source.id, terminal)]
    for unit, source_id in zip(units, chosen, strict=True):
        _hang(feeding, unit.line, source_id, None)
        for side in unit.load_sides:
            assert side.gfci is not None
            gfci = side.gfci
            feeding.neutral[gfci.id] = [Spot(gfci.node, gfci.id, "load_neutral")]
            feeding.hot[gfci.id, 0] = [Spot(gfci.node, gfci.id, "load_hot")]
            if side.switched:
                feeding.switched.add((gfci.id, 0))
            _hang(feeding, side, gfci.id, 0)
    return feeding


def _hang(feeding: Feeding, supply: Supply, owner: str, key: int | None) -> None:
    for leg, spots in supply.hot.items():
        feeding.hot[owner, leg if key is None else key].extend(spots)
    feeding.neutral[owner].extend(supply.neutral)
    feeding.kept.setdefault(owner, set()).update(supply.kept)
    for group in supply.groups:
        feeding.groups.append((group, (owner, group.leg if key is None else key)))


def sources_for(unit: Unit, sources: Sequence[Node]) -> list[str]:
    """The sources that may feed a unit: the one that is stated, or every one with the legs it asks for."""
    legs = max(unit.line.legs, default=1)
    return [
        source.id
        for source in sources
        if source.legs >= legs and (unit.stated is None or unit.stated == source.id)
    ]


def terminals_at(spots: Sequence[Spot]) -> Counter[str]:
    """Device terminals by node."""
    return Counter(spot.node for spot in spots)


def span_of(tree: Tree, net: Net) -> int:
    """The cables a net runs over."""
    return tree.span(net.nodes)
