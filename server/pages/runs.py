"""Drawing a circuit's run: boxes are tapped in the order in which the cable visits them.

Each tap adds one leg and answers with the part of the page that changed; without a script the same form answers with
the whole page. Where one stands, the room on screen and the cable that is pulled next travel in the address and in the
form, so that the page has no memory of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, Final, Literal
from urllib.parse import urlencode
from uuid import uuid4

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field

from server.drawings.elevation import draw_wall
from server.drawings.plan import draw_room_plan
from server.dwelling import Box, CableKind, Circuit, Device, Dwelling, Room
from server.pages import flash
from server.pages.changes import author_of
from server.pages.circuit_words import CABLE_KINDS
from server.pages.circuits import Answer, circuit_of, hookup_answer, one_line
from server.pages.entering import change_of
from server.pages.forms import Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.access import NotFound, job_for
from server.people.current import Builder, engine_of
from server.people.roles import Role
from server.readiness.circuit_proposal import conductor_for, conductor_sizes
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
from server.rules.hookup_names import cable_size, device_word, listed, short_box_name
from server.rules.hookups import CircuitHookup, State, hookups
from server.rules.runs import Leg, run_of
from server.store.engine import writing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference, NotThere
from server.store.undo import undo

__all__ = ["router"]

_PANEL: Final = "panel"
_COUNTS: Final = (2, 3, 4)

router = APIRouter(prefix="/jobs/{job_id}/circuits/{circuit_id}", include_in_schema=False)

Mode = Literal["add", "insert", "move"]
Id = Annotated[str, Query(max_length=64)]


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one stands and what one is about to do; what the forms carry along."""

    at: str = ""
    room: str = ""
    mode: Mode = "add"
    leg: str = ""
    awg: str = ""
    insulated: str = ""
    kind: str = ""
    alone: str = ""

    def query(self, **other: str) -> str:
        """As an address's query; ``other`` takes the place of fields."""
        values = {
            "at": self.at, "room": self.room, "mode": self.mode if self.mode != "add" else "", "leg": self.leg, "awg": self.awg,
            "insulated": self.insulated, "kind": self.kind, "alone": self.alone,
        } | other  # fmt: skip
        return urlencode({name: value for name, value in values.items() if value})


@dataclass(frozen=True, slots=True)
class TapBox:
    """A box that can be tapped: ``state`` says where it is already, ``number`` the leg that reaches it."""

    id: str
    label: str
    what: str
    state: str
    on_run: bool
    is_here: bool
    number: int


@dataclass(frozen=True, slots=True)
class RoomChip:
    """A room to tap in."""

    id: str
    name: str
    query: str
    is_shown: bool
    on_run: int


@dataclass(frozen=True, slots=True)
class LegRow:
    """A cable of the run in the list. ``depth`` counts the branches to its left."""

    id: str
    number: int
    size: str
    start: str
    end: str
    end_id: str
    depth: int
    carries: str
    short: bool
    needs: int
    is_chosen: bool
    query: str


@dataclass(frozen=True, slots=True)
class OddCable:
    """A cable that is no leg: loose, apart, closing a ring, astray, or on no circuit."""

    id: str
    name: str
    why: str
    can_adopt: bool


@dataclass(frozen=True, slots=True)
class LoadSide:
    """A cable at a protecting device: on its load side or not."""

    device_id: str
    device: str
    cable_id: str
    cable: str
    load: bool


@dataclass(frozen=True, slots=True)
class DeviceCircuit:
    """A device in a box that several circuits enter."""

    id: str
    name: str
    circuit_id: str


@dataclass(frozen=True, slots=True)
class Here:
    """The box that one stands in (or the panel)."""

    id: str
    name: str
    devices: str
    link: str
    load_sides: tuple[LoadSide, ...]
    device_circuits: tuple[DeviceCircuit, ...]
    circuits: tuple[tuple[str, str], ...]
    can_leave: bool


@dataclass(frozen=True, slots=True)
class RunPage:
    """A run while it is drawn."""

    job: JobFacts
    circuit: Circuit
    partner: str
    standing: Standing
    here: Here
    answer: Answer
    is_short: bool
    short_legs: int
    drawing: Markup
    plan: Markup
    walls: tuple[Markup, ...]
    room_name: str
    levels: tuple[tuple[str, tuple[RoomChip, ...]], ...]
    boxes: tuple[TapBox, ...]
    legs: tuple[LegRow, ...]
    odd: tuple[OddCable, ...]
    chosen: LegRow | None
    counts: tuple[tuple[str, str], ...]
    sizes: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    said: str
    refused: str
    undo: str


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
    page = _page(opened, circuit, standing, said=said, refused=refused, undo_id=undo_id)
    part = request.headers.get("HX-Request") == "true"
    name = "circuits/_run.html" if part else "circuits/run.html"
    return render(request, name, page, job=opened.bar, status=status, headers={"Vary": "HX-Request"})


def _page(
    opened: OpenJob, circuit: Circuit, standing: Standing, *, said: str, refused: str, undo_id: str
) -> RunPage:
    house = opened.house
    found = house.derive(hookups, opened.code).of(circuit.id)
    own = run_of((circuit,), house)
    standing = _settled(standing, circuit, house, own.reached, opened)
    here_id = "" if standing.at == _PANEL else standing.at
    shown = house.rooms.get(standing.room)
    boxes = house.boxes_of_room.get(standing.room, [])
    links = {box.id: f"#tap-{box.id}" for box in boxes}
    legs = tuple(_legs(found, standing))
    partner = house.circuits.get(circuit.multiwire_with or "")
    path = f"/jobs/{opened.job.id}/circuits/{circuit.id}/run?{standing.query(at='', mode='', leg='', room='')}&at="
    sizes = conductor_sizes(opened.code)
    return RunPage(
        job=opened.job, circuit=circuit, partner=partner.name if partner else "", standing=standing,
        here=_here(here_id, circuit, opened, found, own.reached), answer=_answer(found),
        is_short=found.state is State.SHORT, short_legs=sum(need.insulated > need.has for need in found.hookup.cheapest),
        drawing=one_line(opened, circuit, found, path=path, here=here_id),
        plan=Markup(draw_room_plan(shown, house, links=links, marked=here_id or None)) if shown else Markup(),  # noqa: S704
        walls=tuple(_walls(shown, house, links, here_id)) if shown else (),
        room_name=shown.name if shown else "", levels=tuple(_levels(opened, standing, own.reached)),
        boxes=tuple(_tap_box(box, circuit, house, own.legs, here_id) for box in boxes), legs=legs,
        odd=tuple(_odd(found, circuit, house)), chosen=next((row for row in legs if row.is_chosen), None),
        counts=tuple((str(count), _count_words(standing.awg, count)) for count in _COUNTS),
        sizes=tuple((awg, f"{awg} AWG") for awg in sizes), kinds=CABLE_KINDS, said=said, refused=refused, undo=undo_id,
    )  # fmt: skip


def _answer(found: CircuitHookup) -> Answer:
    """The answer in few words: where a cable is short, which; the rest stands on the page of the hookup."""
    if found.state is not State.SHORT:
        return hookup_answer(found)
    short = [f"cable {item.cable} needs {item.needs} conductors" for item in found.hookup.short]
    return Answer("correction", f"{listed(short).capitalize()}.", "")


def _settled(
    standing: Standing, circuit: Circuit, house: Dwelling, reached: tuple[str, ...], opened: OpenJob
) -> Standing:
    """The same with what was not said: one stands at the last box reached, in its room, and pulls the usual cable."""
    at = standing.at
    if at != _PANEL and at not in house.boxes:
        at = reached[-1] if reached and reached[-1] in house.boxes else _PANEL
    room = standing.room
    if room not in house.rooms:
        box = house.boxes.get(at)
        panel = house.panels.get(circuit.panel_id)
        in_room = box.room_id if box else panel.room_id if panel else None
        room = in_room if in_room in house.rooms and in_room is not None else next(iter(house.rooms), "")
    if not house.boxes_of_room.get(room) and not standing.room:
        room = next((each for each in house.rooms if house.boxes_of_room.get(each)), room)
    usual = circuit.conductor_awg or (
        conductor_for(circuit.rating_a, opened.code, circuit.material) if circuit.rating_a else None
    )
    kinds = {value for value, _ in CABLE_KINDS}
    return Standing(
        at, room, standing.mode if standing.leg in house.cables else "add", standing.leg if standing.leg in house.cables else "",
        standing.awg if standing.awg in conductor_sizes(opened.code) else usual or "14",
        standing.insulated if standing.insulated.isdigit() and 1 <= int(standing.insulated) <= 12 else "3" if circuit.multiwire_with else "2",
        standing.kind if standing.kind in kinds else CableKind.NM_B.value, "yes" if standing.alone == "yes" else "",
    )  # fmt: skip


def _count_words(awg: str, count: int) -> str:
    return f"{awg}-{count}"


def _here(
    box_id: str, circuit: Circuit, opened: OpenJob, found: CircuitHookup, reached: tuple[str, ...]
) -> Here:
    house, base = opened.house, f"/jobs/{opened.job.id}"
    box = house.boxes.get(box_id)
    if box is None:
        panel = house.panels.get(circuit.panel_id)
        return Here(
            "", panel.name if panel else "the panel", "", f"{base}/panels/{circuit.panel_id}", (), (), (), can_leave=False
        )  # fmt: skip
    devices = house.devices_of_box.get(box_id, [])
    circuits = house.circuits_of_box(box_id)
    feed = next((leg.cable.id for leg in found.run.legs if leg.end == box_id), "")
    onward = [
        cable
        for cable in house.cables_of_box.get(box_id, ())
        if cable.id != feed and circuit.id in cable.circuit_ids
    ]
    protectors = [device for device in devices if device.gfci or device.afci]
    return Here(
        box_id, short_box_name(box, house), ", ".join(map(_device, devices)) or "empty", f"{base}/boxes/{box_id}",
        tuple(
            LoadSide(
                device.id, _device(device), cable.id, found.names.cable.get(cable.id, cable_size(cable)),
                cable.id in device.load_cable_ids,
            )
            for device in protectors
            for cable in onward
        ),
        tuple(DeviceCircuit(device.id, _device(device), device.circuit_id or "") for device in devices) if len(circuits) > 1 else (),
        tuple((each.id, each.name) for each in circuits), can_leave=box_id in reached,
    )  # fmt: skip


def _device(device: Device) -> str:
    return device.label or device_word(device)


def _walls(room: Room, house: Dwelling, links: Mapping[str, str], here: str) -> list[Markup]:
    walls = house.walls_of_room.get(room.id, [])
    longest = max((float(wall.length_in) for wall in walls), default=1)
    scale = min(2.4, 330 / longest)
    return [
        Markup(draw_wall(wall, room, house, scale=scale, links=links, marked=here or None))  # noqa: S704 - our own drawing
        for wall in walls
        if any(box.wall_id == wall.id for box in house.boxes_of_room.get(room.id, ()))
    ]


def _levels(
    opened: OpenJob, standing: Standing, reached: tuple[str, ...]
) -> list[tuple[str, tuple[RoomChip, ...]]]:
    house = opened.house
    on_run: dict[str, int] = {}
    for box_id in reached:
        box = house.boxes.get(box_id)
        if box is not None:
            on_run[box.room_id] = on_run.get(box.room_id, 0) + 1
    found = []
    for level in sorted(house.facts.levels, key=lambda each: -each.order):
        chips = tuple(
            RoomChip(
                room.id,
                room.name,
                standing.query(room=room.id),
                room.id == standing.room,
                on_run.get(room.id, 0),
            )
            for room in house.facts.rooms
            if room.level_id == level.id and house.boxes_of_room.get(room.id)
        )
        if chips:
            found.append((level.name, chips))
    return found


def _tap_box(box: Box, circuit: Circuit, house: Dwelling, legs: tuple[Leg, ...], here: str) -> TapBox:
    number = next((leg.number for leg in legs if leg.end == box.id), 0)
    others = [each.name for each in house.circuits_of_box(box.id) if each.id != circuit.id]
    state = f"on {', '.join(others)}" if others else ""
    what = ", ".join(map(_device, house.devices_of_box.get(box.id, ()))) or "empty"
    label = box.label or short_box_name(box, house)
    return TapBox(box.id, label, what, state, bool(number), box.id == here, number)


def _legs(found: CircuitHookup, standing: Standing) -> list[LegRow]:
    names, hookup = found.names, found.hookup
    short = {item.cable: item for item in hookup.short}
    rows = []
    for leg in found.run.legs:
        name = names.cable[leg.cable.id]
        planned = found.cable(leg.cable.id)
        lack = short.get(name)
        carries = (
            lack.signals
            if lack
            else tuple(c.signal for c in planned.conductors if c.signal)
            if planned
            else ()
        )
        rows.append(
            LegRow(
                leg.cable.id, leg.number, f"{cable_size(leg.cable)} {leg.cable.kind.upper()}",
                names.box.get(leg.start, "") if leg.start else names.panel, names.box.get(leg.end, "the panel it feeds"), leg.end,
                leg.row, _roles(carries), lack is not None, lack.needs if lack else 0,
                leg.cable.id == standing.leg, standing.query(leg=leg.cable.id, mode=""),
            )
        )  # fmt: skip
    return rows


def _roles(signals: Iterable[str]) -> str:
    """``neutral, hot, switched hot, 2 travelers``: what a leg carries, in few words."""
    counts: dict[str, int] = {}
    for signal in signals:
        words = signal.split(" (")[0].split(" to ")[0].split(" of ")[0]
        role = words.rstrip(" 12") if words.startswith("traveler") else words
        counts[role] = counts.get(role, 0) + 1
    return ", ".join(role if number == 1 else f"{number} {role}s" for role, number in counts.items())


def _odd(found: CircuitHookup, circuit: Circuit, house: Dwelling) -> list[OddCable]:
    run, names = found.run, found.names
    told = {
        gap.cable_id: gap.sentence
        for gap in (*found.entered.run_gaps, *((found.entered.ring_gap,) if found.entered.ring_gap else ()))
    }
    rows = [
        OddCable(cable.id, f"Cable {names.cable[cable.id]}", told.get(cable.id, word), can_adopt=False)
        for cables, word in (
            (run.loose, "An end of it leads nowhere yet."), (run.apart, "Nothing joins it to the panel."),
            (run.rings, "It closes a ring."), (run.astray, "It ends in the wrong place."),
        )
        for cable in cables
    ]  # fmt: skip
    reached = {*run.reached, ""}
    for cable in house.facts.cables:
        if any(each in house.circuits for each in cable.circuit_ids):
            continue
        ends = [house.boxes[end] for end in (cable.a_box_id, cable.b_box_id) if end and end in house.boxes]
        if any(box.id in reached for box in ends) or circuit.panel_id in (cable.a_panel_id, cable.b_panel_id):
            places = " and ".join(short_box_name(box, house) for box in ends)
            rows.append(
                OddCable(
                    cable.id, f"{cable_size(cable)} at {places}", "It is on no circuit yet.", can_adopt=True
                )
            )
    return rows


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
    standing = _settled(standing, circuit, opened.house, run_of((circuit,), opened.house).reached, opened)
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
    at = "" if standing.at == _PANEL else standing.at
    spec = CableSpec(standing.awg or None, int(standing.insulated), CableKind(standing.kind))
    match tap.deed:
        case "tap" if standing.mode == "insert":
            return insert_box(house, circuit, standing.leg, tap.to, new_id=str(uuid4()))
        case "tap" if standing.mode == "move":
            return move_end(house, circuit, standing.leg, tap.to)
        case "tap" if tap.to == _PANEL:
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
        f"{_device(device)} is on {name}.",
        at,
        change=(("device", device.id, {"circuit_id": tap.device_circuit or None}),),
    )


def _after(tap: Tap, standing: Standing, edits: Edits, house: Dwelling) -> Standing:
    """Where one stands after a tap: a leg that was chosen stays so only while it is changed itself."""
    stays = tap.deed in ("leg", "load", "device", "plan")
    at = standing.at if stays else edits.at or _PANEL
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


@router.get("/run/undo", name="run_after_undo")
def run_after_undo(job_id: str, circuit_id: str, person: Builder) -> RedirectResponse:
    """Where a reload after taking back leads."""
    return RedirectResponse(f"/jobs/{job_id}/circuits/{circuit_id}/run", status_code=303)
