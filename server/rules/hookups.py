"""Which conductor goes where, for every circuit of a house: found once, and then asked by rules, pages and drawings.

    found = house.derive(hookups, code).of(circuit_id)
    found.state                     # lawful, short, impossible, unfinished, outside
    found.hookup.plan               # box by box, under the names of found.names

A hookup is found only for the circuits that somebody asks about. What was found for one wiring is remembered: after
a change of one circuit the others are not reckoned again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from server.dwelling import Circuit, Device, DeviceKind, Dwelling, SwitchWays
from server.editions import Edition
from server.reckon.hookup import BoxPlan, CablePlan, Hookup, Terminal, Wiring, solve_hookup
from server.reckon.hookup.straight import straight_hookup
from server.reckon.remembered import remembered
from server.reckon.work import SILENT, Work
from server.rules.alarm_wires import with_interconnect
from server.rules.hookup_gaps import Gap
from server.rules.hookup_names import Names, listed
from server.rules.hookup_wiring import Entered, circuit_sets, entered
from server.rules.runs import Run

__all__ = [
    "CircuitHookup",
    "Hookups",
    "State",
    "hookup_of",
    "hookups",
    "plain_signal",
    "switches_that_would_do",
]

_ALARMS: Final = (DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.SMOKE_CO_ALARM)


class State(StrEnum):
    """What came of looking for a hookup."""

    LAWFUL = "lawful"
    SHORT = "short"
    """Some cable has too few conductors; the cheapest cables that do are known."""
    IMPOSSIBLE = "impossible"
    """No cable mends it: the devices ask for what no wiring can do."""
    UNFINISHED = "unfinished"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class CircuitHookup:
    """The hookup of one circuit, or of those that are wired together with it."""

    entered: Entered
    state: State
    hookup: Hookup
    asks: str = ""
    """What the inspector has to agree to, where the hookup is lawful only then."""

    @property
    def circuits(self) -> tuple[Circuit, ...]:
        """The circuits that it covers."""
        return self.entered.circuits

    @property
    def run(self) -> Run:
        """The run that it lies on."""
        return self.entered.run

    @property
    def names(self) -> Names:
        """What boxes, cables and devices are called in it."""
        return self.entered.names

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """What is not entered yet."""
        return self.entered.gaps

    @property
    def why(self) -> str:
        """Why there is no hookup, in one sentence."""
        why = self.entered.why_outside or (self.gaps[0].sentence if self.gaps else self.hookup.why)
        for item in self.hookup.short:
            # which switches a traveler joins is told where the cable is: it lies between the two
            for signal in item.signals:
                why = why.replace(signal, plain_signal(signal))
        return why

    def cable(self, cable_id: str) -> CablePlan | None:
        """What the conductors of a cable are for; None where no hookup was found."""
        return _by_name(self.hookup, "cables").get(self.names.cable.get(cable_id, ""))  # type: ignore[return-value]

    def box(self, box_id: str) -> BoxPlan | None:
        """The joins in a box; None where no hookup was found."""
        return _by_name(self.hookup, "boxes").get(self.names.box.get(box_id, ""))  # type: ignore[return-value]


def _by_name(hookup: Hookup, what: str) -> Mapping[str, CablePlan | BoxPlan]:
    if hookup.plan is None:
        return {}
    if what == "cables":
        return {cable.id: cable for cable in hookup.plan.cables}
    return {box.node: box for box in hookup.plan.boxes}


def plain_signal(signal: str) -> str:
    """``traveler 1`` of ``traveler 1 (Stair S1 to Stair S2)``."""
    return signal.split(" (", 1)[0] if signal.startswith(("traveler", "link")) else signal


class Hookups:
    """The hookups of a house under one edition, each found when it is first asked for."""

    __slots__ = ("_code", "_found", "_house", "_sets")

    def __init__(self, house: Dwelling, code: Edition) -> None:
        self._house, self._code = house, code
        self._sets = house.derive(circuit_sets)
        self._found: dict[str, CircuitHookup] = {}

    def of(self, circuit_id: str) -> CircuitHookup:
        """The hookup of a circuit.

        Raises:
            KeyError: the house has no such circuit.
        """
        found = self._found.get(circuit_id)
        if found is None:
            found = hookup_of(self._sets[circuit_id], self._house, self._code)
            for circuit in found.circuits:
                self._found[circuit.id] = found
        return found

    def of_box(self, box_id: str) -> list[CircuitHookup]:
        """The hookups that have a part in a box, each once."""
        found = [self.of(circuit.id) for circuit in self._house.circuits_of_box(box_id)]
        return list({id(each): each for each in found}.values())


def hookups(house: Dwelling, code: Edition) -> Hookups:
    """For ``house.derive(hookups, code)``."""
    return Hookups(house, code)


def hookup_of(
    circuits: tuple[Circuit, ...], house: Dwelling, code: Edition, work: Work = SILENT
) -> CircuitHookup:
    """The hookup of circuits that are wired together; with ``work`` its steps are recorded."""
    found = entered(circuits, house, code)
    if found.why_outside:
        return CircuitHookup(found, State.OUTSIDE, Hookup(False, why=found.why_outside))
    if found.wiring is None:
        return CircuitHookup(found, State.UNFINISHED, Hookup(False, why=found.gaps[0].sentence))
    if not found.wiring.devices:
        sentence = f"No device is recorded in the boxes of {found.circuits[0].name}: there is nothing to hook up yet."
        gap = Gap(sentence, "the devices in its boxes", "device")
        bare = replace(found, gaps=(gap,), wiring=None)
        return CircuitHookup(bare, State.UNFINISHED, Hookup(False, why=sentence))
    neutrals = found.neutrals if found.straight else None
    if work:
        solved = _solve(found.wiring, neutrals, code, work)
    else:
        solved = _remembered(found.wiring, neutrals, code)
    asks = ""
    if solved.short and not found.straight:
        found, solved, asks = _with_one_neutral(found, solved, house, code)
    assert found.wiring is not None
    if solved.possible and not found.straight:
        solved = with_interconnect(solved, found.wiring, _alarms(found, house))
    state = State.LAWFUL if solved.possible else State.SHORT if solved.short else State.IMPOSSIBLE
    return CircuitHookup(found, state, solved, asks)


def _with_one_neutral(
    found: Entered, short: Hookup, house: Dwelling, code: Edition
) -> tuple[Entered, Hookup, str]:
    """The same where a neutral at one of several locations in a room makes it possible: 404.2(C) lets one do where the
    whole floor is seen from the switches. Each location is tried as the one that keeps it."""
    wiring = found.wiring
    assert wiring is not None
    if not code.flag("hookup.one_neutral_where_all_is_seen"):
        return found, short, ""
    for nodes in _locations_of_one_room(found, house):
        for kept in nodes:
            without = wiring.neutral_exempt | (nodes - {kept})
            if without == wiring.neutral_exempt:
                continue
            relaxed = replace(wiring, neutral_exempt=without)
            solved = _remembered(relaxed, None, code)
            if solved.possible:
                others = listed(sorted(nodes - {kept}))
                asks = (
                    f"The neutral reaches {kept} and not {others}. One location is enough only where the whole floor is seen "
                    f"from the switches ({code.cites('hookup.one_neutral_where_all_is_seen')}): ask the inspector first."
                )
                return replace(found, wiring=relaxed), solved, asks
    return found, short, ""


def _locations_of_one_room(found: Entered, house: Dwelling) -> list[frozenset[str]]:
    """The boxes, by name, of switches that turn one light together and stand in one room."""
    assert found.wiring is not None
    at: dict[str, set[str]] = {}
    for device in found.wiring.devices:
        for load in device.controls:
            at.setdefault(load, set()).add(device.node)
    several = []
    for nodes in dict.fromkeys(frozenset(each) for each in at.values()):
        rooms = {house.boxes[found.names.box_id[node]].room_id for node in nodes}
        if len(nodes) > 1 and len(rooms) == 1:
            several.append(nodes)
    return several


def switches_that_would_do(found: CircuitHookup, code: Edition) -> Mapping[str, SwitchWays]:
    """The kinds of switch that make a hookup possible, by device id: only those that are recorded otherwise, or not.

    Found with the kinds left open; with the cheapest cables in place where no kinds do as the cables are. Where the
    kinds recorded are lawful and only a cable is short, others are proposed only if they save the cable.
    """
    wiring = found.entered.wiring
    if wiring is None or found.entered.straight:
        return {}
    sharing: dict[str, set[str]] = {}
    for device in wiring.devices:
        for load in device.controls:
            sharing.setdefault(load, set()).add(device.id)
    shared = set().union(*(switches for switches in sharing.values() if len(switches) > 1))
    recorded = all(device.ways for device in wiring.devices if device.id in shared)
    if not shared or (recorded and found.state is State.LAWFUL):
        return {}
    open_kinds = replace(
        wiring, devices=tuple(replace(d, ways=None) if d.id in shared else d for d in wiring.devices)
    )
    solved = _remembered(open_kinds, None, code)
    if solved.short and recorded and found.state is State.SHORT:
        return {}
    if solved.short:
        needs = {need.cable: need.insulated for need in solved.cheapest}
        cables = tuple(
            replace(cable, insulated=needs[cable.id], colors=())
            if needs.get(cable.id, 0) > cable.insulated
            else cable
            for cable in wiring.cables
        )
        solved = _remembered(replace(open_kinds, cables=cables), None, code)
    if solved.plan is None:
        return {}
    used: dict[str, str] = {}
    for box in solved.plan.boxes:
        for join in box.joins:
            for end in join.ends:
                if isinstance(end, Terminal) and end.device in shared:
                    used[end.device] = end.terminal
    wanted = {
        device: SwitchWays.FOUR_WAY if terminal.startswith(("in_", "out_")) else SwitchWays.THREE_WAY
        for device, terminal in used.items()
    }
    before = {device.id: device.ways for device in wiring.devices}
    return {found.names.device_id[name]: ways for name, ways in wanted.items() if before[name] is not ways}


def _alarms(found: Entered, house: Dwelling) -> frozenset[str]:
    def is_alarm(device: Device | None) -> bool:
        return device is not None and device.kind in _ALARMS

    return frozenset(name for each, name in found.names.device.items() if is_alarm(house.devices.get(each)))


def _solve(wiring: Wiring, neutrals: frozenset[str] | None, code: Edition, work: Work) -> Hookup:
    if neutrals is not None:
        return straight_hookup(wiring, neutrals, code, work)
    return solve_hookup(wiring, code, work)


@remembered(2048)
def _remembered(wiring: Wiring, neutrals: frozenset[str] | None, code: Edition) -> Hookup:
    return _solve(wiring, neutrals, code, SILENT)
