"""What the page of a run shows: where one stands, the boxes of a room, the legs, the cables that lead nowhere yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal
from urllib.parse import urlencode

from markupsafe import Markup

from server.drawings.elevation import draw_wall
from server.drawings.plan import draw_room_plan
from server.dwelling import Box, CableKind, Circuit, Device, Dwelling, Room
from server.pages.circuit_words import CABLE_KINDS
from server.pages.circuits import Answer, hookup_answer, one_line
from server.pages.opened import JobFacts, OpenJob
from server.readiness.circuit_proposal import conductor_for, conductor_sizes
from server.rules.hookup_names import cable_size, device_word, listed, short_box_name
from server.rules.hookups import CircuitHookup, State, hookups
from server.rules.runs import Leg, run_of

__all__ = ["PANEL", "Mode", "RunPage", "Standing", "called", "run_page_of", "settled"]

PANEL: Final = "panel"
"""Where one stands, or where one taps, at the panel."""
_COUNTS: Final = (2, 3, 4)

Mode = Literal["add", "insert", "move"]


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


def run_page_of(
    opened: OpenJob, circuit: Circuit, standing: Standing, *, said: str, refused: str, undo_id: str
) -> RunPage:
    house = opened.house
    found = house.derive(hookups, opened.code).of(circuit.id)
    own = run_of((circuit,), house)
    standing = settled(standing, circuit, house, own.reached, opened)
    here_id = "" if standing.at == PANEL else standing.at
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


def settled(
    standing: Standing, circuit: Circuit, house: Dwelling, reached: tuple[str, ...], opened: OpenJob
) -> Standing:
    """The same with what was not said: one stands at the last box reached, in its room, and pulls the usual cable."""
    at = standing.at
    if at != PANEL and at not in house.boxes:
        at = reached[-1] if reached and reached[-1] in house.boxes else PANEL
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
        box_id, short_box_name(box, house), ", ".join(map(called, devices)) or "empty", f"{base}/boxes/{box_id}",
        tuple(
            LoadSide(
                device.id, called(device), cable.id, found.names.cable.get(cable.id, cable_size(cable)),
                cable.id in device.load_cable_ids,
            )
            for device in protectors
            for cable in onward
        ),
        tuple(DeviceCircuit(device.id, called(device), device.circuit_id or "") for device in devices) if len(circuits) > 1 else (),
        tuple((each.id, each.name) for each in circuits), can_leave=box_id in reached,
    )  # fmt: skip


def called(device: Device) -> str:
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
    what = ", ".join(map(called, house.devices_of_box.get(box.id, ()))) or "empty"
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
