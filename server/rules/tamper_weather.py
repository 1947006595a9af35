"""Receptacles made for where they are: tamper-resistant in a dwelling, weather-resistant in damp and wet places."""

from __future__ import annotations

from server.dwelling import Device, DeviceKind, Dwelling, Stage
from server.editions import Edition
from server.reckon.protection.facts import Requirement
from server.reckon.protection.tamper_resistant import tamper_resistance_required
from server.reckon.protection.weather_resistant import weather_resistance_required
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.looks import by_look, observed
from server.rules.outcome import Lazily, Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.outlet_facts import missing_facts, outlet_facts
from server.rules.rule import Kind, rule

__all__ = ["tamper_resistant", "weather_resistant"]

_SAYS = {
    "has": "{why} It is one.",
    "has-not": "{why} The recorded one is not.",
    "looked-right": "{why} {who} looked and found the marking{noted}.",
    "looked-wrong": "{why} {who} looked and found no marking{noted}.",
    "not-looked": "{why} Whether it is marked so nobody has looked.",
    "not-needed": "{why}",
    "inspector": "{why}",
    "fact-missing": "{why}",
    "no-receptacle": "Only receptacles are meant.",
}


def _judge(
    device: Device, required: Requirement | None, has: bool | None, rule_id: str, house: Dwelling
) -> Outcome:
    if required is None:
        return outside("no-receptacle")
    why, cites = Lazily(lambda: required.why), ", ".join(required.cites)
    if required.required is False:
        return outside("not-needed", cites=cites, why=why)
    if has:
        return clear("has", cites=cites, confidence=required.confidence, why=why)
    if required.required is None:
        return unseen("fact-missing", *missing_facts(required.missing, device, house), cites=cites, why=why)
    if required.required == "inspector":
        return ask_inspector("inspector", cites=cites, why=why)
    if has is False:
        return correction("has-not", cites=cites, confidence=required.confidence, why=why)
    seen = observed(house, device, rule_id)
    if seen is None:
        return unseen("not-looked", Missing("a look at the marking on its face"), cites=cites, why=why)
    return by_look(seen, cites=cites, why=why)


@rule(
    id="tamper-resistant",
    stage=Stage.FINAL,
    about=Device,
    kind=Kind.SEEN,
    cites=moved(e2017="406.12", e2026="406.26"),
    title="The receptacle is tamper-resistant",
    why="Shutters behind the slots keep out the hairpin or key that a child pushes in.",
    look_for="The letters TR on the face of every 15 and 20 A receptacle in the dwelling, its garage and its outbuildings, "
    "save those high up, part of an appliance, or in the space of one that stays put.",
    cure="Replace it with a receptacle marked TR.",
    says=_SAYS,
    mistakes="Using up old stock in the garage; forgetting the GFCI receptacles, which must be TR too.",
    plain="Outlets in a home need built-in shutters. Look for TR on the face.",
)
def tamper_resistant(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What 406.12 asks against what was recorded or seen."""
    facts = outlet_facts(device, house, code) if device.kind is DeviceKind.RECEPTACLE else None
    required = tamper_resistance_required(facts, code, work) if facts else None
    return _judge(device, required, device.tamper_resistant, "tamper-resistant", house)


@rule(
    id="weather-resistant",
    stage=Stage.FINAL,
    about=Device,
    kind=Kind.SEEN,
    cites=carried("406.9"),
    title="The receptacle is weather-resistant",
    why="Damp corrodes the contacts of an ordinary receptacle and makes its plastic brittle in the sun.",
    look_for="The letters WR on the face of every 15 and 20 A receptacle outdoors and in damp or wet places.",
    cure="Replace it with a receptacle marked WR (and TR).",
    says=_SAYS,
    mistakes="A WR cover over an ordinary GFCI receptacle.",
    plain="Outlets outdoors or in damp places must be made for it. Look for WR on the face.",
)
def weather_resistant(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What 406.9 asks against what was recorded or seen."""
    facts = outlet_facts(device, house, code) if device.kind is DeviceKind.RECEPTACLE else None
    required = weather_resistance_required(facts, code, work) if facts else None
    return _judge(device, required, device.weather_resistant, "weather-resistant", house)
