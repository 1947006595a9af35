"""The standard method: each kind of load with its own demand, added (Part III of the load article)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.appliance_demand import ApplianceDemand, appliance_demand, chargers_connected
from server.reckon.cooking_demand import demand_of_ratings
from server.reckon.dryer_demand import dryer_demand
from server.reckon.dwelling_loads import DwellingLoads, System
from server.reckon.figures import written
from server.reckon.heat_and_cooling import HvacLoad, standard_hvac
from server.reckon.largest_motor import MotorDemand, motor_demand
from server.reckon.lighting_load import demand_on_lighting, lighting_and_circuits
from server.reckon.load_result import LoadPart
from server.reckon.three_phase import spread_over_phases
from server.reckon.work import SILENT, Work

__all__ = ["StandardLoad", "cooking_of_building", "dryers_of_building", "standard_load"]


@dataclass(frozen=True, slots=True)
class StandardLoad:
    """The parts of the standard method for all units together, and their sum."""

    lighting_connected_va: Fraction
    lighting_va: Fraction
    appliances: ApplianceDemand
    dryers_connected_va: Fraction
    dryers_va: Fraction
    cooking_connected_va: Fraction
    cooking_va: Fraction
    hvac: HvacLoad
    hvac_va: Fraction
    chargers_va: Fraction
    motors: MotorDemand
    total_va: Fraction

    @property
    def parts(self) -> tuple[LoadPart, ...]:
        """The rows, those that are not zero."""
        rows = (
            LoadPart("lighting, small-appliance and laundry", self.lighting_connected_va, self.lighting_va),
            LoadPart("appliances", self.appliances.connected_va, self.appliances.demand_va),
            LoadPart("clothes dryers", self.dryers_connected_va, self.dryers_va),
            LoadPart("cooking", self.cooking_connected_va, self.cooking_va),
            LoadPart(self.hvac.what.lower(), self.hvac_va, self.hvac_va),
            LoadPart("vehicle chargers", self.chargers_va, self.chargers_va),
            LoadPart("motors", self.motors.motors_va, self.motors.motors_va),
            LoadPart("largest motor", Fraction(0), self.motors.added_va),
        )
        return tuple(row for row in rows if row.connected_va or row.demand_va)


def cooking_of_building(
    loads: DwellingLoads, code: Edition, work: Work = SILENT, *, on_neutral: bool = False, spread: bool = True
) -> Fraction:
    """Demand of all cooking appliances; ``on_neutral`` leaves out those that use 240 V only."""
    ratings = tuple(unit.va for unit in loads.each_cooking() if not (on_neutral and unit.only_240))
    if loads.system is System.WYE_FOUR_WIRE and spread:
        return spread_over_phases(
            "Cooking", ratings, demand_of_ratings, code.cites("load.cooking_over_w"), code, work
        )
    return demand_of_ratings(ratings, code, work)


def dryers_of_building(
    loads: DwellingLoads, code: Edition, work: Work = SILENT, *, on_neutral: bool = False, spread: bool = True
) -> Fraction:
    """Demand of all clothes dryers; ``on_neutral`` leaves out those that use 240 V only."""
    ratings = tuple(
        item.va
        for item in loads.dryers
        for _ in range(loads.number(item))
        if not (on_neutral and item.only_240)
    )
    if loads.system is System.WYE_FOUR_WIRE and spread:
        return spread_over_phases(
            "Dryers", ratings, dryer_demand, code.cites("load.dryer_least_va"), code, work
        )
    return dryer_demand(ratings, code, work)


def standard_load(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> StandardLoad:
    """All parts for all units, without the house loads and without what stands on a named leg."""
    lighting_connected = lighting_and_circuits(loads, code, work)
    lighting = demand_on_lighting(lighting_connected, code, work)
    appliances = appliance_demand(loads, code, work)
    dryers = dryers_of_building(loads, code, work)
    cooking = cooking_of_building(loads, code, work)
    hvac = standard_hvac(loads, code, work)
    hvac_va = hvac.va * loads.units
    if work and hvac.va and loads.units > 1:
        work.step(
            f"All units: {loads.units} × {written(hvac.va)}", hvac_va, "VA", code.cites("load.heat_percent")
        )
    chargers = chargers_connected(loads, code, work)
    motors = motor_demand(loads, hvac.compressor_runs, code, work)
    total = (
        lighting
        + appliances.demand_va
        + dryers
        + cooking
        + hvac_va
        + chargers
        + motors.motors_va
        + motors.added_va
    )
    return StandardLoad(
        lighting_connected,
        lighting,
        appliances,
        sum((item.va * loads.number(item) for item in loads.dryers), Fraction(0)),
        dryers,
        sum((unit.va for unit in loads.each_cooking()), Fraction(0)),
        cooking,
        hvac,
        hvac_va,
        chargers,
        motors,
        total,
    )
