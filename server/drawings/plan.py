"""A level from above: rooms with their walls and openings, devices as the trade's plan symbols, switch legs dashed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from server.drawings.dimensions import short_length
from server.drawings.name_place import name_place
from server.drawings.outline import Placed, outline_of, walls_or_rectangle
from server.drawings.svg import Medium, Svg
from server.drawings.symbols import plan_symbol
from server.dwelling import Box, Counter, CounterKind, Device, Dwelling, Level, OpeningKind, Room

__all__ = ["draw_level", "draw_room_plan"]

_MARGIN: Final = 34
_BETWEEN_IN: Final = 30
_ROW_IN: Final = 420


@dataclass(frozen=True, slots=True)
class _Place:
    """A room on the sheet: its outline moved by (x, y) inches."""

    room: Room
    walls: list[Placed]
    x_in: float
    y_in: float


_At = Callable[[_Place, tuple[float, float]], tuple[float, float]]
"""From a point of a room in inches to the page."""


def draw_room_plan(
    room: Room,
    house: Dwelling,
    *,
    scale: float = 2.0,
    medium: Medium = Medium.SCREEN,
    links: Mapping[str, str] | None = None,
    floor_link: str | None = None,
    marked: str | None = None,
) -> str:
    """One room from above; ``links`` gives each box id its address. Empty text where the room has no size yet.

    ``floor_link`` is where a tap on the bare floor leads (placing a box overhead), with the extent of what was
    tapped in inches from the room's first corner; ``marked`` is the id of a box to ring.
    """
    walls = outline_of(walls_or_rectangle(room, house))
    if not walls:
        return ""
    return _draw(
        [_Place(room, walls, 0, 0)], house, scale, medium, links or {}, f"Plan of {room.name}", f"p-{room.id}",
        floor_link=floor_link, marked=marked,
    )  # fmt: skip


def draw_level(
    level: Level,
    house: Dwelling,
    *,
    scale: float = 1.1,
    medium: Medium = Medium.SCREEN,
    links: Mapping[str, str] | None = None,
) -> str:
    """A level from above. Rooms with a place on the plan stand there; the others follow in rows below.

    ``links`` gives each room id its address. Empty text where no room of the level has a size yet.
    """
    rooms = [room for room in house.facts.rooms if room.level_id == level.id]
    outlines = [(room, outline_of(walls_or_rectangle(room, house))) for room in rooms]
    placed = [
        _Place(room, walls, float(room.plan_x_in), float(room.plan_y_in))
        for room, walls in outlines
        if walls and room.plan_x_in is not None and room.plan_y_in is not None
    ]
    bottom = max((y for item in placed for _, y in _corners(item)), default=-_BETWEEN_IN)
    x, y, row = 0.0, bottom + _BETWEEN_IN, 0.0
    for room, walls in outlines:
        if not walls or (room.plan_x_in is not None and room.plan_y_in is not None):
            continue
        corners = [
            point for wall in walls for point in (wall.point(0), wall.point(float(wall.wall.length_in)))
        ]
        left, top = min(a for a, _ in corners), min(b for _, b in corners)
        wide, high = max(a for a, _ in corners) - left, max(b for _, b in corners) - top
        if x and x + wide > _ROW_IN:
            x, y, row = 0.0, y + row + _BETWEEN_IN, 0.0
        placed.append(_Place(room, walls, x - left, y - top))
        x, row = x + wide + _BETWEEN_IN, max(row, high)
    if not placed:
        return ""
    return _draw(placed, house, scale, medium, links or {}, f"Plan of {level.name}", f"l-{level.id}")


def _corners(place: _Place) -> list[tuple[float, float]]:
    return [
        (place.x_in + a, place.y_in + b)
        for wall in place.walls
        for a, b in (wall.point(0), wall.point(float(wall.wall.length_in)))
    ]


def _draw(
    places: list[_Place],
    house: Dwelling,
    scale: float,
    medium: Medium,
    links: Mapping[str, str],
    title: str,
    name: str,
    floor_link: str | None = None,
    marked: str | None = None,
) -> str:
    corners = [corner for place in places for corner in _corners(place)]
    left, top = min(a for a, _ in corners), min(b for _, b in corners)
    wide, high = max(a for a, _ in corners) - left, max(b for _, b in corners) - top
    svg = Svg(
        wide * scale + 2 * _MARGIN, high * scale + 2 * _MARGIN, title, f"{title} from above: {len(places)} rooms.",
        medium=medium, name=name,
    )  # fmt: skip

    def at(place: _Place, point: tuple[float, float]) -> tuple[float, float]:
        return (
            _MARGIN + (place.x_in + point[0] - left) * scale,
            _MARGIN + (place.y_in + point[1] - top) * scale,
        )

    for place in places:
        _room(svg, place, house, at, links, alone=len(places) == 1)
    if floor_link is not None and medium is Medium.SCREEN:
        extent = {"from_x": left, "from_y": top, "wide": wide, "deep": high}
        svg.open_link(
            floor_link,
            "Place a box overhead",
            **{f"plan-{k.replace('_', '-')}": f"{v:g}" for k, v in extent.items()},
        )
        svg.hit(_MARGIN, _MARGIN, wide * scale, high * scale)
        svg.close_link(floor_link)
    where: dict[str, tuple[float, float]] = {}
    for place in places:
        for box in house.boxes_of_room.get(place.room.id, ()):
            spot = _spot(box, place, at)
            if spot is None:
                continue
            (x, y), inward = spot
            devices = house.devices_of_box.get(box.id, [])
            where.update({device.id: (x + inward[0] * 7, y + inward[1] * 7) for device in devices})
            href = links.get(box.id)
            label = ", ".join(device.label or device.kind.value for device in devices) or "empty box"
            svg.open_link(href, f"{box.label or 'Box'}: {label}", box=box.id)
            if href:
                svg.hit(x - 22, y - 22, 44, 44)
            for step, device in enumerate(devices):
                shift = step * 9
                plan_symbol(svg, device, x - inward[1] * shift, y + inward[0] * shift, inward)
            svg.close_link(href)
            if box.id == marked:
                svg.circle("mark", x + inward[0] * 7, y + inward[1] * 7, 16)
                svg.flush()
    _switch_legs(svg, house, where)
    return svg.finish()


def _room(
    svg: Svg, place: _Place, house: Dwelling, at: _At, links: Mapping[str, str], *, alone: bool
) -> None:
    for wall in place.walls:
        length = float(wall.wall.length_in)
        cuts = sorted(house.openings_of_wall.get(wall.wall.id, ()), key=lambda opening: opening.from_in)
        start = 0.0
        layer = "heavy" if wall.wall.is_wall_space else "thin"
        for opening in cuts:
            svg.stroke(layer, at(place, wall.point(start)), at(place, wall.point(float(opening.from_in))))
            a, b = float(opening.from_in), float(opening.to_in)
            if opening.kind is OpeningKind.DOOR:
                hinge, leaf, latch = wall.point(a), wall.point(a, b - a), wall.point(b)
                svg.stroke("thin", at(place, hinge), at(place, leaf))
                (x1, y1), (x2, y2) = at(place, leaf), at(place, latch)
                radius = ((x1 - at(place, hinge)[0]) ** 2 + (y1 - at(place, hinge)[1]) ** 2) ** 0.5
                svg.curve("thin", f"M{x1:.1f} {y1:.1f}A{radius:.1f} {radius:.1f} 0 0 0 {x2:.1f} {y2:.1f}")
            elif opening.kind in (OpeningKind.WINDOW, OpeningKind.SLIDING_DOOR):
                for off in (-1.5, 1.5):
                    svg.stroke("thin", at(place, wall.point(a, off)), at(place, wall.point(b, off)))
            elif opening.kind in (OpeningKind.CABINET, OpeningKind.FIREPLACE):
                svg.stroke("cab", *(at(place, wall.point(*p)) for p in ((a, 0), (a, 20), (b, 20), (b, 0))))
            start = b
        svg.stroke(layer, at(place, wall.point(start)), at(place, wall.point(length)))
    for counter in house.counters_of_room.get(place.room.id, ()):
        ground = _counter_ground(counter, place)
        if ground:
            svg.stroke(
                "cab", *(at(place, point) for point in ground), close=counter.kind is CounterKind.ISLAND
            )
    svg.flush()
    middle = _corners(place)
    x = sum(a for a, _ in middle) / len(middle) - place.x_in
    low, high = min(b for _, b in middle), max(b for _, b in middle)
    # below the middle, where a ceiling luminaire usually is
    wanted = at(place, (x, low + (high - low) * 0.72 - place.y_in))
    outline = [at(place, wall.point(0)) for wall in place.walls]
    cx, cy = name_place(place.room.name, outline, _symbols(place, house, at), wanted)
    href = links.get(place.room.id)
    if href is not None:
        svg.open_link(href, place.room.name)
        svg.hit(cx - 40, cy - 24, 80, 48)
    svg.text(cx, cy, place.room.name)
    if alone and place.room.length_in and place.room.width_in:
        size = f"{short_length(place.room.length_in)} x {short_length(place.room.width_in)}"
        svg.text(cx, cy + 16, size, layer="note")
    if href is not None:
        svg.close_link(href)


def _symbols(place: _Place, house: Dwelling, at: _At) -> list[tuple[float, float]]:
    """Where the room's devices are drawn."""
    found = []
    for box in house.boxes_of_room.get(place.room.id, ()):
        spot = _spot(box, place, at)
        if spot is not None:
            (x, y), inward = spot
            found.append((x + inward[0] * 7, y + inward[1] * 7))
    return found


def _counter_ground(counter: Counter, place: _Place) -> list[tuple[float, float]]:
    """The edge of a counter's top: along its wall, or out from it; an island, whose place nobody asks for, in the
    middle of the room."""
    against = next((wall for wall in place.walls if wall.wall.id == counter.wall_id), None)
    start, length, depth = float(counter.from_in or 0), float(counter.length_in), float(counter.depth_in)
    if counter.kind is CounterKind.ISLAND:
        corners = _corners(place)
        x = sum(a for a, _ in corners) / len(corners) - place.x_in - length / 2
        y = sum(b for _, b in corners) / len(corners) - place.y_in - depth / 2
        return [(x, y), (x + length, y), (x + length, y + depth), (x, y + depth)]
    if against is None:
        return []
    wide, out = (depth, length) if counter.kind is CounterKind.PENINSULA else (length, depth)
    return [against.point(*p) for p in ((start, 0), (start, out), (start + wide, out), (start + wide, 0))]


def _spot(box: Box, place: _Place, at: _At) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Where a box stands on the page and which way the room lies from it."""
    for wall in place.walls:
        if wall.wall.id == box.wall_id and box.at_in is not None:
            return at(place, wall.point(float(box.at_in))), wall.inward
    if box.x_in is not None and box.y_in is not None:
        return at(place, (float(box.x_in), float(box.y_in))), (0.0, 0.0)
    return None


def _switch_legs(svg: Svg, house: Dwelling, where: Mapping[str, tuple[float, float]]) -> None:
    """Dashed curves from each switch to what it controls."""
    for device_id, (x1, y1) in where.items():
        device: Device = house.devices[device_id]
        for target in device.controls:
            if target in where:
                x2, y2 = where[target]
                bend_x, bend_y = (x1 + x2) / 2 + (y1 - y2) * 0.15, (y1 + y2) / 2 + (x2 - x1) * 0.15
                svg.curve("new", f"M{x1:.1f} {y1:.1f}Q{bend_x:.1f} {bend_y:.1f} {x2:.1f} {y2:.1f}")
