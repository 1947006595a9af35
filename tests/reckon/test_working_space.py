"""Working space at a panel: every threshold equal, just under and just over; what stands in it; where it may be.

Depths: Table 110.26(A)(1) as quoted by Electrical Contractor magazine (July 2016) and by the Washington
Administrative Code's Table S-1; the row above 600 V is from memory.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.editions import load_edition
from server.reckon.work import Work
from server.reckon.working_space import (
    Obstruction,
    WorkingSpace,
    WorkingSpaceError,
    WorkingSpaceResult,
    reckon_working_space,
)

YEARS = (2017, 2020, 2023, 2026)
SIXTEENTH = Fraction(1, 16)


def space(year: int = 2023, **facts: Any) -> WorkingSpaceResult:
    enough = {"depth_in": Fraction(36), "width_in": Fraction(30), "height_in": Fraction(78), "condition": 1}
    return reckon_working_space(WorkingSpace(**{**enough, **facts}), load_edition(year))


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("measure", "least"), [("depth_in", 36), ("width_in", 30), ("height_in", 78)])
def test_each_measure_at_its_threshold(measure: str, least: int, year: int) -> None:
    assert space(year, **{measure: Fraction(least)}).complies is True
    assert space(year, **{measure: least - SIXTEENTH}).complies is False
    assert space(year, **{measure: least + SIXTEENTH}).complies is True


@pytest.mark.parametrize(
    ("volts", "condition", "depth"),
    [(0, 1, 36), (120, 1, 36), (120, 3, 36), (150, 3, 36), (151, 1, 36), (151, 2, 42), (277, 2, 42), (277, 3, 48),
     (600, 3, 48), (601, 1, 36), (601, 2, 48), (1000, 3, 60)],
)  # fmt: skip
def test_depth_follows_voltage_and_condition(volts: int, condition: int, depth: int) -> None:
    found = space(voltage_to_ground=Fraction(volts), condition=condition)

    assert found.dimensions[0].required == depth


def test_without_a_condition_the_widest_is_taken() -> None:
    assert space(voltage_to_ground=Fraction(277), condition=None).dimensions[0].required == 48


@pytest.mark.parametrize(("own", "required"), [(29, 30), (30, 30), (31, 31)])
def test_wide_equipment_needs_its_own_width(own: int, required: int) -> None:
    found = space(equipment_width_in=Fraction(own))

    assert found.dimensions[1].required == required
    assert found.complies is (required <= 30)


@pytest.mark.parametrize(("own", "complies"), [(78, True), (80, False)])
def test_high_equipment_needs_its_own_height(own: int, complies: bool) -> None:
    assert space(equipment_height_in=Fraction(own)).complies is complies


@pytest.mark.parametrize(
    ("existing", "rating_a", "complies"),
    [(True, 200, True), (True, 201, False), (False, 200, False), (True, None, False)],
)
def test_an_existing_dwelling_may_keep_a_panel_of_200_amperes_under_a_low_ceiling(
    existing: bool, rating_a: int | None, complies: bool
) -> None:
    assert space(height_in=Fraction(72), existing_dwelling=existing, rating_a=rating_a).complies is complies


@pytest.mark.parametrize(("degrees", "complies"), [(89, False), (90, True), (180, True)])
def test_the_door_opens_90_degrees(degrees: int, complies: bool) -> None:
    assert space(door_swing_deg=Fraction(degrees)).complies is complies


@pytest.mark.parametrize(("year", "complies"), [(2017, True), (2020, True), (2023, False), (2026, False)])
def test_an_open_door_leaves_a_way_from_2023(year: int, complies: bool) -> None:
    assert space(year, open_door_leaves_in=Fraction(23)).complies is complies
    assert space(year, open_door_leaves_in=Fraction(24)).complies is True


@pytest.mark.parametrize("missing", ["depth_in", "width_in", "height_in"])
def test_what_was_not_measured_leaves_it_open(missing: str) -> None:
    assert space(**{missing: None}).complies is None


def test_a_measure_that_falls_short_decides_although_another_is_missing() -> None:
    assert space(depth_in=Fraction(35), width_in=None).complies is False


@pytest.mark.parametrize(
    ("thing", "in_the_way"),
    [
        (Obstruction("water heater"), ("water heater",)),
        (Obstruction("shelf", projects_in=Fraction(2)), ("shelf",)),
        (Obstruction("meter box", electrical=True, projects_in=Fraction(6)), ()),
        (Obstruction("meter box", electrical=True, projects_in=6 + SIXTEENTH), ("meter box",)),
        (Obstruction("meter box", electrical=True), ("meter box",)),
    ],
)
def test_only_electrical_equipment_may_stand_out_a_little(
    thing: Obstruction, in_the_way: tuple[str, ...]
) -> None:
    found = space(obstructions=(thing,))

    assert found.in_the_way == in_the_way
    assert found.complies is (not in_the_way)


@pytest.mark.parametrize(
    ("room", "allowed", "complies"),
    [("basement", True, True), ("Bathroom", False, False), ("clothes closet", False, False), ("stair", False, False),
     ("closet", None, True), (None, None, True)],
)  # fmt: skip
def test_some_rooms_may_not_hold_a_panel(room: str | None, allowed: bool | None, complies: bool) -> None:
    found = space(room=room)

    assert (found.room_allowed, found.complies) == (allowed, complies)
    assert bool(found.notes) is (room == "closet")


@pytest.mark.parametrize(
    ("clear", "ceiling", "complies"),
    [(72, None, True), (71, None, False), (60, 60, True), (59, 60, False), (72, 90, True)],
)
def test_the_space_above_belongs_to_the_equipment_up_to_six_feet_or_the_ceiling(
    clear: int, ceiling: int | None, complies: bool
) -> None:
    found = space(
        clear_above_in=Fraction(clear), ceiling_above_in=None if ceiling is None else Fraction(ceiling)
    )

    assert found.complies is complies


@pytest.mark.parametrize(
    ("facts", "field"),
    [({"condition": 4}, "condition"), ({"voltage_to_ground": Fraction(1001)}, "voltage_to_ground")],
)
def test_facts_outside_the_table_are_refused(facts: dict[str, Any], field: str) -> None:
    with pytest.raises(WorkingSpaceError) as caught:
        WorkingSpace(**facts)

    assert caught.value.field == field


@given(
    st.fractions(0, 120, max_denominator=16), st.fractions(0, 120, max_denominator=16),
    st.fractions(0, 120, max_denominator=16), st.integers(0, 1000), st.integers(1, 3),
)  # fmt: skip
def test_it_complies_exactly_where_every_measure_reaches_its_own(
    depth: Fraction, width: Fraction, height: Fraction, volts: int, condition: int
) -> None:
    deep = {1: (36, 36, 36), 2: (36, 42, 48), 3: (36, 48, 60)}[
        1 if volts <= 150 else 2 if volts <= 600 else 3
    ]

    found = space(
        depth_in=depth,
        width_in=width,
        height_in=height,
        voltage_to_ground=Fraction(volts),
        condition=condition,
    )

    assert found.complies is (depth >= deep[condition - 1] and width >= 30 and height >= 78)


def test_the_steps_say_each_measure_in_inches() -> None:
    work = Work()

    reckon_working_space(
        WorkingSpace(Fraction(71, 2), Fraction(30), None, condition=1, door_swing_deg=Fraction(90)),
        load_edition(2023),
        work,
    )

    assert [(step.text, step.value) for step in work.steps] == [
        ("Depth: 36 in needed (120 V to ground, condition 1); 35 1/2 in", False),
        ("Width: 30 in needed (at any equipment); 30 in", True),
        ("Height: 78 in needed (from the floor); not measured", None),
        ("Door swing: 90° needed (doors and hinged panels open this far); 90°", True),
        ("Working space: falls short", False),
    ]
