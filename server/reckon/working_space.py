"""Working space in front of a panel or other equipment, and the space that belongs to the equipment above it.

Depth by the voltage to ground and by what is opposite (condition 1: nothing live or grounded; 2: something
grounded, such as concrete or tile; 3: live parts on both sides). Width and height are fixed, or the equipment's own
where that is larger. Doors of the equipment open 90 degrees. Nothing else stands or is stored in the space.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.dwelling.length import Inches, format_length
from server.editions import Edition
from server.reckon.code_rows import number_list, number_rows
from server.reckon.figures import written
from server.reckon.work import SILENT, Work

__all__ = [
    "Dimension",
    "Obstruction",
    "WorkingSpace",
    "WorkingSpaceError",
    "WorkingSpaceResult",
    "reckon_working_space",
]

_CONDITIONS = (1, 2, 3)
_MOST_VOLTS = 1000
_FEET_NEVER_IN = 10_000


class WorkingSpaceError(ValueError):
    """Facts that cannot be judged; ``field`` is the one that is wrong."""

    def __init__(self, field: str, message: str, came: object) -> None:
        self.field, self.came = field, came
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Obstruction:
    """Something that stands in the working space. Electrical equipment above or below may stand out a little:
    ``projects_in`` is how far, beyond the front of this equipment."""

    what: str
    electrical: bool = False
    projects_in: Inches | None = None


@dataclass(frozen=True, slots=True)
class WorkingSpace:
    """What was measured at the equipment; None is not measured.

    ``voltage_to_ground`` of a 120/240 V or 208Y/120 V system is 120. ``condition`` of None takes the widest.
    ``existing_dwelling`` with ``rating_a`` may have less headroom. ``clear_above_in`` is the height above the
    equipment that is free of pipes and ducts, ``ceiling_above_in`` that of the structural ceiling.
    """

    depth_in: Inches | None = None
    width_in: Inches | None = None
    height_in: Inches | None = None
    voltage_to_ground: Fraction = Fraction(120)
    condition: int | None = None
    door_swing_deg: Fraction | None = None
    open_door_leaves_in: Inches | None = None
    equipment_width_in: Inches | None = None
    equipment_height_in: Inches | None = None
    obstructions: tuple[Obstruction, ...] = ()
    room: str | None = None
    existing_dwelling: bool = False
    rating_a: int | None = None
    clear_above_in: Inches | None = None
    ceiling_above_in: Inches | None = None

    def __post_init__(self) -> None:
        if self.condition is not None and self.condition not in _CONDITIONS:
            raise WorkingSpaceError(
                "condition", f"expected condition 1, 2 or 3, came {self.condition!r}", self.condition
            )
        if not 0 <= self.voltage_to_ground <= _MOST_VOLTS:
            raise WorkingSpaceError(
                "voltage_to_ground", f"expected 0 through {_MOST_VOLTS} V to ground, came {self.voltage_to_ground}",
                self.voltage_to_ground,
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Dimension:
    """One measure: what is needed, what is there. ``complies`` is None where it was not measured."""

    name: str
    required: Fraction
    given: Fraction | None
    unit: str
    cites: str
    complies: bool | None
    why: str


@dataclass(frozen=True, slots=True)
class WorkingSpaceResult:
    """``complies`` is False where anything falls short, None where depth, width or height is not known yet."""

    complies: bool | None
    dimensions: tuple[Dimension, ...]
    in_the_way: tuple[str, ...]
    room_allowed: bool | None
    """None: no room is given, or its use decides (a closet)."""
    notes: tuple[str, ...]


def reckon_working_space(space: WorkingSpace, code: Edition, work: Work = SILENT) -> WorkingSpaceResult:
    """Judge the working space of one piece of equipment."""
    judged = [_depth(space, code, work), _width(space, code, work), _height(space, code, work)]
    must_be_known = len(judged)
    if space.door_swing_deg is not None:
        least = code.number("working.door_deg", work)
        judged.append(
            _judge(
                "door_swing_deg",
                least,
                space.door_swing_deg,
                "deg",
                code.cites("working.door_deg"),
                "doors and hinged panels open this far",
                work,
            )
        )
    if space.open_door_leaves_in is not None:
        judged += _open_door(space, code, work)
    if space.clear_above_in is not None:
        judged.append(_dedicated(space, code, work))
    in_the_way = _in_the_way(space, code, work)
    allowed, notes = _room(space, code, work)
    short = any(part.complies is False for part in judged) or bool(in_the_way) or allowed is False
    unknown = any(part.complies is None for part in judged[:must_be_known])
    complies = False if short else (None if unknown else True)
    if work:
        said = {True: "complies", False: "falls short", None: "not all is measured yet"}[complies]
        work.step(f"Working space: {said}", complies, "", code.cites("working.width_in"))
    return WorkingSpaceResult(complies, tuple(judged), in_the_way, allowed, notes)


def _said(number: Fraction, unit: str) -> str:
    """A measure as it is said: inches stay inches here, as a tape reads them."""
    return format_length(number, feet_from_in=_FEET_NEVER_IN) if unit == "in" else f"{written(number)}°"


def _judge(
    name: str, required: Fraction, given: Fraction | None, unit: str, cites: str, why: str, work: Work
) -> Dimension:
    complies = None if given is None else given >= required
    if work:
        label = name.removesuffix("_in").removesuffix("_deg").replace("_", " ").capitalize()
        there = "not measured" if given is None else _said(given, unit)
        work.step(f"{label}: {_said(required, unit)} needed ({why}); {there}", complies, "", cites)
    return Dimension(name, required, given, unit, cites, complies, why)


def _depth(space: WorkingSpace, code: Edition, work: Work) -> Dimension:
    condition = space.condition or max(_CONDITIONS)
    volts = space.voltage_to_ground
    reaching = [row[1:] for row in number_rows("working.depth_rows", code) if volts <= row[0]]
    if reaching:
        work.trust(code.confidence("working.depth_rows"))
    depths = reaching[0] if reaching else number_list("working.depth_over_600_in", code, work)
    why = f"{written(volts)} V to ground, condition {condition}"
    return _judge(
        "depth_in", depths[condition - 1], space.depth_in, "in", code.cites("working.depth_rows"), why, work
    )


def _width(space: WorkingSpace, code: Edition, work: Work) -> Dimension:
    least = code.number("working.width_in", work)
    own = space.equipment_width_in
    why = "at any equipment" if own is None or own <= least else "the equipment's own width"
    return _judge(
        "width_in", max(least, own or least), space.width_in, "in", code.cites("working.width_in"), why, work
    )


def _height(space: WorkingSpace, code: Edition, work: Work) -> Dimension:
    least = code.number("working.height_in", work)
    own = space.equipment_height_in
    most_a = code.number("working.existing_through_a", work)
    if space.existing_dwelling and space.rating_a is not None and space.rating_a <= most_a:
        why = f"existing dwelling, {written(most_a)} A or less: less headroom is allowed"
        return _judge(
            "height_in",
            Fraction(0),
            space.height_in or Fraction(0),
            "in",
            code.cites("working.existing_through_a"),
            why,
            work,
        )
    why = "from the floor" if own is None or own <= least else "the equipment's own height"
    return _judge(
        "height_in",
        max(least, own or least),
        space.height_in,
        "in",
        code.cites("working.height_in"),
        why,
        work,
    )


def _open_door(space: WorkingSpace, code: Edition, work: Work) -> list[Dimension]:
    name = "working.open_door_leaves_in"
    if not code.has(name):
        if work:
            work.skip("What an open equipment door leaves: no rule for a dwelling's panel in this edition")
        return []
    return [
        _judge(
            "open_door_leaves_in",
            code.number(name, work),
            space.open_door_leaves_in,
            "in",
            code.cites(name),
            "way past an open equipment door",
            work,
        )
    ]


def _dedicated(space: WorkingSpace, code: Edition, work: Work) -> Dimension:
    above = code.number("working.dedicated_above_in", work)
    ceiling = space.ceiling_above_in
    required = above if ceiling is None else min(above, ceiling)
    why = "above the equipment" if required == above else "to the structural ceiling"
    return _judge(
        "clear_above_in",
        required,
        space.clear_above_in,
        "in",
        code.cites("working.dedicated_above_in"),
        why,
        work,
    )


def _in_the_way(space: WorkingSpace, code: Edition, work: Work) -> tuple[str, ...]:
    """What may not stand there; electrical equipment above or below may stand out a little."""
    found = []
    for thing in space.obstructions:
        if thing.electrical and thing.projects_in is not None:
            most = code.number("working.related_projects_in", work)
            if thing.projects_in <= most:
                if work:
                    work.skip(
                        f"{thing.what}: electrical, stands out {format_length(thing.projects_in)}, up to {format_length(most)} is allowed",
                        code.cites("working.related_projects_in"),
                    )
                continue
        found.append(thing.what)
        if work:
            work.step(
                f"{thing.what.capitalize()} stands in the working space",
                False,
                "",
                code.cites("working.depth_rows"),
            )
    return tuple(found)


def _room(space: WorkingSpace, code: Edition, work: Work) -> tuple[bool | None, tuple[str, ...]]:
    """Whether overcurrent devices may be in the room at all."""
    if space.room is None:
        return None, ()
    room = space.room.strip().lower()
    cites = code.cites("working.forbidden_rooms")
    if room == "closet":
        return None, (
            f"A clothes closet may not hold a panel; another closet may. Ask your department ({cites}).",
        )
    allowed = room not in code.names("working.forbidden_rooms", work)
    if work:
        work.step(f"Room: {room}", allowed, "", cites)
    return allowed, ()
