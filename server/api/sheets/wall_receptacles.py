"""``POST /api/sheets/wall-receptacles``: the receptacle spacing of one room's walls, without a job.

Walls are numbered from 0 in the order given; in the steps they are called A, B, C ... unless they carry a
name. A place is ``{"wall": 1, "at_in": 112, "name": "wall B"}``: inches along the floor line from that wall's start.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, ValidationInfo, field_validator, model_validator

from server.api.sheets.base import ExactNumber, LengthIn, SheetRequest, StrictModel, sheet
from server.dwelling.length import format_length
from server.editions import Edition, default_year, load_edition
from server.reckon.floor_line import Place
from server.reckon.receptacles_that_count import Receptacle, Switched, Uncounted, why_not_counted
from server.reckon.spacing_result import Gap, Part, RoomRule, WallSpacing
from server.reckon.wall_layout import Opening, Wall, WallLayout, WallReceptacle, reading_of
from server.reckon.wall_spacing import reckon_wall_spacing
from server.reckon.work import Work

__all__ = ["WallReceptaclesRequest", "WallReceptaclesResult", "letters"]

_LONGEST_WALL_IN = 3000
_NARROWEST_STUDS_IN = 6
_MOST_OPENINGS = 200


def letters(index: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA: how walls and counters are called where they have no name."""
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


class OpeningIn(StrictModel):
    """Something that takes up a part of a wall."""

    from_in: LengthIn
    to_in: LengthIn
    kind: str = Field(examples=["door", "window", "sliding_door", "fireplace", "cabinet", "railing"])
    sill_in: LengthIn | None = Field(default=None, description="Height of a window's lower edge.")

    @field_validator("kind")
    @classmethod
    def known(cls, kind: str) -> str:
        reading_of(kind, "bedroom", load_edition(default_year()))
        return kind

    @model_validator(mode="after")
    def in_order(self) -> OpeningIn:
        if self.to_in <= self.from_in:
            raise ValueError(f"expected to_in beyond from_in, came {self.from_in} to {self.to_in}")
        return self


class WallIn(StrictModel):
    """One straight wall."""

    length_in: Annotated[LengthIn, Field(gt=0, le=_LONGEST_WALL_IN)]
    space: bool = Field(default=True, description="False where there is no wall to count: an open side.")
    openings: list[OpeningIn] = Field(default=[], max_length=20)
    name: str | None = Field(default=None, max_length=60)
    kind: Literal["wall", "railing", "divider", "glass"] = "wall"
    top_in: LengthIn | None = Field(default=None, description="Height of the counter on a fixed divider.")
    first_stud_in: LengthIn | None = Field(
        default=None, description="First stud from the wall's start; one stud spacing where not given."
    )

    @model_validator(mode="after")
    def openings_fit(self) -> WallIn:
        for index, item in enumerate(self.openings):
            if item.to_in > self.length_in:
                whole = format_length(self.length_in)
                raise ValueError(
                    f"expected opening {index} to end within {whole}, came {format_length(item.to_in)}"
                )
        return self


class ReceptacleIn(StrictModel):
    """A receptacle: on a wall, or in the floor ``floor_offset_in`` from it."""

    wall: int = Field(ge=0, description="Which wall, counted from 0.")
    at_in: LengthIn
    height_in: LengthIn | None = Field(default=None, description="Above the floor.")
    switched: bool | Switched = Field(
        default=False,
        description="True or `whole`: a wall switch turns all of it; `half`: one half stays live.",
    )
    floor_offset_in: LengthIn | None = None
    fixed_in: bool | str | None = Field(
        default=None,
        description="What it is part of or inside of: luminaire, appliance, cabinet ...; true for an appliance.",
    )
    serves_counter: bool = False
    id: str | None = Field(default=None, max_length=60)

    @field_validator("fixed_in")
    @classmethod
    def known(cls, fixed_in: bool | str | None) -> bool | str | None:
        if isinstance(fixed_in, str):
            why_not_counted(Receptacle(id="it", fixed_in=fixed_in), load_edition(default_year()))
        return fixed_in


class WallReceptaclesRequest(SheetRequest):
    """A room's walls in order, with what stands in them and the receptacles that are there."""

    room: str = Field(min_length=1, max_length=60, examples=["bedroom", "living room", "foyer", "hallway"])
    walls: list[WallIn] = Field(min_length=1, max_length=60)
    closed: bool | None = Field(
        default=None,
        description="Whether the last wall meets the first; where not given, from three walls on.",
    )
    receptacles: list[ReceptacleIn] = Field(default=[], max_length=200)
    stud_spacing_in: Annotated[LengthIn, Field(ge=_NARROWEST_STUDS_IN)] | None = Field(
        default=None, description="Puts added receptacles on studs."
    )
    lighting_outlet: bool | None = Field(
        default=None, description="Whether the room has a switched lighting outlet of its own."
    )
    floor_area_ft2: Annotated[ExactNumber, Field(ge=0)] | None = Field(
        default=None, description="Matters in a foyer."
    )
    centerline_in: LengthIn | None = Field(default=None, description="Length of a hallway along its middle.")

    @field_validator("walls")
    @classmethod
    def not_too_many(cls, walls: list[WallIn]) -> list[WallIn]:
        if (count := sum(len(wall.openings) for wall in walls)) > _MOST_OPENINGS:
            raise ValueError(f"expected at most {_MOST_OPENINGS} openings in all, came {count}")
        return walls

    @field_validator("receptacles")
    @classmethod
    def on_a_wall(cls, receptacles: list[ReceptacleIn], info: ValidationInfo) -> list[ReceptacleIn]:
        walls: list[WallIn] = info.data.get("walls", [])
        if not walls:
            return receptacles  # the walls have their own error
        names = [item.id or f"R{index + 1}" for index, item in enumerate(receptacles)]
        if len(set(names)) != len(names):
            raise ValueError("expected an id of its own for each receptacle")
        for index, item in enumerate(receptacles):
            if item.wall >= len(walls):
                raise ValueError(
                    f"receptacle {index}: expected a wall from 0 to {len(walls) - 1}, came {item.wall}"
                )
            length = walls[item.wall].length_in
            if item.at_in > length:
                came = format_length(item.at_in)
                raise ValueError(
                    f"receptacle {index}: expected at_in up to {format_length(length)}, came {came}"
                )
        return receptacles


class PlaceOut(StrictModel):
    wall: int
    at_in: LengthIn
    name: str


class PartOut(StrictModel):
    """A part of the floor line, from left to right as one faces the walls."""

    model_config = ConfigDict(populate_by_name=True)

    from_: PlaceOut = Field(alias="from")
    to: PlaceOut
    length_in: LengthIn


class GapOut(PartOut):
    """A distance to dimension: between two receptacles, or from an end of the space to the next one."""

    most_in: LengthIn
    over_in: LengthIn


class SpaceOut(PartOut):
    """One wall space; ``ring`` where nothing breaks the room's walls anywhere."""

    ring: bool
    fewest: int
    receptacles: list[str]
    gaps: list[GapOut]
    uncovered: list[PartOut]


class AddedOut(PlaceOut):
    ground: str


class UncountedOut(StrictModel):
    receptacle: str
    why: str
    cites: str


class BothWaysOut(PartOut):
    """Something that an inspector may read either way."""

    question: str
    complies_if_it_breaks: bool | None
    complies_if_not: bool | None


class WallReceptaclesResult(StrictModel):
    """``complies`` is null where the rule does not reach the room or a fact is missing (``unseen``)."""

    spaces: list[SpaceOut]
    uncovered: list[PartOut]
    complies: bool | None
    fewest: int = Field(description="Receptacles for the room when it is empty, wherever they may stand.")
    added: list[AddedOut] = Field(description="The fewest to add to what is there.")
    rule: RoomRule
    why: str
    too_short: list[PartOut]
    uncounted: list[UncountedOut]
    not_allowed: list[UncountedOut]
    inspector: list[str]
    both_ways: list[BothWaysOut]
    unseen: list[str]


@sheet(
    "wall-receptacles",
    title="Receptacles along walls",
    asks=WallReceptaclesRequest,
    gives=WallReceptaclesResult,
)
def wall_receptacles(request: WallReceptaclesRequest, code: Edition, work: Work) -> WallReceptaclesResult:
    """Wall spaces of a room, what its receptacles leave unserved, and the fewest to add (210.52(A), (H), (I))."""
    return _answer(reckon_wall_spacing(_layout(request), code, work))


def _layout(request: WallReceptaclesRequest) -> WallLayout:
    walls = tuple(
        Wall(
            id=str(index),
            length_in=wall.length_in,
            name=wall.name or f"wall {letters(index)}",
            openings=tuple(
                Opening(from_in=item.from_in, to_in=item.to_in, kind=item.kind, sill_in=item.sill_in)
                for item in wall.openings
            ),
            space=wall.space,
            kind=wall.kind,
            top_in=wall.top_in,
            first_stud_in=wall.first_stud_in,
        )
        for index, wall in enumerate(request.walls)
    )
    return WallLayout(
        room=request.room,
        walls=walls,
        closed=len(walls) > 2 if request.closed is None else request.closed,
        receptacles=tuple(_receptacle(index, item) for index, item in enumerate(request.receptacles)),
        stud_spacing_in=request.stud_spacing_in,
        lighting_outlet=request.lighting_outlet,
        floor_area_ft2=request.floor_area_ft2,
        centerline_in=request.centerline_in,
    )


def _receptacle(index: int, item: ReceptacleIn) -> WallReceptacle:
    switched: Switched = (
        item.switched if isinstance(item.switched, str) else ("whole" if item.switched else "no")
    )
    return WallReceptacle(
        id=item.id or f"R{index + 1}",
        wall=str(item.wall),
        at_in=item.at_in,
        height_in=item.height_in,
        switched=switched,
        fixed_in=item.fixed_in if isinstance(item.fixed_in, str) else ("appliance" if item.fixed_in else ""),
        floor_offset_in=item.floor_offset_in,
        serves_counter=item.serves_counter,
    )


def _place(place: Place) -> PlaceOut:
    return PlaceOut(wall=int(place.on), at_in=place.at_in, name=place.name)


def _part(part: Part) -> PartOut:
    return PartOut(from_=_place(part.start), to=_place(part.end), length_in=part.length_in)


def _gap(gap: Gap) -> GapOut:
    return GapOut(
        from_=_place(gap.part.start),
        to=_place(gap.part.end),
        length_in=gap.part.length_in,
        most_in=gap.most_in,
        over_in=gap.over_in,
    )


def _uncounted(item: Uncounted) -> UncountedOut:
    return UncountedOut(receptacle=item.receptacle, why=item.why, cites=item.cites)


def _answer(found: WallSpacing) -> WallReceptaclesResult:
    return WallReceptaclesResult(
        spaces=[
            SpaceOut(
                from_=_place(space.part.start),
                to=_place(space.part.end),
                length_in=space.part.length_in,
                ring=space.unbroken_ring,
                fewest=space.fewest,
                receptacles=list(space.receptacles),
                gaps=[_gap(gap) for gap in space.gaps],
                uncovered=[_part(part) for part in space.uncovered],
            )
            for space in found.spaces
        ],
        uncovered=[_part(part) for part in found.uncovered],
        complies=found.complies,
        fewest=found.fewest,
        added=[
            AddedOut(
                wall=int(item.place.on), at_in=item.place.at_in, name=item.place.name, ground=item.ground
            )
            for item in found.added
        ],
        rule=found.rule,
        why=found.why,
        too_short=[_part(part) for part in found.too_short],
        uncounted=[_uncounted(item) for item in found.uncounted],
        not_allowed=[_uncounted(item) for item in found.not_allowed],
        inspector=list(found.inspector),
        both_ways=[
            BothWaysOut(
                from_=_place(item.part.start),
                to=_place(item.part.end),
                length_in=item.part.length_in,
                question=item.question,
                complies_if_it_breaks=item.complies_if_it_breaks,
                complies_if_not=item.complies_if_not,
            )
            for item in found.both_ways
        ],
        unseen=list(found.unseen),
    )
