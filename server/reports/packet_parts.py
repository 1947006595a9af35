"""What the packet has besides rooms and panels: the load sheet, hookup plans, who mended what, photographs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from server.drawings.hookup import draw_box_hookup
from server.drawings.svg import Medium
from server.dwelling import DeviceKind, Dwelling
from server.editions import Edition
from server.readiness.hookups import BoxHookup, hookup_view
from server.reports.sections import ReportJob
from server.rules.hookups import State, hookups
from server.rules.registry import RULES
from server.store.assignments import Assignment
from server.store.visits import Visit

__all__ = ["HookupCard", "HookupSection", "WorkLine", "WorkSection", "hookup_sections", "work_section"]


@dataclass(frozen=True, slots=True)
class HookupCard:
    """One box's plan."""

    card: BoxHookup
    drawing: Markup


@dataclass(frozen=True, slots=True)
class HookupSection:
    """A circuit's plan, box by box."""

    job: ReportJob
    name: str
    cards: tuple[HookupCard, ...]


@dataclass(frozen=True, slots=True)
class WorkLine:
    """Something that was given out: what, where, by whom mended and looked at again."""

    what: str
    where: str
    mended_by: str
    checked_by: str


@dataclass(frozen=True, slots=True)
class WorkSection:
    """What was mended and when, and the visits so far."""

    job: ReportJob
    mended: tuple[WorkLine, ...]
    visits: tuple[Visit, ...]
    today: date | None = None


def hookup_sections(job: ReportJob, house: Dwelling, code: Edition) -> list[HookupSection]:
    """The plans of the circuits in which a switch decides something: the others are joined color to color."""
    found = []
    plans = house.derive(hookups, code)
    for circuit in house.facts.circuits:
        boxes = {
            end
            for cable in house.cables_of_circuit.get(circuit.id, ())
            for end in (cable.a_box_id, cable.b_box_id)
            if end
        }
        switched = any(
            device.kind is DeviceKind.SWITCH and device.controls
            for box in boxes
            for device in house.devices_of_box.get(box, ())
        )
        plan = plans.of(circuit.id)
        if not switched or plan.state is not State.LAWFUL:
            continue
        view = hookup_view(plan, house)
        cards = tuple(
            HookupCard(card, Markup(draw_box_hookup(card, medium=Medium.PAPER)))  # noqa: S704 - our own drawing
            for card in view.cards
        )
        found.append(HookupSection(job, circuit.name, cards))
    return found


def work_section(
    job: ReportJob, house: Dwelling, given: Iterable[Assignment], visits: Sequence[Visit]
) -> WorkSection | None:
    """What was mended, and the visits; None where there is neither."""
    mended = tuple(
        WorkLine(
            RULES[item.rule].title if item.rule in RULES else "the whole room",
            house.rooms[item.room_id].name if item.room_id in house.rooms else "the job", item.done_by, item.checked_by,
        )
        for item in given
        if item.done_by
    )  # fmt: skip
    return WorkSection(job, mended, tuple(visits)) if mended or visits else None
