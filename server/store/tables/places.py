"""Levels, rooms, walls, openings, counters and fixtures, field by field as in ``server.dwelling.places``."""

from __future__ import annotations

from sqlalchemy.orm import Mapped

from server.dwelling import BreakKind, CounterKind, FixtureKind, Framing, Inches, OpeningKind, RoomKind
from server.store.base import Base, Id, OptionalId
from server.store.tables.fact_row import FactRow

__all__ = ["BreakRow", "CounterRow", "FixtureRow", "LevelRow", "OpeningRow", "RoomRow", "WallRow"]


class LevelRow(FactRow, Base):
    __tablename__ = "levels"

    name: Mapped[str]
    order: Mapped[int]
    below_grade: Mapped[bool | None]


class RoomRow(FactRow, Base):
    __tablename__ = "rooms"

    level_id: Mapped[Id]
    name: Mapped[str]
    kind: Mapped[RoomKind]
    order: Mapped[int]
    finished: Mapped[bool | None]
    length_in: Mapped[Inches | None]
    width_in: Mapped[Inches | None]
    floor_area_ft2: Mapped[Inches | None]
    ceiling_height_in: Mapped[Inches | None]
    ceiling_rise_in: Mapped[Inches | None]
    framing: Mapped[Framing | None]
    stud_spacing_in: Mapped[Inches | None]
    risers: Mapped[int | None]
    readily_accessible: Mapped[bool | None]
    plan_x_in: Mapped[Inches | None]
    plan_y_in: Mapped[Inches | None]
    note: Mapped[str]


class WallRow(FactRow, Base):
    __tablename__ = "walls"

    room_id: Mapped[Id]
    order: Mapped[int]
    length_in: Mapped[Inches]
    name: Mapped[str]
    exterior: Mapped[bool | None]
    is_wall_space: Mapped[bool]
    turn_deg: Mapped[int]


class OpeningRow(FactRow, Base):
    __tablename__ = "openings"

    wall_id: Mapped[Id]
    kind: Mapped[OpeningKind]
    from_in: Mapped[Inches]
    to_in: Mapped[Inches]
    sill_in: Mapped[Inches | None]
    head_in: Mapped[Inches | None]
    has_counter: Mapped[bool]


class CounterRow(FactRow, Base):
    __tablename__ = "counters"

    room_id: Mapped[Id]
    kind: Mapped[CounterKind]
    length_in: Mapped[Inches]
    depth_in: Mapped[Inches]
    wall_id: Mapped[OptionalId]
    from_in: Mapped[Inches | None]
    height_in: Mapped[Inches | None]


class BreakRow(FactRow, Base):
    __tablename__ = "breaks"

    counter_id: Mapped[Id]
    kind: Mapped[BreakKind]
    from_in: Mapped[Inches]
    to_in: Mapped[Inches]
    behind_in: Mapped[Inches | None]
    in_corner: Mapped[bool]


class FixtureRow(FactRow, Base):
    __tablename__ = "fixtures"

    room_id: Mapped[Id]
    kind: Mapped[FixtureKind]
    name: Mapped[str]
    wall_id: Mapped[OptionalId]
    at_in: Mapped[Inches | None]
    out_in: Mapped[Inches | None]
    width_in: Mapped[Inches | None]
    depth_in: Mapped[Inches | None]
    fuel_burning: Mapped[bool | None]
    fastened_in_place: Mapped[bool | None]
    va: Mapped[Inches | None]
    volts: Mapped[int | None]
    motor: Mapped[bool | None]
    minimum_circuit_a: Mapped[Inches | None]
    maximum_overcurrent_a: Mapped[Inches | None]
    listed_hvac: Mapped[bool | None]
    note: Mapped[str]
