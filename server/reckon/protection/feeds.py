"""How power reaches each point of a circuit: the tree as a graph of joined conductors, one leg at a time.

A *bus* is what is joined together in a box: its line side, or the load side of one device. Cables join the buses at
their ends; a device leads from its line bus to its load bus and not back. What stands after a device on *every* way
from the source is protected by it, so a circuit with a loop in it is read safely too.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from itertools import takewhile
from typing import Final

from server.reckon.protection.tree import SOURCE, ProtectionTree, Protector, TreeBox, TreeCable, TreeOutlet

__all__ = ["ROOT", "Bus", "Feeds", "Problem", "Step"]

Bus = tuple[str, str]
"""``("line", box)`` or ``("load", device)``."""

ROOT: Final[Bus] = ("line", SOURCE)


@dataclass(frozen=True, slots=True)
class Problem:
    """Something about the circuit that is wrong or not entered, named by box, cable and device."""

    kind: str
    sentence: str
    box: str = ""
    cable: str = ""
    device: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One step from bus to bus: over a cable, or through a device."""

    to: Bus
    cable: str = ""
    device: str = ""


@dataclass(slots=True)
class Feeds:
    """The graph of a tree, with the problems found while building it."""

    tree: ProtectionTree
    boxes: dict[str, TreeBox] = field(default_factory=dict)
    cables: dict[str, TreeCable] = field(default_factory=dict)
    devices: dict[str, Protector] = field(default_factory=dict)
    outlets: dict[str, TreeOutlet] = field(default_factory=dict)
    in_box: dict[str, list[TreeOutlet]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    _steps: dict[str, dict[Bus, list[Step]]] = field(default_factory=dict)
    _load_of: dict[tuple[str, str, str], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        tree = self.tree
        self.boxes = {box.id: box for box in tree.boxes}
        self.cables = {cable.id: cable for cable in tree.cables if self._whole(cable)}
        self.devices = {
            device.id: device for device in tree.devices if self._placed(device.id, device.box, "Device")
        }
        self.outlets = {
            outlet.id: outlet for outlet in tree.outlets if self._placed(outlet.id, outlet.box, "Outlet")
        }
        for outlet in self.outlets.values():
            self.in_box.setdefault(outlet.box, []).append(outlet)
        for device in self.devices.values():
            self._attach(device)
        for leg in tree.source.legs:
            self._steps[leg] = self._graph(leg)
            self._follow_backwards(leg)
            self._find_loops(leg)

    # --- building

    def _whole(self, cable: TreeCable) -> bool:
        for end in (cable.a, cable.b):
            if end != SOURCE and end not in self.boxes:
                self._problem(
                    "loose cable",
                    f"Cable {cable.id} ends at {end or 'nothing'}, which is no box of this circuit.",
                    cable=cable.id,
                )
                return False
        if cable.a == cable.b:
            self._problem(
                "loop", f"Cable {cable.id} begins and ends in box {self.name(cable.a)}.", cable.a, cable.id
            )
            return False
        return True

    def _placed(self, thing: str, box: str, what: str) -> bool:
        if box in self.boxes:
            return True
        self._problem(
            "no box", f"{what} {thing} is in {box or 'no box'}, which is no box of this circuit.", box
        )
        return False

    def _attach(self, device: Protector) -> None:
        """Note what hangs on a device's load side; say what cannot."""
        where = self.name(device.box)
        for cable_id in device.load_cables:
            cable = self.cables.get(cable_id)
            if cable is None or device.box not in (cable.a, cable.b):
                self._problem(
                    "load not here",
                    f"Device {device.id} in box {where} names cable {cable_id} on its load side, but no such cable enters the box.",
                    device.box,
                    cable_id,
                    device.id,
                )
            elif set(cable.legs) != {device.leg}:
                self._problem(
                    "shared neutral",
                    f"Device {device.id} in box {where} protects leg {device.leg}, but cable {cable_id} on its load side carries legs {' and '.join(cable.legs)} with one grounded conductor; it would trip. Use a two-pole breaker.",
                    device.box,
                    cable_id,
                    device.id,
                )
            else:
                self._hang("cable", cable_id, device)
        for outlet_id in (*device.load_outlets, *((device.outlet,) if device.outlet else ())):
            outlet = self.outlets.get(outlet_id)
            if outlet is None or outlet.box != device.box:
                self._problem(
                    "load not here",
                    f"Device {device.id} in box {where} names outlet {outlet_id}, which is not in that box.",
                    device.box,
                    device=device.id,
                )
            elif outlet.legs == (device.leg,):
                self._hang("outlet", outlet_id, device)
            else:
                self._problem(
                    "shared neutral",
                    f"Device {device.id} in box {where} protects leg {device.leg}, but outlet {outlet_id} on its load side is on {' and '.join(outlet.legs)}.",
                    device.box,
                    device=device.id,
                )
        for other_id in device.load_devices:
            other = self.devices.get(other_id)
            if other is None or other.box != device.box or other_id == device.id or other.leg != device.leg:
                self._problem(
                    "load not here",
                    f"Device {device.id} in box {where} names device {other_id} on its load side, which is no other device of that box and leg.",
                    device.box,
                    device=device.id,
                )
            else:
                self._hang("device", other_id, device)

    def _hang(self, what: str, thing: str, device: Protector) -> None:
        key = (what, thing, device.box)
        if key in self._load_of:
            self._problem(
                "two loads",
                f"In box {self.name(device.box)} {what} {thing} is on the load side of both {self._load_of[key]} and {device.id}.",
                device.box,
                device=device.id,
            )
        else:
            self._load_of[key] = device.id

    def _graph(self, leg: str) -> dict[Bus, list[Step]]:
        steps: dict[Bus, list[Step]] = defaultdict(list)
        for cable in self.cables.values():
            if leg in cable.legs:
                a, b = self.cable_bus(cable, cable.a), self.cable_bus(cable, cable.b)
                steps[a].append(Step(b, cable=cable.id))
                steps[b].append(Step(a, cable=cable.id))
        for device in self.devices.values():
            if device.leg == leg:
                steps[self.device_bus(device)].append(Step(("load", device.id), device=device.id))
        return steps

    def _follow_backwards(self, leg: str) -> None:
        """Where a device is fed at its load terminals, what hangs on its line side is fed too, and bare."""
        turned: set[str] = set()
        while True:
            came = self.reach(leg)
            found = [
                device
                for device in self.devices.values()
                if device.leg == leg
                and device.id not in turned
                and ("load", device.id) in came
                and self.device_bus(device) not in came
            ]
            if not found:
                return
            for device in found:
                turned.add(device.id)
                self._steps[leg][("load", device.id)].append(Step(self.device_bus(device)))

    def cable_bus(self, cable: TreeCable, end: str) -> Bus:
        """The bus that a cable's end is on."""
        device = self._load_of.get(("cable", cable.id, end))
        return ("load", device) if device else ("line", end)

    def device_bus(self, device: Protector) -> Bus:
        """The bus that a device's line terminals are on."""
        upstream = self._load_of.get(("device", device.id, device.box))
        return ("load", upstream) if upstream else ("line", device.box)

    def outlet_bus(self, outlet: TreeOutlet) -> Bus:
        """The bus that an outlet is on."""
        device = self._load_of.get(("outlet", outlet.id, outlet.box))
        return ("load", device) if device else ("line", outlet.box)

    def _find_loops(self, leg: str) -> None:
        """Say which cables close a circle among boxes; the circuit is still read."""
        seen: dict[str, tuple[str, str]] = {}
        of_box: dict[str, list[TreeCable]] = defaultdict(list)
        for cable in self.cables.values():
            if leg in cable.legs:
                of_box[cable.a].append(cable)
                of_box[cable.b].append(cable)
        for start in (SOURCE, *self.boxes):
            if start in seen:
                continue
            seen[start] = ("", "")
            waiting = deque([start])
            while waiting:
                box = waiting.popleft()
                for cable in of_box.get(box, ()):
                    far = cable.b if cable.a == box else cable.a
                    if far not in seen:
                        seen[far] = (box, cable.id)
                        waiting.append(far)
                    elif seen[box][1] != cable.id and seen[far][1] != cable.id:
                        self._say_loop(cable, seen)

    def _say_loop(self, cable: TreeCable, seen: dict[str, tuple[str, str]]) -> None:
        if any(found.kind == "loop" and found.cable == cable.id for found in self.problems):
            return
        up = [list(_upward(end, seen)) for end in (cable.a, cable.b)]
        meet = next(box for box in up[0] if box in up[1])
        sides = [list(takewhile(lambda box: box != meet, way)) for way in up]
        around = [*sides[0], meet, *sides[1][::-1]]
        names = ", ".join(map(self.name, around))
        self._problem(
            "loop",
            f"Cable {cable.id} closes a circle through {names}; a circuit is a tree.",
            around[0],
            cable.id,
        )

    def _problem(self, kind: str, sentence: str, box: str = "", cable: str = "", device: str = "") -> None:
        self.problems.append(Problem(kind, sentence, box, cable, device))

    def name(self, box: str) -> str:
        """A box's label, or its id; the panel for the source."""
        if box == SOURCE:
            return "the panel"
        found = self.boxes.get(box)
        return (found.label or found.id) if found else box

    # --- reading

    def reach(self, leg: str, without: Collection[str] = ()) -> dict[Bus, Step | None]:
        """Every bus that power reaches on a leg without passing the devices named, each with the step that led
        there (``to`` being where it came *from*); the root has none."""
        steps = self._steps.get(leg, {})
        came: dict[Bus, Step | None] = {ROOT: None}
        waiting = deque([ROOT])
        while waiting:
            bus = waiting.popleft()
            for step in steps.get(bus, ()):
                if step.to not in came and step.device not in without:
                    came[step.to] = Step(bus, step.cable, step.device)
                    waiting.append(step.to)
        return came


def _upward(box: str, seen: dict[str, tuple[str, str]]) -> Iterator[str]:
    while box:
        yield box
        box = seen[box][0]
