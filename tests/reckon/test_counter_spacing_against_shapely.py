"""Counter spaces and what is unserved, against shapely; the fewest to add, against a SAT-based solver."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise

import pytest
from pysat.examples.hitman import Hitman
from shapely.geometry import LineString, MultiLineString, Point
from shapely.ops import linemerge, substring, unary_union

from server.editions import load_edition
from server.reckon.counter_layout import Counter, CounterBreak, CounterReceptacle
from server.reckon.counter_spacing import reckon_counter_spacing

KITCHENS = 3000
CHUNK = 500
REACH, LEAST = 24.0, 12.0
TOLERANCE_IN = 1e-6
TURNS = ((1, 0), (0, 1), (-1, 0), (0, -1))


def draw(chance: random.Random) -> tuple[list[Counter], LineString, list[LineString], list[Point]]:
    """A run of one to three counter legs around corners: as facts, and as lines and points in the plane."""
    counters: list[Counter] = []
    corners: list[tuple[float, float]] = [(0.0, 0.0)]
    holes: list[LineString] = []
    points: list[Point] = []
    # Each leg turns the same way and the later ones are no longer than keeps the run from crossing itself.
    for index in range(chance.randint(1, 3)):
        length = Fraction(chance.randint(10, 240 if index < 2 else 100), 2)
        dx, dy = TURNS[index]
        x, y = corners[-1]
        breaks, receptacles = [], []
        if chance.random() < 0.6:
            left = Fraction(chance.randint(0, int(2 * length) - 1), 2)
            right = min(length, left + Fraction(chance.randint(1, 66), 2))
            kind = chance.choice(["sink", "range", "cooktop", "refrigerator"])
            corner = chance.random() < 0.3
            behind = chance.choice([None, Fraction(4), Fraction(12), Fraction(18)])
            breaks.append(CounterBreak(from_in=left, to_in=right, kind=kind, behind_in=behind, corner=corner))
            if kind == "refrigerator" or behind is None or behind < (18 if corner else 12):
                ends = [(x + dx * float(a), y + dy * float(a)) for a in (left, right)]
                holes.append(LineString(ends))
        for number in range(chance.randint(0, 3)):
            at = Fraction(chance.randint(0, int(2 * length)), 2)
            receptacles.append(CounterReceptacle(id=f"{index}.{number}", at_in=at))
            points.append(Point(x + dx * float(at), y + dy * float(at)))
        counters.append(
            Counter(
                id=str(index), length_in=length, breaks=tuple(breaks), receptacles=tuple(receptacles),
                continues=index > 0,
            )
        )  # fmt: skip
        corners.append((x + dx * float(length), y + dy * float(length)))
    return counters, LineString(corners), holes, points


def parts(shape: object) -> list[LineString]:
    joined = linemerge(shape) if isinstance(shape, MultiLineString) else shape
    return [line for line in getattr(joined, "geoms", [joined]) if line.length > TOLERANCE_IN]


@pytest.mark.parametrize("chunk", range(KITCHENS // CHUNK))
def test_counter_spaces_and_what_is_unserved_are_what_the_plane_says(chunk: int) -> None:
    code = load_edition(2023)
    gaps = bends = 0
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        counters, run, holes, points = draw(random.Random(seed))

        found = reckon_counter_spacing(counters, code)

        left = run.difference(unary_union(holes)) if holes else run
        pieces = [piece for piece in parts(left) if piece.length >= LEAST]
        unserved = []
        for piece in pieces:
            served = [
                substring(piece, max(at - REACH, 0), min(at + REACH, piece.length))
                for at in (piece.project(point) for point in points if piece.distance(point) == 0)
            ]
            unserved += parts(piece.difference(unary_union(served))) if served else [piece]
        assert [float(s.part.length_in) for s in found.spaces] == pytest.approx(
            [
                p.length
                for p in sorted(pieces, key=lambda p: run.project(Point(p.interpolate(0.5, normalized=True))))
            ],
            abs=TOLERANCE_IN,
        ), seed
        assert sorted(float(p.length_in) for p in found.uncovered) == pytest.approx(
            sorted(p.length for p in unserved), abs=TOLERANCE_IN
        ), seed
        assert found.complies is (not unserved), seed
        gaps += len(unserved)
        bends += sum(1 for piece in pieces if len(piece.coords) > 2)
    assert gaps > CHUNK / 2
    assert bends > CHUNK / 5


@pytest.mark.parametrize("chunk", range(4))
def test_no_fewer_would_do_says_the_solver(chunk: int) -> None:
    """On whole inches of short counters every best answer can be found: reach and sizes are whole inches."""
    code = load_edition(2023)
    added = 0
    for seed in range(chunk * 40, chunk * 40 + 40):
        chance = random.Random(f"least-{seed}")
        length = chance.randint(12, 160)
        have = [chance.randint(0, length) for _ in range(chance.randint(0, 2))]
        receptacles = tuple(CounterReceptacle(id=str(n), at_in=Fraction(at)) for n, at in enumerate(have))
        found = reckon_counter_spacing(
            [Counter(id="A", length_in=Fraction(length), receptacles=receptacles)], code
        )

        marks = sorted(
            {0, length, *(e for p in range(length + 1) for e in (p - 24, p + 24) if 0 < e < length)}
        )
        middles = [Fraction(a + b, 2) for a, b in pairwise(marks)]
        open_parts = [m for m in middles if all(abs(m - at) > 24 for at in have)]
        sets = [[p for p in range(length + 1) if abs(m - p) <= 24] for m in open_parts]
        with Hitman(bootstrap_with=sets, htype="sorted") as solver:
            least = len(solver.get()) if sets else 0
        assert len(found.added) == least, (seed, length, have)
        added += least
    assert added > 20
