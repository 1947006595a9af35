"""One cable: its ends, its sheath, how it is fastened and bundled; one that is on no circuit yet; changed, deleted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Cable, CableKind, ConductorMaterial, Dwelling, WhiteUse, format_length
from server.pages.border import OptionalNumber, OptionalPlace, Ticked, YesOrNo
from server.pages.circuit_words import CABLE_KINDS, MATERIALS
from server.pages.entering import change_of, done
from server.pages.findings_view import Group, groups_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.typed_facts import changed, typed_of
from server.people.access import NotFound
from server.people.current import Builder, Reader
from server.people.roles import Role
from server.readiness.circuit_proposal import conductor_sizes
from server.readiness.words import write_number
from server.rules.hookup_names import cable_size, short_box_name
from server.rules.hookups import hookups
from server.rules.naming import cable_name
from server.rules.outcome import Verdict

__all__ = ["router"]

_ASKED_THREE_WAYS: Final = ("in_insulation",)
_WHITES: Final = (
    ("", "As the hookup has it"), (WhiteUse.GROUNDED.value, "Neutral"), (WhiteUse.SWITCH_FEED.value, "Feeds a switch"),
    (WhiteUse.SWITCH_RETURN.value, "Returns from a switch"), (WhiteUse.TRAVELER.value, "Traveler"),
    (WhiteUse.UNGROUNDED.value, "Other hot"),
)  # fmt: skip

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class EndPart:
    """One end of a cable."""

    name: str
    link: str
    sheath: str
    fastened: str


@dataclass(frozen=True, slots=True)
class CablePage:
    """One cable."""

    job: JobFacts
    cable: Cable
    name: str
    ends: tuple[EndPart, EndPart]
    circuits: tuple[tuple[str, str], ...]
    carries: tuple[tuple[str, str, str], ...]
    facts: tuple[tuple[str, str], ...]
    corrections: list[Group]
    inspector: list[Group]
    to_enter: list[Group]
    looks: list[Group]
    settled: list[Group]
    may_build: bool


def _cable_of(opened: OpenJob, cable_id: str) -> Cable:
    cable = opened.house.cables.get(cable_id)
    if cable is None:
        raise NotFound
    return cable


def _end(box_id: str | None, panel_id: str | None, opened: OpenJob) -> tuple[str, str]:
    house, base = opened.house, f"/jobs/{opened.job.id}"
    if box_id and box_id in house.boxes:
        return short_box_name(house.boxes[box_id], house), f"{base}/boxes/{box_id}"
    if panel_id and panel_id in house.panels:
        return house.panels[panel_id].name, f"{base}/panels/{panel_id}"
    return "nowhere yet", ""


@router.get("/cables/new", name="new_cable")
def new_cable(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """The form of a cable that may be on no circuit yet."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    fields = Fields(
        {
            "kind": CableKind.NM_B.value,
            "awg": "14",
            "insulated": "2",
            "has_ground": "yes",
            "material": "copper",
        }
    )
    return render(request, "circuits/cable_form.html", _form(opened, fields, ()), job=opened.bar)


@router.get("/cables/{cable_id}", name="cable")
def cable_page(request: Request, job_id: str, cable_id: str, person: Reader) -> HTMLResponse:
    """One cable."""
    opened = open_job(request, person, job_id)
    cable, house = _cable_of(opened, cable_id), opened.house
    findings = [
        item for item in opened.findings if item.subject.kind == "cable" and item.subject.id == cable_id
    ]
    unseen = [item for item in findings if item.outcome.verdict is Verdict.UNSEEN]
    waiting = [item for item in unseen if any(missing.field for missing in item.outcome.missing)]
    planned = None
    for each in cable.circuit_ids:
        if each in house.circuits:
            planned = house.derive(hookups, opened.code).of(each).cable(cable_id)
    page = CablePage(
        job=opened.job, cable=cable, name=cable_name(cable),
        ends=(
            EndPart(*_end(cable.a_box_id, cable.a_panel_id, opened), _length(cable.sheath_a_in), _length(cable.fastened_a_in)),
            EndPart(*_end(cable.b_box_id, cable.b_panel_id, opened), _length(cable.sheath_b_in), _length(cable.fastened_b_in)),
        ),
        circuits=tuple((each, house.circuits[each].name) for each in cable.circuit_ids if each in house.circuits),
        carries=tuple((c.color, c.reidentified_as or "", c.signal or "left over") for c in planned.conductors) if planned else (),
        facts=_facts(cable), corrections=groups_of(findings, opened, Verdict.CORRECTION),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR), to_enter=groups_of(waiting, opened, Verdict.UNSEEN),
        looks=groups_of([item for item in unseen if item not in waiting], opened, Verdict.UNSEEN),
        settled=groups_of(findings, opened, Verdict.CLEAR), may_build=person.may_build,
    )  # fmt: skip
    return render(request, "circuits/cable.html", page, job=opened.bar)


def _length(value: Any) -> str:
    return format_length(value) if value is not None else "not measured"


def _facts(cable: Cable) -> tuple[tuple[str, str], ...]:
    bundled = f"{cable.bundled_with} others" if cable.bundled_with else ""
    if bundled and cable.bundled_length_in is not None:
        bundled += f" for {format_length(cable.bundled_length_in)}"
    whites = dict(_WHITES)
    found = (
        ("Insulated conductors", str(cable.insulated)),
        ("Grounding conductor", "yes" if cable.has_ground else "none"),
        ("Material", cable.material.value),
        ("Length", f"{write_number(cable.length_ft)} ft" if cable.length_ft is not None else ""),
        ("White used as", whites[cable.white_use.value] if cable.white_use else ""),
        ("Bundled with", bundled),
        ("In insulation", {True: "yes", False: "no", None: ""}[cable.in_insulation]),
        ("Hottest surroundings", f"{cable.ambient_f} °F" if cable.ambient_f is not None else ""),
        ("Note", cable.note),
    )
    return tuple((label, value) for label, value in found if value)


# adding, changing, deleting ----------------------------------------------------------------------------------


class CableForm(BaseModel):
    """The form of a cable. An end is ``box:id`` or ``panel:id``; empty: it leads nowhere yet."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    a: str = Field(default="", max_length=80)
    b: str = Field(default="", max_length=80)
    circuit_ids: tuple[str, ...] = ()
    kind: CableKind
    awg: str | None = Field(default=None, max_length=10)
    insulated: int = Field(ge=1, le=12)
    has_ground: Ticked = False
    material: ConductorMaterial = ConductorMaterial.COPPER
    length_ft: OptionalNumber = Field(default=None, le=10_000)
    white_use: WhiteUse | None = None
    sheath_a_in: OptionalPlace = None
    sheath_b_in: OptionalPlace = None
    fastened_a_in: OptionalPlace = None
    fastened_b_in: OptionalPlace = None
    bundled_with: int | None = Field(default=None, ge=0, le=200)
    bundled_length_in: OptionalPlace = None
    in_insulation: YesOrNo = None
    ambient_f: int | None = Field(default=None, ge=-100, le=400)
    note: str = Field(default="", max_length=2000)


@dataclass(frozen=True, slots=True)
class CableFormPage:
    """The form of a cable, new or there."""

    job: JobFacts
    name: str
    path: str
    back: str
    fields: Fields
    is_new: bool
    ends: tuple[tuple[str, str], ...]
    circuits: tuple[tuple[str, str], ...]
    chosen: tuple[str, ...]
    kinds: tuple[tuple[str, str], ...]
    sizes: tuple[tuple[str, str], ...]
    counts: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    whites: tuple[tuple[str, str], ...]


def _form(
    opened: OpenJob, fields: Fields, chosen: tuple[str, ...], cable: Cable | None = None
) -> CableFormPage:
    base, house = f"/jobs/{opened.job.id}", opened.house
    ends = [("", "Nowhere yet"), *((f"panel:{panel.id}", panel.name) for panel in house.facts.panels)]
    ends += [
        (f"box:{box.id}", short_box_name(box, house))
        for room in house.facts.rooms
        for box in house.boxes_of_room.get(room.id, ())
    ]
    counts = [(str(count), f"{count}") for count in (1, 2, 3, 4, 5)]
    now = fields.value("insulated")
    if now.isdigit() and now not in dict(counts):
        counts.append((now, now))
    return CableFormPage(
        opened.job, cable_size(cable) if cable else "", f"{base}/cables/{cable.id}/edit" if cable else f"{base}/cables",
        f"{base}/cables/{cable.id}" if cable else f"{base}/panels", fields, cable is None, tuple(ends),
        tuple((circuit.id, circuit.name) for circuit in house.facts.circuits), chosen, CABLE_KINDS,
        (("", "Not recorded"), *((awg, f"{awg} AWG") for awg in conductor_sizes(opened.code))), tuple(counts), MATERIALS, _WHITES,
    )  # fmt: skip


def _typed(cable: Cable) -> dict[str, str]:
    values = typed_of(cable, yes_or_no=_ASKED_THREE_WAYS)
    for side in ("a", "b"):
        box, panel = getattr(cable, f"{side}_box_id"), getattr(cable, f"{side}_panel_id")
        values[side] = f"box:{box}" if box else f"panel:{panel}" if panel else ""
    return values


def _values(wanted: CableForm, fields: Fields, house: Dwelling) -> tuple[dict[str, Any], Fields]:
    values = wanted.model_dump(exclude={"a", "b"})
    for side, end in (("a", wanted.a), ("b", wanted.b)):
        kind, _, each = end.partition(":")
        known = {"box": house.boxes, "panel": house.panels}.get(kind, {})
        if end and each not in known:
            fields = fields.wrong(side, "Choose one of the list: this one is gone.")
        values[f"{side}_box_id"] = each if end and kind == "box" else None
        values[f"{side}_panel_id"] = each if end and kind == "panel" else None
    if not wanted.a and not wanted.b:
        fields = fields.wrong("a", "Choose at least one end: a cable with none is nowhere.")
    if wanted.a and wanted.a == wanted.b:
        fields = fields.wrong("b", "A cable does not begin and end in the same place.")
    if any(each not in house.circuits for each in wanted.circuit_ids):
        fields = fields.wrong("circuit_ids", "Choose circuits of this house: one is gone.")
    return values, fields


def _all(form: Typed, name: str) -> tuple[str, ...]:
    return form.lists.get(name, (form.values[name],) if form.values.get(name) else ())


@router.post("/cables", name="add_cable")
def add_cable(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Add a cable, on a circuit or on none yet."""
    read = form.read(CableForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    values, fields = _values(read.model, read.fields, opened.house) if read.model else ({}, read.fields)
    if read.model is None or fields.errors:
        page = _form(opened, fields, _all(form, "circuit_ids"))
        return render(request, "circuits/cable_form.html", page, job=opened.bar, status=422)
    made = Cable(str(uuid4()), order=len(opened.house.facts.cables), **values)
    with change_of(request, person, job_id, f"added a {cable_name(made)}") as change:
        change.add(made)
    return done(f"/jobs/{job_id}/cables/{made.id}", f"{cable_name(made)} added.", change)


@router.get("/cables/{cable_id}/edit", name="edit_cable")
def edit_cable(request: Request, job_id: str, cable_id: str, person: Builder) -> HTMLResponse:
    """The form of a cable that is there."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    cable = _cable_of(opened, cable_id)
    page = _form(opened, Fields(_typed(cable)), cable.circuit_ids, cable)
    return render(request, "circuits/cable_form.html", page, job=opened.bar)


@router.post("/cables/{cable_id}/edit", name="change_cable")
def change_cable(request: Request, job_id: str, cable_id: str, person: Builder, form: Typed) -> Response:
    """Change a cable."""
    read = form.read(CableForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    cable = _cable_of(opened, cable_id)
    values, fields = _values(read.model, read.fields, opened.house) if read.model else ({}, read.fields)
    if read.model is None or fields.errors:
        page = _form(opened, fields, _all(form, "circuit_ids"), cable)
        return render(request, "circuits/cable_form.html", page, job=opened.bar, status=422)
    before = _typed(cable)
    ends = {
        f"{side}_{kind}_id"
        for side in ("a", "b")
        for kind in ("box", "panel")
        if form.values.get(side, "") == before[side]
    }
    # an end that was not touched is left out: it is typed under another name than it is stored
    same = {name: before[name] for name in before if not name.endswith(("box_id", "panel_id"))}
    different = {
        name: value for name, value in changed(cable, values, form.values, same).items() if name not in ends
    }  # fmt: skip
    with change_of(request, person, job_id, f"changed a {cable_name(cable)}") as change:
        change.edit("cable", cable_id, different)
    return done(f"/jobs/{job_id}/cables/{cable_id}", f"{cable_name(cable)} changed.", change)


@router.post("/cables/{cable_id}/delete", name="delete_cable")
def delete_cable(request: Request, job_id: str, cable_id: str, person: Builder) -> RedirectResponse:
    """Delete a cable."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    cable = _cable_of(opened, cable_id)
    back = (
        f"/jobs/{job_id}/circuits/{cable.circuit_ids[0]}"
        if cable.circuit_ids and cable.circuit_ids[0] in opened.house.circuits
        else f"/jobs/{job_id}/panels"
    )
    with change_of(request, person, job_id, f"deleted a {cable_name(cable)}") as change:
        change.delete("cable", cable_id)
    return done(back, f"{cable_name(cable)} deleted.", change)
