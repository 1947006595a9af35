"""One circuit: its one-line, what it carries, who is protected on it, what is found; a new one, changed, deleted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from server.drawings.one_line import draw_circuit
from server.dwelling import Circuit, CircuitPurpose, Device, DeviceKind, Dwelling
from server.pages import flash
from server.pages.circuit_forms import CircuitForm, form_page, proposed, typed_circuit, values_of
from server.pages.circuit_protection import ProtectionPart, outlets_lacking, protection_part
from server.pages.circuit_words import breaker_words, rooms_reached, spaces_words, wire_words
from server.pages.entering import change_of, done
from server.pages.findings_view import Group, groups_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.typed_facts import changed
from server.people.access import NotFound
from server.people.current import Builder, Reader
from server.people.roles import Role
from server.readiness import Finding
from server.readiness.voltage_advice import VoltageAdvice, voltage_advice
from server.readiness.words import write_number
from server.rules.hookup_possible import cable_plan_words, is_uncommon
from server.rules.hookups import CircuitHookup, State, hookups
from server.rules.naming import circuit_name
from server.rules.outcome import Verdict
from server.store.changing import Changing

__all__ = ["Answer", "circuit_of", "hookup_answer", "one_line", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Answer:
    """Whether the circuit can be wired, in a sentence: ``verdict`` gives the mark."""

    verdict: str
    sentence: str
    cure: str


@dataclass(frozen=True, slots=True)
class LoadPart:
    """The known load: lines of (what, VA), the sum and what the breaker carries."""

    lines: tuple[tuple[str, str], ...]
    sum_va: str
    room_va: str
    over: bool
    continuous: str
    unknown: int


@dataclass(frozen=True, slots=True)
class RoomLink:
    """A room that the circuit reaches."""

    id: str
    name: str
    boxes: int


@dataclass(frozen=True, slots=True)
class CircuitPage:
    """One circuit."""

    job: JobFacts
    circuit: Circuit
    panel: str
    spaces: str
    breaker: str
    wire: str
    partner: Circuit | None
    drawing: Markup
    has_run: bool
    answer: Answer
    protection: ProtectionPart | None
    drop: VoltageAdvice | None
    load: LoadPart
    rooms: tuple[RoomLink, ...]
    corrections: list[Group]
    inspector: list[Group]
    to_enter: list[Group]
    settled: list[Group]
    wrong: int
    unseen: int
    clear: int
    may_build: bool


def circuit_of(opened: OpenJob, circuit_id: str) -> Circuit:
    """A circuit of an open job.

    Raises:
        NotFound: it has no such circuit.
    """
    circuit = opened.house.circuits.get(circuit_id)
    if circuit is None:
        raise NotFound
    return circuit


def hookup_answer(found: CircuitHookup) -> Answer:
    """The answer of a hookup, as its first line on a page."""
    hookup = found.hookup
    match found.state:
        case State.OUTSIDE:
            return Answer("outside", found.why, "")
        case State.UNFINISHED:
            return Answer("unseen", found.why, "")
        case State.SHORT:
            return Answer("correction", found.why, cable_plan_words(found))
        case State.IMPOSSIBLE:
            return Answer(
                "correction", found.why, "Look at what the switches turn, and where the feed comes in."
            )
        case State.LAWFUL:
            pass
    if found.asks:
        return Answer("inspector", found.asks, "")
    if is_uncommon(found):
        return Answer("inspector", next((note for note in hookup.notes if "inspector" in note), ""), "")
    whites = f", {hookup.reidentified} white re-identified" if hookup.reidentified else ""
    splices = "1 splice" if hookup.splices == 1 else f"{hookup.splices} splices"
    return Answer("clear", f"It can be wired: {hookup.conductors} conductors in use, {splices}{whites}.", "")


def one_line(
    opened: OpenJob, circuit: Circuit, found: CircuitHookup, *, path: str = "", here: str = ""
) -> Markup:
    """The one-line of a circuit, short legs marked. ``path`` is put before a box's id to make its link."""
    house, base = opened.house, f"/jobs/{opened.job.id}"
    links = {each: f"{path or f'{base}/boxes/'}{each}" for each in found.names.box}
    short = {found.names.cable_id[item.cable] for item in found.hookup.short}
    return Markup(  # noqa: S704 - our own drawing, escaped where written
        draw_circuit(circuit, house, links=links, run=found.run, short=short, here=here)
    )


@router.get("/circuits/{circuit_id}", name="circuit")
def circuit_page(request: Request, job_id: str, circuit_id: str, person: Reader) -> HTMLResponse:
    """One circuit."""
    opened = open_job(request, person, job_id)
    circuit, house = circuit_of(opened, circuit_id), opened.house
    found = house.derive(hookups, opened.code).of(circuit_id)
    findings = _findings(opened, circuit)
    panel = house.panels.get(circuit.panel_id)
    counts: dict[str, int] = {}
    for box_id in found.run.reached:
        box = house.boxes.get(box_id)
        if box is not None:
            counts[box.room_id] = counts.get(box.room_id, 0) + 1
    unseen = [item for item in findings if item.outcome.verdict is Verdict.UNSEEN]
    protected = protection_part(opened, circuit)
    page = CircuitPage(
        job=opened.job, circuit=circuit, panel=panel.name if panel else "no panel", spaces=spaces_words(circuit),
        breaker=breaker_words(circuit), wire=wire_words(circuit), partner=house.circuits.get(circuit.multiwire_with or ""),
        drawing=one_line(opened, circuit, found), has_run=bool(found.run.numbers), answer=hookup_answer(found),
        protection=protected, drop=voltage_advice(circuit, found.run, house, opened.code), load=_load(circuit, house),
        rooms=tuple(RoomLink(room.id, room.name, counts[room.id]) for room in rooms_reached(found.run, house)),
        corrections=groups_of(findings, opened, Verdict.CORRECTION, room_names=True),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR, room_names=True),
        to_enter=groups_of(unseen, opened, Verdict.UNSEEN, most=8), settled=groups_of(findings, opened, Verdict.CLEAR, most=12),
        wrong=sum(item.outcome.verdict is Verdict.CORRECTION for item in findings) + outlets_lacking(opened, circuit), unseen=len(unseen),
        clear=sum(item.outcome.verdict is Verdict.CLEAR for item in findings), may_build=person.may_build,
    )  # fmt: skip
    return render(request, "circuits/circuit.html", page, job=opened.bar)


def _findings(opened: OpenJob, circuit: Circuit) -> list[Finding]:
    """What was found of the circuit, and what its cables' facts come to; looks at cables belong to the walk."""
    cables = {cable.id for cable in opened.house.cables_of_circuit.get(circuit.id, ())}
    return [
        item
        for item in opened.findings
        if (item.subject.kind == "circuit" and item.subject.id == circuit.id)
        or (item.subject.kind == "cable" and item.subject.id in cables and not item.rule.recordable)
    ]


def _load(circuit: Circuit, house: Dwelling) -> LoadPart:
    lines: list[tuple[str, str]] = []
    total = 0
    unknown = 0
    for device in _devices_on(circuit, house):
        fixture = house.fixtures.get(device.fixture_id or "")
        va = device.va if device.va is not None else fixture.va if fixture is not None else None
        if va is not None:
            lines.append(
                (
                    device.label or (fixture.name if fixture else "") or device.kind.value,
                    f"{write_number(va)} VA",
                )
            )
            total += int(va)
        elif device.kind not in (DeviceKind.SWITCH, DeviceKind.PROTECTOR):
            unknown += 1
    if circuit.va is not None:
        total, unknown = int(circuit.va), 0
        lines = [("Recorded for the whole circuit", f"{write_number(circuit.va)} VA")]
    room = circuit.rating_a * circuit.volts if circuit.rating_a is not None else None
    return LoadPart(
        tuple(lines), f"{total:,} VA", f"{room:,} VA ({circuit.rating_a} A at {circuit.volts} V)" if room is not None else "",
        room is not None and total > room,
        f"{write_number(circuit.continuous_va)} VA" if circuit.continuous_va is not None else "", unknown,
    )  # fmt: skip


def _devices_on(circuit: Circuit, house: Dwelling) -> Iterable[Device]:
    return (
        device
        for device in house.facts.devices
        if device.second_circuit_id == circuit.id
        or ((found := house.circuit_of(device)) is not None and found.id == circuit.id)
    )


# adding, changing, deleting ----------------------------------------------------------------------------------


@router.get("/circuits/new", name="new_circuit")
def new_circuit(
    request: Request,
    job_id: str,
    person: Builder,
    panel: Annotated[str, Query(max_length=64)] = "",
    space: Annotated[str, Query(max_length=8)] = "",
    shares: Annotated[str, Query(max_length=64)] = "",
) -> Response:
    """The form of a new circuit, filled in with what is usual: the next free space, or the one that was tapped."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    house = opened.house
    partner = house.circuits.get(shares)
    chosen = house.panels.get(partner.panel_id if partner else panel) or next(iter(house.facts.panels), None)
    if chosen is None:
        return flash.redirect(f"/jobs/{job_id}/panels/new", "A circuit needs a panel: add it first.")
    wanted = int(space) if space.isdigit() and 1 <= int(space) <= 200 else None
    fields = proposed(chosen, house, space=wanted, partner=partner)
    return render(request, "circuits/circuit_form.html", form_page(opened, fields), job=opened.bar)


@router.post("/circuits", name="add_circuit")
def add_circuit(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Add a circuit; its run is drawn next."""
    read = form.read(CircuitForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    values, fields = (
        values_of(read.model, read.fields, opened.house, opened.code) if read.model else ({}, read.fields)
    )
    if read.model is None or fields.errors:
        return render(
            request, "circuits/circuit_form.html", form_page(opened, fields), job=opened.bar, status=422
        )
    made = Circuit(str(uuid4()), order=len(opened.house.facts.circuits), **values)
    with change_of(request, person, job_id, f"added {made.name}") as change:
        change.add(made)
        _pair(change, opened.house, made.id, made.multiwire_with, made.handle_tied)
    to = f"/jobs/{job_id}/circuits/{made.id}" + ("" if made.purpose is CircuitPurpose.FEEDER else "/run")
    return done(
        to,
        f"{circuit_name(made)[:1].upper()}{circuit_name(made)[1:]} added. Tap the boxes in the order the cable visits them.",
        change,
    )


def _pair(
    change: Changing, house: Dwelling, circuit_id: str, partner_id: str | None, tied: bool | None
) -> None:
    """The partner of a multiwire circuit names it in turn; a partner that is left is let go."""
    for other in house.facts.circuits:
        if other.id == partner_id and other.multiwire_with != circuit_id:
            change.edit("circuit", other.id, {"multiwire_with": circuit_id, "handle_tied": tied})
        elif other.multiwire_with == circuit_id and other.id != partner_id:
            change.edit("circuit", other.id, {"multiwire_with": None})


@router.get("/circuits/{circuit_id}/edit", name="edit_circuit")
def edit_circuit(request: Request, job_id: str, circuit_id: str, person: Builder) -> HTMLResponse:
    """The form of a circuit that is there."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    page = form_page(opened, Fields(typed_circuit(circuit)), circuit)
    return render(request, "circuits/circuit_form.html", page, job=opened.bar)


@router.post("/circuits/{circuit_id}/edit", name="change_circuit")
def change_circuit(request: Request, job_id: str, circuit_id: str, person: Builder, form: Typed) -> Response:
    """Change a circuit."""
    read = form.read(CircuitForm)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    values, fields = (
        values_of(read.model, read.fields, opened.house, opened.code, circuit)
        if read.model
        else ({}, read.fields)
    )
    if read.model is None or fields.errors:
        page = form_page(opened, fields, circuit)
        return render(request, "circuits/circuit_form.html", page, job=opened.bar, status=422)
    different = changed(circuit, values, form.values, typed_circuit(circuit)) | {"volts": values["volts"]}
    with change_of(request, person, job_id, f"changed {circuit.name}") as change:
        change.edit("circuit", circuit_id, different)
        if "multiwire_with" in different:
            _pair(change, opened.house, circuit_id, values["multiwire_with"], values["handle_tied"])
    return done(f"/jobs/{job_id}/circuits/{circuit_id}", f"{values['name']} changed.", change)


@router.post("/circuits/{circuit_id}/delete", name="delete_circuit")
def delete_circuit(request: Request, job_id: str, circuit_id: str, person: Builder) -> RedirectResponse:
    """Delete a circuit; its cables stay where they are pulled, on no circuit."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    cables = len(opened.house.cables_of_circuit.get(circuit_id, ()))
    with change_of(request, person, job_id, f"deleted {circuit.name}") as change:
        change.delete("circuit", circuit_id)
    stays = (
        f" Its {cables} {'cable stays' if cables == 1 else 'cables stay'}, on no circuit." if cables else ""
    )
    return done(f"/jobs/{job_id}/panels", f"{circuit.name} deleted.{stays}", change)
