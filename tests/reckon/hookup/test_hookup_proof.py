"""The proof is worth something: plans that were spoilt do not pass it, and it agrees with the second opinion."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.api.sheets.hookup import HookupRequest, wiring_of
from server.editions import load_edition
from server.reckon.hookup import CableEnd, End, Hookup, Join, Plan, Wiring, prove, solve_hookup
from tests.published_examples import asked
from tests.reckon.hookup.catalogue import CIRCUITS, request_of
from tests.reckon.hookup.circuit_graph import complaints

Json = dict[str, Any]
CODE = load_edition(2023)
POSSIBLE = {circuit["id"]: circuit for circuit in CIRCUITS if circuit.get("possible", True)}
PAIR = "two locations, light between, feed at a switch, no neutral asked for"
LOOP = "one switch, feed at the light, two-wire loop where no neutral is asked for"
GFCI = "line side goes on to a switch and light, load side to a receptacle"
TWO_CIRCUITS = "two circuits in one box, said which is which"


def is_grounded(color: str) -> bool:
    return color in ("white", "gray") or color.startswith("white")


def solved(name: str) -> tuple[Wiring, Plan]:
    wiring = wiring_of(HookupRequest.model_validate(request_of(POSSIBLE[name])))
    found = solve_hookup(wiring, CODE)
    assert found.plan is not None
    return wiring, found.plan


def with_swapped(plan: Plan, node: str, one: End, other: End) -> Plan:
    """The plan with two ends of a box in each other's place."""
    swap = {one: other, other: one}
    boxes = [
        replace(
            box, joins=tuple(Join(tuple(swap.get(end, end) for end in j.ends), j.signal) for j in box.joins)
        )
        if box.node == node
        else box
        for box in plan.boxes
    ]
    return replace(plan, boxes=tuple(boxes))


def ends_in(plan: Plan, node: str) -> list[End]:
    return [end for box in plan.boxes if box.node == node for join in box.joins for end in join.ends]


def joined(plan: Plan, node: str, numbers: tuple[int, int]) -> Plan:
    """The plan with two joins of a box made one."""
    boxes = []
    for box in plan.boxes:
        if box.node == node:
            both = Join((*box.joins[numbers[0]].ends, *box.joins[numbers[1]].ends), "both")
            rest = tuple(join for at, join in enumerate(box.joins) if at not in numbers)
            box = replace(box, joins=(*rest, both))
        boxes.append(box)
    return replace(plan, boxes=tuple(boxes))


@pytest.mark.parametrize("name", POSSIBLE)
def test_the_plans_of_the_catalogue_pass(name: str) -> None:
    wiring, plan = solved(name)

    assert prove(wiring, plan, is_grounded).complaints == ()


@pytest.mark.parametrize(
    ("name", "node", "colors", "says"),
    [
        (PAIR, "A", (("c0", "black"), ("c0", "white")), "switches a neutral"),
        (PAIR, "L", (("c1", "black"), ("c1", "white")), "L1 has no neutral"),
        (LOOP, "L", (("c1", "white"), ("c1", "black")), "white of c1 returns from a switch to its outlet"),
        (TWO_CIRCUITS, "A", (("c0", "white"), ("c1", "white")), "another circuit's neutral"),
        (GFCI, "G", (("c1", "white"), ("c2", "white")), "R1 stays live when G1 opens"),
        (GFCI, "G", (("c0", "black"), ("c1", "black")), "L1 goes dead when G1 opens"),
    ],
)
def test_two_conductors_in_each_others_place_are_noticed(
    name: str, node: str, colors: tuple[tuple[str, str], tuple[str, str]], says: str
) -> None:
    wiring, plan = solved(name)

    spoilt = with_swapped(plan, node, CableEnd(*colors[0]), CableEnd(*colors[1]))

    assert says in " / ".join(prove(wiring, spoilt, is_grounded).complaints)


def test_a_white_without_its_band_is_noticed() -> None:
    wiring, plan = solved(LOOP)
    bare = [
        replace(c, conductors=tuple(replace(x, reidentified_as=None) for x in c.conductors))
        for c in plan.cables
    ]

    found = prove(wiring, replace(plan, cables=tuple(bare)), is_grounded).complaints

    assert found == ("white of c1 is not a neutral and not re-identified",)


def test_hot_and_neutral_joined_are_noticed() -> None:
    wiring, plan = solved(LOOP)
    signals = [join.signal for box in plan.boxes if box.node == "L" for join in box.joins]
    numbers = (signals.index("neutral"), signals.index("hot"))

    found = prove(wiring, joined(plan, "L", numbers), is_grounded).complaints

    assert any("hot and neutral meet" in sentence for sentence in found)


def test_a_load_that_one_of_its_switches_does_not_turn_is_noticed() -> None:
    wiring, plan = solved("two locations, feed at one, light at the other")
    at = [join.signal for box in plan.boxes if box.node == "B" for join in box.joins]
    travelers = [number for number, signal in enumerate(at) if signal.startswith("traveler")]

    found = prove(wiring, joined(plan, "B", (travelers[0], travelers[1])), is_grounded).complaints

    assert any("L1 is" in sentence and "where it should not be" in sentence for sentence in found)


def test_neutrals_joined_over_two_cables_side_by_side_are_noticed() -> None:
    """Two cables from switch to light, their neutrals joined at both ends: half of each current goes astray."""
    wiring, plan = solved("light and live receptacle beyond a switch on two two-wire cables side by side")
    neutrals = [
        at
        for box in plan.boxes
        if box.node == "L"
        for at, join in enumerate(box.joins)
        if join.signal == "neutral"
    ]
    assert len(neutrals) == 2

    found = prove(wiring, joined(plan, "L", (neutrals[0], neutrals[1])), is_grounded).complaints

    assert any("does not come back through the cables" in sentence for sentence in found)


@settings(max_examples=250, deadline=None)
@given(st.sampled_from(sorted(POSSIBLE)), st.integers(0, 10**9), st.booleans())
def test_a_spoilt_plan_is_noticed_exactly_where_the_second_opinion_notices_it(
    name: str, seed: int, swap: bool
) -> None:
    request = request_of(POSSIBLE[name])
    wiring, plan = solved(name)
    choose = random.Random(seed)
    nodes = [box.node for box in plan.boxes if len(box.joins) > 1]
    if not nodes:
        return
    node = choose.choice(nodes)
    if swap:
        one, other = choose.sample(ends_in(plan, node), 2)
        spoilt = with_swapped(plan, node, one, other)
    else:
        count = next(len(box.joins) for box in plan.boxes if box.node == node)
        first, second = choose.sample(range(count), 2)
        spoilt = joined(plan, node, (first, second))

    ours = prove(wiring, spoilt, is_grounded).complaints
    others = physical(complaints(request, as_json(request, spoilt, asked("hookup", request))))

    assert bool(ours) == bool(others), (ours, others)


def physical(found: list[str]) -> list[str]:
    """Complaints about how things are connected, not about what the answer says of them; where a neutral is kept is
    no matter of the proof, and a loop of conductors is noticed there by what it does."""
    words = ("counted", "truth says", "no row of truth", "no neutral at", "signal", "in a loop")
    return [sentence for sentence in found if not any(word in sentence for word in words)]


def as_json(request: Json, plan: Plan, result: Json) -> Json:
    """A plan in the words of the sheet."""
    from server.api.sheets.hookup import _shown

    shown = _shown(Hookup(True, plan=plan)).model_dump(mode="json")
    return {**result, "plan": shown["plan"]}
