"""GFCI: every threshold at, just under and just over, in every edition; what is missing; what is excepted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.dwelling.room_kinds import RoomKind
from server.editions import YEARS, load_edition
from server.reckon.protection.facts import NOWHERE_NEAR, OutletFacts
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.work import Work
from tests.protection_facts import FAR, edition, hardwired, receptacle

HAIR = Fraction(1, 16)
SIX_FEET = Fraction(72)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("fixture", ["from_sink_in", "from_tub_in"])
@pytest.mark.parametrize(
    ("distance", "required"), [(SIX_FEET - HAIR, True), (SIX_FEET, True), (SIX_FEET + HAIR, False)]
)
def test_six_feet_of_cord_counts_and_a_sixteenth_more_does_not(
    year: int, fixture: str, distance: Fraction, required: bool
) -> None:
    found = gfci_required(receptacle("bedroom", **{fixture: distance}), edition(year))

    assert found.required is required


@pytest.mark.parametrize(
    ("barrier", "stops"),
    [
        ("wall", {2017, 2020, 2023, 2026}),
        ("door", {2017}),
        ("doorway", {2017}),
        ("window", {2017, 2020}),
    ],
)
@pytest.mark.parametrize("year", YEARS)
def test_what_ends_a_cord_path_changes_with_the_edition(barrier: str, stops: set[int], year: int) -> None:
    found = gfci_required(
        receptacle("hallway", from_sink_in=Fraction(48), path_crosses=(barrier,)), edition(year)
    )

    assert found.required is (year not in stops)


@pytest.mark.parametrize("year", YEARS)
def test_a_path_through_a_wall_does_not_count_though_a_door_stands_open(year: int) -> None:
    facts = receptacle("bedroom", from_tub_in=Fraction(12), path_crosses=("door", "wall"))

    assert gfci_required(facts, edition(year)).required is False


# --- the receptacles of 210.8(A)


@pytest.mark.parametrize("amps", [15, 20])
def test_2017_is_about_15_and_20_a_at_125_v(amps: int) -> None:
    assert gfci_required(receptacle("garage", amps=amps), edition(2017)).required is True


@pytest.mark.parametrize(
    "facts", [{"amps": 30}, {"amps": 25}, {"volts": 250}, {"volts": 250, "amps": 15}, {"volts": 126}]
)
def test_2017_is_about_no_other_rating(facts: dict[str, Any]) -> None:
    assert gfci_required(receptacle("garage", **facts), edition(2017)).required is False


@pytest.mark.parametrize("year", [2020, 2023, 2026])
@pytest.mark.parametrize(
    ("volts", "amps", "required"),
    [(125, 30, True), (250, 50, True), (250, 60, True), (250, 100, True), (251, 20, False), (277, 20, False)],
)
def test_from_2020_any_rating_up_to_250_v_counts(year: int, volts: int, amps: int, required: bool) -> None:
    facts = receptacle("garage", volts=volts, amps=amps, circuit_volts=None, circuit_amps=None)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", [2020, 2023, 2026])
@pytest.mark.parametrize(("ground", "required"), [(149, True), (150, True), (151, False)])
def test_150_v_to_ground_is_the_end_of_the_list(year: int, ground: int, required: bool) -> None:
    facts = receptacle("garage", volts=250, circuit_volts=240, volts_to_ground=ground)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("volts", [208, 240])
def test_208_v_and_240_v_single_phase_have_120_v_to_ground(year: int, volts: int) -> None:
    facts = receptacle("outdoors", volts=250, circuit_volts=volts)

    assert gfci_required(facts, edition(year)).required is (year >= 2020)


@pytest.mark.parametrize("year", YEARS)
def test_a_three_phase_receptacle_is_not_on_the_dwelling_list(year: int) -> None:
    assert gfci_required(receptacle("garage", phases=3), edition(year)).required is False


# --- appliances and outdoor outlets


@pytest.mark.parametrize("year", [2023, 2026])
@pytest.mark.parametrize(("amps", "required"), [(59, True), (60, True), (61, False)])
def test_a_hardwired_range_counts_up_to_60_a(year: int, amps: int, required: bool) -> None:
    facts = hardwired("kitchen", serves="range", amps=amps)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize(("year", "limit"), [(2020, 50), (2023, 50), (2026, 60)])
@pytest.mark.parametrize(("over", "required"), [(-1, True), (0, True), (1, False)])
def test_an_outdoor_outlet_counts_up_to_its_editions_amperes(
    year: int, limit: int, over: int, required: bool
) -> None:
    facts = hardwired("outdoors", serves="well pump", circuit_amps=limit + over, amps=limit + over)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", [2020, 2023, 2026])
@pytest.mark.parametrize(("ground", "required"), [(149, True), (150, True), (151, False)])
def test_an_outdoor_outlet_counts_up_to_150_v_to_ground(year: int, ground: int, required: bool) -> None:
    facts = hardwired("outdoors", serves="well pump", volts_to_ground=ground)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", [2020, 2023, 2026])
@pytest.mark.parametrize(("days", "required"), [(-1, False), (0, True), (1, True)])
def test_the_comfort_equipment_exception_ends_on_its_day(year: int, days: int, required: bool) -> None:
    permit = date(2026, 9, 1) + timedelta(days)
    facts = hardwired("outdoors", serves="heat pump", listed_hvac=True, permit_date=permit)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", [2020, 2023, 2026])
def test_equipment_that_is_not_listed_has_no_exception(year: int) -> None:
    facts = hardwired("outdoors", serves="heat pump", listed_hvac=False, permit_date=date(2024, 1, 1))

    assert gfci_required(facts, edition(year)).required is True


@pytest.mark.parametrize("year", [2020, 2023, 2026])
def test_the_permits_date_is_asked_for_where_it_decides(year: int) -> None:
    found = gfci_required(hardwired("outdoors", serves="heat pump", listed_hvac=True), edition(year))

    assert (found.required, found.missing) == (None, ("permit_date",))


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("volts", "required"), [(119, True), (120, True), (208, False), (277, False)])
def test_crawl_space_lighting_counts_up_to_120_v(year: int, volts: int, required: bool) -> None:
    facts = OutletFacts("crawl space", kind="lighting", circuit_volts=volts)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("volts", "required"), [(240, True), (250, True), (277, False)])
def test_a_boat_hoist_counts_up_to_240_v(year: int, volts: int, required: bool) -> None:
    facts = hardwired("boathouse", serves="boat hoist", volts=volts, circuit_volts=volts, circuit_amps=100)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize(("ground", "required"), [(150, True), (151, "inspector")])
def test_a_vehicle_outlet_above_150_v_to_ground_is_asked_about_in_2026(ground: int, required: object) -> None:
    facts = hardwired("garage", serves="EV charger", circuit_amps=100, volts_to_ground=ground)

    assert gfci_required(facts, edition(2026)).required == required


@pytest.mark.parametrize(("amps", "required"), [(50, "inspector"), (51, False)])
def test_the_interim_vehicle_rule_of_2017_ends_at_50_a(amps: int, required: object) -> None:
    facts = receptacle(
        "garage", serves="EV charger", volts=250, amps=amps, circuit_volts=240, circuit_amps=amps
    )

    assert gfci_required(facts, edition(2017)).required == required


@pytest.mark.parametrize("year", [2020, 2023, 2026])
@pytest.mark.parametrize(("amps", "required"), [(60, True), (61, False)])
def test_a_pool_motor_counts_up_to_60_a(year: int, amps: int, required: bool) -> None:
    facts = hardwired("mechanical room", serves="pool pump", amps=amps, circuit_amps=amps)

    assert gfci_required(facts, edition(year)).required is required


# --- exceptions: each condition by itself is not enough


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("reachable", "alone", "required"),
    [(False, True, False), (True, True, True), (False, False, True), (True, False, True)],
)
def test_a_deicing_receptacle_is_excepted_only_out_of_reach_and_alone(
    year: int, reachable: bool, alone: bool, required: bool
) -> None:
    facts = receptacle("outdoors", serves="deicing", readily_accessible=reachable, dedicated=alone)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize(("year", "required"), [(2017, True), (2020, True), (2023, False), (2026, False)])
def test_the_deicing_exception_reaches_a_garage_from_2023(year: int, required: bool) -> None:
    facts = receptacle("garage", serves="pipe heating", readily_accessible=False, dedicated=True)

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
def test_an_alarm_systems_receptacle_is_excepted_in_an_unfinished_basement(year: int) -> None:
    facts = receptacle("basement", finished=False, serves="security panel")

    assert gfci_required(facts, edition(year)).required is False


@pytest.mark.parametrize(("year", "required"), [(2017, True), (2020, False), (2023, False), (2026, False)])
def test_a_weight_supporting_ceiling_receptacle_is_excepted_from_2020(year: int, required: bool) -> None:
    facts = receptacle("bathroom", serves="ceiling fan support")

    assert gfci_required(facts, edition(year)).required is required


@pytest.mark.parametrize(
    ("year", "required"), [(2017, "inspector"), (2020, "inspector"), (2023, "inspector"), (2026, False)]
)
def test_a_fan_housing_outside_a_bathroom_is_excepted_in_2026(year: int, required: object) -> None:
    facts = receptacle("laundry", serves="exhaust fan", part_of_equipment=True, readily_accessible=False)

    assert gfci_required(facts, edition(year)).required == required


# --- places


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("finished", "room", "in_basement", "in_2017"),
    [(False, "basement", False, True), (True, "basement", False, False), (None, "bedroom", True, False),
     (False, "workshop", True, True), (True, "recreation room", True, False)],
)  # fmt: skip
def test_basements_count_whole_from_2020_and_unfinished_before(
    year: int, finished: bool | None, room: str, in_basement: bool, in_2017: bool
) -> None:
    found = gfci_required(receptacle(room, finished=finished, in_basement=in_basement), edition(year))

    assert found.required is (in_2017 if year == 2017 else True)


@pytest.mark.parametrize(("year", "required"), [(2017, False), (2020, True), (2023, True), (2026, True)])
@pytest.mark.parametrize("fact", ["damp", "wet"])
def test_indoor_damp_and_wet_places_count_from_2020(year: int, required: bool, fact: str) -> None:
    assert gfci_required(receptacle("utility room", **{fact: True}), edition(year)).required is required


@pytest.mark.parametrize("year", YEARS)
def test_the_living_part_of_an_accessory_building_is_not_on_the_list(year: int) -> None:
    facts = receptacle("accessory building", habitable=True, floor_at_grade=True)

    assert gfci_required(facts, edition(year)).required is False


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    "room", ["bedroom", "living room", "family room", "dining room", "den", "library", "parlor", "office", "sunroom",
             "recreation room", "closet", "hallway", "foyer", "stair", "pantry", "attic", "utility room"],
)  # fmt: skip
def test_a_dry_room_away_from_water_is_not_on_the_list(year: int, room: str) -> None:
    assert gfci_required(receptacle(room), edition(year)).required is False


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    "room", ["bathroom", "garage", "outdoors", "deck", "crawl space", "laundry", "boathouse"]
)
@pytest.mark.parametrize("kind", ["lighting", "switch"])
def test_switches_and_lights_need_none_but_for_crawl_space_lights(year: int, room: str, kind: str) -> None:
    found = gfci_required(OutletFacts(room, kind=kind, circuit_volts=120, circuit_amps=15), edition(year))  # type: ignore[arg-type]

    assert found.required is (kind == "lighting" and room == "crawl space")


@pytest.mark.parametrize("year", YEARS)
def test_a_replaced_receptacle_is_held_to_the_list_by_406_4(year: int) -> None:
    found = gfci_required(receptacle("bathroom", work_on="replacement"), edition(year))

    assert found.required is True
    assert ("406.12(D)(3)" if year == 2026 else "406.4(D)(3)") in found.cites  # 2026 renumbers article 406


# --- missing facts are named, never guessed


@pytest.mark.parametrize(
    ("year", "facts", "missing"),
    [
        (2017, receptacle("basement"), ("finished",)),
        (2020, receptacle("kitchen"), ("serves",)),
        (2023, receptacle("bedroom", from_sink_in=None), ("from_sink_in",)),
        (2023, OutletFacts("bedroom", volts=125, amps=20), ("from_sink_in", "from_tub_in")),
        (2023, receptacle("accessory building"), ("habitable",)),
        (2023, receptacle("accessory building", habitable=False), ("floor_at_grade",)),
        (2017, OutletFacts("garage", **FAR), ("volts", "amps")),
        (2023, receptacle("mudroom"), ("damp",)),
        (2023, receptacle("outdoors", serves="deicing"), ("readily_accessible", "dedicated")),
        (2020, OutletFacts("kitchen", kind="hardwired", serves="dishwasher"), ("amps", "volts")),
        (2023, OutletFacts("outdoors", kind="hardwired", volts=240), ("circuit_amps",)),
    ],
)  # fmt: skip
def test_a_missing_fact_is_named(year: int, facts: OutletFacts, missing: tuple[str, ...]) -> None:
    found = gfci_required(facts, edition(year))

    assert (found.required, found.missing) == (None, missing)


def test_one_certain_reason_is_enough_whatever_else_is_missing() -> None:
    found = gfci_required(OutletFacts("bathroom", volts=125, amps=20), edition(2023))

    assert found.required is True


def test_the_work_shows_what_applied_and_what_did_not() -> None:
    work = Work()

    gfci_required(receptacle("laundry", serves="dryer", volts=250, amps=30), edition(2023), work)

    applied = [step for step in work.steps if step.applied]
    assert [step.cites for step in applied] == ["210.8(A)(11)", "210.8(D)(11)"]
    assert any(not step.applied and "sink" in step.text for step in work.steps)
    assert work.confidence == "two"


rooms = st.sampled_from([str(kind) for kind in RoomKind])
maybe = st.sampled_from([None, True, False])
purposes = st.sampled_from(
    ["", "general", "countertop", "dishwasher", "range", "dryer", "sump pump", "EV charger", "deicing", "heat pump",
     "security panel", "bath fan", "disposer", "HVAC service", "pool pump", "hot tub", "floor heating"]
)  # fmt: skip
facts_of_any_outlet = st.builds(
    OutletFacts,
    room=rooms,
    kind=st.sampled_from(["receptacle", "lighting", "hardwired", "switch"]),
    finished=maybe,
    in_basement=st.booleans(),
    volts=st.sampled_from([None, 120, 125, 208, 240, 250, 277]),
    amps=st.sampled_from([None, 15, 20, 30, 50, 60, 100]),
    phases=st.sampled_from([1, 1, 1, 3]),
    serves=purposes,
    height_in=st.sampled_from([None, Fraction(18), Fraction(66), Fraction(67)]),
    from_sink_in=st.sampled_from([None, Fraction(10), SIX_FEET, SIX_FEET + HAIR, NOWHERE_NEAR]),
    from_tub_in=st.sampled_from([None, Fraction(10), SIX_FEET, SIX_FEET + HAIR, NOWHERE_NEAR]),
    path_crosses=st.lists(st.sampled_from(["wall", "door", "doorway", "window", "cabinet door"]), max_size=2).map(tuple),
    dedicated=maybe,
    single=maybe,
    readily_accessible=maybe,
    part_of_equipment=st.booleans(),
    outdoors=maybe,
    damp=maybe,
    listed_hvac=maybe,
    floor_at_grade=maybe,
    habitable=maybe,
    food_provisions=st.booleans(),
    circuit_volts=st.sampled_from([None, 120, 240]),
    circuit_amps=st.sampled_from([None, 10, 15, 20, 30, 60]),
    work_on=st.sampled_from(["new", "extension", "replacement"]),
    extension_in=st.sampled_from([None, SIX_FEET, SIX_FEET + HAIR]),
    added_outlets=st.sampled_from([0, 1]),
    permit_date=st.sampled_from([None, date(2024, 1, 1), date(2026, 9, 1)]),
)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(facts=facts_of_any_outlet, year=st.sampled_from(YEARS))
def test_any_outlet_gets_an_answer_with_words_and_missing_facts_only_where_unsettled(
    facts: OutletFacts, year: int
) -> None:
    found = gfci_required(facts, load_edition(year))

    assert (found.required is None) == bool(found.missing)
    assert found.why.endswith(".")
    assert "{" not in found.why
    assert found.cites


@settings(max_examples=300, deadline=None)
@given(
    facts=facts_of_any_outlet,
    room=st.sampled_from(["bathroom", "laundry", "crawl space", "boathouse", "garage"]),
    year=st.sampled_from(YEARS),
    name=st.sampled_from(["finished", "from_sink_in", "from_tub_in", "damp", "permit_date"]),
)
def test_filling_in_a_missing_fact_never_undoes_a_settled_yes(
    facts: OutletFacts, room: str, year: int, name: str
) -> None:
    blank: dict[str, Any] = {name: None}
    facts = replace(
        facts, room=room, kind="receptacle", outdoors=False, volts=125, amps=20, phases=1, serves="general",
        volts_to_ground=None, circuit_volts=120, **blank,
    )  # fmt: skip
    code = load_edition(year)
    assert gfci_required(facts, code).required is True
    value: Any = {"finished": True, "damp": False, "permit_date": date(2024, 1, 1)}.get(name, NOWHERE_NEAR)

    filled = gfci_required(replace(facts, **{name: value}), code)

    assert filled.required is True
