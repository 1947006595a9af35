"""Ratings, conductors, grounding and bonding: against the gathered tables, cell by cell, and at their edges.

Tables: tests/data/loads/tables.json (sources there). Cells marked in the notes of the edition files as from memory are
checked against the same gathered figures only.
"""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling.supply import ConductorMaterial
from server.editions import load_edition
from server.reckon.ampacity import table_ampacity
from server.reckon.conductor_sets import ConductorSet, conductor_set, smallest_carrying
from server.reckon.conductor_sizes import circular_mils, sizes
from server.reckon.dwelling_loads import LoadError, Supply, System
from server.reckon.grounding_conductors import bonding_jumper, electrode_conductor, equipment_conductor
from server.reckon.service_sizing import size_grounding, size_service, standard_rating
from server.reckon.work import Work

TABLES: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "data" / "loads" / "tables.json").read_text(encoding="utf-8")
)["tables"]
COPPER, ALUMINUM = ConductorMaterial.COPPER, ConductorMaterial.ALUMINUM
CODE = load_edition(2023)
YEARS = (2017, 2020, 2023, 2026)
# 240.6(A), as ExpertCE and EC&M list it, typed here again.
STANDARD = [15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450,
            500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000]  # fmt: skip


def one(size: str) -> ConductorSet:
    return ConductorSet(size, 1, Fraction(0))


def sizes_of_a_row(text: str) -> list[str]:
    """The sizes that a row's words take in: ``1 or 1/0``, ``2 or smaller``, ``over 3/0 thru 350``, ``over 1100``."""
    every = [size for size in sizes(CODE) if size not in ("18", "16")]
    area = {size: circular_mils(size, CODE) for size in every}

    def limit(word: str) -> Fraction:
        return area.get(word) or Fraction(word) * 1000

    if " or smaller" in text:
        return [size for size in every if area[size] <= limit(text.removesuffix(" or smaller"))]
    if text.startswith("over ") and " thru " in text:
        low, high = text.removeprefix("over ").split(" thru ")
        return [size for size in every if limit(low) < area[size] <= limit(high)]
    if text.startswith("over "):
        return [size for size in every if area[size] > limit(text.removeprefix("over "))]
    first, last = text.split(" or ")
    return [size for size in every if limit(first) <= area[size] <= limit(last)]


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    "row", TABLES["dwelling_service_conductors"]["table"], ids=lambda row: str(row["rating_A"])
)
def test_every_cell_of_the_dwelling_table_comes_out(row: dict[str, Any], year: int) -> None:
    code = load_edition(year)

    copper = size_service(row["rating_A"], COPPER, code)
    aluminum = size_service(row["rating_A"], ALUMINUM, code)

    assert (copper.rating_a, str(copper.conductor)) == (row["rating_A"], row["copper"])
    assert (aluminum.rating_a, str(aluminum.conductor)) == (row["rating_A"], row["aluminium"])


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("row", TABLES["gec_250_66"]["table"], ids=lambda row: row["copper_service"])
def test_every_row_of_the_electrode_table_comes_out(row: dict[str, str], year: int) -> None:
    code = load_edition(year)
    for material, column in ((COPPER, "copper_service"), (ALUMINUM, "aluminium_service")):
        for size in sizes_of_a_row(row[column]):
            assert electrode_conductor(one(size), material, code) == row["gec_copper"], size
            assert electrode_conductor(one(size), material, code, of=ALUMINUM) == row["gec_aluminium"], size


@pytest.mark.parametrize(
    "row", TABLES["bonding_250_102C1"]["table"][:-1], ids=lambda row: row["copper_ungrounded"]
)
def test_every_row_of_the_jumper_table_comes_out(row: dict[str, str]) -> None:
    for material, column in ((COPPER, "copper_ungrounded"), (ALUMINUM, "aluminium_ungrounded")):
        for size in sizes_of_a_row(row[column]):
            assert bonding_jumper(one(size), material, CODE) == row["jumper_copper"], size
            assert bonding_jumper(one(size), material, CODE, of=ALUMINUM) == row["jumper_aluminium"], size


@pytest.mark.parametrize(
    ("sets", "size", "jumper"),
    [
        (2, "500", "2/0"),  # 1,000 kcmil: still in the table
        (2, "600", "3/0"),  # 1,200 kcmil x 12.5 % = 150 kcmil
        (4, "500", "250"),  # 2,000 kcmil x 12.5 % = 250 kcmil (NEC Digest extract, Mike Holt Forum)
        (3, "600", "250"),  # 1,800 x 12.5 % = 225 kcmil, next size 250 (the same forum, for aluminum)
    ],
)
def test_beyond_the_table_the_jumper_has_an_eighth_of_the_area(sets: int, size: str, jumper: str) -> None:
    assert bonding_jumper(ConductorSet(size, sets, Fraction(0)), COPPER, CODE) == jumper


@pytest.mark.parametrize("row", TABLES["egc_250_122"]["table"], ids=lambda row: str(row["ocpd_A_max"]))
def test_every_row_of_the_equipment_table_comes_out(row: dict[str, Any]) -> None:
    rating = row["ocpd_A_max"]

    assert equipment_conductor(rating, CODE) == row["copper"]
    assert equipment_conductor(rating, CODE, of=ALUMINUM) == row["aluminium"]
    assert equipment_conductor(rating + 1, CODE) != row["copper"]


def test_beyond_the_equipment_table_there_is_no_answer() -> None:
    assert equipment_conductor(2001, CODE) is None


@pytest.mark.parametrize("year", YEARS)
def test_each_standard_rating_is_its_own_and_one_ampere_more_is_the_next(year: int) -> None:
    code = load_edition(year)

    for rating, following in pairwise(STANDARD):
        assert standard_rating(rating, code) == rating
        assert standard_rating(rating + Fraction(1, 100), code) == following
    with pytest.raises(LoadError, match="largest standard rating"):
        standard_rating(6001, code)


@given(st.fractions(1, 6000))
def test_a_standard_rating_is_the_next_standard_size_up(amperes: Fraction) -> None:
    expected = min(rating for rating in STANDARD if rating >= amperes) if amperes > 10 else 10

    assert standard_rating(amperes, CODE) == expected


@pytest.mark.parametrize(
    ("amperes", "rating"),
    [
        (1, 100),
        (99, 100),
        (100, 100),
        (Fraction("100.49"), 100),
        (Fraction("100.5"), 110),
        (101, 110),
        (200, 200),
        (201, 225),
    ],
)
def test_a_one_family_service_is_at_least_100_amperes(amperes: Fraction | int, rating: int) -> None:
    assert size_service(amperes, COPPER, CODE).rating_a == rating


def test_other_services_start_at_60_and_feeders_anywhere() -> None:
    assert size_service(30, COPPER, CODE, one_family=False).rating_a == 60
    assert size_service(28, COPPER, CODE, supply=Supply.FEEDER).rating_a == 30


@given(st.integers(1, 6000), st.booleans(), st.sampled_from([COPPER, ALUMINUM]), st.booleans())
def test_conductors_carry_the_load_and_the_rating_protects_them(
    amperes: int, whole_dwelling: bool, material: ConductorMaterial, feeder: bool
) -> None:
    size = size_service(
        amperes,
        material,
        CODE,
        whole_dwelling=whole_dwelling,
        supply=Supply.FEEDER if feeder else Supply.SERVICE,
    )

    assert size.rating_a >= amperes
    assert size.conductor.ampacity_a >= size.least_ampacity_a
    if whole_dwelling and 100 <= size.rating_a <= 400:
        assert size.conductor.ampacity_a * 100 >= 83 * size.rating_a
    else:
        assert size.conductor.ampacity_a >= amperes
        smaller = [rating for rating in STANDARD if rating >= size.conductor.ampacity_a]
        if size.rating_a <= 800:
            assert smaller[0] >= size.rating_a  # next standard rating up, 240.4(B)
        else:
            assert size.conductor.ampacity_a >= size.rating_a


@given(st.integers(1, 3000), st.integers(1, 3000), st.sampled_from([COPPER, ALUMINUM]))
def test_more_amperes_never_get_a_lighter_conductor(
    one_a: int, other_a: int, material: ConductorMaterial
) -> None:
    few, many = sorted((one_a, other_a))

    light = smallest_carrying(Fraction(few), material, CODE)
    heavy = smallest_carrying(Fraction(many), material, CODE)

    assert heavy.ampacity_a >= light.ampacity_a
    assert heavy.sets >= light.sets


@given(st.integers(1, 420))
def test_a_single_conductor_is_the_smallest_that_carries(amperes: int) -> None:
    found = smallest_carrying(Fraction(amperes), COPPER, CODE)

    assert found.sets == 1
    for size in sizes(CODE):
        if circular_mils(size, CODE) < circular_mils(found.size, CODE) and size not in ("18", "16"):
            assert table_ampacity(size, COPPER, 75, CODE) < amperes


@given(st.integers(40, 2000), st.integers(1, 2000))
def test_a_neutral_lies_between_its_least_size_and_the_lines(amperes: int, neutral_a: int) -> None:
    size = size_service(amperes, COPPER, CODE, whole_dwelling=amperes <= 400, neutral_a=neutral_a)
    assert size.neutral is not None
    neutral = circular_mils(size.neutral.size, CODE) * size.neutral.sets
    lines = circular_mils(size.conductor.size, CODE) * size.conductor.sets

    assert neutral <= lines
    assert neutral >= min(lines, circular_mils(size.grounding.bonding_jumper_copper, CODE))
    assert size.neutral.sets == size.conductor.sets


@pytest.mark.parametrize(
    ("system", "year", "conductor"),
    [
        (System.SPLIT_PHASE, 2017, "2/0"),
        (System.WYE_THREE_WIRE, 2017, "3/0"),  # the 83 % reach 208Y/120 only since 2020
        (System.WYE_THREE_WIRE, 2020, "2/0"),
        (System.WYE_FOUR_WIRE, 2023, "3/0"),
    ],
)
def test_where_83_percent_is_allowed(system: System, year: int, conductor: str) -> None:
    assert str(size_service(200, COPPER, load_edition(year), system=system).conductor) == conductor


def test_conductors_that_are_too_small_are_said_to_be() -> None:
    work = Work()

    small = size_service(200, COPPER, CODE, work, installed=conductor_set("1/0", 1, COPPER, CODE))
    enough = size_service(200, COPPER, CODE, installed=conductor_set("2/0", 1, COPPER, CODE))

    assert not small.adequate
    assert enough.adequate
    assert any("not enough" in step.text for step in work.steps)


def test_two_sets_of_3_0_are_added_up_for_grounding() -> None:
    # 2 x 167.8 = 335.6 kcmil: 2 AWG copper (The Building Code Forum).
    found = size_grounding(conductor_set("3/0", 2, COPPER, CODE), COPPER, CODE)

    assert (found.gec_copper, found.bonding_jumper_copper, found.bonding_jumper_aluminum) == ("2", "2", "1/0")


def test_the_steps_name_rating_conductor_and_articles() -> None:
    work = Work()

    size_service(78, COPPER, CODE, work, neutral_a=61)

    assert [(step.text, step.value) for step in work.steps][:3] == [
        ("Next standard rating for 78 A", 80),
        ("A dwelling's service disconnect is at least 100 A", 100),
        ("Ampacity for the whole dwelling: 83 % of 100 A", 83),
    ]
    assert {"230.79(C)", "Table 310.16", "Table 250.66", "Table 250.102(C)(1)", "Table 250.122"} <= set(
        work.cites
    )
