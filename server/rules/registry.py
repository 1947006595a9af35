"""Every rule, by its stable public id. To add one: write its module, add its line to ``MODULES``.

The order is that of a walk: boxes, cables, what the room must have, circuits, panel, the last look.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType
from typing import Any, Final

from server.rules import (
    afci_locations,
    alarm_place,
    alarms,
    alarms_tested,
    appliance_circuits,
    appliance_receptacles,
    bath_fans,
    bath_zones,
    bonding,
    box_conductors,
    box_fill,
    box_mounting,
    box_openings,
    built_in_equipment,
    buried_fittings,
    cable_fastening,
    cable_places,
    cable_protection,
    cable_surroundings,
    ceiling_boxes,
    circuits_drawn,
    closet_lights,
    conductor_overcurrent,
    cords,
    counter_receptacles,
    covering,
    dedicated_circuits,
    docks,
    electric_heat,
    emergency_disconnect,
    energy_storage,
    equipment_voltage,
    ev_outlets,
    final_devices,
    final_panel,
    flexible_raceways,
    footing_electrode,
    general_circuits,
    generators,
    gfci_locations,
    grounding_electrodes,
    handle_ties,
    hookup_possible,
    hvac,
    hydromassage,
    kitchen_circuits,
    kitchen_laundry_appliances,
    large_services,
    lighting_outlets,
    listing,
    low_voltage,
    low_voltage_cables,
    low_voltage_lighting,
    luminaires_hung,
    manufactured_homes,
    multiwire,
    neutral_at_switches,
    old_wiring,
    outbuildings,
    outdoor_receptacles,
    owner_builder,
    panel_directory,
    panel_enclosure,
    panel_place,
    panel_terminals,
    paperwork,
    penetrations,
    plugged_equipment,
    pool_wiring,
    pools_spas,
    pumps,
    raceways,
    receptacle_grounding,
    receptacle_mounting,
    required_receptacles,
    se_cables,
    service_clearances,
    service_entrance,
    service_equipment,
    service_safety,
    service_size,
    several_dwellings,
    sheath_into_box,
    site_access,
    solar_array,
    solar_connection,
    subpanels,
    surge,
    switch_places,
    switched_receptacles,
    tamper_weather,
    temporary_power,
    underground,
    wall_receptacles,
    water_heater,
    white_reidentified,
    workmanship,
)
from server.rules.rule import Rule

__all__ = ["MODULES", "RULES", "RULES_ABOUT", "SUBJECTS", "find_rule"]

MODULES: Final[tuple[ModuleType, ...]] = (
    # the boxes
    box_mounting,
    box_openings,
    sheath_into_box,
    box_conductors,
    white_reidentified,
    box_fill,
    ceiling_boxes,
    # the cables
    cable_fastening,
    cable_protection,
    cable_places,
    cable_surroundings,
    raceways,
    flexible_raceways,
    se_cables,
    low_voltage_cables,
    # what the room must have
    wall_receptacles,
    counter_receptacles,
    required_receptacles,
    outdoor_receptacles,
    appliance_receptacles,
    receptacle_grounding,
    old_wiring,
    several_dwellings,
    switched_receptacles,
    lighting_outlets,
    switch_places,
    neutral_at_switches,
    closet_lights,
    bath_zones,
    alarms,
    alarm_place,
    # the circuits and their protection
    circuits_drawn,
    hookup_possible,
    kitchen_circuits,
    dedicated_circuits,
    general_circuits,
    appliance_circuits,
    equipment_voltage,
    multiwire,
    conductor_overcurrent,
    gfci_locations,
    afci_locations,
    tamper_weather,
    # the panel, and the last look before the cover
    panel_place,
    penetrations,
    covering,
    workmanship,
    paperwork,
    site_access,
    owner_builder,
    temporary_power,
    underground,
    buried_fittings,
    footing_electrode,
    service_size,
    large_services,
    service_entrance,
    service_equipment,
    service_clearances,
    service_safety,
    emergency_disconnect,
    surge,
    bonding,
    grounding_electrodes,
    subpanels,
    outbuildings,
    manufactured_homes,
    ev_outlets,
    hvac,
    electric_heat,
    water_heater,
    pumps,
    kitchen_laundry_appliances,
    hydromassage,
    built_in_equipment,
    plugged_equipment,
    pools_spas,
    pool_wiring,
    docks,
    generators,
    solar_array,
    solar_connection,
    energy_storage,
    panel_directory,
    panel_terminals,
    panel_enclosure,
    handle_ties,
    final_panel,
    final_devices,
    receptacle_mounting,
    luminaires_hung,
    low_voltage_lighting,
    bath_fans,
    alarms_tested,
    low_voltage,
    listing,
    cords,
)  # fmt: skip

RETIRED: Final[Mapping[str, str]] = {}
"""Ids that were renamed, so that old reports and observations still resolve: old id -> new id."""


def _collect() -> dict[str, Rule]:
    found: dict[str, Rule] = {}
    for module in MODULES:
        rules = [value for value in vars(module).values() if isinstance(value, Rule)]
        if not rules:
            raise ValueError(f"{module.__name__} declares no rule")
        for item in rules:
            if item.id in found:
                raise ValueError(f"two rules are named {item.id!r}")
            found[item.id] = item
    return found


RULES: Final[Mapping[str, Rule]] = _collect()
RULES_ABOUT: Final[Mapping[type[Any], tuple[Rule, ...]]] = {
    about: tuple(item for item in RULES.values() if item.about is about)
    for about in {item.about for item in RULES.values()}
}

SUBJECTS: Final[Mapping[str, str]] = {
    value.id: module.__name__.rpartition(".")[2].replace("_", " ")
    for module in MODULES
    for value in vars(module).values()
    if isinstance(value, Rule)
}
"""The subject (its module's name in words) of each rule id."""


def find_rule(rule_id: str) -> Rule | None:
    """The rule of an id, retired ids included."""
    return RULES.get(RETIRED.get(rule_id, rule_id))
