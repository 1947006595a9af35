"""Receptacles, lights and alarms that a room must have."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from tests.examined.situation import TWENTY, Build, situation

QUIZ_3FT = "Article 210 flash cards: 3 ft from the basin, 6 ft to an appliance, 6 1/2 ft above a deck (quizwizapp.com)"
QUIZ_HALL = "exam question 15: a hallway of 21 1/2 ft takes one (learn8.cc)"
QUIZ_24 = "code quiz July 2004, question 1: 24 in between closet doors takes one (elec-toolbox.com)"
QUIZ_GRADE = "exam question 13: front and back, at most 6 1/2 ft above grade (learn8.cc)"
QUIZ_STAIR = "exam question 17: six risers (learn8.cc)"
CARDS = "residential flash cards 99030 (freezingblue.com)"


def bath(*at: Any, basins: tuple[Any, ...] = (60,), **box: Any) -> Build:
    """A bathroom 12 ft long whose basins are 20 in wide, with receptacles at places of the same wall."""

    def build(house: HouseBuilder) -> None:
        room = house.room("bathroom", length_in=144, width_in=96)
        for middle in basins:
            house.fixture(room, "basin", wall=1, at_in=middle, width_in=20, depth_in=18, out_in=0)
        boxes = [house.box(room, **({"wall": 1, "at_in": place, "height_in": 42} | box)) for place in at]
        circuit = house.circuit(house.panel(), "Bath", purpose="bathroom", breaker="GFCI", **TWENTY)
        for each in boxes:
            house.receptacle(each)
        if boxes:
            house.home_run(circuit, *boxes)

    return build


def wall_between_doors(width: Any, *, receptacle: bool = False) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room("bedroom", walls=False)
        house.wall(room, 60 + width)
        house.opening(room, 1, "door", 0, 30)
        house.opening(room, 1, "door", 30 + width, 60 + width)
        if receptacle:
            house.receptacle(house.box(room, wall=1, at_in=30 + width / 2, height_in=16))

    return build


def straight(
    kind: str, length: Any, *at: Any, openings: tuple[tuple[Any, ...], ...] = (), **box: Any
) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room(kind, walls=False)
        house.wall(room, length)
        for what, start, end in openings:
            house.opening(room, 1, what, start, end)
        for place in at:
            house.receptacle(house.box(room, **({"wall": 1, "at_in": place, "height_in": 16} | box)))

    return build


def hall(length: Any, receptacles: int = 0) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room("hallway", length_in=length, width_in=42)
        for _ in range(receptacles):
            house.receptacle(house.box(room, wall=1, at_in=24, height_in=16))

    return build


def stair(risers: int | None, *switches: str, dimmer: tuple[bool, ...] = (False, False)) -> Build:
    """A light on a stair and the switches that turn it, each a single room's box."""

    def build(house: HouseBuilder) -> None:
        room = house.room("stair", length_in=144, width_in=40, risers=risers)
        light = house.luminaire(house.box(room, surface="ceiling", x_in=70, y_in=20))
        for number, ways in enumerate(switches):
            box = house.box(room, wall=1, at_in=6 + 130 * number, height_in=48)
            house.switch(box, light, ways=ways, dimmer=dimmer[number])

    return build


def lit_by(kind: str, *, luminaire: bool = False, half: str | None = "top", switch: bool = True) -> Build:
    """A room whose wall switch turns a receptacle (or a luminaire)."""

    def build(house: HouseBuilder) -> None:
        room = house.room(kind, length_in=120, width_in=120)
        if luminaire:
            lamp = house.luminaire(house.box(room, surface="ceiling", x_in=60, y_in=60))
        else:
            lamp = house.receptacle(house.box(room, wall=1, at_in=40, height_in=16), switched_half=half)
        if switch:
            house.switch(house.box(room, wall=1, at_in=4, height_in=48), lamp)

    return build


def outdoors(*heights: Any, sides: tuple[str, ...] = ("Front", "Back")) -> Build:
    def build(house: HouseBuilder) -> None:
        for side, height in zip(sides, heights, strict=False):
            place = house.room("outdoors", f"{side}, outdoors", length_in=480, width_in=96)
            if height is not None:
                house.receptacle(house.box(place, wall=1, at_in=60, height_in=height), weather_resistant=True)

    return build


def bare(kind: str, **room: Any) -> Build:
    """A room with a box for a light and nothing else."""

    def build(house: HouseBuilder) -> None:
        place = house.room(kind, **({"length_in": 120, "width_in": 96} | room))
        house.luminaire(house.box(place, surface="ceiling", x_in=60, y_in=40))

    return build


def deck(height: Any = None, **room: Any) -> Build:
    def build(house: HouseBuilder) -> None:
        place = house.room("deck", **({"length_in": 96, "width_in": 60} | room))
        if height is not None:
            house.receptacle(house.box(place, wall=1, at_in=60, height_in=height), weather_resistant=True)

    return build


def washer(at: Any) -> Build:
    """A washer 27 in wide with its middle at 20 in, and a receptacle along the same wall of 16 ft."""

    def build(house: HouseBuilder) -> None:
        room = house.room("laundry", length_in=192, width_in=96)
        made = house.fixture(room, "washer", wall=1, at_in=20, width_in=27, out_in=0, depth_in=27)
        box = house.box(room, wall=1, at_in=at, height_in=42)
        house.receptacle(box, fixture_id=made)
        house.home_run(
            house.circuit(house.panel(), "Laundry", purpose="laundry", breaker="AFCI and GFCI", **TWENTY), box
        )

    return build


def closet(**luminaire: Any) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room("closet", length_in=72, width_in=48)
        house.luminaire(house.box(room, surface="ceiling", x_in=36, y_in=24), **luminaire)

    return build


def measured(build: Build, rule: str, value: Any) -> Build:
    """The same with a measurement of the first room."""

    def seen(house: HouseBuilder) -> None:
        build(house)
        house.observe("room", house.facts().rooms[0].id, rule, measure=value)

    return seen


def bedrooms(*, alarm: bool = True, outside: bool = True) -> Build:
    def build(house: HouseBuilder) -> None:
        bedroom = house.room("bedroom", length_in=144, width_in=120)
        hallway = house.room("hallway", length_in=100, width_in=42)
        from server.dwelling import DeviceKind

        for room in (bedroom, hallway):
            house.luminaire(house.box(room, surface="ceiling", x_in=70, y_in=20))
        for room, has in ((bedroom, alarm), (hallway, outside)):
            if has:
                house.device(house.box(room, surface="ceiling", x_in=30, y_in=20), DeviceKind.SMOKE_ALARM)

    return build


SITUATIONS = [
    situation("A bathroom receptacle stands 38 in from the basin's edge", bath(108), "bathroom-receptacle", source=QUIZ_3FT),
    situation("A bathroom receptacle stands 36 in from the basin's edge", bath(106), clear=("bathroom-receptacle",), source=QUIZ_3FT),
    situation("One receptacle stands between two basins, 25 in from each", bath(65, basins=(30, 100)), clear=("bathroom-receptacle",)),
    situation("Two basins are 7 ft apart and only one has a receptacle near", bath(12, basins=(30, 130)), "bathroom-receptacle"),
    situation("The only bathroom receptacle is in the face of the vanity, 14 in below its top", bath(60, below_counter_in=14), "bathroom-receptacle",
              source="exam question: never more than 12 in below the top (learn8.cc)"),
    situation("A hallway of exactly 10 ft has none", hall(120), "hallway-receptacle", source=QUIZ_HALL),
    situation("A hallway of 21 1/2 ft has one", hall(258, 1), clear=("hallway-receptacle",), source=QUIZ_HALL),
    situation("A bedroom wall of 23 in stands between two doors", wall_between_doors(23), source=QUIZ_24),
    situation("A bedroom wall of 24 in stands between two doors", wall_between_doors(24), "wall-receptacle-spacing", source=QUIZ_24),
    situation("The same wall has a receptacle", wall_between_doors(24, receptacle=True), clear=("wall-receptacle-spacing",), source=QUIZ_24),
    situation("A wall of 20 ft is broken by a fireplace and only one side has a receptacle",
              straight("living room", 240, 45, openings=(("fireplace", 90, 150),)), "wall-receptacle-spacing"),
    situation("A loft's railing of 14 ft counts as wall, and nothing is near it",
              straight("den", 168, openings=(("railing", 0, 168),)), "wall-receptacle-spacing"),
    situation("A receptacle at 6 ft above the floor is the only one of a wall", straight("bedroom", 120, 60, height_in=72), "wall-receptacle-spacing"),
    situation("A washer's receptacle is 7 ft from it", washer(120), "appliance-within-reach", source=QUIZ_3FT),
    situation("A washer's receptacle is 5 ft from it", washer(90), clear=("appliance-within-reach",), source=QUIZ_3FT),
    situation("A laundry has no receptacle", bare("laundry"), "laundry-receptacle"),
    situation("An unfinished basement has no receptacle", bare("basement", finished=False), "basement-receptacle", source=CARDS),
    situation("A deck of 40 sq ft has no receptacle", bare("deck", length_in=96, width_in=60), "deck-receptacle", source=QUIZ_3FT),
    situation("A deck's receptacle is 7 ft above it", deck(84), "deck-receptacle", source=QUIZ_3FT),
    situation("A deck's receptacle is exactly 6 1/2 ft above it", deck(78), clear=("deck-receptacle",), source=QUIZ_3FT),
    situation("Only the front has an outdoor receptacle", outdoors(24, None), "outdoor-receptacles", source=QUIZ_GRADE),
    situation("The back's outdoor receptacle is 7 ft above grade", outdoors(24, 84), "outdoor-receptacles", source=QUIZ_GRADE),
    situation("Front and back have one each", outdoors(24, 78), clear=("outdoor-receptacles",), source=QUIZ_GRADE),
    situation("A stair of 6 risers has a switch at one end only", stair(6, "single-pole"), "stair-switches", source=QUIZ_STAIR),
    situation("A stair of 5 risers has a switch at one end only", stair(5, "single-pole"), source=QUIZ_STAIR),
    situation("A stair of 14 risers has a three-way switch at both ends", stair(14, "three-way", "three-way"), clear=("stair-switches",), source=QUIZ_STAIR),
    situation("A stair's light is dimmed at one end and only switched at the other", stair(14, "three-way", "three-way", dimmer=(True, False)),
              "stair-dimming", source="new in 2017 (electricallicenserenewal.com, section 242)"),
    situation("A bedroom's switch turns half a receptacle", lit_by("bedroom"), clear=("room-lighting-outlet",), source=CARDS),
    situation("A kitchen's switch turns half a receptacle", lit_by("kitchen"), "room-lighting-outlet", source=CARDS),
    situation("A bathroom's switch turns half a receptacle", lit_by("bathroom"), "room-lighting-outlet", source=CARDS),
    situation("A laundry's switch turns half a receptacle", lit_by("laundry"), "room-lighting-outlet", since=2023, source="laundry areas since 2023 (captaincode2023.leviton.com, node 315)"),
    situation("A bedroom has a light and no switch", lit_by("bedroom", luminaire=True, switch=False), "room-lighting-outlet"),
    situation("A closet has a bare hanging lamp", closet(lamp="bare incandescent", recessed=False), "closet-light-kind"),
    situation("A closet's surface LED is 11 in from the shelf space", measured(closet(lamp="LED", recessed=False), "closet-light-surface", 11), "closet-light-surface"),
    situation("A closet's surface LED is 12 in from the shelf space", measured(closet(lamp="LED", recessed=False), "closet-light-surface", 12), clear=("closet-light-surface",)),
    situation("A closet's surface fluorescent is 6 in from the shelf space", measured(closet(lamp="fluorescent", recessed=False), "closet-light-fluorescent", 6), clear=("closet-light-fluorescent",), source="410.16(C)(2)"),
    situation("A closet's surface fluorescent is 5 in from the shelf space", measured(closet(lamp="fluorescent", recessed=False), "closet-light-fluorescent", 5), "closet-light-fluorescent", source="410.16(C)(2)"),
    situation("A closet's recessed LED is 5 in from the shelf space", measured(closet(lamp="LED", recessed=True), "closet-light-recessed", 5), "closet-light-recessed"),
    situation("A bedroom has no smoke alarm", bedrooms(alarm=False), "smoke-alarm-in-bedroom"),
    situation("The bedroom has one and the hallway before it has none", bedrooms(outside=False), "smoke-alarm-outside-bedrooms"),
    situation("Both have one", bedrooms(), clear=("smoke-alarm-in-bedroom", "smoke-alarm-outside-bedrooms")),
]  # fmt: skip
