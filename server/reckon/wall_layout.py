"""A room's walls in order, with what stands in them: the facts that receptacle spacing is reckoned from.

Turns them into a floor line, the breaks on it, what an inspector may read either way, and the ground on
which a new receptacle could stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.floor_line import FloorLine, LayoutError, Place, Span, Stretch, merged
from server.reckon.mounting_ground import SolidPart, mounting_grounds
from server.reckon.placement import Ground
from server.reckon.receptacles_that_count import Receptacle, plain_word

__all__ = [
    "Opening",
    "Reading",
    "Wall",
    "WallLayout",
    "WallReceptacle",
    "breaks_of",
    "floor_line",
    "grounds_of",
    "reading_of",
]

Reading = Literal["breaks", "wall space", "in doubt"]
"""How something in a wall is read: it breaks the wall space, it does not, or the inspector decides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """Something that takes up a part of a wall: a door, window, fireplace, cabinet, railing ...

    ``sill_in`` is the height of its lower edge above the floor, where a window has one.
    """

    from_in: Inches
    to_in: Inches
    kind: str
    id: str = ""
    sill_in: Inches | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One straight wall. ``space`` is False where there is nothing to count: an open side of the room, a wall of
    tall cabinets. ``kind``: ``wall``, ``railing``, ``divider`` or ``glass``; the last two with ``top_in`` where a
    bar counter lies on top. ``first_stud_in``: where studs start (the stud spacing, where not given)."""

    id: str
    length_in: Inches
    name: str = ""
    openings: tuple[Opening, ...] = ()
    space: bool = True
    kind: Literal["wall", "railing", "divider", "glass"] = "wall"
    top_in: Inches | None = None
    first_stud_in: Inches | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WallReceptacle(Receptacle):
    """A receptacle at its place along a wall; one in the floor at the foot of its distance from the wall."""

    wall: str
    at_in: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class WallLayout:
    """A room. ``closed`` where the last wall meets the first. ``stud_spacing_in`` asks for new receptacles on
    studs. ``lighting_outlet``: whether the room has a switched lighting outlet of its own. ``floor_area_ft2``
    matters in a foyer, ``centerline_in`` in a hallway."""

    room: str
    walls: tuple[Wall, ...]
    closed: bool = True
    receptacles: tuple[WallReceptacle, ...] = ()
    stud_spacing_in: Inches | None = None
    lighting_outlet: bool | None = None
    floor_area_ft2: Fraction | None = None
    centerline_in: Inches | None = None
    new_height_in: Inches = Fraction(16)


def floor_line(layout: WallLayout) -> FloorLine:
    """The layout's floor line, once everything on it has been checked.

    Raises:
        LayoutError: naming the wall and what is wrong: an opening beyond its wall, one that ends before it
            starts, a receptacle on no wall or named twice, a stud spacing that is not above zero.
    """
    line = FloorLine(
        tuple(wall.id for wall in layout.walls),
        tuple(wall.length_in for wall in layout.walls),
        layout.closed,
        tuple(wall.name or f"wall {wall.id}" for wall in layout.walls),
    )
    for wall in layout.walls:
        for item in wall.openings:
            if not 0 <= item.from_in < item.to_in <= wall.length_in:
                raise LayoutError(
                    f"{wall.id}: expected the {plain_word(item.kind)} from 0 to at most "
                    f"{format_length(wall.length_in)}; came {format_length(item.from_in)} to {format_length(item.to_in)}"
                )
    names = [receptacle.id for receptacle in layout.receptacles]
    if len(set(names)) != len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise LayoutError(f"expected a name of its own for each receptacle, came {twice!r} twice")
    for receptacle in layout.receptacles:
        line.running(Place(receptacle.wall, receptacle.at_in))
    if layout.stud_spacing_in is not None and layout.stud_spacing_in < 1:
        raise LayoutError("expected a stud spacing of 1 in or more")
    return line


def reading_of(kind: str, room: str, code: Edition, *, foyer: bool = False) -> Reading:
    """How a kind of thing in a wall is read (210.52(A)(2)).

    A cabinet with a work surface is wall space, but in a kitchen or dining room it is a counter, which has
    its own rule (210.52(C)) and leaves the wall rule nothing to ask there.

    Raises:
        LayoutError: the kind is none of the edition's words; lists them.
    """
    word = plain_word(kind)
    if foyer and word in code.names("spacing.foyer.breaks_too"):
        return "breaks"
    if word in code.names("spacing.opening.breaks"):
        return "breaks"
    if word in code.names("spacing.opening.wall_space"):
        return "wall space"
    if word in code.names("spacing.opening.work_surface"):
        return "breaks" if plain_word(room) in code.names("spacing.counter_rooms") else "wall space"
    if word in code.names("spacing.opening.in_doubt"):
        return "in doubt"
    known = sorted(
        name for node in ("breaks", "wall_space", "work_surface", "in_doubt")
        for name in code.names(f"spacing.opening.{node}")
    )  # fmt: skip
    raise LayoutError(f"expected one of {', '.join(known)}; came {kind!r}")


def breaks_of(
    layout: WallLayout, line: FloorLine, code: Edition, *, foyer: bool = False, turned: Opening | None = None
) -> list[Stretch]:
    """What breaks the floor line: walls that are no space, and openings read so. ``turned``: one opening that
    is to be read the other way this time."""
    found = []
    for wall, start in zip(layout.walls, line.starts_in, strict=True):
        if not wall.space:
            found.append(Stretch(start, start + wall.length_in))
        for item in wall.openings:
            breaks = reading_of(item.kind, layout.room, code, foyer=foyer) == "breaks"
            if breaks != (item is turned):
                found.append(Stretch(start + item.from_in, start + item.to_in))
    return merged(found)


def grounds_of(
    layout: WallLayout, line: FloorLine, span: Span, code: Edition
) -> tuple[Ground | None, tuple[Ground, ...]]:
    """Where new receptacles may stand in a span: on studs (None where no spacing is given), and the other
    grounds, the most ordinary first; last of all in the floor, which can be done anywhere."""
    return mounting_grounds(
        list(_solid(layout, line, span, code)),
        span,
        line.length_in,
        clear_of_ends_in=code.number("spacing.practice.clear_of_opening_in"),
        clear_of_corners_in=code.number("spacing.practice.clear_of_corner_in"),
        stud_spacing_in=layout.stud_spacing_in,
        else_where="in the floor by the wall",
    )


def _solid(layout: WallLayout, line: FloorLine, span: Span, code: Edition) -> Iterator[SolidPart]:
    """The parts of a span where a box can be mounted in a wall, in order. A ring is given twice round."""
    end = span.end_in + (line.length_in if span.ring else 0)
    no_wall = code.names("spacing.opening.no_wall_behind")
    for turn in range(3 if line.closed else 1):
        for wall, first in zip(layout.walls, line.starts_in, strict=True):
            base = first + turn * line.length_in
            left, right = max(base, span.start_in), min(base + wall.length_in, end)
            if left >= right or wall.kind in ("railing", "glass"):
                continue
            taken = merged(
                Stretch(base + item.from_in, base + item.to_in)
                for item in wall.openings
                if plain_word(item.kind) in no_wall
                or (item.sill_in is not None and item.sill_in <= layout.new_height_in)
            )
            for hole in [*taken, Stretch(right, right)]:
                if left < min(hole.start_in, right):
                    yield SolidPart(base, left, min(hole.start_in, right), wall.first_stud_in)
                left = max(left, hole.end_in)
