"""Counter receptacles: the wall line, what divides it, heights, and islands and peninsulas in each edition."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.counter_layout import Counter, CounterBreak, CounterReceptacle
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.island_receptacles import receptacles_by_area
from server.reckon.spacing_result import CounterSpacing
from server.reckon.work import Work

F = Fraction
SIXTEENTH = F(1, 16)


def cut(left: object, right: object, kind: str = "sink", **more: object) -> CounterBreak:
    return CounterBreak(from_in=F(left), to_in=F(right), kind=kind, **more)  # type: ignore[arg-type]


def at(*places: object, **more: object) -> tuple[CounterReceptacle, ...]:
    return tuple(CounterReceptacle(id=f"r{place}", at_in=F(place), **more) for place in places)  # type: ignore[arg-type]


def counter(length: object, kind: str = "wall", **more: object) -> Counter:
    return Counter(id="A", length_in=F(length), kind=kind, **more)  # type: ignore[arg-type]


def reckon(*counters: Counter, year: int = 2023) -> CounterSpacing:
    return reckon_counter_spacing(counters, load_edition(year))


# --- Wall counters -------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("width", "fewest"),
    [(12, 1), (12 - SIXTEENTH, 0), (12 + SIXTEENTH, 1), (48, 1), (48 + SIXTEENTH, 2), (96, 2), (97, 3)],
)
def test_a_counter_of_a_foot_needs_one_and_one_more_for_every_four_feet_begun(
    year: int, width: Fraction, fewest: int
) -> None:
    found = reckon(counter(width), year=year)

    assert found.fewest == fewest == len(found.added)
    assert found.complies is (fewest == 0)


@pytest.mark.parametrize(("place", "complies"), [(24, True), (24 - SIXTEENTH, True), (24 + SIXTEENTH, False)])
def test_no_point_of_the_wall_line_is_more_than_two_feet_from_a_receptacle(
    place: Fraction, complies: bool
) -> None:
    assert reckon(counter(30, receptacles=at(place))).complies is complies


def test_what_is_unserved_between_two_receptacles_is_given_by_its_ends() -> None:
    (gap,) = reckon(counter(100, receptacles=at(20, 80))).uncovered

    assert (gap.start.at_in, gap.end.at_in) == (44, 56)


@pytest.mark.parametrize("kind", ["sink", "range", "cooktop", "refrigerator", "Tall_Cabinet"])
def test_what_divides_a_counter_makes_two_spaces_of_it(kind: str) -> None:
    found = reckon(counter(100, breaks=(cut(40, 70, kind),), receptacles=at(20)))

    assert [space.part.length_in for space in found.spaces] == [40, 30]
    assert [part.length_in for part in found.uncovered] == [30]


@pytest.mark.parametrize("kind", ["window", "dishwasher"])
def test_a_window_over_it_or_a_dishwasher_under_it_does_not_divide_a_counter(kind: str) -> None:
    assert len(reckon(counter(100, breaks=(cut(40, 70, kind),))).spaces) == 1


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("corner", "behind", "goes_on"),
    [
        (False, 12, True), (False, 12 - SIXTEENTH, False), (False, 12 + SIXTEENTH, True), (False, None, False),
        (True, 18, True), (True, 18 - SIXTEENTH, False), (True, 18 + SIXTEENTH, True), (True, 12, False),
    ],
)  # fmt: skip
def test_with_depth_enough_behind_a_sink_the_wall_behind_it_counts(
    year: int, corner: bool, behind: Fraction | None, goes_on: bool
) -> None:
    sink = cut(40, 70, behind_in=None if behind is None else F(behind), corner=corner)

    found = reckon(counter(100, breaks=(sink,)), year=year)

    assert [space.part.length_in for space in found.spaces] == ([100] if goes_on else [40, 30])


def test_a_receptacle_behind_a_range_serves_neither_side() -> None:
    found = reckon(counter(100, breaks=(cut(40, 70, "range"),), receptacles=at(41)))

    assert [item.receptacle for item in found.uncounted] == ["r41"]
    assert len(found.uncovered) == 2


def test_counters_that_meet_in_a_corner_are_one_line() -> None:
    legs = (counter(30), replace(counter(40), id="B", continues=True))

    found = reckon(*legs)

    assert [space.part.length_in for space in found.spaces] == [70]
    assert found.fewest == 2
    apart = reckon(legs[0], replace(legs[1], continues=False))
    assert [space.part.length_in for space in apart.spaces] == [30, 40]


def test_a_receptacle_near_the_corner_reaches_around_it() -> None:
    legs = (counter(30, receptacles=at(24)), replace(counter(18), id="B", continues=True))

    assert reckon(*legs).complies is True
    assert reckon(legs[0], replace(legs[1], length_in=18 + SIXTEENTH)).complies is False


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("above", "counts"), [(20, True), (20 - SIXTEENTH, True), (20 + SIXTEENTH, False), (0, True)]
)
def test_a_receptacle_serves_a_counter_from_at_most_twenty_inches_above(
    year: int, above: Fraction, counts: bool
) -> None:
    found = reckon(counter(40, receptacles=at(20, above_in=F(above))), year=year)

    assert found.complies is counts


@pytest.mark.parametrize(
    "fact", [{"out_of_reach": True}, {"in_top": "not listed"}, {"in_drawer": True}, {"below_in": F(4)}]
)
def test_out_of_reach_unlisted_in_a_drawer_or_below_a_wall_counter_it_does_not_count(
    fact: dict[str, object],
) -> None:
    assert reckon(counter(40, receptacles=at(20, **fact)), year=2020).complies is False
    assert reckon(counter(40, receptacles=at(20, in_top="listed")), year=2020).complies is True


def test_a_counter_for_someone_with_a_disability_may_be_served_from_below() -> None:
    low = counter(40, receptacles=at(20, below_in=F(4), overhang_in=F(1)), for_disability=True)

    assert [reckon(low, year=year).complies for year in YEARS] == [True, True, False, False]


def test_a_space_short_only_by_the_trim_of_a_range_is_a_question_for_the_inspector() -> None:
    found = reckon(counter(F(91, 8)))

    assert found.fewest == 0
    assert any("trim" in question for question in found.inspector)
    assert not reckon(counter(F(10))).inspector


@pytest.mark.parametrize(("year", "complies"), [(2017, False), (2020, True), (2023, True), (2026, True)])
def test_each_foot_of_a_multioutlet_assembly_is_an_outlet_from_2020(year: int, complies: bool) -> None:
    strip = at(36, assembly_in=F(48))

    assert reckon(counter(72, receptacles=strip), year=year).complies is complies


# --- Islands and peninsulas ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("long", "short", "fewest"),
    [
        (24, 12, 1), (24 - SIXTEENTH, 12, 0), (24 + SIXTEENTH, 12, 1), (24, 12 - SIXTEENTH, 0),
        (24, 12 + SIXTEENTH, 1), (12, 24, 1), (240, 60, 1),
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["island", "peninsula"])
def test_2017_one_for_an_island_of_two_feet_by_one_whatever_its_length(
    kind: str, long: Fraction, short: Fraction, fewest: int
) -> None:
    found = reckon(counter(long, kind, depth_in=F(short)), year=2017)

    assert found.fewest == fewest == len(found.added)


@pytest.mark.parametrize(("behind", "fewest"), [(12, 1), (12 - SIXTEENTH, 2), (12 + SIXTEENTH, 1), (None, 2)])
def test_2017_a_sink_with_less_than_a_foot_behind_it_makes_two_islands_of_one(
    behind: Fraction | None, fewest: int
) -> None:
    sink = cut(40, 70, behind_in=None if behind is None else F(behind))

    assert reckon(counter(110, "island", depth_in=F(36), breaks=(sink,)), year=2017).fewest == fewest


def test_2017_a_part_beside_the_sink_too_small_for_the_rule_needs_none() -> None:
    found = reckon(counter(100, "island", depth_in=F(20), breaks=(cut(23, 60),)), year=2017)

    assert found.fewest == 1
    assert [part.length_in for part in found.too_narrow] == [23]


@pytest.mark.parametrize(
    ("area", "fewest"),
    [
        (F(1, 10), 1), (9 - F(1, 100), 1), (9, 1), (9 + F(1, 100), 2), (27 - F(1, 100), 2), (27, 2),
        (27 + F(1, 100), 3), (45, 3), (45 + F(1, 100), 4), (63, 4), (81, 5), (0, 0),
    ],
)  # fmt: skip
def test_2020_one_for_nine_square_feet_and_one_for_every_eighteen_more_or_part(
    area: Fraction, fewest: int
) -> None:
    assert receptacles_by_area(F(area), load_edition(2020)) == fewest


def test_2020_the_area_is_length_by_depth_with_the_sink_in_it() -> None:
    plain = counter(72, "island", depth_in=F(36))  # 18 ft2
    with_sink = replace(plain, breaks=(cut(20, 53),))

    assert reckon(plain, year=2020).fewest == reckon(with_sink, year=2020).fewest == 2


def test_2020_a_top_that_is_no_rectangle_is_reckoned_by_its_area() -> None:
    assert reckon(counter(72, "island", area_ft2=F(28)), year=2020).fewest == 3


@pytest.mark.parametrize(
    ("place", "complies"), [(56, True), (56 - SIXTEENTH, False), (56 + SIXTEENTH, True), (80, True)]
)
def test_2020_one_receptacle_of_a_peninsula_is_within_two_feet_of_its_outer_end(
    place: Fraction, complies: bool
) -> None:
    top = counter(80, "peninsula", depth_in=F(24), receptacles=at(place, 5))  # 13 1/3 ft2: two

    found = reckon(top, year=2020)

    assert (found.fewest, found.complies, len(found.added)) == (2, complies, 0 if complies else 1)


def test_2020_the_end_of_an_island_is_free() -> None:
    assert reckon(counter(80, "island", depth_in=F(24), receptacles=at(2, 5)), year=2020).complies is True


def test_2020_two_boxes_are_two_outlets_and_a_quad_in_one_is_a_question() -> None:
    found = reckon(counter(80, "island", depth_in=F(24), receptacles=at(40)), year=2020)

    assert (found.complies, len(found.added)) == (False, 1)
    assert any("one box" in question for question in found.inspector)


def test_2020_a_top_less_than_a_foot_wide_needs_none() -> None:
    assert reckon(counter(80, "peninsula", depth_in=12 - SIXTEENTH), year=2020).fewest == 0
    assert reckon(counter(80, "peninsula", depth_in=F(12)), year=2020).fewest == 1


@pytest.mark.parametrize("year", [2023, 2026])
@pytest.mark.parametrize(("provision", "complies"), [(True, True), (False, False), (None, None)])
def test_from_2023_an_island_needs_none_but_a_provision_for_one(
    year: int, provision: bool | None, complies: bool | None
) -> None:
    found = reckon(counter(80, "island", depth_in=F(40), provision=provision), year=year)

    assert (found.fewest, found.complies, found.added) == (0, complies, ())
    assert bool(found.unseen) is (provision is None)


@pytest.mark.parametrize("year", [2023, 2026])
def test_from_2023_a_receptacle_that_serves_the_top_makes_a_provision_needless(year: int) -> None:
    found = reckon(counter(80, "island", depth_in=F(40), receptacles=at(40, in_top="listed")), year=year)

    assert (found.complies, found.unseen) == (True, ())


@pytest.mark.parametrize(
    ("below", "overhang", "years"),
    [
        (12, 6, {2017, 2020}),
        (12 - SIXTEENTH, 6 - SIXTEENTH, {2017, 2020}),
        (12 + SIXTEENTH, 6, set()),
        (12, 6 + SIXTEENTH, set()),
        (8, None, {2017, 2020}),
    ],
)  # fmt: skip
def test_below_a_flat_island_a_receptacle_serves_it_until_2020_within_its_limits(
    below: Fraction, overhang: Fraction | None, years: set[int]
) -> None:
    there = at(10, below_in=F(below), overhang_in=None if overhang is None else F(overhang))
    top = counter(48, "island", depth_in=F(24), receptacles=there)

    assert {year for year in YEARS if reckon(top, year=year).complies} == years
    assert reckon(replace(top, flat=False), year=2020).complies is False


@pytest.mark.parametrize(
    ("below", "allowed"), [(24, False), (24 - SIXTEENTH, False), (24 + SIXTEENTH, True), (1, False)]
)
def test_2026_no_receptacle_within_two_feet_below_the_top_of_an_island(
    below: Fraction, allowed: bool
) -> None:
    top = counter(48, "island", depth_in=F(24), provision=True, receptacles=at(10, below_in=F(below)))

    found = reckon(top, year=2026)

    assert (found.complies, len(found.not_allowed)) == (allowed, 0 if allowed else 1)


def test_2026_a_receptacle_in_a_drawer_is_allowed_and_serves_nothing() -> None:
    there = at(10, below_in=F(5), in_drawer=True)

    found = reckon(counter(48, "island", depth_in=F(24), provision=True, receptacles=there), year=2026)

    assert (found.complies, found.not_allowed, len(found.uncounted)) == (True, (), 1)


@pytest.mark.parametrize("year", [2017, 2020])
def test_an_island_of_unknown_depth_is_not_called_clear(year: int) -> None:
    found = reckon(counter(48, "island"), year=year)

    assert (found.complies, len(found.unseen)) == (None, 1)


# --- What cannot be ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("counters", "said"),
    [
        ((counter(0),), "length above zero"),
        ((counter(30, breaks=(cut(20, 40),)),), "expected the sink from 0"),
        ((counter(30, breaks=(cut(20, 29, "piano"),)),), "came 'piano'"),
        ((counter(30, "island", depth_in=F(30), breaks=(cut(20, 29, "piano"),)),), "came 'piano'"),
        ((counter(30, receptacles=at(31)),), "receptacle r31"),
        ((counter(30, receptacles=at(3, 3)),), "receptacle, came 'r3' twice"),
        ((counter(30), counter(30)), "counter, came 'A' twice"),
        ((counter(30, continues=True),), "the one that it continues"),
    ],
)
@pytest.mark.parametrize("year", YEARS)
def test_a_counter_that_cannot_be_is_refused_by_name(
    year: int, counters: tuple[Counter, ...], said: str
) -> None:
    with pytest.raises(LayoutError, match=said):
        reckon(*counters, year=year)


# --- Laws ----------------------------------------------------------------------------------------------


@st.composite
def kitchens(draw: st.DrawFn) -> tuple[Counter, ...]:
    made = []
    for index in range(draw(st.integers(1, 4))):
        length = F(draw(st.integers(20, 600)), 4)
        breaks = []
        if draw(st.booleans()):
            left = length * draw(st.fractions(0, F(7, 8), max_denominator=8))
            right = left + (length - left) * draw(st.fractions(F(1, 8), 1, max_denominator=8))
            kind = draw(st.sampled_from(["sink", "range", "refrigerator", "window"]))
            behind = draw(st.sampled_from([None, F(3), F(13)]))
            breaks.append(CounterBreak(from_in=left, to_in=right, kind=kind, behind_in=behind))
        receptacles = tuple(
            CounterReceptacle(id=f"{index}.{n}", at_in=length * draw(st.fractions(0, 1, max_denominator=16)))
            for n in range(draw(st.integers(0, 3)))
        )
        kind = draw(st.sampled_from(["wall", "wall", "island", "peninsula"]))
        continues = kind == "wall" and index > 0 and made[-1].kind == "wall" and draw(st.booleans())
        made.append(
            Counter(
                id=str(index), kind=kind, length_in=length, depth_in=F(draw(st.integers(8, 60))), breaks=tuple(breaks),
                receptacles=receptacles, continues=continues, provision=True,
                stud_spacing_in=draw(st.sampled_from([None, F(16)])),
            )
        )  # fmt: skip
    return tuple(made)


@settings(max_examples=300, deadline=None)
@given(kitchens(), st.sampled_from(YEARS))
def test_with_what_is_added_the_kitchen_complies_and_no_more_is_asked_for(
    counters: tuple[Counter, ...], year: int
) -> None:
    code = load_edition(year)
    found = reckon_counter_spacing(counters, code)
    new: dict[str, tuple[CounterReceptacle, ...]] = {counter.id: () for counter in counters}
    for index, item in enumerate(found.added):
        new[item.place.on] += (CounterReceptacle(id=f"new{index}", at_in=item.place.at_in),)

    mended = reckon_counter_spacing(
        [replace(c, receptacles=c.receptacles + new[c.id]) for c in counters], code
    )

    assert (mended.complies, mended.added, mended.uncovered) == (True, (), ())
    assert found.complies is (not found.added)


@settings(max_examples=200, deadline=None)
@given(kitchens(), st.sampled_from(YEARS))
def test_empty_counters_without_studs_need_exactly_the_fewest(
    counters: tuple[Counter, ...], year: int
) -> None:
    empty = [replace(counter, receptacles=(), stud_spacing_in=None) for counter in counters]

    found = reckon_counter_spacing(empty, load_edition(year))

    assert found.fewest == len(found.added)


@settings(max_examples=100, deadline=None)
@given(kitchens(), st.sampled_from(YEARS))
def test_the_same_answer_comes_with_and_without_the_steps(counters: tuple[Counter, ...], year: int) -> None:
    work = Work()

    found = reckon_counter_spacing(counters, load_edition(year), work)

    assert found == reckon_counter_spacing(counters, load_edition(year))
    assert replace(found, added=()) == reckon_counter_spacing(counters, load_edition(year), propose=False)
    assert bool(found.uncovered) is any(space.short_by for space in found.spaces)
    assert all("Fraction" not in step.text for step in work.steps)
