"""Can it be wired at all? The circuit as it is drawn, each of its cables, each of its switches.

The reckoning is ``server.reckon.hookup``; what it is asked with comes from ``server.rules.hookups``. The circuit's
verdict is the job's; a cable that is short and a switch of the wrong kind hold their rooms open.
"""

from __future__ import annotations

from server.dwelling import Cable, Circuit, Device, DeviceKind, Dwelling, Stage, SwitchWays
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.hookup_names import listed
from server.rules.hookups import CircuitHookup, State, hookup_of, hookups, plain_signal
from server.rules.naming import device_name
from server.rules.outcome import Lazily, Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["cable_carries", "cable_plan_words", "hookup_possible", "switch_ways"]

_OF_SEVERAL = (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY)


def cable_plan_words(found: CircuitHookup) -> str:
    """The cheapest cables that make a hookup possible: ``Pull a 14-3 in place of cable 2 (14-2) from ... to ...``."""
    wiring = found.entered.wiring
    if wiring is None:
        return ""
    cables = {cable.id: cable for cable in wiring.cables}
    pieces = []
    for need in found.hookup.cheapest:
        if need.insulated > need.has:
            cable = cables[need.cable]
            size = f"{cable.awg}-{need.insulated}" if cable.awg else f"{need.insulated}-wire cable"
            pieces.append(f"a {size} in place of cable {cable.id} from {cable.a} to {cable.b}")
    return f"Pull {listed(pieces)}." if pieces else ""


@rule(
    id="hookup-possible",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    cites=carried("300.3(B), 404.2"),
    title="The circuit can be wired as its cables run",
    why="A cable with one conductor too few is found when the switches are trimmed, behind a finished wall. What each "
    "cable has to carry follows from what the switches turn, and can be reckoned before anything is covered.",
    look_for="Between switch locations enough conductors for hot, neutral and travelers in the same cable; never a "
    "neutral that is switched, or one fetched from another circuit.",
    cure="Look at what the switches are said to turn and where the feed comes in: one of the two is not as it was meant.",
    says={
        "works": "A lawful hookup exists: {conductors:n} conductors in use, {splices:n} splices, {whites:n} re-identified.",
        "one-neutral": "{why}",
        "uncommon": "Only an uncommon hookup fits these cables. {why}",
        "short": "{why}",
        "impossible": "{why}",
        "not-entered": "{why}",
        "outside": "{why}",
    },
    cures={"short": "{cure}"},
    mistakes="Two-wire cable between three-ways; the neutral of a light fetched from the nearest box.",
    plain="Each cable must have enough wires in it for what the switches are supposed to do.",
    danger="Turn the circuit off at the panel and prove every conductor dead before you make up a splice.",
)
def hookup_possible(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Whether a lawful hookup exists for the circuit's cables and devices."""
    found = house.derive(hookups, code).of(circuit.id)
    if work:
        hookup_of(found.circuits, house, code, work)
    match found.state:
        case State.OUTSIDE:
            return outside("outside", why=found.why)
        case State.UNFINISHED:
            missing = (Missing(gap.words, gap.field) for gap in found.gaps)
            return unseen("not-entered", *dict.fromkeys(missing), why=found.why)
        case State.SHORT:
            return correction("short", why=found.why, cure=Lazily(lambda: cable_plan_words(found)))
        case State.IMPOSSIBLE:
            return correction("impossible", why=found.why)
        case State.LAWFUL:
            pass
    if found.asks:
        return ask_inspector("one-neutral", cites="404.2(C)", why=found.asks)
    if is_uncommon(found):
        note = next((note for note in found.hookup.notes if "inspector" in note), "")
        return ask_inspector("uncommon", why=note)
    hookup = found.hookup
    return clear("works", conductors=hookup.conductors, splices=hookup.splices, whites=hookup.reidentified)


def is_uncommon(found: CircuitHookup) -> bool:
    """Whether a hookup joins switches at their commons, which some inspectors do not pass."""
    plan = found.hookup.plan
    return plan is not None and any(
        conductor.signal is not None and conductor.signal.startswith("link ")
        for cable in plan.cables
        for conductor in cable.conductors
    )


@rule(
    id="cable-carries",
    stage=Stage.ROUGH_IN,
    about=Cable,
    cites=carried("300.3(B), 404.2"),
    title="The cable has a conductor for all that it carries",
    why="All conductors of a circuit run in the same cable, so a conductor that is missing here cannot be fetched from "
    "elsewhere: the cable has to be pulled again, and that is cheap only before the wall is closed.",
    look_for="Count what passes: neutral, always-live hot, the switched hot, two travelers between switch locations.",
    cure="Pull a cable with more conductors in its place.",
    says={
        "enough": "It carries {signals:list} on {has:n} conductors.",
        "nothing": "It carries nothing that is recorded; its conductors are capped at both ends.",
        "short": "It has {has:n} insulated conductors and needs {needs:n}: {signals:list}.",
        "no-circuit": "It is on no circuit yet, so what it has to carry is not known.",
        "not-entered": "What it has to carry is not known yet. {why}",
        "outside": "{why}",
    },
    cures={"short": "Pull {size} in its place."},
    mistakes="Counting the bare ground as a conductor; forgetting that the switch needs a neutral too.",
    plain="The cable needs one wire for each thing that passes through it, besides the ground.",
)
def cable_carries(cable: Cable, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The signals of a cable against its insulated conductors."""
    circuits = [each for each in cable.circuit_ids if each in house.circuits]
    if not circuits:
        return unseen("no-circuit", Missing("which circuit it is on", "cable.circuit_ids"))
    found = house.derive(hookups, code).of(circuits[0])
    if found.state is State.OUTSIDE:
        return outside("outside", why=found.why)
    if found.state is State.UNFINISHED:
        gap = found.gaps[0]
        return unseen("not-entered", Missing(gap.words, gap.field), why=found.why)
    if found.state is State.IMPOSSIBLE:
        return outside("outside", why=f"What it has to carry cannot be told. {found.why}")
    name = found.names.cable[cable.id]
    for item in found.hookup.short:
        if item.cable == name:
            if work:
                work.step(f"needed for {listed(item.signals)}", item.needs, "conductors")
                work.step("insulated conductors in the cable", item.has, "conductors")
            size = f"a {cable.awg}-{item.needs}" if cable.awg else f"a cable with {item.needs} conductors"
            signals = tuple(map(plain_signal, item.signals))
            return correction("short", has=item.has, needs=item.needs, signals=signals, size=size)
    if found.state is State.SHORT:
        return clear("enough", has=cable.insulated, signals=("what it has to",))
    planned = found.cable(cable.id)
    carried_here = tuple(plain_signal(c.signal) for c in planned.conductors if c.signal) if planned else ()
    if work:
        for conductor in planned.conductors if planned else ():
            band = f", re-identified {conductor.reidentified_as}" if conductor.reidentified_as else ""
            work.step(f"{conductor.color}{band}", conductor.signal or "left over")
    if not carried_here:
        return clear("nothing")
    return clear("enough", has=cable.insulated, signals=carried_here)


@rule(
    id="switch-ways",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("404.2(A)"),
    title="Switches that turn one light from several places are of the right kind",
    why="A light that is turned from two places takes two three-ways, from more places a four-way for each further one. A "
    "single-pole switch among them works only while the other happens to be on.",
    look_for="Two locations: three-way at both. Three and more: three-way at the two ends of the chain, four-way between.",
    cure="Change the switch: three-way at both ends of the chain, four-way at every location between them.",
    says={
        "alone": "It alone turns {loads}.",
        "in-chain": "It is a {ways}, one of {count:n} locations that turn {loads}.",
        "single": "It is {ways}, but {others} turn the same load.",
        "too-many": "{count:n} three-way switches turn {loads}; two are three-way, the others have to be four-way.",
        "no-ends": "All of the {count:n} locations that turn {loads} are four-way; the two ends have to be three-way.",
        "controls-nothing": "What it turns is not recorded.",
        "ways-unknown": "Whether it is three-way or four-way is not recorded; {others} turn the same load.",
        "no-second": "It is a {ways}, and no second location is recorded for what it turns.",
        "no-switch": "It is no switch.",
    },
    mistakes="Trimming a three-location stair with three three-ways; a single-pole fitted where a three-way was roughed in.",
    plain="Two switches for one light must both be three-way; more than two need four-way switches in the middle.",
)
def switch_ways(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A switch's ways against how many locations turn its loads."""
    if device.kind is not DeviceKind.SWITCH:
        return outside("no-switch")
    loads = [house.devices[each] for each in device.controls if each in house.devices]
    if not loads:
        return unseen("controls-nothing", Missing("what the switch controls", "device.controls"))
    group = {
        other.id: other for load in loads for other in house.controlled_by.get(load.id, ()) if other.kind is DeviceKind.SWITCH
    }  # fmt: skip
    named = Lazily(lambda: listed([device_name(load, house) for load in loads]))
    others = Lazily(
        lambda: listed([device_name(other, house) for each, other in group.items() if each != device.id])
    )
    if len(group) < 2:
        if device.ways in _OF_SEVERAL:
            missing = Missing("the other switch location", "device.controls")
            return unseen("no-second", missing, ways=str(device.ways))
        return clear("alone", loads=named)
    ways = [other.ways for other in group.values()]
    if work:
        work.step("locations that turn the same load", len(group), "locations")
    if device.ways is None:
        missing = Missing("whether the switch is three-way or four-way", "device.ways")
        return unseen("ways-unknown", missing, others=others)
    if device.ways not in _OF_SEVERAL:
        return correction("single", ways=str(device.ways), others=others)
    if ways.count(SwitchWays.THREE_WAY) > 2:
        return correction("too-many", count=ways.count(SwitchWays.THREE_WAY), loads=named)
    if all(way is SwitchWays.FOUR_WAY for way in ways):
        return correction("no-ends", count=len(group), loads=named)
    return clear("in-chain", ways=str(device.ways), count=len(group), loads=named)
