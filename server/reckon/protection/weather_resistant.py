"""Must a receptacle be weather-resistant? 406.9(A) damp, (B)(1) wet, and 406.4(D)(6) for replacements."""

from __future__ import annotations

from dataclasses import replace

from server.editions import Edition
from server.reckon.protection.facts import Operand, OutletFacts, Requirement
from server.reckon.protection.gfci_places import is_outdoors
from server.reckon.protection.ratings import receptacle_amps, receptacle_class
from server.reckon.protection.reaches import Reach, both, fold
from server.reckon.protection.tamper_resistant import rated_for
from server.reckon.work import SILENT, Work

__all__ = ["weather_resistance_required"]


def weather_resistance_required(outlet: OutletFacts, code: Edition, work: Work = SILENT) -> Requirement:
    """Whether a receptacle must be weather-resistant: outdoors always, indoors where damp or wet."""
    if outlet.kind != "receptacle":
        none = Reach(False, "not a receptacle", ("weather.volts_max",), {"what": "weather-resistant"})
        return fold((), none, code, work)
    location = _location(outlet, code)
    reached = location if location.answer is False else both(location, rated_for("weather", outlet, code))
    found = fold((reached,), reached, code, work)
    if found.required is True and outlet.work_on == "replacement":
        return replace(found, cites=(*found.cites, code.cites("weather.replacement")))
    return found


def _location(outlet: OutletFacts, code: Edition) -> Reach:
    volts, amps = receptacle_class(outlet, code), receptacle_amps(outlet)
    operands: dict[str, Operand] = {
        "room": outlet.room,
        "volts": "" if volts is None else volts,
        "amps": "" if amps is None else amps,
    }
    if outlet.wet:
        return Reach(True, "weather wet", ("weather.wet",), operands, place="wet")
    if is_outdoors(outlet):
        # protected by a roof (damp) or not (wet): the receptacle's type is the same either way
        return Reach(True, "weather outdoors", ("weather.damp", "weather.wet"), operands,
                     cites=f"{code.cites('weather.damp')}, {code.cites('weather.wet')}", place="outdoors")  # fmt: skip
    if outlet.damp:
        return Reach(True, "weather damp", ("weather.damp",), operands, place="damp")
    if outlet.damp is None and outlet.room in ("boathouse", "mudroom"):
        return Reach(None, "weather damp", ("weather.damp",), operands, ("damp",), place="damp")
    if outlet.damp is None and outlet.room in code.names("weather.rooms_unsettled"):
        return Reach("inspector", "weather unsettled", ("weather.rooms_unsettled",), operands)
    return Reach(False, "weather dry", ("weather.damp",), operands)
