"""The panels of a job with their faces, circuits and directory; one panel: facts, working space, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.panel_face import draw_panel
from server.dwelling import Cable, Circuit, CircuitPurpose, Dwelling, Panel, Ref, format_length
from server.pages.border import OptionalPlace, Ticked, YesOrNo
from server.pages.circuit_protection import outlets_lacking
from server.pages.circuit_words import breaker_words, named, rooms_reached, spaces_words, wire_words
from server.pages.entering import change_of, done
from server.pages.findings_view import Group, groups_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.typed_facts import changed, typed_of
from server.people.access import NotFound
from server.people.current import Builder, Reader
from server.people.roles import Role
from server.readiness import Finding
from server.readiness.circuit_proposal import free_spaces
from server.readiness.naming import subject_name
from server.rules.hookups import hookups
from server.rules.outcome import Verdict

__all__ = ["CircuitRow", "circuit_rows", "panel_of", "router"]

_ASKED_THREE_WAYS: Final = ("neutral_bonded", "ground_bar")

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """A circuit in a list or a directory."""

    id: str
    name: str
    spaces: str
    breaker: str
    wire: str
    purpose: str
    rooms: str
    runs: bool
    corrections: int
    unseen: int


@dataclass(frozen=True, slots=True)
class PanelPart:
    """A panel with its face and its circuits."""

    panel: Panel
    where: str
    face: Markup
    circuits: tuple[CircuitRow, ...]
    free: int


@dataclass(frozen=True, slots=True)
class LooseCable:
    """A cable on no circuit."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class PanelsPage:
    """All panels of a job."""

    job: JobFacts
    panels: tuple[PanelPart, ...]
    circuits: int
    drawn: int
    loose: tuple[LooseCable, ...]
    may_build: bool


def panel_of(opened: OpenJob, panel_id: str) -> Panel:
    """A panel of an open job.

    Raises:
        NotFound: it has no such panel.
    """
    panel = opened.house.panels.get(panel_id)
    if panel is None:
        raise NotFound
    return panel


def circuit_rows(opened: OpenJob, panel_id: str) -> tuple[CircuitRow, ...]:
    """The circuits of a panel by their spaces, those without any last."""
    house = opened.house
    counts = _counts(opened)
    found = house.derive(hookups, opened.code)
    circuits = sorted(
        (circuit for circuit in house.facts.circuits if circuit.panel_id == panel_id),
        key=lambda circuit: (not circuit.spaces, circuit.spaces, circuit.order),
    )
    rows = []
    for circuit in circuits:
        run = found.of(circuit.id).run
        wrong, unseen = counts.get(circuit.id, (0, 0))
        wrong += outlets_lacking(opened, circuit)
        rows.append(
            CircuitRow(
                circuit.id, circuit.name, spaces_words(circuit), breaker_words(circuit), wire_words(circuit), circuit.purpose.value,
                _serves(circuit, house) or named(rooms_reached(run, house)), bool(run.legs), wrong, unseen,
            )
        )  # fmt: skip
    return tuple(rows)


def _serves(circuit: Circuit, house: Dwelling) -> str:
    """The panel that a feeder feeds."""
    if circuit.purpose is not CircuitPurpose.FEEDER:
        return ""
    fed = [panel.name for panel in house.facts.panels if panel.fed_by_circuit_id == circuit.id]
    return f"feeds {', '.join(fed)}" if fed else ""


def _counts(opened: OpenJob) -> dict[str, tuple[int, int]]:
    """Corrections and unseen per circuit: of the circuit itself and of its cables."""
    house = opened.house
    found: dict[str, tuple[int, int]] = {}
    for finding in opened.findings:
        match finding.subject.kind:
            case "circuit":
                ids: tuple[str, ...] = (finding.subject.id,)
            case "cable":
                cable = house.cables.get(finding.subject.id)
                ids = cable.circuit_ids if cable is not None and not finding.rule.recordable else ()
            case _:
                continue
        wrong = finding.outcome.verdict is Verdict.CORRECTION
        unseen = finding.outcome.verdict is Verdict.UNSEEN and finding.subject.kind == "circuit"
        for each in ids if wrong or unseen else ():
            before = found.get(each, (0, 0))
            found[each] = before[0] + wrong, before[1] + unseen
    return found


def _face(opened: OpenJob, panel: Panel, *, may_build: bool) -> Markup:
    base = f"/jobs/{opened.job.id}/circuits"
    links = {circuit.id: f"{base}/{circuit.id}" for circuit in opened.house.facts.circuits}
    new = f"{base}/new?panel={panel.id}&space=" if may_build else ""
    return Markup(draw_panel(panel, opened.house, links=links, new_link=new))  # noqa: S704 - our own drawing


def _where(panel: Panel, house: Dwelling) -> str:
    room = house.rooms.get(panel.room_id or "")
    return room.name if room else "place not recorded"


@router.get("/panels", name="panels")
def panels(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """All panels with their circuits, and the cables that are on none."""
    opened = open_job(request, person, job_id)
    house = opened.house
    parts = tuple(
        PanelPart(
            panel, _where(panel, house), _face(opened, panel, may_build=person.may_build), circuit_rows(opened, panel.id),
            len([space for space in free_spaces(panel, house) if space <= (panel.spaces or 0)]),
        )
        for panel in house.facts.panels
    )  # fmt: skip
    rows = [row for part in parts for row in part.circuits]
    page = PanelsPage(
        opened.job, parts, len(rows), sum(row.runs for row in rows),
        tuple(
            LooseCable(cable.id, cable_between(cable, house))
            for cable in house.facts.cables
            if not any(each in house.circuits for each in cable.circuit_ids)
        ),
        person.may_build,
    )  # fmt: skip
    return render(request, "circuits/panels.html", page, job=opened.bar)


def cable_between(cable: Cable, house: Dwelling) -> str:
    """``14-2 NM-B R1 to R2``."""
    return subject_name(Ref("cable", cable.id), house)


@dataclass(frozen=True, slots=True)
class PanelPage:
    """One panel."""

    job: JobFacts
    panel: Panel
    where: str
    rating: str
    fed_by: str
    face: Markup
    facts: tuple[tuple[str, str], ...]
    space: tuple[tuple[str, str], ...]
    circuits: tuple[CircuitRow, ...]
    corrections: list[Group]
    inspector: list[Group]
    to_enter: list[Group]
    looks: list[Group]
    settled: list[Group]
    wrong: int
    unseen: int
    clear: int
    may_build: bool


@router.get("/panels/{panel_id}", name="panel")
def panel_page(request: Request, job_id: str, panel_id: str, person: Reader) -> HTMLResponse:
    """One panel."""
    opened = open_job(request, person, job_id)
    panel, house = panel_of(opened, panel_id), opened.house
    findings = [
        item for item in opened.findings if item.subject.kind == "panel" and item.subject.id == panel_id
    ]
    unseen = [item for item in findings if item.outcome.verdict is Verdict.UNSEEN]
    waiting = [item for item in unseen if any(missing.field for missing in item.outcome.missing)]
    feeder = house.circuits.get(panel.fed_by_circuit_id or "")
    page = PanelPage(
        job=opened.job, panel=panel, where=_where(panel, house), rating=_rating(panel), fed_by=feeder.name if feeder else "",
        face=_face(opened, panel, may_build=person.may_build), facts=_facts(panel, house), space=_space(panel),
        circuits=circuit_rows(opened, panel_id), corrections=groups_of(findings, opened, Verdict.CORRECTION),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR), to_enter=groups_of(waiting, opened, Verdict.UNSEEN),
        looks=groups_of([item for item in unseen if item not in waiting], opened, Verdict.UNSEEN),
        settled=groups_of(findings, opened, Verdict.CLEAR),
        wrong=_count(findings, Verdict.CORRECTION), unseen=len(unseen), clear=_count(findings, Verdict.CLEAR),
        may_build=person.may_build,
    )  # fmt: skip
    return render(request, "circuits/panel.html", page, job=opened.bar)


def _count(findings: list[Finding], verdict: Verdict) -> int:
    return sum(item.outcome.verdict is verdict for item in findings)


def _rating(panel: Panel) -> str:
    parts = [
        f"{value} A {word}"
        for value, word in ((panel.main_a, "main"), (panel.bus_a, "bus"))
        if value is not None
    ]
    return ", ".join(parts) or "not entered"


_SAID: Final = {True: "yes", False: "no", None: ""}


def _facts(panel: Panel, house: Dwelling) -> tuple[tuple[str, str], ...]:
    feeder = house.circuits.get(panel.fed_by_circuit_id or "")
    found = (
        ("Kind", "service panel" if panel.is_service else "subpanel"),
        ("Fed by", feeder.name if feeder else ""),
        ("Spaces", str(panel.spaces) if panel.spaces else ""),
        ("Volts", str(panel.volts)),
        ("Neutral bonded to the case", _SAID[panel.neutral_bonded]),
        ("Bar for grounding conductors", _SAID[panel.ground_bar]),
        ("In a separate building", "yes" if panel.in_separate_building else ""),
        ("Note", panel.note),
    )
    return tuple((label, value) for label, value in found if value)


def _space(panel: Panel) -> tuple[tuple[str, str], ...]:
    """What was measured of the space in front; ``not measured`` stands for what was not."""
    lengths = (
        ("Width", panel.space_width_in), ("Depth", panel.space_depth_in), ("Headroom", panel.space_height_in),
        ("Highest handle", panel.handle_height_in),
    )  # fmt: skip
    found = [
        (label, format_length(value) if value is not None else "not measured") for label, value in lengths
    ]
    door = f"{panel.door_swing_deg} degrees" if panel.door_swing_deg is not None else "not measured"
    return (*found, ("Door opens", door))


# adding, changing, deleting ----------------------------------------------------------------------------------


class PanelForm(BaseModel):
    """The form of a panel."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    name: str = Field(min_length=1, max_length=80)
    room_id: str | None = Field(default=None, max_length=64)
    is_service: Ticked = False
    fed_by_circuit_id: str | None = Field(default=None, max_length=64)
    main_a: int | None = Field(default=None, ge=1, le=4000)
    bus_a: int | None = Field(default=None, ge=1, le=4000)
    spaces: int | None = Field(default=None, ge=1, le=120)
    space_width_in: OptionalPlace = None
    space_depth_in: OptionalPlace = None
    space_height_in: OptionalPlace = None
    handle_height_in: OptionalPlace = None
    door_swing_deg: int | None = Field(default=None, ge=0, le=360)
    neutral_bonded: YesOrNo = None
    ground_bar: YesOrNo = None
    in_separate_building: Ticked = False
    note: str = Field(default="", max_length=2000)


@dataclass(frozen=True, slots=True)
class PanelFormPage:
    """The form of a panel, new or there; ``path`` is where it posts."""

    job: JobFacts
    name: str
    path: str
    back: str
    fields: Fields
    rooms: tuple[tuple[str, str], ...]
    feeders: tuple[tuple[str, str], ...]
    is_new: bool


def _form(opened: OpenJob, fields: Fields, panel: Panel | None = None) -> PanelFormPage:
    base, house = f"/jobs/{opened.job.id}/panels", opened.house
    feeders = [circuit for circuit in house.facts.circuits if panel is None or circuit.panel_id != panel.id]
    feeders.sort(key=lambda circuit: circuit.purpose is not CircuitPurpose.FEEDER)
    return PanelFormPage(
        opened.job, panel.name if panel else "", f"{base}/{panel.id}/edit" if panel else base,
        f"{base}/{panel.id}" if panel else base, fields,
        (("", "Not recorded"), *((room.id, room.name) for room in house.facts.rooms)),
        (("", "None: it is fed from outside"), *((circuit.id, circuit.name) for circuit in feeders)), panel is None,
    )  # fmt: skip


def _checked(wanted: PanelForm, fields: Fields, house: Dwelling) -> Fields:
    if wanted.room_id and wanted.room_id not in house.rooms:
        fields = fields.wrong("room_id", "Choose one of the rooms.")
    if wanted.fed_by_circuit_id and wanted.fed_by_circuit_id not in house.circuits:
        fields = fields.wrong("fed_by_circuit_id", "Choose one of the circuits: this one is gone.")
    return fields


@router.get("/panels/new", name="new_panel")
def new_panel(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """The form of a new panel."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    first = not opened.house.facts.panels
    letter = chr(ord("A") + min(25, len(opened.house.facts.panels)))
    fields = Fields(
        {"name": f"Panel {letter}", "is_service": "yes" if first else "", "spaces": "40" if first else "24"}
    )
    return render(request, "circuits/panel_form.html", _form(opened, fields), job=opened.bar)


@router.post("/panels", name="add_panel")
def add_panel(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Add a panel."""
    read = form.read(PanelForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    fields = _checked(read.model, read.fields, opened.house) if read.model else read.fields
    if read.model is None or fields.errors:
        return render(request, "circuits/panel_form.html", _form(opened, fields), job=opened.bar, status=422)
    made = Panel(str(uuid4()), order=len(opened.house.facts.panels), **read.model.model_dump())
    with change_of(request, person, job_id, f"added {made.name}") as change:
        change.add(made)
    return done(f"/jobs/{job_id}/panels", f"{made.name} added. Add its circuits.", change)


@router.get("/panels/{panel_id}/edit", name="edit_panel")
def edit_panel(request: Request, job_id: str, panel_id: str, person: Builder) -> HTMLResponse:
    """The form of a panel that is there."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    panel = panel_of(opened, panel_id)
    fields = Fields(typed_of(panel, yes_or_no=_ASKED_THREE_WAYS))
    return render(request, "circuits/panel_form.html", _form(opened, fields, panel), job=opened.bar)


@router.post("/panels/{panel_id}/edit", name="change_panel")
def change_panel(request: Request, job_id: str, panel_id: str, person: Builder, form: Typed) -> Response:
    """Change a panel."""
    read = form.read(PanelForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    panel = panel_of(opened, panel_id)
    fields = _checked(read.model, read.fields, opened.house) if read.model else read.fields
    if read.model is None or fields.errors:
        page = _form(opened, fields, panel)
        return render(request, "circuits/panel_form.html", page, job=opened.bar, status=422)
    different = changed(
        panel, read.model.model_dump(), form.values, typed_of(panel, yes_or_no=_ASKED_THREE_WAYS)
    )
    with change_of(request, person, job_id, f"changed {panel.name}") as change:
        change.edit("panel", panel_id, different)
    return done(f"/jobs/{job_id}/panels/{panel_id}", f"{read.model.name} changed.", change)


@router.post("/panels/{panel_id}/delete", name="delete_panel")
def delete_panel(request: Request, job_id: str, panel_id: str, person: Builder) -> RedirectResponse:
    """Delete a panel with its circuits; cables stay where they are pulled."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    panel = panel_of(opened, panel_id)
    circuits = sum(circuit.panel_id == panel_id for circuit in opened.house.facts.circuits)
    with change_of(request, person, job_id, f"deleted {panel.name}") as change:
        change.delete("panel", panel_id)
    said = f"{panel.name} deleted with its {circuits} {'circuit' if circuits == 1 else 'circuits'}."
    return done(f"/jobs/{job_id}/panels", said, change)
