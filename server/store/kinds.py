"""The kinds of facts: which dataclass stands in which table, and what refers to what.

kind      owner     other references
level
room      level
wall      room
opening   wall
counter   room      wall
break     counter
fixture   room      wall
panel               room, wall, circuit (its feeder)
circuit   panel     circuit (multiwire)
box       room      wall, counter
device    box       circuit (two), fixture, devices (controls), cables (load side)
cable               boxes and panels (ends), circuits

A fact goes when its owner goes. Any other reference is let go: emptied, or taken out of the list.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date
from functools import cached_property
from typing import Any, Final

from server.dwelling import (
    Box,
    Break,
    Cable,
    Circuit,
    Counter,
    Device,
    Fixture,
    Level,
    Opening,
    Panel,
    Room,
    Stage,
    Wall,
    WorkKind,
)
from server.store.tables import (
    BoxRow,
    BreakRow,
    CableRow,
    CircuitRow,
    CounterRow,
    DeviceRow,
    FixtureRow,
    JobRow,
    LevelRow,
    OpeningRow,
    PanelRow,
    RoomRow,
    WallRow,
)

__all__ = ["JOB", "KINDS", "KINDS_BY_FACT", "KINDS_BY_PLURAL", "FactKind", "JobSettings", "Reference"]


@dataclass(frozen=True, slots=True)
class JobSettings:
    """What is entered about a job itself. ``edition`` is the year; ``presets`` names shipped amendments;
    ``layers`` holds the job's own amendments as documents (grammar: ``server.editions.loader``)."""

    id: str
    name: str
    edition: int
    address: str = ""
    presets: tuple[str, ...] = ()
    layers: tuple[Mapping[str, Any], ...] = ()
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_number: str = ""
    permit_date: date | None = None
    inspection_date: date | None = None
    floor_area_ft2: int | None = None


@dataclass(frozen=True, slots=True)
class Reference:
    """A field that names another fact; ``owner`` where the fact cannot stand without it; ``many`` for a tuple."""

    field: str
    kind: str
    owner: bool = False
    many: bool = False


@dataclass(frozen=True)
class FactKind:
    """One kind of fact."""

    name: str
    plural: str
    fact: type[Any]
    row: type[Any]
    references: tuple[Reference, ...] = ()

    @cached_property
    def fields(self) -> tuple[str, ...]:
        """The names of its fields, in the dataclass's order."""
        return tuple(field.name for field in fields(self.fact))

    @cached_property
    def columns(self) -> tuple[Any, ...]:
        """The columns of its fields, in the dataclass's order."""
        return tuple(self.row.__table__.c[name] for name in self.fields)

    @cached_property
    def owner(self) -> Reference | None:
        """The reference that it cannot stand without."""
        return next((reference for reference in self.references if reference.owner), None)


def _owner(field: str, kind: str) -> Reference:
    return Reference(field, kind, owner=True)


KINDS: Final[Mapping[str, FactKind]] = {
    kind.name: kind
    for kind in (
        FactKind("level", "levels", Level, LevelRow),
        FactKind("room", "rooms", Room, RoomRow, (_owner("level_id", "level"),)),
        FactKind("wall", "walls", Wall, WallRow, (_owner("room_id", "room"),)),
        FactKind("opening", "openings", Opening, OpeningRow, (_owner("wall_id", "wall"),)),
        FactKind(
            "counter", "counters", Counter, CounterRow, (_owner("room_id", "room"), Reference("wall_id", "wall"))
        ),
        FactKind("break", "breaks", Break, BreakRow, (_owner("counter_id", "counter"),)),
        FactKind(
            "fixture", "fixtures", Fixture, FixtureRow, (_owner("room_id", "room"), Reference("wall_id", "wall"))
        ),
        FactKind(
            "panel", "panels", Panel, PanelRow,
            (Reference("room_id", "room"), Reference("wall_id", "wall"), Reference("fed_by_circuit_id", "circuit")),
        ),
        FactKind(
            "circuit", "circuits", Circuit, CircuitRow,
            (_owner("panel_id", "panel"), Reference("multiwire_with", "circuit")),
        ),
        FactKind(
            "box", "boxes", Box, BoxRow,
            (_owner("room_id", "room"), Reference("wall_id", "wall"), Reference("counter_id", "counter")),
        ),
        FactKind(
            "device", "devices", Device, DeviceRow,
            (
                _owner("box_id", "box"), Reference("circuit_id", "circuit"),
                Reference("second_circuit_id", "circuit"), Reference("fixture_id", "fixture"),
                Reference("controls", "device", many=True), Reference("load_cable_ids", "cable", many=True),
            ),
        ),
        FactKind(
            "cable", "cables", Cable, CableRow,
            (
                Reference("a_box_id", "box"), Reference("b_box_id", "box"), Reference("a_panel_id", "panel"),
                Reference("b_panel_id", "panel"), Reference("circuit_ids", "circuit", many=True),
            ),
        ),
    )
}  # fmt: skip
"""By name, owners before what they own."""

KINDS_BY_PLURAL: Final[Mapping[str, FactKind]] = {kind.plural: kind for kind in KINDS.values()}
KINDS_BY_FACT: Final[Mapping[type[Any], FactKind]] = {kind.fact: kind for kind in KINDS.values()}

JOB: Final = FactKind("job", "jobs", JobSettings, JobRow)
"""The job's own settings are changed, journalled and undone like a fact."""
