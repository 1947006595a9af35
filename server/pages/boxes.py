"""One box: its place on the wall, what is found about it and its devices, what is in it, which cables enter it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from server.dwelling import Box, Cable, DeviceKind, Dwelling, Room, Surface, format_length
from server.pages.device_words import box_name, box_size, box_where, device_name, device_notes
from server.pages.entering import change_of, done
from server.pages.findings_view import Group, groups_of
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.pictures_view import pictures_of
from server.pages.rendering import render
from server.pages.room_drawings import drawn_plan, drawn_walls
from server.people.access import NotFound
from server.people.current import Builder, Reader
from server.people.roles import Role
from server.readiness.words import write_number
from server.rules.naming import cable_name
from server.rules.outcome import Verdict

__all__ = ["QUICK_DEVICES", "box_of", "router"]

QUICK_DEVICES: Final = (
    (DeviceKind.RECEPTACLE, "Receptacle"), (DeviceKind.SWITCH, "Switch"), (DeviceKind.LUMINAIRE, "Luminaire"),
    (DeviceKind.FAN, "Fan"), (DeviceKind.EXHAUST_FAN, "Exhaust fan"), (DeviceKind.SMOKE_ALARM, "Smoke alarm"),
    (DeviceKind.CO_ALARM, "CO alarm"), (DeviceKind.SMOKE_CO_ALARM, "Smoke and CO alarm"), (DeviceKind.HARDWIRED, "Hardwired appliance"),
    (DeviceKind.PROTECTOR, "Faceless GFCI or AFCI"), (DeviceKind.OTHER, "Something else"),
)  # fmt: skip

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class DeviceRow:
    """A device of the box."""

    id: str
    name: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CableRow:
    """A cable that enters the box, and where its other end is."""

    id: str
    name: str
    other_end: str
    other_path: str
    circuits: str


@dataclass(frozen=True, slots=True)
class Near:
    """The box before or after this one in its room."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class BoxPage:
    """One box."""

    job: JobFacts
    room: Room
    box: Box
    name: str
    where: str
    size: str
    circuits: str
    drawing: Markup
    drawn_on: str
    facts: tuple[tuple[str, str], ...]
    devices: tuple[DeviceRow, ...]
    cables: tuple[CableRow, ...]
    corrections: list[Group]
    to_enter: list[Group]
    inspector: list[Group]
    settled: list[Group]
    wrong: int
    looks: int
    clear: int
    before: Near | None
    after: Near | None
    quick: tuple[tuple[str, str], ...]
    may_build: bool
    may_record: bool


def box_of(opened: OpenJob, box_id: str) -> tuple[Box, Room]:
    """A box of an open job, and its room.

    Raises:
        NotFound: it has no such box.
    """
    box = opened.house.boxes.get(box_id)
    room = opened.house.room_of_box(box) if box is not None else None
    if box is None or room is None:
        raise NotFound
    return box, room


@router.get("/boxes/{box_id}", name="box")
def box_page(request: Request, job_id: str, box_id: str, person: Reader) -> HTMLResponse:
    """One box."""
    opened = open_job(request, person, job_id)
    box, room = box_of(opened, box_id)
    house = opened.house
    devices = house.devices_of_box.get(box.id, [])
    about = {("box", box.id), *(("device", device.id) for device in devices)}
    findings = [item for item in opened.findings_of(room.id) if (item.subject.kind, item.subject.id) in about]
    unseen = [item for item in findings if item.outcome.verdict is Verdict.UNSEEN]
    waiting = [item for item in unseen if any(missing.field for missing in item.outcome.missing)]
    boxes = house.boxes_of_room.get(room.id, [])
    place = next(place for place, each in enumerate(boxes) if each.id == box.id)
    drawing, drawn_on = _drawing(opened, box, room, may_build=person.may_build)
    page = BoxPage(
        job=opened.job, room=room, box=box, name=box_name(box), where=box_where(box, house), size=box_size(box),
        circuits=", ".join(circuit.name for circuit in house.circuits_of_box(box.id)) or "none yet",
        drawing=drawing, drawn_on=drawn_on, facts=_facts(box, house),
        devices=tuple(DeviceRow(each.id, device_name(each), device_notes(each, house)) for each in devices),
        cables=tuple(_cable(cable, box, opened) for cable in house.cables_of_box.get(box.id, ())),
        corrections=groups_of(findings, opened, Verdict.CORRECTION, pictures=pictures_of(request, opened)),
        to_enter=groups_of(waiting, opened, Verdict.UNSEEN),
        inspector=groups_of(findings, opened, Verdict.INSPECTOR), settled=groups_of(findings, opened, Verdict.CLEAR),
        wrong=sum(item.outcome.verdict is Verdict.CORRECTION for item in findings),
        looks=len(unseen) - len(waiting), clear=sum(item.outcome.verdict is Verdict.CLEAR for item in findings),
        before=_near(boxes[place - 1]) if place else None,
        after=_near(boxes[place + 1]) if place + 1 < len(boxes) else None,
        quick=tuple((kind.value, word) for kind, word in QUICK_DEVICES),
        may_build=person.may_build, may_record=person.may_record,
    )  # fmt: skip
    return render(request, "boxes/box.html", page, job=opened.bar)


def _near(box: Box) -> Near:
    return Near(box.id, box_name(box))


def _drawing(opened: OpenJob, box: Box, room: Room, *, may_build: bool) -> tuple[Markup, str]:
    """The wall with the box ringed, or the plan where it stands on no wall; and what that is called."""
    if box.wall_id is not None and box.at_in is not None:
        walls = drawn_walls(
            opened.job.id,
            room,
            opened.house,
            opened.code,
            may_build=may_build,
            only=box.wall_id,
            marked=box.id,
        )
        if walls:
            return walls[0].svg, walls[0].name
    if box.x_in is not None and box.y_in is not None:
        return drawn_plan(opened.job.id, room, opened.house, may_build=may_build, marked=box.id), "From above"
    return Markup(), ""


def _facts(box: Box, house: Dwelling) -> tuple[tuple[str, str], ...]:
    """What is recorded of the box beside its place and size; only what is there."""
    counter = house.counters.get(box.counter_id or "")
    clamps = {"none": "no clamps inside", "internal": "inside the box", "external": "connectors outside"}
    found = (
        ("Surface", box.surface.value if box.surface is not Surface.WALL else ""),
        ("Clamps", clamps[box.clamps.value] if box.clamps else ""),
        ("Ring or extension", f"{write_number(box.ring_in3)} in³" if box.ring_in3 is not None else ""),
        ("Luminaire studs", str(box.luminaire_studs) if box.luminaire_studs else ""),
        ("Hickeys", str(box.hickeys) if box.hickeys else ""),
        ("Rated for a fan", {True: "yes", False: "no", None: ""}[box.fan_rated]),
        ("Marked for", f"{write_number(box.rated_lb)} lb" if box.rated_lb is not None else ""),
        ("Location", box.wetness.value if box.wetness else ""),
        ("From the sink", format_length(box.from_sink_in) if box.from_sink_in is not None else ""),
        ("From the tub or shower", format_length(box.from_tub_in) if box.from_tub_in is not None else ""),
        ("Counter", f"{counter.kind.value}, {format_length(counter.length_in)}" if counter else ""),
        ("Below the counter", format_length(box.below_counter_in) if box.below_counter_in is not None else ""),
        ("In a cabinet", "yes" if box.inside_cabinet else ""),
        ("Note", box.note),
    )  # fmt: skip
    return tuple((label, value) for label, value in found if value)


def _cable(cable: Cable, box: Box, opened: OpenJob) -> CableRow:
    house, base = opened.house, f"/jobs/{opened.job.id}"
    at_a = cable.a_box_id == box.id
    box_id, panel_id = (cable.b_box_id, cable.b_panel_id) if at_a else (cable.a_box_id, cable.a_panel_id)
    other, panel = house.boxes.get(box_id or ""), house.panels.get(panel_id or "")
    end, path = "no other end yet", ""
    if other is not None:
        room = house.room_of_box(other)
        end = box_name(other) + (f", {room.name}" if room is not None and room.id != box.room_id else "")
        path = f"{base}/boxes/{other.id}"
    elif panel is not None:
        end, path = panel.name, f"{base}/panels/{panel.id}"
    circuits = ", ".join(house.circuits[each].name for each in cable.circuit_ids if each in house.circuits)
    return CableRow(cable.id, cable_name(cable), end, path, circuits)


@router.post("/boxes/{box_id}/delete", name="delete_box")
def delete_box(request: Request, job_id: str, box_id: str, person: Builder) -> RedirectResponse:
    """Delete a box with what is in it; cables lose that end. The page after offers to undo it."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    box, room = box_of(opened, box_id)
    name = box_name(box)
    with change_of(request, person, job_id, f"deleted {name}, {room.name}") as change:
        change.delete("box", box_id)
    return done(f"/jobs/{job_id}/rooms/{room.id}", f"{name} deleted.", change)
