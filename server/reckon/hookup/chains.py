"""Every way worth considering of ordering the switches of a group, with what each costs per cable.

Exact: partial chains with the same ends over the same switches are kept unless another needs no more conductors on any
cable and no more splices (Held and Karp's recursion over subsets, with a set of unbeaten costs in place of one number).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from server.reckon.hookup.demand import Group
from server.reckon.hookup.facts import SwitchWays
from server.reckon.hookup.nets import Order
from server.reckon.hookup.tree import Tree, total_of

__all__ = ["Option", "Worth", "lines_of", "rings_of", "unbeaten"]


@dataclass(frozen=True, slots=True)
class Option:
    """One order: its own conductors per cable that a white may be (``either``) and that it may not (``switched``),
    the nodes where it takes hot, its splices without those of hot and neutral."""

    either: int
    switched: int
    feeds: tuple[str, ...]
    splices: int
    order: Order

    @property
    def ring(self) -> int:
        """1 for the uncommon way."""
        return 0 if self.order.hot_pair is None else 1


class _Part(NamedTuple):
    """The cost of a partial chain, and its switches in order."""

    either: int
    switched: int
    splices: int
    order: tuple[int, ...]


_Parts = dict[tuple[int, int], list[_Part]]
"""Unbeaten partial chains by (switches as a bit set, last switch)."""


Worth = Callable[[int, int, tuple[str, ...]], bool]
"""Whether an order with these conductors (either, switched) and these nodes for hot may be wanted at all."""


def lines_of(group: Group, tree: Tree, room: int | None = None) -> list[Option]:
    """Every order that takes hot on the first switch; with ``room`` only those that fit into so many conductors."""
    return list(_Chains(group, tree, room).lines())


def rings_of(group: Group, tree: Tree, worth: Worth, room: int | None = None) -> list[Option]:
    """Every order that links the commons and is worth it."""
    if len(group.switches) < 2 or len(group.tiers) > 1:
        return []
    return list(_Chains(group, tree, room).rings(worth))


class _Chains:
    def __init__(self, group: Group, tree: Tree, room: int | None) -> None:
        self.tree, self.room = tree, room
        self.nodes = [switch.node for switch in group.switches]
        self.count = len(self.nodes)
        self.all = (1 << self.count) - 1
        self.between = [switch.ways in (None, SwitchWays.FOUR_WAY) for switch in group.switches]
        number = {switch.id: 1 << index for index, switch in enumerate(group.switches)}
        self.tiers = [
            (
                len(tier.switches),
                sum(number[switch] for switch in tier.switches),
                [s.node for s in tier.spots],
            )
            for tier in group.tiers
        ]
        self.taps = {size: nodes for size, _, nodes in self.tiers if size < self.count}
        self._pairs: dict[tuple[int, int, int], tuple[int, int, int]] = {}
        self.loads = next((nodes for size, _, nodes in self.tiers if size == self.count), [])

    def lines(self) -> Iterable[Option]:
        """Hot on the first common, loads on the last."""
        for first in range(self.count):
            for (used, last), parts in self._grow(first, tiered=True).items():
                if used != self.all:
                    continue
                back, splices = self._net([self.nodes[last], *self.loads]) if self.loads else (0, 0)
                for part in parts:
                    yield Option(
                        part.either,
                        part.switched + back,
                        (self.nodes[first],),
                        part.splices + splices,
                        Order(part.order),
                    )

    def rings(self, worth: Worth) -> Iterable[Option]:
        """Hot and loads on a pair between switches ``one`` and ``other``, arms from these to the linked commons."""
        arms = [self._grow(first, tiered=False) for first in range(self.count)]
        for one in range(self.count):
            for other in range(one + 1, self.count):
                feeds = (self.nodes[one], self.nodes[other])
                back, back_splices = self._net([*feeds, *self.loads])
                for (used, end), parts in arms[one].items():
                    if used >> other & 1:
                        continue
                    for last in range(self.count):
                        for rest in arms[other].get((self.all ^ used, last), ()):
                            link, link_splices = self._net([self.nodes[end], self.nodes[last]])
                            for part in parts:
                                either = part.either + rest.either + link
                                if worth(either, back, feeds):
                                    yield Option(
                                        either,
                                        back,
                                        feeds,
                                        part.splices + rest.splices + back_splices + link_splices,
                                        Order((*reversed(part.order), *rest.order), len(part.order) - 1),
                                    )

    def _grow(self, first: int, *, tiered: bool) -> _Parts:
        """Chains from one switch over every set of others. Where ``tiered`` the first is an end of the chain and
        smaller tiers come first; else it lies next to the hot pair, and is an end only if nothing is added."""
        start = (1 << first, first)
        found: _Parts = {start: [_Part(0, 0, 0, (first,))]} if self._may_follow(0, first, tiered) else {}
        layer = list(found)
        for size in range(1, self.count):
            grown: _Parts = {}
            for key in layer:
                used, last = key
                if not self.between[last] and (size > 1 or not tiered):
                    continue
                for new in range(self.count):
                    if used >> new & 1 or not self._may_follow(used, new, tiered):
                        continue
                    either, switched, splices = self._pair(last, new, size if tiered else 0)
                    there = grown.setdefault((used | 1 << new, new), [])
                    for part in found[key]:
                        more = _Part(
                            part.either + either,
                            part.switched + switched,
                            part.splices + splices,
                            (*part.order, new),
                        )
                        if self.room is None or self.tree.within(self.room, more.either + more.switched):
                            there.append(more)
            for key, parts in grown.items():
                if parts:
                    found[key] = self._unbeaten(parts)
            layer = [key for key in grown if key in found]
        return found

    def _may_follow(self, used: int, new: int, tiered: bool) -> bool:
        """Whether the smallest tier that is not complete has the switch."""
        if not tiered:
            return True
        return next((bool(tier >> new & 1) for _, tier, _ in self.tiers if tier & ~used), True)

    def _pair(self, one: int, other: int, size: int) -> tuple[int, int, int]:
        """Conductors and splices of the pair between two switches, the first ``size`` ones being behind it."""
        tapped = size if size in self.taps else 0
        key = (one, other, tapped) if one < other else (other, one, tapped)
        if key not in self._pairs:
            ends = [self.nodes[one], self.nodes[other]]
            plain, splices = self._net(ends)
            if tapped:
                span, more = self._net([*ends, *self.taps[size]])
                self._pairs[key] = (plain, span, splices + more)
            else:
                self._pairs[key] = (2 * plain, 0, 2 * splices)
        return self._pairs[key]

    def _net(self, nodes: Sequence[str]) -> tuple[int, int]:
        span = self.tree.span(nodes)
        return span, self.tree.splices(span, Counter(nodes))

    def _unbeaten(self, parts: list[_Part]) -> list[_Part]:
        if len(parts) < 2:
            return parts
        kept: list[_Part] = []
        for part in sorted(parts, key=lambda p: (p.splices, total_of(p.either + p.switched))):
            if not any(_beats(other, part, self.tree) for other in kept):
                kept = [other for other in kept if not _beats(part, other, self.tree)]
                kept.append(part)
        return kept


def _beats(one: _Part | Option, other: _Part | Option, tree: Tree) -> bool:
    """Whether one needs no more of anything than the other."""
    return (
        one.splices <= other.splices
        and tree.within(other.switched, one.switched)
        and tree.within(other.either + other.switched, one.either + one.switched)
    )


def unbeaten(options: Iterable[Option], tree: Tree) -> list[Option]:
    """Options without those that another beats while taking hot at the same nodes (or at fewer of them)."""
    kept: dict[tuple[str, ...], list[Option]] = {}
    # Those that take little come first, so that what is beaten meets its better early.
    for option in sorted(options, key=lambda o: (o.ring, total_of(o.either + o.switched), o.splices)):
        feeds = tuple(sorted(option.feeds))
        rivals = {feeds, *((node,) for node in feeds)}
        if not any(_beats(other, option, tree) for rival in rivals for other in kept.get(rival, ())):
            kept.setdefault(feeds, []).append(option)
    return [option for same in kept.values() for option in same]
