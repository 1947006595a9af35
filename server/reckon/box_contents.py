"""What is in a box, as box fill counts it: conductors by size and role, yokes, clamps, fittings, blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from server.dwelling.boxes import Clamps
from server.reckon.standard_boxes import BoxError

__all__ = [
    "Addition",
    "BoxContents",
    "BoxSize",
    "ConductorRole",
    "Conductors",
    "SupportFitting",
    "Yoke",
]


class ConductorRole(StrEnum):
    """How a conductor counts."""

    INSULATED = "insulated"
    """Comes from outside and ends or is spliced in the box."""
    THROUGH = "through"
    """Passes through unbroken."""
    LOOP = "loop"
    """An unbroken loop, left long enough to be cut and used later."""
    GROUND = "ground"
    """Equipment grounding conductor or bonding jumper that enters the box."""
    ISOLATED_GROUND = "isolated_ground"
    """Insulated ground of a receptacle with a reduced-noise ground (250.146(D))."""
    PIGTAIL = "pigtail"
    """No part of it leaves the box."""
    FIXTURE = "fixture"
    """Comes from a domed luminaire or canopy over the box and ends in it."""
    FIXTURE_GROUND = "fixture_ground"
    """The equipment ground of such a luminaire."""


class SupportFitting(StrEnum):
    STUD = "stud"
    HICKEY = "hickey"


@dataclass(frozen=True, slots=True)
class Conductors:
    """Some conductors of one size and role. ``loop_in`` is the length of an unbroken loop where it was
    measured; without it a loop is taken as long enough to count twice."""

    awg: str
    count: int = 1
    role: ConductorRole = ConductorRole.INSULATED
    loop_in: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Yoke:
    """A yoke or strap with what it carries. ``largest_awg`` is the largest conductor connected to it (the
    largest insulated one in the box where it is not said); ``gangs`` is how many gangs it needs to be mounted."""

    kind: str = "device"
    largest_awg: str | None = None
    gangs: int = 1


@dataclass(frozen=True, slots=True)
class Addition:
    """A plaster ring, raised or domed cover, or extension ring. It adds volume where ``volume_in3`` is marked on
    it, or where it is made from the standard box named by ``table``."""

    kind: str = "extension ring"
    volume_in3: Fraction | None = None
    table: str | None = None


@dataclass(frozen=True, slots=True)
class BoxSize:
    """A box: a standard metal one by its trade size, or its marked volume (or both, where it is marked with
    more than the table gives). ``gangs`` ganged sections of a device box have as many times its volume."""

    table: str | None = None
    volume_in3: Fraction | None = None
    gangs: int = 1
    additions: tuple[Addition, ...] = ()


@dataclass(frozen=True, slots=True)
class BoxContents:
    """Everything that box fill counts, and the box where it is known.

    Raises:
        BoxError: a count below zero, no gang, a volume that is not above zero.
    """

    conductors: tuple[Conductors, ...] = ()
    devices: tuple[Yoke, ...] = ()
    clamps: Clamps = Clamps.NONE
    fittings: frozenset[SupportFitting] = frozenset()
    terminal_blocks: tuple[str, ...] = ()
    box: BoxSize | None = None

    def __post_init__(self) -> None:
        for group in self.conductors:
            if group.count < 0:
                raise BoxError(
                    "conductors", f"expected a count of 0 or more, came {group.count}", group.count
                )
        for yoke in self.devices:
            if yoke.gangs < 1:
                raise BoxError("devices", f"expected 1 gang or more, came {yoke.gangs}", yoke.gangs)
        if self.box is None:
            return
        if self.box.gangs < 1:
            raise BoxError("box", f"expected 1 gang or more, came {self.box.gangs}", self.box.gangs)
        for volume in (self.box.volume_in3, *(ring.volume_in3 for ring in self.box.additions)):
            if volume is not None and volume <= 0:
                raise BoxError("volume_in3", f"expected a volume above 0, came {volume}", volume)

    def of(self, *roles: ConductorRole) -> Iterator[Conductors]:
        """The conductors of some roles, without empty groups."""
        return (group for group in self.conductors if group.role in roles and group.count)

    @property
    def sizes(self) -> frozenset[str]:
        """Every conductor size in the box, counted or not."""
        return frozenset(
            [group.awg for group in self.conductors if group.count]
            + [yoke.largest_awg for yoke in self.devices if yoke.largest_awg]
            + list(self.terminal_blocks)
        )
