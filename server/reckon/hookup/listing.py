"""Names in a row, as a sentence has them."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["listed"]


def listed(names: Iterable[str]) -> str:
    """``A``, ``A and B``, ``A, B and C``."""
    all_names = list(names)
    if len(all_names) < 2:
        return "".join(all_names)
    return f"{', '.join(all_names[:-1])} and {all_names[-1]}"
