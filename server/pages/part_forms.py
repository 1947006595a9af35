"""The forms of what a room has beside its boxes: openings, counters, breaks in counters, fixtures and appliances.

Each form is read into the fields of its fact; a place may be measured from either end of its wall, and an opening is
typed by where it begins and how wide it is, as on a sketch.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import (
    Break,
    BreakKind,
    Counter,
    CounterKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Opening,
    OpeningKind,
    Room,
    Wall,
    format_length,
)
from server.pages.border import OptionalNumber, OptionalPlace, Place, Ticked, YesOrNo
from server.pages.forms import Fields
from server.pages.room_drawings import wall_name
from server.pages.typed_facts import typed_of, write_length

__all__ = ["PARTS", "Part", "PartKind"]

PartKind = Literal["opening", "counter", "break", "fixture"]
_End = Literal["left", "right"]
_FORM: Final = ConfigDict(extra="forbid", arbitrary_types_allowed=True)


class OpeningForm(BaseModel):
    """A door, window, fireplace, fixed cabinet or railing."""

    model_config = _FORM

    wall_id: str = Field(max_length=64)
    kind: OpeningKind
    from_in: Place
    measured: _End = "left"
    width_in: Place
    sill_in: OptionalPlace = None
    head_in: OptionalPlace = None
    has_counter: Ticked = False


class CounterForm(BaseModel):
    """A counter along a wall, an island or a peninsula."""

    model_config = _FORM

    kind: CounterKind
    wall_id: str | None = Field(default=None, max_length=64)
    from_in: OptionalPlace = None
    measured: _End = "left"
    length_in: Place
    depth_in: Place = Fraction(25)
    height_in: OptionalPlace = None


class BreakForm(BaseModel):
    """A sink, range, cooktop or refrigerator in a counter."""

    model_config = _FORM

    counter_id: str = Field(max_length=64)
    kind: BreakKind
    from_in: Place
    width_in: Place
    behind_in: OptionalPlace = None
    in_corner: Ticked = False


class FixtureForm(BaseModel):
    """A wet fixture or an appliance."""

    model_config = _FORM

    kind: FixtureKind
    name: str = Field(default="", max_length=80)
    wall_id: str | None = Field(default=None, max_length=64)
    at_in: OptionalPlace = None
    measured: _End = "left"
    out_in: OptionalPlace = None
    width_in: OptionalPlace = None
    depth_in: OptionalPlace = None
    fuel_burning: YesOrNo = None
    fastened_in_place: YesOrNo = None
    va: OptionalNumber = Field(default=None, le=1_000_000)
    volts: int | None = Field(default=None, ge=0, le=1000)
    motor: YesOrNo = None
    minimum_circuit_a: OptionalNumber = Field(default=None, le=1000)
    maximum_overcurrent_a: OptionalNumber = Field(default=None, le=1000)
    listed_hvac: YesOrNo = None
    note: str = Field(default="", max_length=2000)


Values = dict[str, Any]
_Read = Callable[[Any, Fields, Room, Dwelling], tuple[Values, Fields]]


@dataclass(frozen=True, slots=True)
class Part:
    """One kind of part: its fact, its form, how the form becomes fields and fields become text."""

    kind: PartKind
    word: str
    fact: type[Any]
    form: type[BaseModel]
    read: _Read
    typed: Callable[[Any], Mapping[str, str]]
    usual: Mapping[str, str]


def _wall(wall_id: str | None, room: Room, house: Dwelling) -> Wall | None:
    wall = house.walls.get(wall_id or "")
    return wall if wall is not None and wall.room_id == room.id else None


def _beyond(fields: Fields, name: str, to_in: Fraction, wall: Wall) -> Fields:
    long, came = format_length(wall.length_in), format_length(to_in)
    return fields.wrong(
        name, f"Expected it to end within {long}, the length of {wall_name(wall)}; it would end at {came}."
    )


def _from(given: Fraction, measured: str, width: Fraction, wall: Wall) -> Fraction:
    """Where something begins from the left, whichever end its nearer edge was measured from."""
    return wall.length_in - given - width if measured == "right" else given


def _read_opening(form: OpeningForm, fields: Fields, room: Room, house: Dwelling) -> tuple[Values, Fields]:
    wall = _wall(form.wall_id, room, house)
    if wall is None:
        return {}, fields.wrong("wall_id", "Choose one of this room's walls.")
    if not form.width_in:
        return {}, fields.wrong("width_in", "Expected a width above zero.")
    start = _from(form.from_in, form.measured, form.width_in, wall)
    if start < 0 or start + form.width_in > wall.length_in:
        fields = _beyond(fields, "width_in", form.from_in + form.width_in, wall)
    if form.sill_in is not None and form.head_in is not None and form.head_in <= form.sill_in:
        fields = fields.wrong("head_in", f"Expected a head above the sill at {format_length(form.sill_in)}.")
    return {
        "wall_id": wall.id, "kind": form.kind, "from_in": start, "to_in": start + form.width_in, "sill_in": form.sill_in,
        "head_in": form.head_in, "has_counter": form.has_counter,
    }, fields  # fmt: skip


def _read_counter(form: CounterForm, fields: Fields, room: Room, house: Dwelling) -> tuple[Values, Fields]:
    wall = _wall(form.wall_id, room, house)
    if not form.length_in or not form.depth_in:
        return {}, fields.wrong("depth_in" if form.length_in else "length_in", "Expected more than zero.")
    if form.wall_id and wall is None:
        fields = fields.wrong("wall_id", "Choose one of this room's walls.")
    if form.kind is CounterKind.WALL and wall is None:
        fields = fields.wrong("wall_id", "Choose the wall that the counter runs along.")
    start = form.from_in
    if wall is not None and form.kind is not CounterKind.ISLAND:
        along = form.length_in if form.kind is CounterKind.WALL else form.depth_in
        start = _from(form.from_in or Fraction(0), form.measured, along, wall)
        if start < 0 or start + along > wall.length_in:
            name = "length_in" if form.kind is CounterKind.WALL else "depth_in"
            fields = _beyond(fields, name, (form.from_in or Fraction(0)) + along, wall)
    return {
        "kind": form.kind, "wall_id": wall.id if wall else None, "from_in": start, "length_in": form.length_in,
        "depth_in": form.depth_in, "height_in": form.height_in,
    }, fields  # fmt: skip


def _read_break(form: BreakForm, fields: Fields, room: Room, house: Dwelling) -> tuple[Values, Fields]:
    counter = house.counters.get(form.counter_id)
    if counter is None or counter.room_id != room.id:
        return {}, fields.wrong("counter_id", "Choose one of this room's counters.")
    if not form.width_in:
        return {}, fields.wrong("width_in", "Expected a width above zero.")
    end = form.from_in + form.width_in
    if end > counter.length_in:
        fields = fields.wrong(
            "width_in",
            f"Expected it to end within {format_length(counter.length_in)}, the length of the counter; it would end at "
            f"{format_length(end)}.",
        )
    return {
        "counter_id": counter.id, "kind": form.kind, "from_in": form.from_in, "to_in": end, "behind_in": form.behind_in,
        "in_corner": form.in_corner,
    }, fields  # fmt: skip


def _read_fixture(form: FixtureForm, fields: Fields, room: Room, house: Dwelling) -> tuple[Values, Fields]:
    wall = _wall(form.wall_id, room, house)
    if form.wall_id and wall is None:
        fields = fields.wrong("wall_id", "Choose one of this room's walls.")
    at_in = form.at_in
    if wall is not None and at_in is not None:
        if at_in > wall.length_in:
            fields = _beyond(fields, "at_in", at_in, wall)
        elif form.measured == "right":
            at_in = wall.length_in - at_in
    return {
        **form.model_dump(exclude={"measured"}), "at_in": at_in, "wall_id": wall.id if wall else None,
    }, fields  # fmt: skip


def _typed_from_to(fact: Opening | Break) -> Mapping[str, str]:
    values = typed_of(fact)
    del values["to_in"]
    return {**values, "width_in": write_length(fact.to_in - fact.from_in)}


_THREE_WAYS: Final = ("fuel_burning", "fastened_in_place", "motor", "listed_hvac")

PARTS: Final[Mapping[PartKind, Part]] = {
    "opening": Part("opening", "opening", Opening, OpeningForm, _read_opening, _typed_from_to, {"kind": "door"}),
    "counter": Part(
        "counter", "counter", Counter, CounterForm, _read_counter, typed_of,
        {"kind": "wall", "depth_in": "25 in", "height_in": "36 in"},
    ),
    "break": Part("break", "break", Break, BreakForm, _read_break, _typed_from_to, {"kind": "sink"}),
    "fixture": Part(
        "fixture", "fixture or appliance", Fixture, FixtureForm, _read_fixture,
        lambda fact: typed_of(fact, yes_or_no=_THREE_WAYS), {},
    ),
}  # fmt: skip
"""By kind."""
