"""The wire that lets one alarm sound all of them: laid over a hookup that knows nothing of it.

Hardwired alarms are joined by one more conductor from alarm to alarm (common practice: the red of a three-wire cable).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Final

from server.reckon.hookup import CableEnd, Hookup, Join, Plan, Terminal, Wiring
from server.reckon.hookup.tree import Tree

__all__ = ["SIGNAL", "with_interconnect"]

SIGNAL: Final = "interconnect"


def with_interconnect(hookup: Hookup, wiring: Wiring, alarms: Collection[str]) -> Hookup:
    """The hookup with its alarms joined where the cables between them have a conductor to spare.

    ``alarms`` are names of devices. Where a cable has none to spare a note says so: alarms that are joined by radio
    need none.
    """
    homes = {device.id: device.node for device in wiring.devices if device.id in alarms}
    if hookup.plan is None or len(homes) < 2:
        return hookup
    try:
        tree = Tree([node.id for node in wiring.nodes], wiring.cables)
    except AssertionError:  # a ring, or more than one island
        return hookup
    first, *others = homes.values()
    span = 0
    for other in others:
        span |= tree.path(first, other)
    spare: dict[str, str] = {}
    planned = {cable.id: cable for cable in hookup.plan.cables}
    for cable, bit in zip(tree.cables, tree.bits, strict=True):
        if not span & bit:
            continue
        left = [
            c.color
            for c in planned[cable.id].conductors
            if c.signal is None and not c.color.startswith("white")
        ]
        if not left:
            note = (
                f"Cable {cable.id} has no conductor left to join the alarms at its ends: fit alarms that are joined by "
                "radio, or pull a three-wire cable."
            )
            return replace(hookup, notes=(*hookup.notes, note))
        spare[cable.id] = left[0]
    return replace(
        hookup, plan=_joined(hookup.plan, wiring, spare, homes), conductors=hookup.conductors + len(spare)
    )


def _joined(plan: Plan, wiring: Wiring, spare: dict[str, str], homes: dict[str, str]) -> Plan:
    cables = tuple(
        replace(
            cable,
            conductors=tuple(
                replace(conductor, signal=SIGNAL) if spare.get(cable.id) == conductor.color else conductor
                for conductor in cable.conductors
            ),
        )
        for cable in plan.cables
    )
    ends: dict[str, list[CableEnd | Terminal]] = {}
    for cable in wiring.cables:
        if cable.id in spare:
            for node in (cable.a, cable.b):
                ends.setdefault(node, []).append(CableEnd(cable.id, spare[cable.id]))
    for alarm, node in homes.items():
        ends.setdefault(node, []).append(Terminal(alarm, SIGNAL))
    boxes = tuple(
        replace(box, joins=(*box.joins, Join(tuple(ends[box.node]), SIGNAL))) if box.node in ends else box
        for box in plan.boxes
    )
    return Plan(cables, boxes)
