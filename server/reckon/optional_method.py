"""The optional method for one dwelling, and its sibling for an existing dwelling.

Both add everything at nameplate, count a first part in full and the rest at 40 percent, and treat heat and cooling
by themselves.
"""

from __future__ import annotations

from fractions import Fraction

from server.editions import Edition
from server.reckon.appliance_demand import appliances_connected, chargers_connected
from server.reckon.dwelling_loads import DwellingLoads
from server.reckon.figures import as_listed, percent_of, written
from server.reckon.heat_and_cooling import existing_hvac, optional_hvac
from server.reckon.largest_motor import motors_connected
from server.reckon.lighting_load import lighting_and_circuits
from server.reckon.load_result import LoadPart
from server.reckon.work import SILENT, Work

__all__ = ["NameplateLoad", "existing_load", "nameplate_parts", "optional_load"]

NameplateLoad = tuple[LoadPart, ...]


def nameplate_parts(
    loads: DwellingLoads, cites: str, code: Edition, work: Work = SILENT, *, chargers: bool = True
) -> NameplateLoad:
    """Everything but heat and cooling, at nameplate, of the whole building; ``cites`` is the method's section."""
    lighting = lighting_and_circuits(loads, code, work)
    appliances = appliances_connected(loads, cites, work)
    cooking = tuple(unit.va for unit in loads.each_cooking())
    dryers = tuple(item.va for item in loads.dryers for _ in range(loads.number(item)))
    if work:
        if cooking:
            work.step(
                f"Cooking at nameplate: {as_listed(cooking)} VA", sum(cooking, Fraction(0)), "VA", cites
            )
        if dryers:
            work.step(
                f"Clothes dryers at nameplate: {as_listed(dryers)} VA", sum(dryers, Fraction(0)), "VA", cites
            )
    motors = motors_connected(loads, cites, work)
    vehicles = chargers_connected(loads, code, work) if chargers else Fraction(0)
    rows = (
        ("lighting, small-appliance and laundry", lighting),
        ("appliances", appliances),
        ("cooking", sum(cooking, Fraction(0))),
        ("clothes dryers", sum(dryers, Fraction(0))),
        ("motors", motors),
        ("vehicle chargers", vehicles),
    )
    return tuple(LoadPart(name, va, va) for name, va in rows if va)


def _in_two_parts(general: Fraction, first_node: str, rest_node: str, code: Edition, work: Work) -> Fraction:
    """The first part in full, the rest at its percentage."""
    limit, percent = code.number(first_node, work), code.number(rest_node, work)
    first, rest = min(general, limit), max(general - limit, Fraction(0))
    demand = first + percent_of(percent, rest)
    if work:
        cites = code.cites(first_node)
        work.step(f"First {written(first)} VA at 100 %", first, "VA", cites)
        if rest:
            work.step(
                f"Remainder: ({written(general)} - {written(limit)}) VA × {written(percent)} %",
                percent_of(percent, rest), "VA", cites,
            )  # fmt: skip
        work.step("General load after demand", demand, "VA", cites)
    return demand


def _sum_of(parts: NameplateLoad, cites: str, work: Work) -> Fraction:
    general = sum((part.connected_va for part in parts), Fraction(0))
    if work:
        work.step(
            f"General load: {' + '.join(written(part.connected_va) for part in parts) or '0'} VA",
            general,
            "VA",
            cites,
        )
    return general


def optional_load(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> tuple[NameplateLoad, Fraction]:
    """One dwelling by the optional method: the rows (after demand where they have their own) and the total."""
    apart = code.has("load.optional_ev_percent")
    parts = nameplate_parts(loads, code.cites("load.optional_first_va"), code, work, chargers=not apart)
    general = _sum_of(parts, code.cites("load.optional_first_va"), work)
    demand = _in_two_parts(general, "load.optional_first_va", "load.optional_rest_percent", code, work)
    hvac = optional_hvac(loads, code, work)
    vehicles = Fraction(0)
    if apart and loads.chargers:
        connected = chargers_connected(loads, code, work)
        percent = code.number("load.optional_ev_percent", work)
        vehicles = percent_of(percent, connected)
        if work:
            work.step(
                f"Vehicle chargers apart from the general load: {written(connected)} VA × {written(percent)} %", vehicles, "VA",
                code.cites("load.optional_ev_percent"),
            )  # fmt: skip
    rows = [LoadPart("general load", general, demand), LoadPart(hvac.what.lower(), hvac.va, hvac.va)]
    rows.append(LoadPart("vehicle chargers", vehicles, vehicles))
    return tuple(row for row in rows if row.connected_va), demand + hvac.va + vehicles


def existing_load(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> tuple[NameplateLoad, Fraction]:
    """An existing dwelling with what is added to it: with or without added heat or cooling."""
    added = loads.has_hvac if loads.hvac_added is None else loads.hvac_added
    cites = code.cites("load.existing_first_va")
    parts = nameplate_parts(loads, cites, code, work)
    hvac = existing_hvac(loads, code, work if added else SILENT)
    if not added and hvac.va:
        parts = (*parts, LoadPart(hvac.what.lower(), hvac.va, hvac.va))
        if work:
            work.step(f"{hvac.what}, there already", hvac.va, "VA", cites)
            work.skip(
                "Heat or cooling in full: none is added, so it stands in the general load",
                code.cites("load.existing_hvac_percent"),
            )
    general = _sum_of(parts, cites, work)
    demand = _in_two_parts(general, "load.existing_first_va", "load.existing_rest_percent", code, work)
    rows = [LoadPart("general load", general, demand)]
    if not added or not hvac.va:
        return tuple(rows), demand
    rows.append(LoadPart(hvac.what.lower(), hvac.va, hvac.va))
    return tuple(rows), demand + hvac.va
