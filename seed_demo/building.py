"""Builds a house fact by fact, in the words of the trade: the demo and the tests are made with it.

    house = HouseBuilder()
    kitchen = house.room("kitchen", length_in=144, width_in=120)
    panel = house.panel("Panel A")
    circuit = house.circuit(panel, "Kitchen counter", rating_a=20, conductor_awg="12")
    box = house.box(kitchen, wall=1, at_in=36, height_in=44)
    house.receptacle(box)
    house.home_run(circuit, box)
    dwelling = house.dwelling()

Every maker returns the id of what it made; keyword arguments go to the fact as they are. Ids count up per kind
(``box-7``), so that the same calls give the same house; ``prefix`` keeps two houses apart.
"""

from __future__ import annotations

from dataclasses import fields, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache
from itertools import count, pairwise
from typing import Any, TypeVar, get_args, get_type_hints

from server.dwelling import (
    Answer,
    Box,
    BoxMaterial,
    Break,
    Breaker,
    Cable,
    CableKind,
    Circuit,
    Clamps,
    Counter,
    Device,
    DeviceKind,
    Dwelling,
    Facts,
    Fixture,
    Level,
    Observation,
    Opening,
    Panel,
    Ref,
    Room,
    RoomKind,
    Site,
    Surface,
    SwitchWays,
    Wall,
    parse_length,
)

__all__ = ["HouseBuilder"]

F = TypeVar("F")

_PLURALS: dict[str, type[Any]] = {
    "levels": Level, "rooms": Room, "walls": Wall, "openings": Opening, "counters": Counter, "breaks": Break,
    "fixtures": Fixture, "boxes": Box, "devices": Device, "panels": Panel, "circuits": Circuit, "cables": Cable,
}  # fmt: skip


@cache
def _enumerations(fact: type[Any]) -> dict[str, type[StrEnum]]:
    """The fields of a fact that hold a word from a list, and the list."""
    found = {}
    for name, hint in get_type_hints(fact).items():
        for kind in (hint, *get_args(hint)):
            if isinstance(kind, type) and issubclass(kind, StrEnum):
                found[name] = kind
    return found


class HouseBuilder:
    """Collects facts and hands out ids."""

    def __init__(self, *, prefix: str = "", **site: Any) -> None:
        self.prefix = prefix
        self.site = Site(**{"id": f"{prefix}job-1", **site})
        self._facts: dict[str, list[Any]] = {
            field.name: [] for field in fields(Facts) if field.name != "site"
        }
        self._walls: dict[str, list[str]] = {}
        self._made: dict[str, int] = {}

    def _id(self, kind: str, plural: str) -> str:
        # counted apart, so that an id is not handed out again after something was removed
        self._made[plural] = self._made.get(plural, 0) + 1
        return f"{self.prefix}{kind}-{self._made[plural]}"

    def _add(self, plural: str, fact: Any) -> str:
        self._facts[plural].append(fact)
        return str(fact.id)

    @staticmethod
    def _make(fact: type[F], *positional: Any, **given: Any) -> F:
        """Make a fact, its enumerations given as words."""
        made = fact(*positional, **given)  # type: ignore[call-arg]
        worded = {
            name: kind(value)
            for name, kind in _enumerations(fact).items()
            if type(value := getattr(made, name)) is str
        }
        return replace(made, **worded) if worded else made

    @staticmethod
    def _exact(given: dict[str, Any]) -> dict[str, Any]:
        """Lengths may be given as the trade writes them."""
        exact = {}
        for name, value in given.items():
            is_length = name.endswith(("_in", "_ft", "_in3", "_ft2", "_va", "_lb")) or name == "va"
            exact[name] = parse_length(value) if is_length and isinstance(value, str | int | float) else value
        return exact

    def level(self, name: str = "First floor", **more: Any) -> str:
        """A storey; rooms made afterwards lie on the last one made."""
        order = len(self._facts["levels"])
        return self._add("levels", self._make(Level, self._id("level", "levels"), name, order, **more))

    def room(self, kind: str, name: str = "", *, walls: bool = True, **more: Any) -> str:
        """A room; with length and width its four walls are made too, the first along its length."""
        if not self._facts["levels"]:
            self.level()
        chosen = RoomKind(kind)
        given = {"finished": True, "framing": None, **self._exact(more)}
        level_id = given.pop("level_id", self._facts["levels"][-1].id)
        order = given.pop("order", len(self._facts["rooms"]))
        room_id = self._id("room", "rooms")
        self._add(
            "rooms", self._make(Room, room_id, level_id, name or kind.capitalize(), chosen, order, **given)
        )
        self._walls[room_id] = []
        if walls and given.get("length_in") and given.get("width_in"):
            for length in (given["length_in"], given["width_in"]) * 2:
                self.wall(room_id, length)
        return room_id

    def wall(self, room_id: str, length_in: Any, **more: Any) -> str:
        """The next wall to the right."""
        wall_id = self._id("wall", "walls")
        order = len(self._walls[room_id])
        self._walls[room_id].append(wall_id)
        return self._add(
            "walls", self._make(Wall, wall_id, room_id, order, parse_length(length_in), **self._exact(more))
        )

    def wall_of(self, room_id: str, number: int) -> str:
        """The id of a room's wall, counted from 1."""
        return self._walls[room_id][number - 1]

    def opening(self, room_id: str, wall: int, kind: Any, from_in: Any, to_in: Any, **more: Any) -> str:
        opening = self._make(Opening, self._id("opening", "openings"), self.wall_of(room_id, wall), kind, parse_length(from_in),
            parse_length(to_in), **self._exact(more),
        )  # fmt: skip
        return self._add("openings", opening)

    def counter(
        self, room_id: str, kind: Any, length_in: Any, depth_in: Any, *, wall: int | None = None, **more: Any
    ) -> str:
        counter = self._make(Counter, self._id("counter", "counters"), room_id, kind, parse_length(length_in), parse_length(depth_in),
            wall_id=self.wall_of(room_id, wall) if wall else None, **self._exact(more),
        )  # fmt: skip
        return self._add("counters", counter)

    def break_(self, counter_id: str, kind: Any, from_in: Any, to_in: Any, **more: Any) -> str:
        """A sink, range, cooktop or refrigerator at a counter."""
        found = self._make(Break, self._id("break", "breaks"), counter_id, kind, parse_length(from_in), parse_length(to_in),
            **self._exact(more),
        )  # fmt: skip
        return self._add("breaks", found)

    def fixture(self, room_id: str, kind: Any, *, wall: int | None = None, **more: Any) -> str:
        wall_id = self.wall_of(room_id, wall) if wall else None
        return self._add(
            "fixtures",
            self._make(
                Fixture, self._id("fixture", "fixtures"), room_id, kind, wall_id=wall_id, **self._exact(more)
            ),
        )

    def box(self, room_id: str, *, wall: int | None = None, **more: Any) -> str:
        """A box; one-gang nonmetallic, 20.3 in3, no clamps, unless told otherwise."""
        given = {
            "material": BoxMaterial.NONMETALLIC,
            "volume_in3": Fraction(203, 10),
            "clamps": Clamps.NONE,
            "surface": Surface.WALL,
            **self._exact(more),
        }
        if "trade_size" in given:
            given = {**given, "material": BoxMaterial.METAL, "volume_in3": None} | self._exact(more)
        order = sum(box.room_id == room_id for box in self._facts["boxes"])
        wall_id = self.wall_of(room_id, wall) if wall else given.pop("wall_id", None)
        box = self._make(Box, self._id("box", "boxes"), room_id, order=order, wall_id=wall_id, **given)
        return self._add("boxes", box)

    def device(self, box_id: str, kind: DeviceKind, **more: Any) -> str:
        order = sum(device.box_id == box_id for device in self._facts["devices"])
        device_id = self._id("device", "devices")
        return self._add(
            "devices", self._make(Device, device_id, box_id, kind, order=order, **self._exact(more))
        )

    def receptacle(self, box_id: str, **more: Any) -> str:
        """A duplex, tamper-resistant 15 A receptacle unless told otherwise."""
        given = {"configuration": "5-15", "tamper_resistant": True, **more}
        return self.device(box_id, DeviceKind.RECEPTACLE, **given)

    def switch(
        self, box_id: str, *controls: str, ways: SwitchWays = SwitchWays.SINGLE_POLE, **more: Any
    ) -> str:
        return self.device(box_id, DeviceKind.SWITCH, controls=controls, ways=ways, **more)

    def luminaire(self, box_id: str, **more: Any) -> str:
        return self.device(box_id, DeviceKind.LUMINAIRE, **more)

    def panel(self, name: str = "Panel A", **more: Any) -> str:
        given = {"is_service": not self._facts["panels"], "spaces": 40, "bus_a": 200, "main_a": 200, **more}
        order = len(self._facts["panels"])
        panel = self._make(Panel, self._id("panel", "panels"), name, order, **self._exact(given))
        return self._add("panels", panel)

    def circuit(self, panel_id: str, name: str = "Circuit", **more: Any) -> str:
        """A 15 A, 14 AWG, one-pole general circuit on a standard breaker unless told otherwise."""
        given = {"rating_a": 15, "conductor_awg": "14", "breaker": Breaker.STANDARD, **self._exact(more)}
        if "spaces" not in given:
            taken = {space for c in self._facts["circuits"] if c.panel_id == panel_id for space in c.spaces}
            # a breaker of several poles fills spaces under each other: 1 and 3, 2 and 4
            steps = range(0, 2 * given.get("poles", 1), 2)
            first = next(n for n in count(1) if not any(n + step in taken for step in steps))
            given["spaces"] = tuple(first + step for step in steps)
        order = len(self._facts["circuits"])
        return self._add(
            "circuits", self._make(Circuit, self._id("circuit", "circuits"), panel_id, name, order, **given)
        )

    def cable(self, a: str, b: str, *circuits: str, **more: Any) -> str:
        """A 2-conductor NM-B cable with ground between two boxes or a panel and a box, of its circuit's size."""
        awg = next((c.conductor_awg for c in self._facts["circuits"] if c.id in circuits), None)
        given = {"awg": awg, "kind": CableKind.NM_B, "insulated": 2, **self._exact(more)}
        ends: dict[str, str] = {}
        for side, end in (("a", a), ("b", b)):
            is_panel = any(panel.id == end for panel in self._facts["panels"])
            ends[f"{side}_{'panel' if is_panel else 'box'}_id"] = end
        order = len(self._facts["cables"])
        cable = self._make(
            Cable, self._id("cable", "cables"), order=order, circuit_ids=circuits, **ends, **given
        )
        return self._add("cables", cable)

    def home_run(self, circuit_id: str, *boxes: str, **more: Any) -> list[str]:
        """Cables from the circuit's panel through some boxes in order."""
        circuit = next(c for c in self._facts["circuits"] if c.id == circuit_id)
        stops = [circuit.panel_id, *boxes]
        return [self.cable(a, b, circuit_id, **more) for a, b in pairwise(stops)]

    def observe(
        self,
        kind: str,
        subject_id: str,
        rule: str,
        answer: Answer = Answer.RIGHT,
        measure: Any = None,
        **more: Any,
    ) -> str:
        """What somebody saw or measured."""
        seen = Observation(
            self._id("observation", "observations"), Ref(kind, subject_id), rule,
            Answer.MEASURED if measure is not None else answer,
            parse_length(measure) if measure is not None else None,
            **{"by": "R. Ames", "at": "2026-11-20T09:00:00Z", **more},
        )  # fmt: skip
        return self._add("observations", seen)

    def take(self, fact: Any) -> str:
        """Add a fact that was made elsewhere, a laid out room's for one."""
        plural = next(name for name, kind in _PLURALS.items() if type(fact) is kind)
        if isinstance(fact, Wall):
            self._walls.setdefault(fact.room_id, []).append(fact.id)
        return self._add(plural, fact)

    def remove(self, fact_id: str) -> None:
        """Take one fact away: how the tests and the demo leave something out."""
        for members in self._facts.values():
            for fact in members:
                if fact.id == fact_id:
                    members.remove(fact)
                    return
        raise KeyError(fact_id)

    def change(self, fact_id: str, **changes: Any) -> None:
        """Give one fact other values: how the tests and the demo put a fault in."""
        for members in self._facts.values():
            for place, fact in enumerate(members):
                if fact.id == fact_id:
                    members[place] = replace(fact, **self._exact(changes))
                    return
        raise KeyError(fact_id)

    def facts(self) -> Facts:
        """What has been built so far."""
        return Facts(site=self.site, **{name: tuple(members) for name, members in self._facts.items()})

    def dwelling(self) -> Dwelling:
        """What has been built so far, indexed."""
        return Dwelling(self.facts())
