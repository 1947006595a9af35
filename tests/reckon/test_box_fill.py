"""Box fill: every counting rule at its boundary, and against a recomputation straight from the tables."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.dwelling.boxes import Clamps
from server.editions import load_edition
from server.reckon.box_contents import (
    Addition,
    BoxContents,
    BoxSize,
    ConductorRole,
    Conductors,
    SupportFitting,
    Yoke,
)
from server.reckon.box_cure import cure_box
from server.reckon.box_fill import allowance_in3, reckon_box_fill
from server.reckon.box_partitions import Barrier, BarrierMaterial, BoxSpace, reckon_partitioned_box
from server.reckon.conductor_sizes import ConductorError
from server.reckon.standard_boxes import BoxError, BoxShape
from server.reckon.work import Work

ALLOWANCE = {
    awg: Fraction(repr(in3))
    for awg, in3 in json.loads(
        (Path(__file__).parents[1] / "data" / "boxes" / "box_tables.json").read_text()
    )["allowance_in3"].items()
}
"""Table 314.16(B)(1) as published; source in the file."""
ROLE = ConductorRole
C17, C20, C23 = (load_edition(year) for year in (2017, 2020, 2023))


def required(year: int = 2023, **contents: object) -> Fraction:
    came = reckon_box_fill(BoxContents(**contents), load_edition(year)).required_in3  # type: ignore[arg-type]
    assert came is not None
    return came


def some(awg: str, count: int, role: ConductorRole = ROLE.INSULATED) -> tuple[Conductors, ...]:
    return (Conductors(awg, count, role),)


# conductors, loops, pigtails


def test_a_conductor_that_ends_and_one_that_passes_both_count_once() -> None:
    assert required(conductors=some("14", 3) + some("14", 2, ROLE.THROUGH)) == 10


@pytest.mark.parametrize(
    ("loop_in", "in3"), [("11.99", "2.25"), ("12", "4.5"), ("12.01", "4.5"), (None, "4.5")]
)
def test_a_loop_counts_twice_from_twice_the_free_length_on(loop_in: str | None, in3: str) -> None:
    loop = Conductors("12", 1, ROLE.LOOP, Fraction(loop_in) if loop_in else None)

    assert required(conductors=(loop,)) == Fraction(in3)


def test_a_pigtail_counts_nothing_but_is_the_largest_conductor_where_it_is() -> None:
    pigtail = some("10", 2, ROLE.PIGTAIL)

    assert required(conductors=some("14", 2) + pigtail) == 4
    # 314.16(B)(2) speaks of the largest conductor present, not of the largest one counted.
    assert required(conductors=some("14", 2) + pigtail, clamps=Clamps.INTERNAL) == Fraction("6.5")


# the domed luminaire


@pytest.mark.parametrize(("count", "in3"), [(4, 0), (5, Fraction("1.5")), (0, 0)])
def test_up_to_four_small_wires_of_a_canopy_are_left_out(count: int, in3: Fraction) -> None:
    assert required(conductors=some("18", count, ROLE.FIXTURE)) == in3


def test_a_fixture_wire_of_14_awg_is_not_smaller_than_14_awg() -> None:
    assert required(conductors=some("14", 4, ROLE.FIXTURE)) == 8


def test_the_largest_small_fixture_wires_are_left_out_first() -> None:
    assert required(conductors=some("18", 3, ROLE.FIXTURE) + some("16", 2, ROLE.FIXTURE)) == Fraction("1.5")


def test_the_luminaires_own_ground_is_left_out_too() -> None:
    assert required(conductors=some("14", 2) + some("14", 1, ROLE.FIXTURE_GROUND)) == 4


# clamps, fittings


@pytest.mark.parametrize(("clamps", "in3"), [(Clamps.NONE, 4), (Clamps.EXTERNAL, 4), (Clamps.INTERNAL, 6)])
def test_clamps_inside_count_once_and_connectors_outside_not(clamps: Clamps, in3: int) -> None:
    assert required(conductors=some("14", 2), clamps=clamps) == in3


def test_stud_and_hickey_count_by_kind() -> None:
    conductors = some("12", 1)

    assert required(conductors=conductors, fittings=frozenset({SupportFitting.STUD})) == Fraction("4.5")
    assert required(conductors=conductors, fittings=frozenset(SupportFitting)) == Fraction("6.75")


def test_clamps_and_fittings_of_a_box_without_conductors_take_nothing() -> None:
    assert required(clamps=Clamps.INTERNAL, fittings=frozenset(SupportFitting)) == 0


# yokes


def test_each_yoke_counts_twice_by_what_is_connected_to_it() -> None:
    yokes = (Yoke("switch", "14"), Yoke("receptacle", "12"))

    assert required(conductors=some("12", 2), devices=yokes) == Fraction("4.5") + 4 + Fraction("4.5")


def test_a_device_two_gangs_wide_counts_four_times() -> None:
    assert required(devices=(Yoke("range receptacle", "6", 2),)) == 20


def test_a_yoke_without_a_size_is_counted_by_the_largest_insulated_conductor() -> None:
    conductors = some("14", 2) + some("12", 1) + some("10", 1, ROLE.GROUND)

    assert required(conductors=conductors, devices=(Yoke("switch"),)) == 4 + Fraction("2.25") + Fraction(
        "2.5"
    ) + Fraction("4.5")


def test_a_yoke_with_nothing_to_count_it_by_is_an_error_that_names_it() -> None:
    with pytest.raises(BoxError, match="no insulated conductor is listed for the dimmer"):
        required(devices=(Yoke("dimmer"),))


@pytest.mark.parametrize("kind", ["luminaire", "Fan", "smoke alarm", "blank cover"])
def test_what_hangs_on_the_box_has_no_yoke(kind: str) -> None:
    assert required(conductors=some("14", 3), devices=(Yoke(kind),)) == 6


# grounds


@pytest.mark.parametrize(
    ("count", "in_2017", "later"),
    [(0, "0", "0"), (1, "2.25", "2.25"), (4, "2.25", "2.25"), (5, "2.25", "2.8125"), (8, "2.25", "4.5")],
)
def test_grounds_are_one_allowance_in_2017_and_quarters_beyond_four_later(
    count: int, in_2017: str, later: str
) -> None:
    grounds = some("12", count, ROLE.GROUND)

    assert required(2017, conductors=grounds) == Fraction(in_2017)
    assert required(2020, conductors=grounds) == required(2023, conductors=grounds) == Fraction(later)


def test_the_largest_ground_sets_the_size_of_all() -> None:
    assert required(2020, conductors=some("14", 5, ROLE.GROUND) + some("10", 1, ROLE.GROUND)) == Fraction(
        "3.75"
    )


def test_isolated_grounds_are_a_set_of_their_own_in_2017_only() -> None:
    conductors = some("14", 2, ROLE.GROUND) + some("12", 2, ROLE.ISOLATED_GROUND)

    assert required(2017, conductors=conductors) == Fraction("4.25")
    assert required(2023, conductors=conductors) == Fraction("2.25")
    assert required(2023, conductors=conductors + some("14", 1, ROLE.GROUND)) == Fraction("2.8125")


# terminal blocks


def test_a_terminal_block_counts_from_2023_on() -> None:
    conductors = some("12", 2)

    assert required(2020, conductors=conductors, terminal_blocks=("12",)) == Fraction("4.5")
    assert required(2023, conductors=conductors, terminal_blocks=("12", "14")) == Fraction("8.75")


# the box


@pytest.mark.parametrize(("marked", "fits"), [("7.99", False), ("8", True), ("8.01", True)])
def test_a_box_fits_from_exactly_the_required_volume_on(marked: str, fits: bool) -> None:
    contents = BoxContents(some("14", 4), box=BoxSize(volume_in3=Fraction(marked)))

    assert reckon_box_fill(contents, C23).fits is fits


def available(box: BoxSize) -> Fraction | None:
    return reckon_box_fill(BoxContents(box=box), C23).available_in3


def test_a_marked_volume_stands_where_it_is_more_than_the_table() -> None:
    assert available(BoxSize("4 x 1-1/2 square", Fraction(22))) == 22
    assert available(BoxSize("4 x 1-1/2 square", Fraction(20))) == 21


def test_ganged_device_boxes_add_up_and_a_square_box_has_no_gangs() -> None:
    assert available(BoxSize("3 x 2 x 2-3/4 device", gangs=3)) == 42
    assert available(BoxSize("4 x 1-1/2 square", gangs=2)) == 21


def test_rings_add_volume_only_marked_or_made_from_a_standard_box() -> None:
    rings = (
        Addition("plaster ring"),
        Addition("plaster ring", volume_in3=Fraction("4.5")),
        Addition("extension ring", table="4 x 1-1/2 square"),
    )

    assert available(BoxSize("4 x 1-1/2 square", additions=rings)) == 21 + Fraction("4.5") + 21


def test_a_box_that_nobody_described_leaves_the_question_open() -> None:
    fill = reckon_box_fill(BoxContents(some("14", 2), box=BoxSize()), C23)

    assert (fill.required_in3, fill.available_in3, fill.fits, fill.left_in3) == (4, None, None, None)


@pytest.mark.parametrize("where", ["conductor", "yoke", "block"])
def test_a_conductor_of_4_awg_is_not_for_this_table(where: str) -> None:
    contents = {
        "conductor": BoxContents(some("4", 1, ROLE.PIGTAIL)),
        "yoke": BoxContents(devices=(Yoke("receptacle", "4", 2),)),
        "block": BoxContents(terminal_blocks=("1/0",)),
    }[where]

    fill = reckon_box_fill(contents, C23)

    assert fill.required_in3 is None
    assert "314.28" in fill.outside


def test_nothing_mends_what_is_not_for_this_table() -> None:
    contents = BoxContents(some("4", 3), box=BoxSize("4 x 1-1/2 square"))

    cure = cure_box(reckon_box_fill(contents, C23), contents, C23)

    assert (cure.smallest_box, cure.extension_in3) == (None, None)
    with pytest.raises(BoxError, match=r"a size of Table 314.16\(B\)\(1\), came '4'"):
        allowance_in3("4", C23)


def test_a_size_that_nobody_makes_is_an_error() -> None:
    with pytest.raises(ConductorError, match="came '13'"):
        required(conductors=some("13", 1))


@pytest.mark.parametrize(
    "wrong",
    [
        {"conductors": (Conductors("14", -1),)},
        {"devices": (Yoke("switch", "14", 0),)},
        {"box": BoxSize(volume_in3=Fraction(0))},
        {"box": BoxSize("4 x 1-1/2 square", gangs=0)},
        {"box": BoxSize("4 x 1-1/2 square", additions=(Addition(volume_in3=Fraction(-1)),))},
    ],
)
def test_impossible_contents_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(BoxError, match="expected"):
        BoxContents(**wrong)  # type: ignore[arg-type]


# divided boxes


def test_each_space_is_judged_by_itself() -> None:
    box = BoxSize(volume_in3=Fraction(20))
    full, empty = BoxContents(some("14", 5)), BoxContents(some("18", 1))

    fills = reckon_partitioned_box(box, (Barrier(),), (BoxSpace(full), BoxSpace(empty)), C23)

    # 20 - 0.5 = 19.5, halved: 9.75 each. Ten fit the whole box, but not its half.
    assert [(f.available_in3, f.fits) for f in fills] == [(Fraction("9.75"), False), (Fraction("9.75"), True)]


@pytest.mark.parametrize(
    ("barrier", "left"),
    [
        (Barrier(BarrierMaterial.METAL), "19.5"),
        (Barrier(BarrierMaterial.NONMETALLIC), "19"),
        (Barrier(BarrierMaterial.METAL, Fraction("1.2")), "18.8"),
    ],
)
def test_a_barrier_takes_its_marked_volume_or_the_usual_one(barrier: Barrier, left: str) -> None:
    (fill,) = reckon_partitioned_box(
        BoxSize(volume_in3=Fraction(20)), (barrier,), (BoxSpace(BoxContents()),), C23
    )

    assert fill.available_in3 == Fraction(left)


def test_spaces_cannot_be_larger_than_the_box() -> None:
    spaces = (BoxSpace(BoxContents(), volume_in3=Fraction(21)),)

    with pytest.raises(BoxError, match="expected spaces of 20 in³ together at most, came 21"):
        reckon_partitioned_box(BoxSize(volume_in3=Fraction(20)), (), spaces, C23)


def test_a_space_has_no_box_of_its_own_and_there_is_at_least_one() -> None:
    with pytest.raises(BoxError, match="came none"):
        reckon_partitioned_box(None, (), (), C23)
    with pytest.raises(BoxError, match="the box is the whole"):
        reckon_partitioned_box(None, (), (BoxSpace(BoxContents(box=BoxSize())),), C23)


def test_spaces_of_an_unknown_box_have_the_volumes_that_they_were_given() -> None:
    spaces = (BoxSpace(BoxContents(some("14", 2)), "left", Fraction(5)), BoxSpace(BoxContents(some("14", 2))))
    work = Work()

    fills = reckon_partitioned_box(None, (), spaces, C23, work)

    assert [(fill.available_in3, fill.fits) for fill in fills] == [(5, True), (None, None)]
    assert [step.text for step in work.steps if step.text.startswith("Space")] == ["Space 1: left", "Space 2"]


# the cure


def test_the_cure_keeps_the_shape_and_names_the_least_ring() -> None:
    contents = BoxContents(some("12", 8), box=BoxSize("4 x 1-1/2 octagonal"))
    fill = reckon_box_fill(contents, C23)

    cure = cure_box(fill, contents, C23)

    assert cure.smallest_box is not None
    assert cure.smallest_box.name == "4 x 2-1/8 octagonal"
    assert cure.any_shape is not None
    assert cure.any_shape.volume_in3 == 18
    assert cure.extension_in3 == Fraction("2.5")
    assert cure.extension is not None
    assert cure.extension.name == "4 x 1-1/4 octagonal"


def test_an_extension_ring_has_the_face_of_the_box() -> None:
    contents = BoxContents(some("12", 14), box=BoxSize("4-11/16 x 1-1/4 square"))

    extension = cure_box(reckon_box_fill(contents, C23), contents, C23).extension

    # Short by 6.0: a ring of 18.0 for the 4 in face would do by volume, but not fit.
    assert extension is not None
    assert extension.name == "4-11/16 x 1-1/4 square"


def test_two_yokes_need_two_gangs_and_three_no_square_box() -> None:
    two = BoxContents(some("14", 4), devices=(Yoke("switch", "14"),) * 2)
    three = replace(two, devices=(Yoke("switch", "14"),) * 3)

    by_two = cure_box(reckon_box_fill(two, C23), two, C23).by_shape
    by_three = cure_box(reckon_box_fill(three, C23), three, C23).by_shape

    # 16 in3 in two gangs: 2 x 10.0; 20 in3 in three: 3 x 7.5.
    assert by_two[BoxShape.DEVICE] is not None
    assert by_two[BoxShape.DEVICE].name == "3 x 2 x 2 device, 2 ganged"
    assert by_two[BoxShape.SQUARE] is not None
    assert by_three[BoxShape.DEVICE] is not None
    assert by_three[BoxShape.DEVICE].name == "3 x 2 x 1-1/2 device, 3 ganged"
    assert by_three[BoxShape.SQUARE] is None


def test_where_no_standard_box_is_large_enough_none_is_named() -> None:
    contents = BoxContents(some("12", 19))

    cure = cure_box(reckon_box_fill(contents, C23), contents, C23)

    assert cure.smallest_box is None
    assert set(cure.by_shape.values()) == {None}


def test_a_box_that_fits_needs_no_ring_and_an_unknown_one_has_no_answer() -> None:
    fitting = BoxContents(some("14", 2), box=BoxSize("4 x 1-1/2 square"))
    unknown = BoxContents(some("14", 2))

    assert cure_box(reckon_box_fill(fitting, C23), fitting, C23).extension_in3 == 0
    assert cure_box(reckon_box_fill(unknown, C23), unknown, C23).extension_in3 is None


def test_the_silent_and_the_shown_reckoning_agree_and_the_steps_add_up() -> None:
    contents = BoxContents(
        some("12", 4) + some("12", 6, ROLE.GROUND),
        devices=(Yoke("receptacle", "12"),),
        clamps=Clamps.INTERNAL,
        box=BoxSize("4 x 1-1/2 square"),
    )
    work = Work()

    shown = reckon_box_fill(contents, C23, work)

    assert shown == reckon_box_fill(contents, C23)
    assert sum(line.in3 for line in shown.lines) == shown.required_in3
    total = next(step for step in work.steps if step.text == "Room that the contents need")
    assert total.value == shown.required_in3 == 9 + Fraction("2.25") + Fraction("4.5") + Fraction("3.375")
    assert work.steps[-1].text == "Room left: 21 − 19.125 in³"


# against a recomputation straight from the tables

AWGS = st.sampled_from(sorted(ALLOWANCE))
GROUPS = st.builds(
    Conductors,
    AWGS,
    st.integers(0, 6),
    st.sampled_from(list(ROLE)),
    st.sampled_from([None, Fraction(11), Fraction(12)]),
)
CONTENTS = st.builds(
    BoxContents,
    st.lists(GROUPS, max_size=6).map(tuple),
    st.lists(
        st.builds(Yoke, st.sampled_from(["switch", "luminaire"]), AWGS, st.integers(1, 3)), max_size=3
    ).map(tuple),
    st.sampled_from(list(Clamps)),
    st.frozensets(st.sampled_from(list(SupportFitting))),
    st.lists(AWGS, max_size=2).map(tuple),
)
YEARS = st.sampled_from([2017, 2020, 2023])


def recomputed(contents: BoxContents, year: int) -> Fraction:
    """The article read anew: nothing of the reckoning is used, only the published table."""
    total = Fraction(0)
    present = [c.awg for c in contents.conductors if c.count]
    present += [y.largest_awg or "" for y in contents.devices] + list(contents.terminal_blocks)
    biggest = min(present, key=int, default=None)
    small_fixture: list[str] = []
    grounds: list[str] = []
    isolated: list[str] = []
    for c in contents.conductors:
        wires = [c.awg] * c.count
        if c.role in (ROLE.INSULATED, ROLE.THROUGH):
            total += sum(ALLOWANCE[awg] for awg in wires)
        elif c.role is ROLE.LOOP:
            total += sum(ALLOWANCE[awg] for awg in wires) * (1 if c.loop_in == 11 else 2)
        elif c.role is ROLE.FIXTURE:
            if int(c.awg) > 14:
                small_fixture += wires
            else:
                total += sum(ALLOWANCE[awg] for awg in wires)
        elif c.role is ROLE.GROUND:
            grounds += wires
        elif c.role is ROLE.ISOLATED_GROUND:
            isolated += wires
    total += sum(ALLOWANCE[awg] for awg in sorted(small_fixture, key=int)[4:])
    if year == 2017:
        total += sum(ALLOWANCE[min(group, key=int)] for group in (grounds, isolated) if group)
    elif together := grounds + isolated:
        total += ALLOWANCE[min(together, key=int)] * (1 + Fraction(max(0, len(together) - 4), 4))
    if biggest:
        total += ALLOWANCE[biggest] * ((contents.clamps is Clamps.INTERNAL) + len(contents.fittings))
    for yoke in contents.devices:
        if yoke.kind == "switch":
            total += 2 * yoke.gangs * ALLOWANCE[yoke.largest_awg or ""]
    if year >= 2023:
        total += sum(ALLOWANCE[awg] for awg in contents.terminal_blocks)
    return total


@given(CONTENTS, YEARS)
def test_the_fill_is_what_the_article_gives_when_read_anew(contents: BoxContents, year: int) -> None:
    assert reckon_box_fill(contents, load_edition(year)).required_in3 == recomputed(contents, year)


BOXES = st.builds(
    BoxSize,
    st.sampled_from([None, "4 x 1-1/2 square", "3 x 2 x 2-3/4 device"]),
    st.sampled_from([None, Fraction(18)]),
    st.integers(1, 3),
    st.sampled_from(
        [(), (Addition(),), (Addition(volume_in3=Fraction(4)), Addition(table="4 x 1-1/4 square"))]
    ),
)


@given(CONTENTS, BOXES, YEARS)
def test_showing_the_work_changes_no_answer_and_every_line_is_a_step(
    contents: BoxContents, box: BoxSize, year: int
) -> None:
    boxed, code, work = replace(contents, box=box), load_edition(year), Work()

    shown = reckon_box_fill(boxed, code, work)

    assert shown == reckon_box_fill(boxed, code)
    assert cure_box(shown, boxed, code, work) == cure_box(shown, boxed, code)
    counted = [step.value for step in work.steps if step.applied and step.cites.startswith("314.16(B)")]
    assert counted == [line.in3 for line in shown.lines]
    assert all(step.text and (step.cites or not step.applied) for step in work.steps)


@given(CONTENTS, GROUPS, YEARS)
def test_more_in_a_box_never_needs_less_room(contents: BoxContents, more: Conductors, year: int) -> None:
    code = load_edition(year)
    fuller = replace(contents, conductors=(*contents.conductors, more))

    before, after = (reckon_box_fill(each, code).required_in3 for each in (contents, fuller))

    assert before is not None
    assert after is not None
    assert after >= before


@given(CONTENTS)
def test_the_smallest_box_is_the_smallest_of_all_that_would_do(contents: BoxContents) -> None:
    fill = reckon_box_fill(contents, C23)
    need = fill.required_in3
    assert need is not None
    gangs = max(1, sum(yoke.gangs for yoke in contents.devices if yoke.kind == "switch"))

    by_shape = cure_box(fill, contents, C23).by_shape

    squares = [Fraction(v) for v in ("18", "21", "30.3", "25.5", "29.5", "42")]
    devices = [Fraction(v) * gangs for v in ("7.5", "10", "10.5", "12.5", "14", "18", "10.3", "13", "14.5")]
    for shape, volumes in ((BoxShape.SQUARE, squares if gangs <= 2 else []), (BoxShape.DEVICE, devices)):
        chosen = by_shape[shape]
        best = min((volume for volume in volumes if volume >= need), default=None)
        assert (chosen.volume_in3 if chosen else None) == best
