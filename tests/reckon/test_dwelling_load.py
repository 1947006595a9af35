"""Dwelling loads by every method: properties, edition differences, boundaries, and a second reckoning.

The second reckoning is written here from the published tables (tests/data/loads/tables.json) in plain fractions; it
shares no code with the product.
"""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import load_edition
from server.reckon.dwelling_load import reckon_dwelling_load
from server.reckon.dwelling_loads import (
    Appliance,
    Charger,
    CookingKind,
    CookingUnit,
    Dryer,
    DwellingLoads,
    Leg,
    LoadError,
    Method,
    Motor,
    System,
)
from server.reckon.work import SILENT, Work, round_half_up

TABLES: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "data" / "loads" / "tables.json").read_text(encoding="utf-8")
)["tables"]
YEARS = (2017, 2020, 2023, 2026)
METHODS = (Method.STANDARD, Method.OPTIONAL, Method.EXISTING)

va = st.integers(0, 20_000).map(Fraction)
names = st.sampled_from(["dishwasher", "disposer", "compactor", "fan", "water heater", "hood"])


@st.composite
def a_house(draw: st.DrawFn) -> DwellingLoads:
    return DwellingLoads(
        method=draw(st.sampled_from(METHODS)),
        floor_area_ft2=Fraction(draw(st.integers(0, 6000))),
        small_appliance_circuits=draw(st.integers(0, 4)),
        laundry_circuits=draw(st.integers(0, 2)),
        appliances=tuple(
            Appliance(draw(names), Fraction(draw(st.integers(0, 6000))), motor=draw(st.booleans()), only_240=draw(st.booleans()))
            for _ in range(draw(st.integers(0, 6)))
        ),
        dryers=tuple(Dryer(Fraction(draw(st.integers(0, 9000)))) for _ in range(draw(st.integers(0, 2)))),
        cooking=tuple(
            CookingUnit(draw(st.sampled_from(CookingKind)), Fraction(draw(st.integers(1, 27_000))))
            for _ in range(draw(st.integers(0, 4)))
        ),
        heat_va=draw(va),
        heat_units=draw(st.integers(1, 6)),
        heat_pump_va=draw(va),
        pump_locked_out=draw(st.booleans()),
        heat_storage_va=draw(va),
        cool_va=draw(va),
        cool_motor_va=Fraction(draw(st.integers(0, 8000))),
        motors=tuple(
            Motor("pump", Fraction(draw(st.integers(0, 3000))), only_240=draw(st.booleans()))
            for _ in range(draw(st.integers(0, 2)))
        ),
        chargers=tuple(Charger(Fraction(draw(st.integers(0, 12_000)))) for _ in range(draw(st.integers(0, 1)))),
        hvac_added=draw(st.sampled_from([None, True, False])),
    )  # fmt: skip


# --- A second reckoning -----------------------------------------------------------------------------------


def pct(percent: int | float | str, number: Fraction) -> Fraction:
    return Fraction(str(percent)) / 100 * number


def tiers(connected: Fraction) -> Fraction:
    total, below = Fraction(0), 0
    for tier in TABLES["lighting_demand_table"]["value"]:
        to = connected if tier["to_va"] is None else min(connected, Fraction(tier["to_va"]))
        total += pct(tier["percent"], max(to - below, Fraction(0)))
        below = tier["to_va"] or below
    return total


def cooking_again(ratings: list[Fraction]) -> Fraction:
    rows = {row["n"]: row for row in TABLES["ranges_table"]["rows"]}
    outside = [r for r in ratings if r <= 1750]
    small = [r for r in ratings if 1750 < r < 3500]
    middle = [r for r in ratings if 3500 <= r <= 8750]
    large = [r for r in ratings if r > 8750]

    def column_c(group: list[Fraction]) -> Fraction:
        if not group:
            return Fraction(0)
        average = sum((max(r, Fraction(12_000)) for r in group), Fraction(0)) / len(group)
        steps = int((average - 12_000) / 1000 + Fraction(1, 2))
        return Fraction(rows[len(group)]["C_kW"]) * 1000 * (100 + 5 * steps) / 100

    apart = column_c(large)
    apart += pct(rows[len(small)]["A_percent"], sum(small, Fraction(0))) if small else 0
    apart += pct(rows[len(middle)]["B_percent"], sum(middle, Fraction(0))) if middle else 0
    in_table = small + middle + large
    if in_table and max(in_table) <= 12_000:
        apart = min(apart, column_c(in_table))
    return apart + sum(outside, Fraction(0))


def standard_again(house: DwellingLoads, year: int) -> tuple[Fraction, Fraction]:
    """Total and neutral of one dwelling by the standard method."""
    lighting = tiers(
        house.floor_area_ft2 * (2 if year == 2026 else 3)
        + 1500 * ((house.small_appliance_circuits or 0) + (house.laundry_circuits or 0))
    )
    least = 0 if year == 2017 else 500
    counted = [item for item in house.appliances if item.va >= least]
    share = 75 if len(counted) >= 4 else 100
    appliances = sum((pct(share, i.va) if i in counted else i.va for i in house.appliances), Fraction(0))
    on_neutral = sum(
        (pct(share, i.va) if i in counted else i.va for i in house.appliances if not i.only_240), Fraction(0)
    )
    dryers = sum((max(item.va, Fraction(5000)) for item in house.dryers), Fraction(0))
    cooking = cooking_again([item.va for item in house.cooking])
    if house.pump_locked_out and house.heat_pump_va:
        heating = max(house.heat_pump_va, house.heat_va) + house.heat_storage_va
        pump_in_heat = house.heat_pump_va >= house.heat_va
    else:
        heating = house.heat_pump_va + house.heat_va + house.heat_storage_va
        pump_in_heat = house.heat_pump_va > 0
    cooling = max(house.cool_va, house.heat_pump_va)
    compressor_runs = cooling > heating or (pump_in_heat and heating > 0)
    motors = [(m.va, m.only_240) for m in house.motors] + [
        (a.va, a.only_240) for a in house.appliances if a.motor
    ]
    candidates = [v for v, _ in motors]
    if house.cool_motor_va and (compressor_runs or year != 2017):
        candidates.append(house.cool_motor_va)
    chargers = sum((max(c.va, Fraction(7200)) if year >= 2023 else c.va for c in house.chargers), Fraction(0))
    total = (
        lighting + appliances + dryers + cooking + max(heating, cooling) + chargers
        + sum((m.va for m in house.motors), Fraction(0)) + pct(25, max(candidates, default=Fraction(0)))
    )  # fmt: skip
    neutral = (
        lighting + on_neutral + pct(70, cooking + dryers)
        + sum((m.va for m in house.motors if not m.only_240), Fraction(0))
        + pct(25, max((v for v, only_240 in motors if not only_240), default=Fraction(0)))
    )  # fmt: skip
    return total, neutral


def nameplate_again(house: DwellingLoads, year: int) -> tuple[Fraction, Fraction]:
    """General load without chargers, and the chargers."""
    general = house.floor_area_ft2 * (2 if year == 2026 else 3)
    general += 1500 * ((house.small_appliance_circuits or 0) + (house.laundry_circuits or 0))
    everything: list[Any] = [*house.appliances, *house.dryers, *house.cooking, *house.motors]
    general += sum((item.va for item in everything), Fraction(0))
    return general, sum(
        (max(c.va, Fraction(7200)) if year >= 2023 else c.va for c in house.chargers), Fraction(0)
    )


def optional_again(house: DwellingLoads, year: int) -> Fraction:
    general, chargers = nameplate_again(house, year)
    if year != 2026:
        general, chargers = general + chargers, Fraction(0)
    first = 8000 if year == 2026 else 10_000
    ways = [house.cool_va, house.heat_storage_va]
    if house.heat_pump_va and house.heat_va:
        parts = [house.heat_pump_va, pct(65, house.heat_va)]
        ways.append(max(parts) if house.pump_locked_out else sum(parts, Fraction(0)))
    elif house.heat_pump_va:
        ways.append(house.heat_pump_va)
    else:
        ways.append(pct(40 if house.heat_units >= 4 else 65, house.heat_va))
    return min(general, Fraction(first)) + pct(40, max(general - first, Fraction(0))) + max(ways) + chargers


def existing_again(house: DwellingLoads, year: int) -> Fraction:
    general, chargers = nameplate_again(house, year)
    general += chargers
    if house.pump_locked_out and house.heat_pump_va:
        heating = max(house.heat_pump_va, house.heat_va) + house.heat_storage_va
    else:
        heating = house.heat_pump_va + house.heat_va + house.heat_storage_va
    hvac = max(heating, house.cool_va, house.heat_pump_va)
    added = hvac > 0 if house.hvac_added is None else house.hvac_added
    if not added:
        general, hvac = general + hvac, Fraction(0)
    return min(general, Fraction(8000)) + pct(40, max(general - 8000, Fraction(0))) + hvac


@settings(max_examples=400)
@given(a_house(), st.sampled_from(YEARS))
def test_a_second_reckoning_from_the_published_tables_agrees(house: DwellingLoads, year: int) -> None:
    found = reckon_dwelling_load(house, load_edition(year))

    total, neutral = standard_again(house, year)
    expected = {
        Method.STANDARD: total,
        Method.OPTIONAL: optional_again(house, year),
        Method.EXISTING: existing_again(house, year),
    }[house.method]
    assert found.total_va == expected
    assert found.neutral.va == neutral
    assert found.amperes == round_half_up(expected / 240)


# --- Properties -------------------------------------------------------------------------------------------


@given(a_house(), st.sampled_from(YEARS), st.integers(1, 2000))
def test_more_floor_area_never_gives_less(house: DwellingLoads, year: int, more: int) -> None:
    code = load_edition(year)
    larger = replace(house, floor_area_ft2=house.floor_area_ft2 + more)

    assert reckon_dwelling_load(larger, code).total_va >= reckon_dwelling_load(house, code).total_va


@given(
    a_house(),
    st.sampled_from(YEARS),
    st.sampled_from(["heat_va", "heat_pump_va", "cool_va", "cool_motor_va", "heat_storage_va", "house_va"]),
    st.integers(1, 9000),
)
def test_more_heat_or_cooling_never_gives_less(
    house: DwellingLoads, year: int, field: str, more: int
) -> None:
    # A first watt of heat pump turns plain heat (65 or 40 %) into its supplement (65 %); nothing falls by it.
    code = load_edition(year)
    larger = replace(house, **{field: getattr(house, field) + more})
    if field == "heat_pump_va" and not house.heat_pump_va and house.pump_locked_out:
        larger = replace(larger, pump_locked_out=False)

    assert reckon_dwelling_load(larger, code).total_va >= reckon_dwelling_load(house, code).total_va


@given(a_house(), st.sampled_from(YEARS), st.integers(1, 5000))
def test_a_larger_appliance_never_gives_less_where_the_number_that_counts_stays(
    house: DwellingLoads, year: int, more: int
) -> None:
    # A fourth appliance may lower the sum: 75 % of four can be less than three in full. That is the code's own step.
    code = load_edition(year)
    first = Appliance("first", Fraction(500))
    before = replace(house, appliances=(first, *house.appliances))
    after = replace(house, appliances=(replace(first, va=first.va + more), *house.appliances))

    assert reckon_dwelling_load(after, code).total_va >= reckon_dwelling_load(before, code).total_va


@given(a_house(), st.sampled_from(YEARS), st.integers(1, 9000))
def test_one_more_charger_adds_at_most_itself_and_never_less_than_nothing(
    house: DwellingLoads, year: int, charger: int
) -> None:
    code = load_edition(year)
    more = replace(house, chargers=(*house.chargers, Charger(Fraction(charger))))

    added = reckon_dwelling_load(more, code).total_va - reckon_dwelling_load(house, code).total_va

    assert 0 <= added <= max(charger, 7200)


@given(a_house(), st.sampled_from(YEARS))
def test_the_steps_change_nothing_and_end_at_the_total(house: DwellingLoads, year: int) -> None:
    code, work = load_edition(year), Work()

    silent, shown = reckon_dwelling_load(house, code, SILENT), reckon_dwelling_load(house, code, work)

    assert silent == shown
    totals = [step.value for step in work.steps if step.text.startswith("Calculated load")]
    assert totals == [shown.total_va]
    assert all(step.text and (step.value is not None or not step.applied) for step in work.steps)


@given(a_house(), st.sampled_from(YEARS))
def test_the_parts_add_to_the_total(house: DwellingLoads, year: int) -> None:
    found = reckon_dwelling_load(house, load_edition(year))

    assert sum((part.demand_va for part in found.parts), Fraction(0)) == found.total_va


@given(a_house(), st.sampled_from(YEARS))
def test_the_optional_method_never_exceeds_nameplate(house: DwellingLoads, year: int) -> None:
    found = reckon_dwelling_load(replace(house, method=Method.OPTIONAL), load_edition(year))

    assert found.total_va <= found.connected_va


@given(a_house(), st.integers(3, 80), st.sampled_from(YEARS))
def test_the_multifamily_method_scales_connected_load_by_the_table(
    house: DwellingLoads, units: int, year: int
) -> None:
    cooking = house.cooking or (CookingUnit(CookingKind.RANGE, Fraction(8000)),)
    block = replace(house, method=Method.OPTIONAL, units=units, cooking=cooking)
    (percent,) = (
        row["percent"]
        for row in TABLES["multifamily_220_84"]["table"]
        if row["from"] <= units <= (row["to"] or units)
    )

    found = reckon_dwelling_load(block, load_edition(year))

    assert found.total_va == pct(percent, found.connected_va)
    assert found.connected_va % units == 0
    assert found.permitted == block.has_hvac


@given(a_house(), st.integers(2, 30), st.sampled_from(YEARS))
def test_many_units_never_exceed_so_many_single_ones(house: DwellingLoads, units: int, year: int) -> None:
    code = load_edition(year)
    one = replace(
        house, method=Method.STANDARD, appliances=(), cooking=tuple(u for u in house.cooking if u.va > 8750)
    )

    many = reckon_dwelling_load(replace(one, units=units), code)

    assert many.total_va <= units * reckon_dwelling_load(one, code).total_va


@given(a_house(), st.sampled_from(YEARS))
def test_two_units_take_the_lesser_of_both_ways(house: DwellingLoads, year: int) -> None:
    code = load_edition(year)
    standard = reckon_dwelling_load(replace(house, method=Method.STANDARD, units=2), code).total_va
    three = reckon_dwelling_load(replace(house, method=Method.OPTIONAL, units=3), code)

    found = reckon_dwelling_load(replace(house, method=Method.OPTIONAL, units=2), code).total_va

    assert found <= standard
    if house.cooking:
        assert found == min(standard, three.total_va)


# --- Boundaries and editions ------------------------------------------------------------------------------


def appliances(*ratings: int, **more: Any) -> DwellingLoads:
    return DwellingLoads(
        appliances=tuple(Appliance(f"no. {i}", Fraction(va), **more) for i, va in enumerate(ratings))
    )


@pytest.mark.parametrize(
    ("year", "ratings", "total"),
    [
        (2023, (1000, 1000, 1000), 3000),
        (2023, (1000, 1000, 1000, 1000), 3000),
        (2023, (1000, 1000, 1000, 500), 2625),  # equal to 500 VA: counts
        (2023, (1000, 1000, 1000, 499), 3499),  # just under: three count
        (2020, (1000, 1000, 1000, 499), 3499),
        (2017, (1000, 1000, 1000, 499), Fraction("2624.25")),  # 2017 has no least size
        (2023, (1000, 1000, 1000, 1000, 300), 3300),  # the small one in full beside four
        (2017, (1000, 1000, 1000, 1000, 300), 3225),
    ],
)
def test_four_appliances_of_a_size_that_counts_earn_75_percent(
    year: int, ratings: tuple[int, ...], total: int
) -> None:
    assert reckon_dwelling_load(appliances(*ratings), load_edition(year)).total_va == total


def test_a_quarter_horsepower_counts_although_its_rating_is_small() -> None:
    three = appliances(1000, 1000, 1000).appliances
    small = Appliance("fan", Fraction(400), hp=Fraction(1, 4))
    house = DwellingLoads(appliances=(*three, small))

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == Fraction(75, 100) * 3400
    weaker = DwellingLoads(appliances=(*three, replace(small, hp=Fraction(1, 5))))
    assert reckon_dwelling_load(weaker, load_edition(2023)).total_va == 3400


def test_an_appliance_that_is_not_fastened_does_not_count() -> None:
    three = appliances(1000, 1000, 1000).appliances
    house = DwellingLoads(appliances=(*three, Appliance("microwave", Fraction(1500), fastened=False)))

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == 4500


@pytest.mark.parametrize(
    ("year", "va", "total"),
    [
        (2017, 5000, 5000),
        (2020, 5000, 5000),
        (2023, 7199, 7200),
        (2023, 7200, 7200),
        (2023, 7201, 7201),
        (2026, 5000, 7200),
    ],
)
def test_a_charger_counts_at_least_7200_va_from_2023(year: int, va: int, total: int) -> None:
    house = DwellingLoads(chargers=(Charger(Fraction(va)),))

    assert reckon_dwelling_load(house, load_edition(year)).total_va == total


@pytest.mark.parametrize(
    ("year", "total"), [(2017, 10_000 + 4480), (2023, 10_000 + 4480), (2026, 8000 + 800 + 11_200)]
)
def test_a_charger_stands_in_the_general_load_until_2026(year: int, total: int) -> None:
    # 10,000 VA of appliances and an 11,200 VA charger: 40 % of the tail, or in full apart from it.
    house = DwellingLoads(
        method=Method.OPTIONAL,
        appliances=(Appliance("heater", Fraction(10_000)),),
        chargers=(Charger(Fraction(11_200)),),
    )

    assert reckon_dwelling_load(house, load_edition(year)).total_va == total


@pytest.mark.parametrize(
    ("year", "general", "total"),
    [
        (2023, 9999, 9999),
        (2023, 10_000, 10_000),
        (2023, 10_005, 10_002),
        (2026, 8000, 8000),
        (2026, 8005, 8002),
    ],
)
def test_the_optional_method_counts_its_first_part_in_full(year: int, general: int, total: int) -> None:
    house = replace(appliances(general), method=Method.OPTIONAL)

    assert reckon_dwelling_load(house, load_edition(year)).total_va == total


@pytest.mark.parametrize(("units", "percent"), [(1, 65), (3, 65), (4, 40), (5, 40)])
def test_four_separately_controlled_heaters_count_40_percent(units: int, percent: int) -> None:
    house = DwellingLoads(method=Method.OPTIONAL, heat_va=Fraction(9000), heat_units=units)

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == 90 * percent


@pytest.mark.parametrize(
    ("heat", "cool", "total"), [(5000, 4999, 5000), (5000, 5000, 5000), (5000, 5001, 5001), (0, 0, 0)]
)
def test_only_the_larger_of_heat_and_cooling_counts(heat: int, cool: int, total: int) -> None:
    house = DwellingLoads(heat_va=Fraction(heat), cool_va=Fraction(cool))

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == total


@pytest.mark.parametrize(
    ("year", "total"), [(2017, 10_000 + 250), (2020, 10_000 + 1500), (2023, 10_000 + 1500)]
)
def test_a_compressor_that_is_left_out_still_is_the_largest_motor_from_2020(year: int, total: int) -> None:
    # 220.60: 25 % of 6,000 VA although 10,000 VA of heat count; in 2017 the 1,000 VA disposer is the largest.
    house = DwellingLoads(
        heat_va=Fraction(10_000), cool_va=Fraction(6000), cool_motor_va=Fraction(6000),
        appliances=(Appliance("disposer", Fraction(1000), motor=True),),
    )  # fmt: skip

    assert reckon_dwelling_load(house, load_edition(year)).total_va == total + 1000


def test_a_compressor_that_counts_adds_a_quarter() -> None:
    house = DwellingLoads(cool_va=Fraction(6440), cool_motor_va=Fraction(6440))

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == 8050


def test_cooling_without_a_named_compressor_says_that_a_quarter_may_be_missing() -> None:
    found = reckon_dwelling_load(DwellingLoads(cool_va=Fraction(6440)), load_edition(2023))

    assert found.total_va == 6440
    assert any("compressor" in note for note in found.notes)


@pytest.mark.parametrize(
    ("locked_out", "total"), [(False, 5760 + 9750), (True, 9750)]
)  # Annex D D2(c): the pump is left out where both never run together
def test_a_pump_that_is_locked_out_is_not_added_to_its_supplement(locked_out: bool, total: int) -> None:
    house = DwellingLoads(
        method=Method.OPTIONAL,
        heat_pump_va=Fraction(5760),
        heat_va=Fraction(15_000),
        pump_locked_out=locked_out,
    )

    assert reckon_dwelling_load(house, load_edition(2023)).total_va == total


@pytest.mark.parametrize(
    ("added", "total"), [(None, 8000 + 1600 + 6000), (True, 8000 + 1600 + 6000), (False, 8000 + 4000)]
)
def test_added_cooling_of_an_existing_dwelling_counts_in_full(added: bool | None, total: int) -> None:
    house = replace(appliances(12_000), method=Method.EXISTING, cool_va=Fraction(6000), hvac_added=added)

    found = reckon_dwelling_load(house, load_edition(2023))

    assert found.total_va == total
    assert bool(found.notes) is (added is False)


@pytest.mark.parametrize(
    ("exact", "whole"),
    [(Fraction("77.49"), 77), (Fraction("77.5"), 78), (Fraction("89.5"), 90), (Fraction("2.5"), 3)],
)
def test_half_an_ampere_counts_up(exact: Fraction, whole: int) -> None:
    found = reckon_dwelling_load(DwellingLoads(heat_va=exact * 240), load_edition(2023))

    assert (found.amperes_exact, found.amperes) == (exact, whole)


@pytest.mark.parametrize(
    ("amperes", "reduced"), [(199, 199), (200, 200), (201, Fraction("200.7")), (300, 270)]
)
def test_the_neutral_above_200_amperes_counts_70_percent(amperes: int, reduced: Fraction) -> None:
    house = appliances(amperes * 240)

    assert reckon_dwelling_load(house, load_edition(2023)).neutral.a == reduced
    wye = replace(house, system=System.WYE_THREE_WIRE, volts=Fraction(208))
    assert reckon_dwelling_load(wye, load_edition(2023)).neutral.a == amperes


def test_a_building_without_electric_cooking_takes_the_lesser_with_8_kw_supposed() -> None:
    # 3 units of 4,000 VA heat and 3,000 VA heaters: standard 12,000 + 9,000 (three appliances, in full) = 21,000;
    # with 8 kW each (12,000 + 9,000 + 24,000) x 45 % = 20,250.
    block = DwellingLoads(
        method=Method.OPTIONAL,
        units=3,
        heat_va=Fraction(4000),
        appliances=(Appliance("water heater", Fraction(3000)),),
    )

    assert reckon_dwelling_load(block, load_edition(2023)).total_va == 20_250
    small = replace(block, appliances=())
    assert reckon_dwelling_load(small, load_edition(2023)).total_va == 12_000


def test_a_multifamily_dwelling_without_heat_or_cooling_is_said_to_miss_the_condition() -> None:
    found = reckon_dwelling_load(
        DwellingLoads(
            method=Method.OPTIONAL, units=3, cooking=(CookingUnit(CookingKind.RANGE, Fraction(8000)),)
        ),
        load_edition(2023),
    )

    assert not found.permitted
    assert "220.84" in found.unmet[0]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"units": 0}, "expected units of 1 or more"),
        ({"volts": Fraction(0)}, "expected volts above 0"),
        ({"method": Method.EXISTING, "units": 2}, "expected units of 1 with method 'existing'"),
        ({"units": 2, "motors": (Motor("pump", Fraction(1), leg=Leg.A),)}, "expected no legs"),
        ({"motors": (Motor("pump", Fraction(1), leg=Leg.A, only_240=True),)}, "expected leg 'AB' for 'pump'"),
        (
            {"system": System.WYE_FOUR_WIRE, "motors": (Motor("pump", Fraction(1), leg=Leg.A),)},
            "expected the system",
        ),
    ],
)
def test_facts_that_contradict_each_other_are_refused(change: dict[str, Any], message: str) -> None:
    with pytest.raises(LoadError, match=message):
        DwellingLoads(**change)


@pytest.mark.parametrize("year", YEARS)
def test_the_articles_are_those_of_the_edition(year: int) -> None:
    work = Work()
    house = DwellingLoads(
        floor_area_ft2=Fraction(1500), cooking=(CookingUnit(CookingKind.RANGE, Fraction(12_000)),)
    )

    reckon_dwelling_load(house, load_edition(year), work)

    chapter = "120" if year == 2026 else "220"
    assert all(cite.startswith((f"{chapter}.", f"Table {chapter}.", "210.11")) for cite in work.cites)
    assert work.confidence == {2026: "carry"}.get(year, "one")
