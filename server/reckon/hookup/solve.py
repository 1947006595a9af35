"""Finds the hookup of a wiring: the one door to this package's search."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from server.editions import Edition
from server.reckon.hookup.colors import Palettes
from server.reckon.hookup.demand import Demand, Unit
from server.reckon.hookup.facts import Node, Wiring
from server.reckon.hookup.faults import NoHookup, faults_of
from server.reckon.hookup.listing import listed
from server.reckon.hookup.nets import Net
from server.reckon.hookup.orders import Choice
from server.reckon.hookup.plan import nets_of_choice, signals_by_cable, whole_plan, written_out
from server.reckon.hookup.reading import demand_of
from server.reckon.hookup.result import CableNeed, CablePlan, Hookup, Join, Short
from server.reckon.hookup.rings import Island, Opened, islands_of, openings_of, ring_in
from server.reckon.hookup.search import TreeSearch
from server.reckon.hookup.sentences import (
    count_of,
    groups_shown,
    plan_shown,
    rules_shown,
    short_sentence,
    uncommon_notes,
)
from server.reckon.hookup.simulate import prove
from server.reckon.hookup.supplies import sources_for
from server.reckon.hookup.tree import Tree
from server.reckon.work import SILENT, Work

__all__ = ["solve_hookup"]

_UNTRIED: Final = (
    "There are too many ways to try all of them; none of those tried fits the cables as they are. "
)


def solve_hookup(wiring: Wiring, code: Edition, work: Work = SILENT) -> Hookup:
    """Whether a lawful hookup exists, and the best one box by box; else what is short and the cheapest mend.

    Best is, in this order: every group wired the usual way, no source left idle, fewest splices of insulated
    conductors, fewest re-identified whites, fewest conductors. The cheapest mend adds the fewest conductors in all,
    then replaces the fewest cables. Equipment grounds are joined in every box and not counted. A plan that is handed
    out has passed :func:`prove`.

    Source: 404.2(A) and (C), 200.6, 200.7(C)(1), 300.3(B), 300.13(B), 250.148, by edition in hookup.toml.
    """
    if faults := faults_of(wiring):
        return Hookup(False, why=" ".join(f"{fault.sentence}." for fault in faults[:3]))
    palettes = Palettes(code, work)
    if work:
        rules_shown(wiring, palettes, work)
    try:
        return _Solver(wiring, palettes, work).hookup()
    except NoHookup as reason:
        return Hookup(False, why=str(reason))


@dataclass(frozen=True, slots=True)
class _Found:
    """The best choice over one island, and the tree it was found on."""

    opened: Opened
    tree: Tree
    choice: Choice
    nets: list[Net]


class _Solver:
    def __init__(self, wiring: Wiring, palettes: Palettes, work: Work) -> None:
        self.wiring, self.palettes, self.work = wiring, palettes, work
        self.notes: list[str] = []
        self.untried = False
        """Whether there may be a hookup in the cables as they are among what was not tried."""

    def hookup(self) -> Hookup:
        islands = islands_of(self.wiring)
        demand = demand_of(self.wiring, self.palettes.code, self.work, {})
        self._check_reached(islands, demand)
        found = [
            (island, self._best(island, units))
            for island in islands
            if (units := _units_on(island, demand, self.wiring))
        ]
        if self.work:
            for _, best in found:
                groups_shown(best.choice, self.palettes, self.work)
        if any(best.choice.cost.added or best.choice.cost.replaced for _, best in found):
            return self._short(found)
        return self._possible([best for _, best in found])

    # -- is it whole -----------------------------------------------------------------------------------------

    def _check_reached(self, islands: Sequence[Island], demand: Demand) -> None:
        if not any(node.is_source for node in self.wiring.nodes):
            raise NoHookup("No source is given: mark the node where the circuit comes from as a source.")
        if not self.wiring.devices:
            raise NoHookup("No device is given: there is nothing to hook up.")
        island_of = {node.id: island for island in islands for node in island.nodes}
        devices = {device.id: device for device in self.wiring.devices}
        for unit in demand.units:
            first = devices[unit.devices[0]]
            home = island_of[first.node]
            for other in (devices[one] for one in unit.devices[1:]):
                if island_of[other.node] is not home:
                    raise NoHookup(
                        f"{first.id} in {first.node} and {other.id} in {other.node} belong together, but no cable "
                        f"joins {_named(home)} with {_named(island_of[other.node])}."
                    )
            sources = [node for node in home.nodes if node.is_source]
            if not sources:
                verb = "ends" if len(home.cables) == 1 else "end"
                ends = f"; {listed(c.id for c in home.cables)} {verb} there" if home.cables else ""
                raise NoHookup(
                    f"Box {first.node} with {first.id} is not joined to a source: no cable leads from a source to "
                    f"{_named(home)}{ends}."
                )
            if not sources_for(unit, sources):
                raise NoHookup(
                    f"{first.id} in {first.node} is to be fed by {unit.stated or 'a source with two legs'}, which no "
                    f"cable joins to it; {listed(node.id for node in sources)} could."
                )

    # -- the search ------------------------------------------------------------------------------------------

    def _best(self, island: Island, units: Sequence[Unit]) -> _Found:
        sources = [node for node in island.nodes if node.is_source]
        searches = self._searches(island, units, sources)
        uncommon = self.palettes.code.flag("hookup.switches_joined_at_commons")
        many = any(len(g.switches) > 1 for unit in units for s in unit.supplies for g in s.groups)
        phases = [(False, False)]
        phases += [(True, False)] if uncommon and many else []
        phases += [(uncommon and many, True)]
        for rings, adding in phases:
            best = _best_of(searches, rings=rings, adding=adding)
            if best is None:
                self.untried |= any(search.cut_off for _, search in searches)
                continue
            opened, search, choice = best
            if any(searched.cut_off for _, searched in searches):
                self.notes.append(
                    "There were too many ways to try all of them, so there may be a better one: say which source feeds "
                    "which device, and which switches are four-way."
                )
            if choice.cost.uncommon:
                self._note_uncommon(choice, searches)
            return _Found(opened, search.tree, choice, nets_of_choice(choice, self.wiring))
        raise NoHookup(f"{_UNTRIED}Say which source feeds which device, and which switches are four-way.")

    def _note_uncommon(self, choice: Choice, searches: Sequence[tuple[Opened, TreeSearch]]) -> None:
        """Say what is uncommon, and which cables the usual way would take."""
        name = "hookup.switches_joined_at_commons"
        self.palettes.code.flag(name, self.work)
        usual = _best_of(searches, rings=False, adding=True)
        larger: list[str] = []
        if usual is not None and not choice.cost.added:
            cables = zip(usual[1].tree.cables, usual[2].needs, strict=True)
            larger = [
                f"{needs} conductors in {cable.id}" for cable, needs in cables if needs > cable.insulated
            ]
        self.notes += uncommon_notes(choice, self.palettes.code.cites(name), larger)

    def _searches(
        self, island: Island, units: Sequence[Unit], sources: Sequence[Node]
    ) -> list[tuple[Opened, TreeSearch]]:
        kept = frozenset(chain.from_iterable(supply.kept for unit in units for supply in unit.supplies))
        found = []
        for opened in openings_of(island, self.wiring, kept):
            tree = Tree(opened.nodes, opened.cables)
            here = units
            if opened.whole:
                moved = tuple(
                    replace(device, node=opened.device_part.get(device.id, device.node))
                    for device in self.wiring.devices
                )
                wiring = replace(self.wiring, devices=moved)
                here = _units_on(island, self._demand_in_parts(wiring, opened), self.wiring)
            found.append((opened, TreeSearch(tree, self.palettes, here, sources, opened.pole)))
        return found

    def _demand_in_parts(self, wiring: Wiring, opened: Opened) -> Demand:
        """The demand with devices in the parts of opened boxes; rules about boxes go by the whole box."""
        whole = opened.whole

        def with_parts(nodes: frozenset[str]) -> frozenset[str]:
            return nodes | {part for part, box in whole.items() if box in nodes}

        wiring = replace(
            wiring,
            neutral_exempt=with_parts(wiring.neutral_exempt),
            neutral_required=with_parts(wiring.neutral_required),
        )
        kept_at = dict(opened.kept_part)
        for part, box in whole.items():
            if box in opened.kept_part:
                kept_at[part] = opened.kept_part[box]
        return demand_of(wiring, self.palettes.code, SILENT, kept_at)

    # -- the answer ------------------------------------------------------------------------------------------

    def _possible(self, found: Sequence[_Found]) -> Hookup:
        cables: list[CablePlan] = []
        joins: dict[str, list[Join]] = {}
        for best in found:
            planned, joined = written_out(best.nets, best.tree, self.palettes, best.opened.whole)
            cables += planned
            for node, more in joined.items():
                joins.setdefault(node, []).extend(more)
            self._note(best)
        plan = whole_plan(self.wiring, self.palettes, cables, joins)
        proof = prove(self.wiring, plan, self.palettes.is_grounded)
        if proof.complaints:
            raise NoHookup(f"The plan that was found does not pass its own trial: {proof.complaints[0]}.")
        conductors = [conductor for cable in plan.cables for conductor in cable.conductors]
        splices = sum(join.is_splice for box in plan.boxes for join in box.joins)
        if self.work:
            nets = [net for best in found for net in best.nets]
            plan_shown(plan.cables, nets, proof.tables, splices, self.wiring, self.palettes, self.work)
        return Hookup(
            True,
            plan=plan,
            truth=proof.tables,
            always_live=proof.always_live,
            splices=splices,
            reidentified=sum(conductor.reidentified_as is not None for conductor in conductors),
            conductors=sum(conductor.signal is not None for conductor in conductors),
            notes=tuple(self.notes),
        )

    def _note(self, best: _Found) -> None:
        used = {spot.device for net in best.nets for spot in net.spots}
        for node in self.wiring.nodes:
            if node.is_source and node.id in best.opened.nodes and node.id not in used:
                self.notes.append(f"Source {node.id} feeds nothing here.")
        carried = signals_by_cable(best.nets, best.tree)
        if idle := [cable for cable, signals in carried.items() if not signals]:
            self.notes.append(
                f"{listed(idle)} {'carries' if len(idle) == 1 else 'carry'} nothing: cap both ends."
            )
        if best.opened.whole:
            island = next(i for i in islands_of(self.wiring) if i.nodes[0].id in best.opened.nodes)
            ring = ring_in([node.id for node in island.nodes], island.cables)
            assert ring is not None
            boxes, cables = ring
            opened = listed(dict.fromkeys(best.opened.whole.values()))
            self.notes.append(
                f"Cables {listed(sorted(cable.id for cable in cables))} close a ring through {listed(sorted(boxes))}: the "
                f"joins in {opened} are kept apart as shown, so that out and back stay in one cable."
            )

    def _short(self, found: Sequence[tuple[Island, _Found]]) -> Hookup:
        short: list[Short] = []
        needed: dict[str, int] = {}
        ring: list[str] = []
        for island, best in found:
            signals = signals_by_cable(best.nets, best.tree)
            here = []
            for cable, needs in zip(best.tree.cables, best.choice.needs, strict=True):
                needed[cable.id] = needs
                carried = signals[cable.id]
                roles = [role for role, _ in carried]
                if not self.palettes.fits(cable, roles):
                    texts = tuple(text for _, text in carried)
                    here.append(Short(cable.id, cable.insulated, needs, texts))
            if here and island.rings:
                closing = ring_in([node.id for node in island.nodes], island.cables)
                ring += [cable.id for cable in closing[1]] if closing else []
            short += here
        cheapest = tuple(
            CableNeed(
                cable.id,
                needs := needed.get(cable.id, cable.insulated),
                cable.insulated,
                self.palettes.of(cable).colors
                if needs == cable.insulated
                else self.palettes.usual(needs).colors,
            )
            for cable in self.wiring.cables
        )
        if self.work:
            for item in short:
                self.work.step(f"{item.cable} would carry {listed(item.signals)}", item.needs, "conductors")
            added = sum(need.insulated - need.has for need in cheapest)
            self.work.step("fewest conductors to add", added, "conductors")
        return Hookup(
            False,
            why=f"{_UNTRIED if self.untried else ''}{short_sentence(short, self.wiring.cables, ring)}",
            short=tuple(short),
            cheapest=cheapest,
            notes=tuple(self.notes),
        )


def _best_of(
    searches: Sequence[tuple[Opened, TreeSearch]], *, rings: bool, adding: bool
) -> tuple[Opened, TreeSearch, Choice] | None:
    """The best choice over all ways of opening rings."""
    best: tuple[Opened, TreeSearch, Choice] | None = None
    for opened, search in searches:
        choice = search.best(rings=rings, adding=adding, than=best[2].cost if best else None)
        if choice is not None:
            best = (opened, search, choice)
    return best


def _units_on(island: Island, demand: Demand, wiring: Wiring) -> list[Unit]:
    nodes = {node.id for node in island.nodes}
    home = {device.id: device.node for device in wiring.devices}
    return [unit for unit in demand.units if home[unit.devices[0]] in nodes]


def _named(island: Island) -> str:
    """The nodes of an island, the first few by name."""
    names = [node.id for node in island.nodes]
    return (
        listed(names)
        if len(names) < 5
        else f"{', '.join(names[:3])} and {count_of(len(names) - 3, 'more node')}"
    )
