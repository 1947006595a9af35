"""Lengths: what the trade types is read exactly, and written the way it is read."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling.length import LengthError, format_length, parse_length


@pytest.mark.parametrize(
    ("typed", "inches"),
    [
        ("6' 2 1/2\"", Fraction(149, 2)),
        ("6'-2 1/2\"", Fraction(149, 2)),
        ("6-2 1/2", Fraction(149, 2)),
        ("6 ft 2 1/2 in", Fraction(149, 2)),
        ("6ft", Fraction(72)),
        ("6'", Fraction(72)),
        ("6.5'", Fraction(78)),
        ("74.5", Fraction(149, 2)),
        ("74 1/2", Fraction(149, 2)),
        ("74½", Fraction(149, 2)),
        ("1/4", Fraction(1, 4)),
        ('3/8"', Fraction(3, 8)),
        (".5", Fraction(1, 2)),
        ("0", Fraction(0)),
        ("25.4 mm", Fraction(1)),
        ("1 m", Fraction(5000, 127)),
        (74.5, Fraction(149, 2)),
        (12, Fraction(12)),
        ("6′ 2″", Fraction(74)),
    ],
)
def test_a_length_is_read_as_the_trade_types_it(typed: str | float, inches: Fraction) -> None:
    assert parse_length(typed) == inches


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "six feet",
        "-3",
        "1/0",
        "6' 2' 1",
        "nan",
        "1e3",
        "6--2",
        "1/2/3",
        True,
        None,
        "9" * 60,
        float("nan"),
        -1,
    ],
)
def test_what_is_no_length_is_refused_and_quoted(typed: object) -> None:
    with pytest.raises(LengthError, match="expected a length"):
        parse_length(typed)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("inches", "written"),
    [
        (Fraction(149, 2), "6 ft 2 1/2 in"),
        (Fraction(3, 8), "3/8 in"),
        (Fraction(18), "18 in"),
        (Fraction(24), "2 ft"),
        (Fraction(0), "0 in"),
        (Fraction(1, 10), "0.1 in"),
        (Fraction(1, 3), "~0.333 in"),
        (Fraction(-5, 4), "-1 1/4 in"),
    ],
)
def test_a_length_is_written_as_it_is_read(inches: Fraction, written: str) -> None:
    assert format_length(inches) == written


@given(st.integers(min_value=0, max_value=64 * 1200).map(lambda n: Fraction(n, 64)))
def test_every_64th_of_an_inch_survives_writing_and_reading(inches: Fraction) -> None:
    assert parse_length(format_length(inches)) == inches
