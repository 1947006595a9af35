"""``POST /api/sheets/box-fill``: what one box must hold and whether it can (314.16), without a job."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from server.api.sheets.base import Awg, ExactNumber, LengthIn, SheetRequest, StrictModel, sheet
from server.api.sheets.electrical_numbers import CubicInches
from server.dwelling.boxes import Clamps
from server.editions import Edition, default_year, load_edition
from server.reckon.box_contents import (
    Addition,
    BoxContents,
    BoxSize,
    ConductorRole,
    Conductors,
    SupportFitting,
    Yoke,
)
from server.reckon.box_cure import BoxCure, cure_box
from server.reckon.box_fill import BoxFill, allowance_in3, reckon_box_fill
from server.reckon.box_partitions import Barrier, BarrierMaterial, BoxSpace, reckon_partitioned_box
from server.reckon.conductor_sizes import circular_mils
from server.reckon.standard_boxes import BoxShape, find_box
from server.reckon.work import Work

__all__ = ["BoxFillRequest", "BoxFillResult"]

_MOST = 1000
Count = Annotated[int, Field(ge=0, le=_MOST)]
Gangs = Annotated[int, Field(ge=1, le=20)]


def _a_size(awg: str | None) -> str | None:
    """Refuse a size that the trade does not know."""
    if awg is not None:
        circular_mils(awg, load_edition(default_year()))
    return awg


def _a_box(table: str | None) -> str | None:
    """Refuse a description that is no standard box."""
    if table is not None:
        find_box(table, load_edition(default_year()))
    return table


class BoxIn(StrictModel):
    """The box: a standard metal one, or its marked volume; only a shape where a size is looked for."""

    table: str | None = Field(
        default=None, max_length=60, examples=["4 x 1-1/2 square", "3 x 2 x 2-3/4 device"]
    )
    volume_in3: CubicInches | None = None
    shape: Literal["octagonal", "square", "device", "masonry", "cast"] | None = Field(
        default=None, description="Shape that a smallest box is looked for in."
    )
    gangs: Gangs = Field(default=1, description="Ganged sections of a standard device box.")

    _known = field_validator("table")(_a_box)

    @model_validator(mode="after")
    def says_something(self) -> BoxIn:
        if self.table is None and self.volume_in3 is None and self.shape is None:
            raise ValueError("expected table, volume_in3 or shape")
        return self


class ConductorsIn(StrictModel):
    """Some conductors of one size and role."""

    awg: Awg
    count: Count = 1
    role: ConductorRole = ConductorRole.INSULATED
    loop_in: LengthIn | None = Field(
        default=None, description="Length of an unbroken loop, where it was measured."
    )

    _known = field_validator("awg")(_a_size)


class DeviceIn(StrictModel):
    """A yoke with what it carries."""

    kind: str = Field(default="device", max_length=60, examples=["receptacle", "switch", "luminaire"])
    largest_awg: Awg | None = Field(
        default=None, description="Largest conductor connected; the largest insulated one where not given."
    )
    gangs: Gangs = Field(default=1, description="How many gangs it needs to be mounted.")

    _known = field_validator("largest_awg")(_a_size)


class FittingsIn(StrictModel):
    """Support fittings by kind."""

    stud: Count = 0
    hickey: Count = 0


class TerminalBlockIn(StrictModel):
    """A terminal block assembly with the largest conductor ended on it."""

    awg: Awg

    _known = field_validator("awg")(_a_size)


class RingIn(StrictModel):
    """A ring or cover: marked with a volume, made from a standard box, or neither."""

    kind: str = Field(default="plaster ring", max_length=60)
    volume_in3: CubicInches | None = None
    table: str | None = Field(default=None, max_length=60)

    _known = field_validator("table")(_a_box)


class BarrierIn(StrictModel):
    """A barrier that divides the box."""

    material: BarrierMaterial = BarrierMaterial.METAL
    volume_in3: CubicInches | None = Field(default=None, description="Where it is marked.")


class _ContentsIn(SheetRequest):
    """What counts in a box or in one of its spaces."""

    conductors: list[ConductorsIn] = Field(default=[], max_length=200)
    devices: list[DeviceIn] = Field(default=[], max_length=50)
    clamps: Clamps = Clamps.NONE
    fittings: FittingsIn = FittingsIn()
    terminal_blocks: list[TerminalBlockIn] = Field(default=[], max_length=50)

    @field_validator("devices")
    @classmethod
    def counted_by_something(cls, devices: list[DeviceIn], info: ValidationInfo) -> list[DeviceIn]:
        counted = (ConductorRole.INSULATED, ConductorRole.THROUGH, ConductorRole.LOOP)
        conductors: list[ConductorsIn] = info.data.get("conductors", [])
        if not any(group.role in counted and group.count for group in conductors):
            for device in devices:
                if device.largest_awg is None:
                    raise ValueError(
                        f"expected largest_awg for the {device.kind}: no insulated conductor is listed"
                    )
        return devices


class SpaceIn(_ContentsIn):
    """One space of a divided box; without a volume the rest is divided evenly."""

    edition: None = None
    name: str = Field(default="", max_length=60)
    volume_in3: CubicInches | None = None


class BoxFillRequest(_ContentsIn):
    """A box and what is in it. Without ``box`` only the room that the contents need is reckoned."""

    box: BoxIn | None = None
    extensions_in3: list[CubicInches] = Field(
        default=[], max_length=20, description="Marked volumes of rings, extensions."
    )
    rings: list[RingIn] = Field(default=[], max_length=20)
    barriers: list[BarrierIn] = Field(default=[], max_length=10)
    spaces: list[SpaceIn] = Field(
        default=[], max_length=11, description="Contents by space, for a divided box."
    )

    @model_validator(mode="after")
    def one_place_for_contents(self) -> BoxFillRequest:
        if self.spaces and (self.conductors or self.devices or self.terminal_blocks):
            raise ValueError("expected the contents within spaces, came contents beside spaces too")
        if self.barriers and not self.spaces:
            raise ValueError("expected spaces with barriers, came none: each space is reckoned by itself")
        return self


class SpaceResult(StrictModel):
    """One space of a divided box."""

    name: str
    required_in3: ExactNumber | None
    available_in3: ExactNumber | None
    fits: bool | None


class BoxFillResult(StrictModel):
    """The fill, and what would hold it. ``outside`` says why the table cannot answer, where it cannot."""

    required_in3: ExactNumber | None
    available_in3: ExactNumber | None
    fits: bool | None
    smallest_box: str | None
    smallest_extension_in3: ExactNumber | None = Field(
        description="Least volume that a ring or extension must be marked with; 0 where the box fits."
    )
    left_in3: ExactNumber | None = None
    allowances: ExactNumber = Field(
        default=Fraction(0), description="Single allowances, whatever their size."
    )
    smallest_box_any_shape: str | None = None
    smallest_by_shape: dict[str, str | None] = Field(default={})
    smallest_extension: str | None = Field(
        default=None, description="Smallest standard extension ring that works."
    )
    room_for: dict[str, int] = Field(default={}, description="How many more conductors of each size fit.")
    spaces: list[SpaceResult] = Field(default=[])
    outside: str = ""


@sheet("box-fill", title="Box fill", asks=BoxFillRequest, gives=BoxFillResult)
def box_fill(request: BoxFillRequest, code: Edition, work: Work) -> BoxFillResult:
    """Reckon what a box must hold, what it has, and the smallest box or ring that would do."""
    if request.spaces:
        return _divided(request, code, work)
    contents = _contents(request, _size(request))
    fill = reckon_box_fill(contents, code, work)
    shape = BoxShape(request.box.shape) if request.box and request.box.shape else None
    cure = cure_box(fill, contents, code, work, shape=shape)
    return _result(fill, cure, code)


def _size(request: BoxFillRequest) -> BoxSize | None:
    rings = tuple(Addition("Extension", volume_in3=volume) for volume in request.extensions_in3)
    rings += tuple(Addition(ring.kind, ring.volume_in3, ring.table) for ring in request.rings)
    box = request.box
    if box is None or (box.table is None and box.volume_in3 is None):
        return None
    return BoxSize(box.table, box.volume_in3, box.gangs, rings)


def _contents(asked: _ContentsIn, box: BoxSize | None) -> BoxContents:
    fittings = {SupportFitting.STUD: asked.fittings.stud, SupportFitting.HICKEY: asked.fittings.hickey}
    return BoxContents(
        conductors=tuple(Conductors(c.awg, c.count, c.role, c.loop_in) for c in asked.conductors),
        devices=tuple(Yoke(d.kind, d.largest_awg, d.gangs) for d in asked.devices),
        clamps=asked.clamps,
        fittings=frozenset(kind for kind, count in fittings.items() if count),
        terminal_blocks=tuple(block.awg for block in asked.terminal_blocks),
        box=box,
    )


def _result(fill: BoxFill, cure: BoxCure, code: Edition) -> BoxFillResult:
    return BoxFillResult(
        required_in3=fill.required_in3,
        available_in3=fill.available_in3,
        fits=fill.fits,
        left_in3=fill.left_in3,
        allowances=fill.allowances,
        smallest_box=cure.smallest_box.name if cure.smallest_box else None,
        smallest_box_any_shape=cure.any_shape.name if cure.any_shape else None,
        smallest_by_shape={shape.value: c.name if c else None for shape, c in cure.by_shape.items()},
        smallest_extension_in3=cure.extension_in3,
        smallest_extension=f"{cure.extension.name} extension ring" if cure.extension else None,
        room_for=_room_for(fill, code),
        outside=fill.outside,
    )


def _room_for(fill: BoxFill, code: Edition) -> dict[str, int]:
    left = fill.left_in3
    if left is None:
        return {}
    sizes = code.table("box.allowance_in3")
    return {awg: max(0, int(left // allowance_in3(awg, code))) for awg in sizes}


def _divided(request: BoxFillRequest, code: Edition, work: Work) -> BoxFillResult:
    spaces = [BoxSpace(_contents(space, None), space.name, space.volume_in3) for space in request.spaces]
    barriers = [Barrier(barrier.material, barrier.volume_in3) for barrier in request.barriers]
    fills = reckon_partitioned_box(_size(request), barriers, spaces, code, work)
    fits = [fill.fits for fill in fills]
    return BoxFillResult(
        required_in3=_sum([fill.required_in3 for fill in fills]),
        available_in3=_sum([fill.available_in3 for fill in fills]),
        fits=None if None in fits else all(fits),
        smallest_box=None,
        smallest_extension_in3=None,
        allowances=sum((fill.allowances for fill in fills), Fraction(0)),
        spaces=[
            SpaceResult(
                name=space.name, required_in3=f.required_in3, available_in3=f.available_in3, fits=f.fits
            )
            for space, f in zip(spaces, fills, strict=True)
        ],
        outside=" ".join(dict.fromkeys(fill.outside for fill in fills if fill.outside)),
    )


def _sum(parts: list[Fraction | None]) -> Fraction | None:
    known = [part for part in parts if part is not None]
    return sum(known, Fraction(0)) if len(known) == len(parts) else None
