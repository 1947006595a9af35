"""The cheapest cure: by hand, and minimal against brute force with networkx as the judge.

The brute force tries every breaker and, in every box, every pair of new devices (also pairs that our search leaves out
as never useful), every receptacle for each, every way to feed and hang things, as long as it costs less than ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.protection.cheapest import cheapest_protection
from server.reckon.protection.coverage import trace_protection
from server.reckon.protection.tree import (
    SOURCE,
    ProtectionTree,
    Protector,
    Source,
    TreeBox,
    TreeCable,
    TreeOutlet,
)
from server.reckon.work import Work
from tests.protection_graph import graph_of, reaches
from tests.random_circuits import circuits

CODE = load_edition(2023)
PRICES = {name: int(str(value)) for name, value in CODE.table("protection.costs").items()}


def line(count: int, *, metal: bool = False, **outlet: Any) -> ProtectionTree:
    wiring: Any = "metal" if metal else "cable"
    return ProtectionTree(
        boxes=tuple(TreeBox(f"b{n}", metal=metal) for n in range(count)),
        cables=tuple(
            TreeCable(f"c{n}", f"b{n - 1}" if n else SOURCE, f"b{n}", wiring=wiring) for n in range(count)
        ),
        outlets=tuple(TreeOutlet(f"o{n}", f"b{n}", **outlet) for n in range(count)),
    )


def placed(tree: ProtectionTree, **costs: int) -> list[tuple[str, str]]:
    plan = cheapest_protection(tree, CODE, {**PRICES, **costs})
    assert plan.possible
    assert plan.fitted is not None
    assert trace_protection(plan.fitted, CODE).lacking == ()
    return [(item.what, item.where) for item in plan.placements]


# --- by hand


def test_what_is_well_is_left_alone() -> None:
    plan = cheapest_protection(line(3), CODE)

    assert (plan.possible, plan.cost, plan.placements) == (True, 0, ())


def test_one_device_upstream_serves_many_and_stands_at_the_first_that_needs_it() -> None:
    tree = line(4)
    wants = tuple(replace(outlet, needs_gfci=n >= 1) for n, outlet in enumerate(tree.outlets))

    plan = cheapest_protection(replace(tree, outlets=wants), CODE)

    (item,) = plan.placements
    assert (item.what, item.where, item.outlet, item.load_cables) == ("gfci device", "b1", "o1", ("c2",))
    assert plan.cost == PRICES["gfci device"]


def test_a_breaker_is_taken_where_it_is_cheaper_than_the_devices() -> None:
    fork = ProtectionTree(
        boxes=tuple(TreeBox(name) for name in ("j", "a", "b", "c")),
        cables=(
            TreeCable("c0", SOURCE, "j"),
            *(TreeCable(f"c{name}", "j", name) for name in ("a", "b", "c")),
        ),
        outlets=tuple(TreeOutlet(f"o{name}", name, needs_gfci=True) for name in ("a", "b", "c")),
    )

    assert placed(fork) == [("gfci device", "j")]  # faceless in the junction box: 45
    assert placed(fork, **{"faceless extra": 40}) == [("gfci breaker", "source")]
    assert placed(fork, **{"gfci breaker": 200, "dual breaker": 200, "faceless extra": 100}) == [
        ("gfci device", n) for n in "abc"
    ]


def test_arc_protection_in_cable_wiring_comes_from_the_breaker() -> None:
    assert placed(line(3, needs_afci=True)) == [("afci breaker", "source")]


def test_arc_protection_in_metal_wiring_may_stand_at_the_first_outlet() -> None:
    assert placed(line(3, metal=True, needs_afci=True)) == [("afci device", "b0")]


def test_both_kinds_take_a_dual_breaker_or_the_cheaper_pair() -> None:
    tree = line(3, needs_afci=True, needs_gfci=True)

    assert placed(tree) == [("dual breaker", "source")]
    assert placed(tree, **{"dual breaker": 500}) == [("afci breaker", "source"), ("gfci device", "b0")]


def test_an_alarm_is_kept_off_the_gfci() -> None:
    tree = line(3, needs_gfci=True)
    alarm = TreeOutlet("alarm", "b2", "hardwired", no_gfci=True)

    plan = cheapest_protection(replace(tree, outlets=(*tree.outlets, alarm)), CODE)

    assert [item.where for item in plan.placements] == ["b0", "b1", "b2"]
    assert all("alarm" not in item.load_outlets for item in plan.placements)


def mixed_box(**source: Any) -> ProtectionTree:
    """One box in metal wiring: an alarm that needs arc protection alone, a receptacle that needs both."""
    outlets = (
        TreeOutlet("alarm", "b0", "hardwired", needs_afci=True, no_gfci=True),
        TreeOutlet("o0", "b0", needs_afci=True, needs_gfci=True),
        TreeOutlet("o1", "b0", needs_afci=True, needs_gfci=True),
    )
    return replace(line(1, metal=True), outlets=outlets, source=Source(**source))


def test_an_arc_device_may_feed_a_ground_fault_device_in_one_box() -> None:
    plan = cheapest_protection(mixed_box(replaceable=False), CODE)

    assert plan.fitted is not None
    assert sorted(item.what for item in plan.placements) == ["afci device", "gfci device"]
    arc = next(device for device in plan.fitted.devices if device.afci)
    assert arc.load_devices == tuple(device.id for device in plan.fitted.devices if device.gfci)
    assert trace_protection(plan.fitted, CODE).lacking == ()


def test_a_dual_device_beside_an_arc_device_where_that_is_cheaper() -> None:
    assert sorted(placed(mixed_box(replaceable=False), **{"gfci device": 90})) == [
        ("afci device", "b0"),
        ("dual device", "b0"),
    ]


def test_a_gfci_breaker_over_an_alarm_gives_way_to_an_ordinary_one() -> None:
    tree = replace(line(2), source=Source(gfci=True))
    alarm = TreeOutlet("alarm", "b1", "hardwired", no_gfci=True)

    assert placed(replace(tree, outlets=(*tree.outlets, alarm))) == [("standard breaker", "source")]


def test_a_cable_on_the_wrong_side_is_moved() -> None:
    tree = replace(line(2, needs_gfci=True), devices=(Protector("G", "b0", gfci=True, outlet="o0"),))

    plan = cheapest_protection(tree, CODE)

    (item,) = plan.placements
    assert (item.what, item.where, item.device, item.load_cables) == ("move to load", "b0", "G", ("c1",))
    assert plan.cost == PRICES["move to load"]


def test_a_device_that_is_there_may_be_upgraded() -> None:
    tree = replace(
        line(2, metal=True, needs_gfci=True, needs_afci=True),
        devices=(Protector("G", "b0", gfci=True, outlet="o0", load_cables=("c1",)),),
    )

    assert placed(tree) == [("upgrade to dual", "b0")]


def test_nothing_is_put_where_it_cannot_be_reached() -> None:
    tree = line(2, needs_gfci=True)
    hidden = replace(tree, boxes=(TreeBox("b0", reachable=False), TreeBox("b1")))

    assert placed(hidden) == [("gfci breaker", "source")]


def test_a_multiwire_circuit_takes_a_two_pole_breaker_or_a_device_a_leg() -> None:
    tree = ProtectionTree(
        Source(legs=("A", "B"), poles=2),
        (TreeBox("b0"), TreeBox("bA"), TreeBox("bB")),
        (
            TreeCable("c0", SOURCE, "b0", ("A", "B")),
            TreeCable("cA", "b0", "bA"),
            TreeCable("cB", "b0", "bB", ("B",)),
        ),
        (TreeOutlet("oA", "bA", needs_gfci=True), TreeOutlet("oB", "bB", legs=("B",), needs_gfci=True)),
    )

    assert placed(tree) == [("gfci device", "bA"), ("gfci device", "bB")]
    assert placed(tree, **{"gfci device": 200, "dual device": 200}) == [("two-pole gfci breaker", "source")]


def test_a_shared_neutral_keeps_a_device_away_from_the_cable_that_carries_both_legs() -> None:
    boxes = (TreeBox("b0"), TreeBox("b1"))
    cables = (TreeCable("c0", SOURCE, "b0", ("A", "B")), TreeCable("c1", "b0", "b1", ("A", "B")))
    outlets = (TreeOutlet("o0", "b0", needs_gfci=True), TreeOutlet("o1", "b1", needs_gfci=True))
    tree = ProtectionTree(Source(legs=("A", "B"), poles=2), boxes, cables, outlets)

    assert placed(tree) == [("gfci device", "b0"), ("gfci device", "b1")]


def test_what_cannot_be_cured_says_so() -> None:
    tree = replace(
        line(1), source=Source(replaceable=False), boxes=(TreeBox("b0", reachable=False),),
        outlets=(TreeOutlet("o0", "b0", needs_gfci=True),),
    )  # fmt: skip

    plan = cheapest_protection(tree, CODE)

    assert (plan.possible, plan.fitted) == (False, None)
    assert "where no device may stand" in plan.why


@pytest.mark.parametrize(
    "change",
    [
        {"cables": (*line(2).cables, TreeCable("x", "b1", "b0"))},
        {"cables": (*line(2).cables, TreeCable("x", "b1", "gone"))},
        {"devices": (Protector("G", "b1", gfci=True, load_cables=("c1",)),)},
        {"devices": (Protector("G", "b0", gfci=True, load_cables=("c7",)),)},
        {"cables": ()},
    ],
)
def test_wiring_that_is_wrong_is_mended_first(change: dict[str, Any]) -> None:
    plan = cheapest_protection(replace(line(2, needs_gfci=True), **change), CODE)

    assert not plan.possible
    assert plan.why in [
        found.sentence for found in trace_protection(replace(line(2), **change), CODE).problems
    ]


def test_the_work_adds_up() -> None:
    work = Work()

    plan = cheapest_protection(line(3, needs_afci=True, needs_gfci=True), CODE, work=work)

    *items, total = work.steps
    assert sum(Fraction(str(step.value)) for step in items) == total.value == plan.cost


@pytest.mark.parametrize("year", YEARS)
def test_every_edition_has_prices(year: int) -> None:
    assert cheapest_protection(line(2, needs_gfci=True), load_edition(year)).cost == 30


# --- against brute force

KINDS = {"gfci device": (True, False), "afci device": (False, True), "dual device": (True, True)}
BREAKERS = {
    "standard breaker": (False, False), "gfci breaker": (True, False), "afci breaker": (False, True),
    "dual breaker": (True, True),
}  # fmt: skip


@dataclass(frozen=True)
class Option:
    """One way to treat a box: what it costs, the box's devices after it, and what each thing in it then has beyond
    what arrives (GFCI, AFCI)."""

    cost: int
    devices: tuple[Protector, ...]
    gives: dict[str, tuple[bool, bool]]


def children(tree: ProtectionTree) -> dict[str, list[TreeCable]]:
    """Cables away from the panel, by box: box b0 hangs on the panel, the others on the cable of their number."""
    return {box.id: [cable for cable in tree.cables if cable.a == box.id] for box in tree.boxes}


def may_hold_afci(tree: ProtectionTree, box: str) -> bool:
    """In metal wiring, where no box ahead holds an outlet; nowhere else."""
    feeding = {cable.b: cable for cable in tree.cables}
    run = [box]
    while feeding[run[-1]].a != SOURCE:
        run.append(feeding[run[-1]].a)
    in_metal = all(feeding[name].wiring == "metal" for name in run)
    metal_boxes = all(b.metal for b in tree.boxes if b.id in run)
    return in_metal and metal_boxes and not any(outlet.box in run[1:] for outlet in tree.outlets)


def options(tree: ProtectionTree, box: str, prices: dict[str, int], budget: int) -> Iterator[Option]:
    """Every way to treat one box that costs less than the budget."""
    old = [device for device in tree.devices if device.box == box]
    faces = {device.outlet for device in old}
    outlets = [outlet for outlet in tree.outlets if outlet.box == box]
    cables = children(tree)[box]
    things = [*(cable.id for cable in cables), *(o.id for o in outlets if o.id not in faces)]
    hosts = [o.id for o in outlets if o.kind == "receptacle" and o.id not in faces]
    afci = may_hold_afci(tree, box)
    for upgraded in [None, *(device.id for device in old)]:
        for count in range(3):
            for kinds in product(KINDS, repeat=count):
                for seats in product([*hosts, None], repeat=count):
                    if len([s for s in seats if s]) != len({s for s in seats if s}):
                        continue
                    buses = ["", *(device.id for device in old)]
                    for fed in product(*([*buses, *(f"new{m}" for m in range(n))] for n in range(count))):
                        yield from _hung(box, old, upgraded, kinds, seats, fed, things, prices, budget, afci)


def _hung(
    box: str, old: list[Protector], upgraded: str | None, kinds: tuple[str, ...], seats: tuple[str | None, ...],
    fed: tuple[str, ...], things: list[str], prices: dict[str, int], budget: int, afci: bool,
) -> Iterator[Option]:  # fmt: skip
    base = sum(prices[kind] for kind in kinds) + sum(
        prices["faceless extra"] for seat in seats if seat is None
    )
    base += prices["dual device"] if upgraded else 0
    if base >= budget:
        return
    fresh = [f"new{n}" for n in range(len(kinds))]
    now = {thing: d.id for d in old for thing in (*d.load_cables, *d.load_outlets)}
    free = [thing for thing in things if thing not in seats]
    for chosen in product(["", *(d.id for d in old), *fresh], repeat=len(free)):
        hung = dict(zip(free, chosen, strict=True))
        moves = sum(bus != now.get(thing, "") and bus not in fresh for thing, bus in hung.items())
        cost = base + moves * prices["move to load"]
        if cost >= budget:
            continue
        on = lambda bus, hung=hung: [thing for thing, at in hung.items() if at == bus]  # noqa: E731
        devices = [
            replace(
                d, gfci=d.gfci or d.id == upgraded, afci=d.afci or d.id == upgraded,
                load_cables=tuple(t for t in on(d.id) if t.startswith("c")),
                load_outlets=tuple(t for t in on(d.id) if t.startswith("o")),
                load_devices=(*d.load_devices, *(f"{box}.{f}" for f, at in zip(fresh, fed, strict=True) if at == d.id)),
            )
            for d in old
        ]  # fmt: skip
        devices += [
            Protector(
                f"{box}.{name}", box, *KINDS[kind], outlet=seat,
                load_cables=tuple(t for t in on(name) if t.startswith("c")),
                load_outlets=tuple(t for t in on(name) if t.startswith("o")),
                load_devices=tuple(f"{box}.{f}" for f, at in zip(fresh, fed, strict=True) if at == name),
            )
            for name, kind, seat in zip(fresh, kinds, seats, strict=True)
        ]  # fmt: skip
        yield Option(cost, tuple(devices), _given(devices, things, afci))


def _given(devices: list[Protector], things: list[str], afci: bool) -> dict[str, tuple[bool, bool]]:
    """What stands between the box's line side and each thing in it."""
    above = {other: d for d in devices for other in d.load_devices}
    given = {}
    for thing in {*things, *(d.outlet for d in devices if d.outlet)}:
        at = next((d for d in devices if thing in (*d.load_cables, *d.load_outlets, d.outlet)), None)
        has = (False, False)
        while at is not None:
            has = (has[0] or at.gfci, has[1] or (at.afci and afci))
            at = above.get(at.id)
        given[thing] = has
    return given


def serves_all(tree: ProtectionTree) -> bool:
    """Whether every outlet has what it needs, as networkx sees it."""
    counted = replace(
        tree, devices=tuple(replace(d, afci=d.afci and may_hold_afci(tree, d.box)) for d in tree.devices)
    )
    bare = {what: graph_of(counted, "A", what)[0] for what in ("gfci", "afci")}
    seats = graph_of(counted, "A", "nothing")[1]
    for outlet in tree.outlets:
        has_gfci = tree.source.gfci or not reaches(bare["gfci"], seats[outlet.id])
        has_afci = tree.source.arc == "combination" or not reaches(bare["afci"], seats[outlet.id])
        if (outlet.needs_gfci and not has_gfci) or (outlet.needs_afci and not has_afci):
            return False
        if outlet.no_gfci and has_gfci:
            return False
    return True


def cheaper_by_brute_force(
    tree: ProtectionTree, prices: dict[str, int], budget: int
) -> ProtectionTree | None:
    """Any fitted circuit that serves all for less than the budget."""
    sources = [(0, tree.source)] + [
        (prices[name], Source(gfci, "combination" if afci else "")) for name, (gfci, afci) in BREAKERS.items()
    ]
    of_box = [list(options(tree, box.id, prices, budget)) for box in tree.boxes]

    away = children(tree)

    def suits(outlet: TreeOutlet, has: tuple[bool, bool]) -> bool:
        short = (outlet.needs_gfci and not has[0]) or (outlet.needs_afci and not has[1])
        return not short and not (outlet.no_gfci and has[0])

    def fill(
        n: int,
        left: int,
        devices: tuple[Protector, ...],
        source: Source,
        arriving: dict[str, tuple[bool, bool]],
    ) -> ProtectionTree | None:
        """Treat boxes from the panel outward, dropping a way as soon as an outlet of the box is not served."""
        if n == len(of_box):
            fitted = replace(tree, source=source, devices=devices)
            assert serves_all(fitted)
            return fitted
        box = tree.boxes[n].id
        here = [outlet for outlet in tree.outlets if outlet.box == box]
        came = arriving[box]
        for option in of_box[n]:
            has = {thing: (came[0] or g, came[1] or a) for thing, (g, a) in option.gives.items()}
            if option.cost < left and all(suits(outlet, has[outlet.id]) for outlet in here):
                onward = arriving | {cable.b: has[cable.id] for cable in away[box]}
                found = fill(n + 1, left - option.cost, devices + option.devices, source, onward)
                if found is not None:
                    return found
        return None

    for cost, source in sources:
        first = {"b0": (source.gfci, source.arc == "combination")}
        if cost < budget and (found := fill(0, budget - cost, (), source, first)) is not None:
            return found
    return None


prices_to_try = st.fixed_dictionaries(
    {
        "standard breaker": st.integers(5, 40), "gfci breaker": st.integers(20, 70), "afci breaker": st.integers(20, 70),
        "dual breaker": st.integers(20, 90), "gfci device": st.integers(25, 50), "afci device": st.integers(25, 50),
        "dual device": st.integers(25, 60), "faceless extra": st.integers(0, 20), "move to load": st.integers(1, 15),
    }
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(tree=circuits(3, most_outlets=2), prices=prices_to_try)
def test_no_cheaper_cure_exists(tree: ProtectionTree, prices: dict[str, int]) -> None:
    plan = cheapest_protection(tree, CODE, prices)
    assume(plan.possible)
    assert plan.fitted is not None

    assert serves_all(plan.fitted)
    assert sum(item.cost for item in plan.placements) == plan.cost
    assert cheaper_by_brute_force(tree, prices, int(plan.cost)) is None


@settings(max_examples=100, deadline=None)
@given(tree=circuits(3, most_outlets=2, devices=False, metal=True), prices=prices_to_try)
def test_no_cheaper_cure_exists_in_metal_wiring(tree: ProtectionTree, prices: dict[str, int]) -> None:
    plan = cheapest_protection(tree, CODE, prices)
    assume(plan.possible)
    assert plan.fitted is not None

    assert serves_all(plan.fitted)
    assert cheaper_by_brute_force(tree, prices, int(plan.cost)) is None


@settings(max_examples=12, deadline=None)
@given(tree=circuits(2, most_outlets=2), prices=prices_to_try)
def test_where_we_find_no_cure_brute_force_finds_none(tree: ProtectionTree, prices: dict[str, int]) -> None:
    stuck = replace(tree, source=replace(tree.source, replaceable=False))
    plan = cheapest_protection(stuck, CODE, prices)
    assume(not plan.possible)

    dear = {**prices, **dict.fromkeys(BREAKERS, 10000)}
    assert cheaper_by_brute_force(stuck, dear, 120) is None


@settings(max_examples=150, deadline=None)
@given(tree=circuits(12, two_legs=True))
def test_a_fitted_circuit_lacks_nothing(tree: ProtectionTree) -> None:
    plan = cheapest_protection(tree, CODE)
    assume(plan.possible)
    assert plan.fitted is not None

    coverage = trace_protection(plan.fitted, CODE)

    assert coverage.lacking == ()
    assert sum(item.cost for item in plan.placements) == plan.cost
