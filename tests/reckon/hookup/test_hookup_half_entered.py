"""Whatever is entered, there is an answer: a plan that works, or sentences that name what to look at."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import load_edition
from server.reckon.hookup import (
    Cable,
    Device,
    Half,
    Kind,
    NeutralRule,
    Node,
    SwitchWays,
    Wiring,
    faults_of,
    prove,
    solve_hookup,
)

CODE = load_edition(2023)
IDS = st.sampled_from(["A", "B", "C", "D", "P"])
NAMES = st.sampled_from(["S1", "S2", "L1", "R1", "G1", "X"])


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.one_of(st.none(), st.none(), strategy)


WIRINGS = st.builds(
    Wiring,
    nodes=st.lists(
        st.builds(Node, IDS, st.booleans(), st.sampled_from([1, 1, 2])), max_size=5, unique_by=lambda n: n.id
    ).map(tuple),
    cables=st.lists(
        st.builds(
            Cable,
            st.sampled_from(["c1", "c2", "c3", "c4", "c5"]),
            IDS,
            IDS,
            st.integers(0, 7),
            st.sampled_from(["nm-b", "raceway"]),
            colors=st.sampled_from([(), (), ("black", "white"), ("black", "black"), ("white", "gray")]),
        ),
        max_size=5,
    ).map(tuple),
    devices=st.lists(
        st.builds(
            Device,
            NAMES,
            IDS,
            st.sampled_from(Kind),
            controls=st.lists(NAMES, max_size=2, unique=True).map(tuple),
            halves=st.lists(st.tuples(NAMES, st.sampled_from(Half)), max_size=1).map(tuple),
            ways=maybe(st.sampled_from(SwitchWays)),
            split=maybe(st.sampled_from(Half)),
            protects=st.lists(NAMES, max_size=2, unique=True).map(tuple),
            needs_neutral=st.booleans(),
            source=maybe(IDS),
            leg=maybe(st.sampled_from([1, 2, 3])),
            second_leg=maybe(st.sampled_from([1, 2])),
        ),
        max_size=5,
    ).map(tuple),
    neutral_rule=st.sampled_from(NeutralRule),
    neutral_exempt=st.frozensets(IDS, max_size=2),
    neutral_required=st.frozensets(IDS, max_size=1),
)


@st.composite
def whole_references(draw: st.DrawFn) -> Wiring:
    """Facts whose references all lead somewhere, and which are odd all the same."""
    nodes = [Node("P", is_source=True, legs=draw(st.sampled_from([1, 1, 2])))]
    nodes += [Node(box, is_source=draw(st.integers(0, 5)) == 0) for box in "ABCD"[: draw(st.integers(1, 4))]]
    at = st.sampled_from([node.id for node in nodes])
    cables = [
        Cable(f"c{number}", draw(at), draw(at), draw(st.integers(1, 6)))
        for number in range(draw(st.integers(0, len(nodes) + 1)))
    ]
    kinds = draw(st.lists(st.sampled_from([k for k in Kind if k is not Kind.SWITCH]), min_size=1, max_size=4))
    loads = [Device(f"L{number}", draw(at), kind) for number, kind in enumerate(kinds)]
    names = st.sampled_from([load.id for load in loads])
    devices = []
    for load in loads:
        if load.kind is Kind.GFCI:
            protects = (
                draw(st.lists(names.filter(lambda n, own=load.id: n != own), max_size=2, unique=True))
                if len(loads) > 1
                else []
            )
            load = Device(load.id, load.node, load.kind, protects=tuple(protects))
        elif load.kind is Kind.RECEPTACLE:
            load = Device(load.id, load.node, load.kind, split=draw(maybe(st.sampled_from(Half))))
        devices.append(load)
    for number in range(draw(st.integers(0, 3))):
        controls = draw(st.lists(names, max_size=2, unique=True))
        devices.append(
            Device(
                f"S{number}",
                draw(at),
                Kind.SWITCH,
                tuple(controls),
                ways=draw(maybe(st.sampled_from(SwitchWays))),
                leg=draw(maybe(st.sampled_from([1, 2]))),
            )
        )
    return Wiring(tuple(nodes), tuple(cables), tuple(devices), draw(st.sampled_from(NeutralRule)))


def check_answer(wiring: Wiring) -> None:
    found = solve_hookup(wiring, CODE)

    if found.possible:
        assert found.plan is not None
        assert prove(wiring, found.plan, lambda color: color.startswith(("white", "gray"))).complaints == ()
        assert found.why == ""
    else:
        assert found.plan is None
        assert found.why.endswith(".")
        assert "own trial" not in found.why
        assert "\0" not in found.why


@settings(max_examples=400, deadline=None)
@given(WIRINGS)
def test_any_facts_at_all_get_an_answer(wiring: Wiring) -> None:
    check_answer(wiring)


@settings(max_examples=400, deadline=None)
@given(whole_references())
def test_odd_wiring_whose_references_are_whole_gets_an_answer(wiring: Wiring) -> None:
    assert faults_of(wiring) == []

    check_answer(wiring)


@pytest.mark.parametrize(
    ("wiring", "place", "came"),
    [
        (Wiring((Node("A"), Node("A"))), ("nodes", 1, "id"), "A"),
        (Wiring((Node("A", legs=2),)), ("nodes", 0, "legs"), 2),
        (Wiring((Node("A"),), (Cable("c", "A", "B"),)), ("cables", 0, "b"), "B"),
        (Wiring((Node("A"), Node("B")), (Cable("c", "A", "B", 0),)), ("cables", 0, "insulated"), 0),
        (
            Wiring((Node("A"), Node("B")), (Cable("c", "A", "B", 3, colors=("black", "white")),)),
            ("cables", 0, "colors"),
            ("black", "white"),
        ),
        (Wiring((Node("A"),), (), (Device("L", "B", Kind.LOAD),)), ("devices", 0, "node"), "B"),
        (Wiring((Node("A", True),), (), (Device("A", "A", Kind.LOAD),)), ("devices", 0, "id"), "A"),
        (
            Wiring((Node("A"),), (), (Device("S", "A", Kind.SWITCH, ("L",)),)),
            ("devices", 0, "controls", 0),
            "L",
        ),
        (
            Wiring((Node("A"),), (), (Device("S", "A", Kind.SWITCH, ("S",)),)),
            ("devices", 0, "controls", 0),
            "S",
        ),
        (
            Wiring((Node("A"),), (), (Device("L", "A", Kind.LOAD, ("L",)),)),
            ("devices", 0, "controls"),
            ("L",),
        ),
        (
            Wiring((Node("A"),), (), (Device("L", "A", Kind.LOAD, protects=("X",)),)),
            ("devices", 0, "protects"),
            ("X",),
        ),
        (
            Wiring((Node("A"),), (), (Device("L", "A", Kind.LOAD, split=Half.TOP),)),
            ("devices", 0, "split"),
            "top",
        ),
        (Wiring((Node("A"),), (), (Device("L", "A", Kind.LOAD, source="A"),)), ("devices", 0, "source"), "A"),
        (Wiring((Node("A"),), (), (Device("L", "A", Kind.LOAD, leg=3),)), ("devices", 0, "leg"), 3),
        (Wiring((Node("A"),), neutral_exempt=frozenset({"B"})), ("neutral_at_switch",), "B"),
    ],
)
def test_a_reference_that_leads_nowhere_is_named_with_its_place(
    wiring: Wiring, place: tuple[str | int, ...], came: object
) -> None:
    faults = [(fault.place, fault.came) for fault in faults_of(wiring)]

    assert (place, came) in faults
    assert ".".join(map(str, place)) in solve_hookup(wiring, CODE).why


def test_more_locations_than_are_reckoned_are_said_so() -> None:
    switches = tuple(Device(f"S{n}", "A", Kind.SWITCH, ("L",)) for n in range(11))
    wiring = Wiring(
        (Node("P", True), Node("A")), (Cable("c", "P", "A"),), (Device("L", "A", Kind.LUMINAIRE), *switches)
    )

    assert "more than 10 locations" in solve_hookup(wiring, CODE).why


def test_rings_past_counting_are_said_so() -> None:
    boxes = [Node(f"B{n}") for n in range(9)]
    cables = [Cable("p", "P", "B0")]
    cables += [Cable(f"c{a}-{b}", f"B{a}", f"B{b}") for a in range(9) for b in range(a + 1, 9)]
    devices = [Device(f"R{n}", f"B{n}", Kind.RECEPTACLE) for n in range(9)]

    why = solve_hookup(Wiring((Node("P", True), *boxes), tuple(cables), tuple(devices)), CODE).why

    assert "close a ring through" in why
    assert "leave out cables that are not needed" in why
