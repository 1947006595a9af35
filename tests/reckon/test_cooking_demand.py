"""Range table and notes: against the gathered table, at the columns' edges, and as plain arithmetic.

Table and notes: tests/data/loads/tables.json (sources there); notes 1-3 as in Annex D Example D6 and in ecmag part V.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.editions import load_edition
from server.reckon.cooking_demand import cooking_circuits, demand_of_ratings, table_row
from server.reckon.dwelling_loads import CookingKind, CookingUnit
from server.reckon.work import Work

TABLE: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "data" / "loads" / "tables.json").read_text(encoding="utf-8")
)["tables"]["ranges_table"]
CODE = load_edition(2023)
YEARS = (2017, 2020, 2023, 2026)
ratings = st.integers(1, 30_000).map(Fraction)


def demand(*ratings_va: int) -> Fraction:
    return demand_of_ratings([Fraction(va) for va in ratings_va], CODE)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("row", TABLE["rows"], ids=lambda row: str(row["n"]))
def test_the_table_has_the_gathered_cells(row: dict[str, int], year: int) -> None:
    found = table_row(row["n"], load_edition(year))

    assert (found.a_percent, found.b_percent, found.c_kw) == (row["A_percent"], row["B_percent"], row["C_kW"])


@pytest.mark.parametrize(
    ("number", "a", "b", "c"),
    [(26, 30, 24, 41), (30, 30, 24, 45), (31, 30, 22, 46), (40, 30, 22, 55), (41, 30, 20, "55.75"), (50, 30, 20, "62.5"),
     (51, 30, 18, "63.25"), (60, 30, 18, 70), (61, 30, 16, "70.75"), (200, 30, 16, 175)],
)  # fmt: skip
def test_rows_beyond_25_follow_their_formulas(number: int, a: int, b: int, c: int | str) -> None:
    found = table_row(number, CODE)

    assert (found.a_percent, found.b_percent, found.c_kw) == (a, b, Fraction(c))


@pytest.mark.parametrize("cell", TABLE["confirmed_cells"], ids=lambda cell: cell["cell"])
def test_cells_with_a_source_of_their_own_agree(cell: dict[str, Any]) -> None:
    column, number = cell["cell"].split()
    found = table_row(int(number), CODE)

    assert {"A": found.a_percent, "B": found.b_percent, "C": found.c_kw}[column] == cell["value"]


@pytest.mark.parametrize(
    ("va", "expected"),
    [
        (1750, 1750),  # not over 1 3/4 kW: nameplate
        (1751, Fraction("1400.8")),  # column A, 80 %
        (3499, Fraction("2799.2")),
        (3500, 2800),  # column B, 80 %
        (8750, 7000),
        (8751, 8000),  # column C
        (12_000, 8000),
        (12_499, 8000),  # less than half a kilowatt over 12
        (12_500, 8400),  # a major fraction counts as one
        (13_499, 8400),
        (13_500, 8800),
        (27_000, 14_000),
        (27_001, 27_001),  # beyond the notes: nameplate
    ],
)
def test_one_appliance_at_the_edges_of_the_columns(va: int, expected: int | Fraction) -> None:
    assert demand(va) == expected


def test_small_and_middle_ones_take_their_columns_where_that_is_less() -> None:
    # Two 3 kW ovens: 75 % of 6 kW; a 6 kW cooktop: 80 %. EC&M, August 2004.
    assert demand(6000, 3000, 3000) == 9300


def test_column_c_is_used_where_it_is_less() -> None:
    # A 12 kW range and two 6 kW units: column C for three is 14 kW; apart 8 + 65 % of 12 = 15.8 kW.
    assert demand(12_000, 6000, 6000) == 14_000


def test_twenty_eight_kw_ranges_take_column_c() -> None:
    # Annex D Example D4(b): 20 ranges of 8 kW count 35 kW on the neutral, not 28 % of 160 kW.
    assert demand(*[8000] * 20) == 35_000


def test_a_range_over_12_kw_leaves_small_ones_apart() -> None:
    work = Work()

    found = demand_of_ratings([Fraction(3000), Fraction(6000), Fraction(14_000)], CODE, work)

    assert found == 2400 + 4800 + 8800
    assert any(not step.applied and "column C" in step.text for step in work.steps)


def test_note_2_counts_smaller_ranges_as_12_kw() -> None:
    # 9 and 16 kW: average of 12 and 16 is 14: 11 kW + 10 %.
    assert demand(9000, 16_000) == 12_100


def test_nothing_demands_nothing() -> None:
    assert demand() == 0


in_the_table = st.integers(1751, 27_000).map(Fraction)


@given(in_the_table, in_the_table)
def test_one_larger_appliance_of_the_table_never_demands_less(one: Fraction, other: Fraction) -> None:
    # The step at 1 3/4 kW is the code's own: 1,750 VA counts in full, 1,751 VA at 80 %.
    small, large = sorted((one, other))

    assert demand_of_ratings([small], CODE) <= demand_of_ratings([large], CODE)


@given(st.lists(st.integers(8751, 27_000).map(Fraction), min_size=1, max_size=70), st.integers(8751, 27_000))
def test_one_more_large_range_never_demands_less_than_the_12_kw_table(
    many: list[Fraction], more: int
) -> None:
    # Notes 1 and 2 only ever add to column C, and column C rises with the number.
    assert demand_of_ratings([*many, Fraction(more)], CODE) >= table_row(len(many) + 1, CODE).c_kw * 1000


@given(st.lists(ratings, max_size=40))
def test_demand_never_exceeds_nameplate(many: list[Fraction]) -> None:
    found = demand_of_ratings(many, CODE)

    assert 0 <= found <= sum(many, Fraction(0))


@given(st.lists(ratings, max_size=12), st.randoms(use_true_random=False))
def test_the_order_of_the_appliances_does_not_matter(many: list[Fraction], random: Any) -> None:
    mixed = many[:]
    random.shuffle(mixed)

    assert demand_of_ratings(mixed, CODE) == demand_of_ratings(many, CODE)


def by_the_text(ratings_va: list[int]) -> Fraction:
    """The table and its notes, written again from the gathered rows, for kilowatt ratings over 1 3/4 through 27."""
    rows = {row["n"]: row for row in TABLE["rows"]}
    small = [va for va in ratings_va if va < 3500]
    middle = [va for va in ratings_va if 3500 <= va <= 8750]
    large = [va for va in ratings_va if va > 8750]

    def column_c(group: list[int]) -> Fraction:
        if not group:
            return Fraction(0)
        kw = Fraction(rows[len(group)]["C_kW"])
        average = Fraction(sum(max(va, 12_000) for va in group), len(group)) / 1000
        over = average - 12
        whole = over.numerator // over.denominator
        steps = whole + (1 if over - whole >= Fraction(1, 2) else 0)
        return 1000 * kw * (1 + Fraction(5, 100) * steps)

    apart = column_c(large)
    if small:
        apart += Fraction(rows[len(small)]["A_percent"], 100) * sum(small)
    if middle:
        apart += Fraction(rows[len(middle)]["B_percent"], 100) * sum(middle)
    if large and max(large) > 12_000:
        return apart
    return min(apart, column_c(ratings_va))


@given(st.lists(st.integers(1751, 27_000), min_size=1, max_size=25))
def test_an_independent_reading_of_the_notes_agrees(many: list[int]) -> None:
    assert demand_of_ratings([Fraction(va) for va in many], CODE) == by_the_text(many)


def unit(kind: CookingKind, va: int, circuit: str | None = None) -> CookingUnit:
    return CookingUnit(kind, Fraction(va), circuit=circuit)


@pytest.mark.parametrize(
    ("members", "va", "least_rating_a"),
    [
        ([unit(CookingKind.RANGE, 12_000)], 8000, 40),
        ([unit(CookingKind.RANGE, 8750)], 7000, 40),
        ([unit(CookingKind.RANGE, 8749)], Fraction("6999.2"), None),
        ([unit(CookingKind.OVEN, 5000)], 5000, None),
        ([unit(CookingKind.COOKTOP, 7000)], 7000, None),
        ([unit(CookingKind.COOKTOP, 8000, "k"), unit(CookingKind.OVEN, 6000, "k"), unit(CookingKind.OVEN, 6000, "k")], 11_200, None),
        ([unit(CookingKind.COOKTOP, 6000, "k"), unit(CookingKind.OVEN, 6000, "k")], 8000, None),
        # Three ovens, or no counter unit: note 4 does not reach, so nameplate.
        ([unit(CookingKind.COOKTOP, 4000, "k"), *[unit(CookingKind.OVEN, 4000, "k")] * 3], 16_000, None),
        ([unit(CookingKind.OVEN, 4000, "k"), unit(CookingKind.OVEN, 4000, "k")], 8000, None),
    ],
)  # fmt: skip
def test_branch_circuits_follow_note_4(
    members: list[CookingUnit], va: int | Fraction, least_rating_a: int | None
) -> None:
    (circuit,) = cooking_circuits(members, Fraction(240), CODE)

    assert (circuit.va, circuit.amperes) == (va, Fraction(va) / 240)
    assert circuit.least_rating_a == least_rating_a
