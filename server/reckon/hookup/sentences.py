"""The answer in words: what is short, what is worth knowing about a plan, and the steps of the reckoning."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from server.reckon.hookup.colors import Palettes, Role
from server.reckon.hookup.facts import Cable, Kind, Wiring
from server.reckon.hookup.listing import listed
from server.reckon.hookup.nets import Net
from server.reckon.hookup.orders import Choice
from server.reckon.hookup.result import CablePlan, Short, TruthTable
from server.reckon.work import Work

__all__ = [
    "count_of",
    "groups_shown",
    "listed",
    "plan_shown",
    "rules_shown",
    "short_sentence",
    "uncommon_notes",
]


def count_of(count: int, one: str, many: str = "") -> str:
    """``1 box``, ``3 boxes``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def short_sentence(short: Sequence[Short], cables: Iterable[Cable], ring: Sequence[str]) -> str:
    """What is short, with boxes and cables named; the first cable in full."""
    by_id = {cable.id: cable for cable in cables}
    first = short[0]
    cable = by_id[first.cable]
    text = (
        f"Cable {cable.id} from {cable.a} to {cable.b} has {count_of(first.has, 'insulated conductor')} and needs "
        f"{first.needs}: {listed(first.signals)}."
    )
    neutrals = [signal for signal in first.signals if "neutral" in signal]
    if first.needs > len(first.signals):
        if len(neutrals) > 1:
            text += (
                f" {count_of(len(neutrals), 'neutral')} have to be kept apart, and only a white or gray conductor may "
                "be one: a cable made with two neutrals would do with fewer."
            )
        else:
            text += " A white may not be the way back from a switch to its outlet."
    if len(short) > 1:
        more = [f"cable {item.cable} has {item.has} and needs {item.needs}" for item in short[1:]]
        text += f" Also short: {listed(more)}."
    if ring:
        text += f" Cables {listed(sorted(ring))} close a ring; wherever it is opened, no lawful hookup fits."
    return text


def uncommon_notes(choice: Choice, cites: str, larger: Sequence[str]) -> list[str]:
    """A note for every group that is wired the uncommon way; ``larger`` are the cables that the usual way takes."""
    found = []
    usual = f" The usual way takes {listed(larger)}." if larger else ""
    for (group, _), option in zip(choice.feeding.groups, choice.options, strict=True):
        if option.ring:
            names = listed(group.switches[index].id for index in option.order.switches)
            found.append(
                f"{names} do not fit these cables in the usual way: hot and switched hot lie on a pair of their screws "
                "and a link joins the commons. Ask the inspector first: in one position the link runs beside the hot, "
                f"which some read as conductors in parallel ({cites}).{usual}"
            )
    return found


def rules_shown(wiring: Wiring, palettes: Palettes, work: Work) -> None:
    """What is reckoned, and the rules that bind it."""
    code = palettes.code
    switches = [device for device in wiring.devices if device.kind is Kind.SWITCH]
    work.step(
        f"{count_of(len(wiring.nodes), 'node')}, {count_of(len(wiring.cables), 'cable')}, "
        f"{count_of(len(switches), 'switch', 'switches')}, "
        f"{count_of(len(wiring.devices) - len(switches), 'other device')}"
    )
    for name, text in (
        ("hookup.switches_ungrounded_only", "switches open and close ungrounded conductors only"),
        ("hookup.conductors_together", "out and back of every circuit run in the same cable"),
    ):
        if code.flag(name, work):
            work.step(text, cites=code.cites(name))


def groups_shown(choice: Choice, palettes: Palettes, work: Work) -> None:
    """The order of every group's switches, and where a neutral is kept for them."""
    for (group, _), option in zip(choice.feeding.groups, choice.options, strict=True):
        names = [group.switches[index].id for index in option.order.switches]
        loads = listed(load for tier in group.tiers for load in tier.loads)
        work.step(f"{loads}: switched by {', then '.join(names)}", len(names), "locations")
    kept = sorted({node.split("\0")[0] for nodes in choice.feeding.kept.values() for node in nodes})
    if kept:
        work.step(
            f"a neutral is present for the switches in {listed(kept)}",
            cites=palettes.code.cites("hookup.neutral_at_switch"),
        )
    elif choice.feeding.groups:
        work.skip(
            "no neutral has to be kept for the switches here", palettes.code.cites("hookup.neutral_at_switch")
        )


def plan_shown(
    cables: Sequence[CablePlan],
    nets: Sequence[Net],
    tables: Sequence[TruthTable],
    splices: int,
    wiring: Wiring,
    palettes: Palettes,
    work: Work,
) -> None:
    """Every cable's count, what is re-identified, and what was proved."""
    code = palettes.code
    for cable in cables:
        used = [conductor for conductor in cable.conductors if conductor.signal]
        for conductor in used:
            if conductor.reidentified_as:
                work.step(
                    f"{cable.id}: {conductor.color} re-identified {conductor.reidentified_as} for {conductor.signal}",
                    cites=code.cites("hookup.white_reidentified_for"),
                )
        carries = listed(str(conductor.signal) for conductor in used) or "nothing"
        work.step(f"{cable.id} of {len(cable.conductors)} carries {carries}", len(used), "conductors")
    if any(node.legs > 1 for node in wiring.nodes) and code.flag("hookup.multiwire_pigtailed", work):
        work.step(
            "the shared neutral is joined in every box and reaches devices by pigtails",
            cites=code.cites("hookup.multiwire_pigtailed"),
        )
    if any(net.role is Role.HOT for net in nets) and code.flag("hookup.grounds_joined", work):
        work.step(
            "equipment grounds are joined in every box; not counted as splices here",
            cites=code.cites("hookup.grounds_joined"),
        )
    work.step("joins that take a connector", splices, "splices")
    work.step("switch positions tried", sum(len(table.rows) for table in tables), "positions")
