"""Overcurrent protection: standard ratings, small conductors, continuous load, receptacles, smallest conductor."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling.supply import CableKind, ConductorMaterial
from server.editions import load_edition
from server.reckon.ampacity import reckon_ampacity
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import ConductorError, sizes
from server.reckon.overcurrent import Overcurrent, ProtectedCircuit, reckon_overcurrent
from server.reckon.overcurrent_ratings import (
    Exemption,
    breaker_ratings,
    most_cord_load_a,
    most_device_a,
    receptacle_fault,
    small_conductor_limit_a,
    standard_ratings,
)
from server.reckon.work import Work

RATINGS = json.loads(
    (Path(__file__).parents[1] / "data" / "conductors" / "conductor_tables.json").read_text()
)["standard_ratings"]
"""240.6(A) as published; source in the file."""
CODE = load_edition(2023)
WIRE = CableKind.RACEWAY
CLAD = ConductorMaterial.COPPER_CLAD
ALUMINUM = ConductorMaterial.ALUMINUM
F = Fraction


def protected(awg: str = "12", year: int = 2023, **facts: object) -> Overcurrent:
    run = {name: facts.pop(name) for name in list(facts) if name in ConductorRun.__slots__}
    circuit = ProtectedCircuit(ConductorRun(awg, **run), **facts)  # type: ignore[arg-type]
    return reckon_overcurrent(circuit, load_edition(year))


# standard ratings


def test_the_standard_ratings_are_the_published_ones_with_10_a_from_2023_on() -> None:
    assert list(breaker_ratings(load_edition(2017))) == RATINGS["2017_2020"]
    assert list(breaker_ratings(CODE)) == sorted(RATINGS["2017_2020"] + RATINGS["added_2023"])
    assert set(standard_ratings(load_edition(2020))) == {
        *RATINGS["2017_2020"],
        *RATINGS["fuses_extra_2017_2020"],
    }
    assert set(standard_ratings(CODE)) == {*RATINGS["2017_2020"], 10, *RATINGS["fuses_extra_2023"]}


@pytest.mark.parametrize(
    ("ampacity", "receptacles", "most"),
    [
        ("30", 0, 30),
        ("30.01", 0, 35),
        ("29.99", 0, 30),
        ("31", 1, 35),
        ("31", 2, 30),
        ("55", 0, 60),
        ("800", 0, 800),
        ("760", 0, 800),
        ("801", 0, 800),
        ("999", 0, 800),
        ("1000", 0, 1000),
        ("0", 0, None),
    ],
)
def test_the_next_standard_size_up_is_taken_only_where_it_may_be(
    ampacity: str, receptacles: int, most: int | None
) -> None:
    run = ConductorRun("1000", kind=WIRE)

    assert most_device_a(F(ampacity), run, (F(20),) * receptacles, CODE) == most


def test_nothing_is_rounded_up_for_receptacles_so_that_a_bundled_12_awg_loses_its_20_a() -> None:
    """am15 of the published examples, with the receptacles that its 240.4(B) remark leaves open."""
    bundled = {"kind": WIRE, "current_carrying": 6, "ambient_f": F(124), "terminal_c": 75}

    assert protected("12", **bundled).max_device_a == 20
    assert protected("12", outlets=(F(20), F(20)), **bundled).max_device_a == 15


# small conductors


@pytest.mark.parametrize(
    ("awg", "material", "most"),
    [
        ("14", ConductorMaterial.COPPER, 15),
        ("12", ConductorMaterial.COPPER, 20),
        ("10", ConductorMaterial.COPPER, 30),
        ("8", ConductorMaterial.COPPER, 50),
        ("12", ALUMINUM, 15),
        ("10", ALUMINUM, 25),
        ("8", ALUMINUM, 40),
        ("12", CLAD, 15),
        ("10", CLAD, 25),
    ],
)
def test_small_conductors_have_their_own_limits(awg: str, material: ConductorMaterial, most: int) -> None:
    assert protected(awg, kind=WIRE, material=material, terminal_c=75).max_device_a == most


@pytest.mark.parametrize("exempt", list(Exemption))
def test_a_motor_or_air_conditioner_is_exempt_from_the_small_conductor_limit(exempt: Exemption) -> None:
    assert protected("12", kind=WIRE, terminal_c=75, exempt=exempt).max_device_a == 25
    assert protected("14", kind=WIRE, terminal_c=75, exempt=exempt).max_device_a == 20


def test_the_nameplate_of_exempt_equipment_may_allow_more() -> None:
    cooled = protected(
        "10",
        kind=WIRE,
        terminal_c=75,
        exempt=Exemption.AC,
        nameplate_most_a=F(45),
        load_a=F(28),
        device_a=F(45),
    )

    assert (cooled.max_device_a, cooled.allowed) == (45, True)
    assert not protected("10", kind=WIRE, terminal_c=75, load_a=F(28), device_a=F(45)).allowed


def test_18_and_16_awg_are_limited_and_no_general_wiring() -> None:
    tiny = protected("16", kind=WIRE, load_a=F(9), continuous_a=F(9))

    assert tiny.max_device_a == 10
    assert tiny.faults == (
        "16 AWG copper is smaller than 14 AWG, the least for general wiring",
        "16 AWG copper may be protected at 10 A at most, not 15 A",
        "16 AWG copper takes 8 A of continuous load at most",
    )
    assert tiny.min_conductor_awg == "14"


# continuous load


@pytest.mark.parametrize(
    ("load", "steady", "design", "device"),
    [
        (16, 16, 20, 20),
        (F("16.01"), F("16.01"), F("20.0125"), 25),
        (16, 8, 18, 20),
        (12, 12, 15, 15),
        (16, 0, 16, 20),
    ],
)
def test_the_continuous_part_counts_for_a_quarter_more(
    load: Fraction, steady: Fraction, design: Fraction, device: int
) -> None:
    found = protected("12", kind=WIRE, terminal_c=75, load_a=F(load), continuous_a=F(steady))

    assert (found.design_a, found.device_a) == (design, device)
    assert found.allowed is (device <= 20)


def test_only_a_continuous_part_is_the_whole_load() -> None:
    assert protected("12", continuous_a=F(16)).design_a == 20


def test_125_percent_is_before_adjustment_and_the_plain_load_after_it() -> None:
    """210.19(A)(1): 24 A continuous needs 30 A at the terminals, but only 24 A once four are together."""
    together = protected("10", kind=WIRE, terminal_c=75, current_carrying=7, load_a=F(24), continuous_a=F(24))

    # 40 x 0.70 = 28: less than 30, more than 24; the next rating up is 30.
    assert together.ampacity.allowed_a == 28
    assert together.allowed
    crowded = protected("10", kind=WIRE, terminal_c=75, current_carrying=10, load_a=F(24), continuous_a=F(24))
    assert crowded.faults == (
        "10 AWG copper may be protected at 20 A at most, not 30 A",
        "10 AWG copper carries 20 A as it is run, less than the load of 24 A",
    )


@pytest.mark.parametrize(("load", "allowed"), [("27.99", True), ("28", True), ("28.01", False)])
def test_the_next_size_up_does_not_let_a_conductor_carry_more_than_its_ampacity(
    load: str, allowed: bool
) -> None:
    """40 x 0.70 = 28 A may stand behind a 30 A device, but not under 28.01 A."""
    found = protected("10", kind=WIRE, terminal_c=75, current_carrying=7, load_a=F(load), device_a=F(30))

    assert found.allowed is allowed


def test_a_device_smaller_than_the_load_asks_for_is_named() -> None:
    found = protected("12", load_a=F(16), continuous_a=F(16), device_a=F(15))

    assert found.faults == ("a 15 A device is less than the 20 A that the load asks for",)
    assert found.why == "A 15 A device is less than the 20 A that the load asks for."


@pytest.mark.parametrize(
    "facts", [{"load_a": F(-1)}, {"device_a": F(-1)}, {"load_a": F(8), "continuous_a": F(9)}]
)
def test_loads_that_cannot_be_are_refused(facts: dict[str, Fraction]) -> None:
    with pytest.raises(ConductorError, match="expected"):
        ProtectedCircuit(ConductorRun("12"), **facts)  # type: ignore[arg-type]


# receptacles


@pytest.mark.parametrize(
    ("circuit", "outlets", "says"),
    [
        (20, (), None),
        (20, (20,), None),
        (20, (30,), None),
        (20, (15,), "a single receptacle on a 20 A circuit is rated at least that, not 15 A"),
        (20, (15, 15), None),
        (20, (15, 20), None),
        (20, (20, 30), "receptacles on a 20 A circuit are rated 15 or 20 A, not 30 A"),
        (15, (20, 20), "receptacles on a 15 A circuit are rated 15 A, not 20 A"),
        (40, (50, 50), None),
        (50, (40, 40), "receptacles on a 50 A circuit are rated 50 A, not 40 A"),
        (25, (20, 20), "two or more receptacles go on a circuit of 15, 20, 30, 40 or 50 A, not 25 A"),
        (10, (15, 15), "a 10 A circuit may not supply receptacles"),
    ],
)
def test_receptacle_ratings_go_with_the_circuit(
    circuit: int, outlets: tuple[int, ...], says: str | None
) -> None:
    fault = receptacle_fault(F(circuit), tuple(map(F, outlets)), CODE)

    assert (fault.text if fault else None) == says


def test_without_a_device_the_receptacles_choose_it() -> None:
    assert protected("12", outlets=(F(20), F(20))).device_a == 20
    assert protected("12", outlets=(F(15), F(15))).device_a == 15
    assert protected("12", load_a=F(5)).device_a == 10
    assert protected("12", load_a=F(5), outlets=(F(15),)).device_a == 15


@pytest.mark.parametrize(("receptacle", "most"), [(15, 12), (20, 16), (30, 24), (50, None)])
def test_one_of_several_receptacles_supplies_80_percent(receptacle: int, most: int | None) -> None:
    assert most_cord_load_a(F(receptacle), CODE) == most


# editions and dwellings


def test_14_awg_copper_clad_is_limited_to_10_a_from_2023_and_usable_from_2026() -> None:
    """240.4(D)(3) came in 2023, the smaller least size in 2026 (one source); 310.16 has no row for it yet."""
    run = ConductorRun("14", material=CLAD)

    limits = [small_conductor_limit_a(run, load_edition(year)) for year in (2017, 2020, 2023, 2026)]

    assert limits == [None, None, 10, 10]
    with pytest.raises(ConductorError, match="12 AWG or larger"):
        reckon_ampacity(run, CODE)


@pytest.mark.parametrize(
    ("awg", "most"),
    [("4", 100), ("3", 110), ("2", 125), ("1", 150), ("1/0", 175), ("2/0", 200), ("3/0", 225), ("4/0", 250),
     ("250", 300), ("350", 350), ("400", 400)],
)  # fmt: skip
def test_a_dwellings_feeder_is_sized_as_the_dwelling_table_prints_it(awg: str, most: int) -> None:
    """The copper column of Table 310.12(A), whose cells 83 percent of the rating reproduces."""
    whole = protected(awg, kind=CableKind.SE, terminal_c=75, whole_dwelling=True)
    part = protected(awg, kind=CableKind.SE, terminal_c=75)

    assert whole.max_device_a == most
    assert part.max_device_a is not None
    assert part.max_device_a <= most


def test_the_share_of_a_dwelling_is_not_for_small_feeders() -> None:
    assert protected("6", kind=WIRE, terminal_c=75, whole_dwelling=True).max_device_a == 70


# the smallest conductor


def test_the_smallest_conductor_is_run_the_same_way() -> None:
    assert protected("14", kind=WIRE, terminal_c=75, load_a=F(40)).min_conductor_awg == "8"
    assert protected("14", load_a=F(40)).min_conductor_awg == "8"
    assert protected("14", load_a=F(41)).min_conductor_awg == "6"
    assert protected("12", material=ALUMINUM, load_a=F(40)).min_conductor_awg == "6"
    assert protected("12", device_a=F(6000), kind=WIRE).min_conductor_awg is None


def test_no_ampacity_is_said_and_a_conductor_that_has_some_is_looked_for() -> None:
    hot = protected("12", kind=CableKind.UF_B, ambient_f=F(140), load_a=F(10))

    assert hot.max_device_a is None
    assert hot.why == "12 AWG copper has no ampacity as it is run."
    assert hot.min_conductor_awg is None


def test_a_conductor_with_no_ampacity_and_no_load_has_no_device_at_all() -> None:
    found = protected("12", kind=CableKind.UF_B, ambient_f=F(140))

    assert (found.max_device_a, found.device_a, found.min_conductor_awg, found.allowed) == (
        None,
        None,
        None,
        False,
    )


def test_a_size_that_the_table_has_no_row_for_is_passed_over() -> None:
    """2026 names 14 AWG copper-clad aluminum as the least size; no ampacity for it is entered."""
    assert (
        protected("12", 2026, kind=WIRE, material=CLAD, terminal_c=75, load_a=F(9)).min_conductor_awg == "12"
    )


CIRCUITS = st.builds(
    ProtectedCircuit,
    run=st.builds(
        ConductorRun,
        awg=st.sampled_from(["14", "12", "10", "8", "6", "4", "1", "1/0", "4/0"]),
        kind=st.sampled_from([CableKind.NM_B, WIRE]),
        terminal_c=st.sampled_from([None, 60, 75]),
        current_carrying=st.integers(0, 25),
        ambient_f=st.sampled_from([None, F(86), F(110), F(150)]),
    ),
    load_a=st.none() | st.integers(0, 120).map(F),
    exempt=st.none() | st.sampled_from(list(Exemption)),
    outlets=st.sampled_from([(), (F(15),), (F(20),), (F(15), F(15)), (F(20), F(20)), (F(50), F(50))]),
    device_a=st.none() | st.sampled_from([15, 20, 25, 30, 40, 50, 60, 100]).map(F),
)


@given(CIRCUITS)
def test_an_allowed_circuit_keeps_every_limit(circuit: ProtectedCircuit) -> None:
    found = reckon_overcurrent(circuit, CODE)
    if not found.allowed:
        return
    carried = reckon_ampacity(circuit.run, CODE).allowed_a

    assert found.device_a is not None
    assert found.max_device_a is not None
    assert found.device_a <= found.max_device_a
    assert circuit.load_a is None or circuit.load_a <= min(carried, found.device_a)
    # No device is ever more than one standard step above what the conductor carries.
    assert not [
        rating
        for rating in standard_ratings(CODE)
        if carried <= rating < found.device_a and found.device_a > carried
    ]
    if len(circuit.outlets) > 1:
        assert carried >= found.device_a


@given(CIRCUITS)
def test_the_smallest_conductor_is_allowed_and_the_next_smaller_is_not(circuit: ProtectedCircuit) -> None:
    found = reckon_overcurrent(circuit, CODE)
    awg = found.min_conductor_awg
    if awg is None or found.device_a is None:
        return
    every = sizes(CODE)

    def conductor_faults(size: str) -> list[str]:
        other = replace(circuit, run=replace(circuit.run, awg=size), device_a=found.device_a)
        faults = reckon_overcurrent(other, CODE).faults
        return [fault for fault in faults if "AWG" in fault or "kcmil" in fault]

    assert conductor_faults(awg) == []
    if awg != "14":
        assert conductor_faults(every[every.index(awg) - 1]) != []


@given(CIRCUITS)
def test_the_shown_and_the_silent_reckoning_agree(circuit: ProtectedCircuit) -> None:
    assert reckon_overcurrent(circuit, CODE, Work()) == reckon_overcurrent(circuit, CODE)
