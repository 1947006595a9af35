"""The standard boxes against the published rows of Table 314.16(A), and how people write them."""

from __future__ import annotations

import json
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.box_fill import allowance_in3
from server.reckon.standard_boxes import BoxError, BoxShape, find_box, find_shape, standard_boxes

TABLES = json.loads((Path(__file__).parents[1] / "data" / "boxes" / "box_tables.json").read_text())
ROWS = TABLES["boxes"]
"""Rows as the publications print them, with their most conductors of one size; source in the file."""
CODE = load_edition(2023)


def exact(number: float) -> Fraction:
    return Fraction(repr(number))


def test_every_published_row_is_one_of_ours_and_ours_are_no_more() -> None:
    found = {find_box(row["name"], CODE).name for row in ROWS}

    assert len(ROWS) == 24
    assert found == {box.name for box in standard_boxes(CODE)}


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_a_row_has_the_published_volume_in_every_edition(row: dict[str, float], year: int) -> None:
    assert find_box(str(row["name"]), load_edition(year)).volume_in3 == exact(row["in3"])


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_the_published_most_conductors_are_the_volume_over_the_allowance(
    row: dict[str, dict[str, int]],
) -> None:
    volume = find_box(str(row["name"]), CODE).volume_in3

    assert {awg: volume // allowance_in3(awg, CODE) for awg in row["most"]} == row["most"]


def test_the_allowances_are_the_published_ones() -> None:
    for year in YEARS:
        came = {awg: allowance_in3(awg, load_edition(year)) for awg in TABLES["allowance_in3"]}
        assert came == {awg: exact(in3) for awg, in3 in TABLES["allowance_in3"].items()}


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("4 x 1-1/2 square", "4 x 1-1/2 square"),
        ("4 in. sq. x 1 1/2", "4 x 1-1/2 square"),
        ("4 x 4 x 1.5 square", "4 x 1-1/2 square"),
        ("4×4×2⅛ square", "4 x 2-1/8 square"),
        ('4" x 2-1/8" octagonal (21.5)', "4 x 2-1/8 octagonal"),
        ("4-inch octagon box, 1-1/2 deep", "4 x 1-1/2 octagonal"),
        ("4 x 1½ round", "4 x 1-1/2 octagonal"),
        ("4 11/16 x 2 1/8", "4-11/16 x 2-1/8 square"),
        ("3x2x3-1/2", "3 x 2 x 3-1/2 device"),
        ("2 x 3 x 2.5 device", "3 x 2 x 2-1/2 device"),
        ("4 x 2-1/8 x 1-7/8 handy box", "4 x 2-1/8 x 1-7/8 device"),
        ("FS single cover/gang (1-3/4)", "FS single cover"),
        ("FD multiple", "FD multiple cover"),
        ("3-3/4 x 2 x 3-1/2 masonry box/gang", "3-3/4 x 2 x 3-1/2 masonry"),
    ],
)
def test_a_box_is_found_by_the_ways_that_people_write_it(written: str, name: str) -> None:
    assert find_box(written, CODE).name == name


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("4 x 1-1/2", "which of these is meant: 4 x 1-1/2 octagonal, 4 x 1-1/2 square"),
        ("4 x 2 square", "a standard metal box: 4 x 1-1/4 square"),
        ("plastic 18", "a standard metal box"),
        ("1/0 x 3 device", "a standard metal box: 3 x 2 x 1-1/2 device"),
        ("x" * 61, "came 61 characters"),
        ("", "a standard metal box"),
    ],
)
def test_what_is_no_standard_box_is_refused_with_the_nearest(written: str, says: str) -> None:
    with pytest.raises(BoxError, match="expected") as caught:
        find_box(written, CODE)

    assert says in str(caught.value)


@given(st.text(max_size=70) | st.text('0123456789/-x ."½sqroundFSevic(', max_size=30))
def test_no_text_at_all_breaks_the_search(text: str) -> None:
    found = None
    with suppress(BoxError):
        found = find_box(text, CODE)

    assert found is None or found in standard_boxes(CODE)


def test_a_shape_is_read_from_a_description() -> None:
    assert find_shape("a 4 in. octagon box") is BoxShape.OCTAGONAL
    assert find_shape("18 in3 nail-on") is None
