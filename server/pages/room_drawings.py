"""A room's walls and plan as pages show them: to one scale, with links, with what is missing and what would mend it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal
from urllib.parse import urlencode

from markupsafe import Markup

from server.drawings.elevation import Added, Gap, draw_wall
from server.drawings.plan import draw_room_plan
from server.dwelling import Dwelling, Inches, Room, Wall, format_length
from server.editions import Edition
from server.pages.typed_facts import write_length
from server.readiness.ready_made import READY_MADE
from server.readiness.room_spacing import RoomSpacing

__all__ = ["SIZES", "DrawingSize", "DrawnWall", "drawn_plan", "drawn_walls", "height_of", "wall_name"]

DrawingSize = Literal["usual", "small", "large"]
SIZES: Final[tuple[tuple[DrawingSize, str], ...]] = (
    ("usual", "Usual"),
    ("small", "Small"),
    ("large", "Larger"),
)
_LONG_WALL: Final = Fraction(144)
_DRAWN_WIDTH: Final = 680
_SMALLEST_SCALE: Final = 2.2
_LARGEST_SCALE: Final = 3.8
_LARGER: Final = 1.7
_SMALL_WIDTH: Final = 250
"""A wall, without its margins, that fits a telephone or a side column with its words still 11 px high."""
_MOST_DRAWN_IN: Final = 1200
"""Longer walls are drawn smaller: a wall of a hundred feet at full scale is wider than a browser likes."""


@dataclass(frozen=True, slots=True)
class DrawnWall:
    """One wall of a room, drawn."""

    id: str
    name: str
    svg: Markup


def wall_name(wall: Wall) -> str:
    """What a wall is called."""
    return wall.name or f"Wall {wall.order + 1}"


def height_of(ready: str, code: Edition) -> Inches:
    """The usual height of a ready-made box on a wall."""
    named = READY_MADE[ready].height
    return code.number(f"practice.{named}_height_in") if named else Fraction(0)


def _scale(room: Room, house: Dwelling, size: DrawingSize) -> float:
    """One scale for all walls of a room, so that the longest fills a tablet's width."""
    longest = max((wall.length_in for wall in house.walls_of_room.get(room.id, ())), default=_LONG_WALL)
    if size == "small":
        return min(_SMALLEST_SCALE, _SMALL_WIDTH / float(longest))
    scale = min(_LARGEST_SCALE, max(_SMALLEST_SCALE, _DRAWN_WIDTH / float(longest)))
    if longest > _MOST_DRAWN_IN:
        scale *= _MOST_DRAWN_IN / float(longest)
    return scale * _LARGER if size == "large" else scale


def drawn_walls(
    job_id: str,
    room: Room,
    house: Dwelling,
    code: Edition,
    *,
    spacing: RoomSpacing | None = None,
    may_build: bool,
    size: DrawingSize = "usual",
    only: str | None = None,
    marked: str | None = None,
) -> tuple[DrawnWall, ...]:
    """The walls of a room unfolded (``only``: one of them), each box a link, the bare wall a link that places one."""
    base = f"/jobs/{job_id}"
    scale = _scale(room, house, size)
    links = {box.id: f"{base}/boxes/{box.id}" for box in house.boxes_of_room.get(room.id, ())}
    placing = f"{base}/rooms/{room.id}/boxes/new"
    spacing = spacing or RoomSpacing()
    gaps = [Gap(gap.wall_id, gap.from_in, gap.to_in, gap.words) for gap in spacing.gaps]
    readies = {(item.wall_id, item.at_in): item.ready for item in spacing.proposed}
    words = "+" if size == "small" else "add one"
    added = [Added(item.wall_id, item.at_in, height_of(item.ready, code), words) for item in spacing.proposed]

    def added_link(place: Added) -> str:
        asked = {
            "wall": place.wall_id,
            "at": write_length(place.at_in),
            "ready": readies[place.wall_id, place.at_in],
        }
        return f"{placing}?{urlencode(asked)}"

    return tuple(
        DrawnWall(
            wall.id, f"{wall_name(wall)}, {format_length(wall.length_in)}",
            Markup(  # noqa: S704 - our own drawing, escaped where written
                draw_wall(
                    wall, room, house, scale=scale, gaps=gaps, added=added, links=links,
                    wall_link=f"{placing}?wall={wall.id}" if may_build else None,
                    added_link=added_link if may_build else None, marked=marked,
                )
            ),
        )
        for wall in house.walls_of_room.get(room.id, ())
        if only is None or wall.id == only
    )  # fmt: skip


def drawn_plan(
    job_id: str,
    room: Room,
    house: Dwelling,
    *,
    may_build: bool,
    marked: str | None = None,
    scale: float = 2.0,
) -> Markup:
    """The room from above; empty where it has no size yet."""
    base = f"/jobs/{job_id}"
    links = {box.id: f"{base}/boxes/{box.id}" for box in house.boxes_of_room.get(room.id, ())}
    placing = f"{base}/rooms/{room.id}/boxes/new?surface=ceiling" if may_build else None
    plan = draw_room_plan(room, house, scale=scale, links=links, floor_link=placing, marked=marked)
    return Markup(plan)  # noqa: S704 - our own drawing, escaped where written
