"""A proposal for a room in the making: what is assumed, and boxes with their devices put where the trade puts them.

Everything here is common practice or comes from the reckonings that judge the room; which kind of room gets what is
decided in :mod:`server.readiness.lay_out`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any, Final

from server.dwelling import (
    Box,
    BoxMaterial,
    Break,
    Clamps,
    Counter,
    CounterKind,
    Device,
    DeviceKind,
    Dwelling,
    Facts,
    Fixture,
    FixtureKind,
    Opening,
    OpeningKind,
    Room,
    RoomKind,
    Site,
    Surface,
    SwitchWays,
    Wall,
)
from server.editions import Edition
from server.readiness.room_shape import shape_of
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.wall_spacing import reckon_wall_spacing
from server.rules.room_spacing import counters_of, wall_layout_of

__all__ = ["OUTSIDE_KINDS", "LayOut", "Proposal", "Within", "default_size"]

OUTSIDE_KINDS: Final = (RoomKind.OUTDOORS, RoomKind.DECK)
_NO_DOOR: Final = (*OUTSIDE_KINDS, RoomKind.CRAWL_SPACE, RoomKind.ATTIC, RoomKind.STAIR)
_DOORS: Final = (OpeningKind.DOOR, OpeningKind.DOORWAY, OpeningKind.SLIDING_DOOR)
_HEAVY_BOX: Final = "4-11/16 x 2-1/8 square"
_UNFINISHED: Final = (RoomKind.BASEMENT, RoomKind.CRAWL_SPACE, RoomKind.ATTIC, RoomKind.GARAGE)


@dataclass(slots=True)
class Proposal:
    """The facts proposed for a room, and what was assumed to get there."""

    room: Room
    walls: list[Wall] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    counters: list[Counter] = field(default_factory=list)
    breaks: list[Break] = field(default_factory=list)
    fixtures: list[Fixture] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    devices: list[Device] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    given: frozenset[str] = frozenset()

    def facts(self) -> list[Any]:
        """Everything in an order in which it can be stored."""
        return [
            self.room, *self.walls, *self.openings, *self.counters, *self.breaks, *self.fixtures, *self.boxes,
            *self.devices,
        ]  # fmt: skip

    def new_facts(self) -> list[Any]:
        """What is proposed for a room that is there: everything but the room and what it was laid out within."""
        return [fact for fact in self.facts() if fact is not self.room and fact.id not in self.given]


@dataclass(frozen=True, slots=True)
class Within:
    """What a room has already: it is laid out within that, and nothing of it is moved."""

    walls: Sequence[Wall] = ()
    openings: Sequence[Opening] = ()
    counters: Sequence[Counter] = ()
    breaks: Sequence[Break] = ()
    fixtures: Sequence[Fixture] = ()

    def ids(self) -> frozenset[str]:
        """The ids of everything in it."""
        kinds: tuple[Sequence[Any], ...] = (
            self.walls,
            self.openings,
            self.counters,
            self.breaks,
            self.fixtures,
        )
        return frozenset(str(fact.id) for kind in kinds for fact in kind)

    @classmethod
    def of(cls, room: Room, house: Dwelling) -> Within:
        """All that is entered of a room but its boxes."""
        walls = house.walls_of_room.get(room.id, [])
        counters = house.counters_of_room.get(room.id, [])
        return cls(
            walls, [item for wall in walls for item in house.openings_of_wall.get(wall.id, ())], counters,
            [item for counter in counters for item in house.breaks_of_counter.get(counter.id, ())],
            house.fixtures_of_room.get(room.id, []),
        )  # fmt: skip


def default_size(kind: RoomKind, code: Edition) -> tuple[Fraction, Fraction]:
    """Length and width offered for a kind of room (common practice)."""
    size = code.table("practice.room_sizes")[kind.value]
    assert isinstance(size, tuple)
    length, width = size
    assert isinstance(length, int | Fraction)
    assert isinstance(width, int | Fraction)
    return Fraction(length), Fraction(width)


class LayOut:
    """One proposal in the making: numbers what it makes per kind of box."""

    def __init__(self, room: Room, code: Edition, new_id: Callable[[str], str], within: Within) -> None:
        self.code, self.new_id = code, new_id
        self.counts: dict[str, int] = {}
        self.proposal = Proposal(
            room, list(within.walls), list(within.openings), list(within.counters), list(within.breaks), list(within.fixtures),
            given=within.ids(),
        )  # fmt: skip
        self._assume_size()
        if not within.walls:
            self._walls_and_door()

    # what is assumed -----------------------------------------------------------------------------------------

    def _practice(self, name: str) -> Fraction:
        return self.code.number(f"practice.{name}")

    def _assume_size(self) -> None:
        room = self.proposal.room
        changes: dict[str, Any] = {}
        if self.proposal.walls and (room.length_in is None or room.width_in is None):
            shape = shape_of(self.proposal.walls)
            assert shape is not None
            changes["length_in"], changes["width_in"] = shape.wide_in, shape.deep_in
        elif room.length_in is None or room.width_in is None:
            changes["length_in"], changes["width_in"] = default_size(room.kind, self.code)
            self.proposal.assumed.append("the size of the room")
        if room.ceiling_height_in is None and room.kind not in OUTSIDE_KINDS:
            changes["ceiling_height_in"] = self._practice("ceiling_height_in")
        if room.stud_spacing_in is None and room.kind not in OUTSIDE_KINDS:
            changes["stud_spacing_in"] = self._practice("stud_spacing_in")
        if room.finished is None:
            changes["finished"] = room.kind not in _UNFINISHED
        self.proposal.room = replace(room, **changes)

    def wall(self, place: int) -> Wall:
        """A wall counted from 0, round and round where the room has fewer."""
        return self.proposal.walls[place % len(self.proposal.walls)]

    def house(self) -> Dwelling:
        """What is proposed so far, as a house of one room."""
        made = self.proposal
        return Dwelling(
            Facts(
                Site(""), rooms=(made.room,), walls=tuple(made.walls), openings=tuple(made.openings),
                counters=tuple(made.counters), breaks=tuple(made.breaks), fixtures=tuple(made.fixtures),
                boxes=tuple(made.boxes), devices=tuple(made.devices),
            )
        )  # fmt: skip

    def _walls_and_door(self) -> None:
        room = self.proposal.room
        assert room.length_in is not None
        assert room.width_in is not None
        outside = room.kind in OUTSIDE_KINDS
        sides = (room.length_in,) if outside else (room.length_in, room.width_in) * 2
        for order, length_in in enumerate(sides):
            self.proposal.walls.append(Wall(self.new_id("wall"), room.id, order, length_in))
        if room.kind in _NO_DOOR:
            return
        corner_in, width_in = self._practice("door_from_corner_in"), self._practice("door_width_in")
        wide_in = min(width_in, room.length_in - 2 * corner_in)
        if wide_in > 0:
            first = self.proposal.walls[0].id
            self.proposal.openings.append(
                Opening(self.new_id("opening"), first, OpeningKind.DOOR, corner_in, corner_in + wide_in)
            )
            self.proposal.assumed.append("one door, at the left end of wall 1")

    # the makers ----------------------------------------------------------------------------------------------

    def _box(self, letter: str, *, wall: int | None = None, gangs: int = 1, **more: Any) -> str:
        number = self.counts[letter] = self.counts.get(letter, 0) + 1
        ceiling = wall is None
        volume = (
            self._practice("ceiling_box_in3")
            if ceiling
            else self._practice("deep_box_in3") + (gangs - 1) * self._practice("each_more_gang_in3")
        )
        box = Box(
            self.new_id("box"), self.proposal.room.id, f"{letter}{number}", len(self.proposal.boxes),
            Surface.CEILING if ceiling else Surface.WALL,
            None if wall is None else self.wall(wall).id,
            material=BoxMaterial.NONMETALLIC, volume_in3=volume, gangs=gangs,
            clamps=Clamps.NONE if gangs == 1 and not ceiling else Clamps.INTERNAL, **more,
        )  # fmt: skip
        self.proposal.boxes.append(box)
        return box.id

    def _heavy_box(self, wall: int, at_in: Fraction, height: str) -> str:
        """A metal box large enough for a range's or dryer's receptacle and its conductors."""
        box_id = self._wall_box(wall, at_in, height)
        last = self.proposal.boxes.pop()
        self.proposal.boxes.append(
            replace(
                last, material=BoxMaterial.METAL, trade_size=_HEAVY_BOX, volume_in3=None, gangs=2,
                clamps=Clamps.EXTERNAL,
            )
        )  # fmt: skip
        return box_id

    def _device(self, box_id: str, kind: DeviceKind, **more: Any) -> str:
        order = sum(device.box_id == box_id for device in self.proposal.devices)
        device = Device(self.new_id("device"), box_id, kind, order=order, **more)
        self.proposal.devices.append(device)
        return device.id

    def _receptacle(self, box_id: str, **more: Any) -> str:
        return self._device(
            box_id, DeviceKind.RECEPTACLE, **{"configuration": "5-15", "tamper_resistant": True, **more}
        )

    def _fixture(
        self, kind: FixtureKind, wall: int | None, at_in: Fraction | None = None, **more: Any
    ) -> str:
        where = None if wall is None else self.wall(wall).id
        fixture = Fixture(
            self.new_id("fixture"), self.proposal.room.id, kind, wall_id=where, at_in=at_in, **more
        )
        self.proposal.fixtures.append(fixture)
        return fixture.id

    def _wall_box(self, wall: int, at_in: Fraction, height: str, letter: str = "R", **more: Any) -> str:
        """A box on a wall at one of the usual heights, kept inside the wall."""
        length_in = self.wall(wall).length_in
        kept = max(Fraction(3), min(at_in, length_in - 3))
        return self._box(
            letter, wall=wall, at_in=kept, height_in=self._practice(f"{height}_height_in"), **more
        )

    def _ceiling_box(
        self, letter: str = "L", *, x: Fraction = Fraction(1, 2), y: Fraction = Fraction(1, 2), **more: Any
    ) -> str:
        room = self.proposal.room
        assert room.length_in is not None
        assert room.width_in is not None
        return self._box(letter, x_in=room.length_in * x, y_in=room.width_in * y, **more)

    def _switches(
        self, *loads: tuple[str, ...], ways: SwitchWays = SwitchWays.SINGLE_POLE, wall: int = 0
    ) -> str:
        """One box of switches beside the door, one gang for each group of loads."""
        wall, at_in = self._beside_door(wall)
        box_id = self._wall_box(wall, at_in, "switch", "S", gangs=len(loads))
        for controls in loads:
            self._device(box_id, DeviceKind.SWITCH, ways=ways, controls=controls)
        return box_id

    def _beside_door(self, wall: int) -> tuple[int, Fraction]:
        """Where the switches go: beside the first door, on its right where there is room, else on its left."""
        beside = self._practice("switch_beside_door_in")
        for place, each in enumerate(self.proposal.walls):
            for opening in self.proposal.openings:
                if opening.wall_id != each.id or opening.kind not in _DOORS:
                    continue
                right, left = opening.to_in + beside, opening.from_in - beside
                fits = right <= each.length_in - 3 and not self._in_opening(each, right)
                return place, right if fits or left < 3 else left
        return wall, beside

    def _in_opening(self, wall: Wall, at_in: Fraction) -> bool:
        return any(
            opening.wall_id == wall.id and opening.from_in < at_in < opening.to_in
            for opening in self.proposal.openings
        )

    def _light_and_switch(self, **ceiling: Any) -> str:
        luminaire = self._device(self._ceiling_box(**ceiling), DeviceKind.LUMINAIRE)
        self._switches((luminaire,))
        return luminaire

    def _spaced_receptacles(self, **device: Any) -> None:
        """Receptacles along the walls, where the spacing reckoning puts the fewest."""
        proposal = self.proposal
        laid = wall_layout_of(proposal.room, self.house(), self.code)
        place_of = {wall.id: place for place, wall in enumerate(proposal.walls)}
        try:
            added = reckon_wall_spacing(laid.walls, self.code).added if laid is not None else ()
        except LayoutError:
            proposal.assumed.append("no receptacles: the walls leave no room for them")
            return
        for item in sorted(added, key=lambda item: (place_of[item.place.on], item.place.at_in)):
            box_id = self._wall_box(place_of[item.place.on], item.place.at_in, "receptacle")
            self._receptacle(box_id, **device)

    def _counter_receptacles(self) -> None:
        """Receptacles over the counters and at the islands, where the spacing reckoning puts the fewest."""
        proposal = self.proposal
        counters = {counter.id: counter for counter in proposal.counters}
        place_of = {wall.id: place for place, wall in enumerate(proposal.walls)}
        try:
            added = reckon_counter_spacing(counters_of(proposal.room, self.house())[0], self.code).added
        except LayoutError:
            proposal.assumed.append("no counter receptacles: what stands in the counters does not fit them")
            return
        for item in added:
            counter = counters[item.place.on]
            if counter.kind is CounterKind.WALL and counter.wall_id is not None:
                at_in = (counter.from_in or Fraction(0)) + item.place.at_in
                box_id = self._wall_box(
                    place_of[counter.wall_id], at_in, "counter_box", counter_id=counter.id
                )
            else:
                box_id = self._box("R", wall=0, counter_id=counter.id, at_in=item.place.at_in)
                last = proposal.boxes.pop()
                proposal.boxes.append(replace(last, surface=Surface.COUNTER, wall_id=None))
            self._receptacle(box_id, configuration="5-20", gfci=True, serves="countertop")
