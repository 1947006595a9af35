"""Outlets that need ground-fault protection, and whether it reaches them along their circuit."""

from __future__ import annotations

import re
from functools import partial

from server.dwelling import Circuit, Device, DeviceKind, Dwelling, Stage, Surface
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, held
from server.rules.looks import by_look, observed
from server.rules.naming import box_name, cable_between, capital, circuit_name, device_name
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.outlet_facts import basement_unsettled
from server.rules.protected_outlets import SAYS, judge_protection
from server.rules.protection_tree import protection
from server.rules.rule import Kind, rule

__all__ = ["gfci_protection", "gfci_within_reach", "protection_wired"]


@rule(
    id="gfci-locations",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("210.8"),
    title="The outlet has ground-fault protection where it needs it",
    why="Where people stand on damp ground or touch a tap with one hand, a fault too small to trip a breaker stops a "
    "heart. A GFCI opens before it does.",
    look_for="Bathrooms, kitchen, laundry, garage, basement, crawl space, outdoors, and everything within six feet of a "
    "sink, tub or shower: a GFCI breaker, or a GFCI device ahead with the cable onward on its load terminals.",
    cure="Protect the circuit with a GFCI breaker, or fit a GFCI receptacle ahead of the outlet and feed it from the load side.",
    says=SAYS
    | {
        "basement-not-recorded": "Whether this storey is below grade is not recorded; in a basement the outlet needs GFCI protection."
    },
    cures={"unprotected": "{cure}", "breakers-share": "{cure}"},
    mistakes="Feeding the next receptacle from the line screws; counting the six feet from the faucet instead of the "
    "bowl; forgetting the receptacle for the garage door opener.",
    plain="Outlets near water, outside, in garages and basements must be protected by a GFCI.",
    danger="Never rely on a GFCI while you work: turn the circuit off and prove it dead.",
)
def gfci_protection(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What 210.8 asks of the outlet against what protects it."""
    found = judge_protection(device, "gfci", house, code, work)
    if (
        found.reason == "not-needed"
        and device.kind is DeviceKind.RECEPTACLE
        and basement_unsettled(device, house)
    ):
        if code.flag("gfci.place.basement") and not code.flag("gfci.basement.unfinished_only"):
            missing = Missing("whether this storey is below grade", "level.below_grade")
            return unseen("basement-not-recorded", missing, cites=code.cites("gfci.place.basement"))
    return found


@rule(
    id="gfci-within-reach",
    stage=Stage.FINAL,
    about=Device,
    kind=Kind.SEEN,
    cites=carried("210.8"),
    title="The GFCI can be reached to test and reset it",
    why="A GFCI that nobody can reach is never tested, and when it trips the freezer behind it thaws.",
    look_for="Each GFCI device where a hand reaches it without a ladder and without moving an appliance.",
    cure="Move the GFCI to a place within reach ahead of this one, or protect the circuit with a GFCI breaker.",
    says={
        "reachable": "The device is readily accessible.",
        "not-reachable": "The device is not readily accessible.",
        "in-ceiling": "The device is in a ceiling, out of reach from the floor.",
        "looked-right": "{who} looked and could reach it{noted}.",
        "looked-wrong": "{who} looked and could not reach it{noted}.",
        "not-looked": "Whether the device can be reached to reset it nobody has looked.",
        "no-gfci": "This is no GFCI device.",
    },
    mistakes="The GFCI behind the refrigerator, or in the ceiling for the door opener.",
    plain="You must be able to reach the GFCI's reset button without moving anything heavy.",
)
def gfci_within_reach(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The recorded fact, else the ceiling, else a look."""
    if not device.gfci:
        return outside("no-gfci")
    cites = code.cites("gfci.device.readily_accessible")
    if device.readily_accessible is not None:
        if device.readily_accessible:
            return clear("reachable", cites=cites)
        return correction("not-reachable", cites=cites)
    box = house.boxes.get(device.box_id)
    if box is not None and box.surface is Surface.CEILING:
        return correction("in-ceiling", cites=cites)
    seen = observed(house, device, "gfci-within-reach")
    if seen is None:
        return unseen("not-looked", Missing("a look"), cites=cites)
    return by_look(seen, cites=cites)


_NOT_ENTERED = frozenset({"afci means unknown"})
_CURES = {
    "line and load": "Put the cable from the panel on the line terminals and the cable onward on the load terminals.",
    "load not here": "Record what really is on the load terminals of the device.",
    "two loads": "Feed what is beyond from the load terminals of one device only.",
    "shared neutral": "Fit one two-pole protecting breaker for the circuits that share the neutral, or pull a neutral for each.",
    "afci means": "Protect the circuit with an arc-fault breaker, or wire the way to its first box as the code asks for a device there.",
}
"""What is wrong in the wiring of protecting devices, and what mends it."""
_WIRING = frozenset(_CURES)
_THINGS = re.compile(r"\b([Dd]evice|[Oo]utlet|[Cc]able|[Bb]ox) ([\w-]+)")


@rule(
    id="protection-wired",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    kind=Kind.SEEN,
    cites=held("110.3(B)"),
    title="Protecting devices are wired so that they protect",
    why="A GFCI with line and load exchanged still has power at its face and protects nothing beyond it; one that shares "
    "a neutral trips for no reason and is then taken out.",
    look_for="The feed on the line terminals, only what is to be protected on the load terminals, no neutral shared with "
    "another leg, an arc-fault device in the first outlet box and by one of the ways that the code lets it stand for a breaker.",
    cure="Put the cable from the panel on the line terminals and the cable onward on the load terminals.",
    says={
        "wired": "{devices:n} protecting devices are on the circuit, and what is recorded of their wiring is right.",
        "problem": "{problem}",
        "not-settled": "{problem}",
        "looked-right": "{who} looked: the home run is wired so that the device may stand for a breaker{noted}.",
        "looked-wrong": "{who} looked: the home run is not wired so that the device may stand for a breaker{noted}.",
        "no-device": "No GFCI or AFCI breaker or device is on {circuit}.",
    },
    cures={"problem": "{cure}"},
    mistakes="Landing both cables on the line side to make it work; a GFCI device on one leg of a multiwire circuit ahead of the split.",
    plain="The wires from the panel go on the side of the GFCI marked LINE, the ones that go on to other outlets on LOAD.",
    danger="A receptacle beyond a wrongly wired GFCI looks protected and is not.",
)
def protection_wired(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The problems that following the circuit's protection found."""
    found = house.derive(protection, code).by_circuit[circuit.id]
    source = found.tree.source
    devices = len(found.tree.devices) + (source.gfci or source.arc != "")
    if not devices:
        return outside("no-device", circuit=circuit_name(circuit))
    for problem in found.coverage.problems:
        if work:
            work.step(_named(problem.sentence, house), problem.kind)
        if problem.kind in _WIRING:
            words = Lazily(partial(_named, problem.sentence, house))
            return correction("problem", problem=words, cure=_CURES[problem.kind])
    for problem in found.coverage.problems:
        if problem.kind in _NOT_ENTERED:
            seen = observed(house, circuit, "protection-wired")
            if seen is not None:
                return by_look(seen)
            missing = Missing("a look at how the home run is wired and how the first box is marked")
            words = Lazily(partial(_named, problem.sentence, house))
            return unseen("not-settled", missing, problem=words)
    return clear("wired", devices=devices)


def _named(sentence: str, house: Dwelling) -> str:
    """The sentence of a reckoning over ids, in the names of the house."""

    def name(found: re.Match[str]) -> str:
        what, each = found.groups()
        kind = what.lower()
        if kind in ("device", "outlet") and each in house.devices:
            words = device_name(house.devices[each], house)
        elif kind == "cable" and each in house.cables:
            words = cable_between(house.cables[each], house)
        elif kind == "box" and each in house.boxes:
            words = box_name(house.boxes[each], house)
        else:
            return found.group()
        return capital(words) if what[0].isupper() else words

    return _THINGS.sub(name, sentence)
