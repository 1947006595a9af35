"""What a reckoning came to, kept for whoever asks the same again: after one change, the rest of a house is as it was.

    @remembered(4096)
    def reckoned(layout: WallLayout, code: Edition) -> WallSpacing: ...

Only for pure functions of frozen facts, and for verdicts only: whoever wants the steps calls the reckoning itself.
What is kept is bounded, and shared by every house that the process judges.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Final, ParamSpec, TypeVar, cast

__all__ = ["forget", "remembered"]

P = ParamSpec("P")
R = TypeVar("R")

_FORGET: Final[list[Callable[[], None]]] = []


def remembered(most: int) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keep the last ``most`` answers of a function of hashable arguments. What it raises is not kept."""

    def keep(function: Callable[P, R]) -> Callable[P, R]:
        kept = lru_cache(maxsize=most)(function)
        _FORGET.append(kept.cache_clear)
        return cast("Callable[P, R]", kept)

    return keep


def forget() -> None:
    """Forget every answer, as in a process that has just started: for those who measure."""
    for clear in _FORGET:
        clear()
