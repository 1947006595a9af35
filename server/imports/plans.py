"""What a file of rooms comes to: plain plans, before anything is stored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from server.dwelling import Inches, OpeningKind, RoomKind

__all__ = [
    "MOST_OPENINGS",
    "MOST_ROOMS",
    "MOST_WALLS",
    "HousePlan",
    "NotReadable",
    "OpeningPlan",
    "Problem",
    "RoomPlan",
    "WallPlan",
    "with_kinds",
]

MOST_ROOMS: Final = 400
MOST_WALLS: Final = 60
MOST_OPENINGS: Final = 60


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a file: where (``line 7, column length``; ``IfcSpace #112 “Kitchen”``) and what."""

    where: str
    what: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what


class NotReadable(Exception):
    """The file is not read; nothing of it is. Carries every problem that was found, the first ones first."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("; ".join(map(str, problems)))


@dataclass(frozen=True, slots=True)
class OpeningPlan:
    """An opening in a wall."""

    kind: OpeningKind
    from_in: Inches
    to_in: Inches
    sill_in: Inches | None = None
    head_in: Inches | None = None


@dataclass(frozen=True, slots=True)
class WallPlan:
    """A wall, with the corner at its right end."""

    length_in: Inches
    turn_deg: int = 90
    exterior: bool | None = None
    openings: tuple[OpeningPlan, ...] = ()


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """A room with its walls in order, or with a length and a width alone. ``kind`` None: nobody said what it is."""

    level: str
    name: str
    kind: RoomKind | None = None
    ceiling_in: Inches | None = None
    length_in: Inches | None = None
    width_in: Inches | None = None
    x_in: Inches | None = None
    y_in: Inches | None = None
    walls: tuple[WallPlan, ...] = ()


@dataclass(frozen=True, slots=True)
class HousePlan:
    """The rooms of a file; ``notes`` say what was left out or assumed."""

    rooms: tuple[RoomPlan, ...]
    notes: tuple[str, ...] = ()


def with_kinds(plan: HousePlan, kinds: Mapping[int, RoomKind]) -> HousePlan:
    """The same with the kinds that were chosen for some rooms, by place."""
    return replace(
        plan,
        rooms=tuple(replace(room, kind=kinds.get(place, room.kind)) for place, room in enumerate(plan.rooms)),
    )
