"""What has to be wired: the switch groups, what is fed from where, and where a neutral is kept.

A *group* is a set of switches that act on common loads. Its loads fall into *tiers*, by the set of switches that
list them; a lawful hookup needs these sets to be nested (the smaller ones tap the travelers on the way). A *supply*
is a pair of hot and neutral: the circuit itself, or the load side of one GFCI. A *unit* is what must be fed by one
source as a whole.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from server.reckon.hookup.facts import Device

__all__ = ["Demand", "Group", "Spot", "Supply", "Tier", "Unit"]


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """A terminal in its node."""

    node: str
    device: str
    terminal: str


@dataclass(frozen=True, slots=True)
class Tier:
    """The loads that exactly these switches act on."""

    switches: frozenset[str]
    spots: tuple[Spot, ...]
    loads: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Switches with common loads; ``tiers`` from the fewest switches to all of them."""

    switches: tuple[Device, ...]
    tiers: tuple[Tier, ...]
    leg: int


@dataclass(slots=True)
class Supply:
    """One hot (per leg) and one neutral, with everything that hangs on them."""

    gfci: Device | None = None
    switched: bool = False
    """Whether this is the load side of a GFCI that is itself switched: its hot is then a switched one."""
    hot: dict[int, list[Spot]] = field(default_factory=dict)
    neutral: list[Spot] = field(default_factory=list)
    kept: set[str] = field(default_factory=set)
    """Nodes where the neutral has to be present."""
    groups: list[Group] = field(default_factory=list)

    def feed(self, leg: int, spot: Spot) -> None:
        """Hang a hot terminal on a leg."""
        self.hot.setdefault(leg, []).append(spot)

    @property
    def legs(self) -> set[int]:
        """The legs that something hangs on."""
        return set(self.hot) | {group.leg for group in self.groups}


@dataclass(slots=True)
class Unit:
    """What one source has to feed as a whole: its line side, and the load sides of its GFCIs."""

    devices: tuple[str, ...]
    stated: str | None
    line: Supply
    load_sides: list[Supply]

    @property
    def supplies(self) -> list[Supply]:
        """Line side first."""
        return [self.line, *self.load_sides]


@dataclass(slots=True)
class Demand:
    """All units, in the order of their first device."""

    units: list[Unit]
