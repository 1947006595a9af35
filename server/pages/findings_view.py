"""Findings as pages show them: grouped by rule, worst first, each with the name of what it is about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from server.pages.opened import OpenJob
from server.pages.pictures_view import NO_PICTURES, ShownPicture, of_observations
from server.readiness import Finding, Line, line_of
from server.readiness.naming import subject_name
from server.rules.outcome import Verdict

__all__ = ["Group", "Shown", "groups_of"]

_WORST_FIRST: Final = (Verdict.CORRECTION, Verdict.UNSEEN, Verdict.INSPECTOR, Verdict.CLEAR, Verdict.OUTSIDE)


@dataclass(frozen=True, slots=True)
class Shown:
    """One finding in words. ``where`` names its subject; ``link`` leads to it; ``why`` to its reckoning."""

    line: Line
    where: str
    room: str
    link: str
    why: str
    pictures: tuple[ShownPicture, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """The findings of one rule with one verdict."""

    rule_id: str
    title: str
    verdict: str
    article: str
    doubt: str
    shown: tuple[Shown, ...]
    more: int


def groups_of(
    findings: Iterable[Finding],
    opened: OpenJob,
    verdict: Verdict,
    *,
    most: int = 40,
    room_names: bool = False,
    pictures: Mapping[str, ShownPicture] = NO_PICTURES,
) -> list[Group]:
    """The findings of a verdict by rule, in the order of the rule book; long groups are cut and say by how many."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.outcome.verdict is verdict:
            by_rule.setdefault(finding.rule.id, []).append(finding)
    groups = []
    for rule_id, members in by_rule.items():
        shown = tuple(_shown(finding, opened, room_names, pictures) for finding in members[:most])
        first = shown[0].line
        groups.append(
            Group(
                rule_id,
                first.title,
                verdict.value,
                first.article,
                first.doubt,
                shown,
                max(0, len(members) - most),
            )
        )
    return groups


def _shown(
    finding: Finding, opened: OpenJob, room_names: bool, pictures: Mapping[str, ShownPicture]
) -> Shown:
    house, job = opened.house, opened.job
    ref = finding.place
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
        subject_name(ref, house),
        room.name if room and room_names else "",
        links.get(ref.kind, f"{base}/rooms/{room.id}" if room else f"{base}/readiness"),
        f"{base}/why/{finding.rule.id}/{finding.subject.kind}/{finding.subject.id}",
        _pictures(finding, opened, pictures),
    )


def _pictures(
    finding: Finding, opened: OpenJob, pictures: Mapping[str, ShownPicture]
) -> tuple[ShownPicture, ...]:
    """The photographs of what was recorded of it, or of the whole room under its rule."""
    if not pictures:
        return ()
    house, rule = opened.house, finding.rule.id
    own = house.seen(finding.subject.kind, finding.subject.id, rule)
    found, _ = of_observations(pictures, (own, *(house.seen("room", room, rule) for room in finding.rooms)))
    return found
