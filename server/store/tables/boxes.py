"""Boxes and devices, field by field as in ``server.dwelling.boxes``."""

from __future__ import annotations

from sqlalchemy.orm import Mapped

from server.dwelling import BoxMaterial, Clamps, DeviceKind, Half, Inches, Surface, SwitchWays, Wetness
from server.store.base import Base, Id, OptionalId
from server.store.tables.fact_row import FactRow

__all__ = ["BoxRow", "DeviceRow"]


class BoxRow(FactRow, Base):
    __tablename__ = "boxes"

    room_id: Mapped[Id]
    label: Mapped[str]
    order: Mapped[int]
    surface: Mapped[Surface]
    wall_id: Mapped[OptionalId]
    at_in: Mapped[Inches | None]
    height_in: Mapped[Inches | None]
    x_in: Mapped[Inches | None]
    y_in: Mapped[Inches | None]
    material: Mapped[BoxMaterial | None]
    trade_size: Mapped[str | None]
    volume_in3: Mapped[Inches | None]
    ring_in3: Mapped[Inches | None]
    gangs: Mapped[int]
    clamps: Mapped[Clamps | None]
    luminaire_studs: Mapped[int]
    hickeys: Mapped[int]
    fan_rated: Mapped[bool | None]
    rated_lb: Mapped[Inches | None]
    wetness: Mapped[Wetness | None]
    from_sink_in: Mapped[Inches | None]
    from_tub_in: Mapped[Inches | None]
    off_wall_in: Mapped[Inches | None]
    below_counter_in: Mapped[Inches | None]
    counter_id: Mapped[OptionalId]
    inside_cabinet: Mapped[bool]
    note: Mapped[str]


class DeviceRow(FactRow, Base):
    __tablename__ = "devices"

    box_id: Mapped[Id]
    kind: Mapped[DeviceKind]
    label: Mapped[str]
    order: Mapped[int]
    circuit_id: Mapped[OptionalId]
    second_circuit_id: Mapped[OptionalId]
    configuration: Mapped[str | None]
    receptacles: Mapped[int]
    gfci: Mapped[bool]
    afci: Mapped[bool]
    tamper_resistant: Mapped[bool | None]
    weather_resistant: Mapped[bool | None]
    switched_half: Mapped[Half | None]
    ways: Mapped[SwitchWays | None]
    dimmer: Mapped[bool]
    controls: Mapped[tuple[str, ...]]
    load_cable_ids: Mapped[tuple[str, ...]]
    fixture_id: Mapped[OptionalId]
    serves: Mapped[str]
    dedicated: Mapped[bool]
    readily_accessible: Mapped[bool | None]
    volts: Mapped[int | None]
    va: Mapped[Inches | None]
    weight_lb: Mapped[Inches | None]
    domed: Mapped[bool]
    recessed: Mapped[bool | None]
    lamp: Mapped[str]
    largest_awg: Mapped[str | None]
    gangs_wide: Mapped[int]
    isolated_ground: Mapped[bool]
    note: Mapped[str]
