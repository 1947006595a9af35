"""The search over the orders of all groups' switches: exact, by branch and bound.

Choices are compared by :class:`Cost`, first part first. Every part only grows as choices are added, and groups that are
still to be chosen take at least what all their orders have in common; a partial choice that is then no better than the
best whole one is dropped.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

from server.reckon.hookup.chains import Option, Worth, lines_of, rings_of, unbeaten
from server.reckon.hookup.colors import Role
from server.reckon.hookup.demand import Group
from server.reckon.hookup.supplies import Feeding, HotKey, span_of, terminals_at
from server.reckon.hookup.tree import total_of

if TYPE_CHECKING:
    from server.reckon.hookup.search import TreeSearch

__all__ = ["MOST_STEPS", "Choice", "Cost", "OrderSearch"]

MOST_STEPS: Final = 60_000
"""Partial choices that are looked at; ordinary circuits take some hundred."""

_MANY_LOCATIONS: Final = 4
"""From more switches on, orders are built within the room that the cables have, where nothing may be added."""


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


class OrderSearch:
    """The orders of all groups under one feeding."""

    def __init__(self, search: TreeSearch, feeding: Feeding, adding: bool) -> None:
        self.search, self.tree, self.meter = search, search.tree, search.meter
        self.feeding, self.adding = feeding, adding
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
        self.base = self.neutrals + self.switched + sum(self.hot.values())
        self.groups = list(feeding.groups)
        self.steps = 0
        self.cut_off = False
        self.chosen: list[Option] = []
        self.order: list[int] = []
        self.options: list[list[tuple[Option, int]]] = []
        self.found: Choice | None = None
        self.bound: Cost | None = None
        self.fixed_hot_splices = self._hot_splices({})

    def best(self, than: Cost | None, *, rings: bool) -> Choice | None:
        """The best choice of orders, if better than a cost: among the usual ones first, then among all."""
        self.bound = than
        if not self.adding and not self.meter.fits(self.neutrals, self.base - self.neutrals, self.switched):
            return None
        lines = [self._lines(group) for group, _ in self.groups]
        self._search(lines)
        if rings:
            floors = [self._floor(options) for options in lines]
            every = [
                [*lines[at], *rings_of(group, self.tree, self._worth(at, floors), self._room(group))]
                for at, (group, _) in enumerate(self.groups)
            ]
            if any(len(more) > len(usual) for more, usual in zip(every, lines, strict=True)):
                self._search(every)
        return self.found

    # -- what may be chosen ----------------------------------------------------------------------------------

    def _room(self, group: Group) -> int | None:
        """What the cables have left for one group, where that is worth reckoning while its orders are built."""
        if self.adding or len(group.switches) <= _MANY_LOCATIONS:
            return None
        return self.meter.room(self.base)

    def _lines(self, group: Group) -> list[Option]:
        room = self._room(group)
        return self.search.lines(group) if room is None else lines_of(group, self.tree, room)

    def _floor(self, options: list[Option]) -> int:
        """What every option of a group takes at least, cable by cable."""
        floor = -1
        for option in options:
            load = option.either + option.switched
            floor = load if floor < 0 else self.tree.least(floor, load)
        return max(floor, 0)

    def _hot_with(self, at: int, feeds: tuple[str, ...]) -> int:
        """The cables that hot takes on to reach some nodes for a group."""
        key = self.groups[at][1]
        root, before = self.feeding.hot[key][0].node, self.hot.get(key, 0)
        after = before
        for node in feeds:
            after |= self.tree.path(root, node)
        return after - before

    def _worth(self, at: int, floors: list[int]) -> Worth:
        """Whether an order of one group can be part of a choice that is better than the best so far, when the others
        take no more than they all must."""
        others = self.base + sum(floors) - floors[at]

        def worth(either: int, switched: int, feeds: tuple[str, ...]) -> bool:
            total = others + either + switched + self._hot_with(at, feeds)
            if not self.adding:
                return self.meter.fits(0, total, 0)
            return self.bound is None or self.meter.lack(total) <= (self.bound.added, self.bound.replaced)

        return worth

    # -- the search ------------------------------------------------------------------------------------------

    def _search(self, every: list[list[Option]]) -> None:
        """Look for something better than the bound among these options of each group."""
        for _ in range(2):
            floors = [self._floor(options) for options in every]
            tests = [self._worth(at, floors) for at in range(len(every))]
            every = [
                [option for option in options if tests[at](option.either, option.switched, option.feeds)]
                for at, options in enumerate(every)
            ]
        if not all(every):
            return
        ready = []
        for at, options in enumerate(every):
            kept = unbeaten(options, self.tree)
            key = {
                id(option): self.meter.lack(self.base + option.either + option.switched) for option in kept
            }
            kept.sort(key=lambda option: (key[id(option)], option.ring, option.splices))
            ready.append((at, [(option, total_of(option.either + option.switched)) for option in kept]))
        ready.sort(key=lambda each: len(each[1]))
        self.order = [at for at, _ in ready]
        self.options = [options for _, options in ready]
        self.rest = [(0, 0, 0, 0)]
        """What the groups from each place on take at least: conductors by cable, all conductors, splices, uncommon
        groups."""
        for counted in reversed(self.options):
            load, conductors, splices, uncommon = self.rest[-1]
            self.rest.append(
                (
                    load + self._floor([option for option, _ in counted]),
                    conductors + min(number for _, number in counted),
                    splices + min(option.splices for option, _ in counted),
                    uncommon + min(option.ring for option, _ in counted),
                )
            )
        self.rest.reverse()
        self._extend(0, self.switched, self.base_splices, 0, self.conductors, self.hot)

    def _extend(
        self, either: int, switched: int, splices: int, uncommon: int, conductors: int, hot: dict[HotKey, int]
    ) -> None:
        depth = len(self.chosen)
        self.steps += 1
        if self.steps > MOST_STEPS:
            self.cut_off = True
            return
        others = either + switched + sum(hot.values())
        load, more_conductors, more_splices, more_uncommon = self.rest[depth]
        if self.adding:
            added, replaced = self.meter.lack(self.neutrals + others + load)
        elif self.meter.fits(self.neutrals, others + load, switched):
            added, replaced = 0, 0
        else:
            return
        cost = Cost(
            added,
            replaced,
            uncommon + more_uncommon,
            self.feeding.idle,
            splices + more_splices + self.fixed_hot_splices,
            # With conductors added later a cable may have more colors: no lower bound until all is chosen.
            0 if self.adding else self.meter.reidentified(others + load),
            conductors + more_conductors + sum(span.bit_count() for span in hot.values()),
        )
        if self.bound is not None and cost >= self.bound:
            return
        if depth == len(self.groups):
            self._settle(cost, others, switched, hot)
            return
        key = self.groups[self.order[depth]][1]
        root = self.feeding.hot[key][0].node
        for option, count in self.options[depth]:
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

    def _settle(self, cost: Cost, others: int, switched: int, hot: dict[HotKey, int]) -> None:
        """Reckon a whole choice to the end, and keep it if it is the best."""
        needs = [cable.insulated for cable in self.tree.cables]
        if self.adding:
            needs = self.meter.needs(self.neutrals, others, switched)
            added, replaced = self.meter.added(needs)
            cost = cost._replace(
                added=added, replaced=replaced, reidentified=self.meter.reidentified(others, needs)
            )
        cost = cost._replace(splices=cost.splices - self.fixed_hot_splices + self._hot_splices(hot))
        if self.bound is None or cost < self.bound:
            in_order = dict(zip(self.order, self.chosen, strict=True))
            options = tuple(in_order[at] for at in range(len(self.groups)))
            self.found = Choice(cost, self.feeding, options, tuple(needs))
            self.bound = cost

    def _hot_splices(self, hot: dict[HotKey, int]) -> int:
        """Splices of the hots over these cables, with the terminals of the groups chosen so far."""
        found = 0
        feeds: dict[HotKey, list[str]] = {}
        for at, option in zip(self.order, self.chosen, strict=False):
            feeds.setdefault(self.groups[at][1], []).extend(option.feeds)
        for key, spots in self.feeding.hot.items():
            if key in self.feeding.switched:
                continue
            terminals = terminals_at(spots)
            terminals.update(feeds.get(key, ()))
            found += self.tree.splices(hot.get(key, self.hot.get(key, 0)), terminals)
        return found
