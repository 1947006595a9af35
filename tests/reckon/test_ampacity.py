"""Ampacity: the tables as published, each rule at its boundary, and a recomputation straight from the tables."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling.supply import CableKind, ConductorMaterial
from server.editions import YEARS, load_edition
from server.reckon.ampacity import ambient_factor, reckon_ampacity, table_ampacity
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import ConductorError, circular_mils, sizes
from server.reckon.conductors_together import table_adjustment
from server.reckon.work import Work

TABLES = json.loads((Path(__file__).parents[1] / "data" / "conductors" / "conductor_tables.json").read_text())
"""The ampacity, correction and adjustment tables as published; source in the file."""
CODE = load_edition(2023)
COPPER, ALUMINUM = ConductorMaterial.COPPER, ConductorMaterial.ALUMINUM
COLUMNS = (60, 75, 90)


def allowed(**run: object) -> Fraction:
    return reckon_ampacity(ConductorRun(**run), CODE).allowed_a  # type: ignore[arg-type]


def derated(**run: object) -> Fraction:
    return reckon_ampacity(ConductorRun(**run), CODE).derated_a  # type: ignore[arg-type]


# the tables


@pytest.mark.parametrize("year", YEARS)
def test_every_published_ampacity_is_ours(year: int) -> None:
    code = load_edition(year)
    seen = 0
    for awg, by_material in TABLES["ampacity"].items():
        for material in (COPPER, ALUMINUM):
            for column, amperes in zip(COLUMNS, by_material[material.value] or (), strict=False):
                assert table_ampacity(awg, material, column, code) == amperes, (awg, material, column)
                seen += 1
    assert seen == 75


def test_copper_clad_aluminum_stands_with_aluminum() -> None:
    assert table_ampacity("12", ConductorMaterial.COPPER_CLAD, 75, CODE) == 20


def test_the_table_rises_with_size_and_column_and_copper_is_above_aluminum() -> None:
    for material in (COPPER, ALUMINUM):
        first = {COPPER: "14", ALUMINUM: "12"}[material]
        listed = sizes(CODE)[sizes(CODE).index(first) :]
        for column in COLUMNS:
            row = [table_ampacity(awg, material, column, CODE) for awg in listed]
            assert row == sorted(row)
            assert len(set(row)) == len(row)
        for awg in listed:
            assert (
                table_ampacity(awg, material, 60, CODE)
                < table_ampacity(awg, material, 75, CODE)
                < table_ampacity(awg, material, 90, CODE)
            )
            assert table_ampacity(awg, COPPER, 75, CODE) >= table_ampacity(awg, material, 75, CODE)


def band_top_f(band: str) -> int:
    return int(band.replace(" or less", "").split("-")[-1]) * 9 // 5 + 32


@pytest.mark.parametrize("year", YEARS)
def test_every_published_ambient_factor_is_ours(year: int) -> None:
    code = load_edition(year)
    for row in TABLES["ambient"]:
        came = ambient_factor(Fraction(band_top_f(row["c"])), row["column"], code)
        assert came == (None if row["factor"] is None else Fraction(repr(row["factor"]))), row
    assert len(TABLES["ambient"]) == 48


def test_the_ambient_factors_follow_the_codes_own_equation() -> None:
    """310.15(B)(1): the root of (Tc - Ta) / (Tc - 30), at the top of each band, as the table rounds it."""
    for column in COLUMNS:
        for top_f, factor in CODE.table(f"conductor.ambient_factor_{column}").items():
            ambient_c = (int(top_f) - 32) * 5 / 9
            assert float(factor) == pytest.approx(sqrt((column - ambient_c) / (column - 30)), abs=0.0051)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ambient_f", "factor"), [("50", "1.15"), ("-40", "1.15"), ("86", "1"), ("86.1", "0.96"), ("95", "0.96"),
                              ("95.5", "0.91"), ("185", "0.29"), ("185.1", None)],
)  # fmt: skip
def test_an_ambient_between_two_bands_takes_the_hotter(ambient_f: str, factor: str | None) -> None:
    assert ambient_factor(Fraction(ambient_f), 90, CODE) == (Fraction(factor) if factor else None)


@pytest.mark.parametrize(
    ("count", "factor"),
    [(0, "1"), (3, "1"), (4, "0.8"), (6, "0.8"), (7, "0.7"), (9, "0.7"), (10, "0.5"), (20, "0.5"), (21, "0.45"),
     (30, "0.45"), (31, "0.4"), (40, "0.4"), (41, "0.35"), (500, "0.35")],
)  # fmt: skip
def test_the_adjustment_changes_where_the_published_bands_do(count: int, factor: str) -> None:
    assert table_adjustment(count, CODE) == Fraction(factor)
    printed = [
        value for band, value in TABLES["adjustment"].items()
        if int(band.split("-")[0].rstrip("+")) <= count <= int(band.split("-")[-1].replace("41+", "9999"))
    ]  # fmt: skip
    assert count <= 3 or printed == [float(factor)]


# NM and UF cable


def test_nm_starts_from_90_and_ends_at_60() -> None:
    found = reckon_ampacity(ConductorRun("12", terminal_c=75), CODE)

    assert (found.start_c, found.table_a, found.derated_a) == (90, 30, 30)
    assert (found.cable_limit_a, found.terminal_limit_a, found.allowed_a) == (20, 25, 20)


def test_old_nm_with_60_degree_conductors_starts_from_60() -> None:
    assert derated(awg="12", insulation_c=60, current_carrying=6) == 16


def test_uf_is_a_60_degree_cable_unless_it_is_run_as_nm() -> None:
    run = ConductorRun("12", kind=CableKind.UF_B, insulation_c=90, current_carrying=4)

    assert reckon_ampacity(run, CODE).derated_a == 16
    assert reckon_ampacity(replace(run, as_nm=True), CODE).derated_a == 24
    assert reckon_ampacity(replace(run, as_nm=True), CODE).allowed_a == 20


# conductors together


@pytest.mark.parametrize(("length", "amperes"), [("24", 30), ("24.01", 24), (None, 24)])
def test_up_to_24_inches_together_need_no_adjustment(length: str | None, amperes: int) -> None:
    together = Fraction(length) if length else None

    assert derated(awg="12", current_carrying=4, together_in=together) == amperes


def test_spacing_spares_the_adjustment() -> None:
    assert derated(awg="12", current_carrying=8, spaced=True) == 30


@pytest.mark.parametrize(("cables", "amperes"), [(2, 30), (3, 24)])
def test_more_than_two_nm_cables_in_insulation_are_adjusted_at_any_length(cables: int, amperes: int) -> None:
    run = {"awg": "12", "current_carrying": 6, "together_in": Fraction(2), "cables": cables}

    assert derated(**run, in_insulation=True) == amperes
    assert derated(**run, sealed_hole=True) == amperes
    assert derated(**run) == 30


@pytest.mark.parametrize(("count", "amperes"), [(5, 30), (6, 24)])
def test_the_number_of_cables_is_taken_as_two_wire_ones_where_it_is_not_given(
    count: int, amperes: int
) -> None:
    assert derated(awg="12", current_carrying=count, together_in=Fraction(6), sealed_hole=True) == amperes


def test_insulation_asks_for_it_in_mc_and_ac_from_2020_on_and_not_in_2017() -> None:
    run = ConductorRun(
        "10", kind=CableKind.MC, current_carrying=6, together_in=Fraction(6), in_insulation=True
    )

    factors = [reckon_ampacity(run, load_edition(year)).adjustment for year in (2017, 2020, 2023)]

    assert factors == [1, Fraction("0.8"), Fraction("0.8")]


@pytest.mark.parametrize(
    ("change", "adjustment"),
    [
        ({}, "1"),
        ({"current_carrying": 21}, "0.6"),
        ({"awg": "10"}, "0.5"),
        ({"awg": "14"}, "0.5"),
        ({"material": ALUMINUM}, "0.5"),
        ({"jacketed": True}, "0.5"),
        ({"each_cable": 3}, "1"),
        ({"each_cable": 4}, "0.5"),
        ({"in_insulation": True}, "0.5"),
        ({"kind": CableKind.AC}, "1"),
        ({"kind": CableKind.NM_B}, "0.5"),
        ({"kind": CableKind.RACEWAY}, "0.5"),
    ],
)
def test_the_exemption_of_metal_cable_is_for_12_awg_copper_without_a_jacket(
    change: dict[str, object], adjustment: str
) -> None:
    run = replace(ConductorRun("12", kind=CableKind.MC, current_carrying=20), **change)  # type: ignore[arg-type]

    assert reckon_ampacity(run, CODE).adjustment == Fraction(adjustment)


def test_a_short_raceway_needs_no_adjustment() -> None:
    run = ConductorRun(
        "12", kind=CableKind.RACEWAY, current_carrying=9, together_in=Fraction(24), in_insulation=True
    )

    assert reckon_ampacity(run, CODE).adjustment == 1


def test_ac_in_insulation_is_limited_to_60_degrees_and_se_only_when_it_is_small() -> None:
    ac = ConductorRun("10", kind=CableKind.AC, in_insulation=True, terminal_c=75)
    small = ConductorRun("10", kind=CableKind.SE, in_insulation=True, terminal_c=75)
    large = replace(small, awg="8")

    assert reckon_ampacity(ac, CODE).allowed_a == 30
    assert reckon_ampacity(replace(ac, in_insulation=False), CODE).allowed_a == 35
    assert reckon_ampacity(small, CODE).allowed_a == 30
    assert reckon_ampacity(large, CODE).cable_limit_a is None
    assert reckon_ampacity(large, CODE).allowed_a == 50


# terminals


@pytest.mark.parametrize(("awg", "column"), [("14", 60), ("1", 60), ("1/0", 75), ("250", 75)])
def test_unmarked_terminals_are_60_degrees_up_to_1_awg_and_75_beyond(awg: str, column: int) -> None:
    found = reckon_ampacity(ConductorRun(awg, kind=CableKind.RACEWAY), CODE)

    assert found.terminal_c == column
    assert found.terminal_limit_a == table_ampacity(awg, COPPER, column, CODE)


def test_the_smallest_copper_has_one_column_only() -> None:
    assert allowed(awg="16", kind=CableKind.RACEWAY) == 18


@pytest.mark.parametrize(
    ("run", "field"),
    [
        ({"awg": "14", "material": ALUMINUM}, "awg"),
        ({"awg": "13"}, "awg"),
        ({"awg": "12", "insulation_c": 105}, "insulation_c"),
        ({"awg": "12", "terminal_c": 105}, "terminal_c"),
    ],
)
def test_what_the_table_does_not_have_is_refused_with_the_field(run: dict[str, object], field: str) -> None:
    with pytest.raises(ConductorError, match="expected") as caught:
        allowed(**run)

    assert caught.value.field == field


def test_an_ambient_too_hot_for_the_insulation_is_shown_as_zero() -> None:
    work = Work()

    found = reckon_ampacity(ConductorRun("12", kind=CableKind.UF_B, ambient_f=Fraction(140)), CODE, work)

    assert found.allowed_a == 0
    assert "140 °F is too hot for 60 °C insulation" in [step.text for step in work.steps]


def test_the_article_of_each_edition_is_cited() -> None:
    cited = []
    for year in (2017, 2020, 2023):
        work = Work()
        reckon_ampacity(ConductorRun("12", current_carrying=4), load_edition(year), work)
        cited.append(work.cites[:3])

    assert cited == [
        ("Table 310.15(B)(16)", "Table 310.15(B)(2)(a)", "Table 310.15(B)(3)(a)"),
        ("Table 310.16", "Table 310.15(B)(1)", "Table 310.15(C)(1)"),
        ("Table 310.16", "Table 310.15(B)(1)(1)", "Table 310.15(C)(1)"),
    ]


# against a recomputation straight from the tables

RUNS = st.builds(
    ConductorRun,
    awg=st.sampled_from([awg for awg in TABLES["ampacity"] if awg != "14"]),
    material=st.sampled_from([COPPER, ALUMINUM]),
    kind=st.sampled_from([CableKind.NM_B, CableKind.RACEWAY, CableKind.UF_B]),
    insulation_c=st.sampled_from(COLUMNS),
    terminal_c=st.sampled_from(COLUMNS),
    ambient_f=st.integers(-20, 220).map(Fraction),
    current_carrying=st.integers(0, 60),
)


def recomputed(run: ConductorRun) -> float:
    """310.15 read anew from the published tables, in floating point."""
    start = 60 if run.kind is CableKind.UF_B else run.insulation_c
    row = dict(zip(COLUMNS, TABLES["ampacity"][run.awg][run.material.value], strict=True))
    factor = 0.0
    for band in TABLES["ambient"]:
        if band["column"] == start and band["factor"] and run.ambient_f <= band_top_f(band["c"]):  # type: ignore[operator]
            factor = max(factor, band["factor"])
    count = run.current_carrying or 0
    adjust = 1.0
    for band, value in TABLES["adjustment"].items():
        if count >= int(band.split("-")[0].rstrip("+")):
            adjust = value
    limits = [row[start or 90] * factor * adjust, row[run.terminal_c or 60]]
    if run.kind in (CableKind.NM_B, CableKind.UF_B):
        limits.append(row[60])
    return min(limits)


@given(RUNS)
def test_the_ampacity_is_what_the_tables_give_when_read_anew(run: ConductorRun) -> None:
    assert float(reckon_ampacity(run, CODE).allowed_a) == pytest.approx(recomputed(run), abs=1e-9)


MORE_RUNS = st.builds(
    replace,
    RUNS,
    kind=st.sampled_from(list(CableKind)),
    spaced=st.booleans(),
    in_insulation=st.booleans(),
    sealed_hole=st.booleans(),
    together_in=st.sampled_from([None, Fraction(12), Fraction(36)]),
    cables=st.none() | st.integers(1, 6),
    as_nm=st.booleans(),
)


@given(MORE_RUNS, st.sampled_from(YEARS))
def test_showing_the_work_changes_no_answer_and_the_last_step_is_the_answer(
    run: ConductorRun, year: int
) -> None:
    code, work = load_edition(year), Work()

    shown = reckon_ampacity(run, code, work)

    assert shown == reckon_ampacity(run, code)
    assert work.steps[-1].value == shown.allowed_a
    assert all(step.text and step.cites for step in work.steps if step.applied)
    # Every run is either adjusted with a factor or told why it is not.
    assert (shown.adjustment == 1) is any(
        not step.applied and "no adjustment" in step.text for step in work.steps
    )


@given(RUNS, st.integers(1, 10), st.integers(1, 30))
def test_more_conductors_or_more_heat_never_raise_the_ampacity(
    run: ConductorRun, more: int, hotter: int
) -> None:
    before = reckon_ampacity(run, CODE).allowed_a
    crowded = replace(run, current_carrying=(run.current_carrying or 0) + more)
    hot = replace(run, ambient_f=(run.ambient_f or 86) + hotter)

    assert reckon_ampacity(crowded, CODE).allowed_a <= before
    assert reckon_ampacity(hot, CODE).allowed_a <= before


@given(RUNS)
def test_a_larger_conductor_never_carries_less(run: ConductorRun) -> None:
    listed = [awg for awg in TABLES["ampacity"] if awg != "14"]
    larger = [awg for awg in listed if circular_mils(awg, CODE) > circular_mils(run.awg, CODE)]

    for awg in larger[:1]:
        assert reckon_ampacity(replace(run, awg=awg), CODE).allowed_a >= reckon_ampacity(run, CODE).allowed_a
