"""AFCI: rooms, ratings, old circuits and exceptions, at, under and over every threshold, in every edition."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.facts import OutletFacts
from tests.protection_facts import edition, receptacle
from tests.reckon.protection.test_gfci_boundaries import facts_of_any_outlet

HAIR = Fraction(1, 16)
NAMED = ["kitchen", "family room", "dining room", "living room", "parlor", "library", "den", "bedroom", "sunroom",
         "recreation room", "closet", "hallway", "laundry"]  # fmt: skip
UNNAMED = ["bathroom", "toilet room", "garage", "outdoors", "deck", "crawl space", "utility room", "mechanical room",
           "boathouse"]  # fmt: skip


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("room", NAMED)
@pytest.mark.parametrize("kind", ["receptacle", "lighting", "hardwired", "switch"])
def test_any_outlet_or_device_in_a_named_room_pulls_its_circuit_in(year: int, room: str, kind: Any) -> None:
    assert (
        afci_required(
            OutletFacts(room, kind=kind, circuit_volts=120, circuit_amps=15), edition(year)
        ).required
        is True
    )


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("room", UNNAMED)
def test_a_circuit_that_serves_no_named_room_needs_none(year: int, room: str) -> None:
    assert afci_required(receptacle(room), edition(year)).required is False


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("room", UNNAMED)
def test_one_named_room_on_the_circuit_is_enough(year: int, room: str) -> None:
    found = afci_required(receptacle(room, circuit_rooms=(room, "bedroom")), edition(year))

    assert found.required is True
    assert "bedroom" in found.why


@pytest.mark.parametrize(
    ("amps", "required"),
    [
        (10, {2023, 2026}),
        (14, set()),
        (15, set(YEARS)),
        (16, set()),
        (20, set(YEARS)),
        (21, set()),
        (30, set()),
    ],
)
@pytest.mark.parametrize("year", YEARS)
def test_the_ratings_are_15_and_20_a_and_10_a_from_2023(year: int, amps: int, required: set[int]) -> None:
    found = afci_required(receptacle("bedroom", circuit_amps=amps), edition(year))

    assert found.required is (year in required)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("volts", "required"), [(115, True), (120, True), (125, True), (208, False), (240, False)]
)
def test_only_120_v_circuits_count(year: int, volts: int, required: bool) -> None:
    assert afci_required(receptacle("bedroom", circuit_volts=volts), edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
def test_a_three_phase_circuit_does_not_count(year: int) -> None:
    assert afci_required(receptacle("bedroom", phases=3), edition(year)).required is False


# --- old circuits


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("inches", "required"), [(Fraction(72) - HAIR, False), (Fraction(72), False), (Fraction(72) + HAIR, True)]
)
def test_six_feet_may_be_added_and_a_sixteenth_more_may_not(
    year: int, inches: Fraction, required: bool
) -> None:
    found = afci_required(receptacle("bedroom", work_on="extension", extension_in=inches), edition(year))

    assert found.required is required
    assert found.cites[0].startswith("210.12(D)" if year < 2023 else "210.12(E)")


@pytest.mark.parametrize("year", YEARS)
def test_an_added_outlet_counts_however_short_the_cable(year: int) -> None:
    facts = receptacle("bedroom", work_on="extension", extension_in=Fraction(0), added_outlets=1)

    assert afci_required(facts, edition(year)).required is True


@pytest.mark.parametrize("year", YEARS)
def test_an_extension_in_a_garage_needs_none(year: int) -> None:
    facts = receptacle("garage", work_on="extension", extension_in=Fraction(500), added_outlets=3)

    assert afci_required(facts, edition(year)).required is False


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("kind", "room", "required"),
    [("receptacle", "den", True), ("receptacle", "bathroom", False), ("switch", "den", "inspector"),
     ("lighting", "den", "inspector"), ("switch", "garage", False)],
)  # fmt: skip
def test_replacing_reaches_receptacles_and_leaves_swaps_to_the_inspector(
    year: int, kind: str, room: str, required: object
) -> None:
    assert (
        afci_required(receptacle(room, kind=kind, work_on="replacement"), edition(year)).required == required
    )


# --- exceptions and judgements


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("alone", "metal", "required"), [(True, True, False), (True, False, True), (False, True, True)]
)
def test_a_fire_alarm_system_is_excepted_only_alone_and_in_metal(
    year: int, alone: bool, metal: bool, required: bool
) -> None:
    facts = receptacle("hallway", kind="hardwired", serves="fire alarm", dedicated=alone, metal_wiring=metal)

    assert afci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("room", "facts", "required"),
    [
        ("office", {}, True), ("foyer", {}, True), ("stair", {}, True), ("basement", {"finished": True}, True),
        ("basement", {"finished": False}, False), ("attic", {"finished": True}, True),
        ("accessory building", {"habitable": True}, True), ("accessory building", {"habitable": False}, False),
        ("pantry", {}, "inspector"), ("mudroom", {}, "inspector"), ("workshop", {"finished": False}, False),
        ("closet", {"serves": "furnace"}, "inspector"), ("hallway", {"serves": "furnace"}, True),
        ("garage", {"serves": "washer"}, "inspector"), ("sunroom", {"outdoors": True}, False),
    ],
)  # fmt: skip
def test_similar_rooms_and_those_read_both_ways(
    year: int, room: str, facts: dict[str, Any], required: object
) -> None:
    assert afci_required(receptacle(room, **facts), edition(year)).required == required


@pytest.mark.parametrize(
    ("facts", "missing"),
    [
        (OutletFacts("bedroom"), ("circuit_volts", "circuit_amps")),
        (receptacle("basement"), ("finished",)),
        (receptacle("accessory building"), ("habitable",)),
        (receptacle("bedroom", work_on="extension"), ("extension_in",)),
        (receptacle("hallway", serves="fire alarm"), ("dedicated", "metal_wiring")),
    ],
)
@pytest.mark.parametrize("year", YEARS)
def test_a_missing_fact_is_named(year: int, facts: OutletFacts, missing: tuple[str, ...]) -> None:
    found = afci_required(facts, edition(year))

    assert (found.required, found.missing) == (None, missing)


@settings(max_examples=300, deadline=None)
@given(facts=facts_of_any_outlet, year=st.sampled_from(YEARS))
def test_any_outlet_gets_an_answer_with_words(facts: OutletFacts, year: int) -> None:
    found = afci_required(facts, load_edition(year))

    assert (found.required is None) == bool(found.missing)
    assert found.why.endswith(".")
    assert "{" not in found.why
    assert found.cites
