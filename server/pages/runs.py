"""Drawing a circuit's run: boxes are tapped in the order in which the cable visits them.

Each tap adds one leg and answers with the part of the page that changed; without a script the same form answers with
the whole page. Where one stands, the room on screen and the cable that is pulled next travel in the address and in the
form, so that the page has no memory of its own.
"""

from __future__ import annotations

from typing import Annotated, Literal
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import CableKind, Circuit, Dwelling
from server.pages import flash
from server.pages.changes import author_of
from server.pages.circuits import circuit_of
from server.pages.entering import change_of
from server.pages.forms import Fields, Typed
from server.pages.opened import OpenJob, open_job
from server.pages.rendering import render
from server.pages.run_view import PANEL, Mode, Standing, called, run_page_of, settled
from server.people.access import NotFound, job_for
from server.people.current import Builder, engine_of
from server.people.roles import Role
from server.readiness.run_edits import (
    CableSpec,
    Edits,
    add_leg,
    adopt_cable,
    apply_cable_plan,
    change_leg,
    insert_box,
    move_end,
    put_on_load_side,
    remove_leg,
    take_out_box,
)
from server.rules.hookups import hookups
from server.rules.runs import run_of
from server.store.engine import writing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference, NotThere
from server.store.undo import undo

__all__ = ["router"]

router = APIRouter(prefix="/jobs/{job_id}/circuits/{circuit_id}", include_in_schema=False)

Id = Annotated[str, Query(max_length=64)]


# the page ------------------------------------------------------------------------------------------------------


@router.get("/run", name="run")
def run_page(
    request: Request,
    job_id: str,
    circuit_id: str,
    person: Builder,
    at: Id = "",
    room: Id = "",
    mode: Mode = "add",
    leg: Id = "",
    awg: Id = "",
    insulated: Id = "",
    kind: Id = "",
    alone: Id = "",
) -> HTMLResponse:
    """The run of a circuit, ready for the next tap."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    return _shown(request, opened, circuit, Standing(at, room, mode, leg, awg, insulated, kind, alone))


def _shown(
    request: Request,
    opened: OpenJob,
    circuit: Circuit,
    standing: Standing,
    *,
    said: str = "",
    refused: str = "",
    undo_id: str = "",
    status: int = 200,
) -> HTMLResponse:
    page = run_page_of(opened, circuit, standing, said=said, refused=refused, undo_id=undo_id)
    part = request.headers.get("HX-Request") == "true"
    name = "circuits/_run.html" if part else "circuits/run.html"
    return render(request, name, page, job=opened.bar, status=status, headers={"Vary": "HX-Request"})


# the taps ------------------------------------------------------------------------------------------------------


class Tap(BaseModel):
    """A form of the page: what is done (``deed``), with what, and where one stands."""

    model_config = ConfigDict(extra="forbid")

    deed: Literal["tap", "leg", "remove", "leave", "adopt", "load", "device", "plan"] = "tap"
    to: str = Field(default="", max_length=64)
    device: str = Field(default="", max_length=64)
    device_circuit: str = Field(default="", max_length=64)
    load: Literal["", "yes", "no"] = ""
    at: str = Field(default="", max_length=64)
    room: str = Field(default="", max_length=64)
    mode: Mode = "add"
    leg: str = Field(default="", max_length=64)
    awg: str = Field(default="", max_length=10)
    insulated: int = Field(default=2, ge=1, le=12)
    kind: CableKind = CableKind.NM_B
    alone: Literal["", "yes"] = ""


@router.post("/run", name="tap_run")
def tap_run(request: Request, job_id: str, circuit_id: str, person: Builder, form: Typed) -> Response:
    """One tap on a run: a leg added, changed, moved, removed."""
    read = form.read(Tap)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = circuit_of(opened, circuit_id)
    if read.model is None:
        return _shown(request, opened, circuit, Standing(), refused=_first(read.fields), status=422)
    tap = read.model
    standing = Standing(
        tap.at, tap.room, tap.mode, tap.leg, tap.awg, str(tap.insulated), tap.kind.value, tap.alone
    )
    standing = settled(standing, circuit, opened.house, run_of((circuit,), opened.house).reached, opened)
    edits = _edits(tap, standing, circuit, opened)
    if edits.refused:
        return _shown(request, opened, circuit, standing, refused=edits.refused, status=409)
    undo_id = ""
    if not edits.nothing:
        with change_of(request, person, job_id, f"{circuit.name}: {edits.said}") as change:
            change.add(*edits.add)
            for kind, fact_id, values in edits.change:
                change.edit(kind, fact_id, values)
            if edits.delete:
                change.delete("cable", *edits.delete)
        undo_id = change.id if change.lines else ""
    after = _after(tap, standing, edits, opened.house)
    said = edits.said if undo_id or edits.nothing else "Nothing was different: nothing was changed."
    return _answered(request, person, job_id, circuit_id, after, said, undo_id)


def _first(fields: Fields) -> str:
    name, text = next(iter(fields.errors.items()), ("", "That was not understood."))
    return f"{name}: {text}" if name else text


def _edits(tap: Tap, standing: Standing, circuit: Circuit, opened: OpenJob) -> Edits:
    house = opened.house
    at = "" if standing.at == PANEL else standing.at
    spec = CableSpec(standing.awg or None, int(standing.insulated), CableKind(standing.kind))
    match tap.deed:
        case "tap" if standing.mode == "insert":
            return insert_box(house, circuit, standing.leg, tap.to, new_id=str(uuid4()))
        case "tap" if standing.mode == "move":
            return move_end(house, circuit, standing.leg, tap.to)
        case "tap" if tap.to == PANEL:
            return Edits("Standing at the panel.", "")
        case "tap":
            return add_leg(house, circuit, at, tap.to, spec, new_id=str(uuid4()), both=not standing.alone)
        case "leg":
            return change_leg(house, circuit, tap.leg, spec, at)
        case "remove":
            return remove_leg(house, circuit, tap.leg)
        case "leave":
            return take_out_box(house, circuit, tap.to)
        case "adopt":
            return adopt_cable(house, circuit, tap.leg, at)
        case "load":
            return put_on_load_side(house, tap.device, tap.leg, load=tap.load == "yes", at=at)
        case "device":
            return _device_circuit(house, tap, at)
        case "plan":
            return apply_cable_plan(house.derive(hookups, opened.code).of(circuit.id))


def _device_circuit(house: Dwelling, tap: Tap, at: str) -> Edits:
    device = house.devices.get(tap.device)
    if device is None or (tap.device_circuit and tap.device_circuit not in house.circuits):
        return Edits("", at, refused="That device or that circuit is gone.")
    name = house.circuits[tap.device_circuit].name if tap.device_circuit else "the circuit of its cables"
    return Edits(
        f"{called(device)} is on {name}.",
        at,
        change=(("device", device.id, {"circuit_id": tap.device_circuit or None}),),
    )


def _after(tap: Tap, standing: Standing, edits: Edits, house: Dwelling) -> Standing:
    """Where one stands after a tap: a leg that was chosen stays so only while it is changed itself."""
    stays = tap.deed in ("leg", "load", "device", "plan")
    at = standing.at if stays else edits.at or PANEL
    box = house.boxes.get(at)
    room = box.room_id if box is not None and tap.deed == "tap" else standing.room
    return Standing(
        at, room, "add", "", standing.awg, standing.insulated if tap.deed != "leg" else "", standing.kind, standing.alone
    )  # fmt: skip


def _answered(
    request: Request,
    person: Builder,
    job_id: str,
    circuit_id: str,
    standing: Standing,
    said: str,
    undo_id: str,
) -> Response:
    """The part anew for a script; for a plain form the whole page, which says what was done."""
    if request.headers.get("HX-Request") != "true":
        path = f"/jobs/{job_id}/circuits/{circuit_id}/run?{standing.query()}"
        undo_path = f"/jobs/{job_id}/changes/{undo_id}/undo" if undo_id else ""
        return flash.redirect(path, flash.Said(said, undo_path) if said else None)
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    return _shown(request, opened, circuit_of(opened, circuit_id), standing, said=said, undo_id=undo_id)


class TakingBack(BaseModel):
    """The form that takes the last tap back."""

    model_config = ConfigDict(extra="forbid")

    change: str = Field(min_length=1, max_length=64)
    room: str = Field(default="", max_length=64)
    awg: str = Field(default="", max_length=10)
    insulated: str = Field(default="", max_length=4)
    kind: str = Field(default="", max_length=20)
    alone: Literal["", "yes"] = ""


@router.post("/run/undo", name="undo_run")
def undo_run(request: Request, job_id: str, circuit_id: str, person: Builder, form: Typed) -> Response:
    """Take one tap back; the answer offers to do it again."""
    read = form.read(TakingBack)
    if read.model is None:
        raise NotFound
    wanted = read.model
    standing = Standing("", wanted.room, "add", "", wanted.awg, wanted.insulated, wanted.kind, wanted.alone)
    said, done_id = "Undone.", ""
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.ELECTRICIAN)
            done_id = undo(session, job_id, wanted.change, author_of(person))
    except AlreadyUndone:
        said = "That was undone before."
    except NotThere:
        raise NotFound from None
    except (Conflict, DanglingReference):
        said = "Not undone: somebody changed the same thing since."
    return _answered(request, person, job_id, circuit_id, standing, said, done_id)
