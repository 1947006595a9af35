"""The readiness report as sections: a cover, one per room, the panel directories.

Each section is a context of its own and becomes a piece of HTML; the page shows them below each other, paper puts
them one after the other. A section's HTML says nothing that changes without its facts changing (no time of
printing), so that what did not change is not rendered again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import groupby
from typing import Final

from markupsafe import Markup

from server.drawings.elevation import draw_wall
from server.drawings.panel_face import draw_panel
from server.drawings.svg import Medium
from server.dwelling import Dwelling, Observation, Ref, Room, format_length
from server.editions import Edition
from server.readiness import JOB, Finding, Judged, Line, RoomStanding, line_of
from server.readiness.naming import subject_name
from server.readiness.standing import standing_of
from server.reckon.box_fill import reckon_box_fill
from server.reckon.conductor_sizes import ConductorError
from server.reckon.standard_boxes import BoxError
from server.rules.box_fill import contents_of
from server.rules.outcome import Missing, Verdict
from server.rules.registry import RULES

__all__ = [
    "CAUTIONS",
    "BoxLine",
    "Cover",
    "Item",
    "LogLine",
    "Looked",
    "PanelSection",
    "ReportJob",
    "RoomSection",
    "counted",
    "cover_of",
    "items_of",
    "logged",
    "looked",
    "panels_of",
    "rooms_of",
]

CAUTIONS: Final = (
    "De-energise and prove dead before touching a conductor; a tester is proved on a live source before and after.",
    (
        "This is a second pair of eyes, never the authority. The permit, the inspector and the code as adopted where "
        "you build decide; work that takes a licence is done by those who hold it."
    ),
    "Nothing is covered before it has been approved in writing.",
)
_PAPER_WIDTH: Final = 470
_SMALLEST: Final = 1.3
_LARGEST: Final = 2.6


@dataclass(frozen=True, slots=True)
class ReportJob:
    """What a report says of the job."""

    name: str
    address: str
    crew: str
    edition: int
    amendments: tuple[str, ...]
    stage: str
    permit_number: str
    permit_date: date | None
    inspection_date: date | None


@dataclass(frozen=True, slots=True)
class Item:
    """A finding on paper."""

    where: str
    line: Line


@dataclass(frozen=True, slots=True)
class BoxLine:
    """A box on the fill sheet. ``needs`` and ``has`` are cubic inches as text; ``missing`` what keeps it from being reckoned."""

    where: str
    contents: str
    needs: str
    has: str
    fits: bool | None
    missing: str


@dataclass(frozen=True, slots=True)
class LogLine:
    """What somebody recorded."""

    at: str
    by: str
    rule: str
    where: str
    answer: str
    note: str


@dataclass(frozen=True, slots=True)
class Looked:
    """What one person recorded at one time."""

    at: str
    by: str
    lines: tuple[LogLine, ...]


@dataclass(frozen=True, slots=True)
class RoomSection:
    """One room on paper."""

    job: ReportJob
    room: Room
    level: str
    size: str
    standing: RoomStanding
    walls: tuple[Markup, ...]
    corrections: tuple[Item, ...]
    inspector: tuple[Item, ...]
    unseen: tuple[tuple[str, int], ...]
    clear: tuple[tuple[str, int], ...]
    boxes: tuple[BoxLine, ...]
    log: tuple[Looked, ...]


@dataclass(frozen=True, slots=True)
class RoomLine:
    """A room on the cover."""

    name: str
    level: str
    standing: RoomStanding


@dataclass(frozen=True, slots=True)
class Cover:
    """The first page."""

    job: ReportJob
    standing: RoomStanding
    rooms: tuple[RoomLine, ...]
    ready: int
    edition_verified: bool
    whole_job: RoomStanding
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, slots=True)
class PanelSection:
    """A panel's directory, ready to cut out."""

    job: ReportJob
    name: str
    face: Markup
    rows: tuple[tuple[str, str, str, str, str], ...]


def cover_of(job: ReportJob, judged: Judged) -> Cover:
    """The cover of a report."""
    house = judged.house
    rooms = tuple(
        RoomLine(
            room.name,
            level.name if (level := house.levels.get(room.level_id)) else "",
            judged.standing(room.id),
        )
        for room in house.facts.rooms
    )
    ready = sum(room.standing.standing == "ready to cover" for room in rooms)
    return Cover(
        job,
        judged.whole,
        rooms,
        ready,
        judged.code.flag("edition.verified"),
        standing_of(JOB, judged.room(JOB)),
    )


def rooms_of(job: ReportJob, judged: Judged) -> list[RoomSection]:
    """A section for every room, in the order of the house."""
    return [_room(job, room, judged) for room in judged.house.facts.rooms]


def _room(job: ReportJob, room: Room, judged: Judged) -> RoomSection:
    house, findings = judged.house, judged.room(room.id)
    level = house.levels.get(room.level_id)
    walls = house.walls_of_room.get(room.id, [])
    longest = max((wall.length_in for wall in walls), default=Fraction(144))
    # two walls beside each other across the page
    scale = min(_LARGEST, max(_SMALLEST, _PAPER_WIDTH / 2 / float(longest)))
    size = (
        f"{format_length(room.length_in)} x {format_length(room.width_in)}"
        if room.length_in and room.width_in
        else ""
    )
    return RoomSection(
        job=job, room=room, level=level.name if level else "", size=size, standing=judged.standing(room.id),
        walls=tuple(
            Markup(draw_wall(wall, room, house, scale=scale, medium=Medium.PAPER))  # noqa: S704 - our own drawing
            for wall in walls
            if any(box.wall_id == wall.id for box in house.boxes_of_room.get(room.id, ()))
        ),
        corrections=items_of(findings, judged, Verdict.CORRECTION), inspector=items_of(findings, judged, Verdict.INSPECTOR),
        unseen=counted(findings, Verdict.UNSEEN), clear=counted(findings, Verdict.CLEAR),
        boxes=tuple(_box(box_id, house, judged.code) for box_id in (box.id for box in house.boxes_of_room.get(room.id, ()))),
        log=_log(room, house),
    )  # fmt: skip


def items_of(findings: Sequence[Finding], judged: Judged, verdict: Verdict) -> tuple[Item, ...]:
    """The findings of a verdict, with their words; what is said word for word of several stands once, with all of them."""
    said: dict[tuple[str, str, str, str], tuple[list[str], Line]] = {}
    for finding in findings:
        if finding.outcome.verdict is verdict:
            line = line_of(finding, judged.code)
            places, _ = said.setdefault((line.rule_id, line.sentence, line.cure, line.article), ([], line))
            places.append(subject_name(finding.place, judged.house))
    return tuple(Item("; ".join(dict.fromkeys(places)), line) for places, line in said.values())


def counted(findings: Iterable[Finding], verdict: Verdict) -> tuple[tuple[str, int], ...]:
    """The titles of the rules that gave a verdict, and how often each did."""
    counted: dict[str, int] = {}
    for finding in findings:
        if finding.outcome.verdict is verdict:
            counted[finding.rule.title] = counted.get(finding.rule.title, 0) + 1
    return tuple(counted.items())


def _box(box_id: str, house: Dwelling, code: Edition) -> BoxLine:
    box = house.boxes[box_id]
    where = subject_name(Ref("box", box_id), house)
    cables = (
        ", ".join(f"{cable.awg or '?'}-{cable.insulated}" for cable in house.cables_of_box.get(box_id, ()))
        or "no cable"
    )
    devices = ", ".join(device.kind.value for device in house.devices_of_box.get(box_id, ()))
    words = f"{cables}{'; ' if devices else ''}{devices}"
    contents = contents_of(box, house)
    if isinstance(contents, Missing):
        return BoxLine(where, words, "", "", None, contents.words)
    try:
        fill = reckon_box_fill(contents, code)
    except (BoxError, ConductorError) as error:
        return BoxLine(where, words, "", "", None, str(error))
    has = "" if fill.available_in3 is None else f"{float(fill.available_in3):g}"
    if fill.required_in3 is None:
        return BoxLine(where, words, "", has, None, fill.outside)
    return BoxLine(where, words, f"{float(fill.required_in3):g}", has, fill.fits, "" if has else "its volume")


def _log(room: Room, house: Dwelling) -> tuple[Looked, ...]:
    """What was recorded of a room and of what stands in it, oldest first."""
    ids = {room.id}
    for box in house.boxes_of_room.get(room.id, ()):
        ids.add(box.id)
        ids.update(device.id for device in house.devices_of_box.get(box.id, ()))
    return looked(logged(seen, house) for seen in house.facts.observations if seen.subject.id in ids)


def looked(lines: Iterable[LogLine]) -> tuple[Looked, ...]:
    """Lines of the log by time and person, in their order: a walk is one entry, not one for every look."""
    return tuple(
        Looked(at, by, tuple(found))
        for (at, by), found in groupby(lines, key=lambda line: (line.at, line.by))
    )


def logged(seen: Observation, house: Dwelling) -> LogLine:
    """What somebody recorded, in words."""
    rule = RULES.get(seen.rule)
    answer = seen.answer.value
    if seen.measure is not None:
        unit = rule.measure.unit if rule and rule.measure else ""
        answer = format_length(seen.measure) if unit == "in" else f"{float(seen.measure):g} {unit}".strip()
    where = "the room" if seen.subject.kind == "room" else subject_name(seen.subject, house)
    return LogLine(
        seen.at[:16].replace("T", " "), seen.by, rule.title if rule else seen.rule, where, answer, seen.note
    )


def panels_of(job: ReportJob, judged: Judged) -> list[PanelSection]:
    """A directory for every panel."""
    house = judged.house
    sections = []
    for panel in house.facts.panels:
        circuits = sorted(
            (c for c in house.facts.circuits if c.panel_id == panel.id), key=lambda c: c.spaces or (999,)
        )
        rows = tuple(
            (
                "/".join(map(str, circuit.spaces)) or "-", circuit.name, f"{circuit.rating_a or '?'} A",
                circuit.conductor_awg or "?", circuit.breaker.value if circuit.breaker else "not recorded",
            )
            for circuit in circuits
        )  # fmt: skip
        face = Markup(draw_panel(panel, house, medium=Medium.PAPER))  # noqa: S704 - our own drawing
        sections.append(PanelSection(job, panel.name, face, rows))
    return sections
