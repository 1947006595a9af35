"""Must a receptacle be tamper-resistant? 406.12, and 406.4(D)(5) for replacements.

2017 names the areas of 210.52; from 2020 the whole dwelling counts, with its garages and accessory buildings.
"""

from __future__ import annotations

from dataclasses import replace

from server.editions import Edition
from server.reckon.protection.facts import Operand, OutletFacts, Requirement
from server.reckon.protection.gfci_places import is_outdoors
from server.reckon.protection.ratings import receptacle_amps, receptacle_class
from server.reckon.protection.reaches import Reach, both, fold, unless
from server.reckon.protection.served import FIXED_APPLIANCES
from server.reckon.work import SILENT, Work

__all__ = ["rated_for", "tamper_resistance_required"]


def tamper_resistance_required(outlet: OutletFacts, code: Edition, work: Work = SILENT) -> Requirement:
    """Whether a receptacle of a dwelling must be tamper-resistant. Anything but a receptacle need not."""
    if outlet.kind != "receptacle":
        none = Reach(False, "not a receptacle", ("tamper.volts_max",), {"what": "tamper-resistant"})
        return fold((), none, code, work)
    scope = rated_for("tamper", outlet, code)
    area = both(_area(outlet, code), scope) if scope.answer is not False else scope
    reached = area
    for exception in _exceptions(outlet, code):
        reached = unless(reached, exception)
    found = fold((reached,), reached, code, work)
    if found.required is True and outlet.work_on == "replacement":
        return replace(found, cites=(*found.cites, code.cites("tamper.replacement")))
    return found


def rated_for(what: str, outlet: OutletFacts, code: Edition) -> Reach:
    """15 and 20 A, 125 and 250 V, not locking: what the rules on tamper and on weather resistance are about."""
    limit = code.number(f"{what}.volts_max")
    ratings = code.value(f"{what}.amps")
    assert isinstance(ratings, tuple)
    volts, amps = receptacle_class(outlet, code), receptacle_amps(outlet)
    nodes = (f"{what}.volts_max", f"{what}.amps")
    if outlet.locking:
        return Reach(False, f"{what} locking", nodes, place="rating")
    if volts is not None and volts > limit:
        return Reach(False, f"{what} volts", nodes, {"volts": volts, "limit": limit}, place="rating")
    if amps is not None and amps not in ratings:
        shown = " and ".join(map(str, ratings))
        return Reach(False, f"{what} amps", nodes, {"amps": amps, "limit": shown}, place="rating")
    missing = tuple(fact for fact, value in (("volts", volts), ("amps", amps)) if value is None)
    return Reach(None if missing else True, f"{what} volts", nodes, missing=missing, place="rating")


def _area(outlet: OutletFacts, code: Edition) -> Reach:
    room = "outdoors" if is_outdoors(outlet) else outlet.room
    volts, amps = receptacle_class(outlet, code), receptacle_amps(outlet)
    operands: dict[str, Operand] = {
        "room": room,
        "volts": "" if volts is None else volts,
        "amps": "" if amps is None else amps,
    }
    if not code.has("tamper.rooms"):
        return Reach(
            True, "tamper", ("tamper.volts_max",), operands, cites=code.cites("tamper.rooms"), place=room
        )
    if room in code.names("tamper.rooms"):
        return Reach(True, "tamper", ("tamper.rooms",), operands, place=room)
    if room in code.names("tamper.rooms.unsettled"):
        return Reach("inspector", "tamper unsettled", ("tamper.rooms.unsettled",), operands, place=room)
    return Reach(False, "tamper room", ("tamper.rooms",), operands, place=room)


def _exceptions(outlet: OutletFacts, code: Edition) -> tuple[Reach | None, ...]:
    part = Reach(True, "tamper part", ("tamper.part_of_equipment_exempt",))
    old = Reach(True, "tamper nongrounding", ("tamper.replacement",))
    return (
        part if outlet.part_of_equipment and code.flag("tamper.part_of_equipment_exempt") else None,
        old if outlet.nongrounding and outlet.work_on == "replacement" else None,
        _dedicated(outlet, code),
        _height(outlet, code),
    )


def _height(outlet: OutletFacts, code: Edition) -> Reach | None:
    node = "tamper.height_max_in"
    if not code.has(node):
        return None
    limit = code.number(node)
    if outlet.height_in is None:
        return Reach(None, "tamper height", (node,), missing=("height_in",))
    operands: dict[str, Operand] = {"height_in": outlet.height_in, "limit_in": limit}
    return Reach(outlet.height_in > limit, "tamper height", (node,), operands)


def _dedicated(outlet: OutletFacts, code: Edition) -> Reach | None:
    """Its own space, and no contact left over: a single for one appliance (or a duplex for two)."""
    node = "tamper.dedicated_exempt"
    if outlet.serves not in FIXED_APPLIANCES or outlet.dedicated is False or not code.flag(node):
        return None
    if outlet.single is False:
        return None
    missing = tuple(fact for fact in ("dedicated", "single") if getattr(outlet, fact) is None)
    return Reach(None if missing else True, "tamper dedicated", (node,), {"serves": outlet.serves}, missing)
