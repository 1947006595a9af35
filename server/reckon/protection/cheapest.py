"""The cheapest breaker and devices that give every outlet of a circuit what it lacks, and where they go."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from server.editions import Edition
from server.reckon.protection.coverage import trace_protection
from server.reckon.protection.fitting_search import (
    AFCI,
    DEVICES,
    FREE,
    GFCI,
    BoxPlan,
    Cost,
    FittingSearch,
    far_end,
)
from server.reckon.protection.tree import SOURCE, ProtectionTree, Protector, Source
from server.reckon.work import SILENT, Work

__all__ = ["Placement", "ProtectionPlan", "cheapest_protection"]

_BREAKERS: Final[Mapping[str, int]] = {
    "standard breaker": 0,
    "gfci breaker": GFCI,
    "afci breaker": AFCI,
    "dual breaker": GFCI | AFCI,
}
_MEND_FIRST: Final = frozenset(
    {"loop", "loose cable", "load not here", "two loads", "line and load", "no box", "no home run"}
)


@dataclass(frozen=True, slots=True)
class Placement:
    """One thing to do: ``what`` is a kind of the price list (or ``upgrade to dual``), ``where`` ``source`` or a box.

    ``outlet`` is the receptacle whose place a new device takes (None: a faceless one); ``load_cables`` and
    ``load_outlets`` go on its load side; ``device`` is the device upgraded, or to whose load (``""``: line) a thing
    is moved.
    """

    what: str
    where: str
    cost: Fraction
    leg: str = ""
    outlet: str | None = None
    load_cables: tuple[str, ...] = ()
    load_outlets: tuple[str, ...] = ()
    device: str = ""


@dataclass(frozen=True, slots=True)
class ProtectionPlan:
    """The cheapest cure; ``fitted`` is the circuit with it in place. Where there is none, ``why`` says so."""

    possible: bool
    cost: Fraction
    placements: tuple[Placement, ...]
    why: str
    fitted: ProtectionTree | None = None


def cheapest_protection(
    tree: ProtectionTree,
    code: Edition,
    costs: Mapping[str, Fraction | int] | None = None,
    work: Work = SILENT,
) -> ProtectionPlan:
    """The cheapest way to give every outlet what it lacks; equal money, the fewest things touched.

    ``costs`` stands in for ``protection.costs`` (same keys, dollars). Wiring with a loop, a device fed backwards or
    something loose is not planned: it must be mended first, and ``why`` says what. Outlets that are not fed are
    left out.
    """
    given = costs if costs is not None else code.table("protection.costs")
    prices = {name: Fraction(str(value)) for name, value in given.items()}
    coverage = trace_protection(tree, code)
    mended_first = [
        found
        for found in coverage.problems
        if found.kind in _MEND_FIRST or (found.kind == "shared neutral" and found.device)
    ]
    if mended_first:
        return ProtectionPlan(False, Fraction(0), (), mended_first[0].sentence)
    best: tuple[Cost, FittingSearch, str, int] | None = None
    for search, name, bits, cost in _breakers(tree, code, prices):
        if best is not None and cost >= best[0]:
            continue
        for leg in tree.source.legs:
            found = search.below(leg, bits)
            if found is None:
                break
            cost = cost.plus(found)
        else:
            if best is None or cost < best[0]:
                best = (cost, search, name, bits)
    if best is None:
        why = "No breaker and no device gives every outlet what it needs: look for outlets that need protection where no device may stand, or that must not be behind a GFCI."
        return ProtectionPlan(False, Fraction(0), (), why)
    total, search, name, bits = best
    plan = replace(_write_out(search, name, bits, prices), cost=total.money)
    if work:
        for item in plan.placements:
            where = "the panel" if item.where == SOURCE else f"box {search.feeds.name(item.where)}"
            work.step(f"{item.what.capitalize()} at {where}", item.cost, "USD")
        work.step("Together", plan.cost, "USD")
    return plan


def _breakers(
    tree: ProtectionTree, code: Edition, prices: Mapping[str, Fraction]
) -> Iterator[tuple[FittingSearch, str, int, Cost]]:
    """The breaker that is there, and those that may take its place; each with the search that goes with it.

    Exchanging the breaker undoes what a device's listing with the old one, or an old arc breaker, allowed.
    """
    source = tree.source
    shared = any(len(cable.legs) > 1 for cable in tree.cables)
    kept = (GFCI if source.gfci else 0) | (AFCI if source.arc == "combination" else 0)
    search = FittingSearch(tree, code, prices)
    yield search, "", 0 if shared and source.poles == 1 else kept, FREE
    if not source.replaceable:
        return
    if source.arc or any(device.listed_with_breaker for device in tree.devices):
        bare = replace(
            tree,
            source=replace(source, arc=""),
            devices=tuple(replace(device, listed_with_breaker=False) for device in tree.devices),
        )
        search = FittingSearch(bare, code, prices)
    two_pole = "two-pole " if source.poles > 1 or len(source.legs) > 1 else ""
    for name, bits in _BREAKERS.items():
        yield search, two_pole + name, bits, Cost(prices[two_pole + name], 1)


def _write_out(
    search: FittingSearch, breaker: str, bits: int, prices: Mapping[str, Fraction]
) -> ProtectionPlan:
    """The chosen cure as placements, and the circuit with it fitted."""
    tree = search.tree
    placements: list[Placement] = []
    devices = {device.id: device for device in tree.devices}
    source = tree.source
    if breaker:
        placements.append(Placement(breaker, SOURCE, prices[breaker]))
        source = Source(
            gfci=bool(bits & GFCI),
            arc="combination" if bits & AFCI else "",
            poles=2 if breaker.startswith("two-pole") else source.poles,
            legs=source.legs,
            replaceable=source.replaceable,
        )
    for leg in source.legs:
        waiting = [(far_end(cable, SOURCE), bits) for cable in search.away.get((leg, SOURCE), ())]
        for box, arriving in waiting:
            chosen = search.best[leg, box, arriving]
            assert chosen is not None
            placements.extend(_fit_box(search, leg, box, chosen, devices, prices))
            ends = {cable.id: far_end(cable, box) for cable in search.away[leg, box]}
            waiting.extend((ends[cable], leaving) for cable, leaving in chosen.leaving)
    fitted = replace(tree, source=source, devices=tuple(devices.values()))
    words = "; ".join(f"{item.what} at {'the panel' if item.where == SOURCE else search.feeds.name(item.where)}" for item in placements)  # fmt: skip
    return ProtectionPlan(
        True, Fraction(0), tuple(placements), words or "Every outlet has what it needs.", fitted
    )


def _fit_box(
    search: FittingSearch,
    leg: str,
    box: str,
    chosen: BoxPlan,
    devices: dict[str, Protector],
    prices: Mapping[str, Fraction],
) -> list[Placement]:
    """Put one box's choice into the circuit's devices; the placements it takes."""
    placements: list[Placement] = []
    names = {"": ""} | {device.id: device.id for device in devices.values()}
    for index in range(len(chosen.new)):
        names[f"new{index}"] = f"new {box} {leg} {index + 1}"
    if chosen.upgraded:
        devices[chosen.upgraded] = replace(devices[chosen.upgraded], gfci=True, afci=True)
        placements.append(
            Placement("upgrade to dual", box, prices["dual device"], leg, device=chosen.upgraded)
        )
    cables = {cable.id for cable in search.away[leg, box]}
    for index, new in enumerate(chosen.new):
        bus = f"new{index}"
        on_it = [thing for thing, hung in chosen.hung if hung == bus]
        given = DEVICES[new.what]
        device = Protector(
            names[bus],
            box,
            gfci=bool(given & GFCI),
            afci=bool(given & AFCI),
            leg=leg,
            outlet=new.host,
            load_cables=tuple(thing for thing in on_it if thing in cables),
            load_outlets=tuple(thing for thing in on_it if thing not in cables and thing != new.host),
            readily_accessible=True,
        )
        devices[device.id] = device
        faceless = prices["faceless extra"] if new.host is None else Fraction(0)
        placements.append(
            Placement(new.what, box, prices[new.what] + faceless, leg, new.host, device.load_cables, device.load_outlets)
        )  # fmt: skip
    for index, new in enumerate(chosen.new):
        if feeder := names[new.fed_by]:
            device = devices[feeder]
            devices[feeder] = replace(device, load_devices=(*device.load_devices, names[f"new{index}"]))
    placements.extend(_moves(search, leg, box, chosen, devices, prices))
    return placements


def _moves(
    search: FittingSearch,
    leg: str,
    box: str,
    chosen: BoxPlan,
    devices: dict[str, Protector],
    prices: Mapping[str, Fraction],
) -> list[Placement]:
    """Take what leaves an old device off its load side, and hang what comes to it."""
    placements: list[Placement] = []
    cables = {cable.id: cable for cable in search.away[leg, box]}
    for thing, bus in chosen.hung:
        is_cable = thing in cables
        at = (
            search.feeds.cable_bus(cables[thing], box)
            if is_cable
            else search.feeds.outlet_bus(search.feeds.outlets[thing])
        )
        now = at[1] if at[0] == "load" else ""
        if bus == now:
            continue
        if now:
            devices[now] = _without(devices[now], thing)
        if bus.startswith("new"):
            continue
        if bus:
            devices[bus] = _with(devices[bus], thing, is_cable)
        placements.append(
            Placement(
                "move to load" if bus else "move to line",
                box,
                prices["move to load"],
                leg,
                load_cables=(thing,) if is_cable else (),
                load_outlets=() if is_cable else (thing,),
                device=bus,
            )
        )
    return placements


def _without(device: Protector, thing: str) -> Protector:
    return replace(
        device,
        load_cables=tuple(other for other in device.load_cables if other != thing),
        load_outlets=tuple(other for other in device.load_outlets if other != thing),
    )


def _with(device: Protector, thing: str, is_cable: bool) -> Protector:
    if is_cable:
        return replace(device, load_cables=(*device.load_cables, thing))
    return replace(device, load_outlets=(*device.load_outlets, thing))
