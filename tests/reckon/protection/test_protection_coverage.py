"""Who has protection: by hand, against networkx reachability on random circuits, and on wiring that is wrong.

The check against networkx builds its own graph from the tree's facts: an outlet has a protection if and only if no
path from the panel reaches it once the edges through devices that give the protection are taken out.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.protection.coverage import Coverage, OutletCoverage, trace_protection
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


def line(count: int, **outlet: Any) -> ProtectionTree:
    """Boxes in a row, one receptacle in each."""
    return ProtectionTree(
        boxes=tuple(TreeBox(f"b{n}") for n in range(count)),
        cables=tuple(TreeCable(f"c{n}", f"b{n - 1}" if n else SOURCE, f"b{n}") for n in range(count)),
        outlets=tuple(TreeOutlet(f"o{n}", f"b{n}", **outlet) for n in range(count)),
    )


def of(coverage: Coverage, outlet: str) -> OutletCoverage:
    return next(found for found in coverage.outlets if found.outlet == outlet)


# --- by hand


def test_a_bare_circuit_protects_nothing() -> None:
    coverage = trace_protection(line(3, needs_gfci=True), CODE)

    assert [found.lacks for found in coverage.outlets] == [("gfci",)] * 3


@pytest.mark.parametrize(
    ("source", "lacks"),
    [
        (Source(gfci=True), ("afci",)),
        (Source(arc="combination"), ("gfci",)),
        (Source(gfci=True, arc="combination"), ()),
        (Source(arc="branch/feeder"), ("gfci", "afci")),
        (Source(arc="supplemental"), ("gfci", "afci")),
    ],
)
def test_a_breaker_protects_the_whole_circuit(source: Source, lacks: tuple[str, ...]) -> None:
    tree = replace(line(3, needs_gfci=True, needs_afci=True), source=source)

    assert {found.lacks for found in trace_protection(tree, CODE).outlets} == {lacks}


def test_one_afci_breaker_may_serve_two_bedrooms() -> None:
    """Published row A043 (FM-12BED): nothing asks for a circuit of its own in each bedroom."""
    tree = replace(line(2, needs_afci=True), source=Source(arc="combination"))

    assert trace_protection(tree, CODE).lacking == ()


def test_a_gfci_receptacle_protects_itself_and_what_hangs_on_its_load() -> None:
    device = Protector("G", "b1", gfci=True, outlet="o1", load_cables=("c2",))
    coverage = trace_protection(replace(line(4, needs_gfci=True), devices=(device,)), CODE)

    assert [found.gfci_by for found in coverage.outlets] == [None, "G", "G", "G"]
    assert coverage.outlets[0].why == "o0 in box b0 has no protection; it lacks GFCI."


def test_a_cable_left_on_the_line_side_is_not_protected() -> None:
    device = Protector("G", "b1", gfci=True, outlet="o1")
    coverage = trace_protection(replace(line(3, needs_gfci=True), devices=(device,)), CODE)

    assert [found.gfci_by for found in coverage.outlets] == [None, "G", None]


def test_the_nearest_device_is_named() -> None:
    devices = (
        Protector("G1", "b0", gfci=True, outlet="o0", load_cables=("c1",)),
        Protector("G2", "b1", gfci=True, outlet="o1", load_cables=("c2",)),
    )
    tree = replace(line(3), devices=devices, source=Source(gfci=True))

    assert [found.gfci_by for found in trace_protection(tree, CODE).outlets] == ["G1", "G2", "G2"]


def test_a_device_may_feed_another_in_its_box() -> None:
    devices = (
        Protector("G", "b0", gfci=True, load_devices=("A",)),
        Protector("A", "b0", afci=True, outlet="o0", load_cables=("c1",)),
    )
    boxes = (TreeBox("b0", metal=True), TreeBox("b1"))
    cables = (TreeCable("c0", SOURCE, "b0", wiring="metal"), TreeCable("c1", "b0", "b1"))
    tree = replace(line(2, needs_gfci=True, needs_afci=True), devices=devices, boxes=boxes, cables=cables)

    assert trace_protection(tree, CODE).lacking == ()


def test_a_fire_alarm_behind_a_gfci_is_pointed_out() -> None:
    tree = replace(line(1, no_gfci=True), source=Source(gfci=True))

    assert trace_protection(tree, CODE).lacking[0].lacks == ("no gfci",)


# --- multiwire circuits

SHARED = ProtectionTree(
    Source(legs=("A", "B"), poles=2),
    (TreeBox("b0"), TreeBox("bA"), TreeBox("bB")),
    (
        TreeCable("c0", SOURCE, "b0", ("A", "B")),
        TreeCable("cA", "b0", "bA", ("A",)),
        TreeCable("cB", "b0", "bB", ("B",)),
    ),
    (TreeOutlet("oA", "bA", needs_gfci=True), TreeOutlet("oB", "bB", legs=("B",), needs_gfci=True)),
)


def test_a_two_pole_breaker_protects_both_legs() -> None:
    tree = replace(SHARED, source=replace(SHARED.source, gfci=True))

    assert trace_protection(tree, CODE).lacking == ()


def test_two_single_pole_protecting_breakers_cannot_share_a_neutral() -> None:
    tree = replace(SHARED, source=replace(SHARED.source, gfci=True, poles=1))

    coverage = trace_protection(tree, CODE)

    assert len(coverage.lacking) == 2
    assert [found.kind for found in coverage.problems] == ["shared neutral"]
    assert "c0" in coverage.problems[0].sentence


def test_a_device_after_the_split_protects_its_leg_only() -> None:
    device = Protector("G", "b0", gfci=True, load_cables=("cA",))

    assert [found.outlet for found in trace_protection(replace(SHARED, devices=(device,)), CODE).lacking] == [
        "oB"
    ]


def test_a_device_before_the_split_would_trip_and_is_said_to() -> None:
    far = TreeBox("b9")
    cables = (
        TreeCable("c9", SOURCE, "b9", ("A", "B")),
        TreeCable("c0", "b9", "b0", ("A", "B")),
        *SHARED.cables[1:],
    )
    device = Protector("G", "b9", gfci=True, load_cables=("c0",))
    tree = replace(SHARED, boxes=(far, *SHARED.boxes), cables=cables, devices=(device,))

    coverage = trace_protection(tree, CODE)

    assert len(coverage.lacking) == 2
    assert ("shared neutral", "b9", "c0", "G") in [
        (p.kind, p.box, p.cable, p.device) for p in coverage.problems
    ]


def test_an_outlet_on_a_leg_that_does_not_reach_it_is_not_fed() -> None:
    tree = replace(SHARED, outlets=(TreeOutlet("o", "bA", legs=("B",)),))

    found = trace_protection(tree, CODE).outlets[0]

    assert (found.fed, found.lacks) == (False, ("feed",))
    assert "leg B" in found.why


def test_a_240_v_outlet_is_protected_only_on_both_legs() -> None:
    both = TreeOutlet("o", "b0", legs=("A", "B"), needs_gfci=True)
    tree = replace(SHARED, outlets=(both,), devices=(Protector("G", "b0", gfci=True, load_outlets=("o",)),))

    coverage = trace_protection(tree, CODE)

    assert coverage.outlets[0].lacks == ("gfci",)
    assert coverage.problems[0].kind == "shared neutral"


# --- AFCI devices stand in for a breaker only by one of the means


def first_box(**changes: Any) -> ProtectionTree:
    """An AFCI receptacle in the first of two boxes, feeding the second; a 14 AWG home run of 40 ft in cable."""
    run = {"wiring": "cable", "awg": "14", "length_ft": Fraction(40)} | changes.pop("run", {})
    box = {"metal": False, "marked_first": True} | changes.pop("box", {})
    device = {"listed_with_breaker": None} | changes.pop("device", {})
    return replace(
        line(2, needs_afci=True),
        boxes=(TreeBox("b0", **box), TreeBox("b1")),
        cables=(TreeCable("c0", SOURCE, "b0", **run), TreeCable("c1", "b0", "b1")),
        devices=(Protector("A", "b0", afci=True, outlet="o0", load_cables=("c1",), **device),),
        **changes,
    )


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("tree", "covered"),
    [
        (first_box(), False),
        (first_box(source=Source(arc="branch/feeder")), True),
        (first_box(source=Source(arc="branch/feeder"), box={"marked_first": False}), False),
        (first_box(source=Source(arc="supplemental")), True),
        (first_box(source=Source(arc="supplemental"), run={"length_ft": Fraction(50)}), True),
        (first_box(source=Source(arc="supplemental"), run={"length_ft": Fraction(501, 10)}), False),
        (first_box(source=Source(arc="supplemental"), run={"awg": "12", "length_ft": Fraction(70)}), True),
        (
            first_box(source=Source(arc="supplemental"), run={"awg": "12", "length_ft": Fraction(701, 10)}),
            False,
        ),
        (first_box(source=Source(arc="supplemental"), run={"awg": "10"}), False),
        (first_box(device={"listed_with_breaker": True}), True),
        (first_box(device={"listed_with_breaker": True}, run={"length_ft": Fraction(51)}), False),
        (first_box(device={"listed_with_breaker": True}, box={"marked_first": False}), False),
        (first_box(run={"wiring": "metal"}, box={"metal": True}), True),
        (first_box(run={"wiring": "metal", "length_ft": Fraction(500)}, box={"metal": True}), True),
        (first_box(run={"wiring": "metal"}), False),
        (first_box(run={"wiring": "concrete"}, box={"metal": True}), True),
        (first_box(run={"wiring": "concrete"}, box={"metal": False}), False),
        (first_box(work_on="extension"), True),
        (first_box(work_on="replacement"), True),
    ],
)
def test_an_afci_device_at_the_first_outlet_needs_one_of_the_means(
    year: int, tree: ProtectionTree, covered: bool
) -> None:
    """Means (A)(1) to (6) as published (LEV14-23, MH-1677, ECM-2011-4); row A039 for extensions."""
    coverage = trace_protection(tree, load_edition(year))

    assert (coverage.lacking == ()) is covered
    assert any(found.kind == "afci means" for found in coverage.problems) is not covered


@pytest.mark.parametrize(
    ("tree", "asks"),
    [
        (first_box(run={"wiring": None}, box={"metal": True}), "the wiring method of cable c0"),
        (first_box(run={"wiring": "metal"}, box={"metal": None}), "whether box b0 is metal"),
        (
            first_box(source=Source(arc="branch/feeder"), box={"marked_first": None}),
            "marked as the first outlet",
        ),
        (first_box(device={"listed_with_breaker": True}, run={"length_ft": None}), "the length of cable c0"),
        (first_box(device={"listed_with_breaker": True}, run={"awg": None}), "the size of cable c0"),
    ],
)
def test_what_is_not_entered_about_the_home_run_is_asked_for(tree: ProtectionTree, asks: str) -> None:
    coverage = trace_protection(tree, CODE)

    assert [found.kind for found in coverage.problems] == ["afci means unknown"]
    assert asks in coverage.problems[0].sentence
    assert len(coverage.lacking) == 2


def test_an_afci_device_past_the_first_outlet_does_not_count() -> None:
    tree = replace(
        line(3, needs_afci=True),
        boxes=tuple(TreeBox(f"b{n}", metal=True) for n in range(3)),
        cables=tuple(
            TreeCable(f"c{n}", f"b{n - 1}" if n else SOURCE, f"b{n}", wiring="metal") for n in range(3)
        ),
        devices=(Protector("A", "b1", afci=True, outlet="o1", load_cables=("c2",)),),
    )

    coverage = trace_protection(tree, CODE)

    assert len(coverage.lacking) == 3
    assert "box b0 holds an outlet ahead" in coverage.problems[0].sentence.lower()


@pytest.mark.parametrize(
    ("kind", "counts"), [("lighting", set(YEARS)), ("receptacle", set()), ("switch", {2017, 2020, 2023})]
)
@pytest.mark.parametrize("year", YEARS)
def test_an_extensions_device_is_at_the_first_receptacle_or_in_2026_switch(
    kind: Any, counts: set[int], year: int
) -> None:
    """ELR26-1855: 2026 adds the switch; a switch ahead of the device then is the place for it."""
    tree = replace(
        line(2, needs_afci=False),
        outlets=(TreeOutlet("o0", "b0", kind), TreeOutlet("o1", "b1", needs_afci=True)),
        devices=(Protector("A", "b1", afci=True, outlet="o1"),),
        work_on="extension",
    )

    assert (trace_protection(tree, load_edition(year)).lacking == ()) is (year in counts)


def test_a_device_out_of_reach_is_pointed_out() -> None:
    device = Protector("G", "b0", gfci=True, outlet="o0", readily_accessible=False)
    coverage = trace_protection(replace(line(1), devices=(device,)), CODE)

    assert [found.kind for found in coverage.problems] == ["not accessible"]


# --- wiring that is wrong: a sentence, never an exception


@pytest.mark.parametrize(
    ("tree", "kind", "words"),
    [
        (replace(line(3), cables=(*line(3).cables, TreeCable("x", "b2", "b0"))), "loop", "closes a circle through b1, b0, b2;"),
        (replace(line(3), cables=(*line(3).cables, TreeCable("x", "b1", "b1"))), "loop", "box b1"),
        (replace(line(3), cables=(*line(3).cables, TreeCable("x", "b1", "b2"))), "loop", "cable x closes a circle through b1, b2;"),
        (replace(line(3), cables=line(3).cables[:2]), "not fed", "box b2"),
        (replace(line(2), cables=()), "no home run", "no cable"),
        (replace(line(2), cables=(*line(2).cables, TreeCable("x", "b1", "gone"))), "loose cable", "cable x ends at gone"),
        (replace(line(2), outlets=(TreeOutlet("o", "gone"),)), "no box", "outlet o"),
        (replace(line(2), devices=(Protector("G", "gone", gfci=True),)), "no box", "device g"),
        (replace(line(2), devices=(Protector("G", "b0", load_cables=("c9",)),)), "load not here", "cable c9"),
        (replace(line(2), devices=(Protector("G", "b0", load_outlets=("o1",)),)), "load not here", "outlet o1"),
        (replace(line(2), devices=(Protector("G", "b0", load_devices=("H",)),)), "load not here", "device h"),
        (replace(line(2), devices=(Protector("G", "b0", load_cables=("c1",)), Protector("H", "b0", load_cables=("c1",)))),
         "two loads", "both g and h"),
        (replace(line(2), devices=(Protector("G", "b1", gfci=True, outlet="o1", load_cables=("c1",)),)), "line and load",
         "fed at its load terminals by cable c1"),
    ],
)  # fmt: skip
def test_odd_wiring_is_named_by_box_and_cable(tree: ProtectionTree, kind: str, words: str) -> None:
    coverage = trace_protection(tree, CODE)

    assert kind in [found.kind for found in coverage.problems]
    sentence = next(found.sentence for found in coverage.problems if found.kind == kind)
    assert words in sentence.lower()


def test_a_device_fed_backwards_protects_nothing_and_the_rest_is_still_followed() -> None:
    device = Protector("G", "b0", gfci=True, outlet="o0", load_cables=("c0",))
    coverage = trace_protection(replace(line(2, needs_gfci=True), devices=(device,)), CODE)

    assert [(found.fed, found.lacks) for found in coverage.outlets] == [(True, ("gfci",))] * 2


def test_a_way_around_the_device_takes_its_protection_away() -> None:
    device = Protector("G", "b0", gfci=True, outlet="o0", load_cables=("c1",))
    tree = replace(line(3, needs_gfci=True), devices=(device,))
    around = replace(tree, cables=(*tree.cables, TreeCable("x", "b0", "b2")))

    assert of(trace_protection(tree, CODE), "o2").gfci_by == "G"
    assert of(trace_protection(around, CODE), "o2").gfci_by is None


def test_the_work_has_a_line_for_every_outlet_and_problem() -> None:
    work = Work()

    coverage = trace_protection(replace(line(3), cables=line(3).cables[:2]), CODE, work)

    assert len(work.steps) == len(coverage.outlets) + len(coverage.problems)


# --- against networkx


def check_against_networkx(tree: ProtectionTree) -> None:
    coverage = trace_protection(tree, CODE)
    barred = {found.device for found in coverage.problems if found.kind.startswith("afci means")}
    counted = replace(
        tree, devices=tuple(replace(d, afci=d.afci and d.id not in barred) for d in tree.devices)
    )
    for outlet, found in zip(tree.outlets, coverage.outlets, strict=True):
        (leg,) = outlet.legs
        whole, seats = graph_of(counted, leg, "nothing")
        fed = reaches(whole, seats[outlet.id])
        assert found.fed is fed, outlet
        for what, by in (("gfci", found.gfci_by), ("afci", found.afci_by)):
            from_breaker = tree.source.gfci if what == "gfci" else tree.source.arc == "combination"
            bare, _ = graph_of(counted, leg, what)
            assert (by is not None) is (fed and (from_breaker or not reaches(bare, seats[outlet.id]))), (
                outlet,
                what,
            )


@settings(max_examples=300, deadline=None)
@given(tree=circuits(10))
def test_coverage_of_a_random_tree_is_what_networkx_reaches(tree: ProtectionTree) -> None:
    check_against_networkx(tree)


@settings(max_examples=200, deadline=None)
@given(tree=circuits(8, two_legs=True))
def test_coverage_of_a_random_multiwire_tree_is_what_networkx_reaches(tree: ProtectionTree) -> None:
    check_against_networkx(tree)


@settings(max_examples=300, deadline=None)
@given(tree=circuits(7, tangled=True))
def test_coverage_of_a_tangle_is_what_networkx_reaches(tree: ProtectionTree) -> None:
    """Loops, missing and loose cables. Devices fed backwards are left to the tests by hand: their line side is fed
    through them, which a one-way graph does not say."""
    coverage = trace_protection(tree, CODE)
    if any(found.kind == "line and load" for found in coverage.problems):
        assert all(found.why.endswith(".") for found in coverage.outlets)
        return
    check_against_networkx(tree)


@settings(max_examples=200, deadline=None)
@given(tree=circuits(6, tangled=True, two_legs=True), data=st.data())
def test_no_wiring_raises(tree: ProtectionTree, data: st.DataObject) -> None:
    """Names mixed up at random: every outlet still gets its line."""
    names = [SOURCE, "", "b0", "b1", "nowhere", "o0.0", "c0"]
    draw = lambda: data.draw(st.sampled_from(names))  # noqa: E731
    mixed = replace(
        tree,
        cables=(*tree.cables, TreeCable("c0", draw(), draw()), TreeCable("y", draw(), draw(), ("B", "C"))),
        devices=(
            *tree.devices,
            Protector("d0.0", draw(), True, True, "A", draw(), (draw(),), (draw(),), (draw(),)),
        ),
        outlets=(*tree.outlets, TreeOutlet("z", draw(), legs=("A", "Z"))),
    )

    coverage = trace_protection(mixed, CODE)

    assert len(coverage.outlets) == len(mixed.outlets)
    assert all(found.sentence.endswith(".") for found in coverage.problems)
