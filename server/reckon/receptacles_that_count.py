"""Which receptacles count as required ones (210.52 (1) to (4), and (A)(3), (A)(4)).

A receptacle does not count where it is part of a luminaire or appliance, switched in place of a lighting
outlet, inside a cabinet, too high, too far out in the floor, or there for a counter. Each refusal says why.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.floor_line import LayoutError
from server.reckon.work import SILENT, Work

__all__ = ["Receptacle", "Switched", "Uncounted", "plain_word", "why_not_counted"]

Switched = Literal["no", "half", "whole"]
"""How much of a receptacle a wall switch controls."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receptacle:
    """A 15 or 20 A, 125 V receptacle outlet.

    ``height_in`` above the floor (None: not given, taken as not too high). ``fixed_in`` what it is part of
    or inside of ("" or "wall" for an ordinary one). ``floor_offset_in`` its distance from the wall where it
    stands in the floor, else None. ``serves_counter`` where it is there for a counter under 210.52(C).
    """

    id: str
    height_in: Inches | None = None
    switched: Switched = "no"
    fixed_in: str = ""
    floor_offset_in: Inches | None = None
    serves_counter: bool = False


@dataclass(frozen=True, slots=True)
class Uncounted:
    """A receptacle that is there and does not count: its id, why, and the article."""

    receptacle: str
    why: str
    cites: str


def plain_word(word: str) -> str:
    """A kind as the edition files write it: ``Sliding_Door`` -> ``sliding door``."""
    return " ".join(word.replace("_", " ").replace("-", " ").lower().split())


def why_not_counted(
    receptacle: Receptacle,
    code: Edition,
    work: Work = SILENT,
    *,
    room_has_lighting_outlet: bool | None = None,
) -> Uncounted | None:
    """Why a receptacle does not count as a required one, or None where it does.

    A fully switched one is taken to stand in place of a lighting outlet unless the room is known to have a
    switched lighting outlet of its own; one with a live half counts by that half.

    Raises:
        LayoutError: ``fixed_in`` is no word of the edition's lists.
    """
    found = _part_or_inside(receptacle, code) or _switched(receptacle, code, room_has_lighting_outlet, work)
    height_max = code.number("spacing.height_max_in", work)
    offset_max = code.number("spacing.floor_max_in", work)
    if found is None:
        if receptacle.height_in is not None and receptacle.height_in > height_max:
            found = (
                "spacing.height_max_in",
                (
                    f"{format_length(receptacle.height_in)} above the floor; more than {format_length(height_max)}"
                ),
            )
        elif receptacle.floor_offset_in is not None and receptacle.floor_offset_in > offset_max:
            found = (
                "spacing.floor_max_in",
                (
                    f"in the floor {format_length(receptacle.floor_offset_in)} from the wall; "
                    f"more than {format_length(offset_max)}"
                ),
            )
        elif receptacle.serves_counter and code.flag("spacing.counter_not_for_wall", work):
            found = "spacing.counter_not_for_wall", "it is there for a counter"
    if found is None:
        return None
    node, why = found
    if work:
        work.skip(f"Receptacle {receptacle.id} does not count: {why}", code.cites(node))
    return Uncounted(receptacle.id, why, code.cites(node))


def _part_or_inside(receptacle: Receptacle, code: Edition) -> tuple[str, str] | None:
    word = plain_word(receptacle.fixed_in)
    if not word or word in code.names("spacing.counted.fixed_in"):
        return None
    if word in code.names("spacing.not_counted.part_of"):
        return "spacing.not_counted.part_of", f"it is part of a fixed thing ({word})"
    if word in code.names("spacing.not_counted.inside"):
        return "spacing.not_counted.inside", f"it sits inside a {word}"
    if word in code.names("spacing.not_counted.heater"):
        why = (
            f"it is part of a {word}; ask the inspector: it can serve only the wall that the heater takes up"
        )
        return "spacing.not_counted.heater", why
    known = sorted(
        name
        for node in ("counted.fixed_in", "not_counted.part_of", "not_counted.inside", "not_counted.heater")
        for name in code.names(f"spacing.{node}")
    )
    raise LayoutError(
        f"receptacle {receptacle.id}: expected fixed_in to be empty or one of {', '.join(known)}; "
        f"came {receptacle.fixed_in!r}"
    )


def _switched(
    receptacle: Receptacle, code: Edition, lighting_outlet: bool | None, work: Work
) -> tuple[str, str] | None:
    if receptacle.switched == "no":
        return None
    if receptacle.switched == "half" and code.flag("spacing.half_switched_counts", work):
        if work:
            cites = code.cites("spacing.half_switched_counts")
            work.step(f"Receptacle {receptacle.id} counts by its half that is always live", True, "", cites)
        return None
    if not code.flag("spacing.switched_not_counted", work):
        return None
    if lighting_outlet:
        if work:
            cites = code.cites("spacing.switched_not_counted")
            text = "is switched, and counts: the room has a lighting outlet of its own"
            work.step(f"Receptacle {receptacle.id} {text}", True, "", cites)
        return None
    return "spacing.switched_not_counted", "a wall switch controls it in place of a lighting outlet"
