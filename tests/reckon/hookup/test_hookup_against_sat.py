"""Nothing is missed: a SAT solver over every way of joining ends finds a hookup exactly where we do, and no better one."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings

from tests.published_examples import asked
from tests.reckon.hookup.catalogue import CIRCUITS, request_of
from tests.reckon.hookup.circuit_graph import complaints
from tests.reckon.hookup.every_hookup import Undecided, exists, fewest_added, size_of
from tests.reckon.hookup.random_circuits import circuits

Json = dict[str, Any]
MOST_CLAUSES = 20_000
"""What is decided in a few seconds; larger circuits were compared once, in a run of some hours."""


def in_plain_terms(circuit: Json) -> Json:
    """A circuit of the catalogue as the solver understands it: the boxes that need no neutral said one by one."""
    request = request_of(circuit)
    switches = [device for device in request["devices"] if device["kind"] == "switch"]
    if "neutral_at_switch" not in request:
        kinds = {device["id"]: device["kind"] for device in request["devices"]}
        lighting = {
            s["node"] for s in switches if any(kinds[x] in ("luminaire", "load") for x in s["controls"])
        }
        request["neutral_at_switch"] = sorted({switch["node"] for switch in switches} - lighting)
    return request


SMALL = [circuit for circuit in CIRCUITS if circuit.get("by_solver")]


def usual(result: Json) -> bool:
    """Whether no group is wired the uncommon way."""
    return not any("Ask the inspector" in note for note in result["notes"])


def better_than(request: Json, result: Json) -> list[str]:
    """In what some other hookup is better, by the order in which ours are compared."""
    splices, bands, conductors = (result[name] for name in ("splices", "reidentified", "conductors"))
    common = usual(result)
    if not common and exists(request, usual=True):
        return ["usual"]
    if exists(request, usual=common, splices=splices - 1):
        return ["splices"]
    if exists(request, usual=common, splices=splices, reidentified=bands - 1):
        return ["reidentified"]
    if exists(request, usual=common, splices=splices, reidentified=bands, conductors=conductors - 1):
        return ["conductors"]
    return []


@pytest.mark.parametrize("circuit", SMALL, ids=lambda circuit: circuit["id"])
def test_a_circuit_has_a_hookup_exactly_where_the_solver_finds_one_and_none_is_better(circuit: Json) -> None:
    request = in_plain_terms(circuit)

    result = asked("hookup", request)

    assert exists(request) == result["possible"] == circuit.get("possible", True)
    if result["possible"]:
        assert better_than(request, result) == []


def test_how_many_circuits_the_solver_decides() -> None:
    possible = sum(circuit.get("possible", True) for circuit in SMALL)

    assert (possible, len(SMALL) - possible) == (36, 14)


@pytest.mark.parametrize(
    ("insulated", "possible", "usual_way"), [(3, False, False), (4, True, False), (5, True, True)]
)
def test_hot_and_switched_hot_at_both_ends_fit_four_wires_only_with_the_commons_linked(
    insulated: int, possible: bool, usual_way: bool
) -> None:
    """Two boxes with a three-way and a light each, and a live receptacle in the far one."""
    request = {
        "nodes": [{"id": "P", "kind": "source"}, {"id": "A", "kind": "box"}, {"id": "B", "kind": "box"}],
        "cables": [
            {"id": "c0", "a": "P", "b": "A", "insulated": 2},
            {"id": "c1", "a": "A", "b": "B", "insulated": insulated},
        ],
        "devices": [
            {"id": "S1", "node": "A", "kind": "switch", "controls": ["L1", "L2"]},
            {"id": "S2", "node": "B", "kind": "switch", "controls": ["L1", "L2"]},
            {"id": "L1", "node": "A", "kind": "luminaire"},
            {"id": "L2", "node": "B", "kind": "luminaire"},
            {"id": "R1", "node": "B", "kind": "receptacle"},
        ],
        "neutral_at_switch": "required",
    }

    result = asked("hookup", request)

    assert (result["possible"], exists(request), exists(request, usual=True)) == (
        possible,
        possible,
        usual_way,
    )
    if possible:
        assert usual(result) is usual_way


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(circuits(most_boxes=3, most_switches=2))
def test_a_random_circuit_has_a_hookup_exactly_where_the_solver_finds_one(request_: Json) -> None:
    assume(size_of(request_) <= MOST_CLAUSES)

    result = asked("hookup", request_)

    try:
        assert exists(request_) == result["possible"], result["why"]
        if result["possible"]:
            assert complaints(request_, result) == []
            assert better_than(request_, result) == []
    except Undecided:
        assume(False)


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(circuits(most_boxes=2, most_switches=2))
def test_no_cheaper_cables_would_do(request_: Json) -> None:
    result = asked("hookup", request_)
    assume(result["short"])
    assume(size_of(request_) <= MOST_CLAUSES // 2)
    added = sum(need["insulated"] - need["has"] for need in result["cheapest"])
    assume(added <= 2)

    try:
        assert fewest_added(request_, added) == added
    except Undecided:
        assume(False)


# ---- how two switches can turn one load at all -----------------------------------------------------------------------


def partitions(count: int) -> list[list[int]]:
    """Every way of joining some things in sets: a set number for each."""
    found: list[list[int]] = [[]]
    for _ in range(count):
        found = [[*labels, label] for labels in found for label in range(max(labels, default=-1) + 2)]
    return found


def test_two_three_ways_turn_a_load_as_a_line_or_as_a_ring_and_in_no_other_way() -> None:
    """Hot, load and the six screws of two three-way switches joined in each of the 4140 ways: those where each switch
    turns the load are either a line (hot on one common, load on the other) or a ring (the commons joined)."""
    hot, load, com_1, com_2 = 0, 1, 2, 5
    lines = rings = others = 0
    for labels in partitions(8):

        def lit(positions: tuple[int, ...], labels: list[int] = labels) -> bool:
            own = {label: {label} for label in labels}
            for common, position in zip((com_1, com_2), positions, strict=True):
                merged = own[labels[common]] | own[labels[common + 1 + position]]
                for label in merged:
                    own[label] = merged
            return labels[load] in own[labels[hot]]

        states = {positions: lit(positions) for positions in product((0, 1), repeat=2)}
        if all(states[p] == (states[0, 0] ^ (sum(p) % 2 == 1)) for p in states):
            commons = {labels[com_1], labels[com_2]}
            if commons == {labels[hot], labels[load]}:
                lines += 1
            elif len(commons) == 1:
                rings += 1
            else:
                others += 1

    assert (lines, rings, others) == (4, 4, 0)
