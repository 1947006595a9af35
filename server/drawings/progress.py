"""A small plot: rooms ready over the last days, against how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

__all__ = ["draw_progress"]

_WIDE: Final = 96
_HIGH: Final = 28


def draw_progress(ready: Sequence[int], rooms: int) -> str:
    """The plot as SVG; empty text where there is less than two days to compare.

    Args:
        ready: rooms ready at the end of each day, oldest first.
        rooms: how many there are: the top of the plot.
    """
    if len(ready) < 2 or rooms <= 0:
        return ""
    step = _WIDE / (len(ready) - 1)
    points = [
        f"{place * step:.1f} {_HIGH - 1 - (_HIGH - 4) * min(count, rooms) / rooms:.1f}"
        for place, count in enumerate(ready)
    ]
    words = f"Rooms ready over {len(ready)} days: from {ready[0]} to {ready[-1]} of {rooms}"
    return (
        f'<svg class="plot" width="{_WIDE}" height="{_HIGH}" viewBox="0 0 {_WIDE} {_HIGH}" role="img" aria-label="{words}">'
        f'<path class="plot-ground" d="M0 {_HIGH - 1}H{_WIDE}"/><path d="M{"L".join(points)}"/></svg>'
    )
