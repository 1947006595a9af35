"""The search for the best hookup of one tree of cables, over which source feeds which unit.

Where there is one source, or everything says which feeds it, there is one such assignment; the orders of the switches
under it are searched in ``orders.py``. All else follows from these choices, since each signal runs over the one smallest
subtree that reaches its terminals.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import and_
from typing import Final

from server.reckon.hookup.chains import Option, lines_of
from server.reckon.hookup.colors import Palettes
from server.reckon.hookup.demand import Group, Unit
from server.reckon.hookup.facts import Node
from server.reckon.hookup.meter import Meter
from server.reckon.hookup.orders import Choice, Cost, OrderSearch
from server.reckon.hookup.supplies import feeding_of, sources_for
from server.reckon.hookup.tree import Tree

__all__ = ["MOST_STEPS", "TreeSearch"]

MOST_STEPS: Final = 4_000
"""Partial assignments of units to several sources that are looked at; where sources are stated there is one."""


class TreeSearch:
    """The hookups of one tree."""

    def __init__(
        self,
        tree: Tree,
        palettes: Palettes,
        units: Sequence[Unit],
        sources: Sequence[Node],
        pole: dict[str, str],
    ) -> None:
        self.tree, self.units, self.sources, self.pole = tree, units, sources, pole
        self.meter = Meter(tree, palettes)
        self.cut_off = False
        """Whether something was left untried because there was too much of it."""
        self.bound: Cost | None = None
        self.steps = 0
        self.common: list[tuple[int, int]] = []
        """The cables that neutrals and hots of the units from each place on need, whichever source feeds them."""
        self._lines: dict[int, list[Option]] = {}

    def best(self, *, rings: bool, adding: bool, than: Cost | None = None) -> Choice | None:
        """The best choice, or None where there is none (better than ``than``).

        ``rings`` lets groups be wired the uncommon way; ``adding`` lets cables have more conductors than they have.
        """
        found: Choice | None = None
        self.bound, self.steps = than, 0
        for chosen in self._assignments(adding):
            feeding = feeding_of(self.units, self.sources, chosen, self.pole)
            orders = OrderSearch(self, feeding, adding)
            better = orders.best(self.bound, rings=rings)
            self.cut_off |= orders.cut_off
            if better is not None:
                found, self.bound = better, better.cost
        return found

    def lines(self, group: Group) -> list[Option]:
        """A group's usual orders, reckoned once."""
        if id(group) not in self._lines:
            self._lines[id(group)] = lines_of(group, self.tree)
        return self._lines[id(group)]

    def _assignments(self, adding: bool) -> Iterator[list[str]]:
        """A source for every unit: the nearest first, without those whose neutrals already cannot share the cables, or
        whose neutrals and hots alone are no better than the best so far."""
        domains = [sources_for(unit, self.sources) for unit in self.units]
        if all(len(domain) == 1 for domain in domains):
            yield [domain[0] for domain in domains]
            return
        reach = [self._reach(unit, names) for unit, names in zip(self.units, domains, strict=True)]
        self.common = [(0, 0)]
        for each in reversed(reach):
            neutral, hot = self.common[-1]
            neutral |= reduce(and_, (net.neutral for _, net in each))
            self.common.append((neutral, hot | reduce(and_, (net.hot for _, net in each))))
        self.common.reverse()
        yield from self._extended([], {}, reach, adding)

    def _reach(self, unit: Unit, sources: Sequence[str]) -> list[tuple[str, _Nets]]:
        """For each source the neutral and hot of a unit alone, the nearest source first."""
        found = []
        for source in sources:
            root = self.pole.get(source, source)
            neutral = [spot.node for spot in unit.line.neutral]
            hot = [spot.node for spots in unit.line.hot.values() for spot in spots]
            found.append(
                (
                    source,
                    _Nets(
                        self.tree.span([root, *neutral, *sorted(unit.line.kept)]),
                        Counter(neutral),
                        # A multiwire source has a hot for each leg: its splices are left to the whole reckoning.
                        self.tree.span([root, *hot]),
                        Counter(hot),
                    ),
                )
            )
        return sorted(found, key=lambda each: each[1].neutral.bit_count())

    def _extended(
        self, chosen: list[str], nets: dict[str, _Nets], reach: list[list[tuple[str, _Nets]]], adding: bool
    ) -> Iterator[list[str]]:
        if len(chosen) == len(self.units):
            yield chosen
            return
        self.steps += 1
        if self.steps > MOST_STEPS:
            self.cut_off = True
            return
        for source, own in reach[len(chosen)]:
            more = {**nets, source: nets[source].with_more(own) if source in nets else own}
            if not adding and not self.meter.fits(sum(net.neutral for net in more.values()), 0, 0):
                continue
            if self.bound is not None and self._least(more, reach[len(chosen) + 1 :]) >= self.bound:
                continue
            yield from self._extended([*chosen, source], more, reach, adding)

    def _least(self, nets: dict[str, _Nets], rest: list[list[tuple[str, _Nets]]]) -> Cost:
        """What the units assigned so far cost at least."""
        neutral, hot = self.common[-1 - len(rest)]
        for net in nets.values():
            neutral &= ~net.neutral
            hot &= ~net.hot
        may_be_used = set(nets).union(source for each in rest for source, _ in each)
        splices, conductors = 0, neutral.bit_count() + hot.bit_count()
        legs = {source.id: source.legs for source in self.sources}
        for source, net in nets.items():
            splices += self.tree.splices(net.neutral, net.neutral_ends)
            conductors += net.neutral.bit_count()
            conductors += net.hot.bit_count()
            if legs[source] == 1:
                splices += self.tree.splices(net.hot, net.hot_ends)
        return Cost(0, 0, 0, len(self.sources) - len(may_be_used), splices, 0, conductors)


@dataclass(frozen=True, slots=True)
class _Nets:
    """Neutral and hot of the units of one source, as far as they are assigned."""

    neutral: int
    neutral_ends: Counter[str]
    hot: int
    hot_ends: Counter[str]

    def with_more(self, other: _Nets) -> _Nets:
        """Both together."""
        return _Nets(
            self.neutral | other.neutral,
            self.neutral_ends + other.neutral_ends,
            self.hot | other.hot,
            self.hot_ends + other.hot_ends,
        )
