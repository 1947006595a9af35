"""The name of a room on its plan stands inside the walls and on no symbol."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from server.drawings.name_place import name_place

ROOM = [(0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0)]
L_SHAPE = [(0.0, 0.0), (300.0, 0.0), (300.0, 80.0), (120.0, 80.0), (120.0, 240.0), (0.0, 240.0)]


def stands(words: str, at: tuple[float, float]) -> Polygon:
    """The ground that the words cover."""
    wide = len(words) * 6.0
    return box(at[0] - wide / 2, at[1] - 12, at[0] + wide / 2, at[1])


def test_in_an_empty_room_it_stands_where_it_is_wanted() -> None:
    assert name_place("Bedroom", ROOM, [], (150, 140)) == (150, 140)


def test_it_gives_way_to_a_luminaire() -> None:
    luminaire = (150.0, 136.0)

    found = name_place("Bedroom", ROOM, [luminaire], (150, 140))

    assert not stands("Bedroom", found).intersects(Point(luminaire).buffer(10))
    assert Polygon(ROOM).contains(stands("Bedroom", found))


def test_in_an_l_it_stays_within_the_walls() -> None:
    found = name_place("Kitchen", L_SHAPE, [], (210, 170))

    assert Polygon(L_SHAPE).contains(stands("Kitchen", found))


@given(st.lists(st.tuples(st.floats(10, 290), st.floats(10, 190)), max_size=6))
def test_with_up_to_six_symbols_in_a_usual_room_a_free_place_is_found(
    symbols: list[tuple[float, float]],
) -> None:
    found = name_place("Bath", ROOM, symbols, (150, 140))

    ground = stands("Bath", found)
    assert Polygon(ROOM).contains(ground)
    assert not any(ground.intersects(Point(symbol).buffer(10.9)) for symbol in symbols)


def test_where_nothing_is_free_it_is_still_written() -> None:
    crowded = [(float(x), float(y)) for x in range(0, 300, 15) for y in range(0, 200, 15)]

    x, y = name_place("A very long name of a room", ROOM, crowded, (150, 140))

    assert 0 < x < 300
    assert 0 < y < 200
