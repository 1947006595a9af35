"""A whole house as plain facts, with the look-ups that rules ask for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final, TypeVar, cast

from server.dwelling.boxes import Box, Device
from server.dwelling.observations import Answer, Observation, Ref, Stage, WorkKind
from server.dwelling.places import Break, Counter, Fixture, Level, Opening, Room, Wall
from server.dwelling.supply import Cable, Circuit, Panel

__all__ = ["Dwelling", "Facts", "Site", "Subject"]

Subject = Level | Room | Wall | Counter | Fixture | Box | Device | Panel | Circuit | Cable


@dataclass(frozen=True, slots=True)
class Site:
    """What holds for the whole job."""

    id: str
    name: str = ""
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_date: date | None = None
    floor_area_ft2: int | None = None


@dataclass(frozen=True, slots=True)
class Facts:
    """Every fact of a house, each kind in order."""

    site: Site
    levels: tuple[Level, ...] = ()
    rooms: tuple[Room, ...] = ()
    walls: tuple[Wall, ...] = ()
    openings: tuple[Opening, ...] = ()
    counters: tuple[Counter, ...] = ()
    breaks: tuple[Break, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    boxes: tuple[Box, ...] = ()
    devices: tuple[Device, ...] = ()
    panels: tuple[Panel, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    cables: tuple[Cable, ...] = ()
    observations: tuple[Observation, ...] = ()


_NOTHING: Final[Mapping[tuple[str, str], Observation]] = {}

M = TypeVar("M")
K = TypeVar("K", Level, Room, Wall, Opening, Counter, Break, Fixture, Box, Device, Panel, Circuit, Cable)


def _by_id(items: Iterable[K]) -> dict[str, K]:
    return {item.id: item for item in items}


class Dwelling:
    """The facts of a house, indexed once. No fact changes after construction; what pure functions make of them
    is kept by :meth:`derive`.

    A reference to something that is not there (a cable to a deleted box) is kept as a fact and simply not
    found: the look-ups return None or leave it out, and the rules say what is missing.
    """

    __slots__ = (
        "_derived", "_latest", "boxes", "boxes_of_room", "breaks_of_counter", "cables", "cables_of_box", "cables_of_circuit",
        "cables_of_panel", "circuits", "controlled_by", "counters", "counters_of_room", "devices",
        "devices_of_box", "facts", "fixtures", "fixtures_of_room", "levels", "openings_of_wall", "panels",
        "rooms", "site", "walls", "walls_of_room",
    )  # fmt: skip

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.site = facts.site
        self.levels: Mapping[str, Level] = _by_id(facts.levels)
        self.rooms: Mapping[str, Room] = _by_id(facts.rooms)
        self.walls: Mapping[str, Wall] = _by_id(facts.walls)
        self.counters: Mapping[str, Counter] = _by_id(facts.counters)
        self.fixtures: Mapping[str, Fixture] = _by_id(facts.fixtures)
        self.boxes: Mapping[str, Box] = _by_id(facts.boxes)
        self.devices: Mapping[str, Device] = _by_id(facts.devices)
        self.panels: Mapping[str, Panel] = _by_id(facts.panels)
        self.circuits: Mapping[str, Circuit] = _by_id(facts.circuits)
        self.cables: Mapping[str, Cable] = _by_id(facts.cables)
        self.walls_of_room: Mapping[str, list[Wall]] = _group(facts.walls, "room_id")
        self.openings_of_wall: Mapping[str, list[Opening]] = _group(facts.openings, "wall_id")
        self.counters_of_room: Mapping[str, list[Counter]] = _group(facts.counters, "room_id")
        self.breaks_of_counter: Mapping[str, list[Break]] = _group(facts.breaks, "counter_id")
        self.fixtures_of_room: Mapping[str, list[Fixture]] = _group(facts.fixtures, "room_id")
        self.boxes_of_room: Mapping[str, list[Box]] = _group(facts.boxes, "room_id")
        self.devices_of_box: Mapping[str, list[Device]] = _group(facts.devices, "box_id")
        self.cables_of_box: Mapping[str, list[Cable]] = _ends(facts.cables, "a_box_id", "b_box_id")
        self.cables_of_panel: Mapping[str, list[Cable]] = _ends(facts.cables, "a_panel_id", "b_panel_id")
        of_circuit: dict[str, list[Cable]] = defaultdict(list)
        for cable in facts.cables:
            for circuit_id in cable.circuit_ids:
                of_circuit[circuit_id].append(cable)
        self.cables_of_circuit: Mapping[str, list[Cable]] = dict(of_circuit)
        controlled: dict[str, list[Device]] = defaultdict(list)
        for device in facts.devices:
            for target in device.controls:
                controlled[target].append(device)
        self.controlled_by: Mapping[str, list[Device]] = dict(controlled)
        self._latest = _newest(facts.observations)
        self._derived: dict[tuple[Any, int], tuple[Any, Any]] = {}

    def seeing(self, observations: Iterable[Observation]) -> Dwelling:
        """The same house after more was seen. Shares everything that follows from the facts alone, so that one
        recorded look does not index the house anew."""
        more = tuple(observations)
        copy = self._copy()
        copy.facts = replace(self.facts, observations=self.facts.observations + more)
        copy._latest = _newest(copy.facts.observations)
        return copy

    def derive(self, make: Callable[..., M], of: Any = None) -> M:
        """What a pure function makes of this house, made once: ``make(house)``, or ``make(house, of)`` with an
        edition or whatever else it depends on. The rules ask for trees and tables over and over. It must not
        depend on observations: a house in which more was seen keeps what was derived."""
        kept = self._derived.get((make, id(of)))
        if kept is None:
            # ``of`` is kept beside the result so that its id stays its own
            kept = self._derived[make, id(of)] = (of, make(self) if of is None else make(self, of))
        return cast(M, kept[1])

    def seen(self, kind: str, subject_id: str, rule: str) -> Observation | None:
        """The newest observation of a subject for a rule; None where there is none or it was taken back."""
        return self.seen_under(rule).get((kind, subject_id))

    def seen_under(self, rule: str) -> Mapping[tuple[str, str], Observation]:
        """Everything that counts under a rule, by kind and id of the subject, the newest last. Most rules of a house
        have nothing yet, and are asked for every box."""
        return self._latest.get(rule, _NOTHING)

    def without_looks(self, rule: str) -> Dwelling:
        """The same house as if nobody had looked under a rule."""
        copy = self._copy()
        copy._latest = {other: seen for other, seen in self._latest.items() if other != rule}
        return copy

    def with_one_look(self, seen: Observation) -> Dwelling:
        """The same house as if this were all that anybody saw under its rule."""
        copy = self._copy()
        copy._latest = {**self._latest, seen.rule: {(seen.subject.kind, seen.subject.id): seen}}
        return copy

    def _copy(self) -> Dwelling:
        copy = object.__new__(Dwelling)
        for name in Dwelling.__slots__:
            setattr(copy, name, getattr(self, name))
        return copy

    def room_of_box(self, box: Box) -> Room | None:
        return self.rooms.get(box.room_id)

    def box_of(self, device: Device) -> Box | None:
        return self.boxes.get(device.box_id)

    def room_of_device(self, device: Device) -> Room | None:
        box = self.boxes.get(device.box_id)
        return self.rooms.get(box.room_id) if box else None

    def devices_in_room(self, room_id: str) -> list[Device]:
        """Devices of a room, box by box."""
        return [
            device
            for box in self.boxes_of_room.get(room_id, ())
            for device in self.devices_of_box.get(box.id, ())
        ]

    def circuits_of_box(self, box_id: str) -> list[Circuit]:
        """The circuits whose cables enter a box, each once, in the order of its cables."""
        return self.derive(_circuits_of_boxes).get(box_id, [])

    def circuit_of(self, device: Device) -> Circuit | None:
        """The circuit of a device: the one recorded on it, else the only one in its box."""
        if device.circuit_id is not None:
            return self.circuits.get(device.circuit_id)
        in_box = self.circuits_of_box(device.box_id)
        return in_box[0] if len(in_box) == 1 else None

    def rooms_of(self, subject: Subject) -> list[Room]:
        """The rooms that a subject belongs to: one for most, both ends for a cable, none for a circuit."""
        match subject:
            case Room():
                ids: list[str | None] = [subject.id]
            case Wall() | Counter() | Fixture() | Box() | Panel():
                ids = [subject.room_id]
            case Device():
                box = self.boxes.get(subject.box_id)
                ids = [box.room_id if box else None]
            case Cable():
                ends = [self.boxes.get(end) for end in (subject.a_box_id, subject.b_box_id) if end]
                ids = [box.room_id for box in ends if box]
                ids += [
                    self.panels[end].room_id
                    for end in (subject.a_panel_id, subject.b_panel_id)
                    if end and end in self.panels
                ]
            case _:
                ids = []
        return [self.rooms[room_id] for room_id in dict.fromkeys(ids) if room_id and room_id in self.rooms]

    def find(self, ref: Ref) -> Subject | None:
        """The subject behind a reference, or None."""
        where: Mapping[str, Mapping[str, Subject]] = {
            "level": self.levels, "room": self.rooms, "wall": self.walls, "counter": self.counters,
            "fixture": self.fixtures, "box": self.boxes, "device": self.devices, "panel": self.panels,
            "circuit": self.circuits, "cable": self.cables,
        }  # fmt: skip
        return where.get(ref.kind, {}).get(ref.id)


def _newest(observations: Iterable[Observation]) -> dict[str, dict[tuple[str, str], Observation]]:
    """The newest observation per rule and subject; what was taken back leaves the one before it standing."""
    log = tuple(observations)
    void = {seen.takes_back for seen in log if seen.takes_back}
    found: dict[str, dict[tuple[str, str], Observation]] = defaultdict(dict)
    for seen in log:  # oldest first: a later one stands over an earlier one
        if seen.takes_back or seen.id in void:
            continue
        subject, under = (seen.subject.kind, seen.subject.id), found[seen.rule]
        under.pop(subject, None)  # so that the newest stands last
        if seen.answer is not Answer.TAKEN_BACK:
            under[subject] = seen
    return dict(found)


def _circuits_of_boxes(house: Dwelling) -> Mapping[str, list[Circuit]]:
    found: dict[str, list[Circuit]] = {}
    for box_id, cables in house.cables_of_box.items():
        ids = dict.fromkeys(circuit_id for cable in cables for circuit_id in cable.circuit_ids)
        found[box_id] = [house.circuits[circuit_id] for circuit_id in ids if circuit_id in house.circuits]
    return found


G = TypeVar("G", Wall, Opening, Counter, Break, Fixture, Box, Device)


def _group(items: Iterable[G], key: str) -> dict[str, list[G]]:
    groups: dict[str, list[G]] = defaultdict(list)
    for item in sorted(items, key=lambda item: getattr(item, "order", 0)):
        groups[getattr(item, key)].append(item)
    return dict(groups)


def _ends(cables: Iterable[Cable], a: str, b: str) -> dict[str, list[Cable]]:
    found: dict[str, list[Cable]] = defaultdict(list)
    for cable in cables:
        for end in {getattr(cable, a), getattr(cable, b)} - {None}:
            found[end].append(cable)
    return dict(found)
