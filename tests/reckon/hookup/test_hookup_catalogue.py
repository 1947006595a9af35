"""The catalogue: every circuit comes out as counted by hand, every plan passes the second opinion."""

from __future__ import annotations

from typing import Any

import pytest

from tests.published_examples import asked
from tests.reckon.hookup.catalogue import CIRCUITS, request_of
from tests.reckon.hookup.circuit_graph import complaints

POSSIBLE = [circuit for circuit in CIRCUITS if circuit.get("possible", True)]
IMPOSSIBLE = [circuit for circuit in CIRCUITS if not circuit.get("possible", True)]
SHORT = [circuit for circuit in IMPOSSIBLE if circuit["wires"]]
EDITIONS = ("2017", "2020", "2023", "2026")


def named(circuit: dict[str, Any]) -> str:
    return str(circuit["id"])


def used_by_cable(result: dict[str, Any]) -> dict[str, int]:
    return {
        cable["id"]: sum(conductor["signal"] is not None for conductor in cable["conductors"])
        for cable in result["plan"]["cables"]
    }


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("circuit", POSSIBLE, ids=named)
def test_a_plan_works_in_every_position_of_the_switches(circuit: dict[str, Any], edition: str) -> None:
    request = request_of(circuit)

    result = asked("hookup", request, edition)

    assert result["possible"], result["why"]
    assert complaints(request, result) == []


@pytest.mark.parametrize("circuit", POSSIBLE, ids=named)
def test_a_plan_takes_what_was_counted_by_hand(circuit: dict[str, Any]) -> None:
    result = asked("hookup", request_of(circuit))

    used = used_by_cable(result)
    assert {cable: used[cable] for cable in circuit["wires"]} == circuit["wires"]
    for count in ("splices", "reidentified"):
        if count in circuit:
            assert (count, result[count]) == (count, circuit[count])
    assert circuit.get("says", "") in " ".join(result["notes"])


@pytest.mark.parametrize("circuit", IMPOSSIBLE, ids=named)
def test_an_impossible_circuit_gets_its_sentence_and_what_each_short_cable_needs(
    circuit: dict[str, Any],
) -> None:
    result = asked("hookup", request_of(circuit))

    assert not result["possible"]
    assert result["plan"] is None
    assert {short["cable"]: short["needs"] for short in result["short"]} == circuit["wires"]
    assert result["why"].endswith(".")
    assert circuit.get("says", "") in result["why"]


@pytest.mark.parametrize("circuit", SHORT, ids=named)
def test_the_cheapest_cables_carry_a_plan(circuit: dict[str, Any]) -> None:
    request = request_of(circuit)
    cheapest = {need["cable"]: need["insulated"] for need in asked("hookup", request)["cheapest"]}

    for cable in request["cables"]:
        cable["insulated"] = cheapest[cable["id"]]
    result = asked("hookup", request)

    assert result["possible"], result["why"]
    assert complaints(request, result) == []


def test_the_catalogue_is_as_large_as_it_is_said_to_be() -> None:
    assert len({circuit["id"] for circuit in CIRCUITS}) == len(CIRCUITS) >= 60
    assert (len(POSSIBLE), len(SHORT), len(IMPOSSIBLE) - len(SHORT)) == (84, 23, 16)
