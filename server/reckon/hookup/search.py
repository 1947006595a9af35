"""The search for the best hookup of one tree of cables: exact, by branch and bound.

What is free to choose is which source feeds which unit (where there are several and nothing is stated) and the order
of each group's switches; all else follows, since each signal runs over the one smallest subtree that reaches its
terminals. Choices are compared by :class:`Cost`, first part first. Every part only grows as choices are added, so a
partial choice that is no better than the best whole one is dropped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from server.reckon.hookup.chains import Option, options_of
from server.reckon.hookup.colors import Palettes, Role
from server.reckon.hookup.demand import Group, Unit
from server.reckon.hookup.facts import Node
from server.reckon.hookup.meter import Meter
from server.reckon.hookup.supplies import Feeding, HotKey, feeding_of, sources_for, span_of, terminals_at
from server.reckon.hookup.tree import Tree, fields_of

__all__ = ["MOST_ASSIGNMENTS", "Choice", "Cost", "TreeSearch"]

MOST_ASSIGNMENTS: Final = 20_000
"""Assignments of units to several sources that are looked at; stated sources make this one."""


class Cost(NamedTuple):
    """What makes one hookup better than another, in this order.

    Conductors to add and cables to replace (none, where there is a hookup in the cables as they are); groups wired the
    uncommon way; sources left idle; splices; re-identified whites; conductors in use.
    """

    added: int
    replaced: int
    uncommon: int
    idle: int
    splices: int
    reidentified: int
    conductors: int


@dataclass(frozen=True, slots=True)
class Choice:
    """A whole hookup: its cost, its feeding, an option per group of the feeding, and the conductors per cable."""

    cost: Cost
    feeding: Feeding
    options: tuple[Option, ...]
    needs: tuple[int, ...]


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
        """Whether assignments were left unlooked at."""
        self._options: dict[tuple[int, bool], list[tuple[Option, int]]] = {}

    def best(self, *, rings: bool, adding: bool, than: Cost | None = None) -> Choice | None:
        """The best choice, or None where there is none (better than ``than``).

        ``rings`` lets groups be wired the uncommon way; ``adding`` lets cables have more conductors than they have.
        """
        found: Choice | None = None
        for seen, chosen in enumerate(self._assignments(adding)):
            if seen == MOST_ASSIGNMENTS:
                self.cut_off = True
                break
            feeding = feeding_of(self.units, self.sources, chosen, self.pole)
            bound = found.cost if found else than
            found = _Groups(self, feeding, rings, adding).best(bound) or found
        return found

    def options(self, group: Group, *, rings: bool) -> list[tuple[Option, int]]:
        """A group's options with the conductors each takes; reckoned once."""
        key = (id(group), rings)
        if key not in self._options:
            count = len(self.tree.cables)
            self._options[key] = [
                (option, sum(fields_of(option.either + option.switched, count)))
                for option in options_of(group, self.tree, rings=rings)
            ]
        return self._options[key]

    def _assignments(self, adding: bool) -> Iterator[list[str]]:
        """A source for every unit, without those whose neutrals already cannot share the cables."""
        domains = [sources_for(unit, self.sources) for unit in self.units]
        if all(len(domain) == 1 for domain in domains):
            yield [domain[0] for domain in domains]
            return
        place = {source.id: self.pole.get(source.id, source.id) for source in self.sources}
        reach: list[dict[str, int]] = []
        for unit, domain in zip(self.units, domains, strict=True):
            nodes = [spot.node for spot in unit.line.neutral] + sorted(unit.line.kept)
            reach.append({source: self.tree.span([place[source], *nodes]) for source in domain})

        def extend(chosen: list[str], spans: dict[str, int]) -> Iterator[list[str]]:
            if len(chosen) == len(self.units):
                yield chosen
                return
            for source, span in reach[len(chosen)].items():
                more = {**spans, source: spans.get(source, 0) | span}
                if adding or self.meter.fits(sum(more.values()), 0, 0):
                    yield from extend([*chosen, source], more)

        yield from extend([], {})


class _Groups:
    """The search over the orders of all groups under one feeding."""

    def __init__(self, search: TreeSearch, feeding: Feeding, rings: bool, adding: bool) -> None:
        self.tree, self.meter, self.feeding, self.adding = search.tree, search.meter, feeding, adding
        self.neutrals = self.switched = self.base_splices = self.conductors = 0
        for net in feeding.neutrals():
            span = span_of(self.tree, net)
            self.neutrals += span
            self.conductors += span.bit_count()
            self.base_splices += self.tree.splices(span, terminals_at(net.spots))
        self.hot: dict[HotKey, int] = {}
        for key, net in feeding.hots({}):
            span = span_of(self.tree, net)
            if net.role is Role.SWITCHED:
                self.switched += span
                self.conductors += span.bit_count()
                self.base_splices += self.tree.splices(span, terminals_at(net.spots))
            else:
                self.hot[key] = span
        self.groups = [
            (index, key, search.options(group, rings=rings))
            for index, (group, key) in enumerate(feeding.groups)
        ]
        self.groups.sort(key=lambda each: len(each[2]))
        self.rest = [(0, 0)]
        """Least splices and uncommon groups of the groups from each place on."""
        for _, _, options in reversed(self.groups):
            splices, uncommon = self.rest[-1]
            self.rest.append(
                (
                    splices + min((option.splices for option, _ in options), default=0),
                    uncommon + min((option.ring for option, _ in options), default=0),
                )
            )
        self.rest.reverse()
        self.chosen: list[Option] = []
        self.fixed_hot_splices = self._hot_splices({})
        self.found: Choice | None = None
        self.bound: Cost | None = None

    def best(self, than: Cost | None) -> Choice | None:
        """The best choice of orders, if better than a cost."""
        self.bound = than
        self._extend(0, self.switched, self.base_splices, 0, self.conductors, self.hot)
        return self.found

    def _extend(
        self, either: int, switched: int, splices: int, uncommon: int, conductors: int, hot: dict[HotKey, int]
    ) -> None:
        depth = len(self.chosen)
        others = either + switched + sum(hot.values())
        if not self.adding and not self.meter.fits(self.neutrals, others, switched):
            return
        whole = depth == len(self.groups)
        needs = self.meter.needs(self.neutrals, others, switched) if self.adding else None
        added, replaced = self.meter.added(needs) if needs else (0, 0)
        rest_splices, rest_uncommon = self.rest[depth]
        cost = Cost(
            added,
            replaced,
            uncommon + rest_uncommon,
            self.feeding.idle,
            splices + rest_splices + (self._hot_splices(hot) if whole else self.fixed_hot_splices),
            # With conductors added later a cable may have more colors: no lower bound until all is chosen.
            self.meter.reidentified(others, needs) if whole or not self.adding else 0,
            conductors + sum(span.bit_count() for span in hot.values()),
        )
        if self.bound is not None and cost >= self.bound:
            return
        if whole:
            in_order = dict(zip((index for index, _, _ in self.groups), self.chosen, strict=True))
            picked = tuple(in_order[index] for index in range(len(self.groups)))
            all_needs = needs or [cable.insulated for cable in self.tree.cables]
            self.found = Choice(cost, self.feeding, picked, tuple(all_needs))
            self.bound = cost
            return
        _, key, options = self.groups[depth]
        root = self.feeding.hot[key][0].node
        for option, count in options:
            span = hot.get(key, 0)
            for node in option.feeds:
                span |= self.tree.path(root, node)
            self.chosen.append(option)
            self._extend(
                either + option.either,
                switched + option.switched,
                splices + option.splices,
                uncommon + option.ring,
                conductors + count,
                {**hot, key: span},
            )
            self.chosen.pop()

    def _hot_splices(self, hot: dict[HotKey, int]) -> int:
        """Splices of the hots over these cables, with the terminals of the groups chosen so far."""
        found = 0
        feeds: dict[HotKey, list[str]] = {}
        for (_, key, _), option in zip(self.groups, self.chosen, strict=False):
            feeds.setdefault(key, []).extend(option.feeds)
        for key, spots in self.feeding.hot.items():
            if key in self.feeding.switched:
                continue
            terminals = terminals_at(spots)
            terminals.update(feeds.get(key, ()))
            found += self.tree.splices(hot.get(key, self.hot.get(key, 0)), terminals)
        return found
