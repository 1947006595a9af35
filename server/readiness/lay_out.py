"""Proposes a room from its kind and size: walls, a door, and boxes with their devices that the edition asks for.

A proposal, not a verdict: what was built differs and is changed afterwards. What nobody has said is assumed
and listed in ``Proposal.assumed``, so that the person laying out the room sees what to look at first. The
receptacles come from the same reckonings that judge the room.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any, Final

from server.dwelling import (
    Box,
    BoxMaterial,
    Break,
    BreakKind,
    Clamps,
    Counter,
    CounterKind,
    Device,
    DeviceKind,
    Fixture,
    FixtureKind,
    Opening,
    OpeningKind,
    Room,
    RoomKind,
    Surface,
    SwitchWays,
    Wall,
    Wetness,
)
from server.editions import Edition
from server.reckon import counter_layout, wall_layout
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.wall_spacing import reckon_wall_spacing, room_rule

__all__ = ["Proposal", "default_size", "lay_out_room"]

_OUTSIDE_KINDS: Final = (RoomKind.OUTDOORS, RoomKind.DECK)
_NO_DOOR: Final = (*_OUTSIDE_KINDS, RoomKind.CRAWL_SPACE, RoomKind.ATTIC, RoomKind.STAIR)
_FAN_ROOMS: Final = (
    RoomKind.BEDROOM, RoomKind.LIVING_ROOM, RoomKind.FAMILY_ROOM, RoomKind.DEN, RoomKind.OFFICE, RoomKind.LIBRARY,
    RoomKind.PARLOR, RoomKind.SUNROOM, RoomKind.RECREATION_ROOM, RoomKind.DINING_ROOM,
)  # fmt: skip
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

    def facts(self) -> list[Any]:
        """Everything in an order in which it can be stored."""
        return [
            self.room, *self.walls, *self.openings, *self.counters, *self.breaks, *self.fixtures, *self.boxes,
            *self.devices,
        ]  # fmt: skip


def default_size(kind: RoomKind, code: Edition) -> tuple[Fraction, Fraction]:
    """Length and width offered for a kind of room (common practice)."""
    size = code.table("practice.room_sizes")[kind.value]
    assert isinstance(size, tuple)
    length, width = size
    assert isinstance(length, int | Fraction)
    assert isinstance(width, int | Fraction)
    return Fraction(length), Fraction(width)


def lay_out_room(room: Room, code: Edition, new_id: Callable[[str], str]) -> Proposal:
    """Propose everything for a new room.

    ``room`` carries what is known (kind, name, length and width where measured); ``new_id`` gives an id for
    each kind of fact. The room comes back with what had to be assumed filled in.
    """
    return _LayOut(room, code, new_id).proposal


class _LayOut:
    """One proposal in the making: numbers what it makes per kind of box."""

    def __init__(self, room: Room, code: Edition, new_id: Callable[[str], str]) -> None:
        self.code, self.new_id = code, new_id
        self.counts: dict[str, int] = {}
        self.proposal = Proposal(room)
        self._assume_size()
        self._walls_and_door()
        makers: Mapping[RoomKind, Callable[[], None]] = {
            RoomKind.KITCHEN: self._kitchen,
            RoomKind.BATHROOM: self._bathroom,
            RoomKind.TOILET_ROOM: self._bathroom,
            RoomKind.LAUNDRY: self._laundry,
            RoomKind.GARAGE: self._garage,
            RoomKind.OUTDOORS: self._outdoors,
            RoomKind.DECK: self._outdoors,
            RoomKind.HALLWAY: self._hallway,
            RoomKind.STAIR: self._stair,
            RoomKind.CLOSET: self._closet,
            RoomKind.CRAWL_SPACE: self._service_space,
            RoomKind.ATTIC: self._service_space,
            RoomKind.BASEMENT: self._service_space,
            RoomKind.MECHANICAL_ROOM: self._service_space,
            RoomKind.UTILITY_ROOM: self._service_space,
        }
        makers.get(self.proposal.room.kind, self._living_space)()

    # what is assumed -----------------------------------------------------------------------------------------

    def _practice(self, name: str) -> Fraction:
        return self.code.number(f"practice.{name}")

    def _assume_size(self) -> None:
        room = self.proposal.room
        changes: dict[str, Any] = {}
        if room.length_in is None or room.width_in is None:
            changes["length_in"], changes["width_in"] = default_size(room.kind, self.code)
            self.proposal.assumed.append("the size of the room")
        if room.ceiling_height_in is None and room.kind not in _OUTSIDE_KINDS:
            changes["ceiling_height_in"] = self._practice("ceiling_height_in")
        if room.stud_spacing_in is None and room.kind not in _OUTSIDE_KINDS:
            changes["stud_spacing_in"] = self._practice("stud_spacing_in")
        if room.finished is None:
            changes["finished"] = room.kind not in _UNFINISHED
        self.proposal.room = replace(room, **changes)

    def _walls_and_door(self) -> None:
        room = self.proposal.room
        assert room.length_in is not None
        assert room.width_in is not None
        outside = room.kind in _OUTSIDE_KINDS
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
            None if wall is None else self.proposal.walls[wall].id,
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
        where = None if wall is None else self.proposal.walls[wall].id
        fixture = Fixture(
            self.new_id("fixture"), self.proposal.room.id, kind, wall_id=where, at_in=at_in, **more
        )
        self.proposal.fixtures.append(fixture)
        return fixture.id

    def _wall_box(self, wall: int, at_in: Fraction, height: str, letter: str = "R", **more: Any) -> str:
        """A box on a wall at one of the usual heights, kept inside the wall."""
        length_in = self.proposal.walls[wall].length_in
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
        edge = max((opening.to_in for opening in self.proposal.openings), default=Fraction(0))
        at_in = edge + self._practice("switch_beside_door_in")
        box_id = self._wall_box(wall, at_in, "switch", "S", gangs=len(loads))
        for controls in loads:
            self._device(box_id, DeviceKind.SWITCH, ways=ways, controls=controls)
        return box_id

    def _light_and_switch(self, **ceiling: Any) -> str:
        luminaire = self._device(self._ceiling_box(**ceiling), DeviceKind.LUMINAIRE)
        self._switches((luminaire,))
        return luminaire

    def _spaced_receptacles(self, **device: Any) -> None:
        """Receptacles along the walls, where the spacing reckoning puts the fewest."""
        proposal = self.proposal
        layout = wall_layout.WallLayout(
            room=proposal.room.kind.value,
            walls=tuple(
                wall_layout.Wall(
                    id=wall.id,
                    length_in=wall.length_in,
                    openings=tuple(
                        wall_layout.Opening(from_in=item.from_in, to_in=item.to_in, kind=item.kind.value)
                        for item in sorted(proposal.openings, key=lambda item: item.from_in)
                        if item.wall_id == wall.id
                    )
                    + self._behind_counters(wall),
                )
                for wall in proposal.walls
            ),
            closed=len(proposal.walls) > 2,
            stud_spacing_in=proposal.room.stud_spacing_in,
            lighting_outlet=True,
        )
        place_of = {wall.id: place for place, wall in enumerate(proposal.walls)}
        try:
            added = reckon_wall_spacing(layout, self.code).added
        except LayoutError:
            proposal.assumed.append("no receptacles: the walls leave no room for them")
            return
        for item in sorted(added, key=lambda item: (place_of[item.place.on], item.place.at_in)):
            box_id = self._wall_box(place_of[item.place.on], item.place.at_in, "receptacle")
            self._receptacle(box_id, **device)

    def _behind_counters(self, wall: Wall) -> tuple[wall_layout.Opening, ...]:
        """Base cabinets under a counter take their stretch of wall out of the wall space."""
        return tuple(
            wall_layout.Opening(
                from_in=counter.from_in, to_in=counter.from_in + counter.length_in, kind="cabinet"
            )
            for counter in self.proposal.counters
            if counter.wall_id == wall.id and counter.from_in is not None
        )

    # kinds of rooms ------------------------------------------------------------------------------------------

    def _living_space(self) -> None:
        kind = self.proposal.room.kind
        if kind in _FAN_ROOMS:
            self._light_and_switch(fan_rated=True)
        else:
            self._light_and_switch()
        if room_rule(kind.value, self.code) == "spacing":
            self._spaced_receptacles()
        if kind is RoomKind.BEDROOM:
            self._device(self._ceiling_box("A", x=Fraction(1, 4), y=Fraction(1, 4)), DeviceKind.SMOKE_ALARM)

    def _kitchen(self) -> None:
        proposal = self.proposal
        wall = proposal.walls[2]
        counter = Counter(
            self.new_id("counter"), proposal.room.id, CounterKind.WALL, wall.length_in, Fraction(25), wall.id,
            Fraction(0), Fraction(36),
        )  # fmt: skip
        proposal.counters.append(counter)
        half_in = min(Fraction(33, 2), wall.length_in / 4)
        sink = (wall.length_in / 2 - half_in, wall.length_in / 2 + half_in)
        proposal.breaks.append(Break(self.new_id("break"), counter.id, BreakKind.SINK, *sink, Fraction(3)))
        proposal.assumed.append("one counter the length of wall 3, with the sink in its middle")
        self._fixture(FixtureKind.SINK, 2, wall.length_in / 2, width_in=Fraction(33), depth_in=Fraction(22))
        self._light_and_switch()
        bare = counter_layout.Counter(
            id=counter.id,
            length_in=counter.length_in,
            depth_in=counter.depth_in,
            breaks=tuple(
                counter_layout.CounterBreak(
                    from_in=item.from_in, to_in=item.to_in, kind=item.kind.value, behind_in=item.behind_in
                )
                for item in proposal.breaks
            ),
        )
        for added in reckon_counter_spacing([bare], self.code).added:
            box_id = self._wall_box(2, added.place.at_in, "counter_box", counter_id=counter.id)
            self._receptacle(box_id, configuration="5-20", gfci=True, serves="countertop")
        self._spaced_receptacles(configuration="5-20")
        for fixture, at, height in (
            (FixtureKind.REFRIGERATOR, Fraction(1, 8), "switch"),
            (FixtureKind.RANGE, Fraction(5, 8), "receptacle"),
        ):
            length_in = proposal.walls[1].length_in
            fixture_id = self._fixture(fixture, 1, length_in * at)
            heavy = fixture is FixtureKind.RANGE
            box_id = (self._heavy_box if heavy else self._wall_box)(1, length_in * at, height)
            configuration = "14-50" if heavy else "5-20"
            self._receptacle(
                box_id, configuration=configuration, receptacles=1, fixture_id=fixture_id, dedicated=True,
                serves=fixture.value, tamper_resistant=configuration != "14-50" or None,
            )  # fmt: skip
        under_sink = self._wall_box(2, wall.length_in / 2, "receptacle")
        dishwasher = self._fixture(FixtureKind.DISHWASHER, 2, sink[1] + 12)
        self._receptacle(under_sink, fixture_id=dishwasher, serves="dishwasher", configuration="5-20")

    def _bathroom(self) -> None:
        proposal = self.proposal
        length_in = proposal.walls[2].length_in
        has_bath = proposal.room.kind is RoomKind.BATHROOM
        middle = length_in / 2
        self._fixture(FixtureKind.BASIN, 2, middle, width_in=Fraction(20), depth_in=Fraction(18))
        self._fixture(FixtureKind.TOILET, 1, proposal.walls[1].length_in / 2)
        if has_bath:
            self._fixture(
                FixtureKind.BATHTUB,
                3,
                proposal.walls[3].length_in / 2,
                width_in=Fraction(60),
                depth_in=Fraction(30),
            )
        proposal.assumed.append("the basin in the middle of wall 3")
        box_id = self._wall_box(2, middle + 22, "counter_box", from_sink_in=Fraction(12))
        self._receptacle(box_id, configuration="5-20", gfci=True)
        over = self._box("L", wall=2, at_in=middle, height_in=Fraction(80))
        luminaire = self._device(over, DeviceKind.LUMINAIRE)
        fan = self._device(self._ceiling_box("F"), DeviceKind.EXHAUST_FAN)
        self._switches((luminaire,), (fan,))

    def _laundry(self) -> None:
        proposal = self.proposal
        washer = self._fixture(FixtureKind.WASHER, 2, Fraction(18))
        dryer = self._fixture(FixtureKind.DRYER, 2, Fraction(48))
        self._receptacle(
            self._wall_box(2, Fraction(18), "counter_box"),
            configuration="5-20",
            gfci=True,
            fixture_id=washer,
            serves="washer",
        )
        self._receptacle(
            self._heavy_box(2, Fraction(48), "counter_box"), configuration="14-30", receptacles=1, fixture_id=dryer,
            serves="dryer", dedicated=True, tamper_resistant=None,
        )  # fmt: skip
        proposal.assumed.append("washer and dryer side by side on wall 3")
        self._light_and_switch()

    def _garage(self) -> None:
        proposal = self.proposal
        bays = 2 if (proposal.room.length_in or 0) >= 216 else 1
        for bay in range(bays):
            at_in = proposal.walls[2].length_in * Fraction(2 * bay + 1, 2 * bays)
            self._receptacle(self._wall_box(2, at_in, "switch"), configuration="5-20", gfci=True)
        opener = self._fixture(FixtureKind.GARAGE_DOOR_OPENER, None)
        self._receptacle(
            self._ceiling_box("R", y=Fraction(1, 4)),
            gfci=True,
            fixture_id=opener,
            serves="garage door opener",
        )
        self._light_and_switch()
        proposal.assumed.append(f"{bays} vehicle {'bays' if bays > 1 else 'bay'}")

    def _outdoors(self) -> None:
        length_in = self.proposal.walls[0].length_in
        receptacle = self._wall_box(0, length_in / 3, "receptacle", wetness=Wetness.WET)
        self._receptacle(receptacle, gfci=True, weather_resistant=True, configuration="5-20")
        lamp = self._box("L", wall=0, at_in=length_in / 2, height_in=Fraction(78), wetness=Wetness.WET)
        self._device(lamp, DeviceKind.LUMINAIRE)
        self.proposal.assumed.append(
            "the switch of the luminaire stands indoors: add it in the room that it is in"
        )

    def _hallway(self) -> None:
        luminaire = self._device(self._ceiling_box(), DeviceKind.LUMINAIRE)
        self._three_way_pair(luminaire)
        self._spaced_receptacles()
        self._device(self._ceiling_box("A", x=Fraction(1, 4)), DeviceKind.SMOKE_CO_ALARM)

    def _stair(self) -> None:
        luminaire = self._device(self._ceiling_box(), DeviceKind.LUMINAIRE)
        self._three_way_pair(luminaire)

    def _three_way_pair(self, luminaire: str) -> None:
        """A switch at each end of a hall or stair."""
        length_in = self.proposal.walls[0].length_in
        for at_in in (self._practice("door_width_in") + 12, length_in - 12):
            box_id = self._wall_box(0, at_in, "switch", "S")
            self._device(box_id, DeviceKind.SWITCH, ways=SwitchWays.THREE_WAY, controls=(luminaire,))

    def _closet(self) -> None:
        self._light_and_switch()

    def _service_space(self) -> None:
        """Attic, crawl space, basement, mechanical room: a light switched at the entry and a receptacle."""
        self._light_and_switch()
        wall = min(2, len(self.proposal.walls) - 1)
        box_id = self._wall_box(wall, self.proposal.walls[wall].length_in / 2, "switch")
        self._receptacle(box_id, gfci=True)
