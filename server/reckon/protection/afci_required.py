"""Must the circuit of an outlet or device have arc-fault circuit-interrupter protection?

210.12(A) in 2017 and 2020, (B) from 2023: any outlet or device in a named room pulls in its whole 120 V circuit. The
room list did not change; 2023 took in 10 A circuits. Old circuits: 210.12(D), (E) from 2023, for added wiring, and
406.4(D)(4) for replaced receptacles.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from server.editions import Edition
from server.reckon.protection.facts import Operand, OutletFacts, Requirement
from server.reckon.protection.gfci_places import is_outdoors
from server.reckon.protection.ratings import circuit_amps, circuit_class, volt_class
from server.reckon.protection.reaches import Reach, both, fold, unless
from server.reckon.protection.served import EQUIPMENT_OF_A_CLOSET, FIXED_APPLIANCES, LAUNDRY_MACHINES
from server.reckon.work import SILENT, Work

__all__ = ["afci_required"]

_IN_PER_FT: Final = 12
_ROOMS: Final = "afci.rooms"


def afci_required(outlet: OutletFacts, code: Edition, work: Work = SILENT) -> Requirement:
    """Whether the branch circuit of a dwelling's outlet or device needs AFCI protection (210.12, 406.4(D)(4)).

    Switches count: a device in a named room is enough. ``circuit_rooms`` brings the other rooms of the circuit.
    """
    if not code.has("afci.circuit.volts"):
        return fold((), Reach(False, "afci none", ("afci.circuit.volts",)), code, work)
    scope = _scope(outlet, code)
    if scope.answer is False:
        return fold((scope,), scope, code, work)
    unlisted = Reach(False, "afci unlisted", (_ROOMS,), {"room": outlet.room})
    reaches = []
    for reach in _rooms(outlet, code):
        reached = both(reach, scope) if reach.answer is not False else reach
        if reached.answer is not False:
            reached = unless(reached, _exception(outlet, code))
            reached = unless(reached, _old_circuit(outlet, code))
        reaches.append(reached)
    return _on_old_circuit(fold(reaches, unlisted, code, work), outlet, code)


def _scope(outlet: OutletFacts, code: Edition) -> Reach:
    """120 V single-phase circuits of the ratings listed."""
    limit = code.number("afci.circuit.volts")
    found, amps = circuit_class(outlet, code), circuit_amps(outlet)
    ratings = code.value("afci.circuit.amps")
    assert isinstance(ratings, tuple)
    if outlet.phases != 1:
        return Reach(False, "afci phases", ("afci.circuit.volts",), place="circuit")
    if found is not None and found != volt_class(limit, code):
        volts = outlet.circuit_volts if outlet.circuit_volts is not None else outlet.volts
        operands: dict[str, Operand] = {"volts": volts if volts is not None else found, "limit": limit}
        return Reach(False, "afci volts", ("afci.circuit.volts",), operands, place="circuit")
    if amps is not None and amps not in ratings:
        shown = " and ".join([", ".join(map(str, ratings[:-1])), str(ratings[-1])])
        return Reach(
            False, "afci amps", ("afci.circuit.amps",), {"amps": amps, "limit": shown}, place="circuit"
        )
    known = (("circuit_volts", found), ("circuit_amps", amps))
    missing = tuple(fact for fact, value in known if value is None)
    nodes = ("afci.circuit.volts", "afci.circuit.amps")
    return Reach(None if missing else True, "afci volts", nodes, missing=missing, place="circuit")


def _rooms(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    own = "outdoors" if is_outdoors(outlet) else outlet.room
    yield _room(own, outlet, code)
    named = (*code.names(_ROOMS), *code.names("afci.rooms.similar"))
    for room in dict.fromkeys(outlet.circuit_rooms):
        if room != own and room in named:
            yield Reach(True, "afci shared", (_ROOMS,), {"room": room}, place=room)


def _room(room: str, outlet: OutletFacts, code: Edition) -> Reach:
    operands = _operands(room, outlet, code)
    if room in code.names(_ROOMS):
        if room == "closet" and outlet.serves in EQUIPMENT_OF_A_CLOSET:
            node = "afci.equipment_closet.disputed"
            if code.flag(node):
                return Reach("inspector", "afci equipment closet", (node,), operands, place=room)
        return Reach(True, "afci room", (_ROOMS,), operands, place=room)
    if room in code.names("afci.rooms.similar"):
        return Reach(True, "afci similar", ("afci.rooms.similar",), operands, place=room)
    if room in code.names("afci.rooms.similar_when_finished"):
        node = "afci.rooms.similar_when_finished"
        fact = "habitable" if room == "accessory building" else "finished"
        lived_in = getattr(outlet, fact)
        if lived_in is None:
            return Reach(None, "afci similar", (node,), operands, (fact,), place=room)
        if lived_in:
            return Reach(True, "afci similar", (node,), operands, place=room)
        return _laundry_corner(room, outlet, code) or Reach(
            False, "afci unfinished", (node,), operands, place=room
        )
    if room in code.names("afci.rooms.disputed") and outlet.finished is not False:
        return Reach("inspector", "afci disputed", ("afci.rooms.disputed",), operands, place=room)
    return _laundry_corner(room, outlet, code) or Reach(False, "afci unlisted", (_ROOMS,), operands)


def _laundry_corner(room: str, outlet: OutletFacts, code: Edition) -> Reach | None:
    node = "afci.laundry_elsewhere.disputed"
    if outlet.serves not in LAUNDRY_MACHINES or "laundry" not in code.names(_ROOMS) or not code.flag(node):
        return None
    operands: dict[str, Operand] = {"serves": outlet.serves, "room": room}
    return Reach("inspector", "afci laundry elsewhere", (node,), operands, place=room)


def _operands(room: str, outlet: OutletFacts, code: Edition) -> dict[str, Operand]:
    amps = circuit_amps(outlet)
    return {
        "room": room,
        "serves": outlet.serves,
        "volts": code.number("afci.circuit.volts"),
        "amps": "unstated rating" if amps is None else amps,
    }


def _exception(outlet: OutletFacts, code: Edition) -> Reach | None:
    """The code's exception for fire alarm systems, and the local ones."""
    if outlet.serves == "fire alarm" and code.flag("afci.fire_alarm_exempt"):
        facts = ("dedicated", "metal_wiring")
        if any(getattr(outlet, fact) is False for fact in facts):
            return None
        missing = tuple(fact for fact in facts if getattr(outlet, fact) is None)
        answer = None if missing else True
        return Reach(answer, "afci fire alarm", ("afci.fire_alarm_exempt",), missing=missing)
    operands: dict[str, Operand] = {"room": outlet.room}
    if outlet.kind == "receptacle":
        if outlet.room in code.names("afci.exempt.receptacle_rooms"):
            return Reach(True, "afci local receptacle", ("afci.exempt.receptacle_rooms",), operands)
        if (
            outlet.room in code.names("afci.exempt.gfci_receptacle_rooms")
            and outlet.gfci_protected is not False
        ):
            missing = ("gfci_protected",) if outlet.gfci_protected is None else ()
            node = "afci.exempt.gfci_receptacle_rooms"
            return Reach(None if missing else True, "afci local gfci receptacle", (node,), operands, missing)
    if outlet.serves in FIXED_APPLIANCES and code.flag("afci.exempt.fixed_appliances"):
        if outlet.dedicated is not False:
            missing = ("dedicated",) if outlet.dedicated is None else ()
            node = "afci.exempt.fixed_appliances"
            return Reach(None if missing else True, "afci local appliance", (node,), operands, missing)
    if outlet.dedicated and code.flag("afci.exempt.nuisance_equipment"):
        return Reach("inspector", "afci local nuisance", ("afci.exempt.nuisance_equipment",), operands)
    return None


def _old_circuit(outlet: OutletFacts, code: Edition) -> Reach | None:
    """What lifts the rule on a circuit that was there before: a short extension, a rule not in force, a swap."""
    operands: dict[str, Operand] = {"room": outlet.room}
    if outlet.work_on == "extension":
        if not code.flag("afci.extension"):
            return Reach(True, "afci extension suspended", ("afci.extension",))
        if outlet.added_outlets:
            return None
        node = "afci.extension.free_ft"
        limit = code.number(node) * _IN_PER_FT
        if outlet.extension_in is None:
            return Reach(None, "afci extension short", (node,), missing=("extension_in",))
        if outlet.extension_in <= limit:
            operands = {"extension_in": outlet.extension_in, "limit_in": limit}
            return Reach(True, "afci extension short", (node,), operands)
    if outlet.work_on == "replacement":
        if outlet.kind != "receptacle":
            return Reach("inspector", "afci device swap", ("afci.extension",), operands)
        if not code.flag("afci.replacement"):
            return Reach(True, "afci replacement suspended", ("afci.replacement",))
    return None


def _on_old_circuit(found: Requirement, outlet: OutletFacts, code: Edition) -> Requirement:
    """A "yes" on an old circuit, said by the article that reaches back to it."""
    if found.required is not True:
        return found
    operands: dict[str, Operand] = {"room": str(found.operands.get("room", outlet.room))}
    if outlet.work_on == "replacement":
        return replace(
            found, reason="afci replacement", operands=operands, cites=(code.cites("afci.replacement"),)
        )
    if outlet.work_on == "extension":
        cites = (code.cites("afci.extension"),)
        if outlet.added_outlets:
            return replace(found, reason="afci extension outlets", operands=operands, cites=cites)
        limit = code.number("afci.extension.free_ft") * _IN_PER_FT
        operands |= {"extension_in": outlet.extension_in or limit, "limit_in": limit}
        return replace(found, reason="afci extension long", operands=operands, cites=cites)
    return found
