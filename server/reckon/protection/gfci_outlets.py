"""GFCI for outlets by what they serve, receptacle or hardwired: 210.8(C) to (F) and the articles on equipment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Final

from server.editions import Edition
from server.reckon.protection.facts import Operand, OutletFacts
from server.reckon.protection.gfci_exceptions import heat_cable, single_receptacle
from server.reckon.protection.gfci_places import is_outdoors
from server.reckon.protection.ratings import (
    circuit_amps,
    circuit_class,
    receptacle_amps,
    to_ground,
    volt_class,
)
from server.reckon.protection.reaches import Reach, unless
from server.reckon.protection.served import COMFORT_EQUIPMENT, OUTDOOR_HEAT_CABLE

__all__ = ["served_outlets"]

_PLUGGED_OR_WIRED: Final = ("receptacle", "hardwired")


def served_outlets(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    """What the rules beside 210.8(A) say of an outlet."""
    if outlet.kind == "lighting":
        if outlet.room == "crawl space" and code.has("gfci.crawl_light.volts_max"):
            yield _crawl_light(outlet, code)
        elif is_outdoors(outlet) and code.has("gfci.outdoor.amps_max"):
            yield Reach(False, "outdoor lighting", ("gfci.outdoor.lighting_exempt",), place="outdoors")
    if outlet.kind not in _PLUGGED_OR_WIRED:
        return
    if code.has("gfci.appliances") and outlet.serves in code.table("gfci.appliances"):
        yield unless(_appliance(outlet, code), single_receptacle(outlet, code))
    if (
        outlet.kind == "receptacle"
        and outlet.serves == "HVAC service"
        and code.flag("gfci.service_receptacle")
    ):
        yield Reach(True, "service receptacle", ("gfci.service_receptacle",))
    if outlet.serves == "service equipment":
        yield Reach(False, "service area", ("gfci.service_area",), place="service equipment")
    if outlet.serves == "boat hoist" and code.has("gfci.boat_hoist.volts_max"):
        yield _up_to(outlet, "gfci.boat_hoist.volts_max", "boat hoist", "boat hoist volts", code)
    if outlet.serves == "EV charger":
        yield _vehicle(outlet, code)
    if outlet.serves == "floor heating" and code.has("gfci.floor_heat.rooms"):
        rooms = code.names("gfci.floor_heat.rooms")
        inside = "all" in rooms or outlet.room in rooms
        reason = "floor heat" if inside else "floor heat elsewhere"
        yield Reach(inside, reason, ("gfci.floor_heat.rooms",), {"rooms": " and ".join(rooms)}, place="floor")
    if outlet.serves == "hydromassage tub" and code.flag("gfci.hydromassage"):
        yield Reach(True, "hydromassage", ("gfci.hydromassage",))
    if outlet.serves == "hot tub" and code.flag("gfci.hot_tub"):
        yield Reach(True, "hot tub", ("gfci.hot_tub",))
    if outlet.serves == "pool pump":
        yield _pool_motor(outlet, code)
    if outlet.kind == "hardwired":
        yield from _outdoor_outlet(outlet, code)


def _crawl_light(outlet: OutletFacts, code: Edition) -> Reach:
    node = "gfci.crawl_light.volts_max"
    return _up_to(outlet, node, "crawl light", "crawl light volts", code)


def _up_to(outlet: OutletFacts, node: str, within: str, beyond: str, code: Edition) -> Reach:
    """A rule that ends at a nominal voltage."""
    limit, found = code.number(node), circuit_class(outlet, code)
    if found is None:
        return Reach(None, within, (node,), missing=("circuit_volts",), place=within)
    inside = found <= volt_class(limit, code)
    return Reach(inside, within if inside else beyond, (node,), {"limit": limit}, place=within)


def _appliance(outlet: OutletFacts, code: Edition) -> Reach:
    cites = str(code.table("gfci.appliances")[outlet.serves])
    operands: dict[str, Operand] = {"serves": outlet.serves}
    if outlet.work_on == "replacement" and outlet.kind == "hardwired":
        return Reach("inspector", "appliance replaced", ("gfci.appliances",), operands, cites=cites)
    nodes = ["gfci.appliances"]
    missing: list[str] = []
    if outlet.serves not in code.names("gfci.appliances.unlimited"):
        for node, value, fact, reason, operand in (
            ("gfci.appliances.amps_max", receptacle_amps(outlet), "amps", "appliance amps", "amps"),
            ("gfci.appliances.volts_max", _volts(outlet), "volts", "appliance volts", "volts"),
            ("gfci.appliances.volts_to_ground_max", to_ground(outlet, code), "volts",
             "appliance ground volts", "volts_to_ground"),
        ):  # fmt: skip
            if not code.has(node):
                continue
            nodes.append(node)
            if value is None:
                missing.append(fact)
            elif value > (limit := code.number(node)):
                beyond = operands | {operand: value, "limit": limit}
                return Reach(False, reason, (node,), beyond, place="appliance")
    unknown = tuple(dict.fromkeys(missing))
    return Reach(None if unknown else True, "appliance", tuple(nodes), operands, unknown, cites, "appliance")


def _volts(outlet: OutletFacts) -> Fraction | None:
    volts = outlet.volts if outlet.volts is not None else outlet.circuit_volts
    return None if volts is None else Fraction(volts)


def _vehicle(outlet: OutletFacts, code: Edition) -> Reach:
    """625.54: receptacles from 2020, every vehicle outlet in 2026; in 2017 an interim amendment only."""
    ground, amps = to_ground(outlet, code), circuit_amps(outlet)
    listed = code.table("gfci.ev.outlets") if code.has("gfci.ev.outlets") else {}
    if outlet.kind in listed:
        nodes = ("gfci.ev.outlets",)
        if code.has("gfci.ev.volts_to_ground_max"):
            limit = code.number("gfci.ev.volts_to_ground_max")
            if ground is None:
                return Reach(None, "ev outlet", nodes, missing=("circuit_volts",))
            if ground > limit:
                return Reach("inspector", "ev ground volts", nodes, {"limit": limit})
        return Reach(True, "ev outlet", nodes, cites=str(listed[outlet.kind]))
    if outlet.kind == "receptacle" and code.has("gfci.ev.interim_amps_max"):
        limit = code.number("gfci.ev.interim_amps_max")
        if amps is None or amps <= limit:
            return Reach("inspector", "ev interim", ("gfci.ev.interim_amps_max",), {"limit": limit})
    return Reach(False, "ev hardwired", ("gfci.ev.outlets",))


def _pool_motor(outlet: OutletFacts, code: Edition) -> Reach:
    nodes = tuple(
        node
        for node in (
            "gfci.pool_motor.volts_max",
            "gfci.pool_motor.amps_max",
            "gfci.pool_motor.volts_to_ground_max",
        )
        if code.has(node)
    )
    if code.has("gfci.pool_motor.volts_max"):
        found = circuit_class(outlet, code)
        if found is None:
            return Reach(None, "pool motor", nodes, missing=("circuit_volts",))
        inside = outlet.phases == 1 and found <= volt_class(code.number("gfci.pool_motor.volts_max"), code)
        return Reach(inside, "pool motor" if inside else "pool motor limits", nodes, place="pool")
    amps, ground = circuit_amps(outlet), to_ground(outlet, code)
    if not nodes or amps is None or ground is None:
        known = (("circuit_amps", amps), ("circuit_volts", ground))
        missing = tuple(fact for fact, value in known if value is None)
        return Reach(None, "pool motor", nodes, missing=missing or ("circuit_amps",))
    inside = amps <= code.number("gfci.pool_motor.amps_max")
    inside = inside and ground <= code.number("gfci.pool_motor.volts_to_ground_max")
    return Reach(inside, "pool motor" if inside else "pool motor limits", nodes, place="pool")


def _outdoor_outlet(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    """210.8(F): outlets of hardwired equipment outdoors. None in 2017; 50 A from 2020; 60 A in 2026."""
    node = "gfci.outdoor.amps_max"
    unclear = outlet.room in code.names("gfci.outdoor.buildings_unclear") and not is_outdoors(outlet)
    if not (is_outdoors(outlet) or unclear):
        return
    if not code.has(node):
        yield Reach(False, "outdoor none", (node,), cites="210.8", place="outdoors")
        return
    found = _outdoor_limits(outlet, code)
    if outlet.work_on == "replacement":
        found = replace(found, nodes=(*found.nodes, "gfci.outdoor.on_replacement"))
    if found.answer is True and unclear:
        found = Reach("inspector", "outdoor building", ("gfci.outdoor.buildings_unclear",), place="outdoors")
    yield found


def _outdoor_limits(outlet: OutletFacts, code: Edition) -> Reach:
    node = "gfci.outdoor.amps_max"
    limit_a, limit_v = code.number(node), code.number("gfci.outdoor.volts_to_ground_max")
    amps, ground = circuit_amps(outlet), to_ground(outlet, code)
    if outlet.work_on == "replacement" and not code.flag("gfci.outdoor.on_replacement"):
        return Reach(False, "outdoor replaced", (node,), place="outdoors")
    if outlet.phases != 1:
        return Reach(False, "outdoor phases", (node,), place="outdoors")
    if amps is not None and amps > limit_a:
        return Reach(False, "outdoor amps", (node,), {"amps": amps, "limit": limit_a}, place="outdoors")
    if ground is not None and ground > limit_v:
        operands: dict[str, Operand] = {"volts_to_ground": ground, "limit": limit_v}
        return Reach(
            False, "outdoor ground volts", ("gfci.outdoor.volts_to_ground_max",), operands, place="outdoors"
        )
    if outlet.serves in OUTDOOR_HEAT_CABLE and (lifted := heat_cable(outlet, "outdoors", code)):
        return lifted if lifted.answer is None else Reach(False, lifted.reason, lifted.nodes, lifted.operands,
                                                          place="outdoors")  # fmt: skip
    dated = _dated(outlet, code)
    if dated is not None and dated.answer is not True:
        return dated
    known = (("circuit_amps", amps), ("circuit_volts", ground))
    if missing := tuple(fact for fact, value in known if value is None):
        return Reach(None, "outdoor outlet", (node,), missing=missing, place="outdoors")
    if dated is not None:
        return dated
    assert amps is not None
    assert ground is not None
    shown: dict[str, Operand] = {
        "amps": amps,
        "volts_to_ground": ground,
        "limit_a": limit_a,
        "limit_v": limit_v,
    }
    return Reach(True, "outdoor outlet", (node, "gfci.outdoor.volts_to_ground_max"), shown, place="outdoors")


def _dated(outlet: OutletFacts, code: Edition) -> Reach | None:
    """The date rules: a local start of 210.8(F), and the end of the exception for listed comfort equipment."""
    permit = outlet.permit_date
    if code.has("gfci.outdoor.from"):
        node, start = "gfci.outdoor.from", date.fromisoformat(str(code.value("gfci.outdoor.from")))
        if permit is None:
            return Reach(None, "outdoor not yet", (node,), missing=("permit_date",), place="outdoors")
        if permit < start:
            operands: dict[str, Operand] = {"start": start, "permit_date": permit}
            return Reach(False, "outdoor not yet", (node,), operands, place="outdoors")
    node = "gfci.outdoor.hvac_until"
    comfort = outlet.serves in COMFORT_EQUIPMENT or bool(outlet.listed_hvac)
    if not comfort or outlet.listed_hvac is False or not code.has(node):
        return None
    unknown = (("listed_hvac", outlet.listed_hvac), ("permit_date", permit))
    if missing := tuple(fact for fact, value in unknown if value is None):
        return Reach(None, "outdoor hvac before", (node,), missing=missing, place="outdoors")
    assert permit is not None
    until = date.fromisoformat(str(code.value(node)))
    shown: dict[str, Operand] = {"until": until, "permit_date": permit}
    if permit < until:
        return Reach(False, "outdoor hvac before", (node,), shown, place="outdoors")
    return Reach(True, "outdoor hvac after", ("gfci.outdoor.amps_max", node), shown, place="outdoors")
