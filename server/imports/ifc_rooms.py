"""Rooms, walls and openings from an IFC file (ISO 16739): spaces with a flat floor, the doors and windows beside them.

Every shape is taken as the triangles that the library makes of it, in metres and in the place where it stands, so that
units and placements are the library's business. A space becomes a room: its floor's outline the walls, its height the
ceiling. A door, a window or a bare opening belongs to the walls that it stands in. Runs in a process of its own
(:mod:`server.imports.ifc_worker`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import atan2, degrees, hypot
from typing import Any, Final

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element

from server.dwelling import Inches, OpeningKind
from server.imports.outline_of_mesh import OutlineError, Point, floor_outline, to_inches, turns_of
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

__all__ = ["read_ifc"]

_THICKEST_WALL_M: Final = 0.46
_INSIDE_M: Final = 0.16
_LONGEST_WALL_M: Final = 150.0
_SHORTEST_WALL_M: Final = 0.02
_SMALLEST_ROOM_M: Final = 0.3
_SLIVER_M: Final = 0.15
_ON_THE_FLOOR_M: Final = 0.15
_MOST_WALLS_MATCHED: Final = 600

Corner = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Solid:
    """Something with a shape: its corners in metres."""

    corners: list[Corner]

    @property
    def low(self) -> float:
        return min(z for _, _, z in self.corners)

    @property
    def high(self) -> float:
        return max(z for _, _, z in self.corners)


@dataclass(frozen=True, slots=True)
class _Hole(_Solid):
    """A door, window or opening."""

    kind: OpeningKind


@dataclass(frozen=True, slots=True)
class _Side:
    """A wall of a space, seen from inside: where it begins, unit steps along it and out of the room, its length."""

    start: Point
    along: Point
    out: Point
    length: float

    def of(self, corner: Corner) -> tuple[float, float]:
        """Metres along the wall and out of the room."""
        x, y = corner[0] - self.start[0], corner[1] - self.start[1]
        return x * self.along[0] + y * self.along[1], x * self.out[0] + y * self.out[1]


def _named(entity: Any) -> str:
    """How a problem names an entity: ``IfcSpace #112 “Kitchen”``."""
    name = getattr(entity, "LongName", None) or getattr(entity, "Name", None) or ""
    return f"{entity.is_a()} #{entity.id()}" + (f" “{str(name)[:60]}”" if name else "")


def read_ifc(path: str) -> HousePlan:
    """Read the spaces of an IFC file.

    Raises:
        NotReadable: naming the entity and what is wrong with it; nothing is read then.
    """
    model = _open(path)
    spaces = model.by_type("IfcSpace")
    if not spaces:
        raise NotReadable(
            Problem(
                "",
                "The file has no IfcSpace: rooms are read from spaces. Have the program that wrote it export them.",
            )
        )
    if len(spaces) > MOST_ROOMS:
        raise NotReadable(Problem("", f"expected at most {MOST_ROOMS} spaces, came {len(spaces)}"))
    settings: Any = ifcopenshell.geom.settings()  # type: ignore[no-untyped-call]
    settings.set("use-world-coords", True)
    holes = list(_holes(model, settings))
    outside = list(_outside_walls(model, settings))
    problems: list[Problem] = []
    notes: list[str] = []
    rooms: list[tuple[RoomPlan, list[Point]]] = []
    for space in sorted(spaces, key=lambda each: (_elevation(each), each.id())):
        try:
            rooms.append(_room(space, settings, holes, outside, notes))
        except OutlineError as error:
            problems.append(Problem(_named(space), f"{error}; expected a space with a flat floor"))
    if problems:
        raise NotReadable(*problems[:20])
    return HousePlan(_on_the_plan(rooms), tuple(dict.fromkeys(notes)))


def _open(path: str) -> Any:
    try:
        model = ifcopenshell.open(path)
        schema = model.schema
    except Exception as error:
        raise NotReadable(
            Problem("", f"This is no IFC file that can be read: {_first_line(error)}")
        ) from None
    if not str(schema).startswith(("IFC2X3", "IFC4")):
        raise NotReadable(Problem("", f"expected IFC2X3, IFC4 or IFC4X3; came {schema}"))
    return model


def _first_line(error: Exception) -> str:
    return (str(error).strip().splitlines() or [type(error).__name__])[0][:200]


def _solid(entity: Any, settings: Any) -> tuple[list[Corner], list[tuple[int, int, int]]]:
    """An entity's triangles.

    Raises:
        OutlineError: it has no shape, or one that the library cannot make.
    """
    if getattr(entity, "Representation", None) is None:
        raise OutlineError("it has no shape")
    try:
        made: Any = ifcopenshell.geom.create_shape(settings, entity)
        geometry = made.geometry
        numbers, faces = tuple(geometry.verts), tuple(geometry.faces)
    except Exception as error:
        raise OutlineError(f"its shape cannot be made ({_first_line(error)})") from None
    corners = [
        (float(numbers[n]), float(numbers[n + 1]), float(numbers[n + 2])) for n in range(0, len(numbers), 3)
    ]
    if not corners or not all(abs(each) < 1e7 for corner in corners for each in corner):
        raise OutlineError("its shape has no corners at a place that can be reckoned with")
    return corners, [(faces[n], faces[n + 1], faces[n + 2]) for n in range(0, len(faces), 3)]


def _holes(model: Any, settings: Any) -> Iterator[_Hole]:
    """Doors and windows by the opening that they fill, else by themselves; openings that nothing fills."""
    filled: set[int] = set()
    for entity in (*model.by_type("IfcDoor"), *model.by_type("IfcWindow")):
        opening = next((each.RelatingOpeningElement for each in getattr(entity, "FillsVoids", ())), None)
        if opening is not None:
            filled.add(opening.id())
        for shaped in (opening, entity):
            if shaped is None:
                continue
            try:
                corners, _ = _solid(shaped, settings)
            except OutlineError:
                continue
            yield _Hole(corners, _kind_of(entity))
            break
    for entity in model.by_type("IfcOpeningElement"):
        if entity.id() in filled:
            continue
        try:
            corners, _ = _solid(entity, settings)
        except OutlineError:
            continue
        yield _Hole(corners, OpeningKind.DOORWAY)


def _kind_of(entity: Any) -> OpeningKind:
    if entity.is_a("IfcWindow"):
        return OpeningKind.WINDOW
    operation = str(getattr(entity, "OperationType", "") or "")
    return OpeningKind.SLIDING_DOOR if "SLIDING" in operation else OpeningKind.DOOR


def _outside_walls(model: Any, settings: Any) -> Iterator[tuple[list[Corner], bool]]:
    """The walls that say whether they are exterior."""
    walls = model.by_type("IfcWall")
    for entity in walls[:_MOST_WALLS_MATCHED]:
        said = ifcopenshell.util.element.get_pset(entity, "Pset_WallCommon", "IsExternal")
        if isinstance(said, bool):
            try:
                corners, _ = _solid(entity, settings)
            except OutlineError:
                continue
            yield corners, said


def _storey(space: Any) -> Any:
    """The storey that a space is a part of."""
    part: Any = space
    for _ in range(8):
        part = ifcopenshell.util.element.get_aggregate(part) or ifcopenshell.util.element.get_container(part)
        if part is None or part.is_a("IfcBuildingStorey"):
            return part
    return None


def _elevation(space: Any) -> float:
    storey = _storey(space)
    return float(getattr(storey, "Elevation", None) or 0.0) if storey is not None else 0.0


def _room(
    space: Any,
    settings: Any,
    holes: list[_Hole],
    outside: list[tuple[list[Corner], bool]],
    notes: list[str],
) -> tuple[RoomPlan, list[Point]]:
    corners, triangles = _solid(space, settings)
    outline = floor_outline(corners, triangles)
    solid = _Solid(corners)
    wide = max(x for x, _ in outline) - min(x for x, _ in outline)
    deep = max(y for _, y in outline) - min(y for _, y in outline)
    if min(wide, deep) < _SMALLEST_ROOM_M or max(wide, deep) > _LONGEST_WALL_M:
        raise OutlineError(
            f"it is {wide:.2f} m by {deep:.2f} m, which is no room: look at the file's unit of length"
        )
    if len(outline) > MOST_WALLS:
        raise OutlineError(
            f"it has {len(outline)} walls; expected at most {MOST_WALLS}, a curved wall cut less finely"
        )
    name = str(
        getattr(space, "LongName", None) or getattr(space, "Name", None) or f"Space {space.id()}"
    ).strip()[:80]
    turns = turns_of(outline)
    if any(abs(turn - round(turn)) > 0.05 for turn in turns):
        notes.append(f"{name}: a corner of no whole degrees was rounded")
    walls = []
    for n, start in enumerate(outline):
        side = _side(start, outline[(n + 1) % len(outline)])
        openings = tuple(_openings(side, solid, holes, name, notes))
        walls.append(
            WallPlan(to_inches(side.length), round(turns[n]), _exterior(side, solid, outside), openings)
        )
    storey = _storey(space)
    level = str(getattr(storey, "LongName", None) or getattr(storey, "Name", None) or "") if storey else ""
    ceiling = to_inches(solid.high - solid.low)
    return RoomPlan(
        level.strip()[:80], name, kind_of_name(name), ceiling if ceiling > 0 else None, walls=tuple(walls)
    ), outline


def _side(start: Point, end: Point) -> _Side:
    x, y = end[0] - start[0], end[1] - start[1]
    length = hypot(x, y)
    if length < _SHORTEST_WALL_M:
        raise OutlineError(f"it has a wall of {length * 1000:.0f} mm")
    along = (x / length, y / length)
    # walked clockwise the room lies on the right hand, the wall's other side on the left
    return _Side(start, along, (-along[1], along[0]), length)


def _openings(
    side: _Side, room: _Solid, holes: Iterable[_Hole], name: str, notes: list[str]
) -> Iterator[OpeningPlan]:
    """The holes that stand in a wall, in order along it."""
    found: list[OpeningPlan] = []
    length_in = to_inches(side.length)
    for hole in holes:
        placed = [side.of(corner) for corner in hole.corners]
        low, high = min(at for at, _ in placed), max(at for at, _ in placed)
        near, far = min(off for _, off in placed), max(off for _, off in placed)
        if not -_INSIDE_M <= (near + far) / 2 <= _THICKEST_WALL_M or high - low < far - near:
            continue
        if min(high, side.length) - max(low, 0.0) < max(0.8 * (high - low), _SLIVER_M):
            continue
        if hole.high <= room.low + _ON_THE_FLOOR_M or hole.low >= room.high:
            continue
        sill, head = hole.low - room.low, hole.high - room.low
        start = max(to_inches(low), Fraction(0))
        end = min(to_inches(high), length_in)
        if start >= end:
            continue
        kind = hole.kind
        if kind is OpeningKind.DOORWAY and sill > _ON_THE_FLOOR_M:
            kind = OpeningKind.WINDOW
        on_floor = sill <= _ON_THE_FLOOR_M
        found.append(
            OpeningPlan(
                kind, start, end, None if on_floor else _at_least_nothing(sill), _at_least_nothing(head)
            )
        )
    if len(found) > MOST_OPENINGS:
        notes.append(f"{name}: more than {MOST_OPENINGS} openings in a wall, the others were left out")
    yield from sorted(found, key=lambda item: item.from_in)[:MOST_OPENINGS]


def _at_least_nothing(metres: float) -> Inches:
    return max(to_inches(metres), Fraction(0))


def _exterior(side: _Side, room: _Solid, walls: Iterable[tuple[list[Corner], bool]]) -> bool | None:
    """What the wall of the file that stands behind this one says of itself."""
    best: tuple[float, bool] | None = None
    for corners, said in walls:
        placed = [side.of(corner) for corner in corners]
        near, far = min(off for _, off in placed), max(off for _, off in placed)
        low, high = min(at for at, _ in placed), max(at for at, _ in placed)
        if near < -_INSIDE_M or far > 2 * _THICKEST_WALL_M or high - low < far - near:
            continue
        if (
            max(z for _, _, z in corners) <= room.low + _ON_THE_FLOOR_M
            or min(z for _, _, z in corners) >= room.high
        ):
            continue
        shared = min(high, side.length) - max(low, 0.0)
        if shared > side.length / 2 and (best is None or shared > best[0]):
            best = (shared, said)
    return None if best is None else best[1]


def _on_the_plan(rooms: list[tuple[RoomPlan, list[Point]]]) -> tuple[RoomPlan, ...]:
    """The rooms at their place on the plan of their level, where wall 1 of each runs to the right."""
    found = []
    for plan, outline in rooms:
        mates = [other for each, other in rooms if each.level == plan.level]
        left = min(x for other in mates for x, _ in other)
        top = max(y for other in mates for _, y in other)
        (x, y), (x2, y2) = outline[0], outline[1]
        if abs(degrees(atan2(y2 - y, x2 - x))) < 0.1:
            plan = replace(plan, x_in=to_inches(x - left), y_in=to_inches(top - y))
        found.append(plan)
    return tuple(found)
