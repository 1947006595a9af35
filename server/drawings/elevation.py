"""A room's walls unfolded: each wall as one stands before it, everything at its true place and height.

Scale is pixels per inch, the same for every wall of a room, so that an inch is an inch from wall to wall. The
box of a device is drawn at its true outside size; its finger target is larger and invisible.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from server.drawings.dimensions import dimension, short_length
from server.drawings.svg import Medium, Svg
from server.drawings.symbols import front_view, letters_of
from server.dwelling import (
    Box,
    Cable,
    Dwelling,
    Opening,
    OpeningKind,
    Room,
    Surface,
    Wall,
    format_length,
)

__all__ = ["Added", "Gap", "box_size_in", "draw_wall", "studs_of"]

_MARGIN: Final = 46
_TOP: Final = 30
_BOTTOM: Final = 48
_CEILING_IN: Final = Fraction(96)
_STUD_IN: Final = Fraction(3, 2)
_ONE_GANG_IN: Final = Fraction(9, 4)
_EACH_MORE_GANG_IN: Final = Fraction(29, 16)
_BOX_HIGH_IN: Final = Fraction(15, 4)
_FINGER: Final = 44
_LETTER: Final = 6.6
"""How wide a letter of the drawings' text is, or a little less."""
_DOOR_HEAD_IN: Final = Fraction(80)
_SILL_IN: Final = Fraction(36)

_At = Callable[[Fraction, Fraction], tuple[float, float]]
"""From inches along the wall and above the floor to the page."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of wall without what it needs, dimensioned in the correction colour."""

    wall_id: str
    from_in: Fraction
    to_in: Fraction
    words: str


@dataclass(frozen=True, slots=True)
class Added:
    """A place where a proposed box would go."""

    wall_id: str
    at_in: Fraction
    height_in: Fraction
    words: str


def box_size_in(box: Box) -> tuple[Fraction, Fraction]:
    """Width and height of a box as it is drawn: one gang 2-1/4 x 3-3/4 in, each more gang 1-13/16 in wider.

    Nominal device-box sizes (common practice); a luminaire's round box is drawn 4 x 4 in.
    """
    return _ONE_GANG_IN + (box.gangs - 1) * _EACH_MORE_GANG_IN, _BOX_HIGH_IN


def studs_of(wall: Wall, openings: Iterable[Opening], spacing_in: Fraction) -> list[Fraction]:
    """Left edges of the studs of a wall: on centre from its left end, and one on each side of every opening.

    The layout is assumed from the left corner (common practice); the real studs may stand elsewhere, which is
    why boxes are only snapped to them on request.
    """
    cut = [
        (opening.from_in, opening.to_in)
        for opening in openings
        if opening.kind not in (OpeningKind.CABINET, OpeningKind.RAILING)
    ]
    places = {Fraction(0), wall.length_in - _STUD_IN}
    centre = spacing_in
    while centre < wall.length_in:
        places.add(centre - _STUD_IN / 2)
        centre += spacing_in
    for start, end in cut:
        places |= {start - _STUD_IN, end}
    return sorted(
        place
        for place in places
        if 0 <= place <= wall.length_in - _STUD_IN
        and not any(start - _STUD_IN < place < end for start, end in cut)
    )


def draw_wall(
    wall: Wall,
    room: Room,
    house: Dwelling,
    *,
    scale: float = 2.6,
    medium: Medium = Medium.SCREEN,
    gaps: Iterable[Gap] = (),
    added: Iterable[Added] = (),
    links: Mapping[str, str] | None = None,
    wall_link: str | None = None,
    added_link: Callable[[Added], str] | None = None,
    marked: str | None = None,
) -> str:
    """Draw one wall of a room as SVG.

    ``links`` gives each box id its address; ``wall_link`` is where a tap on the bare wall leads (placing a box), and
    carries the wall's length and height in inches for a script that reads where it was tapped; ``added_link`` is
    where a proposed box leads; ``marked`` is the id of a box to ring.
    """
    ceiling_in = room.ceiling_height_in or _CEILING_IN
    width, height = float(wall.length_in) * scale, float(ceiling_in) * scale
    boxes = [
        box
        for box in house.boxes_of_room.get(room.id, ())
        if box.wall_id == wall.id and box.at_in is not None
    ]
    name = wall.name or f"Wall {wall.order + 1}"
    svg = Svg(
        width + 2 * _MARGIN, height + _TOP + _BOTTOM, f"{name}, {format_length(wall.length_in)}",
        f"{name} of {room.name}, seen from inside: {len(boxes)} boxes.", medium=medium, name=f"w-{wall.id}",
    )  # fmt: skip

    def at(x_in: Fraction, y_in: Fraction) -> tuple[float, float]:
        return _MARGIN + float(x_in) * scale, _TOP + height - float(y_in) * scale

    openings = house.openings_of_wall.get(wall.id, [])
    _framing(svg, wall, room, openings, ceiling_in, at)
    _counters(svg, wall, room, house, at)
    _openings(svg, openings, at)
    if wall_link is not None and medium is Medium.SCREEN:
        svg.open_link(
            wall_link, f"Place a box on {name}", wall=wall.id, along=str(float(wall.length_in)), up=str(float(ceiling_in))
        )  # fmt: skip
        svg.hit(_MARGIN, _TOP, width, height)
        svg.close_link(wall_link)
    _cables(svg, boxes, house, ceiling_in, at)
    for box in boxes:
        _box(svg, box, house, scale, at, (links or {}).get(box.id))
        if box.id == marked:
            _ring(svg, box, scale, at)
    for place in (item for item in added if item.wall_id == wall.id):
        x, y = at(place.at_in, place.height_in)
        href = added_link(place) if added_link is not None and medium is Medium.SCREEN else None
        if href is not None:
            svg.open_link(href, f"Add one on {name} at {format_length(place.at_in)}")
            svg.hit(x - _FINGER / 2, y - _FINGER / 2, _FINGER, _FINGER)
        svg.box("new", x - 4, y - 7, 8, 14)
        svg.text(x, y - 12, place.words, layer="note")
        if href is not None:
            svg.close_link(href)
    _dimensions(svg, wall, boxes, at)
    for gap in (item for item in gaps if item.wall_id == wall.id):
        x1, y = at(gap.from_in, Fraction(0))
        x2, _ = at(gap.to_in, Fraction(0))
        svg.stroke("gap", (x1, y - 26), (x1, y))
        svg.stroke("gap", (x2, y - 26), (x2, y))
        dimension(svg, x1, x2, y - 10, gap.words, layer="gap", text_layer="gap-text")
    svg.text(_MARGIN, 16, name, anchor="start")
    svg.text(_MARGIN + width, 16, short_length(wall.length_in), anchor="end", layer="note")
    return svg.finish()


def _framing(
    svg: Svg, wall: Wall, room: Room, openings: list[Opening], ceiling_in: Fraction, at: _At
) -> None:
    if room.stud_spacing_in:
        for left in studs_of(wall, openings, room.stud_spacing_in):
            for edge in (left, left + _STUD_IN):
                svg.stroke("stud", at(edge, Fraction(0)), at(edge, ceiling_in))
        svg.flush()
    svg.stroke("open", at(Fraction(0), ceiling_in), at(wall.length_in, ceiling_in))
    for end in (Fraction(0), wall.length_in):
        svg.stroke("open", at(end, Fraction(0)), at(end, ceiling_in))
    svg.stroke("heavy", at(Fraction(0), Fraction(0)), at(wall.length_in, Fraction(0)))
    svg.flush()


def _openings(svg: Svg, openings: list[Opening], at: _At) -> None:
    for opening in openings:
        is_window = opening.kind is OpeningKind.WINDOW
        sill = opening.sill_in if opening.sill_in is not None else (_SILL_IN if is_window else Fraction(0))
        head = opening.head_in if opening.head_in is not None else _DOOR_HEAD_IN
        layer = "cab" if opening.kind in (OpeningKind.CABINET, OpeningKind.FIREPLACE) else "open"
        (x1, y1), (x2, y2) = at(opening.from_in, head), at(opening.to_in, sill)
        svg.box(layer, x1, y1, x2 - x1, y2 - y1)
        if opening.kind is OpeningKind.DOOR:
            svg.stroke("thin", (x1, y1), (x2, (y1 + y2) / 2), (x1, y2))
        elif opening.kind is OpeningKind.SLIDING_DOOR:
            svg.stroke("thin", ((x1 + x2) / 2, y1), ((x1 + x2) / 2, y2))
        elif is_window:
            svg.stroke("thin", (x1, (y1 + y2) / 2), (x2, (y1 + y2) / 2))
        svg.text((x1 + x2) / 2, y1 + 14, opening.kind.value, layer="note")


def _counters(svg: Svg, wall: Wall, room: Room, house: Dwelling, at: _At) -> None:
    named: list[tuple[str, float]] = []
    for counter in house.counters_of_room.get(room.id, ()):
        if counter.wall_id != wall.id:
            continue
        start, top = counter.from_in or Fraction(0), counter.height_in or Fraction(36)
        (x1, y1), (x2, y2) = at(start, top), at(start + counter.length_in, Fraction(0))
        svg.box("cab", x1, y1, x2 - x1, y2 - y1)
        svg.flush()
        svg.stroke("open", (x1, y1), (x2, y1))
        for item in house.breaks_of_counter.get(counter.id, ()):
            (a, b), (c, d) = at(start + item.from_in, top), at(start + item.to_in, top - 8)
            svg.box("thin", a, b, c - a, d - b)
            svg.text((a + c) / 2, d + 12, item.kind.value, layer="note")
            named.append((item.kind.value, (a + c) / 2))
    _fixtures(svg, wall, room, house, at, named)


def _fixtures(
    svg: Svg, wall: Wall, room: Room, house: Dwelling, at: _At, named: list[tuple[str, float]]
) -> None:
    """The names of what stands before the wall, along the floor: within the wall, none over another, none twice."""
    here = [(each, each.at_in) for each in house.fixtures_of_room.get(room.id, ()) if each.wall_id == wall.id]
    (left, floor), (right, _) = at(Fraction(0), Fraction(0)), at(wall.length_in, Fraction(0))
    ends: list[float] = []
    for fixture, at_in in sorted(((each, x) for each, x in here if x is not None), key=lambda pair: pair[1]):
        words = fixture.name or fixture.kind.value
        x, _ = at(at_in, Fraction(0))
        half = _LETTER * len(words) / 2
        if any(words == other and abs(x - there) < 2 * half + _LETTER for other, there in named):
            continue
        x = max(left + half, min(x, right - half)) if right - left > 2 * half else x
        line = next((n for n, end in enumerate(ends) if end < x - half), len(ends))
        ends[line : line + 1] = [x + half + _LETTER]
        svg.text(x, floor - 4 - 12 * line, words, layer="note")


def _box(svg: Svg, box: Box, house: Dwelling, scale: float, at: _At, href: str | None) -> None:
    assert box.at_in is not None
    height_in = box.height_in if box.height_in is not None else Fraction(16)
    wide, high = (float(side) * scale for side in box_size_in(box))
    x, y = at(box.at_in, height_in)
    devices = house.devices_of_box.get(box.id, [])
    words = ", ".join(device.label or device.kind.value for device in devices) or "empty box"
    label = f"{box.label or 'Box'}: {words}, {format_length(height_in)} up"
    svg.open_link(href, label, box=box.id)
    svg.hit(x - _FINGER / 2, y - _FINGER / 2, _FINGER, _FINGER)
    svg.box("box", x - wide / 2, y - high / 2, wide, high)
    svg.flush()
    gang = wide / max(box.gangs, 1)
    for place, device in enumerate(devices[: max(box.gangs, 1)]):
        front_view(svg, device, x - wide / 2 + gang * (place + 0.5), y, gang, high)
    letters = " ".join(filter(None, (letters_of(device) for device in devices)))
    if letters:
        svg.text(x + wide / 2 + 3, y + 4, letters, anchor="start")
    svg.close_link(href)


def _ring(svg: Svg, box: Box, scale: float, at: _At) -> None:
    """The box that a page is about."""
    assert box.at_in is not None
    x, y = at(box.at_in, box.height_in if box.height_in is not None else Fraction(16))
    wide, high = (float(side) * scale for side in box_size_in(box))
    svg.box("mark", x - wide / 2 - 6, y - high / 2 - 6, wide + 12, high + 12)
    svg.flush()


def _cables(svg: Svg, boxes: list[Box], house: Dwelling, ceiling_in: Fraction, at: _At) -> None:
    """Cables follow the framing: up or down beside the stud, level through it, rounded at the turns."""
    here = {box.id: box for box in boxes}
    drawn: dict[str, Cable] = {
        cable.id: cable for box in boxes for cable in house.cables_of_box.get(box.id, ())
    }
    for place, cable in enumerate(drawn.values()):
        ends = [here[end] for end in (cable.a_box_id, cable.b_box_id) if end in here]
        points = []
        for box in ends:
            assert box.at_in is not None
            points.append(at(box.at_in, box.height_in if box.height_in is not None else Fraction(16)))
        offset = (place % 4) * 4
        if len(points) == 2:
            (x1, y1), (x2, y2) = sorted(points)
            level = min(y1, y2) - 18 - offset
            svg.curve("cable", _rounded([(x1, y1), (x1, level), (x2, level), (x2, y2)]))
        elif points:
            x, y = points[0]
            _, top = at(Fraction(0), ceiling_in)
            svg.curve("cable", _rounded([(x + offset - 6, y), (x + offset - 6, top)]))
    svg.flush()


def _rounded(points: list[tuple[float, float]], radius: float = 6) -> str:
    """Path data through points with the corners rounded."""
    (x, y), *rest = points
    data = f"M{x:.1f} {y:.1f}"
    for place, (a, b) in enumerate(rest):
        if place + 1 < len(rest):
            (px_, py_), (c, d) = points[place], rest[place + 1]
            r = min(radius, (abs(a - px_) + abs(b - py_)) / 2, (abs(c - a) + abs(d - b)) / 2)
            before = (a - _sign(a - px_) * r, b - _sign(b - py_) * r)
            after = (a + _sign(c - a) * r, b + _sign(d - b) * r)
            data += f"L{before[0]:.1f} {before[1]:.1f}Q{a:.1f} {b:.1f} {after[0]:.1f} {after[1]:.1f}"
        else:
            data += f"L{a:.1f} {b:.1f}"
    return data


def _sign(number: float) -> int:
    return (number > 0) - (number < 0)


def _dimensions(svg: Svg, wall: Wall, boxes: list[Box], at: _At) -> None:
    """Positions along the floor line as one dimension string, heights beside the left end."""
    stops = sorted({Fraction(0), wall.length_in, *(box.at_in for box in boxes if box.at_in is not None)})
    _, floor = at(Fraction(0), Fraction(0))
    y = floor + 26
    for start, end in pairwise(stops):
        dimension(svg, at(start, Fraction(0))[0], at(end, Fraction(0))[0], y, short_length(end - start))
    heights = sorted(
        {box.height_in for box in boxes if box.height_in is not None and box.surface is Surface.WALL}
    )
    for height_in in heights:
        x, level = at(Fraction(0), height_in)
        svg.stroke("dim", (x - 8, level), (x, level))
        svg.text(x - 10, level + 4, short_length(height_in), anchor="end", layer="note")
