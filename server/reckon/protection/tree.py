"""A circuit's tree as protection sees it: the breaker, boxes, cables, outlets, and the devices with a load side.

Power comes from :data:`SOURCE` over cables into boxes. In a box everything is joined to the line side, except what a
protecting device lists on its load side: cables, outlets, or another device. A multiwire circuit has two legs,
``"A"`` and ``"B"``, that share their grounded conductor where one cable carries both.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

__all__ = ["SOURCE", "ProtectionTree", "Protector", "Source", "TreeBox", "TreeCable", "TreeOutlet"]

SOURCE: Final = "source"
"""The end of a cable that is the panel."""

Arc = Literal["", "combination", "branch/feeder", "supplemental"]
Wiring = Literal["cable", "metal", "concrete"]


@dataclass(frozen=True, slots=True)
class Source:
    """The breaker. ``arc`` is the kind of arc protection in it; only the combination type protects by itself.

    ``poles`` is 2 for a two-pole breaker; a multiwire circuit on two single-pole breakers has 1.
    """

    gfci: bool = False
    arc: Arc = ""
    poles: int = 1
    legs: tuple[str, ...] = ("A",)
    replaceable: bool = True


@dataclass(frozen=True, slots=True)
class TreeBox:
    """A box. ``reachable``: a device in it would be readily accessible. ``marked_first``: marked as first outlet."""

    id: str
    label: str = ""
    metal: bool | None = None
    reachable: bool = True
    marked_first: bool | None = None


@dataclass(frozen=True, slots=True)
class TreeCable:
    """A cable between two boxes, or from :data:`SOURCE`.

    ``wiring``: ``"metal"`` for metal raceway, MC or steel AC that is its own equipment ground; ``"concrete"`` for
    tubing or MC in the concrete that 210.12(A)(6) asks for; ``"cable"`` for anything else.
    """

    id: str
    a: str
    b: str
    legs: tuple[str, ...] = ("A",)
    wiring: Wiring | None = None
    awg: str | None = None
    length_ft: Fraction | None = None


@dataclass(frozen=True, slots=True)
class TreeOutlet:
    """An outlet (or switch) in a box, with what it must have. ``no_gfci``: it must not be behind a GFCI (760)."""

    id: str
    box: str
    kind: Literal["receptacle", "lighting", "hardwired", "switch"] = "receptacle"
    legs: tuple[str, ...] = ("A",)
    needs_gfci: bool = False
    needs_afci: bool = False
    no_gfci: bool = False
    label: str = ""


@dataclass(frozen=True, slots=True)
class Protector:
    """A GFCI or AFCI device on one leg. ``outlet`` is its own face; ``load_*`` hang on its load terminals."""

    id: str
    box: str
    gfci: bool = False
    afci: bool = False
    leg: str = "A"
    outlet: str | None = None
    load_cables: tuple[str, ...] = ()
    load_outlets: tuple[str, ...] = ()
    load_devices: tuple[str, ...] = ()
    readily_accessible: bool | None = None
    listed_with_breaker: bool | None = None


@dataclass(frozen=True, slots=True)
class ProtectionTree:
    """One circuit (both legs of a multiwire one). ``work_on`` says by which rule an AFCI device must stand."""

    source: Source = Source()
    boxes: tuple[TreeBox, ...] = ()
    cables: tuple[TreeCable, ...] = ()
    outlets: tuple[TreeOutlet, ...] = ()
    devices: tuple[Protector, ...] = ()
    work_on: Literal["new", "extension", "replacement"] = "new"
