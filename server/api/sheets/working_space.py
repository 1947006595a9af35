"""``POST /api/sheets/working-space``: the working space in front of a panel, measure by measure."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import Field

from server.api.sheets.base import ExactNumber, LengthIn, SheetRequest, StrictModel, sheet
from server.editions import Edition
from server.reckon.work import Work
from server.reckon.working_space import Obstruction, WorkingSpace, reckon_working_space

__all__ = ["WorkingSpaceRequest", "WorkingSpaceSheetResult"]

What = Annotated[str, Field(min_length=1, max_length=80)]


class ObstructionIn(StrictModel):
    """Something in the working space; electrical equipment above or below may stand out a little."""

    what: What
    electrical: bool = False
    projects_in: LengthIn | None = Field(default=None, description="How far it stands out beyond the front.")


class WorkingSpaceRequest(SheetRequest):
    """What was measured at the equipment."""

    width_in: LengthIn | None = None
    depth_in: LengthIn | None = None
    height_in: LengthIn | None = None
    voltage_to_ground: Annotated[ExactNumber, Field(ge=0, le=1000)] = Field(
        default=Fraction(120), description="120 for 120/240 V and 208Y/120 V, 277 for 480Y/277 V."
    )
    condition: Annotated[int, Field(ge=1, le=3)] | None = Field(
        default=None,
        description="1: nothing live or grounded opposite; 2: grounded; 3: live. 3 where not given.",
    )
    door_swing_deg: Annotated[ExactNumber, Field(ge=0, le=360)] | None = None
    open_door_leaves_in: LengthIn | None = Field(
        default=None, description="Way past the open equipment door."
    )
    obstructions: list[What | ObstructionIn] = Field(default=[], max_length=50)
    room: What | None = Field(default=None, examples=["basement", "bathroom", "clothes closet"])
    equipment_width_in: LengthIn | None = None
    equipment_height_in: LengthIn | None = None
    existing_dwelling: bool = False
    rating_a: Annotated[int, Field(ge=1, le=6000)] | None = None
    clear_above_in: LengthIn | None = Field(
        default=None, description="Free of pipes and ducts above the equipment."
    )
    ceiling_above_in: LengthIn | None = Field(
        default=None, description="Structural ceiling above the equipment."
    )


class DimensionOut(StrictModel):
    required_in: ExactNumber
    given_in: ExactNumber | None
    complies: bool | None
    why: str
    cites: str


class DoorOut(StrictModel):
    required_deg: ExactNumber
    given_deg: ExactNumber
    complies: bool
    cites: str


class WorkingSpaceSheetResult(StrictModel):
    """``complies`` is null where depth, width or height was not given and nothing else falls short."""

    complies: bool | None
    depth: DimensionOut
    width: DimensionOut
    height: DimensionOut
    door_swing: DoorOut | None
    open_door_leaves: DimensionOut | None
    dedicated_above: DimensionOut | None
    in_the_way: list[str]
    room_allowed: bool | None
    notes: list[str]


def _obstruction(given: str | ObstructionIn) -> Obstruction:
    if isinstance(given, str):
        return Obstruction(given)
    return Obstruction(given.what, given.electrical, given.projects_in)


@sheet("working-space", title="Working space", asks=WorkingSpaceRequest, gives=WorkingSpaceSheetResult)
def working_space(request: WorkingSpaceRequest, code: Edition, work: Work) -> WorkingSpaceSheetResult:
    """Whether the working space at a panel is deep, wide and high enough, and free."""
    space = WorkingSpace(
        depth_in=request.depth_in,
        width_in=request.width_in,
        height_in=request.height_in,
        voltage_to_ground=request.voltage_to_ground,
        condition=request.condition,
        door_swing_deg=request.door_swing_deg,
        open_door_leaves_in=request.open_door_leaves_in,
        equipment_width_in=request.equipment_width_in,
        equipment_height_in=request.equipment_height_in,
        obstructions=tuple(_obstruction(item) for item in request.obstructions),
        room=request.room,
        existing_dwelling=request.existing_dwelling,
        rating_a=request.rating_a,
        clear_above_in=request.clear_above_in,
        ceiling_above_in=request.ceiling_above_in,
    )
    found = reckon_working_space(space, code, work)
    measures = {part.name: part for part in found.dimensions}

    def measure(name: str) -> DimensionOut | None:
        part = measures.get(name)
        if part is None:
            return None
        return DimensionOut(
            required_in=part.required,
            given_in=part.given,
            complies=part.complies,
            why=part.why,
            cites=part.cites,
        )

    depth, width, height = (measure(name) for name in ("depth_in", "width_in", "height_in"))
    assert depth is not None
    assert width is not None
    assert height is not None
    door = measures.get("door_swing_deg")
    return WorkingSpaceSheetResult(
        complies=found.complies,
        depth=depth,
        width=width,
        height=height,
        door_swing=None
        if door is None or door.given is None
        else DoorOut(
            required_deg=door.required, given_deg=door.given, complies=bool(door.complies), cites=door.cites
        ),
        open_door_leaves=measure("open_door_leaves_in"),
        dedicated_above=measure("clear_above_in"),
        in_the_way=list(found.in_the_way),
        room_allowed=found.room_allowed,
        notes=list(found.notes),
    )
