"""Rooms, walls and openings as a table (CSV). The first line names the columns; their order is free.

A line says one thing, by which columns are filled:

    an opening    level, room, wall, opening, from, to        and: sill, head
    a wall        level, room, wall, length                   and: turn, exterior
    a room        level, room                                 and: kind, ceiling, length, width, x, y

``wall`` counts a room's walls from 1, to the right. ``turn`` is the corner at the wall's right end in degrees to the
right: 90 (an inside corner) where it is empty, -90 for an outside corner. ``exterior`` is yes or no. ``opening`` is
one of the words for what stands in a wall (door, window ...). ``x`` and ``y`` place the room's first corner on the
plan of its level. Lengths are written as anywhere here: 12' 6 1/2", 12-6 1/2, 150.5, 3.8 m. A room's level and kind
need to stand on one of its lines only. Commas, semicolons or tabs may part the columns.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from server.dwelling import Inches, LengthError, OpeningKind, RoomKind, format_length, parse_length
from server.imports.plans import (
    MOST_OPENINGS,
    MOST_ROOMS,
    MOST_WALLS,
    HousePlan,
    NotReadable,
    OpeningPlan,
    Problem,
    RoomPlan,
    WallPlan,
)
from server.imports.room_words import kind_of_name

__all__ = ["COLUMNS", "EXAMPLE", "read_csv", "write_csv"]

COLUMNS: Final[Mapping[str, str]] = {
    "level": "the level's name",
    "room": "the room's name; the same name on the same level is the same room",
    "kind": f"one of: {', '.join(RoomKind)}",
    "ceiling": "ceiling height",
    "length": "of the wall; on a room's own line, of the room",
    "width": "of a rectangular room",
    "x": "first corner on the level's plan, from the left",
    "y": "first corner on the level's plan, from the top",
    "wall": "number of the wall, from 1, to the right",
    "turn": "degrees to the right at the wall's right end; empty: 90",
    "exterior": "yes or no",
    "opening": f"one of: {', '.join(OpeningKind)}",
    "from": "left edge of the opening along its wall",
    "to": "right edge of the opening along its wall",
    "sill": "lower edge above the floor",
    "head": "upper edge above the floor",
}
"""Every column, and what stands in it."""

EXAMPLE: Final = """level,room,kind,ceiling,wall,length,turn,opening,from,to
First floor,Kitchen,kitchen,8',1,14',,,,
First floor,Kitchen,,,2,12',,,,
First floor,Kitchen,,,3,14',,,,
First floor,Kitchen,,,4,12',,,,
First floor,Kitchen,,,1,,,door,6,38
"""

_MOST_PROBLEMS: Final = 20
_MOST_LINES: Final = 20_000
_LONGEST_CELL: Final = 200
_LONGEST_IN: Final = Fraction(6000)


@dataclass(slots=True)
class _Opening:
    line: int
    plan: OpeningPlan


@dataclass(slots=True)
class _Wall:
    line: int
    length_in: Inches
    turn_deg: int
    exterior: bool | None


@dataclass(slots=True)
class _Room:
    line: int
    level: str
    name: str
    values: dict[str, Inches] = field(default_factory=dict)
    kind: RoomKind | None = None
    walls: dict[int, _Wall] = field(default_factory=dict)
    openings: list[tuple[int, _Opening]] = field(default_factory=list)


class _Reader:
    """Reads line by line and keeps what is wrong, so that all of it can be mended at once."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.rooms: dict[tuple[str, str], _Room] = {}

    def wrong(self, line: int, column: str, what: str) -> None:
        where = f"line {line}" + (f", column {column}" if column else "")
        self.problems.append(Problem(where, what))

    def length(self, line: int, cells: Mapping[str, str], column: str) -> Inches | None:
        text = cells.get(column, "")
        if not text:
            return None
        try:
            found = parse_length(text)
        except LengthError as error:
            self.wrong(line, column, str(error))
            return None
        if found > _LONGEST_IN:
            self.wrong(line, column, f"expected at most {format_length(_LONGEST_IN)}, came {text[:40]!r}")
            return None
        return found

    def needed(self, line: int, cells: Mapping[str, str], column: str) -> Inches | None:
        if not cells.get(column):
            self.wrong(line, column, "expected a length, it is empty")
            return None
        return self.length(line, cells, column)

    def read(self, line: int, cells: Mapping[str, str]) -> None:
        name, level = cells.get("room", ""), cells.get("level", "")
        if not name:
            self.wrong(line, "room", "expected the room's name, it is empty")
            return
        key = (level.casefold(), name.casefold())
        room = self.rooms.get(key)
        if room is None:
            if len(self.rooms) == MOST_ROOMS:
                raise NotReadable(Problem(f"line {line}", f"expected at most {MOST_ROOMS} rooms in one file"))
            room = self.rooms[key] = _Room(line, level, name)
        if cells.get("kind"):
            try:
                room.kind = RoomKind(cells["kind"].lower())
            except ValueError:
                self.wrong(
                    line, "kind", f"expected one of {', '.join(RoomKind)}; came {cells['kind'][:40]!r}"
                )
        for column in ("ceiling", "x", "y"):
            found = self.length(line, cells, column)
            if found is not None:
                room.values[column] = found
        if cells.get("opening"):
            self.opening(line, cells, room)
        elif cells.get("wall"):
            self.wall(line, cells, room)
        else:
            for column in ("length", "width"):
                found = self.length(line, cells, column)
                if found is not None:
                    room.values[column] = found

    def number(self, line: int, cells: Mapping[str, str]) -> int | None:
        text = cells.get("wall", "")
        if not text.isascii() or not text.isdigit() or not 1 <= int(text[:4]) <= MOST_WALLS:
            self.wrong(line, "wall", f"expected a number from 1 to {MOST_WALLS}, came {text[:40]!r}")
            return None
        return int(text[:4])

    def wall(self, line: int, cells: Mapping[str, str], room: _Room) -> None:
        number = self.number(line, cells)
        length = self.needed(line, cells, "length")
        if length is not None and not length:
            self.wrong(line, "length", "expected more than zero")
        turn_text = cells.get("turn", "") or "90"
        try:
            turn = int(turn_text)
        except ValueError:
            turn = 999
        if not -180 <= turn <= 180:
            self.wrong(line, "turn", f"expected whole degrees from -180 to 180, came {turn_text[:40]!r}")
        exterior = {"": None, "yes": True, "no": False}.get(cells.get("exterior", "").lower(), "?")
        if exterior == "?":
            self.wrong(line, "exterior", f"expected yes, no or nothing; came {cells['exterior'][:40]!r}")
            return
        if number is None or length is None:
            return
        if number in room.walls:
            self.wrong(
                line, "wall", f"wall {number} of {room.name} stands on line {room.walls[number].line} already"
            )
            return
        room.walls[number] = _Wall(line, length, turn, exterior if isinstance(exterior, bool) else None)

    def opening(self, line: int, cells: Mapping[str, str], room: _Room) -> None:
        number = self.number(line, cells)
        start, end = self.needed(line, cells, "from"), self.needed(line, cells, "to")
        sill, head = self.length(line, cells, "sill"), self.length(line, cells, "head")
        try:
            kind = OpeningKind(cells["opening"].lower())
        except ValueError:
            self.wrong(
                line, "opening", f"expected one of {', '.join(OpeningKind)}; came {cells['opening'][:40]!r}"
            )
            return
        if number is None or start is None or end is None:
            return
        if end <= start:
            self.wrong(line, "to", f"expected more than {format_length(start)}, came {cells['to'][:40]!r}")
            return
        room.openings.append((number, _Opening(line, OpeningPlan(kind, start, end, sill, head))))

    def finish(self) -> HousePlan:
        rooms = tuple(self._plan(room) for room in self.rooms.values())
        if self.problems:
            raise NotReadable(*self.problems[:_MOST_PROBLEMS])
        return HousePlan(rooms)

    def _plan(self, room: _Room) -> RoomPlan:
        for number in range(1, len(room.walls) + 1):
            if number not in room.walls:
                self.wrong(
                    room.line,
                    "wall",
                    f"{room.name} has {len(room.walls)} walls, and none of them is number {number}",
                )
                break
        openings: dict[int, list[OpeningPlan]] = {}
        for number, item in room.openings:
            wall = room.walls.get(number)
            if wall is None:
                self.wrong(item.line, "wall", f"{room.name} has no wall {number} for this {item.plan.kind}")
            elif item.plan.to_in > wall.length_in:
                self.wrong(
                    item.line, "to",
                    f"expected at most {format_length(wall.length_in)}, the length of wall {number}; came {format_length(item.plan.to_in)}",
                )  # fmt: skip
            else:
                openings.setdefault(number, []).append(item.plan)
                if len(openings[number]) == MOST_OPENINGS + 1:
                    self.wrong(item.line, "opening", f"expected at most {MOST_OPENINGS} openings in a wall")
        return RoomPlan(
            room.level, room.name, room.kind or kind_of_name(room.name), room.values.get("ceiling"),
            room.values.get("length"), room.values.get("width"), room.values.get("x"), room.values.get("y"),
            tuple(
                WallPlan(wall.length_in, wall.turn_deg, wall.exterior, tuple(sorted(openings.get(number, ()), key=lambda item: item.from_in)))
                for number, wall in sorted(room.walls.items())
            ),
        )  # fmt: skip


def read_csv(text: str) -> HousePlan:
    """Read a table of rooms.

    Raises:
        NotReadable: with every problem (at most twenty), each by its line and column; nothing is read then.
    """
    reader = _Reader()
    lines = _lines(text)
    header: list[str] | None = None
    for line, cells in lines:
        if header is None:
            header = _header(line, cells)
            continue
        if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
            reader.wrong(line, "", f"expected {len(header)} columns, came {len(cells)}")
            continue
        named = {name: cell.strip() for name, cell in zip(header, cells, strict=False)}
        too_long = next((name for name, cell in named.items() if len(cell) > _LONGEST_CELL), None)
        if too_long is not None:
            reader.wrong(line, too_long, f"expected at most {_LONGEST_CELL} characters")
            continue
        if len(named.get("room", "")) > 80 or len(named.get("level", "")) > 80:
            reader.wrong(line, "room", "expected a name of at most 80 characters")
            continue
        reader.read(line, named)
        if len(reader.problems) >= _MOST_PROBLEMS:
            break
    if header is None:
        raise NotReadable(
            Problem("", f"The file is empty: expected a first line such as {EXAMPLE.splitlines()[0]}")
        )
    if not reader.rooms and not reader.problems:
        raise NotReadable(Problem("", "The file names its columns and has no room."))
    return reader.finish()


def _lines(text: str) -> Iterator[tuple[int, list[str]]]:
    """The lines that say something, each with its number."""
    plain = text.replace("\x00", "").replace("\r\n", "\n").replace("\r", "\n")
    first = plain.lstrip("\ufeff").lstrip().split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    found = csv.reader(io.StringIO(plain.lstrip("\ufeff")), delimiter=delimiter, strict=False)
    try:
        for cells in found:
            if found.line_num > _MOST_LINES:
                raise NotReadable(Problem(f"line {found.line_num}", f"expected at most {_MOST_LINES} lines"))
            if any(cell.strip() for cell in cells):
                yield found.line_num, cells
    except csv.Error as error:
        raise NotReadable(Problem(f"line {found.line_num}", f"it is no table: {error}")) from None


def _header(line: int, cells: list[str]) -> list[str]:
    names = [cell.strip().lower() for cell in cells]
    unknown = [name for name in names if name and name not in COLUMNS]
    if unknown:
        raise NotReadable(
            Problem(f"line {line}", f"expected the columns {', '.join(COLUMNS)}; came {unknown[0][:40]!r}")
        )
    if "room" not in names:
        raise NotReadable(
            Problem(f"line {line}", "expected a first line that names the columns, with room among them")
        )
    if twice := [name for name in names if name and names.count(name) > 1]:
        raise NotReadable(Problem(f"line {line}", f"the column {twice[0]!r} stands twice"))
    return names


def write_csv(plan: HousePlan) -> str:
    """A plan as the table that :func:`read_csv` reads back to the same plan."""
    made = io.StringIO()
    writer = csv.DictWriter(made, list(COLUMNS), lineterminator="\n", restval="")
    writer.writeheader()
    for room in plan.rooms:
        own = {
            "kind": room.kind.value if room.kind else "", "ceiling": _write(room.ceiling_in), "x": _write(room.x_in),
            "y": _write(room.y_in), "length": _write(room.length_in), "width": _write(room.width_in),
        }  # fmt: skip
        who = {"level": room.level, "room": room.name}
        writer.writerow({**who, **own})
        for number, wall in enumerate(room.walls, 1):
            exterior = {None: "", True: "yes", False: "no"}[wall.exterior]
            writer.writerow(
                {
                    **who, "wall": str(number), "length": _write(wall.length_in), "turn": str(wall.turn_deg),
                    "exterior": exterior,
                }
            )  # fmt: skip
            for item in wall.openings:
                writer.writerow(
                    {
                        **who, "wall": str(number), "opening": item.kind.value, "from": _write(item.from_in),
                        "to": _write(item.to_in), "sill": _write(item.sill_in), "head": _write(item.head_in),
                    }
                )  # fmt: skip
    return made.getvalue()


def _write(length_in: Inches | None) -> str:
    """A length as text that reads back to the same: a mixed number of inches."""
    if length_in is None:
        return ""
    whole, part = divmod(length_in, 1)
    return f"{whole} {part}" if part and whole else str(part or whole)
