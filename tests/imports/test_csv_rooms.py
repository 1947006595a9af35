"""A table of rooms: read exactly, refused by line and column, never by half."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.dwelling import Dwelling, Facts, Level, OpeningKind, Room, RoomKind, Site
from server.imports.csv_rooms import COLUMNS, EXAMPLE, read_csv, write_csv
from server.imports.plans import (
    HousePlan,
    NotReadable,
    OpeningPlan,
    Problem,
    RoomPlan,
    WallPlan,
    with_kinds,
)
from server.imports.reading import read_rooms
from server.imports.room_words import kind_of_name
from server.imports.storing import facts_of


def test_the_example_that_the_page_shows_is_read() -> None:
    plan = read_csv(EXAMPLE)

    (room,) = plan.rooms
    assert (room.level, room.name, room.kind, room.ceiling_in) == (
        "First floor",
        "Kitchen",
        RoomKind.KITCHEN,
        96,
    )
    assert [wall.length_in for wall in room.walls] == [168, 144, 168, 144]
    assert room.walls[0].openings == (OpeningPlan(OpeningKind.DOOR, Fraction(6), Fraction(38)),)


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_any_delimiter_and_line_ending_and_order_of_columns(delimiter: str, ending: str) -> None:
    lines = [
        ["wall", "room", "LENGTH", " turn ", "exterior"], ["1", "Den", "12' 6 1/2\"", "-90", "Yes"], [],
        ["2", "Den", "3.8 m", "", "no"],
    ]  # fmt: skip
    text = "\ufeff" + ending.join(
        delimiter.join(f'"{cell}"'.replace('2"', '2""') if '"' in cell else cell for cell in line)
        for line in lines
    )

    (room,) = read_csv(text).rooms

    assert [wall.length_in for wall in room.walls] == [Fraction(301, 2), Fraction(38000, 254)]
    assert [(wall.turn_deg, wall.exterior) for wall in room.walls] == [(-90, True), (90, False)]


def test_a_room_may_be_a_length_and_a_width_alone() -> None:
    (room,) = read_csv("room,kind,length,width\nOffice,,12',10'\n").rooms

    assert (room.kind, room.length_in, room.width_in, room.walls) == (RoomKind.OFFICE, 144, 120, ())


@pytest.mark.parametrize(
    ("text", "where", "what"),
    [
        ("room,wall,length\nDen,1,abc\n", "line 2, column length", "came 'abc'"),
        ("room,wall,length\nDen,1,12'\n\nDen,x,12'\n", "line 4, column wall", "expected a number from 1 to 60, came 'x'"),
        ("room,wall,length\nDen,1,12'\nDen,1,9'\n", "line 3, column wall", "stands on line 2 already"),
        ("room,wall,length\nDen,1,12'\nDen,3,9'\n", "line 2, column wall", "none of them is number 2"),
        ("room,wall,length\nDen,1,\n", "line 2, column length", "expected a length, it is empty"),
        ("room,wall,length\nDen,1,0\n", "line 2, column length", "more than zero"),
        ("room,wall,length\nDen,1,9000'\n", "line 2, column length", "expected at most 500 ft"),
        ("room,wall,length,turn\nDen,1,9',left\n", "line 2, column turn", "whole degrees from -180 to 180, came 'left'"),
        ("room,wall,length,exterior\nDen,1,9',perhaps\n", "line 2, column exterior", "expected yes, no or nothing"),
        ("room,kind\nDen,dungeon\n", "line 2, column kind", "came 'dungeon'"),
        ("room,wall,length\n,1,9'\n", "line 2, column room", "expected the room's name"),
        ("room,wall,length,opening,from,to\nDen,1,9',,,\nDen,1,,door,6,120\n", "line 3, column to", "expected at most 9 ft, the length of wall 1"),
        ("room,wall,length,opening,from,to\nDen,1,9',,,\nDen,1,,door,60,20\n", "line 3, column to", "expected more than 5 ft"),
        ("room,wall,length,opening,from,to\nDen,1,9',,,\nDen,2,,door,6,20\n", "line 3, column wall", "Den has no wall 2 for this door"),
        ("room,wall,length,opening,from,to\nDen,1,9',,,\nDen,1,,hatch,6,20\n", "line 3, column opening", "came 'hatch'"),
        ("room,wall,length,opening,from,to\nDen,1,9',,,\nDen,1,,door,,20\n", "line 3, column from", "it is empty"),
        ("room,colour\nDen,red\n", "line 1", "came 'colour'"),
        ("level,wall\nx,1\n", "line 1", "with room among them"),
        ("room,room\nx,1\n", "line 1", "the column 'room' stands twice"),
        ("room\nDen,1,2\n", "line 2", "expected 1 columns, came 3"),
        ("room\n" + "x" * 81 + "\n", "line 2, column room", "at most 80 characters"),
        ("", "", "The file is empty"),
        ("room,wall\n", "", "has no room"),
    ],
)  # fmt: skip
def test_a_bad_line_is_named_by_its_number_and_column(text: str, where: str, what: str) -> None:
    with pytest.raises(NotReadable) as caught:
        read_csv(text)

    assert [
        problem for problem in caught.value.problems if problem.where == where and what in problem.what
    ], caught.value.problems


def test_every_bad_line_is_told_at_once_and_at_most_twenty() -> None:
    with pytest.raises(NotReadable) as caught:
        read_csv("room,wall,length\n" + "".join(f"Den,{n},x\n" for n in range(1, 31)))

    assert [problem.where for problem in caught.value.problems] == [
        f"line {n}, column length" for n in range(2, 22)
    ]


@pytest.mark.parametrize(
    ("count", "text"),
    [(400, True), (401, False)],
)
def test_four_hundred_rooms_are_read_and_one_more_is_not(count: int, text: bool) -> None:
    table = "room\n" + "".join(f"Room {n}\n" for n in range(count))
    if text:
        assert len(read_csv(table).rooms) == 400
    else:
        with pytest.raises(NotReadable, match="expected at most 400 rooms"):
            read_csv(table)


lengths = st.integers(1, 20_000).map(lambda n: Fraction(n, 16)) | st.integers(1, 60_000).map(
    lambda mm: Fraction(mm * 10, 254)
)
names = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=30).map(
    str.strip
).filter(bool)  # fmt: skip


def wall_of(draw: Any) -> WallPlan:
    length = draw(lengths)
    cuts = sorted({min(each, length) for each in draw(st.lists(lengths, max_size=4))})
    openings = tuple(
        OpeningPlan(
            draw(st.sampled_from(OpeningKind)), a, b, draw(st.none() | lengths), draw(st.none() | lengths)
        )
        for a, b in pairwise(cuts)
    )
    return WallPlan(length, draw(st.integers(-180, 180)), draw(st.none() | st.booleans()), openings)


plans = st.lists(
    st.builds(
        RoomPlan, names, names, st.sampled_from(RoomKind), st.none() | lengths, st.none() | lengths, st.none() | lengths,
        st.none() | lengths, st.none() | lengths, st.lists(st.composite(wall_of)(), max_size=4).map(tuple),
    ),
    min_size=1, max_size=5, unique_by=lambda room: (room.level.casefold(), room.name.casefold()),
).map(lambda rooms: HousePlan(tuple(rooms)))  # fmt: skip


def outcome(read: Any, given: Any) -> tuple[tuple[RoomPlan, ...], tuple[Problem, ...]]:
    """What reading comes to: rooms, or problems; anything else fails the test."""
    try:
        return read(given).rooms, ()
    except NotReadable as error:
        return (), error.problems


@given(plan=plans)
@settings(max_examples=200, deadline=None)
def test_a_written_table_reads_back_to_the_same(plan: HousePlan) -> None:
    assert read_csv(write_csv(plan)) == plan


@given(
    text=st.text(max_size=300)
    | st.lists(st.sampled_from([*COLUMNS, ",", "\n", '"', ";", "12'", "door", "1", "Den"])).map("".join)
)
@settings(max_examples=300, deadline=None)
def test_no_text_breaks_the_reader(text: str) -> None:
    rooms, problems = outcome(read_csv, text)
    assert bool(rooms) != bool(problems)
    assert all(problem.what for problem in problems)


@given(content=st.binary(max_size=200))
@settings(max_examples=150, deadline=None)
def test_no_bytes_break_the_reader(content: bytes) -> None:
    rooms, problems = outcome(read_rooms, content)
    assert bool(rooms) != bool(problems)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "The file is empty"),
        (b"PK\x03\x04rest", "unpack it first"),
        (b"%PDF-1.7", "expected an IFC file"),
        (b"<ifcXML>", "expected an IFC file"),
        (b"room\x00,wall", "expected an IFC file"),
        (b"\x89PNG\r\n", "expected an IFC file"),
    ],
)
def test_what_is_neither_is_told_by_its_content(content: bytes, says: str) -> None:
    with pytest.raises(NotReadable, match=says):
        read_rooms(content)


def test_a_table_of_an_older_spreadsheet_is_read() -> None:
    (room,) = read_rooms("room,length\nCafé,12'\n".encode("cp1252")).rooms

    assert room.name == "Café"


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Master Bath", RoomKind.BATHROOM), ("BED-2", RoomKind.BEDROOM), ("Walk-in closet", RoomKind.CLOSET), ("WC", RoomKind.TOILET_ROOM),
        ("Garage stair", RoomKind.STAIR), ("kitchen", RoomKind.KITCHEN), ("Great Room", RoomKind.FAMILY_ROOM), ("Hall 1", RoomKind.HALLWAY),
        ("Denver", None), ("Room 7", None), ("", None), ("Utility room", RoomKind.UTILITY_ROOM),
    ],
)  # fmt: skip
def test_names_say_what_a_room_is(name: str, kind: RoomKind | None) -> None:
    assert kind_of_name(name) is kind


def test_facts_join_the_levels_that_are_there_and_take_free_names() -> None:
    house = Dwelling(
        Facts(
            Site("job"), (Level("l1", "First Floor", 0),), (Room("r1", "l1", "Kitchen", RoomKind.KITCHEN, 4),)
        )
    )
    plan = read_csv(
        "level,room,length,width\nfirst floor,Kitchen,12',10'\nAttic,Loft 1,9',9'\nAttic,Room 7,9',9'\n"
    )
    count = iter(range(100))

    facts = facts_of(with_kinds(plan, {2: RoomKind.OFFICE}), house, lambda kind: f"{kind}-{next(count)}")

    rooms = [fact for fact in facts if isinstance(fact, Room)]
    (attic,) = [fact for fact in facts if isinstance(fact, Level)]
    assert [(room.name, room.level_id, room.order) for room in rooms] == [
        ("Kitchen 2", "l1", 5), ("Loft 1", attic.id, 6), ("Room 7", attic.id, 7),
    ]  # fmt: skip
    assert (attic.name, attic.order) == ("Attic", 1)
    assert [room.kind for room in rooms] == [RoomKind.KITCHEN, RoomKind.ATTIC, RoomKind.OFFICE]
