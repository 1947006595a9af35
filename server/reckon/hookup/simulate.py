"""Proves a written plan: every load from every switch, over all positions, straight from the joins.

Nothing of the search is used. The joins and conductors become *nets* (what is joined without a switch), switches become
contacts between nets, and every position is tried. Groups that meet only in nets that are solidly hot or neutral
cannot affect one another, so each is tried over its own positions.

What is proved: every load is on exactly as its switches say and changes with each of them; hot and neutral never meet,
nor two circuits; nothing switches a neutral; grounded colors, and only they, are neutrals, other uses of them are
re-identified, and never the way from a switch to an outlet; in each cable, out and back cancel in every position; the
devices on the load side of a GFCI, and only they, go dead with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Final

from server.reckon.hookup.facts import Device, Half, Kind, SwitchWays, Wiring
from server.reckon.hookup.joined import JoinedNets
from server.reckon.hookup.result import Plan, Terminal, TruthRow, TruthTable

__all__ = ["Proof", "prove"]

_POSITIONS: Final[Mapping[str, Mapping[str, tuple[tuple[str, str], ...]]]] = {
    "line": {"off": (), "on": (("line", "load"),)},
    "common": {"1": (("common", "traveler_1"),), "2": (("common", "traveler_2"),)},
    "in_1": {
        "straight": (("in_1", "out_1"), ("in_2", "out_2")),
        "crossed": (("in_1", "out_2"), ("in_2", "out_1")),
    },
}
"""Contacts by the terminal that gives a switch's kind away, and position."""


@dataclass(frozen=True, slots=True)
class Proof:
    """The truth tables, what is live whatever the switches do, and every complaint (none in a lawful plan)."""

    tables: tuple[TruthTable, ...]
    always_live: tuple[str, ...]
    complaints: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Load:
    """A load with its two terminals, and the switches that are to act on it."""

    name: str
    hot: Terminal
    neutral: Terminal
    switches: frozenset[str]


def prove(wiring: Wiring, plan: Plan, is_grounded: Callable[[str], bool]) -> Proof:
    """Try a plan over all switch positions."""
    return _Bench(wiring, plan, is_grounded).proof()


class _Bench:
    def __init__(self, wiring: Wiring, plan: Plan, is_grounded: Callable[[str], bool]) -> None:
        self.wiring, self.plan, self.is_grounded = wiring, plan, is_grounded
        self.nets = JoinedNets(wiring, plan)
        self.devices = {device.id: device for device in wiring.devices}
        self.complaints = list(self.nets.doubled)
        self.loads = self._loads()
        self.gfcis = [device for device in wiring.devices if device.kind is Kind.GFCI and device.protects]
        self.contacts = {
            switch.id: self._contacts(switch) for switch in wiring.devices if switch.kind is Kind.SWITCH
        }
        sources = [
            (node.id, "hot" if leg == 1 else f"hot_{leg}")
            for node in wiring.nodes
            if node.is_source
            for leg in range(1, node.legs + 1)
        ]
        self.source_hots = [Terminal(*source) for source in sources]
        self.source_neutrals = [Terminal(node.id, "neutral") for node in wiring.nodes if node.is_source]

    def proof(self) -> Proof:
        hot = self._solid(self.source_hots, "hot")
        neutral = self._solid(self.source_neutrals, "neutral")
        if meeting := set(hot) & set(neutral):
            self.complaints.append(f"hot and neutral meet at {self._label(min(meeting))}")
        self._check_conductors(neutral)
        tables = [self._table(switches, hot, neutral) for switches in self._circuits(hot)]
        live = [load for load in self.loads if not load.switches]
        for load in live:
            self._settle(load, True, hot, neutral, dict(hot), {})
        self._check_gfcis()
        return Proof(tuple(tables), tuple(load.name for load in live), tuple(self.complaints))

    # -- what there is ---------------------------------------------------------------------------------------

    def _loads(self) -> list[_Load]:
        control: dict[tuple[str, Half | None], set[str]] = {}
        split = {device.id for device in self.wiring.devices if device.split}
        for switch in self.wiring.devices:
            halves = dict(switch.halves)
            split.update(halves)
            for load in switch.controls:
                half = halves.get(load, self.devices[load].split)
                control.setdefault((load, half), set()).add(switch.id)
        found = []
        for device in self.wiring.devices:
            if device.kind is Kind.SWITCH:
                continue
            sides: tuple[Half | None, ...] = (Half.TOP, Half.BOTTOM) if device.id in split else (None,)
            names = ("line_hot", "line_neutral") if device.kind is Kind.GFCI else ("hot", "neutral")
            both = all((device.id, side) in control for side in sides)
            for side in sides:
                switches = frozenset(control.get((device.id, side), ()))
                hot = Terminal(device.id, f"hot_{side.value}" if side else names[0])
                # A half that is always live is told apart from the switched half of the same receptacle.
                plain = side is None or (switches and not both)
                name = device.id if plain else f"{device.id} {side.value if side else ''}"
                found.append(_Load(name, hot, Terminal(device.id, names[1]), switches))
        return found

    def _contacts(self, switch: Device) -> dict[str, list[tuple[Terminal, Terminal]]]:
        """The joined contacts of a switch by position."""
        for key, positions in _POSITIONS.items():
            used = {name for contacts in positions.values() for contact in contacts for name in contact}
            if any(Terminal(switch.id, name) in self.nets.terminal_join for name in used) or (
                switch.ways is SwitchWays.FOUR_WAY and key == "in_1"
            ):
                return {
                    position: [
                        (Terminal(switch.id, one), Terminal(switch.id, other))
                        for one, other in contacts
                        if self.nets.of(Terminal(switch.id, one)) is not None
                        and self.nets.of(Terminal(switch.id, other)) is not None
                    ]
                    for position, contacts in positions.items()
                }
        self.complaints.append(f"switch {switch.id} is joined to nothing")
        return {"off": [], "on": []}

    def _gfci_contacts(self, without: str | None = None) -> list[tuple[Terminal, Terminal]]:
        found = []
        for gfci in self.gfcis:
            for pole in ("hot", "neutral"):
                line, load = Terminal(gfci.id, f"line_{pole}"), Terminal(gfci.id, f"load_{pole}")
                if gfci.id != without and self.nets.of(line) is not None and self.nets.of(load) is not None:
                    found.append((line, load))
        return found

    # -- what is connected -----------------------------------------------------------------------------------

    def _solid(self, roots: Iterable[Terminal], what: str) -> dict[int, int]:
        """Nets that a source reaches without a switch, with the source's number; GFCIs count as closed."""
        found: dict[int, int] = {}
        for number, root in enumerate(roots):
            net = self.nets.of(root)
            if net is None:
                continue
            if net in found:
                self.complaints.append(f"two sources' {what} meet at {root.device}")
            found[net] = number
        return self._spread(found, self._gfci_contacts())

    def _spread(
        self, start: Mapping[int, int], contacts: Iterable[tuple[Terminal, Terminal]]
    ) -> dict[int, int]:
        """Nets reached from some over closed contacts, each with the number it was reached from."""
        near: dict[int, list[int]] = {}
        for one, other in contacts:
            a, b = self.nets.of(one), self.nets.of(other)
            assert a is not None
            assert b is not None
            near.setdefault(a, []).append(b)
            near.setdefault(b, []).append(a)
        found = dict(start)
        waiting = list(start)
        while waiting:
            net = waiting.pop()
            for following in near.get(net, ()):
                if following not in found:
                    found[following] = found[net]
                    waiting.append(following)
                elif found[following] != found[net]:
                    self.complaints.append(f"two circuits meet at {self._label(net)}")
        return found

    def _circuits(self, hot: Mapping[int, int]) -> list[list[str]]:
        """Switches that share a net which is not solidly hot, or a load; in the order they were given."""
        by_net: dict[object, list[str]] = {}
        for switch, positions in self.contacts.items():
            nets = {self.nets.of(end) for contacts in positions.values() for pair in contacts for end in pair}
            for net in nets - set(hot):
                by_net.setdefault(net, []).append(switch)
        for load in self.loads:
            by_net.setdefault(load.name, []).extend(sorted(load.switches))
        own = {switch: {switch} for switch in self.contacts}
        for switches in by_net.values():
            merged = set().union(*(own[switch] for switch in switches))
            for switch in merged:
                own[switch] = merged
        seen: set[str] = set()
        found = []
        for switch in self.contacts:
            if switch not in seen:
                seen |= own[switch]
                found.append([other for other in self.contacts if other in own[switch]])
        return found

    # -- what happens ----------------------------------------------------------------------------------------

    def _table(self, switches: list[str], hot: Mapping[int, int], neutral: Mapping[int, int]) -> TruthTable:
        loads = [load for load in self.loads if load.switches & set(switches)]
        rows = []
        phase: dict[str, bool] = {}
        always = self._gfci_contacts()
        for numbers in product((0, 1), repeat=len(switches)):
            positions = tuple(
                list(self.contacts[switch])[number] for switch, number in zip(switches, numbers, strict=True)
            )
            closed = list(always)
            for switch, position in zip(switches, positions, strict=True):
                closed += self.contacts[switch][position]
            live = self._spread(hot, closed)
            if set(live) & set(neutral):
                self.complaints.append(f"hot and neutral meet with {switches} at {positions}")
            ways = self._ways(hot, closed)
            on = []
            for load in loads:
                net = self.nets.of(load.hot)
                is_on = net is not None and net in live
                odd = sum(
                    number
                    for switch, number in zip(switches, numbers, strict=True)
                    if switch in load.switches
                )
                expected = phase.setdefault(load.name, is_on ^ bool(odd & 1)) ^ bool(odd & 1)
                self._settle(load, expected, live, neutral, live, ways)
                if is_on:
                    on.append(load.name)
            rows.append(TruthRow(positions, tuple(on)))
        return TruthTable(tuple(switches), tuple(load.name for load in loads), tuple(rows))

    def _settle(
        self,
        load: _Load,
        expected: bool,
        live: Mapping[int, int],
        neutral: Mapping[int, int],
        hot: Mapping[int, int],
        ways: Mapping[int, tuple[int, Terminal]],
    ) -> None:
        """Complain where a load is not as expected, or its current does not come back the way it went."""
        net, back = self.nets.of(load.hot), self.nets.of(load.neutral)
        if back is None or back not in neutral:
            self.complaints.append(f"{load.name} has no neutral")
            return
        is_on = net is not None and net in live
        if is_on != expected:
            self.complaints.append(f"{load.name} is {'on' if is_on else 'off'} where it should not be")
        if not is_on or net is None:
            return
        source = self.source_hots[live[net]].device
        if self.source_neutrals[neutral[back]].device != source:
            self.complaints.append(f"{load.name} has its hot from {source} and another circuit's neutral")
            return
        ways = ways or self._ways(hot, self._gfci_contacts())
        out = ways[net][0] + self.nets.way(ways[net][1], load.hot)
        back_ways = self._back()
        home = back_ways[back][0] + self.nets.way(back_ways[back][1], load.neutral)
        if out != home:
            self.complaints.append(
                f"the current of {load.name} does not come back through the cables it went out by"
            )

    def _ways(
        self, hot: Mapping[int, int], closed: Iterable[tuple[Terminal, Terminal]]
    ) -> dict[int, tuple[int, Terminal]]:
        """For every live net, the currents up to the terminal by which the current enters it."""
        return self._enter(self.source_hots, closed)

    def _back(self) -> dict[int, tuple[int, Terminal]]:
        return self._enter(self.source_neutrals, self._gfci_contacts())

    def _enter(
        self, roots: Iterable[Terminal], closed: Iterable[tuple[Terminal, Terminal]]
    ) -> dict[int, tuple[int, Terminal]]:
        near: dict[int, list[tuple[Terminal, Terminal]]] = {}
        for one, other in closed:
            a, b = self.nets.of(one), self.nets.of(other)
            assert a is not None
            assert b is not None
            near.setdefault(a, []).append((one, other))
            near.setdefault(b, []).append((other, one))
        found: dict[int, tuple[int, Terminal]] = {}
        for root in roots:
            net = self.nets.of(root)
            if net is not None:
                found.setdefault(net, (0, root))
        waiting = list(found)
        while waiting:
            net = waiting.pop()
            current, entry = found[net]
            for leave, enter in near.get(net, ()):
                following = self.nets.of(enter)
                assert following is not None
                if following not in found:
                    found[following] = (current + self.nets.way(entry, leave), enter)
                    waiting.append(following)
        return found

    # -- what the conductors are -----------------------------------------------------------------------------

    def _check_conductors(self, neutral: Mapping[int, int]) -> None:
        returns = {self.nets.of(load.hot) for load in self.loads if load.switches}
        for terminals in self.contacts.values():
            for one, other in (pair for contacts in terminals.values() for pair in contacts):
                if self.nets.of(one) in neutral or self.nets.of(other) in neutral:
                    self.complaints.append(f"{one.device} switches a neutral")
        for cable, color, band, join in self.nets.conductors:
            if join is None:
                continue
            net = self.nets.net[join]
            if net in neutral:
                if not self.is_grounded(color) or band:
                    self.complaints.append(f"a neutral of {cable} runs on {color}")
            elif self.is_grounded(color):
                if not band or self.is_grounded(band):
                    self.complaints.append(f"{color} of {cable} is not a neutral and not re-identified")
                if net in returns:
                    self.complaints.append(f"{color} of {cable} returns from a switch to its outlet")

    def _check_gfcis(self) -> None:
        """Each GFCI alone opened: what it protects goes dead, hot and neutral, and nothing else changes."""
        everything = [pair for c in self.contacts.values() for contacts in c.values() for pair in contacts]
        for gfci in self.gfcis:
            contacts = self._gfci_contacts(gfci.id) + everything
            alive = self._enter(self.source_hots, contacts)
            home = self._enter(self.source_neutrals, self._gfci_contacts(gfci.id))
            protected = self._behind(gfci)
            for load in self.loads:
                dead = self.nets.of(load.hot) not in alive
                if load.hot.device in protected:
                    if not dead or self.nets.of(load.neutral) in home:
                        self.complaints.append(f"{load.name} is not on the load side of {gfci.id}")
                elif dead or self.nets.of(load.neutral) not in home:
                    self.complaints.append(f"{load.name} is on the load side of {gfci.id}, and should not be")

    def _behind(self, gfci: Device) -> set[str]:
        """What a GFCI protects: what it lists, what those protect, and loads of listed switches."""
        found: set[str] = set()
        waiting = list(gfci.protects)
        while waiting:
            device = self.devices[waiting.pop()]
            if device.id not in found:
                found.add(device.id)
                waiting += [*device.protects, *device.controls]
        return found

    def _label(self, net: int) -> str:
        ends = [end for (_, end), join in self.nets.join_of.items() if self.nets.net[join] == net]
        end = min(ends, key=str)
        return f"{end.device} {end.terminal}" if isinstance(end, Terminal) else f"{end.cable} {end.color}"
