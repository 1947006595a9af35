"""The loads of a dwelling as the sheets take them, and how they become facts."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Final, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from server.api.sheets.base import ExactNumber, SheetRequest, StrictModel
from server.api.sheets.rated_loads import Count, RatedIn, Va, Volts
from server.editions import Edition, default_year, load_edition
from server.reckon.dwelling_loads import (
    Appliance,
    Charger,
    CookingKind,
    CookingUnit,
    Dryer,
    DwellingLoads,
    Leg,
    Method,
    Motor,
    Supply,
    System,
)
from server.reckon.work import SILENT, Work

__all__ = [
    "ApplianceIn",
    "CookingIn",
    "EvIn",
    "LoadsIn",
    "MotorIn",
    "NeutralIn",
    "loads_of",
    "unmatched_names",
]

_LINE_TO_LINE_V: Final = 200
"""A load stated at this or more stands between two lines."""
_WYE_V: Final = Fraction(208)
_SPLIT_V: Final = Fraction(240)
_USUALLY_240: Final = ("water heater",)
"""Appliances supposed to use 240 V only where nothing is said about the neutral."""
_DRYER_NAMES: Final = frozenset({"dryer", "clothes dryer"})
_COOKING_NAME: Final = "cooking"

Name = Annotated[str, Field(min_length=1, max_length=80)]
CircuitName = Annotated[str, Field(min_length=1, max_length=40)] | int


class ApplianceIn(RatedIn):
    """An appliance fastened in place, permanently connected or on a circuit of its own."""

    name: Name
    motor: bool = Field(default=False, description="It may be the largest motor.")
    fastened: bool = Field(
        default=True, description="False for one that is plugged in: it never earns the 75 %."
    )
    count: Count | None = Field(
        default=None, description="How many the building has; one in each unit otherwise."
    )
    leg: Leg | None = Field(default=None, description="A, B or AB: adds it line by line, in amperes.")
    circuit: CircuitName | None = Field(
        default=None, description="Shared by the two legs of a multiwire circuit."
    )


class MotorIn(RatedIn):
    """A motor that is no appliance, such as a pump, a fan or a room air conditioner."""

    name: Name
    count: Count | None = None
    leg: Leg | None = None
    circuit: CircuitName | None = None


class CookingIn(RatedIn):
    """A range, wall oven or counter-mounted cooking unit."""

    kind: CookingKind
    name: Name | None = None
    circuit: CircuitName | None = Field(
        default=None, description="Branch circuit; a shared one is shared by name."
    )
    count: Count | None = Field(
        default=None, description="How many the building has; one in each unit otherwise."
    )


class EvIn(RatedIn):
    """Electric vehicle supply equipment."""

    name: Name | None = None
    count: Count | None = None


class NeutralIn(StrictModel):
    """What the neutral carries."""

    only_240: list[Name] = Field(
        default=[], max_length=200, description="Names of loads that use 240 V only and stay off the neutral."
    )


class LoadsIn(SheetRequest):
    """The loads of one dwelling, or of ``units`` equal ones on one service or feeder."""

    method: Method = Method.STANDARD
    floor_area_ft2: Annotated[ExactNumber, Field(ge=0, le=10_000_000)] = Fraction(0)
    small_appliance_circuits: Annotated[int, Field(ge=0, le=100)] | None = Field(
        default=None, description="Two where a floor area is given and nothing is said."
    )
    laundry_circuits: Annotated[int, Field(ge=0, le=100)] | None = Field(
        default=None, description="One where a floor area is given and nothing is said."
    )
    appliances: list[ApplianceIn] = Field(default=[], max_length=200)
    dryers_va: list[Va] = Field(default=[], max_length=200)
    cooking: list[CookingIn] = Field(default=[], max_length=200)
    heat_va: Va = Field(
        default=Fraction(0), description="Electric space heat; beside heat_pump_va its supplement."
    )
    heat_units: Annotated[int, Field(ge=0, le=1000)] = Field(
        default=1, description="Separately controlled heating units; 1 for central heat."
    )
    heat_pump_va: Va = Field(default=Fraction(0), description="Compressor (and fans) of a heat pump.")
    heat_pump_locked_out: bool = Field(
        default=False, description="The compressor and the supplemental heat never run together."
    )
    heat_storage_va: Va = Field(
        default=Fraction(0), description="Heat expected to run at full rating throughout."
    )
    cool_va: Va = Fraction(0)
    cool_motor_va: Va = Field(
        default=Fraction(0), description="The compressor's part, as a candidate for largest motor."
    )
    motors: list[MotorIn] = Field(default=[], max_length=200)
    ev: list[EvIn] = Field(default=[], max_length=50)
    hvac_added: bool | None = Field(
        default=None,
        description="Existing dwelling: heat or cooling is added or made larger (true where any is given).",
    )
    house_va: Va = Field(
        default=Fraction(0), description="Loads of the building outside its units, after demand."
    )
    volts: Volts | None = Field(default=None, description="240, or 208 with a wye system.")
    system: System | None = None
    phases: Literal[1, 3] = 1
    neutral: NeutralIn | None = Field(
        default=None, description="Where nothing is said, water heaters are supposed to use 240 V only."
    )
    units: Annotated[int, Field(ge=1, le=1000)] = 1
    supply: Supply = Supply.SERVICE

    @model_validator(mode="before")
    @classmethod
    def null_is_not_given(cls, data: Any) -> Any:
        """A worked example written into every field says null where it says nothing."""
        if isinstance(data, dict):
            return {name: value for name, value in data.items() if value is not None}
        return data

    @field_validator("units")
    @classmethod
    def one_unit_where_needed(cls, units: int, info: ValidationInfo) -> int:
        if units != 1 and info.data.get("method") is Method.EXISTING:
            raise ValueError(f"expected 1 with method 'existing', came {units}")
        if units != 1 and _with_legs(info.data):
            raise ValueError(f"expected 1 where a load names a leg, came {units}")
        return units

    @field_validator("system")
    @classmethod
    def with_two_legs(cls, system: System | None, info: ValidationInfo) -> System | None:
        if system not in (None, System.SPLIT_PHASE) and _with_legs(info.data):
            raise ValueError(
                f"expected {System.SPLIT_PHASE.value!r} where a load names a leg, came {system!r}"
            )
        return system

    @model_validator(mode="after")
    def reckonable(self) -> LoadsIn:
        """What the facts themselves refuse is refused here, so that it is answered as a wrong field."""
        loads_of(self, load_edition(int(self.edition) if self.edition else default_year()))
        return self


def _with_legs(data: dict[str, Any]) -> bool:
    return any(item.leg is not None for name in ("appliances", "motors") for item in data.get(name, ()))


def _plain_name(name: str) -> str:
    """Upper case, spaces and a plural make no difference between two names."""
    return " ".join(name.lower().split()).removesuffix("s")


def _is_240(name: str, item: RatedIn, neutral: NeutralIn | None) -> bool:
    if item.volts is not None and item.volts >= _LINE_TO_LINE_V:
        return True
    if neutral is None:
        return any(word in name.lower() for word in _USUALLY_240)
    return _plain_name(name) in {_plain_name(other) for other in neutral.only_240}


def _named(names: set[str], neutral: NeutralIn | None) -> bool:
    return neutral is not None and bool(names & {_plain_name(other) for other in neutral.only_240})


def _cooking_names(item: CookingIn) -> set[str]:
    names = {item.kind.value, _COOKING_NAME}
    return names | ({_plain_name(item.name)} if item.name else set())


def unmatched_names(request: LoadsIn) -> tuple[str, ...]:
    """Names in ``neutral.only_240`` that no load has that could lie on the neutral."""
    if request.neutral is None:
        return ()
    named: list[ApplianceIn | MotorIn] = [*request.appliances, *request.motors]
    known = {_plain_name(item.name) for item in named}
    for cooking in request.cooking:
        known |= _cooking_names(cooking)
    if request.dryers_va:
        known |= _DRYER_NAMES
    return tuple(name for name in request.neutral.only_240 if _plain_name(name) not in known)


def _system(request: LoadsIn) -> tuple[System, Fraction]:
    system = request.system or (System.WYE_FOUR_WIRE if request.phases == 3 else System.SPLIT_PHASE)
    usual = _SPLIT_V if system is System.SPLIT_PHASE else _WYE_V
    return system, usual if request.volts is None else request.volts


def _circuit(name: str | int | None) -> str | None:
    return None if name is None else str(name)


def loads_of(request: LoadsIn, code: Edition, work: Work = SILENT) -> DwellingLoads:
    """The facts behind a request.

    Raises:
        LoadError: the facts contradict each other.
    """
    neutral = request.neutral
    system, volts = _system(request)
    return DwellingLoads(
        method=request.method,
        floor_area_ft2=request.floor_area_ft2,
        small_appliance_circuits=request.small_appliance_circuits,
        laundry_circuits=request.laundry_circuits,
        appliances=tuple(
            Appliance(
                name=item.name,
                va=item.rating_va(code, work, name=item.name),
                motor=item.motor,
                hp=item.hp,
                only_240=_is_240(item.name, item, neutral),
                fastened=item.fastened,
                count=item.count,
                leg=item.leg,
                volts=item.volts,
                circuit=_circuit(item.circuit),
            )
            for item in request.appliances
        ),
        dryers=tuple(Dryer(va, only_240=_named(set(_DRYER_NAMES), neutral)) for va in request.dryers_va),
        cooking=tuple(
            CookingUnit(
                kind=item.kind,
                va=item.rating_va(code, work),
                name=item.name or "",
                circuit=_circuit(item.circuit),
                only_240=_named(_cooking_names(item), neutral),
                count=item.count,
            )
            for item in request.cooking
        ),
        heat_va=request.heat_va,
        heat_units=request.heat_units,
        heat_pump_va=request.heat_pump_va,
        pump_locked_out=request.heat_pump_locked_out,
        heat_storage_va=request.heat_storage_va,
        cool_va=request.cool_va,
        cool_motor_va=request.cool_motor_va,
        motors=tuple(
            Motor(
                name=item.name,
                va=item.rating_va(code, work, name=item.name),
                only_240=_is_240(item.name, item, neutral),
                count=item.count,
                leg=item.leg,
                volts=item.volts,
                circuit=_circuit(item.circuit),
            )
            for item in request.motors
        ),
        chargers=tuple(Charger(item.rating_va(code, work), count=item.count) for item in request.ev),
        hvac_added=request.hvac_added,
        house_va=request.house_va,
        units=request.units,
        system=system,
        volts=volts,
        supply=request.supply,
    )
