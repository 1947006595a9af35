"""What a cable's white conductor is used for, as far as the recorded facts tell.

The one place that the rules ask (:func:`white_use_of`): what was recorded on the cable stands first, then what the
circuit's hookup makes of it, and where there is none yet, what follows from the circuit's tree. A two-wire cable that
feeds anything with a neutral needs its white for that neutral; one that leads only to switches has no use for a
neutral and carries two hots.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from server.dwelling import Cable, Circuit, Device, DeviceKind, Dwelling, SwitchWays, WhiteUse
from server.editions import Edition
from server.rules.circuit_trees import circuit_trees, far_end
from server.rules.hookups import State, hookups

__all__ = ["White", "white_use_of"]

_OF_SEVERAL: Final = (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY)
_WHOLE_VOLTS: Final = 200
"""A two-pole circuit of this and more between its poles is 240 (or 208) V."""


@dataclass(frozen=True, slots=True)
class White:
    """``ungrounded`` is None where nobody can tell, and ``missing`` then names the field that would.

    ``use`` is None where the white is known to be hot but not which way round (a switch loop).
    """

    ungrounded: bool | None
    use: WhiteUse | None = None
    why: str = ""
    missing: str = ""


_GROUNDED: Final = White(False, WhiteUse.GROUNDED, "it is the neutral of what it feeds")
_RECORDED: Final = {use: White(use is not WhiteUse.GROUNDED, use, "it is recorded so") for use in WhiteUse}
_STRAIGHT: Final = White(True, WhiteUse.UNGROUNDED, "a two-pole load without neutral takes both conductors")
_LOOP: Final = White(True, None, "the cable leads only to a switch, which takes every conductor hot")
_THREE_WAY_LOOP: Final = White(
    True, None, "the cable leads only to a three-way switch, which takes three hots"
)
_SPARE_FOR_NEUTRAL: Final = White(False, WhiteUse.GROUNDED, "the switch leaves it free for the neutral")
_NO_OTHER_LEFT: Final = White(True, None, "every other conductor of the cable is needed for another hot")
_NO_CIRCUIT: Final = White(None, missing="cable.circuit_ids")
_NOT_REACHED: Final = White(None, missing="cable.white_use")


def white_use_of(cable: Cable, house: Dwelling, code: Edition) -> White:
    """What the white of this cable carries."""
    if cable.white_use is not None:
        return _RECORDED[cable.white_use]
    return _by_hookup(cable, house, code) or house.derive(_reckoned).get(cable.id, _NO_CIRCUIT)


def _by_hookup(cable: Cable, house: Dwelling, code: Edition) -> White | None:
    """What the white carries where the circuit's hookup is found; None where it is not."""
    circuits = [each for each in cable.circuit_ids if each in house.circuits]
    if not circuits:
        return None
    found = house.derive(hookups, code).of(circuits[0])
    planned = found.cable(cable.id) if found.state is State.LAWFUL else None
    if planned is None:
        return None
    white = next((each for each in planned.conductors if each.color.startswith(("white", "gray"))), None)
    if white is None or white.signal is None:
        return None
    if white.reidentified_as is None:
        return _GROUNDED
    # that it is a hot is certain; which of the hots it was made, only somebody who looks can tell
    return _STRAIGHT if found.entered.straight else _NO_OTHER_LEFT


def _reckoned(house: Dwelling) -> Mapping[str, White]:
    return {cable.id: _of(cable, house) for cable in house.facts.cables if cable.white_use is None}


def _of(cable: Cable, house: Dwelling) -> White:
    circuits = [house.circuits[each] for each in cable.circuit_ids if each in house.circuits]
    if not circuits:
        return _NO_CIRCUIT
    if len(circuits) == 1 and _straight(circuits[0]):
        return _STRAIGHT if cable.insulated == 2 else _GROUNDED
    trees = house.derive(circuit_trees)
    beyond: list[Device] = []
    reached = False
    for circuit in circuits:
        tree = trees[circuit.id]
        end = far_end(cable, tree)
        if end is not None:
            reached = True
            beyond.extend(tree.devices_beyond(end, house))
    if not reached or not beyond:
        return _NOT_REACHED
    if any(device.kind is not DeviceKind.SWITCH for device in beyond):
        return _GROUNDED
    hots = _hots(beyond)
    if hots < cable.insulated:
        return _SPARE_FOR_NEUTRAL
    return _THREE_WAY_LOOP if any(d.ways in _OF_SEVERAL for d in beyond) else _LOOP


def _straight(circuit: Circuit) -> bool:
    return circuit.poles == 2 and circuit.volts >= _WHOLE_VOLTS


def _hots(switches: Iterable[Device]) -> int:
    """The hot conductors that switches at the end of a run need: one feed and each its return, or three."""
    switches = list(switches)
    ways = [switch.ways for switch in switches]
    if any(way in _OF_SEVERAL for way in ways):
        # a three-way takes its common and two travelers, whichever side the feed is on
        return 3 + sum(way in (SwitchWays.SINGLE_POLE, None) for way in ways)
    return 1 + len(switches)
