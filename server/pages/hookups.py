"""Which conductor goes where: the hookup of a circuit box by box, of one box, and on paper; or what is short."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.hookup import draw_box_hookup
from server.dwelling import Circuit, Device, DeviceKind, Dwelling
from server.pages import flash
from server.pages.boxes import box_of
from server.pages.circuits import Answer, circuit_of, hookup_answer, one_line
from server.pages.device_words import box_name
from server.pages.entering import change_of, done
from server.pages.forms import Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.access import NotFound
from server.people.current import Builder, Reader
from server.people.person import Person
from server.people.roles import Role
from server.readiness.hookup_words import color_letter, short_signal
from server.readiness.hookups import BoxHookup, CableView, HookupView, TruthView, box_hookup, hookup_view
from server.readiness.run_edits import Change, Edits, apply_cable_plan, fit_switches
from server.reckon.hookup import CableNeed
from server.rules.hookup_gaps import Gap
from server.rules.hookup_names import device_word
from server.rules.hookups import CircuitHookup, State, hookups, switches_that_would_do

__all__ = ["router"]

_TURNED: Final = (
    DeviceKind.LUMINAIRE, DeviceKind.FAN, DeviceKind.EXHAUST_FAN, DeviceKind.RECEPTACLE, DeviceKind.HARDWIRED, DeviceKind.OTHER,
)  # fmt: skip
"""What a switch turns, what it mostly turns first."""
_MOST_OFFERED: Final = 6

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class CardPart:
    """One box: its drawing and its words."""

    box_id: str
    name: str
    link: str
    drawing: Markup
    words: tuple[str, ...]
    splices: int
    cables: int


@dataclass(frozen=True, slots=True)
class ConductorPart:
    """A conductor in the list of cables."""

    color: str
    letter: str
    band: str
    signal: str


@dataclass(frozen=True, slots=True)
class CablePart:
    """A cable in the list."""

    id: str
    name: str
    start: str
    end: str
    conductors: tuple[ConductorPart, ...]
    has: int
    needs: int
    short: bool
    signals: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NeedPart:
    """A cable of the cheapest plan."""

    name: str
    has: int
    needs: int
    colors: str


@dataclass(frozen=True, slots=True)
class GapPart:
    """Something that is not entered yet, and where to enter it. ``loads`` are what the switch could turn."""

    sentence: str
    words: str
    link: str
    deed: str
    switch_id: str = ""
    loads: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class HookupPage:
    """The hookup of a circuit."""

    job: JobFacts
    circuit: Circuit
    others: tuple[Circuit, ...]
    panel: str
    answer: Answer
    state: str
    boxes: int
    drawing: Markup
    cards: tuple[CardPart, ...]
    cables: tuple[CablePart, ...]
    truth: tuple[TruthView, ...]
    always_live: tuple[str, ...]
    notes: tuple[str, ...]
    plan: tuple[NeedPart, ...]
    switches: tuple[tuple[str, str], ...]
    gaps: tuple[GapPart, ...]
    may_build: bool


@dataclass(frozen=True, slots=True)
class BoxPart:
    """What one circuit (or two with one neutral) does in a box."""

    circuits: tuple[Circuit, ...]
    answer: Answer
    card: CardPart | None


@dataclass(frozen=True, slots=True)
class BoxHookupPage:
    """The hookup of one box, circuit by circuit."""

    job: JobFacts
    box_id: str
    box: str
    room_id: str
    room: str
    parts: tuple[BoxPart, ...]


@router.get("/circuits/{circuit_id}/hookup", name="circuit_hookup")
def circuit_hookup(request: Request, job_id: str, circuit_id: str, person: Reader) -> HTMLResponse:
    """The hookup of a circuit from the panel outward, or what is in its way."""
    opened = open_job(request, person, job_id)
    circuit, house = circuit_of(opened, circuit_id), opened.house
    found = house.derive(hookups, opened.code).of(circuit_id)
    view = hookup_view(found, house)
    panel = house.panels.get(circuit.panel_id)
    page = HookupPage(
        job=opened.job, circuit=circuit, others=tuple(each for each in found.circuits if each.id != circuit_id),
        panel=panel.name if panel else "", answer=hookup_answer(found), state=found.state.value, boxes=len(found.run.reached),
        drawing=one_line(opened, circuit, found, path="#box-"), cards=tuple(_card(card, opened) for card in view.cards),
        cables=tuple(map(_cable, view.cables)), truth=view.truth, always_live=_live(view, found), notes=view.notes,
        plan=tuple(_need(need) for need in found.hookup.cheapest if need.insulated > need.has),
        switches=tuple((found.names.device[each], ways.value) for each, ways in switches_that_would_do(found, opened.code).items()),
        gaps=tuple(_gap(gap, circuit, found, opened) for gap in found.gaps), may_build=person.may_build,
    )  # fmt: skip
    return render(request, "circuits/hookup.html", page, job=opened.bar)


def _card(card: BoxHookup, opened: OpenJob) -> CardPart:
    link = f"/jobs/{opened.job.id}/boxes/{card.box_id}" if card.box_id else ""
    drawing = Markup(draw_box_hookup(card))  # noqa: S704 - our own drawing, escaped where written
    return CardPart(card.box_id, card.name, link, drawing, card.words, card.splices, len(card.cables))


def _cable(cable: CableView) -> CablePart:
    return CablePart(
        cable.id, cable.name, cable.start, cable.end,
        tuple(ConductorPart(color, color_letter(color), band, signal) for color, band, signal in cable.conductors),
        cable.has, cable.needs, cable.short, tuple(short_signal(signal) for signal in cable.signals),
    )  # fmt: skip


def _live(view: HookupView, found: CircuitHookup) -> tuple[str, ...]:
    """What is live whatever the switches do; of a two-pole circuit that goes without saying."""
    return () if found.entered.straight else view.always_live


def _need(need: CableNeed) -> NeedPart:
    return NeedPart(need.cable, need.has, need.insulated, ", ".join(need.colors))


def _gap(gap: Gap, circuit: Circuit, found: CircuitHookup, opened: OpenJob) -> GapPart:
    """Where a missing fact is entered: at the device, at the box, on the run or on the circuit."""
    base, run = f"/jobs/{opened.job.id}", f"/jobs/{opened.job.id}/circuits/{circuit.id}/run"
    if gap.device_id is not None:
        link, house = f"{base}/devices/{gap.device_id}", opened.house
        switch = house.devices.get(gap.device_id)
        if switch is None or switch.controls or gap.field != "device.controls":
            return GapPart(gap.sentence, gap.words, link, "Open the device")
        return GapPart(
            gap.sentence, gap.words, link, "Something else", switch.id, tuple(_loads(switch, found, house))
        )
    kind = gap.field.split(".")[0]
    if kind == "circuit":
        return GapPart(gap.sentence, gap.words, f"{base}/circuits/{circuit.id}/edit", "Change the circuit")
    if kind == "device" and gap.box_id:
        return GapPart(gap.sentence, gap.words, f"{base}/boxes/{gap.box_id}", "Open the box")
    at = f"?at={gap.box_id}" if gap.box_id else ""
    return GapPart(gap.sentence, gap.words, f"{run}{at}", "Open the run")


def _loads(switch: Device, found: CircuitHookup, house: Dwelling) -> list[tuple[str, str]]:
    """What a switch could turn on its circuit: what is in its own room first, lights before receptacles."""
    room = house.room_of_device(switch)
    loads = [
        device
        for each in found.names.device
        if (device := house.devices.get(each)) is not None and device.kind in _TURNED
    ]
    loads.sort(key=lambda load: (house.room_of_device(load) is not room, _TURNED.index(load.kind)))
    return [
        (load.id, f"{found.names.device[load.id]} ({device_word(load)})") for load in loads[:_MOST_OFFERED]
    ]


class Turning(BaseModel):
    """A switch and what it turns."""

    model_config = ConfigDict(extra="forbid")

    switch: str = Field(max_length=64)
    load: str = Field(max_length=64)


@router.post("/circuits/{circuit_id}/hookup/controls", name="switch_turns")
def switch_turns(
    request: Request, job_id: str, circuit_id: str, person: Builder, form: Typed
) -> RedirectResponse:
    """Record what a switch turns."""
    read = form.read(Turning)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit, house = circuit_of(opened, circuit_id), opened.house
    switch = house.devices.get(read.model.switch) if read.model else None
    load = house.devices.get(read.model.load) if read.model else None
    if switch is None or load is None or switch.kind is not DeviceKind.SWITCH or load.kind not in _TURNED:
        raise NotFound
    turns: tuple[Change, ...] = (("device", switch.id, {"controls": (*switch.controls, load.id)}),)
    found = house.derive(hookups, opened.code).of(circuit_id)
    names = found.names.device
    edits = Edits(f"{names.get(switch.id, 'The switch')} turns {names.get(load.id, 'it')}.", "", change=turns)
    return _carried_out(request, person, opened, circuit, edits, "")


@router.post("/circuits/{circuit_id}/hookup/apply", name="apply_cable_plan")
def apply_plan(request: Request, job_id: str, circuit_id: str, person: Builder) -> RedirectResponse:
    """Record the cheapest cables in place of those that are short."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    edits = apply_cable_plan(opened.house.derive(hookups, opened.code).of(circuit_id))
    return _carried_out(request, person, opened, circuit, edits, "Pull them so, before the wall is closed.")


@router.post("/circuits/{circuit_id}/hookup/switches", name="fit_switches")
def apply_switches(request: Request, job_id: str, circuit_id: str, person: Builder) -> RedirectResponse:
    """Record three-ways and four-ways where the hookup has them."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    edits = fit_switches(opened.house.derive(hookups, opened.code).of(circuit_id), opened.house, opened.code)
    return _carried_out(request, person, opened, circuit, edits, "Fit them so when you trim.")


def _carried_out(
    request: Request, person: Person, opened: OpenJob, circuit: Circuit, edits: Edits, more: str
) -> RedirectResponse:
    to = f"/jobs/{opened.job.id}/circuits/{circuit.id}/hookup"
    if edits.refused:
        return flash.redirect(to, edits.refused)
    with change_of(request, person, opened.job.id, f"{circuit.name}: {edits.said}") as change:
        for kind, fact_id, values in edits.change:
            change.edit(kind, fact_id, values)
    return done(to, f"{edits.said} {more}".rstrip(), change)


@router.get("/boxes/{box_id}/hookup", name="box_hookup")
def box_hookup_page(request: Request, job_id: str, box_id: str, person: Reader) -> HTMLResponse:
    """One box: what each circuit in it does there."""
    opened = open_job(request, person, job_id)
    box, room = box_of(opened, box_id)
    house = opened.house
    parts = []
    for found in house.derive(hookups, opened.code).of_box(box_id):
        card = box_hookup(found, box_id, house) if found.state is State.LAWFUL else None
        parts.append(BoxPart(found.circuits, hookup_answer(found), _card(card, opened) if card else None))
    page = BoxHookupPage(opened.job, box_id, box_name(box), room.id, room.name, tuple(parts))
    return render(request, "circuits/box_hookup.html", page, job=opened.bar)
