"""How long receptacle spacing takes, on the rooms of an ordinary house. ``python tests/bench/bench_spacing.py``

Twelve rooms and a kitchen, each as it stands halfway through the work: some receptacles in, some missing. Timed
with and without the steps, and the placement alone where it is hardest (an unbroken ring without a receptacle).
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from server.editions import load_edition
from server.reckon.counter_layout import Counter, CounterBreak, CounterReceptacle
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.wall_layout import Opening, Wall, WallLayout, WallReceptacle
from server.reckon.wall_spacing import reckon_wall_spacing
from server.reckon.work import Work

ROUNDS = 200


def room(kind: str, length: int, width: int, *, has: int, studs: int | None = 16) -> WallLayout:
    """A rectangle with a door, a closet door and a window, and receptacles on its first walls."""
    sizes = (length, width, length, width)
    openings = {
        0: (Opening(from_in=Fraction(20), to_in=Fraction(52), kind="door"),),
        2: (Opening(from_in=Fraction(length, 2) - 30, to_in=Fraction(length, 2) + 30, kind="window"),),
        3: (Opening(from_in=Fraction(width, 4), to_in=Fraction(3 * width, 4), kind="closet door"),),
    }
    walls = tuple(
        Wall(id=str(n), length_in=Fraction(s), openings=openings.get(n, ())) for n, s in enumerate(sizes)
    )
    there = tuple(
        WallReceptacle(id=f"r{n}", wall=str(n), at_in=Fraction(sizes[n], 2), height_in=Fraction(16))
        for n in range(has)
    )
    spacing = None if studs is None else Fraction(studs)
    return WallLayout(room=kind, walls=walls, receptacles=there, stud_spacing_in=spacing)


HOUSE = [
    room("living room", 240, 192, has=3), room("dining room", 168, 144, has=2), room("family room", 264, 180, has=1),
    room("bedroom", 168, 156, has=4), room("bedroom", 144, 132, has=2), room("bedroom", 132, 120, has=0),
    room("bedroom", 150, 126, has=1), room("office", 120, 120, has=2), room("den", 156, 132, has=0),
    room("hallway", 180, 42, has=1), room("foyer", 120, 96, has=0), room("sunroom", 192, 144, has=2),
]  # fmt: skip
KITCHEN = [
    Counter(
        id="A", length_in=Fraction(144), receptacles=(CounterReceptacle(id="k1", at_in=Fraction(20)),),
        breaks=(CounterBreak(from_in=Fraction(60), to_in=Fraction(93), kind="sink"),),
    ),
    Counter(id="B", length_in=Fraction(96), continues=True, breaks=(CounterBreak(from_in=Fraction(40), to_in=Fraction(70), kind="range"),)),
    Counter(id="C", kind="island", length_in=Fraction(96), depth_in=Fraction(42)),
]  # fmt: skip
RING = WallLayout(
    room="great room",
    walls=tuple(Wall(id=str(n), length_in=Fraction(s)) for n, s in enumerate((361, 253, 361, 253))),
    stud_spacing_in=Fraction(16),
)


def median_ms(task: Callable[[], object]) -> float:
    """The median of many rounds, in milliseconds."""
    task()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        task()
        times.append(time.perf_counter() - start)
    return statistics.median(times) * 1000


def main() -> None:
    code = load_edition(2020)
    rows: list[tuple[str, Callable[[], object]]] = [
        ("walls of 12 rooms", lambda: [reckon_wall_spacing(layout, code) for layout in HOUSE]),
        (
            "the same, judged only",
            lambda: [reckon_wall_spacing(room_, code, propose=False) for room_ in HOUSE],
        ),
        ("the same with steps", lambda: [reckon_wall_spacing(layout, code, Work()) for layout in HOUSE]),
        ("counters of the kitchen", lambda: reckon_counter_spacing(KITCHEN, code)),
        ("the same with steps", lambda: reckon_counter_spacing(KITCHEN, code, Work())),
        ("an empty ring of 102 ft on studs", lambda: reckon_wall_spacing(RING, code)),
    ]
    for name, task in rows:
        print(f"{name:36} {median_ms(task):8.2f} ms")


if __name__ == "__main__":
    main()
