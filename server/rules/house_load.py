"""The house's own facts as the loads of a dwelling: what the service has to carry."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import CircuitPurpose, Dwelling, Fixture, FixtureKind
from server.editions import Edition
from server.reckon.dwelling_load import reckon_dwelling_load
from server.reckon.dwelling_loads import (
    Appliance,
    Charger,
    CookingKind,
    CookingUnit,
    Dryer,
    DwellingLoads,
    Method,
)
from server.reckon.load_result import LoadResult
from server.reckon.work import SILENT, Work
from server.rules.outcome import Missing

__all__ = ["house_load", "loads_of"]

_COOKING = {
    FixtureKind.RANGE: CookingKind.RANGE,
    FixtureKind.WALL_OVEN: CookingKind.OVEN,
    FixtureKind.COOKTOP: CookingKind.COOKTOP,
}
_LARGE = frozenset(
    {FixtureKind.RANGE, FixtureKind.WALL_OVEN, FixtureKind.COOKTOP, FixtureKind.DRYER, FixtureKind.WATER_HEATER,
     FixtureKind.EV_CHARGER, FixtureKind.AIR_CONDITIONER, FixtureKind.HEAT_PUMP, FixtureKind.MINI_SPLIT,
     FixtureKind.ELECTRIC_HEAT, FixtureKind.FLOOR_HEATING, FixtureKind.HOT_TUB}
)  # fmt: skip
"""What decides a house's load: without its nameplate nothing can be said."""
_NEVER_FASTENED = frozenset({FixtureKind.REFRIGERATOR, FixtureKind.FREEZER, FixtureKind.WASHER})
"""They stand on the small-appliance and laundry circuits, whose load is counted already."""
_MOTORS = frozenset(
    {FixtureKind.SUMP_PUMP, FixtureKind.SEWAGE_PUMP, FixtureKind.WELL_PUMP, FixtureKind.DISPOSER, FixtureKind.ATTIC_FAN}
)  # fmt: skip
_SUPPLIES = frozenset({FixtureKind.GENERATOR, FixtureKind.SOLAR_ARRAY, FixtureKind.ENERGY_STORAGE})
"""What their nameplates say is what they give."""
_HEATERS = frozenset({FixtureKind.ELECTRIC_HEAT, FixtureKind.FLOOR_HEATING})


def _counted(house: Dwelling, purpose: CircuitPurpose) -> int | None:
    """The circuits of a purpose; None (the least that the code asks for) where none is recorded."""
    return sum(circuit.purpose is purpose for circuit in house.facts.circuits) or None


def _by_kind(fixtures: list[Fixture], *kinds: FixtureKind) -> Fraction:
    return sum((fixture.va or Fraction(0) for fixture in fixtures if fixture.kind in kinds), Fraction(0))


def loads_of(house: Dwelling, method: Method) -> DwellingLoads | Missing:
    """The loads as recorded, or the fact that is missing.

    An appliance that burns fuel counts only with what its nameplate says it takes. A gas range need not say.
    """
    if house.site.floor_area_ft2 is None:
        return Missing("the floor area of the house", "job.floor_area_ft2")
    with_va: list[Fixture] = []
    for fixture in house.facts.fixtures:
        if fixture.kind in _SUPPLIES:
            continue
        if fixture.va is not None:
            with_va.append(fixture)
        elif fixture.kind in _LARGE and not fixture.fuel_burning:
            return Missing(
                f"what the nameplate of the {fixture.name or fixture.kind} says it takes", "fixture.va"
            )
    electric = [fixture for fixture in with_va if not fixture.fuel_burning]
    appliances = tuple(
        Appliance(
            fixture.name or str(fixture.kind),
            fixture.va or Fraction(0),
            motor=bool(fixture.motor) or fixture.kind in _MOTORS,
        )
        for fixture in with_va
        if fixture.kind not in _NEVER_FASTENED
        and (fixture.fuel_burning or (fixture.kind not in _LARGE or fixture.kind in _WATER))
    )
    small, laundry = (
        _counted(house, purpose) for purpose in (CircuitPurpose.SMALL_APPLIANCE, CircuitPurpose.LAUNDRY)
    )
    heating = [fixture for fixture in electric if fixture.kind in _HEATERS]
    return DwellingLoads(
        method=method,
        floor_area_ft2=Fraction(house.site.floor_area_ft2),
        small_appliance_circuits=None if small is not None and small < _SMALL_LEAST else small,
        laundry_circuits=laundry,
        appliances=appliances,
        dryers=tuple(Dryer(f.va or Fraction(0)) for f in electric if f.kind is FixtureKind.DRYER),
        cooking=tuple(
            CookingUnit(_COOKING[f.kind], f.va or Fraction(0), f.name) for f in electric if f.kind in _COOKING
        ),
        heat_va=_by_kind(heating, *_HEATERS),
        heat_units=max(1, len(heating)),
        heat_pump_va=_by_kind(electric, FixtureKind.HEAT_PUMP, FixtureKind.MINI_SPLIT),
        cool_va=_by_kind(electric, FixtureKind.AIR_CONDITIONER),
        chargers=tuple(Charger(f.va or Fraction(0)) for f in electric if f.kind is FixtureKind.EV_CHARGER),
    )


_WATER = frozenset({FixtureKind.WATER_HEATER, FixtureKind.HOT_TUB})
_SMALL_LEAST = 2


def house_load(house: Dwelling, code: Edition, work: Work = SILENT) -> LoadResult | Missing:
    """The smaller of the two methods that the code leaves to choose from, or the fact that is missing."""
    return _reckon(house, code, work) if work else house.derive(_reckon_silently, code)


def _reckon_silently(house: Dwelling, code: Edition) -> LoadResult | Missing:
    return _reckon(house, code, SILENT)


def _reckon(house: Dwelling, code: Edition, work: Work) -> LoadResult | Missing:
    found: list[LoadResult] = []
    for method in (Method.OPTIONAL, Method.STANDARD):
        loads = loads_of(house, method)
        if isinstance(loads, Missing):
            return loads
        found.append(reckon_dwelling_load(loads, code))
    smaller = min(found, key=lambda result: result.amperes_exact)
    if work:
        loads = loads_of(house, smaller.method)
        assert not isinstance(loads, Missing)
        reckon_dwelling_load(loads, code, work)
    return smaller
