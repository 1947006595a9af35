"""The fewest receptacles to add, proved minimal by other means than ours.

On studs: the least hitting set by a SAT-based solver (python-sat's Hitman), which knows nothing of lines or of
order: one set of studs for each elementary part of the wall, those within reach of it. Anywhere: a breadth-first
search over every spot of a half-inch grid, on which (all sizes being half inches) some best answer lies.
"""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import combinations, pairwise

import pytest
from pysat.examples.hitman import Hitman

from server.editions import load_edition
from server.reckon.floor_line import Span, uncovered
from server.reckon.mounting_ground import SolidPart, mounting_grounds
from server.reckon.placement import Ground, Patch, ToServe, fewest_anywhere, place_fewest
from server.reckon.wall_layout import Opening, Wall, WallLayout, WallReceptacle
from server.reckon.wall_spacing import reckon_wall_spacing

F = Fraction
REACH = 72
CLEAR_OF_OPENING, CLEAR_OF_CORNER = 4, 3  # common practice, as in the edition file


def random_layout(chance: random.Random, spacing: int | None) -> WallLayout:
    """A small room: one to five walls, doors and windows, up to three receptacles, in half inches."""
    walls = []
    for index in range(chance.randint(1, 5)):
        length = F(chance.randint(20, 500), 2)
        openings = []
        if chance.random() < 0.4:
            left = F(chance.randint(0, int(2 * length) - 2), 2)
            right = min(length, left + F(chance.randint(1, 120), 2))
            openings.append(
                Opening(from_in=left, to_in=right, kind=chance.choice(["door", "window", "fixed glass"]))
            )
        walls.append(
            Wall(id=str(index), length_in=length, openings=tuple(openings), space=chance.random() > 0.1)
        )
    there = []
    for number in range(chance.choice([0, 0, 1, 2, 3])):
        wall = chance.choice(walls)
        there.append(
            WallReceptacle(
                id=str(number), wall=wall.id, at_in=F(chance.randint(0, int(2 * wall.length_in)), 2)
            )
        )
    return WallLayout(
        room="bedroom", walls=tuple(walls), closed=chance.random() < 0.6, receptacles=tuple(there),
        stud_spacing_in=None if spacing is None else F(spacing),
    )  # fmt: skip


class Unrolled:
    """The test's own reading of a room: wall spaces as lists of half-inch steps in order."""

    def __init__(self, layout: WallLayout) -> None:
        self.layout = layout
        steps: list[bool] = []  # of each half inch of the floor line, whether it is wall space
        self.starts: list[int] = []
        for wall in layout.walls:
            self.starts.append(len(steps))
            mine = [wall.space] * int(2 * wall.length_in)
            for item in wall.openings:
                if item.kind == "door":
                    for step in range(int(2 * item.from_in), int(2 * item.to_in)):
                        mine[step] = False
            steps += mine
        self.steps = steps
        self.total = len(steps)

    def spaces(self) -> list[tuple[int, int, bool]]:
        """Start, end (in half inches, end beyond the total where it goes round) and whether it is a ring."""
        if all(self.steps):
            return [(0, self.total, self.layout.closed)] if self.total >= 48 else []
        first = self.steps.index(False) if self.layout.closed else 0
        order = (
            [(first + n) % self.total for n in range(self.total)] if self.layout.closed else range(self.total)
        )
        found, run = [], []
        for step in [*order, -1]:
            if step >= 0 and self.steps[step]:
                run.append(step)
                continue
            if len(run) >= 48:
                found.append((run[0], run[0] + len(run), False))
            run = []
        return found

    def have(self, start: int, end: int) -> list[int]:
        places = []
        for item in self.layout.receptacles:
            at = self.starts[int(item.wall)] + int(2 * item.at_in)
            if self.layout.closed:
                at %= self.total
            for seen in (at, at + self.total) if self.layout.closed else (at,):
                if start <= seen <= end:
                    places.append(seen)
                    break
        return places

    def studs(self, start: int, end: int, ring: bool) -> list[int]:
        """Every stud of the space that keeps clear of its ends and of corners, and has wall to hold it."""
        assert self.layout.stud_spacing_in is not None
        spacing = int(2 * self.layout.stud_spacing_in)
        found = []
        for turn in (0, 1) if self.layout.closed and not ring else (0,):
            for wall, first in zip(self.layout.walls, self.starts, strict=True):
                base = first + turn * self.total
                for at in range(base + spacing, base + int(2 * wall.length_in), spacing):
                    here = at - base
                    glass = [(2 * o.from_in, 2 * o.to_in) for o in wall.openings if o.kind == "fixed glass"]
                    corner = 2 * CLEAR_OF_CORNER
                    near_corner = here < corner or 2 * wall.length_in - here < corner
                    at_end = not ring and (
                        at - start < 2 * CLEAR_OF_OPENING or end - at < 2 * CLEAR_OF_OPENING
                    )
                    # A wall that starts or ends where the space does has an end there and no corner.
                    in_glass = any(left - corner < here < right + corner for left, right in glass)
                    if start <= at <= end and not at_end and not near_corner and not in_glass:
                        found.append(at)
        return found


def distance(a: F | int, b: F | int, start: int, end: int, ring: bool) -> F:
    away = abs(F(a) - F(b))
    return min(away, (end - start) - away) if ring else away


def least_by_solver(spots: list[int], have: list[int], start: int, end: int, ring: bool) -> int | None:
    """The least number of spots that serve what is not served, or None where they cannot."""
    reach = 2 * REACH
    length = end - start
    marks = {F(start), F(end)}
    for spot in [*spots, *have]:
        for edge in (spot - reach, spot + reach):
            marks.add(F(start + (edge - start) % length) if ring else F(min(max(edge, start), end)))
    sets = []
    for left, right in pairwise(sorted(marks)):
        middle = (left + right) / 2
        if any(distance(middle, place, start, end, ring) <= reach for place in have):
            continue
        serving = [spot for spot in spots if distance(middle, spot, start, end, ring) <= reach]
        if not serving:
            return None
        sets.append(serving)
    if not sets:
        return 0
    with Hitman(bootstrap_with=sets, htype="sorted") as solver:
        return len(solver.get())


@pytest.mark.parametrize("spacing", [16, 24])
@pytest.mark.parametrize("chunk", range(8))
def test_on_studs_no_fewer_would_do_says_the_solver(spacing: int, chunk: int) -> None:
    code = load_edition(2023)
    on_studs = rings = off_studs = 0
    for seed in range(chunk * 150, chunk * 150 + 150):
        layout = random_layout(random.Random(f"{spacing}-{seed}"), spacing)
        found = reckon_wall_spacing(layout, code)
        room = Unrolled(layout)
        spaces = room.spaces()
        assert len(spaces) == len(found.spaces), seed
        least, feasible = 0, True
        for start, end, ring in spaces:
            spots = room.studs(start, end, ring)
            number = least_by_solver(spots, room.have(start, end), start, end, ring)
            feasible = feasible and number is not None
            least += number or 0
        if feasible:
            assert {item.ground for item in found.added} <= {"on a stud"}, seed
            assert len(found.added) == least, seed
            on_studs += bool(least)
            rings += any(ring for _, _, ring in spaces) and least > 0
        else:
            assert any(item.ground != "on a stud" for item in found.added), seed
            off_studs += 1
    assert on_studs > 60
    assert rings > 5
    # A space of two feet between a door and a corner may hold no stud at 24 in; at 16 in there mostly is one.
    assert off_studs > 0 or spacing == 16


def least_by_search(have: list[int], start: int, end: int, ring: bool) -> int:
    """Breadth first over a half-inch grid: how far from the left can so many receptacles serve?"""
    if ring and not have:
        # Somewhere stands the first; what it leaves is a line. All starts are alike on an empty ring.
        return 1 + least_by_search([start, end], start, end, ring=False) if end - start > 4 * REACH else 1
    if ring:
        turned = sorted((place - have[0]) % (end - start) for place in have)
        return least_by_search([*turned, end - start], 0, end - start, ring=False)
    reach = 2 * REACH
    need = [all(abs(2 * step + 1 - 2 * place) > 2 * reach for place in have) for step in range(start, end)]
    reached, number = {0}, 0
    while True:
        # A state is how many steps from the left are served; skip those that need nothing.
        settled = set()
        for state in reached:
            while state < len(need) and not need[state]:
                state += 1
            settled.add(state)
        if len(need) in settled:
            return number
        number += 1
        reached = set()
        for state in settled:
            for spot in range(max(state - reach + 1, 0), min(state + reach, len(need)) + 1):
                reached.add(min(spot + reach, len(need)))


@pytest.mark.parametrize("chunk", range(4))
def test_anywhere_no_fewer_would_do_says_the_search(chunk: int) -> None:
    code = load_edition(2023)
    seen = 0
    for seed in range(chunk * 75, chunk * 75 + 75):
        layout = random_layout(random.Random(f"any-{seed}"), None)
        found = reckon_wall_spacing(layout, code)
        room = Unrolled(layout)
        least = sum(least_by_search(room.have(s, e), s, e, ring) for s, e, ring in room.spaces())
        assert len(found.added) == least, seed
        seen += bool(least)
    assert seen > 40


# --- The placement by itself ---------------------------------------------------------------------------


@pytest.mark.parametrize("chunk", range(4))
def test_scattered_marks_on_lines_and_rings_are_hit_as_few_times_as_trying_all_subsets_says(
    chunk: int,
) -> None:
    infeasible = rings = 0
    for seed in range(chunk * 100, chunk * 100 + 100):
        chance = random.Random(f"marks-{seed}")
        length, reach, ring = chance.randint(20, 60), chance.randint(3, 12), chance.random() < 0.5
        marks = sorted(chance.sample(range(length + (0 if ring else 1)), chance.randint(2, 9)))
        have = tuple(F(place) for place in chance.sample(range(length), chance.choice([0, 0, 1, 2])))
        span = Span(F(0), F(length), ring=ring)
        rounds = (0, length, 2 * length) if ring else (0,)
        patches = tuple(Patch(F(m + turn), F(m + turn)) for turn in rounds for m in marks)
        found = place_fewest(ToServe(span, F(reach), have, (Ground("marks", patches),)))

        best = None
        for number in range(len(marks) + 1):
            if any(
                not uncovered(span, [*have, *map(F, chosen)], F(reach))
                for chosen in combinations(marks, number)
            ):
                best = number
                break
        if best is None:
            assert found.left, seed
            infeasible += 1
        else:
            assert not found.left, seed
            assert len(found.spots) == best, seed
            served = [F(spot.at_in) % length if ring else spot.at_in for spot in found.spots]
            assert uncovered(span, [*have, *served], F(reach)) == (), seed
            rings += ring
    assert infeasible > 5
    assert rings > 15


@pytest.mark.parametrize("chunk", range(4))
def test_stretches_of_ground_on_rings_need_as_few_as_trying_all_subsets_of_a_fine_grid_says(
    chunk: int,
) -> None:
    """Ground in a few stretches, some far from where the ring is cut; spots on a grid of thirds as well as ours."""
    beyond_the_first_reaches = 0
    for seed in range(chunk * 60, chunk * 60 + 60):
        chance = random.Random(f"ground-{seed}")
        length, reach = chance.randint(12, 24), chance.randint(3, 6)
        edges = sorted(chance.sample(range(length + 1), 2 * chance.randint(1, 3)))
        stretches = list(zip(edges[::2], edges[1::2], strict=True))
        span = Span(F(0), F(length), ring=True)
        patches = tuple(Patch(F(a + turn), F(b + turn)) for turn in (0, length) for a, b in stretches)
        found = place_fewest(ToServe(span, F(reach), (), (Ground("ground", patches),)))

        grid = sorted({F(third, 3) for a, b in stretches for third in range(3 * a, 3 * b + 1)})
        best = None
        for number in range(1, 4):
            if any(not uncovered(span, list(chosen), F(reach)) for chosen in combinations(grid, number)):
                best = number
                break
        if best is None:
            assert found.left or len(found.spots) > 3, seed
        else:
            assert len(found.spots) == best, seed
            assert uncovered(span, [spot.at_in % length for spot in found.spots], F(reach)) == (), seed
            beyond_the_first_reaches += any(b > 2 * reach for _, b in stretches)
    assert beyond_the_first_reaches > 15


@pytest.mark.parametrize(
    ("length", "reach", "fewest"), [(144, 72, 1), (F(2305, 16), 72, 2), (1, 72, 1), (48, 24, 1), (49, 24, 2)]
)
def test_a_span_needs_its_length_by_two_reaches_rounded_up(length: Fraction, reach: int, fewest: int) -> None:
    assert fewest_anywhere(F(length), F(reach)) == fewest


def test_of_the_ways_with_the_fewest_one_is_taken_that_keeps_the_farthest_point_nearest() -> None:
    ground = Ground("wall", (Patch(F(0), F(200)),))

    found = place_fewest(ToServe(Span(F(0), F(200)), F(72), (), (ground,)))

    assert [spot.at_in for spot in found.spots] == [50, 150]


def test_the_ground_that_does_with_fewer_is_taken_before_a_more_ordinary_one() -> None:
    ordinary = Ground("ordinary", (Patch(F(10), F(10)), Patch(F(150), F(150))))
    last = Ground("last", (Patch(F(0), F(160)),))

    found = place_fewest(ToServe(Span(F(0), F(144)), F(72), (), (ordinary, last)))

    assert [(spot.at_in, spot.ground) for spot in found.spots] == [(72, "last")]


def test_studs_that_are_asked_for_are_taken_though_another_spot_would_save_one() -> None:
    studs = Ground("on a stud", (Patch(F(16), F(144), F(16)),))
    anywhere = Ground("anywhere", (Patch(F(0), F(144)),))
    span = Span(F(0), F(144))

    assert [s.at_in for s in place_fewest(ToServe(span, F(71), (), (anywhere,), studs)).spots] == [32, 112]
    wide = Ground("on a stud", (Patch(F(24), F(144), F(24)),))
    assert [s.at_in for s in place_fewest(ToServe(span, F(72), (), (anywhere,), wide)).spots] == [72]


def test_what_no_ground_can_serve_is_left_and_told() -> None:
    found = place_fewest(
        ToServe(Span(F(0), F(300)), F(72), (F(0),), (Ground("wall", (Patch(F(0), F(90)),)),))
    )

    assert [(gap.start_in, gap.end_in) for gap in found.left] == [(72, 300)]


def test_a_box_cannot_be_mounted_in_fixed_glass_so_it_is_a_floor_receptacle() -> None:
    layout = WallLayout(
        room="living room",
        walls=(
            Wall(
                id="A", length_in=F(120), openings=(Opening(from_in=F(0), to_in=F(120), kind="fixed glass"),)
            ),
        ),
        closed=False,
        stud_spacing_in=F(16),
    )

    (new,) = reckon_wall_spacing(layout, load_edition(2023)).added

    assert (new.ground, new.place.at_in) == ("in the floor by the wall", 60)


def test_a_stud_exactly_as_far_from_both_ends_as_practice_asks_takes_a_box() -> None:
    part = SolidPart(F(0), F(10), F(18), first_stud_in=F(14))

    studs, _ = mounting_grounds(
        [part], Span(F(10), F(18)), F(100), clear_of_ends_in=F(4), clear_of_corners_in=F(3),
        stud_spacing_in=F(16), else_where="in the floor",
    )  # fmt: skip

    assert studs is not None
    assert studs.last_up_to(F(100)) == 14


@pytest.mark.parametrize(
    ("kind", "ground"),
    [
        ("railing", "in the floor by the wall"),
        ("glass", "in the floor by the wall"),
        ("divider", "on a stud"),
    ],
)
def test_a_railing_or_a_wall_of_glass_takes_no_box_and_a_solid_divider_does(kind: str, ground: str) -> None:
    wall = Wall(id="A", length_in=F(84), kind=kind)  # type: ignore[arg-type]
    layout = WallLayout(room="great room", walls=(wall,), closed=False, stud_spacing_in=F(16))

    (new,) = reckon_wall_spacing(layout, load_edition(2023)).added

    assert new.ground == ground


def test_a_low_window_takes_no_box_and_a_high_one_does() -> None:
    def added(sill: int) -> Fraction:
        window = Opening(from_in=F(40), to_in=F(80), kind="window", sill_in=F(sill))
        layout = WallLayout(
            room="den", walls=(Wall(id="A", length_in=F(100), openings=(window,)),), closed=False,
            stud_spacing_in=F(16),
        )  # fmt: skip
        (new,) = reckon_wall_spacing(layout, load_edition(2023)).added
        return new.place.at_in

    assert added(30) == 48
    assert added(8) == 32


def test_studs_are_counted_from_where_the_wall_says_they_start() -> None:
    wall = Wall(id="A", length_in=F(120), first_stud_in=F(57, 4))
    layout = WallLayout(room="den", walls=(wall,), closed=False, stud_spacing_in=F(16))

    (new,) = reckon_wall_spacing(layout, load_edition(2023)).added

    assert new.place.at_in == F(57, 4) + 3 * 16
