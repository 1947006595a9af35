"""Rings of cables, and several sources: as good as any tree that lies in them, as good as any way of sharing."""

from __future__ import annotations

import copy
from itertools import product
from typing import Any

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.published_examples import asked
from tests.reckon.hookup.circuit_graph import complaints
from tests.reckon.hookup.random_circuits import circuits

Json = dict[str, Any]
COSTS = ("splices", "reidentified", "conductors")


def cost(result: Json) -> tuple[int, ...]:
    """What a hookup costs, in the order in which they are compared."""
    uncommon = sum("Ask the inspector" in note for note in result["notes"])
    idle = sum("feeds nothing" in note for note in result["notes"])
    return (uncommon, idle, *(result[name] for name in COSTS))


def widened(request: Json) -> Json:
    """The circuit with the cheapest cables that carry it; cables that do already are left."""
    result = asked("hookup", request)
    needs = {need["cable"]: need["insulated"] for need in result["cheapest"]}
    found = copy.deepcopy(request)
    for cable in found["cables"]:
        cable["insulated"] = needs.get(cable["id"], cable["insulated"])
    return found


def merged(request: Json, keep: str, drop: str) -> Json:
    """The circuit with two boxes made one."""
    found = copy.deepcopy(request)
    found["nodes"] = [node for node in found["nodes"] if node["id"] != drop]
    for cable in found["cables"]:
        for end in ("a", "b"):
            if cable[end] == drop:
                cable[end] = keep
    for device in found["devices"]:
        if device["node"] == drop:
            device["node"] = keep
    if isinstance(found["neutral_at_switch"], list):
        # A box made of two needs a neutral if either did: it is exempt only if both were.
        listed = set(found["neutral_at_switch"])
        found["neutral_at_switch"] = sorted(
            (listed - {keep, drop}) | ({keep} if {keep, drop} <= listed else set())
        )
    return found


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(circuits(most_boxes=5, most_switches=3), st.data())
def test_a_ring_is_as_good_as_every_tree_that_it_opens_into(request_: Json, data: st.DataObject) -> None:
    """Two boxes of a tree that are made one close a ring; whatever could be hooked up before still can."""
    request_ = widened(request_)
    before = asked("hookup", request_)
    assume(before["possible"])
    boxes = [node["id"] for node in request_["nodes"] if node["kind"] == "box"]
    keep, drop = data.draw(st.lists(st.sampled_from(boxes), min_size=2, max_size=2, unique=True))
    ringed = merged(request_, keep, drop)
    assume(all(cable["a"] != cable["b"] for cable in ringed["cables"]))

    result = asked("hookup", ringed)

    assert result["possible"], result["why"]
    assert complaints(ringed, result) == []
    neutral_moved = isinstance(request_["neutral_at_switch"], list) and {keep, drop} & set(
        request_["neutral_at_switch"]
    )
    if not neutral_moved:
        # A splice in each of two boxes may become one, never more; conductors stay.
        assert cost(result) <= cost(before)


@settings(max_examples=80, deadline=None)
@given(circuits(most_boxes=3, most_switches=2), st.data())
def test_a_second_cable_beside_one_never_takes_a_hookup_away(request_: Json, data: st.DataObject) -> None:
    before = asked("hookup", request_)
    doubled = copy.deepcopy(request_)
    beside = data.draw(st.sampled_from(doubled["cables"]))
    doubled["cables"].append({**beside, "id": "beside", "insulated": data.draw(st.sampled_from([2, 3]))})

    result = asked("hookup", doubled)

    assert result["possible"] >= before["possible"]
    if result["possible"]:
        assert complaints(doubled, result) == []
    if before["possible"]:
        assert cost(result) <= cost(before)


@st.composite
def with_two_sources(draw: st.DrawFn) -> Json:
    """A random circuit with a second source."""
    request = draw(circuits(most_boxes=4, most_switches=2))
    boxes = [node["id"] for node in request["nodes"] if node["kind"] == "box"]
    request["nodes"].append({"id": "Q", "kind": "source"})
    request["cables"].append({"id": "cq", "a": "Q", "b": draw(st.sampled_from(boxes)), "insulated": 2})
    for cable in request["cables"]:
        if draw(st.integers(0, 5)) == 0:
            cable["insulated"] = 6
    return request


@settings(max_examples=100, deadline=None)
@given(with_two_sources())
def test_sources_are_shared_out_as_well_as_by_trying_every_way(request_: Json) -> None:
    """Every device is told its source in every way; the best of these is what comes out where nothing is told."""
    result = asked("hookup", request_)
    names = [device["id"] for device in request_["devices"]]
    assume(len(names) <= 6)

    possible = []
    added = []
    for chosen in product("PQ", repeat=len(names)):
        told = copy.deepcopy(request_)
        for device, source in zip(told["devices"], chosen, strict=True):
            device["source"] = source
        found = asked("hookup", told)
        if found["possible"]:
            possible.append(cost(found))
        elif found["short"]:
            added.append(sum(need["insulated"] - need["has"] for need in found["cheapest"]))

    assert result["possible"] == bool(possible), result["why"]
    if possible:
        assert cost(result) == min(possible)
        assert complaints(request_, result) == []
    elif added:
        assert sum(need["insulated"] - need["has"] for need in result["cheapest"]) == min(added)
