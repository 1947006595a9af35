"""Findings as pages show them: grouped by rule, worst first, each with the name of what it is about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from server.dwelling import (
    Box,
    Cable,
    Circuit,
    Counter,
    Device,
    Dwelling,
    Fixture,
    Level,
    Panel,
    Ref,
    Room,
    Surface,
    Wall,
    format_length,
)
from server.pages.opened import OpenJob
from server.readiness import Finding, Line, line_of
from server.rules.naming import cable_name, circuit_name
from server.rules.outcome import Verdict

__all__ = ["Group", "Shown", "groups_of", "named"]

_WORST_FIRST: Final = (Verdict.CORRECTION, Verdict.UNSEEN, Verdict.INSPECTOR, Verdict.CLEAR, Verdict.OUTSIDE)


@dataclass(frozen=True, slots=True)
class Shown:
    """One finding in words. ``where`` names its subject; ``link`` leads to it; ``why`` to its reckoning."""

    line: Line
    where: str
    room: str
    link: str
    why: str


@dataclass(frozen=True, slots=True)
class Group:
    """The findings of one rule with one verdict."""

    rule_id: str
    title: str
    verdict: str
    article: str
    verified: bool
    shown: tuple[Shown, ...]
    more: int


def named(ref: Ref, house: Dwelling) -> str:
    """What a subject is called where its room is known: ``R3, wall 2 at 4 ft``, ``14-2 NM-B from R3 to R4``."""
    match house.find(ref):
        case Box() as box:
            return _box(box, house)
        case Device() as device:
            held = house.boxes.get(device.box_id)
            what = device.label or device.kind.value
            return f"{what} in {held.label or _box(held, house)}" if held else what
        case Cable() as cable:
            ends = " to ".join(
                filter(
                    None,
                    (
                        _end(cable.a_panel_id, cable.a_box_id, house),
                        _end(cable.b_panel_id, cable.b_box_id, house),
                    ),
                )
            )
            return f"{cable_name(cable)} {ends}".strip()
        case Circuit() as circuit:
            return circuit_name(circuit)
        case Wall() as wall:
            return wall.name or f"wall {wall.order + 1}"
        case Fixture() as fixture:
            return fixture.name or fixture.kind.value
        case Counter() as counter:
            return f"{counter.kind.value} counter, {format_length(counter.length_in)}"
        case Room() | Level() | Panel() as place:
            return place.name
        case _:
            return "the whole job"


def _box(box: Box, house: Dwelling) -> str:
    wall = house.walls.get(box.wall_id) if box.wall_id else None
    if wall is not None and box.at_in is not None:
        where = f"{wall.name or f'wall {wall.order + 1}'} at {format_length(box.at_in)}"
    else:
        where = "" if box.surface is Surface.WALL else box.surface.value
    return ", ".join(filter(None, (box.label, where))) or "a box"


def _end(panel_id: str | None, box_id: str | None, house: Dwelling) -> str:
    if panel_id and panel_id in house.panels:
        return house.panels[panel_id].name
    if box_id and box_id in house.boxes:
        return house.boxes[box_id].label or "a box"
    return ""


def groups_of(
    findings: Iterable[Finding],
    opened: OpenJob,
    verdict: Verdict,
    *,
    most: int = 40,
    room_names: bool = False,
) -> list[Group]:
    """The findings of a verdict by rule, in the order of the rule book; long groups are cut and say by how many."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.outcome.verdict is verdict:
            by_rule.setdefault(finding.rule.id, []).append(finding)
    groups = []
    for rule_id, members in by_rule.items():
        shown = tuple(_shown(finding, opened, room_names) for finding in members[:most])
        first = shown[0].line
        groups.append(
            Group(
                rule_id,
                first.title,
                verdict.value,
                first.article,
                first.verified,
                shown,
                max(0, len(members) - most),
            )
        )
    return groups


def _shown(finding: Finding, opened: OpenJob, room_names: bool) -> Shown:
    house, job = opened.house, opened.job
    ref = finding.subject
    room = house.rooms.get(finding.rooms[0]) if finding.rooms else None
    base = f"/jobs/{job.id}"
    links = {
        "box": f"{base}/boxes/{ref.id}", "circuit": f"{base}/circuits/{ref.id}", "panel": f"{base}/panels/{ref.id}",
        "room": f"{base}/rooms/{ref.id}", "cable": f"{base}/cables/{ref.id}",
    }  # fmt: skip
    if ref.kind == "device" and ref.id in house.devices:
        links["device"] = f"{base}/boxes/{house.devices[ref.id].box_id}"
    return Shown(
        line_of(finding, opened.code),
        named(ref, house),
        room.name if room and room_names else "",
        links.get(ref.kind, f"{base}/rooms/{room.id}" if room else f"{base}/readiness"),
        f"{base}/why/{finding.rule.id}/{ref.kind}/{ref.id}",
    )
