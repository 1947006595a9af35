"""Devices in a box: added with one tap, changed on a form that asks only what its kind has."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import (
    RECEPTACLE_RATINGS,
    Box,
    Device,
    DeviceKind,
    Dwelling,
    Half,
    Room,
    RoomKind,
    SwitchWays,
)
from server.pages.border import OptionalNumber, Ticked, YesOrNo
from server.pages.boxes import QUICK_DEVICES, box_of
from server.pages.device_words import box_name, box_where, device_name
from server.pages.entering import change_of, done
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.pages.typed_facts import changed, typed_of
from server.people.access import NotFound
from server.people.current import Builder
from server.people.roles import Role
from server.readiness.ready_made import uncontrolled_lights
from server.rules.naming import cable_name

__all__ = ["router"]

_ASKED_THREE_WAYS: Final = ("tamper_resistant", "weather_resistant", "readily_accessible", "recessed")
_EVERY_KIND: Final = ("kind", "label", "circuit_id", "note")
_LOAD: Final = ("fixture_id", "volts", "va")
_FIELDS_OF: Final[Mapping[DeviceKind, tuple[str, ...]]] = {
    DeviceKind.RECEPTACLE: (
        "configuration", "receptacles", "gfci", "afci", "tamper_resistant", "weather_resistant", "switched_half",
        "load_cable_ids", "fixture_id", "serves", "dedicated", "readily_accessible", "second_circuit_id", "largest_awg", "gangs_wide",
        "isolated_ground",
    ),
    DeviceKind.SWITCH: ("ways", "dimmer", "controls", "largest_awg", "gangs_wide"),
    DeviceKind.LUMINAIRE: ("weight_lb", "domed", "recessed", "lamp", "volts", "va"),
    DeviceKind.FAN: ("weight_lb", "volts", "va"),
    DeviceKind.EXHAUST_FAN: ("weight_lb", "volts", "va"),
    DeviceKind.HARDWIRED: (*_LOAD, "serves", "dedicated", "gangs_wide"),
    DeviceKind.PROTECTOR: ("gfci", "afci", "load_cable_ids", "readily_accessible", "gangs_wide"),
    DeviceKind.OTHER: (*_LOAD, "serves", "gangs_wide"),
}  # fmt: skip
"""What each kind is asked beside what all are asked."""
_CONTROLLED: Final = (
    DeviceKind.LUMINAIRE, DeviceKind.FAN, DeviceKind.EXHAUST_FAN, DeviceKind.RECEPTACLE, DeviceKind.HARDWIRED,
)  # fmt: skip
_SERVES: Final = (
    "countertop", "refrigerator", "range", "dishwasher", "disposer", "microwave", "washer", "dryer", "garage door opener",
    "sump pump", "freezer", "fire alarm",
)  # fmt: skip
_LAMPS: Final = ("LED", "enclosed LED", "enclosed incandescent", "open incandescent", "fluorescent")

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


class Adding(BaseModel):
    """A device of a kind, to add with one tap."""

    model_config = ConfigDict(extra="forbid")

    kind: DeviceKind


class DeviceChange(BaseModel):
    """The form of a device: a kind's form sends the fields of :data:`_FIELDS_OF`, the others stay as they are."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    kind: DeviceKind
    label: str = Field(default="", max_length=60)
    circuit_id: str | None = Field(default=None, max_length=64)
    second_circuit_id: str | None = Field(default=None, max_length=64)
    configuration: str | None = Field(default=None, max_length=10)
    receptacles: int = Field(default=2, ge=1, le=12)
    gfci: Ticked = False
    afci: Ticked = False
    tamper_resistant: YesOrNo = None
    weather_resistant: YesOrNo = None
    switched_half: Half | None = None
    ways: SwitchWays | None = None
    dimmer: Ticked = False
    controls: tuple[str, ...] = ()
    load_cable_ids: tuple[str, ...] = ()
    fixture_id: str | None = Field(default=None, max_length=64)
    serves: str = Field(default="", max_length=60)
    dedicated: Ticked = False
    readily_accessible: YesOrNo = None
    volts: int | None = Field(default=None, ge=0, le=1000)
    va: OptionalNumber = Field(default=None, le=1_000_000)
    weight_lb: OptionalNumber = Field(default=None, le=10_000)
    domed: Ticked = False
    recessed: YesOrNo = None
    lamp: str = Field(default="", max_length=60)
    largest_awg: str | None = Field(default=None, max_length=10)
    gangs_wide: int = Field(default=1, ge=1, le=6)
    isolated_ground: Ticked = False
    note: str = Field(default="", max_length=2000)
    other_room: str = Field(default="", max_length=64)
    deed: Literal["save", "show"] = "save"


@dataclass(frozen=True, slots=True)
class Target:
    """Something a switch can control."""

    id: str
    name: str
    where: str


@dataclass(frozen=True, slots=True)
class DevicePage:
    """The form of a device."""

    job: JobFacts
    room: Room
    box: Box
    box_name: str
    device: Device
    name: str
    fields: Fields
    asked: frozenset[str]
    targets: tuple[tuple[str, tuple[Target, ...]], ...]
    controlled: tuple[str, ...]
    other_rooms: tuple[tuple[str, str], ...]
    cables: tuple[tuple[str, str], ...]
    load: tuple[str, ...]
    circuits: tuple[tuple[str, str], ...]
    fixtures: tuple[tuple[str, str], ...]
    configurations: tuple[tuple[str, str], ...]
    serves: tuple[str, ...]
    lamps: tuple[str, ...]
    kinds: tuple[tuple[str, str], ...]


@router.post("/boxes/{box_id}/devices", name="add_device")
def add_device(request: Request, job_id: str, box_id: str, person: Builder, form: Typed) -> Response:
    """Add a device with what is usual for its kind; its form is one tap away."""
    read = form.read(Adding)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    box, room = box_of(opened, box_id)
    if read.model is None:
        # the buttons send nothing else: whoever sends it finds the box as it was
        return _as_it_was(job_id, box_id)
    kind = read.model.kind
    order = 1 + max((each.order for each in opened.house.devices_of_box.get(box_id, ())), default=-1)
    device = Device(str(uuid4()), box_id, kind, order=order, **_usual(kind, room, opened.house))
    with change_of(request, person, job_id, f"added a {kind.value} to {box_name(box)}") as change:
        change.add(device)
    name = device_name(device)
    controlled = [opened.house.devices[each] for each in device.controls]
    switching = f" It switches {', '.join(device_name(each) for each in controlled)}." if controlled else ""
    return done(
        f"/jobs/{job_id}/boxes/{box_id}#devices",
        f"Added: {name}.{switching} Tap it to change what differs.",
        change,
    )


def _as_it_was(job_id: str, box_id: str) -> RedirectResponse:
    """Back to the box, with nothing done."""
    return RedirectResponse(f"/jobs/{job_id}/boxes/{box_id}", status_code=303)


def _usual(kind: DeviceKind, room: Room, house: Dwelling) -> dict[str, Any]:
    """What is usual for a kind of device in a room (common practice)."""
    if kind is DeviceKind.RECEPTACLE:
        outside = room.kind in (RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.BOATHOUSE)
        return {
            "configuration": "5-15",
            "tamper_resistant": True,
            "weather_resistant": True if outside else None,
        }
    if kind is DeviceKind.SWITCH:
        waiting = uncontrolled_lights(room.id, house)
        return {"ways": SwitchWays.SINGLE_POLE, "controls": tuple(each.id for each in waiting[:1])}
    return {}


def _device_of(opened: OpenJob, device_id: str) -> tuple[Device, Box, Room]:
    device = opened.house.devices.get(device_id)
    if device is None:
        raise NotFound
    return device, *box_of(opened, device.box_id)


@router.get("/devices/{device_id}", name="device")
def edit_device(request: Request, job_id: str, device_id: str, person: Builder) -> HTMLResponse:
    """The form of a device."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    device, box, room = _device_of(opened, device_id)
    fields = Fields(typed_of(device, yes_or_no=_ASKED_THREE_WAYS))
    page = _page(opened, device, box, room, fields, device.kind, device.controls, device.load_cable_ids)
    return render(request, "boxes/device.html", page, job=opened.bar)


def _page(
    opened: OpenJob,
    device: Device,
    box: Box,
    room: Room,
    fields: Fields,
    kind: DeviceKind,
    controlled: tuple[str, ...],
    load: tuple[str, ...],
    other_room: str = "",
) -> DevicePage:
    house = opened.house
    rooms = [room.id, *dict.fromkeys(
        found.id for each in controlled if each in house.devices and (found := house.room_of_device(house.devices[each]))
    ), other_room]  # fmt: skip
    return DevicePage(
        opened.job, room, box, box_name(box), device, device_name(device), fields,
        frozenset(_FIELDS_OF.get(kind, ())),
        tuple((house.rooms[each].name, _targets(each, house)) for each in dict.fromkeys(rooms) if each in house.rooms),
        controlled,
        (("", "Choose a room"), *((each.id, each.name) for each in house.facts.rooms if each.id not in rooms)),
        tuple((cable.id, cable_name(cable)) for cable in house.cables_of_box.get(box.id, ())), load,
        (("", "The circuit of its cables"), *((each.id, each.name) for each in _circuits(house, box, device))),
        (("", "None"), *((each.id, each.name or each.kind.value) for each in house.fixtures_of_room.get(room.id, ()))),
        (("", "Not entered"), *((name, f"{name}: {amperes} A, {volts} V") for name, (volts, amperes) in RECEPTACLE_RATINGS.items())),
        _SERVES, _LAMPS, tuple((each.value, word) for each, word in QUICK_DEVICES),
    )  # fmt: skip


def _targets(room_id: str, house: Dwelling) -> tuple[Target, ...]:
    return tuple(
        Target(each.id, f"{device_name(each)} in {box_name(box)}", box_where(box, house))
        for box in house.boxes_of_room.get(room_id, ())
        for each in house.devices_of_box.get(box.id, ())
        if each.kind in _CONTROLLED
    )


def _circuits(house: Dwelling, box: Box, device: Device) -> list[Any]:
    """The circuits in the box, then all others."""
    here = house.circuits_of_box(box.id)
    return [*here, *(each for each in house.facts.circuits if each not in here)]


@router.post("/devices/{device_id}", name="change_device")
def change_device(request: Request, job_id: str, device_id: str, person: Builder, form: Typed) -> Response:
    """Change a device; ``deed=show`` only shows the devices of another room to control."""
    read = form.read(DeviceChange)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    device, box, room = _device_of(opened, device_id)
    house = opened.house
    fields = read.fields
    if read.model is not None:
        fields = _checked(read.model, fields, device, house)
    if read.model is None or fields.errors or read.model.deed == "show":
        page = _page(
            opened, device, box, room, fields, _kind_of(form.values, device), _all(form, "controls"),
            _all(form, "load_cable_ids"), form.values.get("other_room", ""),
        )  # fmt: skip
        return render(
            request, "boxes/device.html", page, job=opened.bar, status=422 if fields.errors else 200
        )
    wanted = read.model
    asked = (*_EVERY_KIND, *_FIELDS_OF.get(wanted.kind, ()))
    # a kind that was just chosen was not asked what belongs to it: that stays as it is
    shown = {*_EVERY_KIND, *_FIELDS_OF.get(device.kind, ())} & set(asked)
    values = {name: value for name, value in wanted.model_dump().items() if name in shown}
    different = changed(device, values, form.values, typed_of(device, yes_or_no=_ASKED_THREE_WAYS))
    with change_of(request, person, job_id, f"changed {device_name(device)} in {box_name(box)}") as change:
        change.edit("device", device_id, different)
    return done(
        f"/jobs/{job_id}/boxes/{box.id}#devices", f"{device_name(device).capitalize()} changed.", change
    )


def _kind_of(values: Mapping[str, str], device: Device) -> DeviceKind:
    try:
        return DeviceKind(values.get("kind", device.kind.value))
    except ValueError:
        return device.kind


def _all(form: Typed, name: str) -> tuple[str, ...]:
    """Every value of a box that can be ticked more than once."""
    return form.lists.get(name, (form.values[name],) if form.values.get(name) else ())


def _checked(wanted: DeviceChange, fields: Fields, device: Device, house: Dwelling) -> Fields:
    if wanted.configuration and wanted.configuration not in RECEPTACLE_RATINGS:
        fields = fields.wrong("configuration", f"Choose one of the list; came {wanted.configuration!r}.")
    if unknown := [each for each in wanted.controls if each not in house.devices]:
        fields = fields.wrong("controls", f"Choose devices of this house; {len(unknown)} of them are gone.")
    if device.id in wanted.controls:
        fields = fields.wrong("controls", "A switch does not control itself.")
    if any(each not in house.cables for each in wanted.load_cable_ids):
        fields = fields.wrong("load_cable_ids", "Choose cables of this box.")
    for name, known in (
        ("circuit_id", house.circuits), ("second_circuit_id", house.circuits), ("fixture_id", house.fixtures),
    ):  # fmt: skip
        if (chosen := getattr(wanted, name)) and chosen not in known:
            fields = fields.wrong(name, "Choose one of the list: this one is gone.")
    return fields


@router.post("/devices/{device_id}/delete", name="delete_device")
def delete_device(request: Request, job_id: str, device_id: str, person: Builder) -> RedirectResponse:
    """Take a device out of its box; switches let go of it."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    device, box, _room = _device_of(opened, device_id)
    name = device_name(device)
    with change_of(request, person, job_id, f"took {name} out of {box_name(box)}") as change:
        change.delete("device", device_id)
    return done(f"/jobs/{job_id}/boxes/{box.id}#devices", f"{name.capitalize()} taken out.", change)
