"""Proposes a room from its kind and size, or from the walls, openings, counters and fixtures that are entered: boxes
with their devices that the edition asks for, and whatever else it takes to place them.

A proposal, not a verdict: what was built differs and is changed afterwards. What nobody has said is assumed
and listed in ``Proposal.assumed``, so that the person laying out the room sees what to look at first. The
receptacles come from the same reckonings that judge the room.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final

from server.dwelling import (
    Break,
    BreakKind,
    Counter,
    CounterKind,
    DeviceKind,
    FixtureKind,
    Room,
    RoomKind,
    SwitchWays,
    Wetness,
)
from server.editions import Edition
from server.readiness.proposal import LayOut, Proposal, Within, default_size
from server.reckon.wall_spacing import room_rule

__all__ = ["Proposal", "Within", "default_size", "lay_out_room"]

_FAN_ROOMS: Final = (
    RoomKind.BEDROOM, RoomKind.LIVING_ROOM, RoomKind.FAMILY_ROOM, RoomKind.DEN, RoomKind.OFFICE, RoomKind.LIBRARY,
    RoomKind.PARLOR, RoomKind.SUNROOM, RoomKind.RECREATION_ROOM, RoomKind.DINING_ROOM,
)  # fmt: skip
_PLUGS: Final[Mapping[FixtureKind, tuple[str, str, bool]]] = {
    FixtureKind.RANGE: ("14-50", "receptacle", True),
    FixtureKind.REFRIGERATOR: ("5-20", "switch", True),
    FixtureKind.FREEZER: ("5-20", "switch", True),
    FixtureKind.DISHWASHER: ("5-20", "receptacle", False),
    FixtureKind.DISPOSER: ("5-20", "receptacle", False),
    FixtureKind.TRASH_COMPACTOR: ("5-20", "receptacle", False),
    FixtureKind.WASHER: ("5-20", "counter_box", False),
    FixtureKind.DRYER: ("14-30", "counter_box", True),
}
"""Appliances that are plugged in: configuration, usual height, whether the receptacle is theirs alone (common practice)."""


def lay_out_room(
    room: Room, code: Edition, new_id: Callable[[str], str], within: Within | None = None
) -> Proposal:
    """Propose everything for a new room, or the boxes of one whose walls are entered.

    ``room`` carries what is known (kind, name, length and width where measured); ``new_id`` gives an id for
    each kind of fact. The room comes back with what had to be assumed filled in.
    """
    made = _KindsOfRooms(room, code, new_id, within or Within())
    made.fill()
    return made.proposal


class _KindsOfRooms(LayOut):
    """What each kind of room gets."""

    def fill(self) -> None:
        """Put into the room what its kind gets."""
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
        counters_given, fixtures_given = bool(proposal.counters), bool(proposal.fixtures)
        if not counters_given:
            self._one_counter()
        elif any(counter.kind is not CounterKind.WALL for counter in proposal.counters):
            proposal.assumed.append("whatever this edition leaves open at an island or peninsula")
        self._light_and_switch()
        self._counter_receptacles()
        self._spaced_receptacles(configuration="5-20")
        if fixtures_given:
            self._given_appliances()
            return
        for fixture, at, height in (
            (FixtureKind.REFRIGERATOR, Fraction(1, 8), "switch"),
            (FixtureKind.RANGE, Fraction(5, 8), "receptacle"),
        ):
            length_in = self.wall(1).length_in
            fixture_id = self._fixture(fixture, 1, length_in * at)
            heavy = fixture is FixtureKind.RANGE
            box_id = (self._heavy_box if heavy else self._wall_box)(1, length_in * at, height)
            configuration = "14-50" if heavy else "5-20"
            self._receptacle(
                box_id, configuration=configuration, receptacles=1, fixture_id=fixture_id, dedicated=True,
                serves=fixture.value, tamper_resistant=configuration != "14-50" or None,
            )  # fmt: skip
        if counters_given:
            return
        middle = self.wall(2).length_in / 2
        under_sink = self._wall_box(2, middle, "receptacle")
        sink = proposal.breaks[-1]
        dishwasher = self._fixture(FixtureKind.DISHWASHER, 2, sink.to_in + 12)
        self._receptacle(under_sink, fixture_id=dishwasher, serves="dishwasher", configuration="5-20")

    def _one_counter(self) -> None:
        """The usual kitchen where nobody has said what stands in it: one counter with its sink in the middle."""
        proposal, wall = self.proposal, self.wall(2)
        counter = Counter(
            self.new_id("counter"), proposal.room.id, CounterKind.WALL, wall.length_in, Fraction(25), wall.id,
            Fraction(0), Fraction(36),
        )  # fmt: skip
        proposal.counters.append(counter)
        half_in = min(Fraction(33, 2), wall.length_in / 4)
        sink = (wall.length_in / 2 - half_in, wall.length_in / 2 + half_in)
        proposal.breaks.append(Break(self.new_id("break"), counter.id, BreakKind.SINK, *sink, Fraction(3)))
        proposal.assumed.append("one counter the length of wall 3, with the sink in its middle")
        if not any(fixture.kind is FixtureKind.SINK for fixture in proposal.fixtures):
            self._fixture(
                FixtureKind.SINK, 2, wall.length_in / 2, width_in=Fraction(33), depth_in=Fraction(22)
            )

    def _given_appliances(self) -> None:
        """A receptacle at each appliance that is entered with its place and takes one by cord and plug."""
        place_of = {wall.id: place for place, wall in enumerate(self.proposal.walls)}
        for fixture in list(self.proposal.fixtures):
            plug = _PLUGS.get(fixture.kind)
            if plug is None or fixture.wall_id not in place_of or fixture.at_in is None:
                continue
            configuration, height, alone = plug
            wall = place_of[fixture.wall_id or ""]
            make = self._heavy_box if configuration.startswith("14") else self._wall_box
            self._receptacle(
                make(wall, fixture.at_in, height), configuration=configuration, receptacles=1 if alone else 2,
                fixture_id=fixture.id, serves=fixture.kind.value, dedicated=alone,
                tamper_resistant=None if configuration.startswith("14") else True,
                gfci=fixture.kind is FixtureKind.WASHER,
            )  # fmt: skip

    def _bathroom(self) -> None:
        wall, middle = self._basin() or self._usual_bath()
        # on the side away from the usual tub, which keeps receptacles three feet off
        beside = middle - 22 if middle - 22 >= 3 else middle + 22
        box_id = self._wall_box(wall, beside, "counter_box", from_sink_in=Fraction(12))
        self._receptacle(box_id, configuration="5-20", gfci=True)
        over = self._box("L", wall=wall, at_in=middle, height_in=Fraction(80))
        luminaire = self._device(over, DeviceKind.LUMINAIRE)
        fan = self._device(self._ceiling_box("F"), DeviceKind.EXHAUST_FAN)
        self._switches((luminaire,), (fan,))

    def _basin(self) -> tuple[int, Fraction] | None:
        """The first basin that is entered with its place: its wall and its middle."""
        place_of = {wall.id: place for place, wall in enumerate(self.proposal.walls)}
        for fixture in self.proposal.fixtures:
            if (
                fixture.kind is FixtureKind.BASIN
                and fixture.wall_id in place_of
                and fixture.at_in is not None
            ):
                return place_of[fixture.wall_id or ""], fixture.at_in
        return None

    def _usual_bath(self) -> tuple[int, Fraction]:
        """The usual fixtures where nobody has said what stands here; returns the basin's wall and middle."""
        middle = self.wall(2).length_in / 2
        if not self.proposal.fixtures:
            self._fixture(FixtureKind.BASIN, 2, middle, width_in=Fraction(20), depth_in=Fraction(18))
            self._fixture(FixtureKind.TOILET, 1, self.wall(1).length_in / 2)
            if self.proposal.room.kind is RoomKind.BATHROOM:
                at_in = self.wall(3).length_in / 2
                self._fixture(FixtureKind.BATHTUB, 3, at_in, width_in=Fraction(60), depth_in=Fraction(30))
        self.proposal.assumed.append("the basin in the middle of wall 3")
        return 2, middle

    def _laundry(self) -> None:
        proposal = self.proposal
        if proposal.fixtures:
            self._given_appliances()
            self._light_and_switch()
            return
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
            at_in = self.wall(2).length_in * Fraction(2 * bay + 1, 2 * bays)
            self._receptacle(self._wall_box(2, at_in, "switch"), configuration="5-20", gfci=True)
        opener = self._fixture(FixtureKind.GARAGE_DOOR_OPENER, None)
        self._receptacle(
            # protected by its circuit's breaker: a GFCI device in a ceiling cannot be reached to be reset
            self._ceiling_box("R", y=Fraction(1, 4)),
            fixture_id=opener,
            serves="garage door opener",
        )
        self._light_and_switch()
        proposal.assumed.append(f"{bays} vehicle {'bays' if bays > 1 else 'bay'}")

    def _outdoors(self) -> None:
        length_in = self.wall(0).length_in
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
        length_in = self.wall(0).length_in
        for at_in in (self._practice("door_width_in") + 12, length_in - 12):
            box_id = self._wall_box(0, at_in, "switch", "S")
            self._device(box_id, DeviceKind.SWITCH, ways=SwitchWays.THREE_WAY, controls=(luminaire,))

    def _closet(self) -> None:
        self._light_and_switch()

    def _service_space(self) -> None:
        """Attic, crawl space, basement, mechanical room: a light switched at the entry and a receptacle."""
        self._light_and_switch()
        wall = min(2, len(self.proposal.walls) - 1)
        box_id = self._wall_box(wall, self.wall(wall).length_in / 2, "switch")
        self._receptacle(box_id, gfci=True)
