"""What a hookup answers: the plan box by box, its truth tables, or what is short and the cheapest mend."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BoxPlan",
    "CableEnd",
    "CableNeed",
    "CablePlan",
    "Conductor",
    "End",
    "Hookup",
    "Join",
    "Plan",
    "Short",
    "Terminal",
    "TruthRow",
    "TruthTable",
]


@dataclass(frozen=True, slots=True)
class Conductor:
    """One insulated conductor of a cable: its insulation, the color of the band where it is re-identified, and
    what it carries (None where it is left over and capped at both ends)."""

    color: str
    signal: str | None = None
    reidentified_as: str | None = None


@dataclass(frozen=True, slots=True)
class CablePlan:
    """What each conductor of a cable between nodes ``a`` and ``b`` is for, and what its ground looks like."""

    id: str
    a: str
    b: str
    conductors: tuple[Conductor, ...]
    ground: str = "bare"


@dataclass(frozen=True, slots=True, order=True)
class CableEnd:
    """The end of one conductor of a cable in a box."""

    cable: str
    color: str


@dataclass(frozen=True, slots=True, order=True)
class Terminal:
    """A terminal of a device, or of a source (whose id stands as the device)."""

    device: str
    terminal: str


End = CableEnd | Terminal


@dataclass(frozen=True, slots=True)
class Join:
    """Ends that are joined in a box. One cable end alone is capped and kept; one cable end with one terminal, or
    two terminals, need no connector; anything more is a splice from which each terminal has its pigtail."""

    ends: tuple[End, ...]
    signal: str

    @property
    def capped(self) -> bool:
        """Whether this is a single conductor kept in the box for later use."""
        return len(self.ends) == 1

    @property
    def is_splice(self) -> bool:
        """Whether it takes a connector: two cable conductors, or more than two ends."""
        return len(self.ends) > 2 or sum(isinstance(end, CableEnd) for end in self.ends) > 1

    @property
    def pigtails(self) -> int:
        """Short conductors from the splice to device terminals."""
        return sum(isinstance(end, Terminal) for end in self.ends) if self.is_splice else 0


@dataclass(frozen=True, slots=True)
class BoxPlan:
    """The joins of one node; ``grounds`` are its equipment grounding conductors, all joined together (and to a
    metal box and to each device), not counted as a splice."""

    node: str
    joins: tuple[Join, ...]
    grounds: tuple[CableEnd, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """Cables and boxes of a hookup."""

    cables: tuple[CablePlan, ...]
    boxes: tuple[BoxPlan, ...]


@dataclass(frozen=True, slots=True)
class TruthRow:
    """A position per switch of the table, and the loads that are on."""

    positions: tuple[str, ...]
    on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TruthTable:
    """Switches that act on common loads, over all their positions.

    Positions: ``off``/``on`` of a single-pole switch (on is closed), ``1``/``2`` of a three-way (common to
    traveler_1 or traveler_2), ``straight``/``crossed`` of a four-way (in_1 to out_1, or to out_2).
    """

    switches: tuple[str, ...]
    loads: tuple[str, ...]
    rows: tuple[TruthRow, ...]


@dataclass(frozen=True, slots=True)
class Short:
    """A cable with too few conductors: how many it has, how many it needs, and what each would carry."""

    cable: str
    has: int
    needs: int
    signals: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CableNeed:
    """One cable of the cheapest plan: how many insulated conductors it is to have, and of which colors."""

    cable: str
    insulated: int
    has: int
    colors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hookup:
    """The answer. ``why`` is one plain sentence where it is not possible; ``notes`` are sentences worth reading
    where it is. ``conductors`` counts the cable conductors in use."""

    possible: bool
    why: str = ""
    plan: Plan | None = None
    truth: tuple[TruthTable, ...] = ()
    always_live: tuple[str, ...] = ()
    splices: int = 0
    reidentified: int = 0
    conductors: int = 0
    short: tuple[Short, ...] = ()
    cheapest: tuple[CableNeed, ...] = ()
    notes: tuple[str, ...] = ()
