"""The cheapest fittings box by box: an exact search over a circuit's tree, from its far ends to the panel.

For every box and every protection that may arrive at it, the cheapest way to serve everything behind is kept. A box
offers *buses*: its line side, the load side of each device that is there, and of each new one. A cable or outlet may
hang on any of them; hanging it on a new device is part of fitting that, moving it at an old one costs.

Kinds of new devices tried together in a box: one GFCI, AFCI or dual device, or two of which one gives arc protection
alone. More never helps: arc protection harms nobody, so one device that gives both serves all that need ground-fault
protection too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from typing import Final, NamedTuple

from server.editions import Edition
from server.reckon.protection.afci_means import afci_means
from server.reckon.protection.feeds import Bus, Feeds
from server.reckon.protection.tree import SOURCE, ProtectionTree, Protector, TreeCable, TreeOutlet

__all__ = ["AFCI", "DEVICES", "FREE", "GFCI", "BoxPlan", "Cost", "FittingSearch", "NewDevice", "far_end"]

GFCI: Final = 1
AFCI: Final = 2
DEVICES: Final[Mapping[str, int]] = {"gfci device": GFCI, "afci device": AFCI, "dual device": GFCI | AFCI}
_SETS: Final = (
    (),
    ("gfci device",),
    ("afci device",),
    ("dual device",),
    ("gfci device", "afci device"),
    ("afci device", "gfci device"),
    ("afci device", "dual device"),
)
"""New devices of one box in the order they may feed each other."""


class Cost(NamedTuple):
    """Money first, then the number of things touched: the cheapest, and of the cheapest the simplest."""

    money: Fraction
    pieces: int

    def plus(self, other: Cost) -> Cost:
        return Cost(self.money + other.money, self.pieces + other.pieces)


FREE: Final = Cost(Fraction(0), 0)


class NewDevice(NamedTuple):
    """A device to fit: its kind, the receptacle whose place it takes (None: faceless), and the bus that feeds it."""

    what: str
    host: str | None
    fed_by: str


@dataclass(frozen=True, slots=True)
class BoxPlan:
    """What is done in one box on one leg. Buses are named ``""`` (line), a device's id, or ``new0``, ``new1``."""

    cost: Cost
    new: tuple[NewDevice, ...]
    upgraded: str
    hung: tuple[tuple[str, str], ...]
    """Each cable away from the panel and each outlet, with its bus."""
    leaving: tuple[tuple[str, int], ...]
    """Each cable away from the panel, with the protection on it."""


class FittingSearch:
    """The search over one circuit with one breaker arrangement; reading it is cheap, building it does the work."""

    def __init__(self, tree: ProtectionTree, code: Edition, prices: Mapping[str, Fraction]) -> None:
        self.tree, self.prices, self._code = tree, prices, code
        self.feeds = Feeds(tree)
        self._came = {leg: self.feeds.reach(leg) for leg in tree.source.legs}
        self._faces = {device.outlet for device in self.feeds.devices.values() if device.outlet}
        self._old: dict[tuple[str, str], dict[str, int]] = {}
        for device in self.feeds.devices.values():
            bits = (GFCI if device.gfci else 0) | (AFCI if device.afci and self._arc_holds(device) else 0)
            self._old.setdefault((device.box, device.leg), {})[device.id] = bits
        self.away: dict[tuple[str, str], tuple[TreeCable, ...]] = {}
        self.best: dict[tuple[str, str, int], BoxPlan | None] = {}
        for leg in tree.source.legs:
            for box in reversed(self._outward(leg)):
                counts = GFCI | AFCI if self._afci_counts(leg, box) else GFCI
                for arriving in range(4):
                    self.best[leg, box, arriving] = self._best_in_box(leg, box, arriving, counts)

    def below(self, leg: str, bits: int) -> Cost | None:
        """The cheapest cost of everything on a leg when the breaker gives these bits; None where it cannot be."""
        total = FREE
        for cable in self.away.get((leg, SOURCE), ()):
            found = self.best[leg, far_end(cable, SOURCE), bits]
            if found is None:
                return None
            total = total.plus(found.cost)
        return total

    def _arc_holds(self, device: Protector) -> bool:
        came = self._came.get(device.leg)
        return came is not None and afci_means(device, self.feeds, came, self._code).holds is True

    def _outward(self, leg: str) -> list[str]:
        """Fed boxes from the panel outward; notes each one's cables away from the panel."""
        of_box: dict[str, list[TreeCable]] = {}
        for cable in self.feeds.cables.values():
            if leg in cable.legs:
                of_box.setdefault(cable.a, []).append(cable)
                of_box.setdefault(cable.b, []).append(cable)
        waiting: list[tuple[str, str]] = [(SOURCE, "")]
        for box, arrived in waiting:
            away = tuple(cable for cable in of_box.get(box, ()) if cable.id != arrived)
            self.away[leg, box] = away
            waiting.extend((far_end(cable, box), cable.id) for cable in away)
        return [box for box, _ in waiting[1:]]

    # --- one box

    def _best_in_box(self, leg: str, box: str, arriving: int, counts: int) -> BoxPlan | None:
        best: BoxPlan | None = None
        for upgraded in self._upgrades(leg, box, counts):
            for new in self._fittings(leg, box, counts):
                found = self._with(leg, box, arriving, upgraded, new, counts)
                if found is not None and (best is None or found.cost < best.cost):
                    best = found
        return best

    def _afci_counts(self, leg: str, box: str) -> bool:
        """Whether arc protection by a device in the box would count; its ground-fault half counts anywhere."""
        return self._arc_holds(Protector("new", box, afci=True, leg=leg))

    def _upgrades(self, leg: str, box: str, counts: int) -> Iterator[str]:
        """An existing device exchanged for a dual-function one: none, or one of them."""
        yield ""
        if self.feeds.boxes[box].reachable:
            for device, bits in self._old.get((box, leg), {}).items():
                if counts & ~bits:
                    yield device

    def _fittings(self, leg: str, box: str, counts: int) -> Iterator[tuple[NewDevice, ...]]:
        """New devices: kinds, receptacles (or none) to put them at, and what feeds each."""
        if not self.feeds.boxes[box].reachable:
            yield ()
            return
        hosts = [
            outlet.id
            for outlet in self.feeds.in_box.get(box, ())
            if outlet.kind == "receptacle" and outlet.legs == (leg,) and outlet.id not in self._faces
        ]
        old_buses = ["", *self._old.get((box, leg), {})]
        for kinds in _SETS:
            if any(not DEVICES[kind] & counts for kind in kinds):
                continue
            places: list[str | None] = [*hosts, *([None] * len(kinds))]
            for chosen in dict.fromkeys(permutations(places, len(kinds))):
                for feeds in _feeding(len(kinds), old_buses):
                    yield tuple(map(NewDevice, kinds, chosen, feeds))

    def _with(
        self, leg: str, box: str, arriving: int, upgraded: str, new: tuple[NewDevice, ...], counts: int
    ) -> BoxPlan | None:
        """The cheapest way to hang everything of a box, given the devices in it; None where it cannot be."""
        buses = self._buses(leg, box, arriving, upgraded, new, counts)
        faces = {device.host: f"new{index}" for index, device in enumerate(new) if device.host is not None}
        cost = FREE
        for device in new:
            faceless = self.prices["faceless extra"] if device.host is None else Fraction(0)
            cost = cost.plus(Cost(self.prices[device.what] + faceless, 1))
        if upgraded:
            cost = cost.plus(Cost(self.prices["dual device"], 1))
        hung: list[tuple[str, str]] = []
        leaving: list[tuple[str, int]] = []
        for cable in self.away[leg, box]:
            now = _device_of(self.feeds.cable_bus(cable, box))
            beyond = far_end(cable, box)
            best: tuple[Cost, str] | None = None
            for bus in buses if cable.legs == (leg,) else (now,):
                behind = self.best[leg, beyond, buses[bus]]
                if behind is not None:
                    best = _less(best, (behind.cost.plus(self._moving(now, bus)), bus))
            if best is None:
                return None
            cost = cost.plus(best[0])
            hung.append((cable.id, best[1]))
            leaving.append((cable.id, buses[best[1]]))
        for outlet in self.feeds.in_box.get(box, ()):
            if leg not in outlet.legs:
                continue
            chosen = self._hang_outlet(outlet, leg, buses, faces.get(outlet.id))
            if chosen is None:
                return None
            cost = cost.plus(chosen[0])
            hung.append((outlet.id, chosen[1]))
        return BoxPlan(cost, new, upgraded, tuple(hung), tuple(leaving))

    def _buses(
        self, leg: str, box: str, arriving: int, upgraded: str, new: tuple[NewDevice, ...], counts: int
    ) -> dict[str, int]:
        """Every bus of the box with the protection on it."""
        old = self._old.get((box, leg), {})
        buses = {"": arriving}
        for device in old:
            bits, at = arriving, device
            while at:
                bits |= counts if at == upgraded else old[at]
                at = _device_of(self.feeds.device_bus(self.feeds.devices[at]))
            buses[device] = bits
        for index, fitted in enumerate(new):
            buses[f"new{index}"] = buses[fitted.fed_by] | (DEVICES[fitted.what] & counts)
        return buses

    def _hang_outlet(
        self, outlet: TreeOutlet, leg: str, buses: Mapping[str, int], face: str | None
    ) -> tuple[Cost, str] | None:
        now = _device_of(self.feeds.outlet_bus(outlet))
        if face is not None:
            tried: tuple[str, ...] = (face,)
        elif outlet.id in self._faces or outlet.legs != (leg,):
            tried = (now,)
        else:
            tried = tuple(buses)
        needs = (GFCI if outlet.needs_gfci else 0) | (AFCI if outlet.needs_afci else 0)
        best: tuple[Cost, str] | None = None
        for bus in tried:
            has = buses[bus]
            if not (needs & ~has or (outlet.no_gfci and has & GFCI)):
                best = _less(best, (self._moving(now, bus), bus))
        return best

    def _moving(self, now: str, bus: str) -> Cost:
        return FREE if bus == now or bus.startswith("new") else Cost(self.prices["move to load"], 1)


def _feeding(count: int, old_buses: list[str]) -> Iterator[tuple[str, ...]]:
    """What may feed each of so many new devices: a bus that is there, or the new device before it."""
    if count == 0:
        yield ()
    for first in old_buses if count else ():
        if count == 1:
            yield (first,)
        for second in (*old_buses, "new0") if count > 1 else ():
            yield (first, second)


def _less(best: tuple[Cost, str] | None, found: tuple[Cost, str]) -> tuple[Cost, str]:
    return found if best is None or found[0] < best[0] else best


def _device_of(bus: Bus) -> str:
    """A bus as the search names it: a device's id, or ``""`` for the line side."""
    return bus[1] if bus[0] == "load" else ""


def far_end(cable: TreeCable, box: str) -> str:
    """The other end of a cable."""
    return cable.b if cable.a == box else cable.a
