"""What a hookup is asked with: boxes and sources, the cables between them, and the devices in them."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from server.dwelling.boxes import Half, SwitchWays

__all__ = ["Cable", "Device", "Half", "Kind", "NeutralRule", "Node", "SwitchWays", "Wiring"]


class Kind(StrEnum):
    """What a device is, as far as its conductors go. A dimmer is a switch."""

    SWITCH = "switch"
    RECEPTACLE = "receptacle"
    LUMINAIRE = "luminaire"
    FAN = "fan"
    LOAD = "load"
    GFCI = "gfci"
    """A GFCI receptacle or faceless device with line and load terminals."""


class NeutralRule(StrEnum):
    """Where a grounded conductor has to be present at a switch."""

    CODE = "code"
    """As the edition has it: where the switch is for lighting."""
    REQUIRED = "required"
    EXEMPT = "exempt"


@dataclass(frozen=True, slots=True)
class Node:
    """A box, or a source: the origin of one circuit. A source with two ``legs`` is a multiwire circuit, two hots
    with one neutral."""

    id: str
    is_source: bool = False
    legs: int = 1


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable between nodes ``a`` and ``b`` with ``insulated`` insulated conductors.

    ``colors`` are their colors where they are not the usual ones, as in a cable with two neutrals.
    """

    id: str
    a: str
    b: str
    insulated: int = 2
    kind: str = "nm-b"
    awg: str | None = None
    colors: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Device:
    """A device in a box.

    A switch ``controls`` loads by id; ``halves`` says which half of a receptacle it turns where that is not the
    receptacle's own ``split`` half. ``ways`` may be left out and follows from how many switches list a load.
    ``split`` is the half of a receptacle that is wired apart from the other. ``protects`` are the devices on the load
    side of a GFCI. ``source`` and ``leg`` say which circuit, and which hot of a multiwire circuit, feeds it;
    ``second_leg`` is the leg of the half that ``split`` does not name. ``needs_neutral`` is for electronic switches
    that use the grounded conductor.
    """

    id: str
    node: str
    kind: Kind
    controls: tuple[str, ...] = ()
    halves: tuple[tuple[str, Half], ...] = ()
    ways: SwitchWays | None = None
    split: Half | None = None
    protects: tuple[str, ...] = ()
    needs_neutral: bool = False
    source: str | None = None
    leg: int | None = None
    second_leg: int | None = None


@dataclass(frozen=True, slots=True)
class Wiring:
    """Everything a hookup is found from.

    ``neutral_exempt`` and ``neutral_required`` name nodes that stand apart from ``neutral_rule``.
    """

    nodes: tuple[Node, ...] = ()
    cables: tuple[Cable, ...] = ()
    devices: tuple[Device, ...] = ()
    neutral_rule: NeutralRule = NeutralRule.CODE
    neutral_exempt: frozenset[str] = field(default_factory=frozenset)
    neutral_required: frozenset[str] = field(default_factory=frozenset)
