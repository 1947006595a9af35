"""Which jobs a rule about the whole job reaches, and which panels a rule about a panel does.

Each is an :data:`~server.rules.looks.Applies`, like those of ``reach.py``.
"""

from __future__ import annotations

from typing import Any

from server.dwelling import CableKind, Dwelling, FixtureKind, Panel, Site, WorkKind
from server.editions import Edition
from server.rules.looks import Applies

__all__ = [
    "house_has",
    "house_has_cable",
    "is_service_panel",
    "is_subpanel",
    "new_house",
    "work_in_old_house",
]


def new_house(subject: Site, house: Dwelling, code: Edition) -> str | None:
    """The house itself is new."""
    return None if subject.work is WorkKind.NEW else "The house stands already; this belongs to a new one."


def work_in_old_house(subject: Site, house: Dwelling, code: Edition) -> str | None:
    """The house stood before: wiring is extended or replaced."""
    return "The house is new; this belongs to work in an old one." if subject.work is WorkKind.NEW else None


def _fixture_kinds(house: Dwelling) -> frozenset[FixtureKind]:
    return frozenset(fixture.kind for fixture in house.facts.fixtures)


def _cable_kinds(house: Dwelling) -> frozenset[CableKind]:
    return frozenset(cable.kind for cable in house.facts.cables)


def house_has(*kinds: FixtureKind) -> Applies:
    """A fixture or appliance of one of these kinds is recorded somewhere in the house."""
    why = f"No {' or '.join(map(str, kinds))} is recorded in this house."

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        return why if house.derive(_fixture_kinds).isdisjoint(kinds) else None

    return asks


def house_has_cable(*kinds: CableKind) -> Applies:
    """A cable of one of these kinds is recorded somewhere in the house."""
    why = f"No {' or '.join(str(kind).upper() for kind in kinds)} is recorded in this house."

    def asks(subject: Any, house: Dwelling, code: Edition) -> str | None:
        return why if house.derive(_cable_kinds).isdisjoint(kinds) else None

    return asks


def is_service_panel(subject: Panel, house: Dwelling, code: Edition) -> str | None:
    """The panel holds the service disconnect."""
    return None if subject.is_service else "This panel is fed from another; the service panel is meant."


def is_subpanel(subject: Panel, house: Dwelling, code: Edition) -> str | None:
    """The panel is fed from another."""
    return "This is the service panel; one that is fed from another is meant." if subject.is_service else None
