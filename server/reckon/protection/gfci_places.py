"""210.8(A): the places of a dwelling whose receptacles need GFCI, the ratings it is about, and its exceptions.

What changed: 2020 widened 125 V, 15 and 20 A to all ratings from 125 V to 250 V on circuits of 150 V or less to
ground, took in finished basements and indoor damp places, and measures through doors. 2023 took in all of the
kitchen and areas with a sink and food provisions, and measures through windows. 2026 gives accessory buildings
their own item without the floor test.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Final

from server.editions import Edition
from server.reckon.protection.facts import NOWHERE_NEAR, Answer, Operand, OutletFacts
from server.reckon.protection.gfci_exceptions import exception
from server.reckon.protection.ratings import receptacle_amps, receptacle_class, to_ground
from server.reckon.protection.reaches import Reach, both, unless
from server.reckon.protection.served import AT_THE_SINK, LAUNDRY_MACHINES

__all__ = ["is_outdoors", "listed_places"]

_IN_PER_FT: Final = 12
_BARRIERS: Final = {
    "wall": "gfci.path.wall",
    "door": "gfci.path.door",
    "doorway": "gfci.path.door",
    "cabinet door": "gfci.path.door",
    "window": "gfci.path.window",
}
"""What a cord path may cross, and the node that says whether it ends there."""
_OUTDOORS: Final = frozenset({"outdoors", "deck"})
_PLAIN: Final = (
    ("bathroom", "bathroom"),
    ("garage", "garage"),
    ("crawl space", "crawl_space"),
    ("boathouse", "boathouse"),
)
_NOT_LIVED_IN: Final = frozenset(
    {"basement", "mechanical room", "utility room", "workshop", "laundry", "closet"}
)


def is_outdoors(outlet: OutletFacts) -> bool:
    """Whether the outlet is outside the building."""
    return outlet.outdoors is True or (outlet.outdoors is None and outlet.room in _OUTDOORS)


def listed_places(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    """What each item of 210.8(A) says of a receptacle, scope and exceptions applied."""
    scope: Reach | None = None
    for item in _items(outlet, code):
        if item.answer is False:
            yield item
            continue
        if scope is None:
            scope = _scope(outlet, code)
        reached = both(item, scope)
        if reached.answer is not False:
            reached = unless(reached, exception(outlet, item.place, code))
        yield reached


def _items(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    if is_outdoors(outlet):
        if code.has("gfci.place.outdoors"):
            yield _place("outdoors", True, "place outdoors")
    else:
        yield from _rooms(outlet, code)
    if code.has("gfci.sink.within_ft"):
        yield _near_sink(outlet, code)
    if code.has("gfci.tub.within_ft"):
        yield _distance(outlet, outlet.from_tub_in, "tub", code)


def _rooms(outlet: OutletFacts, code: Edition) -> Iterator[Reach]:
    for room, place in _PLAIN:
        if outlet.room == room and code.flag(f"gfci.place.{place}"):
            yield _place(place, True, f"place {place}")
    if outlet.room == "toilet room" and code.flag("gfci.place.bathroom"):
        yield _place("bathroom", "inspector", "place toilet room")
    if outlet.room == "accessory building" and code.flag("gfci.place.accessory_building"):
        yield _accessory_building(outlet, code)
    if (outlet.room == "basement" or outlet.in_basement) and code.flag("gfci.place.basement"):
        yield _basement(outlet, code)
    if outlet.room == "kitchen" and code.flag("gfci.place.kitchen"):
        yield _kitchen(outlet, code)
    if (outlet.food_provisions or outlet.room == "wet bar") and code.flag("gfci.place.food_area"):
        yield _place("food_area", True, "place food_area")
    if (outlet.room == "laundry" or outlet.serves in LAUNDRY_MACHINES) and code.flag("gfci.place.laundry"):
        yield _place("laundry", True, "place laundry")
    if code.flag("gfci.place.damp_indoors"):
        if outlet.damp or outlet.wet:
            yield _place("damp_indoors", True, "place damp_indoors")
        elif outlet.room == "mudroom" and outlet.damp is None:
            yield _unknown("damp_indoors", "damp")


def _place(place: str, answer: Answer, reason: str, *more: str) -> Reach:
    return Reach(answer, reason, (f"gfci.place.{place}", *more), place=place)


def _unknown(place: str, fact: str) -> Reach:
    return Reach(None, f"place {place}", (f"gfci.place.{place}",), missing=(fact,), place=place)


def _accessory_building(outlet: OutletFacts, code: Edition) -> Reach:
    at_grade_only = code.flag("gfci.accessory_building.at_grade_only")
    if outlet.habitable:
        return _no("accessory_building", "accessory building habitable")
    if at_grade_only and outlet.floor_at_grade is False:
        return _no(
            "accessory_building", "accessory building above grade", "gfci.accessory_building.at_grade_only"
        )
    if outlet.habitable is None:
        return _unknown("accessory_building", "habitable")
    if at_grade_only and outlet.floor_at_grade is None:
        return _unknown("accessory_building", "floor_at_grade")
    return _place("accessory_building", True, "place accessory_building")


def _no(place: str, reason: str, node: str = "") -> Reach:
    """A place that an item names, but not as it is here; ``node`` is the value that leaves it out."""
    nodes = (node, f"gfci.place.{place}") if node else (f"gfci.place.{place}",)
    return Reach(False, reason, nodes, place=place)


def _basement(outlet: OutletFacts, code: Edition) -> Reach:
    if code.flag("gfci.basement.walk_out_exempt"):
        if outlet.walk_out is None:
            return replace(_unknown("basement", "walk_out"), also=("gfci.basement.walk_out_exempt",))
        if outlet.walk_out:
            return Reach(
                False, "basement walk-out", ("gfci.basement.walk_out_exempt",), place="basement", lifted=True
            )
    if not code.flag("gfci.basement.unfinished_only"):
        return _place("basement", True, "place basement")
    finished = outlet.finished
    if finished is None and outlet.room not in _NOT_LIVED_IN:
        finished = True  # a bedroom or family room on a basement level is living space by what it is
    if finished is None:
        return _unknown("basement", "finished")
    if finished:
        return _no("basement", "basement finished", "gfci.basement.unfinished_only")
    return _place("basement", True, "place unfinished basement", "gfci.basement.unfinished_only")


def _kitchen(outlet: OutletFacts, code: Edition) -> Reach:
    if not code.flag("gfci.kitchen.countertop_only"):
        return _place("kitchen", True, "place kitchen")
    if not outlet.serves:
        return _unknown("kitchen", "serves")
    if outlet.serves == "countertop":
        return _place("kitchen", True, "place countertop", "gfci.kitchen.countertop_only")
    return _no("kitchen", "kitchen not countertop", "gfci.kitchen.countertop_only")


def _near_sink(outlet: OutletFacts, code: Edition) -> Reach:
    found = _distance(outlet, outlet.from_sink_in, "sink", code)
    if found.answer is not True or not code.has("gfci.sink.not_counted"):
        return found
    local = code.table("gfci.sink.not_counted")
    amps, before = receptacle_amps(outlet), date.fromisoformat(str(local["until"]))
    if amps is None:
        return Reach(
            None, found.reason, found.nodes, missing=("amps",), place="sink", also=("gfci.sink.not_counted",)
        )
    if not Fraction(str(local["amps_from"])) <= amps <= Fraction(str(local["amps_to"])):
        return found
    if outlet.permit_date is None:
        return Reach(
            None,
            found.reason,
            found.nodes,
            missing=("permit_date",),
            place="sink",
            also=("gfci.sink.not_counted",),
        )
    if outlet.permit_date >= before:
        return found
    operands: dict[str, Operand] = {"amps": amps, "until": before}
    return Reach(
        False, "sink rating not counted", ("gfci.sink.not_counted",), operands, place="sink", lifted=True
    )


def _distance(outlet: OutletFacts, distance_in: Fraction | None, what: str, code: Edition) -> Reach:
    """Near enough to a sink's bowl or a tub's edge, by the edition's way of measuring a cord path."""
    node = f"gfci.{what}.within_ft"
    limit = code.number(node) * _IN_PER_FT
    operands: dict[str, Operand] = {"limit_in": limit}
    nodes: tuple[str, ...] = (node,)
    crossed = outlet.path_crosses
    if distance_in is None:
        if what != "sink" or outlet.serves not in AT_THE_SINK:
            return Reach(None, f"near {what}", nodes, missing=(f"from_{what}_in",), place=what)
        operands["serves"] = outlet.serves
        crossed = crossed or ("cabinet door",)
    elif distance_in >= NOWHERE_NEAR:
        return Reach(False, f"no {what}", nodes)
    else:
        operands["distance_in"] = distance_in
        if distance_in > limit:
            return Reach(False, f"far from {what}", nodes, operands)
    nodes += tuple(dict.fromkeys(_BARRIERS[barrier] for barrier in crossed))
    stopped = [barrier for barrier in crossed if code.flag(_BARRIERS[barrier])]
    if hard := [barrier for barrier in stopped if barrier != "cabinet door"]:
        return Reach(False, f"{what} path blocked", nodes, {"barrier": hard[0]}, place=what)
    if stopped:
        return Reach("inspector", f"{what} behind cabinet door", nodes, operands, place=what)
    return Reach(
        True, f"near {what}" if distance_in is not None else "under sink", nodes, operands, place=what
    )


def _scope(outlet: OutletFacts, code: Edition) -> Reach:
    """Whether the receptacle's rating and circuit are those that 210.8(A) is about."""
    limit = code.number("gfci.receptacle.volts_max")
    rating, amps, ground = receptacle_class(outlet, code), receptacle_amps(outlet), to_ground(outlet, code)
    if outlet.phases != 1:
        return _out("scope phases", "gfci.receptacle.volts_max", {})
    missing: list[str] = []
    nodes = ["gfci.receptacle.volts_max"]
    if rating is None:
        missing.append("volts")
    elif rating > limit:
        return _out("scope volts", "gfci.receptacle.volts_max", {"volts": _rated(outlet), "limit": limit})
    elif code.has("gfci.receptacle.wider_from"):
        delayed = code.table("gfci.receptacle.wider_from")
        narrow, start = Fraction(str(delayed["volts_max"])), date.fromisoformat(str(delayed["from"]))
        if rating > narrow:
            nodes.append("gfci.receptacle.wider_from")
            if outlet.permit_date is None:
                missing.append("permit_date")
            elif outlet.permit_date < start:
                return _out("scope delayed", "gfci.receptacle.wider_from", {"limit": narrow, "start": start})
    if code.has("gfci.receptacle.amps"):
        nodes.append("gfci.receptacle.amps")
        wanted = code.value("gfci.receptacle.amps")
        assert isinstance(wanted, tuple)
        if amps is None:
            missing.append("amps")
        elif amps not in wanted:
            shown = " and ".join(map(str, wanted))
            return _out("scope amps", "gfci.receptacle.amps", {"amps": amps, "limit": shown})
    if code.has("gfci.receptacle.volts_to_ground_max") and ground is not None:
        nodes.append("gfci.receptacle.volts_to_ground_max")
        most = code.number("gfci.receptacle.volts_to_ground_max")
        if ground > most:
            operands: dict[str, Operand] = {"volts_to_ground": ground, "limit": most}
            return _out("scope ground volts", "gfci.receptacle.volts_to_ground_max", operands)
    late = ("gfci.receptacle.wider_from",) if "permit_date" in missing else ()
    return Reach(None if missing else True, "scope volts", tuple(nodes), missing=tuple(missing), also=late)


def _rated(outlet: OutletFacts) -> Operand:
    volts = outlet.volts if outlet.volts is not None else outlet.circuit_volts
    return "unknown" if volts is None else volts


def _out(reason: str, node: str, operands: dict[str, Operand]) -> Reach:
    return Reach(False, reason, (node,), operands)
