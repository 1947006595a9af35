"""The elevation, read back from its SVG: what is at 62 in stands at 62 in, and what is missing is dimensioned."""

from __future__ import annotations

import gzip
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.drawings.elevation import Added, Gap, draw_wall, studs_of
from server.drawings.svg import Medium
from server.dwelling import Opening, OpeningKind, Wall

SCALE = 2.6
SVG = "{http://www.w3.org/2000/svg}"


def drawn(house: HouseBuilder, room: str, wall: int = 1, **more: object) -> ElementTree.Element:
    dwelling = house.dwelling()
    text = draw_wall(
        dwelling.walls[house.wall_of(room, wall)], dwelling.rooms[room], dwelling, scale=SCALE, **more
    )  # type: ignore[arg-type]
    return ElementTree.fromstring(text)  # noqa: S314 - our own drawing


def edges(svg: ElementTree.Element, layer: str) -> list[tuple[float, float, float, float]]:
    """Rectangles of a layer as x, y, width, height."""
    found = []
    for path in svg.iter(f"{SVG}path"):
        if path.get("class") == f"d-{layer}":
            for x, y, wide, high in re.findall(
                r"M([\d.-]+) ([\d.-]+)h([\d.-]+)v([\d.-]+)h", path.get("d", "")
            ):
                found.append((float(x), float(y), float(wide), float(high)))
    return found


def floor_and_left(svg: ElementTree.Element) -> tuple[float, float]:
    """The floor line's height on the page and the wall's left end."""
    heavy = next(path for path in svg.iter(f"{SVG}path") if path.get("class") == "d-heavy")
    x, y = re.match(r"M([\d.]+) ([\d.]+)", heavy.get("d", "")).groups()  # type: ignore[union-attr]
    return float(y), float(x)


def room_with_box(at_in: Fraction, height_in: Fraction, **box: object) -> tuple[HouseBuilder, str, str]:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=168, width_in=120, ceiling_height_in=96, stud_spacing_in=16)
    return house, room, house.box(room, wall=1, at_in=at_in, height_in=height_in, **box)


@given(
    at_in=st.integers(4 * 16, 160 * 16).map(lambda n: Fraction(n, 16)),
    height_in=st.integers(4 * 16, 90 * 16).map(lambda n: Fraction(n, 16)),
)
@settings(max_examples=60, deadline=None)
def test_a_box_stands_at_its_place_and_height(at_in: Fraction, height_in: Fraction) -> None:
    house, room, _ = room_with_box(at_in, height_in)

    svg = drawn(house, room)

    floor, left = floor_and_left(svg)
    ((x, y, wide, high),) = edges(svg, "box")
    assert (x + wide / 2 - left) / SCALE == pytest.approx(float(at_in), abs=0.1)
    assert (floor - (y + high / 2)) / SCALE == pytest.approx(float(height_in), abs=0.1)


def test_a_box_at_62_inches_stands_at_62_inches() -> None:
    house, room, _ = room_with_box(Fraction(40), Fraction(62))

    svg = drawn(house, room)

    floor, _ = floor_and_left(svg)
    ((_, y, _, high),) = edges(svg, "box")
    assert (floor - (y + high / 2)) / SCALE == pytest.approx(62, abs=0.1)
    assert "5'-2\"" in "".join(svg.itertext())


def test_a_two_gang_box_is_wider_than_a_one_gang_box() -> None:
    one = edges(drawn(*room_with_box(Fraction(40), Fraction(48))[:2]), "box")[0]
    two = edges(drawn(*room_with_box(Fraction(40), Fraction(48), gangs=2)[:2]), "box")[0]

    assert two[2] - one[2] == pytest.approx(float(Fraction(29, 16)) * SCALE, abs=0.2)


def test_a_gap_is_dimensioned_in_the_correction_layer() -> None:
    house, room, _ = room_with_box(Fraction(40), Fraction(16))
    gap = Gap(house.wall_of(room, 1), Fraction(40), Fraction(152), "9'-4\" without a receptacle")

    svg = drawn(house, room, gaps=[gap])

    words = [text.text for text in svg.iter(f"{SVG}text") if text.get("class") == "d-gap-text"]
    assert words == ["9'-4\" without a receptacle"]


def test_a_gap_of_another_wall_is_not_drawn_here() -> None:
    house, room, _ = room_with_box(Fraction(40), Fraction(16))
    gap = Gap(house.wall_of(room, 2), Fraction(0), Fraction(60), "5'-0\"")

    assert not [path for path in drawn(house, room, gaps=[gap]).iter() if path.get("class") == "d-gap"]


def test_each_box_is_a_named_link_of_a_fingers_size_on_screen_and_no_link_on_paper() -> None:
    house, room, box = room_with_box(Fraction(40), Fraction(16))
    house.receptacle(box)

    screen = drawn(house, room, links={box: "/boxes/1"})
    paper = drawn(house, room, links={box: "/boxes/1"}, medium=Medium.PAPER)

    (link,) = screen.iter(f"{SVG}a")
    assert "receptacle" in link.get("aria-label", "")
    target = next(iter(link.iter(f"{SVG}rect")))
    assert float(target.get("width", "0")) >= 44
    assert float(target.get("height", "0")) >= 44
    assert not list(paper.iter(f"{SVG}a"))


def test_what_people_typed_is_escaped() -> None:
    house, room, box = room_with_box(Fraction(40), Fraction(16), label='<script>"&')
    house.change(house.wall_of(room, 1), name="<b>North</b>")

    svg = drawn(house, room, links={box: "/x"})

    assert "<b>North</b>" in "".join(svg.itertext())
    assert not list(svg.iter(f"{SVG}script"))


def test_the_drawing_names_and_describes_itself() -> None:
    svg = drawn(*room_with_box(Fraction(40), Fraction(16))[:2])

    title, described = svg.get("aria-labelledby", "").split()
    assert svg.find(f"{SVG}title").get("id") == title  # type: ignore[union-attr]
    assert "1 boxes" in (svg.find(f"{SVG}desc").text or "")  # type: ignore[union-attr]
    assert svg.find(f"{SVG}desc").get("id") == described  # type: ignore[union-attr]


def test_a_proposed_box_is_drawn_apart_from_what_is_there() -> None:
    house, room, _ = room_with_box(Fraction(40), Fraction(16))

    svg = drawn(house, room, added=[Added(house.wall_of(room, 1), Fraction(100), Fraction(16), "add one")])

    assert len(edges(svg, "box")) == 1
    assert len(edges(svg, "new")) == 1


def test_studs_stand_on_centre_and_beside_openings_and_never_in_one() -> None:
    wall = Wall("w", "r", 0, Fraction(144))
    door = Opening("o", "w", OpeningKind.DOOR, Fraction(40), Fraction(72))

    studs = studs_of(wall, [door], Fraction(16))

    assert Fraction(61, 4) in studs  # the first on 16 in centre: 16 - 3/4
    assert Fraction(77, 2) in studs
    assert Fraction(72) in studs
    assert not [left for left in studs if 40 <= left < 72]


def test_four_walls_of_a_full_room_stay_small() -> None:
    house = HouseBuilder()
    room = house.room("kitchen", length_in=192, width_in=168, stud_spacing_in=16)
    circuit = house.circuit(house.panel(), "Kitchen")
    for wall in range(1, 5):
        boxes = [house.box(room, wall=wall, at_in=20 * n, height_in=44) for n in range(1, 8)]
        for box in boxes:
            house.receptacle(box, gfci=True)
        house.home_run(circuit, *boxes)
    dwelling = house.dwelling()

    text = "".join(
        draw_wall(
            dwelling.walls[house.wall_of(room, wall)],
            dwelling.rooms[room],
            dwelling,
            links={b.id: f"/boxes/{b.id}" for b in dwelling.facts.boxes},
        )
        for wall in range(1, 5)
    )

    assert len(gzip.compress(text.encode())) < 12 * 1024


def test_names_along_the_floor_stay_within_the_wall_and_none_is_written_over_another_or_twice() -> None:
    house = HouseBuilder()
    room = house.room("kitchen", length_in=168, width_in=144, ceiling_height_in=96)
    counter = house.counter(room, "wall", 168, 25, wall=3, from_in=0, height_in=36)
    house.break_(counter, "sink", 68, 101)
    house.fixture(room, "sink", wall=3, at_in=84)
    house.fixture(room, "dishwasher", wall=3, at_in=110)
    house.fixture(room, "refrigerator", wall=3, at_in=118)
    house.fixture(room, "range", wall=3, at_in=2)
    svg = drawn(house, room, 3)

    written = [
        (text.text or "", float(text.get("x", "0")), float(text.get("y", "0")))
        for text in svg.iter(f"{SVG}text")
    ]
    named = [each for each in written if each[0] in {"sink", "dishwasher", "refrigerator", "range"}]
    half = {words: 3.3 * len(words) for words, _, _ in named}
    _, left = floor_and_left(svg)

    assert sorted(words for words, _, _ in named) == ["dishwasher", "range", "refrigerator", "sink"]
    assert all(left <= x - half[words] and x + half[words] <= left + 168 * SCALE for words, x, _ in named)
    for one, x, y in named:
        for other, there, lower in named:
            if one < other and abs(y - lower) < 11:
                assert abs(x - there) >= half[one] + half[other], f"{one} over {other}"
