"""IFC files made by the library come back as the rooms that they were made of; broken ones say what is broken."""

from __future__ import annotations

import re
import time
from fractions import Fraction
from math import cos, hypot, pi, sin
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import constrained_delaunay_triangles
from shapely.geometry import Polygon

from server.dwelling import OpeningKind, RoomKind
from server.imports.ifc_rooms import read_ifc
from server.imports.outline_of_mesh import OutlineError, floor_outline, to_inches, turns_of
from server.imports.plans import NotReadable, Problem, RoomPlan
from server.imports.reading import read_rooms
from tests.imports.ifc_houses import IfcHouse

L_SHAPE = [(0, 0), (0, 144), (90.5, 144), (90.5, 100.25), (168, 100.25), (168, 0)]
"""Clockwise seen from above, from the lower left corner; y upwards."""
SIXTEENTH = Fraction(1, 16)


def sides(corners: list[tuple[float, float]]) -> list[float]:
    return [hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


@pytest.mark.parametrize("version", ["IFC2X3", "IFC4", "IFC4X3"])
@pytest.mark.parametrize("unit", ["metre", "millimetre", "foot", "inch"])
def test_rooms_and_wall_lengths_come_back_within_a_sixteenth(tmp_path: Path, unit: str, version: str) -> None:
    model = IfcHouse(unit, version)
    ground, upper = model.storey("First floor"), model.storey("Second floor", 108)
    model.space(ground, "Kitchen", L_SHAPE, 97.5)
    model.space(ground, "Bedroom 2", [(173, 0), (173, 100.3125), (300.1, 100.3125), (300.1, 0)])
    model.space(upper, "Hall Bath", [(0, 0), (0, 60), (108, 60), (108, 0)], 93, 108)
    model.write(tmp_path / "house.ifc")

    plan = read_ifc(str(tmp_path / "house.ifc"))

    assert [(room.level, room.name, room.kind) for room in plan.rooms] == [
        ("First floor", "Kitchen", RoomKind.KITCHEN), ("First floor", "Bedroom 2", RoomKind.BEDROOM),
        ("Second floor", "Hall Bath", RoomKind.BATHROOM),
    ]  # fmt: skip
    kitchen = plan.rooms[0]
    assert kitchen.ceiling_in is not None
    assert abs(kitchen.ceiling_in - Fraction(195, 2)) <= SIXTEENTH
    # wall 1 is the upper one that runs to the right
    expected = [90.5, 43.75, 77.5, 100.25, 168, 144]
    assert [wall.turn_deg for wall in kitchen.walls] == [90, -90, 90, 90, 90, 90]
    for wall, length in zip(kitchen.walls, expected, strict=True):
        assert abs(float(wall.length_in) - length) <= 1 / 16
    for room in plan.rooms[1:]:
        assert len(room.walls) == 4
        assert all(wall.turn_deg == 90 for wall in room.walls)
    assert (plan.rooms[1].x_in, plan.rooms[1].y_in) == (173, to_inches((144 - 100.3125) * 0.0254))


@given(
    steps=st.lists(st.tuples(st.integers(20, 400), st.integers(20, 400)), min_size=1, max_size=5),
    turned=st.sampled_from([0.0, pi / 2, pi, 0.3, 1.1]),
    moved=st.tuples(st.integers(-2000, 2000), st.integers(-2000, 2000)),
    unit=st.sampled_from(["metre", "millimetre", "foot", "inch"]),
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_stepped_outline_comes_back_wherever_it_stands(
    tmp_path: Path, steps: list[tuple[int, int]], turned: float, moved: tuple[int, int], unit: str
) -> None:
    x = y = 0.0
    corners = [(0.0, 0.0)]
    top = sum(b for _, b in steps)
    corners.append((0.0, float(top)))
    y = float(top)
    for across, down in steps:
        x += across
        corners.append((x, y))
        y -= down
        corners.append((x, y))
    model = IfcHouse(unit)
    model.space(model.storey("First floor"), "Den", corners, turned=turned, moved=moved)
    model.write(tmp_path / "den.ifc")

    (room,) = read_ifc(str(tmp_path / "den.ifc")).rooms

    want, got = sides(corners), [float(wall.length_in) for wall in room.walls]
    assert len(want) == len(got)
    # the same walls in the same order, wherever the first one is
    assert any(
        all(abs(a - b) <= 1 / 16 for a, b in zip(want[n:] + want[:n], got, strict=True))
        for n in range(len(want))
    )
    assert sum(wall.turn_deg for wall in room.walls) == 360


def test_doors_windows_and_bare_openings_stand_in_their_walls(tmp_path: Path) -> None:
    model = IfcHouse("foot")
    storey = model.storey("First floor")
    corners = [(0.0, 0.0), (0.0, 120.0), (168.0, 120.0), (168.0, 0.0)]
    model.space(storey, "Living", corners)
    west, north, east, south = (
        model.wall(storey, a, b, external=outside)
        for a, b, outside in zip(corners, corners[1:] + corners[:1], (True, True, None, False), strict=True)
    )
    model.hole(north, (0, 120), (168, 120), (30, 66), 0, 80)
    model.hole(north, (0, 120), (168, 120), (90, 150.5), 30, 78, "IfcWindow")
    model.hole(east, (168, 120), (168, 0), (12, 84), 0, 80, "IfcDoor", OperationType="SLIDING_TO_LEFT")
    model.hole(south, (168, 0), (0, 0), (6, 60), 0, 84, "")
    model.hole(west, (0, 0), (0, 120), (20, 50), 40, 70, "")
    model.write(tmp_path / "living.ifc")

    (room,) = read_ifc(str(tmp_path / "living.ifc")).rooms

    found = [
        [
            (item.kind, float(item.from_in), float(item.to_in), item.sill_in, item.head_in)
            for item in wall.openings
        ]
        for wall in room.walls
    ]
    assert found == [
        [(OpeningKind.DOOR, 30, 66, None, 80), (OpeningKind.WINDOW, 90, 150.5, 30, 78)],
        [(OpeningKind.SLIDING_DOOR, 12, 84, None, 80)],
        [(OpeningKind.DOORWAY, 6, 60, None, 84)],
        [(OpeningKind.WINDOW, 20, 50, 40, 70)],
    ]
    assert [wall.exterior for wall in room.walls] == [True, None, False, True]


def test_a_door_between_two_rooms_stands_in_both(tmp_path: Path) -> None:
    model = IfcHouse("inch")
    storey = model.storey("First floor")
    model.space(storey, "Hall", [(0.0, 0.0), (0.0, 40.0), (200.0, 40.0), (200.0, 0.0)])
    model.space(storey, "Den", [(0.0, 45.0), (0.0, 145.0), (120.0, 145.0), (120.0, 45.0)])
    wall = model.wall(storey, (0, 40), (200, 40))
    model.hole(wall, (0, 40), (200, 40), (50, 82), 0, 80)
    model.write(tmp_path / "two.ifc")

    hall, den = read_ifc(str(tmp_path / "two.ifc")).rooms

    assert [(item.from_in, item.to_in) for item in hall.walls[0].openings] == [(50, 82)]
    # seen from the den it is on the lower wall, which runs the other way
    assert [(item.from_in, item.to_in) for item in den.walls[2].openings] == [(120 - 82, 120 - 50)]
    assert sum(len(each.openings) for room in (hall, den) for each in room.walls) == 2


def test_a_door_of_another_storey_is_not_in_this_rooms_walls(tmp_path: Path) -> None:
    model = IfcHouse("inch")
    storey = model.storey("First floor")
    model.space(storey, "Den", [(0.0, 0.0), (0.0, 100.0), (120.0, 100.0), (120.0, 0.0)])
    wall = model.wall(storey, (0, 100), (120, 100), height=220)
    model.hole(wall, (0, 100), (120, 100), (50, 82), 108, 188)
    model.write(tmp_path / "above.ifc")

    (room,) = read_ifc(str(tmp_path / "above.ifc")).rooms

    assert not any(wall.openings for wall in room.walls)


def test_a_space_without_a_shape_is_named(tmp_path: Path) -> None:
    model = IfcHouse()
    storey = model.storey("First floor")
    model.space(storey, "Kitchen", L_SHAPE)
    bad = model.space(storey, "Pantry", L_SHAPE, shape=False)
    content = model.write(tmp_path / "bad.ifc")

    with pytest.raises(NotReadable) as caught:
        read_rooms(content)

    (problem,) = caught.value.problems
    assert problem.where == f"IfcSpace #{bad.id()} “Pantry”"
    assert "it has no shape" in problem.what


def test_a_space_of_a_hand_s_width_points_at_the_unit(tmp_path: Path) -> None:
    model = IfcHouse("metre")
    model.space(model.storey("First floor"), "Kitchen", [(x / 100, y / 100) for x, y in L_SHAPE])
    content = model.write(tmp_path / "small.ifc")

    with pytest.raises(NotReadable, match="look at the file's unit of length"):
        read_rooms(content)


def test_a_file_without_spaces_says_what_is_needed(tmp_path: Path) -> None:
    model = IfcHouse()
    model.wall(model.storey("First floor"), (0, 0), (100, 0))

    with pytest.raises(NotReadable, match="has no IfcSpace"):
        read_rooms(model.write(tmp_path / "none.ifc"))


def outcome(content: bytes) -> tuple[tuple[RoomPlan, ...], tuple[Problem, ...]]:
    """What reading comes to: rooms, or problems; anything else fails the test."""
    try:
        return read_rooms(content).rooms, ()
    except NotReadable as error:
        return (), error.problems


def house_bytes(tmp_path: Path) -> bytes:
    model = IfcHouse()
    model.space(model.storey("First floor"), "Kitchen", L_SHAPE)
    return model.write(tmp_path / "whole.ifc")


def test_a_file_that_ends_early_says_so(tmp_path: Path) -> None:
    content = house_bytes(tmp_path)

    with pytest.raises(NotReadable, match=r"line \d+: the file ends early") as caught:
        read_rooms(content[: len(content) * 2 // 3])

    assert re.match(r"line \d+", caught.value.problems[0].where)


@given(data=st.data())
@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_damaged_file_is_read_or_refused_with_a_sentence(tmp_path: Path, data: st.DataObject) -> None:
    content = bytearray(house_bytes(tmp_path))
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(20, len(content) - 40))
        content[at : at + data.draw(st.integers(0, 12))] = data.draw(st.binary(max_size=12)).replace(
            b"\x00", b"0"
        )

    rooms, problems = outcome(bytes(content))
    assert bool(rooms) != bool(problems)
    assert all(problem.what for problem in problems)


def test_reading_stops_at_its_time(tmp_path: Path) -> None:
    model = IfcHouse()
    # a star of ten thousand corners: cutting its floor into triangles takes half a minute, the limit is a second
    turns = [(2 * pi * n / 10_000, 400 if n % 2 else 200) for n in range(10_000)]
    model.space(
        model.storey("First floor"), "Kitchen", [(far * cos(turn), far * sin(turn)) for turn, far in turns]
    )
    content = model.write(tmp_path / "long.ifc")

    began = time.monotonic()
    with pytest.raises(NotReadable, match="It takes longer than 1 s to read"):
        read_rooms(content, seconds=1)

    assert time.monotonic() - began < 20


def test_reading_stops_at_its_memory(tmp_path: Path) -> None:
    with pytest.raises(NotReadable):
        read_rooms(house_bytes(tmp_path), megabytes=120)


# the outline by itself -----------------------------------------------------------------------------------------


@given(
    steps=st.lists(st.tuples(st.integers(30, 400), st.integers(30, 400)), min_size=1, max_size=6),
    turn=st.floats(0, 6.28),
)
@settings(max_examples=100, deadline=None)
def test_the_outline_of_a_prism_is_its_base(steps: list[tuple[int, int]], turn: float) -> None:
    """Checked with shapely: the same polygon, whatever the triangles."""
    x, y = 0.0, sum(b for _, b in steps) / 100
    base = [(0.0, 0.0), (0.0, y)]
    for across, down in steps:
        x += across / 100
        base.append((x, y))
        y -= down / 100
        base.append((x, y))
    base = [(a * cos(turn) - b * sin(turn), a * sin(turn) + b * cos(turn)) for a, b in base]
    count = len(base)
    triangles = triangles_of(base)
    corners = [(a, b, 0.0) for a, b in base] + [(a, b, 2.4) for a, b in base]
    faces = [*triangles, *((i + count, k + count, j + count) for i, j, k in triangles)]
    for n in range(count):
        m = (n + 1) % count
        faces += [(n, m, m + count), (n, m + count, n + count)]

    outline = floor_outline(corners, faces)

    assert Polygon(outline).symmetric_difference(Polygon(base)).area < 1e-6
    assert len(outline) == count
    assert sum(turns_of(outline)) == pytest.approx(360)


def triangles_of(points: list[tuple[float, float]]) -> list[tuple[int, int, int]]:
    """Shapely's own triangles of a polygon, by the numbers of its corners, all one way round."""
    number = {point: n for n, point in enumerate(points)}
    found = []
    for triangle in constrained_delaunay_triangles(Polygon(points)).geoms:
        a, b, c = (number[point] for point in triangle.exterior.coords[:3])
        found.append((a, b, c) if triangle.exterior.is_ccw else (a, c, b))
    return found


@pytest.mark.parametrize(
    ("corners", "faces"),
    [([], []), ([(0.0, 0.0, 0.0), (1.0, 0.0, 1.0), (0.0, 1.0, 2.0)], [(0, 1, 2)])],
)
def test_what_has_no_floor_is_refused(
    corners: list[tuple[float, float, float]], faces: list[tuple[int, int, int]]
) -> None:
    with pytest.raises(OutlineError):
        floor_outline(corners, faces)
