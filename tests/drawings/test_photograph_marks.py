"""Marks over a photograph: where they lie, and that nothing but marks is drawn."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.drawings.photograph_marks import draw_marks, mark_of, words_of_marks

places = st.floats(0, 1, allow_nan=False)
marks = st.fixed_dictionaries(
    {
        "kind": st.sampled_from(("arrow", "circle")),
        "x": places,
        "y": places,
        "to_x": places,
        "to_y": places,
    }
)


def mark(kind: str, x: float, y: float, to_x: float, to_y: float) -> dict[str, Any]:
    return {"kind": kind, "x": x, "y": y, "to_x": to_x, "to_y": to_y}


def paths(svg: str) -> list[str]:
    return [path.attrib["d"] for path in ET.fromstring(svg)]  # noqa: S314 - our own drawing


def test_no_marks_are_no_drawing() -> None:
    assert draw_marks([], 800, 600) == ""
    assert words_of_marks([]) == ""


def test_a_circle_lies_within_the_box_that_was_dragged() -> None:
    (edge, ink) = paths(draw_marks([mark("circle", 0.25, 0.5, 0.75, 0.9)], 800, 600))

    assert edge == ink == "M200 420a200 120 0 1 0 400 0a200 120 0 1 0 -400 0"


def test_an_arrow_ends_where_the_finger_left_and_its_head_points_there() -> None:
    (path, _) = paths(draw_marks([mark("arrow", 0, 0.5, 0.5, 0.5)], 1000, 500))

    shaft = re.match(r"M0 250L500 250M(\d+) (\d+)L500 250L(\d+) (\d+)$", path)
    assert shaft is not None
    left, right = (int(shaft[1]), int(shaft[2])), (int(shaft[3]), int(shaft[4]))
    assert math.dist(left, (500, 250)) == pytest.approx(50, abs=1)
    assert left[0] == right[0] < 500
    assert left[1] + right[1] == 500


@given(st.lists(marks, min_size=1, max_size=5), st.integers(1, 4000), st.integers(1, 4000))
def test_every_mark_is_drawn_twice_for_its_white_edge_and_is_well_formed(
    kept: list[dict[str, Any]], wide: int, high: int
) -> None:
    svg = ET.fromstring(draw_marks(kept, wide, high))  # noqa: S314 - our own drawing

    edge, ink = svg
    assert svg.attrib["viewBox"] == f"0 0 {wide} {high}"
    assert edge.attrib["d"] == ink.attrib["d"]
    assert int(edge.attrib["stroke-width"]) >= int(ink.attrib["stroke-width"])
    assert all(re.fullmatch(r"[MLa0-9 -]+", path.attrib["d"]) for path in (edge, ink))


@pytest.mark.parametrize(
    "kept",
    [
        {},
        {"kind": "text", "x": 0, "y": 0, "to_x": 1, "to_y": 1},
        {"kind": "arrow", "x": "0", "y": 0, "to_x": 1, "to_y": 1},
        {"kind": "arrow", "x": '"/><script>', "y": 0, "to_x": 1, "to_y": 1},
        {"kind": "circle", "x": float("nan"), "y": 0, "to_x": 1, "to_y": 1},
        {"kind": "circle", "x": -0.1, "y": 0, "to_x": 1, "to_y": 1},
        {"kind": "circle", "x": 0, "y": 0, "to_x": 1.01, "to_y": 1},
        {"kind": "circle", "x": True, "y": 0, "to_x": 1, "to_y": 1},
    ],
)
def test_what_is_no_mark_is_not_drawn(kept: dict[str, Any]) -> None:
    assert mark_of(kept) is None
    assert draw_marks([kept], 800, 600) == ""
    assert words_of_marks([kept]) == ""


def test_the_edges_of_the_picture_are_within_it() -> None:
    assert mark_of(mark("circle", 0, 0, 1, 1)) is not None


def test_marks_in_words() -> None:
    one, two = mark("arrow", 0, 0, 1, 1), mark("circle", 0, 0, 1, 1)

    assert words_of_marks([one]) == "marked with 1 arrow"
    assert words_of_marks([two, two]) == "marked with 2 circles"
    assert words_of_marks([two, one]) == "marked with 1 arrow and 1 circle"
