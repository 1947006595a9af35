"""Where a new box can be mounted along a line of wall: on studs, between them, close to an edge, elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.dwelling.length import Inches
from server.reckon.floor_line import Span, Stretch
from server.reckon.placement import Ground, Patch

__all__ = ["SolidPart", "mounting_grounds"]


@dataclass(frozen=True, slots=True)
class SolidPart:
    """A part of a wall that can take a box, in running inches, with the start of its wall (from which studs
    and whole inches are measured) and its first stud's distance from there (None: one stud spacing)."""

    wall_start_in: Inches
    start_in: Inches
    end_in: Inches
    first_stud_in: Inches | None = None


def mounting_grounds(
    solid: Sequence[SolidPart],
    span: Span,
    line_length_in: Inches,
    *,
    clear_of_ends_in: Inches,
    clear_of_corners_in: Inches,
    stud_spacing_in: Inches | None,
    else_where: str,
) -> tuple[Ground | None, tuple[Ground, ...]]:
    """The stud ground (None where no spacing is given) and the others, the most ordinary first.

    ``solid`` lies in order; for a ring it goes round twice. The clearances from the ends of the span (a door's
    casing, a range) and from corners are common practice: kept where the fewest can be reached with them.
    ``else_where`` names the last resort, which can be had anywhere along the span.
    """
    kept = []
    for part in solid:
        left = clear_of_ends_in if part.start_in == span.start_in and not span.ring else clear_of_corners_in
        right = clear_of_ends_in if part.end_in == span.end_in and not span.ring else clear_of_corners_in
        if part.start_in + left <= part.end_in - right:
            kept.append((part, Stretch(part.start_in + left, part.end_in - right)))
    whole = [Patch(c.start_in, c.end_in, Fraction(1), part.wall_start_in) for part, c in kept]
    ordinary = "between studs" if stud_spacing_in else "on the wall"
    # A ring is one round and the next; apart, so that it has an end where a search can start.
    rounds = [Patch(span.start_in, span.end_in)]
    if span.ring:
        rounds.append(Patch(span.end_in, span.end_in + line_length_in))
    others = (
        Ground(ordinary, tuple(whole)),
        Ground(ordinary, tuple(Patch(c.start_in, c.end_in) for _, c in kept)),
        Ground("close to an end or corner", tuple(Patch(part.start_in, part.end_in) for part in solid)),
        Ground(else_where, tuple(rounds)),
    )
    if stud_spacing_in is None:
        return None, others
    studs = tuple(
        Patch(
            c.start_in,
            c.end_in,
            stud_spacing_in,
            part.wall_start_in + (stud_spacing_in if part.first_stud_in is None else part.first_stud_in),
        )
        for part, c in kept
    )
    return Ground("on a stud", studs), others
