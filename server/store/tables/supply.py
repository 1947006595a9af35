"""Panels, circuits and cables, field by field as in ``server.dwelling.supply``."""

from __future__ import annotations

from sqlalchemy.orm import Mapped

from server.dwelling import Breaker, CableKind, CircuitPurpose, ConductorMaterial, Inches, WhiteUse
from server.store.base import Base, Id, OptionalId
from server.store.tables.fact_row import FactRow

__all__ = ["CableRow", "CircuitRow", "PanelRow"]


class PanelRow(FactRow, Base):
    __tablename__ = "panels"

    name: Mapped[str]
    order: Mapped[int]
    room_id: Mapped[OptionalId]
    wall_id: Mapped[OptionalId]
    at_in: Mapped[Inches | None]
    is_service: Mapped[bool]
    fed_by_circuit_id: Mapped[OptionalId]
    bus_a: Mapped[int | None]
    main_a: Mapped[int | None]
    spaces: Mapped[int | None]
    volts: Mapped[int]
    handle_height_in: Mapped[Inches | None]
    space_width_in: Mapped[Inches | None]
    space_depth_in: Mapped[Inches | None]
    space_height_in: Mapped[Inches | None]
    door_swing_deg: Mapped[int | None]
    neutral_bonded: Mapped[bool | None]
    ground_bar: Mapped[bool | None]
    in_separate_building: Mapped[bool]
    note: Mapped[str]


class CircuitRow(FactRow, Base):
    __tablename__ = "circuits"

    panel_id: Mapped[Id]
    name: Mapped[str]
    order: Mapped[int]
    spaces: Mapped[tuple[int, ...]]
    poles: Mapped[int]
    rating_a: Mapped[int | None]
    volts: Mapped[int]
    breaker: Mapped[Breaker | None]
    purpose: Mapped[CircuitPurpose]
    conductor_awg: Mapped[str | None]
    material: Mapped[ConductorMaterial]
    multiwire_with: Mapped[OptionalId]
    handle_tied: Mapped[bool | None]
    continuous_va: Mapped[Inches | None]
    va: Mapped[Inches | None]
    note: Mapped[str]


class CableRow(FactRow, Base):
    __tablename__ = "cables"

    kind: Mapped[CableKind]
    awg: Mapped[str | None]
    insulated: Mapped[int]
    has_ground: Mapped[bool]
    order: Mapped[int]
    circuit_ids: Mapped[tuple[str, ...]]
    a_box_id: Mapped[OptionalId]
    a_panel_id: Mapped[OptionalId]
    b_box_id: Mapped[OptionalId]
    b_panel_id: Mapped[OptionalId]
    length_ft: Mapped[Inches | None]
    material: Mapped[ConductorMaterial]
    white_use: Mapped[WhiteUse | None]
    sheath_a_in: Mapped[Inches | None]
    sheath_b_in: Mapped[Inches | None]
    fastened_a_in: Mapped[Inches | None]
    fastened_b_in: Mapped[Inches | None]
    bundled_with: Mapped[int | None]
    bundled_length_in: Mapped[Inches | None]
    in_insulation: Mapped[bool | None]
    ambient_f: Mapped[int | None]
    note: Mapped[str]
