"""What belongs to no room, on paper: papers, trenches, the service, circuits; and the torque record of each panel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.dwelling import Dwelling, Panel
from server.readiness import JOB, Judged, RoomStanding
from server.readiness.naming import subject_name
from server.readiness.standing import standing_of
from server.reports.sections import Item, LogLine, Looked, ReportJob, counted, items_of, logged, looked
from server.rules.outcome import Verdict
from server.rules.panel_terminals import terminals_torqued

__all__ = ["JobSection", "TorqueLine", "TorqueSection", "job_section", "torque_sections"]


@dataclass(frozen=True, slots=True)
class JobSection:
    """The findings of no room. ``by_subject`` tells how many are not seen yet of each thing, by the thing's name."""

    job: ReportJob
    standing: RoomStanding
    corrections: tuple[Item, ...]
    inspector: tuple[Item, ...]
    by_subject: tuple[tuple[str, tuple[tuple[str, int], ...]], ...]
    clear: tuple[tuple[str, int], ...]
    log: tuple[Looked, ...]


@dataclass(frozen=True, slots=True)
class TorqueLine:
    """A terminal that is tightened to a figure, to be filled in with a pen."""

    terminal: str
    conductor: str


@dataclass(frozen=True, slots=True)
class TorqueSection:
    """One panel's terminals, and what was recorded of them on the walk."""

    job: ReportJob
    name: str
    lines: tuple[TorqueLine, ...]
    recorded: tuple[LogLine, ...]


def job_section(job: ReportJob, judged: Judged) -> JobSection:
    """What holds the job that no room tells."""
    house, findings = judged.house, judged.room(JOB)
    unseen: dict[str, dict[str, int]] = {}
    for finding in findings:
        if finding.outcome.verdict is Verdict.UNSEEN:
            titles = unseen.setdefault(subject_name(finding.subject, house), {})
            titles[finding.rule.title] = titles.get(finding.rule.title, 0) + 1
    subjects = {finding.subject for finding in findings}
    return JobSection(
        job=job, standing=standing_of(JOB, findings), corrections=items_of(findings, judged, Verdict.CORRECTION),
        inspector=items_of(findings, judged, Verdict.INSPECTOR),
        by_subject=tuple((name, tuple(titles.items())) for name, titles in unseen.items()),
        clear=counted(findings, Verdict.CLEAR),
        log=looked(logged(seen, house) for seen in house.facts.observations if seen.subject in subjects),
    )  # fmt: skip


def torque_sections(job: ReportJob, house: Dwelling) -> list[TorqueSection]:
    """The torque record of every panel: which terminals there are, with room for label, setting, hand and date
    (110.14(D) asks for the figure of the label and, since 2020, an approved means of reaching it)."""
    return [
        TorqueSection(
            job, panel.name, tuple(_terminals(panel, house)),
            tuple(
                logged(seen, house)
                for seen in house.facts.observations
                if seen.rule == terminals_torqued.id and seen.subject.id == panel.id
            ),
        )
        for panel in house.facts.panels
    ]  # fmt: skip


def _terminals(panel: Panel, house: Dwelling) -> Sequence[TorqueLine]:
    circuits = sorted(
        (c for c in house.facts.circuits if c.panel_id == panel.id),
        key=lambda c: (c.spaces or (999,), c.order),
    )
    lugs = (
        TorqueLine("Feeding lugs or main breaker", ""),
        TorqueLine("Grounded conductor lug", ""),
        TorqueLine("Grounding electrode or equipment grounding lug", ""),
    )
    breakers = (
        TorqueLine(
            f"{'/'.join(map(str, circuit.spaces)) or '-'} {circuit.name}",
            f"{circuit.conductor_awg} AWG" if circuit.conductor_awg else "",
        )
        for circuit in circuits
    )
    return (*lugs, *breakers)
