"""Tamper and weather resistance: ratings, heights, rooms, exceptions, in every edition."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.dwelling.room_kinds import RoomKind
from server.editions import YEARS, load_edition
from server.reckon.protection.facts import OutletFacts
from server.reckon.protection.tamper_resistant import tamper_resistance_required
from server.reckon.protection.weather_resistant import weather_resistance_required
from tests.protection_facts import edition, receptacle
from tests.reckon.protection.test_gfci_boundaries import facts_of_any_outlet

HAIR = Fraction(1, 16)
LOW = Fraction(16)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("height", "required"), [(Fraction(66) - HAIR, True), (Fraction(66), True), (Fraction(66) + HAIR, False)]
)
def test_five_and_a_half_feet_is_still_within_reach(year: int, height: Fraction, required: bool) -> None:
    found = tamper_resistance_required(receptacle("bedroom", height_in=height), edition(year))

    assert found.required is required


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("facts", "required"),
    [({"amps": 15}, True), ({"amps": 20}, True), ({"amps": 30}, False), ({"volts": 250}, True), ({"volts": 277}, False),
     ({"locking": True}, False), ({"kind": "lighting"}, False), ({"kind": "switch"}, False),
     ({"part_of_equipment": True}, False)],
)  # fmt: skip
def test_which_receptacles_tamper_resistance_is_about(
    year: int, facts: dict[str, Any], required: bool
) -> None:
    found = tamper_resistance_required(receptacle("bedroom", height_in=LOW, **facts), edition(year))

    assert found.required is required


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("serves", "alone", "single", "required"),
    [("refrigerator", True, True, False), ("refrigerator", True, False, True), ("refrigerator", False, True, True),
     ("general", True, True, True)],
)  # fmt: skip
def test_an_appliances_own_space_is_excepted_with_no_contact_left_over(
    year: int, serves: str, alone: bool, single: bool, required: bool
) -> None:
    facts = receptacle("kitchen", serves=serves, dedicated=alone, single=single, height_in=LOW)

    assert tamper_resistance_required(facts, edition(year)).required is required


@pytest.mark.parametrize("room", [str(kind) for kind in RoomKind])
@pytest.mark.parametrize("year", [2020, 2023, 2026])
def test_from_2020_the_whole_dwelling_counts(room: str, year: int) -> None:
    assert tamper_resistance_required(receptacle(room, height_in=LOW), edition(year)).required is True


@pytest.mark.parametrize(
    ("room", "required"),
    [("bedroom", True), ("garage", True), ("outdoors", True), ("hallway", True), ("basement", True), ("attic", False),
     ("crawl space", False), ("closet", "inspector"), ("utility room", "inspector")],
)  # fmt: skip
def test_2017_names_the_areas_of_210_52(room: str, required: object) -> None:
    assert tamper_resistance_required(receptacle(room, height_in=LOW), edition(2017)).required == required


@pytest.mark.parametrize("year", YEARS)
def test_a_nongrounding_receptacle_may_be_replaced_by_its_like(year: int) -> None:
    facts = receptacle("bedroom", work_on="replacement", height_in=LOW)

    assert tamper_resistance_required(facts, edition(year)).required is True
    like = receptacle("bedroom", work_on="replacement", nongrounding=True, height_in=LOW)
    assert tamper_resistance_required(like, edition(year)).required is False


def test_the_height_is_asked_for() -> None:
    assert tamper_resistance_required(receptacle("bedroom"), edition(2023)).missing == ("height_in",)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("room", "facts", "required"),
    [
        ("outdoors", {}, True), ("deck", {}, True), ("garage", {}, False), ("garage", {"outdoors": True}, True),
        ("bathroom", {}, False), ("basement", {"damp": True}, True), ("basement", {"damp": False}, False),
        ("utility room", {"wet": True}, True), ("outdoors", {"amps": 30}, False), ("outdoors", {"volts": 250}, True),
        ("outdoors", {"volts": 277}, False), ("outdoors", {"locking": True}, False), ("crawl space", {}, "inspector"),
        ("boathouse", {"damp": False}, False), ("outdoors", {"kind": "hardwired"}, False),
    ],
)  # fmt: skip
def test_weather_resistance_goes_with_damp_and_wet_places(
    year: int, room: str, facts: dict[str, Any], required: object
) -> None:
    assert weather_resistance_required(receptacle(room, **facts), edition(year)).required == required


@pytest.mark.parametrize("room", ["boathouse", "mudroom"])
def test_whether_a_place_is_damp_is_asked_for_where_it_may_be(room: str) -> None:
    assert weather_resistance_required(receptacle(room), edition(2023)).missing == ("damp",)


@pytest.mark.parametrize("ask", [tamper_resistance_required, weather_resistance_required])
@settings(max_examples=200, deadline=None)
@given(facts=facts_of_any_outlet, year=st.sampled_from(YEARS))
def test_any_outlet_gets_an_answer_with_words(ask: Any, facts: OutletFacts, year: int) -> None:
    found = ask(facts, load_edition(year))

    assert (found.required is None) == bool(found.missing)
    assert found.why.endswith(".")
    assert "{" not in found.why
    assert found.cites
