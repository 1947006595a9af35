"""``POST /api/sheets/counter-receptacles``: the receptacles of a kitchen's counters, without a job.

Counters are numbered from 0 in the order given; in the steps they are called A, B, C ... unless they carry a
name. A place is ``{"counter": 1, "at_in": 30, "name": "counter B"}``: inches along that counter from its start. A
peninsula starts at the wall it is joined to, so that its outer end is at ``length_in``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import ConfigDict, Field, field_validator, model_validator

from server.api.sheets.base import ExactNumber, LengthIn, SheetRequest, StrictModel, sheet
from server.api.sheets.wall_receptacles import UncountedOut, letters
from server.dwelling.length import format_length
from server.editions import Edition, default_year, load_edition
from server.reckon.counter_layout import Counter, CounterBreak, CounterReceptacle, divides_wall_counter
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import Place
from server.reckon.receptacles_that_count import Uncounted
from server.reckon.spacing_result import CounterSpace, CounterSpacing, Gap, Part
from server.reckon.work import Work

__all__ = ["CounterReceptaclesRequest", "CounterReceptaclesResult"]

_LONGEST_COUNTER_IN = 1200
_LARGEST_TOP_FT2 = 2000
_NARROWEST_STUDS_IN = 6


class BreakIn(StrictModel):
    """A sink, range, cooktop, refrigerator ... along a counter."""

    from_in: LengthIn
    to_in: LengthIn
    kind: str = Field(examples=["sink", "range", "cooktop", "refrigerator"])
    behind_in: LengthIn | None = Field(default=None, description="Depth of counter behind it.")
    corner: bool = Field(default=False, description="Set across a corner.")

    @field_validator("kind")
    @classmethod
    def known(cls, kind: str) -> str:
        item = CounterBreak(from_in=Fraction(0), to_in=Fraction(1), kind=kind)
        divides_wall_counter(item, load_edition(default_year()))
        return kind

    @model_validator(mode="after")
    def in_order(self) -> BreakIn:
        if self.to_in <= self.from_in:
            raise ValueError(f"expected to_in beyond from_in, came {self.from_in} to {self.to_in}")
        return self


class CounterReceptacleIn(StrictModel):
    """A receptacle for the counter."""

    at_in: LengthIn
    above_in: LengthIn | None = Field(default=None, description="Above the top.")
    below_in: LengthIn | None = Field(default=None, description="Below the top.")
    overhang_in: LengthIn | None = Field(default=None, description="How far the top hangs over it.")
    in_top: Literal["no", "listed", "not listed"] = "no"
    in_drawer: bool = False
    out_of_reach: bool = Field(default=False, description="Behind a fixed or dedicated appliance.")
    assembly_in: Annotated[LengthIn, Field(le=_LONGEST_COUNTER_IN)] | None = Field(
        default=None, description="Length of a multioutlet assembly with its middle at at_in."
    )
    id: str | None = Field(default=None, max_length=60)


class CounterIn(StrictModel):
    """One counter."""

    kind: Literal["wall", "island", "peninsula"] = "wall"
    length_in: Annotated[LengthIn, Field(gt=0, le=_LONGEST_COUNTER_IN)]
    depth_in: Annotated[LengthIn, Field(le=_LONGEST_COUNTER_IN)] | None = None
    breaks: list[BreakIn] = Field(default=[], max_length=50)
    receptacles: list[CounterReceptacleIn] = Field(default=[], max_length=100)
    name: str | None = Field(default=None, max_length=60)
    continues: bool = Field(
        default=False, description="Continues the wall counter before it around a corner."
    )
    flat: bool = Field(default=True, description="No backsplash or divider on an island or peninsula.")
    for_disability: bool = False
    provision: bool | None = Field(
        default=None, description="Whether a receptacle can be added later (2023 on)."
    )
    area_ft2: Annotated[ExactNumber, Field(ge=0, le=_LARGEST_TOP_FT2)] | None = Field(
        default=None, description="Of a top that is no rectangle."
    )
    stud_spacing_in: Annotated[LengthIn, Field(ge=_NARROWEST_STUDS_IN)] | None = None
    first_stud_in: LengthIn | None = None

    @model_validator(mode="after")
    def all_fit(self) -> CounterIn:
        whole = format_length(self.length_in)
        for index, item in enumerate(self.breaks):
            if item.to_in > self.length_in:
                raise ValueError(
                    f"expected break {index} to end within {whole}, came {format_length(item.to_in)}"
                )
        for index, receptacle in enumerate(self.receptacles):
            if receptacle.at_in > self.length_in:
                came = format_length(receptacle.at_in)
                raise ValueError(f"expected receptacle {index} within {whole}, came {came}")
        return self


class CounterReceptaclesRequest(SheetRequest):
    """The counters of a kitchen or dining room, with what divides them and the receptacles that are there."""

    counters: list[CounterIn] = Field(min_length=1, max_length=40)

    @field_validator("counters")
    @classmethod
    def continued(cls, counters: list[CounterIn]) -> list[CounterIn]:
        for index, counter in enumerate(counters):
            if counter.continues and (
                index == 0 or counter.kind != "wall" or counters[index - 1].kind != "wall"
            ):
                raise ValueError(f"counter {index}: expected a wall counter before the one that it continues")
        names = [
            item.id or f"{letters(index)}{number + 1}"
            for index, counter in enumerate(counters)
            for number, item in enumerate(counter.receptacles)
        ]
        if len(set(names)) != len(names):
            raise ValueError("expected an id of its own for each receptacle")
        return counters


class CounterPlaceOut(StrictModel):
    counter: int
    at_in: LengthIn
    name: str


class CounterPartOut(StrictModel):
    """A part of a counter's line."""

    model_config = ConfigDict(populate_by_name=True)

    from_: CounterPlaceOut = Field(alias="from")
    to: CounterPlaceOut
    length_in: LengthIn


class CounterGapOut(CounterPartOut):
    """A distance to dimension."""

    most_in: LengthIn
    over_in: LengthIn


class CounterSpaceOut(CounterPartOut):
    """One counter space."""

    kind: Literal["wall", "island", "peninsula"]
    fewest: int
    receptacles: list[str]
    short_by: int
    gaps: list[CounterGapOut]
    uncovered: list[CounterPartOut]


class CounterAddedOut(CounterPlaceOut):
    ground: str


class CounterReceptaclesResult(StrictModel):
    """``complies`` is null where a fact is missing (``unseen``)."""

    spaces: list[CounterSpaceOut]
    uncovered: list[CounterPartOut]
    complies: bool | None
    fewest: int = Field(description="Receptacles for the counters when they are empty.")
    added: list[CounterAddedOut] = Field(description="The fewest to add to what is there.")
    too_narrow: list[CounterPartOut]
    uncounted: list[UncountedOut]
    not_allowed: list[UncountedOut]
    inspector: list[str]
    unseen: list[str]


@sheet(
    "counter-receptacles",
    title="Receptacles along counters",
    asks=CounterReceptaclesRequest,
    gives=CounterReceptaclesResult,
)
def counter_receptacles(
    request: CounterReceptaclesRequest, code: Edition, work: Work
) -> CounterReceptaclesResult:
    """Counter spaces of a kitchen, what its receptacles leave unserved, and the fewest to add (210.52(C))."""
    return _answer(reckon_counter_spacing(_counters(request), code, work))


def _counters(request: CounterReceptaclesRequest) -> list[Counter]:
    return [
        Counter(
            id=str(index),
            name=item.name or f"counter {letters(index)}",
            kind=item.kind,
            length_in=item.length_in,
            depth_in=item.depth_in,
            breaks=tuple(
                CounterBreak(
                    from_in=each.from_in,
                    to_in=each.to_in,
                    kind=each.kind,
                    behind_in=each.behind_in,
                    corner=each.corner,
                )
                for each in item.breaks
            ),
            receptacles=tuple(
                _receptacle(f"{letters(index)}{number + 1}", each)
                for number, each in enumerate(item.receptacles)
            ),
            continues=item.continues,
            flat=item.flat,
            for_disability=item.for_disability,
            provision=item.provision,
            area_ft2=item.area_ft2,
            stud_spacing_in=item.stud_spacing_in,
            first_stud_in=item.first_stud_in,
        )
        for index, item in enumerate(request.counters)
    ]


def _receptacle(name: str, item: CounterReceptacleIn) -> CounterReceptacle:
    return CounterReceptacle(
        id=item.id or name,
        at_in=item.at_in,
        above_in=item.above_in,
        below_in=item.below_in,
        overhang_in=item.overhang_in,
        in_top=item.in_top,
        in_drawer=item.in_drawer,
        out_of_reach=item.out_of_reach,
        assembly_in=item.assembly_in,
    )


def _place(place: Place) -> CounterPlaceOut:
    return CounterPlaceOut(counter=int(place.on), at_in=place.at_in, name=place.name)


def _part(part: Part) -> CounterPartOut:
    return CounterPartOut(from_=_place(part.start), to=_place(part.end), length_in=part.length_in)


def _gap(gap: Gap) -> CounterGapOut:
    return CounterGapOut(
        from_=_place(gap.part.start),
        to=_place(gap.part.end),
        length_in=gap.part.length_in,
        most_in=gap.most_in,
        over_in=gap.over_in,
    )


def _space(space: CounterSpace) -> CounterSpaceOut:
    return CounterSpaceOut(
        from_=_place(space.part.start),
        to=_place(space.part.end),
        length_in=space.part.length_in,
        kind=space.kind,
        fewest=space.required,
        receptacles=list(space.receptacles),
        short_by=space.short_by,
        gaps=[_gap(gap) for gap in space.gaps],
        uncovered=[_part(part) for part in space.uncovered],
    )


def _uncounted(item: Uncounted) -> UncountedOut:
    return UncountedOut(receptacle=item.receptacle, why=item.why, cites=item.cites)


def _answer(found: CounterSpacing) -> CounterReceptaclesResult:
    return CounterReceptaclesResult(
        spaces=[_space(space) for space in found.spaces],
        uncovered=[_part(part) for part in found.uncovered],
        complies=found.complies,
        fewest=found.fewest,
        added=[
            CounterAddedOut(
                counter=int(item.place.on), at_in=item.place.at_in, name=item.place.name, ground=item.ground
            )
            for item in found.added
        ],
        too_narrow=[_part(part) for part in found.too_narrow],
        uncounted=[_uncounted(item) for item in found.uncounted],
        not_allowed=[_uncounted(item) for item in found.not_allowed],
        inspector=list(found.inspector),
        unseen=list(found.unseen),
    )
