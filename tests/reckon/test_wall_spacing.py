"""Receptacle spacing along walls: what breaks a wall space, what counts in it, and each limit from three sides."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.dwelling.length import parse_length
from server.editions import YEARS, load_edition
from server.reckon.floor_line import LayoutError
from server.reckon.spacing_result import WallSpacing
from server.reckon.wall_layout import Opening, Wall, WallLayout, WallReceptacle
from server.reckon.wall_spacing import reckon_wall_spacing, room_rule
from server.reckon.work import Work

F = Fraction
SIXTEENTH = F(1, 16)
DOOR = "door"


def opening(left: object, right: object, kind: str = DOOR, **more: object) -> Opening:
    return Opening(from_in=F(left), to_in=F(right), kind=kind, **more)  # type: ignore[arg-type]


def walls(*lengths: object, **openings: list[Opening]) -> tuple[Wall, ...]:
    return tuple(
        Wall(id=name, length_in=F(length), openings=tuple(openings.get(name, ())))  # type: ignore[arg-type]
        for name, length in zip("ABCDEFGH", lengths, strict=False)
    )


def receptacle(wall: str, at: object, **more: object) -> WallReceptacle:
    given = {"id": f"{wall}{at}", "height_in": F(16), **more}
    return WallReceptacle(wall=wall, at_in=F(at), **given)  # type: ignore[arg-type]


def one_wall(length: object, *at: object, year: int = 2023, **more: object) -> WallSpacing:
    """A single straight wall with free ends."""
    layout = WallLayout(
        room="bedroom",
        walls=walls(length),
        closed=False,
        receptacles=tuple(receptacle("A", each) for each in at),
        **more,  # type: ignore[arg-type]
    )
    return reckon_wall_spacing(layout, load_edition(year))


# --- The 6 ft rule -------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("length", "complies"), [(72, True), (72 - SIXTEENTH, True), (72 + SIXTEENTH, False)]
)
def test_from_an_end_to_a_receptacle_six_feet_are_enough_and_a_16th_more_is_not(
    year: int, length: Fraction, complies: bool
) -> None:
    assert one_wall(length, 0, year=year).complies is complies


@pytest.mark.parametrize("apart", [144, 144 - SIXTEENTH, 144 + SIXTEENTH])
def test_two_receptacles_serve_twelve_feet_between_them_and_no_more(apart: Fraction) -> None:
    found = one_wall(apart, 0, apart)

    assert found.complies is (apart <= 144)
    assert sum(part.length_in for part in found.uncovered) == max(apart - 144, 0)


def test_what_is_unserved_is_given_by_its_ends_and_length() -> None:
    found = one_wall(300, 60, 280)

    (gap,) = found.uncovered
    assert (gap.start.at_in, gap.end.at_in, gap.length_in) == (132, 208, 76)


def test_the_gaps_to_dimension_run_from_end_to_receptacle_to_receptacle_to_end() -> None:
    found = one_wall(300, 60, 280)

    gaps = [(gap.between, gap.part.length_in, gap.most_in, gap.over_in) for gap in found.spaces[0].gaps]
    assert gaps == [(("", "A60"), 60, 72, 0), (("A60", "A280"), 220, 144, 76), (("A280", ""), 20, 72, 0)]


@pytest.mark.parametrize(
    ("length", "fewest"),
    [(24, 1), (144, 1), (144 + SIXTEENTH, 2), (288, 2), (288 + SIXTEENTH, 3), (540, 4), (576, 4)],
)
def test_the_fewest_for_an_empty_wall_is_its_length_by_twelve_feet_rounded_up(
    length: Fraction, fewest: int
) -> None:
    found = one_wall(length)

    assert found.fewest == fewest == len(found.added)


# --- What is a wall space ------------------------------------------------------------------------------


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("width", [24, 24 - SIXTEENTH, 24 + SIXTEENTH])
def test_two_feet_make_a_wall_space_and_a_16th_less_does_not(year: int, width: Fraction) -> None:
    found = one_wall(width, year=year)

    assert len(found.spaces) == (width >= 24)
    assert len(found.too_short) == (width < 24)
    assert found.complies is (width < 24)


def test_a_short_wall_goes_on_around_the_corner() -> None:
    layout = WallLayout(room="bedroom", walls=walls(14, 14), closed=False)

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [space.part.length_in for space in found.spaces] == [28]


def test_on_closed_walls_the_space_goes_on_past_the_corner_where_the_walls_begin() -> None:
    layout = WallLayout(room="bedroom", walls=walls(144, 144, 144, 144, A=[opening(20, 56)]))

    (space,) = reckon_wall_spacing(layout, load_edition(2023)).spaces

    assert (str(space.part.start), str(space.part.end)) == ("4 ft 8 in on wall A", "20 in on wall A")
    assert space.part.length_in == 540


def test_a_receptacle_at_the_end_of_the_last_wall_serves_the_first() -> None:
    """In the corner where a closed room begins, the last wall being taken up by doors."""
    layout = WallLayout(
        room="den", walls=walls(70, 40, 70, 40, D=[opening(0, 40)]), receptacles=(receptacle("D", 40),)
    )

    (space,) = reckon_wall_spacing(layout, load_edition(2023)).spaces

    assert space.receptacles == ("D40",)


def test_on_open_walls_it_does_not() -> None:
    layout = WallLayout(room="bedroom", walls=walls(144, 144, 144, 144, A=[opening(20, 56)]), closed=False)

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [space.part.length_in for space in found.spaces] == [520]
    assert [part.length_in for part in found.too_short] == [20]


def test_a_room_that_nothing_breaks_is_a_ring() -> None:
    layout = WallLayout(room="living room", walls=walls(144, 144, 144, 144), closed=True)

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert (found.spaces[0].unbroken_ring, found.fewest, len(found.added)) == (True, 4, 4)


@pytest.mark.parametrize(
    ("perimeter_quarter", "unserved"),
    [(36, 0), (36 + SIXTEENTH / 4, SIXTEENTH), (40, 16)],
)
def test_on_a_ring_one_receptacle_serves_both_ways_round(
    perimeter_quarter: Fraction, unserved: Fraction
) -> None:
    layout = WallLayout(room="den", walls=walls(*[perimeter_quarter] * 4), receptacles=(receptacle("B", 10),))

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert sum(part.length_in for part in found.uncovered) == unserved
    assert found.complies is (unserved == 0)


@pytest.mark.parametrize(
    "kind",
    ["door", "doorway", "sliding_door", "Sliding-Door", "french doors", "archway", "fireplace", "cabinet",
     "fixed cabinet", "stair opening"],
)  # fmt: skip
def test_a_doorway_or_the_like_a_fireplace_a_cabinet_breaks_the_wall_space(kind: str) -> None:
    layout = WallLayout(room="bedroom", walls=walls(120, A=[opening(40, 76, kind)]), closed=False)

    assert [s.part.length_in for s in reckon_wall_spacing(layout, load_edition(2023)).spaces] == [40, 44]


@pytest.mark.parametrize(
    "kind",
    [
        "window",
        "fixed_panel",
        "sidelight",
        "railing",
        "room divider",
        "cabinet_with_countertop",
        "behind door",
    ],
)
def test_a_window_fixed_glass_a_railing_a_cabinet_with_a_top_do_not(kind: str) -> None:
    layout = WallLayout(room="bedroom", walls=walls(120, A=[opening(40, 76, kind)]), closed=False)

    assert [s.part.length_in for s in reckon_wall_spacing(layout, load_edition(2023)).spaces] == [120]


def test_in_a_kitchen_a_cabinet_with_a_top_is_a_counter_and_leaves_the_wall_rule_nothing_to_ask() -> None:
    layout = WallLayout(room="kitchen", walls=walls(120, A=[opening(40, 120, "base cabinet")]), closed=False)

    assert [s.part.length_in for s in reckon_wall_spacing(layout, load_edition(2023)).spaces] == [40]


def test_a_wall_that_is_no_space_breaks_it() -> None:
    layout = WallLayout(room="den", walls=walls(100, 60, 100, 60))
    layout = replace(
        layout, walls=(layout.walls[0], replace(layout.walls[1], space=False), *layout.walls[2:])
    )

    assert [s.part.length_in for s in reckon_wall_spacing(layout, load_edition(2023)).spaces] == [260]


def test_an_end_in_a_corner_is_named_by_the_wall_that_comes_to_it() -> None:
    layout = WallLayout(room="den", walls=walls(100, 60, 80, 60))
    layout = replace(layout, walls=(*layout.walls[:3], replace(layout.walls[3], space=False)))

    (space,) = reckon_wall_spacing(layout, load_edition(2023)).spaces

    assert (str(space.part.start), str(space.part.end)) == ("0 in on wall A", "6 ft 8 in on wall C")
    first, *rest = layout.walls
    turned = reckon_wall_spacing(replace(layout, walls=(*rest, first)), load_edition(2023)).spaces[0]
    assert (str(turned.part.start), str(turned.part.end)) == ("0 in on wall A", "6 ft 8 in on wall C")


def test_what_touches_is_one_break() -> None:
    layout = WallLayout(
        room="bedroom", walls=walls(120, A=[opening(40, 76), opening(76, 100, "cabinet")]), closed=False
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert ([s.part.length_in for s in found.spaces], [p.length_in for p in found.too_short]) == ([40], [20])


def test_a_receptacle_across_a_doorway_serves_nothing_here() -> None:
    layout = WallLayout(
        room="bedroom",
        walls=walls(120, A=[opening(40, 76)]),
        closed=False,
        receptacles=(receptacle("A", 30),),
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [(str(p.start), str(p.end)) for p in found.uncovered] == [
        ("6 ft 4 in on wall A", "10 ft on wall A")
    ]


@pytest.mark.parametrize("kind", ["bench", "built-in bookcase", "window seat"])
def test_what_inspectors_read_differently_is_wall_space_and_shown_both_ways(kind: str) -> None:
    layout = WallLayout(
        room="den",
        walls=walls(150, A=[opening(40, 126, kind)]),
        closed=False,
        receptacles=(receptacle("A", 20), receptacle("A", 140)),
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    (doubt,) = found.both_ways
    assert found.complies is True
    assert (doubt.complies_if_not, doubt.complies_if_it_breaks) == (True, True)
    assert f"{kind.replace('-', ' ')} from 3 ft 4 in" in doubt.question


def test_a_doubt_can_turn_the_answer() -> None:
    layout = WallLayout(
        room="den",
        walls=walls(144, A=[opening(60, 84, "bench")]),
        closed=False,
        receptacles=(receptacle("A", 72),),
    )

    (doubt,) = reckon_wall_spacing(layout, load_edition(2023)).both_ways

    assert (doubt.complies_if_not, doubt.complies_if_it_breaks) == (True, False)


@pytest.mark.parametrize(("place", "asked"), [(20, True), (100, False)])
def test_a_cabinet_is_a_question_only_where_it_would_turn_the_answer(place: int, asked: bool) -> None:
    """100 in of wall, the last 36 in a cabinet: with a receptacle at 20 in the cabinet's wall would be unserved."""
    layout = WallLayout(
        room="den",
        walls=walls(100, A=[opening(64, 100, "cabinet")]),
        closed=False,
        receptacles=(receptacle("A", 20), receptacle("A", 50), receptacle("A", place, id="more"))
        if not asked
        else (receptacle("A", place),),
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [(each.complies_if_it_breaks, each.complies_if_not) for each in found.both_ways] == (
        [(True, False)] if asked else []
    )


def test_a_sliding_doors_fixed_half_is_a_question() -> None:
    layout = WallLayout(room="den", walls=walls(150, A=[opening(40, 112, "slider")]), closed=False)

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [s.part.length_in for s in found.spaces] == [40, 38]
    assert found.inspector == ("whether the fixed half of the slider on wall A counts as wall space",)


# --- What counts ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("fact", "value", "counts"),
    [
        ("height_in", F(66), True),
        ("height_in", 66 - SIXTEENTH, True),
        ("height_in", 66 + SIXTEENTH, False),
        ("floor_offset_in", F(18), True),
        ("floor_offset_in", 18 - SIXTEENTH, True),
        ("floor_offset_in", 18 + SIXTEENTH, False),
        ("switched", "no", True),
        ("switched", "half", True),
        ("switched", "whole", False),
        ("fixed_in", "wall", True),
        ("fixed_in", "baseboard", True),
        ("fixed_in", "luminaire", False),
        ("fixed_in", "appliance", False),
        ("fixed_in", "cabinet", False),
        ("fixed_in", "baseboard heater", False),
        ("serves_counter", True, False),
    ],
)
def test_a_receptacle_counts_by_its_height_place_and_switching(
    year: int, fact: str, value: object, counts: bool
) -> None:
    layout = WallLayout(
        room="bedroom", walls=walls(100), closed=False, receptacles=(receptacle("A", 50, **{fact: value}),)
    )

    found = reckon_wall_spacing(layout, load_edition(year))

    assert found.complies is counts
    assert len(found.uncounted) == (not counts)


def test_a_switched_receptacle_counts_in_a_room_with_a_lighting_outlet_of_its_own() -> None:
    layout = WallLayout(
        room="bedroom", walls=walls(100), closed=False, lighting_outlet=True,
        receptacles=(receptacle("A", 50, switched="whole"),),
    )  # fmt: skip

    assert reckon_wall_spacing(layout, load_edition(2023)).complies is True


def test_a_receptacle_in_a_doorway_or_on_a_wall_too_short_is_named_as_serving_nothing() -> None:
    layout = WallLayout(
        room="bedroom",
        walls=walls(120, A=[opening(20, 56)]),
        closed=False,
        receptacles=(receptacle("A", 10), receptacle("A", 30), receptacle("A", 90)),
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [item.receptacle for item in found.uncounted] == ["A10", "A30"]
    assert found.complies is True


def test_from_2026_no_receptacle_may_be_within_two_feet_below_a_dividers_counter() -> None:
    divider = Wall(id="A", length_in=F(84), kind="divider", top_in=F(42))
    for height, year, complies in [
        (18, 2026, False), (18 - SIXTEENTH, 2026, True), (18 + SIXTEENTH, 2026, False), (42, 2026, True),
        (18, 2023, True),
    ]:  # fmt: skip
        layout = WallLayout(
            room="great room",
            walls=(divider,),
            closed=False,
            receptacles=(receptacle("A", 40, height_in=F(height)),),
        )
        assert reckon_wall_spacing(layout, load_edition(year)).complies is complies, (height, year)


# --- Other rooms ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("room", "rule"),
    [("Bedroom", "spacing"), ("living_room", "spacing"), ("hall", "hallway"), ("foyer", "foyer"),
     ("bathroom", "outside"), ("garage", "outside"), ("walk-in closet", "outside"), ("cat room", "spacing")],
)  # fmt: skip
def test_a_room_follows_the_rule_of_its_kind(room: str, rule: str) -> None:
    assert room_rule(room, load_edition(2023)) == rule


def test_outside_the_rule_nothing_is_reckoned_and_nothing_is_called_clear() -> None:
    found = reckon_wall_spacing(WallLayout(room="bathroom", walls=walls(60, 90, 60, 90)), load_edition(2023))

    assert (found.rule, found.complies, found.fewest, found.spaces) == ("outside", None, 0, ())


def test_a_room_that_no_list_names_is_reckoned_and_the_inspector_is_asked() -> None:
    found = reckon_wall_spacing(WallLayout(room="cat room", walls=walls(60, 90, 60, 90)), load_edition(2023))

    assert found.fewest == 3
    assert any("similar room" in question for question in found.inspector)


@pytest.mark.parametrize(("area", "reached"), [(60, False), (60 + F(1, 100), True), (59, False)])
def test_a_foyer_is_reached_above_sixty_square_feet(area: Fraction, reached: bool) -> None:
    layout = WallLayout(
        room="foyer", walls=walls(100, 90, 100, 90, A=[opening(0, 40)]), floor_area_ft2=F(area)
    )

    assert (reckon_wall_spacing(layout, load_edition(2023)).fewest > 0) is reached


@pytest.mark.parametrize("width", [36, 36 - SIXTEENTH, 36 + SIXTEENTH])
def test_a_large_foyer_needs_one_in_each_wall_space_of_three_feet_whatever_its_length(
    width: Fraction,
) -> None:
    layout = WallLayout(
        room="foyer",
        walls=walls(600, A=[opening(width, 100), opening(130, 160)]),
        closed=False,
        floor_area_ft2=F(90),
    )

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert [space.part.length_in for space in found.spaces] == ([width] if width >= 36 else []) + [440]
    assert found.fewest == len(found.added) == len(found.spaces)


def test_glass_beside_the_front_door_breaks_a_foyers_wall_space_and_not_a_bedrooms() -> None:
    layout = WallLayout(
        room="foyer", walls=walls(120, A=[opening(40, 54, "sidelight")]), closed=False, floor_area_ft2=F(80)
    )

    assert len(reckon_wall_spacing(layout, load_edition(2023)).spaces) == 2
    assert len(reckon_wall_spacing(replace(layout, room="bedroom"), load_edition(2023)).spaces) == 1


@pytest.mark.parametrize(("depth", "reached"), [(72, False), (72 + SIXTEENTH, True)])
def test_the_area_of_a_rectangular_foyer_is_taken_from_its_walls(depth: Fraction, reached: bool) -> None:
    """10 ft by 6 ft is 60 ft2."""
    found = reckon_wall_spacing(
        WallLayout(room="foyer", walls=walls(120, depth, 120, depth)), load_edition(2023)
    )

    assert (found.fewest, found.unseen) == (1 if reached else 0, ())


def test_walls_that_make_no_rectangle_give_a_foyer_no_area() -> None:
    found = reckon_wall_spacing(WallLayout(room="foyer", walls=walls(120, 90, 60, 130)), load_edition(2023))

    assert (found.complies, len(found.unseen)) == (None, 1)


def test_a_foyer_of_unknown_area_with_one_in_each_wall_space_complies_whatever_its_area() -> None:
    layout = WallLayout(
        room="foyer", walls=walls(120, 40, 90), closed=False, receptacles=(receptacle("B", 5),)
    )

    assert reckon_wall_spacing(layout, load_edition(2023)).complies is True


def test_a_foyer_of_unknown_area_is_not_called_short() -> None:
    layout = WallLayout(room="foyer", walls=walls(120, 40, 90), closed=False)

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert (found.complies, len(found.unseen)) == (None, 1)


@pytest.mark.parametrize(
    ("length", "fewest"), [(120, 1), (120 - SIXTEENTH, 0), (120 + SIXTEENTH, 1), (480, 1)]
)
def test_a_hallway_of_ten_feet_needs_one_receptacle_and_a_longer_one_no_more(
    length: Fraction, fewest: int
) -> None:
    layout = WallLayout(room="hallway", walls=walls(length, 40, length, 40))

    found = reckon_wall_spacing(layout, load_edition(2023))

    assert (found.fewest, len(found.added), found.complies) == (fewest, fewest, fewest == 0)


def test_a_bent_hallway_waits_for_its_length_along_the_middle() -> None:
    layout = WallLayout(room="hallway", walls=walls(100, 40, 60, 60, 40, 100))

    assert reckon_wall_spacing(layout, load_edition(2023)).complies is None
    bent = reckon_wall_spacing(replace(layout, centerline_in=F(140)), load_edition(2023))
    assert (bent.complies, bent.fewest) == (False, 1)


# --- What cannot be ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (WallLayout(room="den", walls=()), "at least one wall"),
        (WallLayout(room="den", walls=walls(0)), "length above zero"),
        (WallLayout(room="den", walls=walls(100, A=[opening(90, 110)])), "wall|A: expected the door"),
        (WallLayout(room="den", walls=walls(100, A=[opening(30, 30)])), "expected the door"),
        (WallLayout(room="den", walls=walls(100), receptacles=(receptacle("A", 101),)), "8 ft 4 in, came 8 ft 5 in"),
        (WallLayout(room="den", walls=walls(100), receptacles=(receptacle("Q", 1),)), "expected one of A; came 'Q'"),
        (WallLayout(room="den", walls=walls(100, A=[opening(1, 2, "dor")])), "came 'dor'"),
        (WallLayout(room="den", walls=walls(100), receptacles=(receptacle("A", 1), receptacle("A", 1))), "twice"),
        (WallLayout(room="den", walls=walls(100), stud_spacing_in=F(0)), "stud spacing"),
        (WallLayout(room="den", walls=walls(90), receptacles=(receptacle("A", 1, fixed_in="jar"),)), "came 'jar'"),
        (WallLayout(room="den", walls=(*walls(90), *walls(80))), "'A' twice"),
    ],
)  # fmt: skip
def test_a_layout_that_cannot_be_is_refused_by_name(layout: WallLayout, said: str) -> None:
    with pytest.raises(LayoutError, match=said):
        reckon_wall_spacing(layout, load_edition(2023))


# --- Laws ----------------------------------------------------------------------------------------------

quarter_inches = st.integers(40, 1200).map(lambda quarters: F(quarters, 4))


@st.composite
def rooms(draw: st.DrawFn, *, studs: bool | None = None) -> WallLayout:
    """Rooms of one to six walls with doors, windows and glass, some receptacles, walls in quarter inches."""
    made = []
    closed = draw(st.booleans())
    for index in range(draw(st.integers(1, 6))):
        length = draw(quarter_inches)
        openings = []
        if draw(st.booleans()):
            left = length * draw(st.fractions(0, F(7, 8), max_denominator=8))
            right = left + (length - left) * draw(st.fractions(F(1, 8), 1, max_denominator=8))
            kind = draw(st.sampled_from(["door", "window", "fixed panel", "cabinet"]))
            openings.append(Opening(from_in=left, to_in=right, kind=kind))
        made.append(
            Wall(id=str(index), length_in=length, openings=tuple(openings), space=draw(st.integers(0, 9)) > 0)
        )
    there = []
    for number in range(draw(st.integers(0, 3))):
        wall = draw(st.sampled_from(made))
        at = wall.length_in * draw(st.fractions(0, 1, max_denominator=16))
        there.append(WallReceptacle(id=f"r{number}", wall=wall.id, at_in=at))
    wants_studs = draw(st.booleans()) if studs is None else studs
    return WallLayout(
        room="bedroom", walls=tuple(made), closed=closed, receptacles=tuple(there),
        stud_spacing_in=F(draw(st.sampled_from([16, 24]))) if wants_studs else None,
    )  # fmt: skip


CODE = load_edition(2023)


@settings(max_examples=300, deadline=None)
@given(rooms())
def test_with_what_is_added_the_room_complies_and_no_more_is_asked_for(layout: WallLayout) -> None:
    found = reckon_wall_spacing(layout, CODE)
    new = tuple(
        WallReceptacle(id=f"new{index}", wall=item.place.on, at_in=item.place.at_in)
        for index, item in enumerate(found.added)
    )

    mended = reckon_wall_spacing(replace(layout, receptacles=layout.receptacles + new), CODE)

    assert (mended.complies, mended.added, mended.uncovered) == (True, (), ())
    assert found.complies is (not found.added)


@settings(max_examples=200, deadline=None)
@given(rooms(studs=False))
def test_an_empty_room_without_studs_needs_exactly_the_fewest(layout: WallLayout) -> None:
    found = reckon_wall_spacing(replace(layout, receptacles=()), CODE)

    assert len(found.added) == found.fewest == sum(space.fewest for space in found.spaces)


@settings(max_examples=200, deadline=None)
@given(rooms(studs=False), st.integers(0, 5))
def test_it_does_not_matter_at_which_wall_a_closed_room_begins(layout: WallLayout, turn: int) -> None:
    layout = replace(layout, closed=True)
    turn %= len(layout.walls)
    turned = replace(layout, walls=layout.walls[turn:] + layout.walls[:turn])

    one, other = reckon_wall_spacing(layout, CODE), reckon_wall_spacing(turned, CODE)

    assert one.fewest == other.fewest
    assert len(one.added) == len(other.added)
    assert sorted(p.length_in for p in one.uncovered) == sorted(p.length_in for p in other.uncovered)
    assert sorted(s.part.length_in for s in one.spaces) == sorted(s.part.length_in for s in other.spaces)


@settings(max_examples=200, deadline=None)
@given(rooms(studs=False))
def test_a_room_and_its_mirror_image_need_the_same(layout: WallLayout) -> None:
    def mirrored(wall: Wall) -> Wall:
        length = wall.length_in
        flipped = (replace(o, from_in=length - o.to_in, to_in=length - o.from_in) for o in wall.openings)
        return replace(wall, openings=tuple(flipped))

    lengths = {wall.id: wall.length_in for wall in layout.walls}
    mirror = replace(
        layout,
        walls=tuple(mirrored(wall) for wall in reversed(layout.walls)),
        receptacles=tuple(replace(r, at_in=lengths[r.wall] - r.at_in) for r in layout.receptacles),
    )

    one, other = reckon_wall_spacing(layout, CODE), reckon_wall_spacing(mirror, CODE)

    assert (one.fewest, len(one.added), one.complies) == (other.fewest, len(other.added), other.complies)
    assert sorted(p.length_in for p in one.uncovered) == sorted(p.length_in for p in other.uncovered)


@settings(max_examples=100, deadline=None)
@given(rooms())
def test_the_same_answer_comes_with_and_without_the_steps(layout: WallLayout) -> None:
    work = Work()

    found = reckon_wall_spacing(layout, CODE, work)

    assert found == reckon_wall_spacing(layout, CODE)
    assert replace(found, added=()) == reckon_wall_spacing(layout, CODE, propose=False)
    assert all("Fraction" not in step.text for step in work.steps)


def test_the_steps_can_be_followed_with_a_pencil() -> None:
    layout = WallLayout(
        room="bedroom",
        walls=walls(144, 120, 144, 120, A=[opening(100, 130)]),
        receptacles=(receptacle("B", 60), receptacle("C", 30, height_in=F(70))),
    )
    work = Work()

    reckon_wall_spacing(layout, load_edition(2020), work)

    lines = [step.text for step in work.steps]
    assert "Receptacle C30 does not count: 5 ft 10 in above the floor; more than 5 ft 6 in" in lines
    assert "Wall space 1: from 10 ft 10 in on wall A to 8 ft 4 in on wall A, around 4 corners" in lines
    assert "Fewest for it: 41 ft 6 in / 12 ft, rounded up" in lines
    assert any("over by" in line for line in lines)
    assert work.confidence == "two"


def test_values_carried_to_2026_are_told() -> None:
    work = Work()

    reckon_wall_spacing(WallLayout(room="bedroom", walls=walls(100), closed=False), load_edition(2026), work)

    assert work.confidence == "carry"


def test_lengths_typed_the_trades_way_stay_exact() -> None:
    assert one_wall(parse_length("12' 0 1/16\"")).fewest == 2
