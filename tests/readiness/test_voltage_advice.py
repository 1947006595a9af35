"""What a circuit's far end loses: the cables' own lengths, one after the other, against the formula by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, Dwelling
from server.editions import load_edition
from server.readiness.voltage_advice import VoltageAdvice, voltage_advice
from server.rules.hookups import hookups

CODE = load_edition(2023)
K = Fraction(129, 10)
"""Copper, as voltage drop lessons print it (PASS-K in the edition's sources)."""
CMIL = {"14": 4110, "12": 6530, "10": 10380}
"""Chapter 9, Table 8."""


def far(
    *lengths_ft: int | None, awg: str = "12", insulated: int = 2, apart: bool = False, **circuit: Any
) -> VoltageAdvice | None:
    """Boxes one after the other down a circuit; with ``apart`` each in a room of its own."""
    house = HouseBuilder()
    room = house.room("garage", "Garage", length_in=240, width_in=240)
    panel = house.panel("Panel A", room_id=room)
    made = house.circuit(panel, "Far", **{"rating_a": 20, "conductor_awg": awg, **circuit})
    before = panel
    for n, length in enumerate(lengths_ft):
        place = house.room("bedroom", f"Room {n}", length_in=144, width_in=144) if apart else room
        box = house.box(place, label=f"R{n}", wall=1, at_in=10 + n, height_in=18)
        house.receptacle(box)
        house.cable(before, box, made, awg=awg, insulated=insulated, length_ft=length)
        before = box
    facts = Dwelling(house.facts())
    return voltage_advice(facts.circuits[made], facts.derive(hookups, CODE).of(made).run, facts, CODE)


@pytest.mark.parametrize(("awg", "lengths"), [("12", (50, 50)), ("14", (30, 20, 25)), ("10", (120,))])
def test_the_drop_is_that_of_the_formula_over_the_whole_way(awg: str, lengths: tuple[int, ...]) -> None:
    found = far(*lengths, awg=awg)

    assert found is not None
    assert found.load_a == 16  # 20 A x 80 %
    assert found.percent == 2 * K * 16 * sum(lengths) / CMIL[awg] / 120 * 100
    assert (found.way_ft, found.unknown, found.estimated) == (sum(lengths), 0, 0)


def test_just_within_and_just_over_what_is_recommended() -> None:
    # 3 % of 120 V = 3.6 V; 3.6 x 6530 / (2 x 12.9 x 16) = 56.9 ft
    within, over = far(56), far(57)

    assert within is not None
    assert over is not None
    assert (within.within, within.larger_awg) == (True, None)
    assert (over.within, over.larger_awg) == (False, "10")


def test_a_load_that_is_recorded_is_taken_instead_of_a_share_of_the_breaker() -> None:
    found = far(60, va=Fraction(1200))

    assert found is not None
    assert (found.load_a, found.recorded) == (10, True)
    assert found.percent == 2 * K * 10 * 60 / CMIL["12"] / 120 * 100


def test_the_longest_branch_counts_and_not_the_last() -> None:
    house = HouseBuilder()
    room = house.room("garage", "Garage", length_in=240, width_in=240)
    panel = house.panel("Panel A", room_id=room)
    made = house.circuit(panel, "Branches", rating_a=20, conductor_awg="12")
    hub, near, away = (
        house.box(room, label=each, wall=1, at_in=20, height_in=18) for each in ("H", "N", "A")
    )
    for a, b, length in ((panel, hub, 20), (hub, away, 70), (hub, near, 5)):
        house.cable(a, b, made, awg="12", length_ft=length)
    facts = Dwelling(house.facts())

    found = voltage_advice(facts.circuits[made], facts.derive(hookups, CODE).of(made).run, facts, CODE)

    assert found is not None
    assert (found.end, found.way_ft) == (away, 90)


def test_a_length_that_nobody_knows_is_counted_and_not_guessed_between_rooms() -> None:
    found = far(40, None, apart=True)

    assert found is not None
    assert (found.way_ft, found.unknown) == (40, 1)


def test_a_length_within_a_room_is_estimated_and_said_to_be() -> None:
    found = far(40, None)

    assert found is not None
    assert (found.estimated, found.unknown) == (1, 0)
    assert found.way_ft > 40


@pytest.mark.parametrize(
    "circuit", [{"rating_a": None}, {"purpose": CircuitPurpose.FEEDER}, {"va": Fraction(0)}]
)
def test_without_a_rating_or_a_load_or_for_a_feeder_nothing_is_said(circuit: dict[str, Any]) -> None:
    assert far(40, **circuit) is None


def test_without_any_length_nothing_is_said() -> None:
    assert far(None, apart=True) is None
