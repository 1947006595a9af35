"""Dryer table, lighting tiers and circuits: against the gathered tables and at their edges."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.editions import load_edition
from server.reckon.dryer_demand import dryer_demand, dryer_percent
from server.reckon.dwelling_loads import DwellingLoads
from server.reckon.lighting_load import demand_on_lighting, lighting_and_circuits, lighting_circuits
from server.reckon.work import Work

TABLES: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "data" / "loads" / "tables.json").read_text(encoding="utf-8")
)["tables"]
CODE = load_edition(2023)
YEARS = (2017, 2020, 2023, 2026)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("number", "percent"), TABLES["dryers_table"]["percent_by_count"].items())
def test_the_dryer_table_has_the_gathered_percentages(number: str, percent: float, year: int) -> None:
    assert dryer_percent(int(number), load_edition(year)) == Fraction(str(percent))


@pytest.mark.parametrize(("va", "counts"), [(4999, 5000), (5000, 5000), (5001, 5001)])
def test_a_dryer_counts_at_least_5000_va(va: int, counts: int) -> None:
    assert dryer_demand([Fraction(va)], CODE) == counts


def test_five_dryers_count_85_percent() -> None:
    assert dryer_demand([Fraction(4000)] * 5, CODE) == 21_250


@given(st.integers(1, 200))
def test_one_more_dryer_never_counts_less(number: int) -> None:
    assert dryer_demand([Fraction(5000)] * number, CODE) <= dryer_demand(
        [Fraction(5000)] * (number + 1), CODE
    )


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("connected", "expected"),
    [(0, 0), (2999, 2999), (3000, 3000), (3001, Fraction("3000.35")), (120_000, 43_950), (120_001, Fraction("43950.25")),
     (220_800, 69_150)],
)  # fmt: skip
def test_lighting_tiers_at_their_edges(connected: int, expected: int | Fraction, year: int) -> None:
    assert demand_on_lighting(Fraction(connected), load_edition(year)) == expected


@given(st.integers(0, 500_000), st.integers(0, 500_000))
def test_more_lighting_never_counts_less(one: int, other: int) -> None:
    small, large = sorted((one, other))

    assert demand_on_lighting(Fraction(small), CODE) <= demand_on_lighting(Fraction(large), CODE)


@pytest.mark.parametrize(("year", "unit_load"), [(2017, 3), (2020, 3), (2023, 3), (2026, 2)])
def test_the_unit_load_of_a_service_follows_the_edition(year: int, unit_load: int) -> None:
    loads = DwellingLoads(floor_area_ft2=Fraction(1000), small_appliance_circuits=0, laundry_circuits=0)

    assert lighting_and_circuits(loads, load_edition(year)) == 1000 * unit_load


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("area", "of_15", "of_20"),
    [(600, 1, 1), (601, 2, 1), (800, 2, 1), (801, 2, 2), (1500, 3, 2), (2000, 4, 3), (3000, 5, 4)],
)
def test_circuits_are_counted_at_3_va_in_every_edition(area: int, of_15: int, of_20: int, year: int) -> None:
    loads = DwellingLoads(floor_area_ft2=Fraction(area))
    code = load_edition(year)

    assert (lighting_circuits(loads, 15, code), lighting_circuits(loads, 20, code)) == (of_15, of_20)


def test_a_dwelling_without_named_circuits_gets_the_least_ones() -> None:
    assert lighting_and_circuits(DwellingLoads(floor_area_ft2=Fraction(1500)), CODE) == 4500 + 3000 + 1500


def test_without_a_floor_area_no_circuits_are_supposed() -> None:
    assert lighting_and_circuits(DwellingLoads(), CODE) == 0


def test_the_steps_read_like_an_example() -> None:
    work = Work()

    demand_on_lighting(
        lighting_and_circuits(DwellingLoads(floor_area_ft2=Fraction(1500)), CODE, work), CODE, work
    )

    assert [(step.text, step.value, step.unit, step.cites) for step in work.steps] == [
        ("General lighting and receptacles: 1,500 ft² × 3 VA", 4500, "VA", "220.41"),
        ("Small-appliance circuits: 2 × 1,500 VA", 3000, "VA", "220.52(A), (B)"),
        ("Laundry circuits: 1 × 1,500 VA", 1500, "VA", "220.52(A), (B)"),
        (
            "Lighting, small-appliance and laundry together: 4,500 + 3,000 + 1,500",
            9000,
            "VA",
            "220.52(A), (B)",
        ),
        ("First 3,000 VA at 100 %", 3000, "VA", "Table 220.45"),
        ("Remainder 6,000 VA at 35 %", 2100, "VA", "Table 220.45"),
        ("Lighting, small-appliance and laundry after demand", 5100, "VA", "Table 220.45"),
    ]
