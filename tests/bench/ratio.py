"""How a bench measures: the same number of rounds of both sides, taking turns, the median of each."""

from __future__ import annotations

import gc
import math
import statistics
import time
from collections.abc import Callable, Sequence

__all__ = ["compare", "median_of", "slope", "told"]


def median_of(work: Callable[[], object], rounds: int = 9) -> float:
    """The median time of a piece of work, in seconds."""
    return compare(work, lambda: None, rounds)[0]


def compare(ours: Callable[[], object], theirs: Callable[[], object], rounds: int = 9) -> tuple[float, float]:
    """The median times of two pieces of work that take turns, so that what else the machine does hits both."""
    for work in (ours, theirs):
        work()
    times: tuple[list[float], list[float]] = ([], [])
    gc.collect()
    gc.disable()
    try:
        for _ in range(rounds):
            for place, work in enumerate((ours, theirs)):
                start = time.perf_counter()
                work()
                times[place].append(time.perf_counter() - start)
    finally:
        gc.enable()
    return statistics.median(times[0]), statistics.median(times[1])


def slope(sizes: Sequence[float], times: Sequence[float]) -> float:
    """The slope of time over size on log-log paper: 1 is linear growth."""
    x, y = [math.log(size) for size in sizes], [math.log(moment) for moment in times]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    return sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sum(
        (a - mean_x) ** 2 for a in x
    )


def told(what: str, ours: float, theirs: float, aim: float) -> None:
    """Print one ratio with its two times and its aim."""
    ratio = ours / theirs
    mark = "within" if ratio <= aim else "over"
    print(f"{what:<74} {ours * 1000:9.2f} ms / {theirs * 1000:9.2f} ms = {ratio:6.2f}  (aim {aim:g}: {mark})")
