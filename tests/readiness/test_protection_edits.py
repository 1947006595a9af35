"""The cheapest cure as changes of facts: entered, the circuit's outlets lack nothing any more."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.dwelling import Breaker, Device, Dwelling, Facts
from server.editions import load_edition
from server.readiness.protection_edits import ProtectionEdits, protection_edits
from server.rules.protection_tree import protection

ROOMS = ("kitchen", "bathroom", "bedroom", "garage", "laundry", "living room", "closet")


def entered(facts: Facts, edits: ProtectionEdits) -> Dwelling:
    """The house with the changes in it."""
    values = {(kind, each): dict(more) for kind, each, more in edits.change}
    return Dwelling(
        replace(
            facts,
            devices=(
                *(replace(device, **values.get(("device", device.id), {})) for device in facts.devices),
                *edits.add,
            ),
            circuits=tuple(
                replace(circuit, **values.get(("circuit", circuit.id), {})) for circuit in facts.circuits
            ),
        )
    )


def lacking(house: Dwelling, circuit_id: str, edition: int) -> list[str]:
    found = house.derive(protection, load_edition(edition)).by_circuit[circuit_id]
    return [outlet.outlet for outlet in found.coverage.outlets if outlet.lacks]


@st.composite
def circuits(draw: st.DrawFn) -> tuple[Facts, str]:
    """A circuit through up to seven boxes of up to three rooms, as a tree; breaker and devices as drawn."""
    house = HouseBuilder()
    kinds = draw(st.lists(st.sampled_from(ROOMS), min_size=1, max_size=3))
    rooms = [house.room(kind, f"Room {n}", length_in=144, width_in=120) for n, kind in enumerate(kinds)]
    panel = house.panel("Panel A", room_id=rooms[0])
    rating = draw(st.sampled_from([15, 20]))
    circuit = house.circuit(
        panel, "Drawn", rating_a=rating, conductor_awg="12", breaker=draw(st.sampled_from(list(Breaker)))
    )
    ends = [panel]
    for n in range(draw(st.integers(1, 7))):
        box = house.box(draw(st.sampled_from(rooms)), label=f"R{n}", wall=1, at_in=6 * n, height_in=18)
        house.receptacle(box, gfci=draw(st.sampled_from([False, False, True])), dedicated=False)
        house.cable(draw(st.sampled_from(ends)), box, circuit, awg="12")
        ends.append(box)
    return house.facts(), circuit


@given(circuits(), st.sampled_from([2017, 2020, 2023, 2026]))
@settings(max_examples=150)
def test_entered_it_leaves_nothing_lacking(drawn: tuple[Facts, str], edition: int) -> None:
    facts, circuit = drawn
    house = Dwelling(facts)

    edits = protection_edits(circuit, house, load_edition(edition))

    if edits is None:
        return
    assert lacking(house, circuit, edition)
    after = entered(facts, edits)
    assert not lacking(after, circuit, edition)
    assert protection_edits(circuit, after, load_edition(edition)) is None


def bathroom(*, box_gfci: bool = False) -> tuple[HouseBuilder, str]:
    house = HouseBuilder()
    room = house.room("bathroom", "Hall bath", length_in=108, width_in=60)
    panel = house.panel("Panel A", room_id=room)
    circuit = house.circuit(panel, "Bath", rating_a=20, conductor_awg="12")
    boxes = [house.box(room, label=f"R{n}", wall=1, at_in=20 * n, height_in=40) for n in (1, 2)]
    for n, box in enumerate(boxes):
        house.receptacle(box, gfci=box_gfci and n == 0)
    house.home_run(circuit, *boxes)
    return house, circuit


def test_a_bathroom_gets_one_device_with_the_cable_onward_on_its_load_side() -> None:
    house, circuit = bathroom()
    facts = house.facts()
    first, _ = facts.devices
    onward = facts.cables[1].id

    edits = protection_edits(circuit, Dwelling(facts), load_edition(2023))

    assert edits is not None
    assert edits.add == ()
    assert edits.change == (("device", first.id, {"gfci": True, "afci": False, "load_cable_ids": (onward,)}),)
    assert (
        edits.said == "a GFCI receptacle in the box “R1” of Hall bath with the cable onward on its load side"
    )


def test_where_a_device_is_there_only_the_cable_moves_to_its_load_side() -> None:
    house, circuit = bathroom(box_gfci=True)
    facts = house.facts()

    edits = protection_edits(circuit, Dwelling(facts), load_edition(2023))

    assert edits is not None
    assert edits.change == (("device", facts.devices[0].id, {"load_cable_ids": (facts.cables[1].id,)}),)


@pytest.mark.parametrize("breaker", [Breaker.GFCI, Breaker.DUAL])
def test_where_nothing_is_lacking_there_is_nothing_to_enter(breaker: Breaker) -> None:
    house, circuit = bathroom()
    facts = house.facts()
    facts = replace(facts, circuits=tuple(replace(each, breaker=breaker) for each in facts.circuits))

    assert protection_edits(circuit, Dwelling(facts), load_edition(2023)) is None


def test_a_new_device_without_a_face_has_the_same_name_every_time() -> None:
    house = HouseBuilder()
    garage = house.room("garage", "Garage", length_in=240, width_in=240)
    panel = house.panel("Panel A", room_id=garage)
    circuit = house.circuit(panel, "Door", rating_a=20, conductor_awg="12", breaker=Breaker.FUSE)
    high = house.box(garage, label="R1", surface="ceiling", x_in=40, y_in=40)
    house.receptacle(high)
    low = house.box(garage, label="J1", wall=1, at_in=20, height_in=48)
    house.home_run(circuit, low, high)
    facts = house.facts()

    once, again = (protection_edits(circuit, Dwelling(facts), load_edition(2023)) for _ in range(2))

    assert once is not None
    assert once == again
    made: Device = once.add[0]
    assert (made.box_id, made.gfci, made.load_cable_ids) == (low, True, (facts.cables[1].id,))
