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

from server.reckon.hookup.facts import Device, Half, Kind, Wiring
from server.reckon.hookup.joined import JoinedNets
from server.reckon.hookup.result import Plan, TruthRow, TruthTable

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
    """A load, the joins of its two terminals, and the switches that are to act on it."""

    name: str
    device: str
    hot: int | None
    neutral: int | None
    switches: frozenset[str]


_Contact = tuple[int, int]
"""Two joins that a switch or a GFCI connects."""
_Reached = dict[int, tuple[int, int, int]]
"""By net: the currents up to the join by which a current enters it, that join, and the number of its source."""


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
        self.owners: list[str] = []
        """The source behind each hot, by its number."""
        self.hots: list[int | None] = []
        self.neutrals: list[int | None] = []
        self.neutral_owners = [node.id for node in wiring.nodes if node.is_source]
        for node in wiring.nodes:
            if node.is_source:
                self.neutrals.append(self.nets.at(node.id, "neutral"))
                for leg in range(1, node.legs + 1):
                    self.owners.append(node.id)
                    self.hots.append(self.nets.at(node.id, "hot" if leg == 1 else f"hot_{leg}"))

    def proof(self) -> Proof:
        always = self._gfci_contacts()
        hot = self._reach(self._roots(self.hots), always)
        neutral = self._reach(self._roots(self.neutrals), always)
        if meeting := hot.keys() & neutral.keys():
            self.complaints.append(f"hot and neutral meet at {self.nets.label(min(meeting))}")
        self._check_conductors(neutral)
        tables = [self._table(switches, hot, neutral) for switches in self._circuits(hot)]
        live = [load for load in self.loads if not load.switches]
        for load in live:
            self._settle(load, True, hot, neutral)
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
                hot = self.nets.at(device.id, f"hot_{side.value}" if side else names[0])
                # A half that is always live is told apart from the switched half of the same receptacle.
                plain = side is None or (switches and not both)
                name = device.id if plain else f"{device.id} {side.value if side else ''}"
                found.append(_Load(name, device.id, hot, self.nets.at(device.id, names[1]), switches))
        return found

    def _contacts(self, switch: Device) -> dict[str, list[_Contact]]:
        """The joined contacts of a switch by position."""
        for positions in _POSITIONS.values():
            found = {
                position: [
                    (a, b)
                    for one, other in contacts
                    if (a := self.nets.at(switch.id, one)) is not None
                    and (b := self.nets.at(switch.id, other)) is not None
                ]
                for position, contacts in positions.items()
            }
            if any(found.values()):
                return found
        self.complaints.append(f"switch {switch.id} switches nothing")
        return {"off": [], "on": []}

    def _gfci_contacts(self, without: str | None = None) -> list[_Contact]:
        return [
            (line, load)
            for gfci in self.gfcis
            for pole in ("hot", "neutral")
            if gfci.id != without
            and (line := self.nets.at(gfci.id, f"line_{pole}")) is not None
            and (load := self.nets.at(gfci.id, f"load_{pole}")) is not None
        ]

    # -- what is connected -----------------------------------------------------------------------------------

    def _roots(self, joins: Iterable[int | None]) -> _Reached:
        found: _Reached = {}
        for number, join in enumerate(joins):
            if join is None:
                continue
            net = self.nets.net[join]
            if net in found:
                self.complaints.append(f"two circuits are joined at {self.nets.label(net)}")
            found[net] = (0, join, number)
        return found

    def _reach(self, start: _Reached, closed: Iterable[_Contact]) -> _Reached:
        """Every net reached from some over closed contacts."""
        near: dict[int, list[_Contact]] = {}
        of = self.nets.net
        for one, other in closed:
            near.setdefault(of[one], []).append((one, other))
            near.setdefault(of[other], []).append((other, one))
        found = dict(start)
        waiting = [net for net in found if net in near]
        while waiting:
            current, entry, number = found[waiting.pop()]
            for leave, enter in near[of[entry]]:
                net = of[enter]
                if net not in found:
                    found[net] = (current + self.nets.way(entry, leave), enter, number)
                    waiting.append(net)
                elif found[net][2] != number:
                    self.complaints.append(f"two circuits meet at {self.nets.label(net)}")
        return found

    def _circuits(self, hot: _Reached) -> list[list[str]]:
        """Switches that share a net which is not solidly hot, or a load; in the order they were given."""
        sharing: dict[object, list[str]] = {}
        for switch, positions in self.contacts.items():
            ends = {end for contacts in positions.values() for contact in contacts for end in contact}
            for net in {self.nets.net[end] for end in ends} - hot.keys():
                sharing.setdefault(net, []).append(switch)
        for load in self.loads:
            sharing.setdefault(load.name, []).extend(load.switches)
        own = {switch: {switch} for switch in self.contacts}
        for switches in sharing.values():
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

    def _table(self, switches: list[str], hot: _Reached, neutral: _Reached) -> TruthTable:
        loads = [load for load in self.loads if not load.switches.isdisjoint(switches)]
        acting = [[at for at, switch in enumerate(switches) if switch in load.switches] for load in loads]
        positions = [list(self.contacts[switch].items()) for switch in switches]
        rows = []
        phase: dict[str, bool] = {}
        always = self._gfci_contacts()
        for numbers in product((0, 1), repeat=len(switches)):
            chosen = [positions[at][number] for at, number in enumerate(numbers)]
            closed = [*always, *(contact for _, contacts in chosen for contact in contacts)]
            live = self._reach(hot, closed)
            names = tuple([name for name, _ in chosen])
            if not live.keys().isdisjoint(neutral):
                self.complaints.append(f"hot and neutral meet with {switches} at {names}")
            on = []
            for load, acts in zip(loads, acting, strict=True):
                is_on = load.hot is not None and self.nets.net[load.hot] in live
                odd = sum(numbers[at] for at in acts) % 2 == 1
                expected = phase.setdefault(load.name, is_on ^ odd) ^ odd
                self._settle(load, expected, live, neutral)
                if is_on:
                    on.append(load.name)
            rows.append(TruthRow(names, tuple(on)))
        return TruthTable(tuple(switches), tuple(load.name for load in loads), tuple(rows))

    def _settle(self, load: _Load, expected: bool, live: _Reached, neutral: _Reached) -> None:
        """Complain where a load is not as expected, or its current does not come back the way it went."""
        if load.neutral is None or self.nets.net[load.neutral] not in neutral:
            self.complaints.append(f"{load.name} has no neutral")
            return
        into = live.get(self.nets.net[load.hot]) if load.hot is not None else None
        if (into is not None) != expected:
            self.complaints.append(f"{load.name} is {'on' if into else 'off'} where it should not be")
        if into is None or load.hot is None:
            return
        out, entry, number = into
        home, leave, owner = neutral[self.nets.net[load.neutral]]
        if self.neutral_owners[owner] != self.owners[number]:
            self.complaints.append(
                f"{load.name} has its hot from {self.owners[number]} and another circuit's neutral"
            )
        elif out + self.nets.way(entry, load.hot) != home + self.nets.way(leave, load.neutral):
            self.complaints.append(
                f"the current of {load.name} does not come back through the cables it went out by"
            )

    # -- what the conductors are -----------------------------------------------------------------------------

    def _check_conductors(self, neutral: _Reached) -> None:
        of = self.nets.net
        returns = {of[load.hot] for load in self.loads if load.switches and load.hot is not None}
        for switch, positions in self.contacts.items():
            ends = {end for contacts in positions.values() for contact in contacts for end in contact}
            if any(of[end] in neutral for end in ends):
                self.complaints.append(f"{switch} switches a neutral")
        for cable, color, band, join in self.nets.conductors:
            if join is None:
                continue
            net = of[join]
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
        everything = [
            contact for c in self.contacts.values() for contacts in c.values() for contact in contacts
        ]
        for gfci in self.gfcis:
            rest = self._gfci_contacts(gfci.id)
            alive = self._reach(self._roots(self.hots), [*rest, *everything])
            home = self._reach(self._roots(self.neutrals), rest)
            protected = self._behind(gfci)
            for load in self.loads:
                hot = load.hot is not None and self.nets.net[load.hot] in alive
                back = load.neutral is not None and self.nets.net[load.neutral] in home
                if load.device in protected and (hot or back):
                    self.complaints.append(f"{load.name} stays live when {gfci.id} opens")
                elif load.device not in protected and not (hot and back):
                    self.complaints.append(f"{load.name} goes dead when {gfci.id} opens, and should not")

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
