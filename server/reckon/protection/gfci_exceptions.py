"""The exceptions of 210.8(A), and the local ones that take their place."""

from __future__ import annotations

from server.editions import Edition
from server.reckon.protection.facts import Operand, OutletFacts
from server.reckon.protection.reaches import Reach
from server.reckon.protection.served import (
    ALARM_SYSTEMS,
    CEILING_SUPPORT,
    EXHAUST_FANS,
    FIXED_APPLIANCES,
    OUTDOOR_HEAT_CABLE,
)

__all__ = ["exception", "heat_cable", "single_receptacle"]


def exception(outlet: OutletFacts, place: str, code: Edition) -> Reach | None:
    """The exception that lifts (True), may lift (None, ``inspector``) or misses the item of a place; None for none.

    One outlet serves one purpose, so at most one exception can be about it.
    """
    serves = outlet.serves
    if serves in OUTDOOR_HEAT_CABLE:
        return heat_cable(outlet, place, code)
    if serves in ALARM_SYSTEMS:
        node = "gfci.exempt.alarm_places"
        if _covers(place, code.names(node)):
            return Reach(True, "exempt alarm", (node,))
        return Reach("inspector", "alarm elsewhere", (node,))
    if serves in CEILING_SUPPORT and code.flag("gfci.exempt.ceiling_support"):
        return Reach(True, "exempt ceiling support", ("gfci.exempt.ceiling_support",))
    if serves in EXHAUST_FANS and outlet.part_of_equipment:
        return _fan_housing(outlet, code)
    return _local(outlet, place, code)


def heat_cable(outlet: OutletFacts, place: str, code: Edition) -> Reach | None:
    """Snow melting, deicing, pipe heating: not readily accessible and alone on its circuit, both."""
    node = "gfci.exempt.heat_cable_places"
    if not _covers(place, code.names(node)) or outlet.readily_accessible or outlet.dedicated is False:
        return None
    missing = tuple(fact for fact in ("readily_accessible", "dedicated") if getattr(outlet, fact) is None)
    operands: dict[str, Operand] = {"serves": outlet.serves}
    return Reach(None if missing else True, "exempt heat cable", (node,), operands, missing)


def _fan_housing(outlet: OutletFacts, code: Edition) -> Reach | None:
    if outlet.readily_accessible:
        return None
    if outlet.readily_accessible is None:
        return Reach(
            None, "exempt fan housing", ("gfci.exempt.fan_housing",), missing=("readily_accessible",)
        )
    if outlet.serves in code.names("gfci.exempt.fan_housing"):
        return Reach(True, "exempt fan housing", ("gfci.exempt.fan_housing",))
    return Reach("inspector", "fan housing unsettled", ("gfci.place.bathroom",))


def _local(outlet: OutletFacts, place: str, code: Edition) -> Reach | None:
    """Exceptions that only local amendments bring."""
    operands: dict[str, Operand] = {"serves": outlet.serves}
    if alone := single_receptacle(outlet, code):
        return alone
    if place in code.names("gfci.exempt.unreachable_places"):
        node = "gfci.exempt.unreachable_places"
        if outlet.readily_accessible is False:
            return Reach(True, "exempt unreachable", (node,))
        if outlet.readily_accessible is None:
            return Reach(None, "exempt unreachable", (node,), missing=("readily_accessible",))
    if place in code.names("gfci.exempt.dedicated_places") and outlet.serves in FIXED_APPLIANCES:
        node = "gfci.exempt.dedicated_places"
        if outlet.dedicated is not False:
            missing = ("dedicated",) if outlet.dedicated is None else ()
            return Reach(None if missing else True, "exempt dedicated", (node,), operands, missing)
    return None


def single_receptacle(outlet: OutletFacts, code: Edition) -> Reach | None:
    """Local: a single receptacle for one of the purposes named."""
    node = "gfci.exempt.single_receptacle"
    if outlet.kind != "receptacle" or outlet.single is False or outlet.serves not in code.names(node):
        return None
    missing = ("single",) if outlet.single is None else ()
    operands: dict[str, Operand] = {"serves": outlet.serves}
    return Reach(None if missing else True, "exempt single receptacle", (node,), operands, missing)


def _covers(place: str, places: tuple[str, ...]) -> bool:
    return "all" in places or place in places
