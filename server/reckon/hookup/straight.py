"""The hookup of a two-pole circuit: every load between the two hots, some with a neutral besides.

There is nothing to search here: no switch, one way. Which conductor is which, and whether there are enough of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from server.editions import Edition
from server.reckon.hookup.colors import Palettes, Role
from server.reckon.hookup.facts import Cable, Wiring
from server.reckon.hookup.faults import NoHookup, faults_of
from server.reckon.hookup.plan import whole_plan
from server.reckon.hookup.result import (
    CableEnd,
    CableNeed,
    CablePlan,
    End,
    Hookup,
    Join,
    Short,
    Terminal,
)
from server.reckon.hookup.sentences import listed, short_sentence
from server.reckon.hookup.tree import Tree
from server.reckon.work import SILENT, Work

__all__ = ["straight_hookup"]

_HOTS = ("hot, leg 1", "hot, leg 2")
_NEUTRAL = "neutral"


def straight_hookup(
    wiring: Wiring, with_neutral: Collection[str], code: Edition, work: Work = SILENT
) -> Hookup:
    """Hook up a two-pole circuit.

    Args:
        wiring: one source with two legs, a tree of cables, loads only.
        with_neutral: the devices that take the neutral too; a load that does not need one is given it where every
            cable on the way brings one, and may cap it.

    Source: 200.7(C)(1) (a cable's white may be a hot once re-identified), 250.148.
    """
    if faults := faults_of(wiring):
        return Hookup(False, why=" ".join(f"{fault.sentence}." for fault in faults[:3]))
    source = next((node for node in wiring.nodes if node.is_source), None)
    if source is None or not wiring.devices:
        return Hookup(False, why="No source or no device is given: there is nothing to hook up.")
    try:
        tree = Tree((source.id, *(node.id for node in wiring.nodes if node is not source)), wiring.cables)
    except (AssertionError, IndexError):
        return Hookup(False, why="The cables are no tree: one closes a ring or hangs apart from the source.")
    palettes = Palettes(code, work)
    carried = _carried(wiring, tree, source.id, with_neutral)
    short = [
        Short(
            cable.id,
            cable.insulated,
            palettes.needs(cable, *_counts(signals)),
            tuple(text for _, text in signals),
        )
        for cable, signals in carried.items()
        if not palettes.fits(cable, [role for role, _ in signals])
    ]
    if short:
        needs = {item.cable: item.needs for item in short}
        cheapest = tuple(
            CableNeed(
                cable.id, needs.get(cable.id, cable.insulated), cable.insulated,
                palettes.usual(needs[cable.id]).colors if cable.id in needs else palettes.of(cable).colors,
            )
            for cable in wiring.cables
        )  # fmt: skip
        return Hookup(
            False, why=short_sentence(short, wiring.cables, ()), short=tuple(short), cheapest=cheapest
        )
    try:
        plans = {
            cable.id: CablePlan(
                cable.id,
                cable.a,
                cable.b,
                palettes.assign(cable, carried[cable]),
                palettes.ground(cable.kind),
            )
            for cable in wiring.cables
        }
    except NoHookup as reason:
        return Hookup(False, why=str(reason))
    joins = _joins(wiring, source.id, plans)
    plan = whole_plan(wiring, palettes, plans.values(), joins)
    conductors = [conductor for cable in plan.cables for conductor in cable.conductors]
    if work:
        for cable in plan.cables:
            used = [conductor for conductor in cable.conductors if conductor.signal]
            work.step(f"{cable.id} carries {listed(str(c.signal) for c in used)}", len(used), "conductors")
    return Hookup(
        True,
        plan=plan,
        always_live=tuple(device.id for device in wiring.devices),
        splices=sum(join.is_splice for box in plan.boxes for join in box.joins),
        reidentified=sum(conductor.reidentified_as is not None for conductor in conductors),
        conductors=sum(conductor.signal is not None for conductor in conductors),
    )


def _counts(signals: list[tuple[Role, str]]) -> tuple[int, int, int]:
    neutrals = sum(role is Role.NEUTRAL for role, _ in signals)
    return neutrals, len(signals) - neutrals, 0


def _carried(
    wiring: Wiring, tree: Tree, source: str, with_neutral: Collection[str]
) -> dict[Cable, list[tuple[Role, str]]]:
    """What each cable carries. A neutral that is not asked for goes as far as the cables bring one."""
    hots = neutrals = 0
    for device in wiring.devices:
        way = tree.path(source, device.node)
        hots |= way
        brought = all(
            cable.insulated > 2 for cable, bit in zip(tree.cables, tree.bits, strict=True) if way & bit
        )
        if device.id in with_neutral or brought:
            neutrals |= way
    found: dict[Cable, list[tuple[Role, str]]] = {}
    for cable, bit in zip(tree.cables, tree.bits, strict=True):
        found[cable] = [(Role.NEUTRAL, _NEUTRAL)] if neutrals & bit else []
        found[cable] += [(Role.HOT, text) for text in _HOTS] if hots & bit else []
    return found


def _joins(wiring: Wiring, source: str, plans: dict[str, CablePlan]) -> dict[str, list[Join]]:
    ends: dict[str, dict[str, list[End]]] = defaultdict(lambda: defaultdict(list))
    for cable in wiring.cables:
        for conductor in plans[cable.id].conductors:
            if conductor.signal is not None:
                for node in (cable.a, cable.b):
                    ends[node][conductor.signal].append(CableEnd(cable.id, conductor.color))
    for device in wiring.devices:
        for signal, terminal in ((_HOTS[0], "hot_1"), (_HOTS[1], "hot_2"), (_NEUTRAL, "neutral")):
            if ends[device.node][signal]:
                ends[device.node][signal].append(Terminal(device.id, terminal))
    for signal, terminal in ((_HOTS[0], "hot"), (_HOTS[1], "hot_2"), (_NEUTRAL, "neutral")):
        if ends[source][signal]:
            ends[source][signal].append(Terminal(source, terminal))
    return {
        node: [Join(tuple(joined), signal) for signal, joined in by_signal.items() if joined]
        for node, by_signal in ends.items()
    }
