"""The protection sheet: must one outlet have GFCI, AFCI, tamper resistance, weather resistance?"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema

from server.api.sheets.base import ExactNumber, LengthIn, SheetRequest, StrictModel, sheet
from server.api.sheets.protection_words import read_purpose, read_room
from server.editions import Edition
from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.conservative import Ask, conservative_reading
from server.reckon.protection.facts import OutletFacts, WorkOn
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.protection.served import AT_THE_SINK, EXHAUST_FANS
from server.reckon.protection.tamper_resistant import tamper_resistance_required
from server.reckon.protection.weather_resistant import weather_resistance_required
from server.reckon.work import Work

__all__ = ["ProtectionRequest", "ProtectionResult", "protection"]

_IN_PER_FT = 12
_ROOMS_WITH_A_SINK = frozenset({"kitchen", "bathroom", "laundry", "wet bar"})
_EXTENSION = re.compile(r"^extension(?:_ft)?[\s:=_]*(?P<ft>\d+(?:\.\d+)?)?[\s_]*(?:ft)?$")


def _volts(came: object) -> object:
    """``240``, ``"240 V"``, ``"120/240"`` (the larger counts)."""
    if not isinstance(came, str):
        return came
    numbers = re.findall(r"\d+(?:\.\d+)?", came)
    if not numbers or not re.fullmatch(r"[\d./\sVvYy]+", came):
        raise ValueError(f"expected volts such as 120 or 120/240, came {came!r}")
    return max(map(Fraction, numbers))


Volts = Annotated[
    ExactNumber,
    Field(gt=0),
    BeforeValidator(_volts),
    WithJsonSchema({"anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string"}]}),
]
Amps = Annotated[ExactNumber, Field(gt=0)]
Feet = Annotated[ExactNumber, Field(ge=0)]
Crossed = Literal["door", "doorway", "window", "cabinet door", "wall"]


def _room(came: str) -> str:
    read_room(came)
    return came


def _work_word(came: str) -> str:
    plain = came.strip().lower()
    if plain not in ("new", "replacement") and not _EXTENSION.match(plain):
        raise ValueError(
            f"expected new, replacement, extension or {{extension_ft, added_outlets}}, came {came!r}"
        )
    return plain


RoomName = Annotated[str, Field(min_length=1, max_length=200), AfterValidator(_room)]
WorkWord = Annotated[str, Field(max_length=40), AfterValidator(_work_word)]


class Extension(StrictModel):
    """An old circuit made longer."""

    extension_ft: Feet = Field(description="Conductor added, outside enclosures.")
    added_outlets: int = Field(default=0, ge=0, description="Outlets and devices added with it.")


class SheetOutlet(StrictModel):
    """The outlet asked about. What is left out is read at its most demanding, and the answer says so."""

    kind: Literal["receptacle", "lighting", "hardwired", "switch"] = "receptacle"
    volts: Volts | None = None
    amps: Amps | None = None
    phases: Literal[1, 3] = 1
    serves: str | None = Field(default=None, max_length=80, description="Appliance or purpose.")
    height_in: LengthIn | None = None
    from_sink_in: LengthIn | None = Field(
        default=None, description="Cord path to the bowl; where it is left out, no sink is near."
    )
    from_tub_in: LengthIn | None = Field(
        default=None, description="Cord path to the tub or shower; where it is left out, none is near."
    )
    dedicated: bool | None = None
    readily_accessible: bool | None = None
    outdoors: bool | None = None
    behind_door: bool | None = Field(
        default=None, description="The cord path to the sink or tub passes a door."
    )
    listed_hvac: bool | None = None
    path_crosses: list[Crossed] = Field(
        default=[], max_length=5, description="What else the cord path passes."
    )
    damp: bool | None = None
    wet: bool | None = None
    single: bool | None = Field(default=None, description="A single receptacle, not a duplex.")
    part_of_equipment: bool | None = None
    locking: bool = False
    nongrounding: bool = False


class SheetCircuit(StrictModel):
    """The branch circuit."""

    volts: Volts | None = None
    amps: Amps | None = None
    volts_to_ground: Volts | None = None
    rooms: list[RoomName] = Field(
        default=[], max_length=60, description="Every room that the circuit supplies."
    )
    metal_wiring: bool | None = None


class ProtectionRequest(SheetRequest):
    """One outlet of a dwelling."""

    room: RoomName = Field(description="Kind of room.")
    finished: bool | None = None
    in_basement: bool = False
    habitable: bool | None = None
    floor_at_grade: bool | None = None
    food_provisions: bool = Field(
        default=False, description="The area has a sink and permanent provisions for food, drink or cooking."
    )
    outlet: SheetOutlet = SheetOutlet()
    circuit: SheetCircuit = SheetCircuit()
    work: WorkWord | Extension = Field(
        default="new", description="new, replacement, extension, or {extension_ft, added_outlets}."
    )
    extension_ft: Feet | None = None
    added_outlets: int = Field(default=0, ge=0)
    permit_date: date | None = None


class Asked(StrictModel):
    """Whether one kind of protection is required."""

    required: bool | Literal["inspector"]
    why: str
    cites: list[str]
    assumed: list[str]
    confidence: str


class ProtectionResult(StrictModel):
    """What the outlet must have."""

    gfci: Asked
    afci: Asked
    tamper_resistant: Asked
    weather_resistant: Asked


@sheet(
    "protection",
    title="GFCI, AFCI, tamper and weather resistance",
    asks=ProtectionRequest,
    gives=ProtectionResult,
)
def protection(request: ProtectionRequest, code: Edition, work: Work) -> ProtectionResult:
    """Decide what one outlet of a dwelling must have: GFCI, AFCI, tamper-resistant, weather-resistant."""
    facts = _facts(request)
    return ProtectionResult(
        gfci=_asked("GFCI protection", gfci_required, facts, code, work),
        afci=_asked("AFCI protection", afci_required, facts, code, work),
        tamper_resistant=_asked("Tamper resistance", tamper_resistance_required, facts, code, work),
        weather_resistant=_asked("Weather resistance", weather_resistance_required, facts, code, work),
    )


def _asked(what: str, ask: Ask, facts: OutletFacts, code: Edition, work: Work) -> Asked:
    found = conservative_reading(ask, facts, code, work)
    required = found.required
    assert required is not None
    work.step(f"{what}: {found.why}", required, "", ", ".join(found.cites))
    return Asked(
        required=required,
        why=found.why,
        cites=list(found.cites),
        assumed=list(found.assumed),
        confidence=found.confidence,
    )


def _facts(request: ProtectionRequest) -> OutletFacts:
    outlet, circuit = request.outlet, request.circuit
    room, carried = read_room(request.room)
    serves = read_purpose(outlet.serves, room) if outlet.serves else ""
    work_on, extension_in, added = _work(request)
    built_in = outlet.part_of_equipment
    if built_in is None:
        built_in = serves in EXHAUST_FANS and outlet.readily_accessible is False
    return OutletFacts(
        room=room,
        kind=outlet.kind,
        finished=request.finished if request.finished is not None else carried.get("finished"),
        in_basement=request.in_basement or carried.get("in_basement", False),
        volts=outlet.volts,
        amps=outlet.amps,
        phases=outlet.phases,
        serves=serves,
        height_in=outlet.height_in,
        from_sink_in=outlet.from_sink_in,
        from_tub_in=outlet.from_tub_in,
        path_crosses=_crossed(outlet, room, serves),
        dedicated=outlet.dedicated,
        single=True if outlet.single is None and outlet.dedicated else outlet.single,
        readily_accessible=outlet.readily_accessible,
        part_of_equipment=built_in,
        locking=outlet.locking,
        outdoors=outlet.outdoors,
        damp=outlet.damp if outlet.damp is not None else carried.get("damp"),
        wet=outlet.wet,
        listed_hvac=outlet.listed_hvac,
        floor_at_grade=(
            request.floor_at_grade if request.floor_at_grade is not None else carried.get("floor_at_grade")
        ),
        habitable=request.habitable if request.habitable is not None else carried.get("habitable"),
        food_provisions=request.food_provisions,
        metal_wiring=circuit.metal_wiring,
        circuit_volts=circuit.volts,
        circuit_amps=circuit.amps,
        volts_to_ground=circuit.volts_to_ground,
        circuit_rooms=tuple(read_room(name)[0] for name in circuit.rooms),
        work_on=work_on,
        extension_in=extension_in,
        added_outlets=added,
        nongrounding=outlet.nongrounding,
        permit_date=request.permit_date,
    )


def _crossed(outlet: SheetOutlet, room: str, serves: str) -> tuple[str, ...]:
    """What the cord path passes. A door in the sink's own room, or at a disposer, is the cabinet's."""
    crossed: list[str] = list(outlet.path_crosses)
    if outlet.behind_door:
        crossed.append("cabinet door" if serves in AT_THE_SINK or room in _ROOMS_WITH_A_SINK else "door")
    elif serves in AT_THE_SINK and outlet.behind_door is None and not crossed:
        crossed.append("cabinet door")
    return tuple(dict.fromkeys(crossed))


def _work(request: ProtectionRequest) -> tuple[WorkOn, Fraction | None, int]:
    """New, replaced, or an old circuit made longer by so many inches with so many outlets."""
    work, feet, added = request.work, request.extension_ft, request.added_outlets
    if isinstance(work, Extension):
        return "extension", work.extension_ft * _IN_PER_FT, work.added_outlets
    if work == "replacement":
        return "replacement", None, 0
    if work == "new" and feet is None:
        return "new", None, 0
    if feet is None and (found := _EXTENSION.match(work)) and found["ft"]:
        feet = Fraction(found["ft"])
    return "extension", None if feet is None else feet * _IN_PER_FT, added
