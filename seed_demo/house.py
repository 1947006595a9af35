"""The demo house: two storeys and a basement, invented, wired right. Its faults are put in afterwards (``faults.py``).

Rooms are laid out like a user's (``lay_out_room``), then wired circuit by circuit: a home run to the first box, on
from box to box, from each switch to what it turns. The same calls give the same house with the same ids.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import (
    Box,
    Breaker,
    CircuitPurpose,
    Device,
    DeviceKind,
    FixtureKind,
    Framing,
    Opening,
    OpeningKind,
    Room,
    RoomKind,
    Stage,
    SwitchWays,
)
from server.editions import Edition, load_edition
from server.readiness.lay_out import lay_out_room

__all__ = ["YEAR", "DemoHouse", "demo_house"]

YEAR = 2023

# level, name, kind, length, width, plan x, plan y (inches)
_ROOMS: tuple[tuple[str, str, RoomKind, int, int, int, int], ...] = (
    ("Basement", "Basement", RoomKind.BASEMENT, 336, 264, 0, 0),
    ("Basement", "Mechanical room", RoomKind.MECHANICAL_ROOM, 132, 108, 348, 0),
    ("Basement", "Recreation room", RoomKind.RECREATION_ROOM, 216, 168, 0, 276),
    ("First floor", "Garage", RoomKind.GARAGE, 264, 252, 0, 0),
    ("First floor", "Foyer", RoomKind.FOYER, 96, 84, 276, 312),
    ("First floor", "Living room", RoomKind.LIVING_ROOM, 204, 168, 384, 228),
    ("First floor", "Dining room", RoomKind.DINING_ROOM, 144, 132, 600, 264),
    ("First floor", "Kitchen", RoomKind.KITCHEN, 168, 144, 576, 0),
    ("First floor", "Pantry", RoomKind.PANTRY, 60, 54, 756, 0),
    ("First floor", "Family room", RoomKind.FAMILY_ROOM, 228, 204, 336, 0),
    ("First floor", "Powder room", RoomKind.TOILET_ROOM, 72, 60, 276, 0),
    ("First floor", "Laundry", RoomKind.LAUNDRY, 84, 72, 756, 72),
    ("First floor", "Hallway", RoomKind.HALLWAY, 156, 42, 576, 180),
    ("First floor", "Office", RoomKind.OFFICE, 132, 120, 0, 276),
    ("First floor", "Stair", RoomKind.STAIR, 144, 42, 144, 276),
    ("First floor", "Front, outdoors", RoomKind.OUTDOORS, 480, 96, 276, 420),
    ("First floor", "Deck", RoomKind.DECK, 168, 120, 576, -140),
    ("Second floor", "Main bedroom", RoomKind.BEDROOM, 204, 168, 0, 0),
    ("Second floor", "Main bathroom", RoomKind.BATHROOM, 132, 96, 216, 0),
    ("Second floor", "Dressing closet", RoomKind.CLOSET, 96, 72, 216, 108),
    ("Second floor", "Bedroom 2", RoomKind.BEDROOM, 144, 132, 360, 0),
    ("Second floor", "Bedroom 3", RoomKind.BEDROOM, 138, 126, 516, 0),
    ("Second floor", "Hall bathroom", RoomKind.BATHROOM, 108, 60, 516, 138),
    ("Second floor", "Upper hallway", RoomKind.HALLWAY, 180, 42, 330, 204),
)


@dataclass(slots=True)
class DemoHouse:
    """A builder that has the house in it, with its ids by name."""

    builder: HouseBuilder
    code: Edition
    rooms: dict[str, str] = field(default_factory=dict)
    circuits: dict[str, str] = field(default_factory=dict)
    panels: dict[str, str] = field(default_factory=dict)

    def boxes(self, room: str) -> list[Box]:
        """The boxes of a room, in order."""
        return [box for box in self.builder.facts().boxes if box.room_id == self.rooms[room]]

    def devices(self, room: str, kind: DeviceKind | None = None) -> list[Device]:
        """The devices of a room, perhaps of one kind, in order."""
        held = {box.id for box in self.boxes(room)}
        return [
            device
            for device in self.builder.facts().devices
            if device.box_id in held and (kind is None or device.kind is kind)
        ]

    def receptacles(self, room: str, *, serves: str | None = "") -> list[Device]:
        """The receptacles of a room: those that serve nothing in particular, or those that serve something."""
        return [
            device
            for device in self.devices(room, DeviceKind.RECEPTACLE)
            if serves is None or device.serves == serves
        ]


def demo_house(code: Edition | None = None, *, prefix: str = "") -> DemoHouse:
    """Build the house as it should be, at rough-in, without observations."""
    code = code or load_edition(YEAR)
    builder = HouseBuilder(prefix=prefix, name="14 Alder Court", stage=Stage.ROUGH_IN, floor_area_ft2=2680)
    house = DemoHouse(builder, code)
    _lay_out(house)
    _panels(house)
    _wire_first_floor(house)
    _wire_basement(house)
    _wire_second_floor(house)
    _wire_alarms(house)
    _nameplates(house)
    return house


def _lay_out(house: DemoHouse) -> None:
    builder = house.builder
    level_ids = {
        name: builder.level(name, below_grade=name == "Basement")
        for name in dict.fromkeys(row[0] for row in _ROOMS)
    }
    for order, (level, name, kind, length, width, x, y) in enumerate(_ROOMS):
        room = Room(
            f"{builder.prefix}room-{order + 1}", level_ids[level], name, kind, order, length_in=Fraction(length),
            width_in=Fraction(width), framing=Framing.WOOD, plan_x_in=Fraction(x), plan_y_in=Fraction(y),
            risers=14 if kind is RoomKind.STAIR else None,
        )  # fmt: skip
        proposal = lay_out_room(room, house.code, _counted(builder, name))
        for fact in proposal.facts():
            builder.take(fact)
        house.rooms[name] = room.id
    _outside_walls(house)
    _windows(house)
    _more_lights(house)
    _plain_lights(house)


def _nameplates(house: DemoHouse) -> None:
    """What the appliances take, as their nameplates say (invented)."""
    plates = {
        FixtureKind.RANGE: (12_000, 240), FixtureKind.DRYER: (5_400, 240), FixtureKind.DISHWASHER: (1_200, 120),
        FixtureKind.GARAGE_DOOR_OPENER: (600, 120), FixtureKind.SUMP_PUMP: (900, 120),
    }  # fmt: skip
    for fixture in house.builder.facts().fixtures:
        if fixture.kind in plates and fixture.va is None:
            va, volts = plates[fixture.kind]
            house.builder.change(
                fixture.id, va=Fraction(va), volts=volts, fastened_in_place=True, fuel_burning=False
            )


def _outside_walls(house: DemoHouse) -> None:
    """The third wall of every room is an outside wall, the others are not; rooms inside the house have none."""
    inside = {
        house.rooms[name]
        for name in ("Pantry", "Dressing closet", "Hallway", "Upper hallway", "Stair", "Foyer")
    }
    for wall in house.builder.facts().walls:
        house.builder.change(wall.id, exterior=wall.order == 2 and wall.room_id not in inside)


def _plain_lights(house: DemoHouse) -> None:
    """What a layout proposes as a luminaire is a light surface fixture with LED lamps here."""
    for device in house.builder.facts().devices:
        if device.kind is DeviceKind.LUMINAIRE and device.recessed is None:
            house.builder.change(device.id, recessed=False, lamp="LED", weight_lb=Fraction(4))


def _more_lights(house: DemoHouse) -> None:
    """Recessed luminaires beside the one that a layout proposes, on the same switch."""
    for name, count in (
        ("Kitchen", 5), ("Family room", 5), ("Living room", 3), ("Recreation room", 5), ("Main bedroom", 3),
        ("Basement", 4), ("Garage", 2), ("Upper hallway", 1),
    ):  # fmt: skip
        builder, room = house.builder, next(r for r in house.builder.facts().rooms if r.name == name)
        assert room.length_in is not None
        assert room.width_in is not None
        switches = house.devices(name, DeviceKind.SWITCH)
        more = []
        for place in range(count):
            box = builder.box(
                room.id, label=f"L{place + 2}", surface="ceiling", x_in=room.length_in * Fraction(place + 1, count + 1),
                y_in=room.width_in * Fraction(1 + place % 2, 3), clamps="internal", volume_in3=Fraction(45, 2),
            )  # fmt: skip
            more.append(builder.luminaire(box, recessed=True, lamp="LED"))
        for switch in switches:
            if switch.controls:
                builder.change(switch.id, controls=(*switch.controls, *more))


def _counted(builder: HouseBuilder, room: str) -> Callable[[str], str]:
    slug = room.lower().replace(" ", "-").replace(",", "")
    counts: dict[str, int] = {}

    def new_id(kind: str) -> str:
        counts[kind] = counts.get(kind, 0) + 1
        return f"{builder.prefix}{slug}-{kind}-{counts[kind]}"

    return new_id


def _windows(house: DemoHouse) -> None:
    """A window in the long back wall of the rooms that have one, between the boxes."""
    for name in (
        "Living room",
        "Family room",
        "Main bedroom",
        "Bedroom 2",
        "Bedroom 3",
        "Office",
        "Dining room",
    ):
        walls = [wall for wall in house.builder.facts().walls if wall.room_id == house.rooms[name]]
        middle = walls[2].length_in / 2
        house.builder.take(
            Opening(
                f"{house.builder.prefix}{walls[2].id}-window", walls[2].id, OpeningKind.WINDOW, middle - 30, middle + 30,
                Fraction(36), Fraction(80),
            )
        )  # fmt: skip


def _panels(house: DemoHouse) -> None:
    builder = house.builder
    garage, upper = house.rooms["Garage"], house.rooms["Upper hallway"]
    clear: dict[str, Any] = {
        "space_width_in": 36, "space_depth_in": 48, "space_height_in": 84, "door_swing_deg": 120, "handle_height_in": 70,
        "ground_bar": True,
    }  # fmt: skip
    house.panels["A"] = builder.panel(
        "Panel A", room_id=garage, at_in=60, wall_id=_wall(house, "Garage", 4), neutral_bonded=True, **clear
    )
    house.panels["B"] = builder.panel(
        "Panel B", room_id=upper, at_in=24, wall_id=_wall(house, "Upper hallway", 4), bus_a=100, main_a=100, spaces=24,
        neutral_bonded=False, **clear,
    )  # fmt: skip
    feeder = _circuit(
        house,
        "Panel B feeder",
        "A",
        rating_a=100,
        poles=2,
        volts=240,
        conductor_awg="3",
        purpose=CircuitPurpose.FEEDER,
    )
    builder.change(house.panels["B"], fed_by_circuit_id=feeder)
    builder.cable(house.panels["A"], house.panels["B"], feeder, awg="3", insulated=3, kind="se", length_ft=55)


def _wall(house: DemoHouse, room: str, number: int) -> str:
    return [wall.id for wall in house.builder.facts().walls if wall.room_id == house.rooms[room]][number - 1]


def _circuit(house: DemoHouse, name: str, panel: str = "A", **more: Any) -> str:
    made = house.circuits[name] = house.builder.circuit(house.panels[panel], name, **more)
    return made


def _twenty(
    purpose: CircuitPurpose = CircuitPurpose.GENERAL, breaker: Breaker = Breaker.DUAL
) -> dict[str, Any]:
    return {"rating_a": 20, "conductor_awg": "12", "purpose": purpose, "breaker": breaker}


def _chain(
    house: DemoHouse, circuit: str, boxes: Iterable[str], *, start: str | None = None, **cable: Any
) -> None:
    """From the panel (or a box) through some boxes, each once."""
    circuit_id = house.circuits[circuit]
    panel_id = next(c.panel_id for c in house.builder.facts().circuits if c.id == circuit_id)
    stops = [start or panel_id, *dict.fromkeys(boxes)]
    for a, b in pairwise(stops):
        house.builder.cable(a, b, circuit_id, **cable)


def _receptacles(
    house: DemoHouse, circuit: str, *rooms: str, only: Callable[[Device], bool] | None = None
) -> None:
    devices = [d for room in rooms for d in house.receptacles(room) if only is None or only(d)]
    _chain(house, circuit, (device.box_id for device in devices))


def _lights(house: DemoHouse, circuit: str, *rooms: str, lead: str | None = None) -> None:
    """Switch boxes in a chain, and from each switch box on to the luminaires and fans that it turns."""
    facts = house.builder.facts()
    by_id = {device.id: device for device in facts.devices}
    circuit_id = house.circuits[circuit]
    last = lead or next(c.panel_id for c in facts.circuits if c.id == circuit_id)
    for room in rooms:
        switches = house.devices(room, DeviceKind.SWITCH)
        if not switches:
            lamps = [d.box_id for d in house.devices(room, DeviceKind.LUMINAIRE)]
            _chain(house, circuit, lamps, start=last)
            continue
        first = switches[0].box_id
        house.builder.cable(last, first, circuit_id)
        last = first
        if switches[0].ways is SwitchWays.THREE_WAY:
            house.builder.cable(first, switches[1].box_id, circuit_id, insulated=3)
            lamps = [by_id[target].box_id for target in switches[0].controls]
            _chain(house, circuit, lamps, start=switches[1].box_id)
            continue
        for switch in switches:
            _chain(house, circuit, [by_id[target].box_id for target in switch.controls], start=first)


def _individual(
    house: DemoHouse, circuit: str, room: str, serves: str, panel: str = "A", **more: Any
) -> None:
    """One outlet on a circuit of its own."""
    (device,) = house.receptacles(room, serves=serves)
    _circuit(house, circuit, panel, purpose=CircuitPurpose.INDIVIDUAL, **more)
    two_pole = more.get("poles") == 2
    _chain(house, circuit, [device.box_id], insulated=3 if two_pole else 2)


def _hardwired(
    house: DemoHouse, circuit: str, room: str, kind: FixtureKind, *, at: int, panel: str = "A", **more: Any
) -> None:
    """An appliance on a circuit of its own, wired without a receptacle."""
    builder = house.builder
    fixture = builder.fixture(
        house.rooms[room], kind, name=circuit, fastened_in_place=True, va=more.pop("va", None)
    )
    box = builder.box(
        house.rooms[room], label=f"J{at}", wall_id=_wall(house, room, 3), at_in=at, height_in=60, clamps="internal",
        volume_in3=Fraction(42), gangs=2,
    )  # fmt: skip
    insulated = more.pop("insulated", 2)
    builder.device(
        box,
        DeviceKind.HARDWIRED,
        fixture_id=fixture,
        serves=kind.value,
        dedicated=True,
        volts=more.get("volts", 120),
    )
    _circuit(house, circuit, panel, purpose=CircuitPurpose.INDIVIDUAL, **more)
    _chain(house, circuit, [box], insulated=insulated)


def _wire_first_floor(house: DemoHouse) -> None:
    small, dual, afci = CircuitPurpose.SMALL_APPLIANCE, Breaker.DUAL, Breaker.AFCI
    counters = [d.box_id for d in house.receptacles("Kitchen", serves="countertop")]
    half = (len(counters) + 1) // 2
    _circuit(house, "Kitchen counter left", **_twenty(small))
    _chain(
        house,
        "Kitchen counter left",
        [*counters[:half], *(d.box_id for d in house.receptacles("Dining room"))],
    )
    _circuit(house, "Kitchen counter right", **_twenty(small))
    walls = [d.box_id for d in house.receptacles("Kitchen")]
    pantry = [d.box_id for d in house.receptacles("Pantry")]
    _chain(house, "Kitchen counter right", [*counters[half:], *walls, *pantry])
    _individual(house, "Refrigerator", "Kitchen", "refrigerator", **_without_purpose(_twenty(breaker=dual)))
    _individual(house, "Dishwasher", "Kitchen", "dishwasher", **_without_purpose(_twenty(breaker=dual)))
    _individual(
        house,
        "Range",
        "Kitchen",
        "range",
        rating_a=50,
        poles=2,
        volts=240,
        conductor_awg="6",
        breaker=Breaker.GFCI,
    )
    _circuit(house, "Kitchen and dining lights", breaker=afci)
    _lights(house, "Kitchen and dining lights", "Kitchen", "Dining room", "Pantry", "Laundry", "Hallway")
    _circuit(house, "Laundry", **_twenty(CircuitPurpose.LAUNDRY))
    _chain(house, "Laundry", [d.box_id for d in house.receptacles("Laundry", serves="washer")])
    _individual(
        house,
        "Dryer",
        "Laundry",
        "dryer",
        rating_a=30,
        poles=2,
        volts=240,
        conductor_awg="10",
        breaker=Breaker.GFCI,
    )
    _circuit(house, "Powder room", **_twenty(CircuitPurpose.BATHROOM, Breaker.GFCI))
    _receptacles(house, "Powder room", "Powder room")
    _circuit(house, "Living room receptacles", breaker=afci)
    _receptacles(house, "Living room receptacles", "Living room", "Foyer")
    _circuit(house, "Family room receptacles", breaker=afci)
    _receptacles(house, "Family room receptacles", "Family room", "Hallway")
    _circuit(house, "Office", breaker=afci)
    _receptacles(house, "Office", "Office")
    _circuit(house, "Lights, front of house", breaker=afci)
    _lights(
        house, "Lights, front of house", "Foyer", "Living room", "Office", "Powder room", "Front, outdoors"
    )
    _circuit(house, "Lights, back of house", breaker=afci)
    _lights(house, "Lights, back of house", "Family room", "Stair", "Deck")
    _circuit(house, "Garage receptacles", **_twenty(CircuitPurpose.GARAGE, Breaker.GFCI))
    _receptacles(house, "Garage receptacles", "Garage")
    _circuit(house, "Garage door opener", **_twenty(breaker=Breaker.GFCI))
    _chain(
        house,
        "Garage door opener",
        [d.box_id for d in house.receptacles("Garage", serves="garage door opener")],
    )
    _circuit(house, "Garage lights", breaker=Breaker.STANDARD)
    _lights(house, "Garage lights", "Garage")
    _circuit(house, "Outdoor receptacles", **_twenty(CircuitPurpose.OUTDOOR, Breaker.GFCI))
    _receptacles(house, "Outdoor receptacles", "Front, outdoors", "Deck")
    _hardwired(house, "Car charger", "Garage", FixtureKind.EV_CHARGER, at=200, va=Fraction(7680), rating_a=40, poles=2,
               volts=240, conductor_awg="8", breaker=Breaker.STANDARD)  # fmt: skip


def _without_purpose(given: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in given.items() if name != "purpose"}


def _wire_basement(house: DemoHouse) -> None:
    _circuit(house, "Basement receptacles", **_twenty(breaker=Breaker.GFCI))
    _receptacles(house, "Basement receptacles", "Basement", "Mechanical room")
    _circuit(house, "Recreation room", breaker=Breaker.DUAL)
    _receptacles(house, "Recreation room", "Recreation room")
    _lights(house, "Recreation room", "Recreation room", lead=house.receptacles("Recreation room")[0].box_id)
    _circuit(house, "Basement lights", breaker=Breaker.STANDARD)
    _lights(house, "Basement lights", "Basement", "Mechanical room")
    _hardwired(house, "Furnace", "Mechanical room", FixtureKind.FURNACE, at=30, rating_a=15, conductor_awg="14",
               breaker=Breaker.STANDARD)  # fmt: skip
    _hardwired(house, "Water heater", "Mechanical room", FixtureKind.WATER_HEATER, at=96, va=Fraction(4500), rating_a=30,
               poles=2, volts=240, conductor_awg="10", breaker=Breaker.STANDARD)  # fmt: skip
    builder = house.builder
    sump = builder.fixture(house.rooms["Basement"], FixtureKind.SUMP_PUMP)
    box = builder.box(
        house.rooms["Basement"], label="R9", wall_id=_wall(house, "Basement", 2), at_in=40, height_in=48
    )
    builder.receptacle(
        box,
        configuration="5-20",
        receptacles=1,
        gfci=True,
        fixture_id=sump,
        serves="sump pump",
        dedicated=True,
    )
    _circuit(house, "Sump pump", **{**_twenty(breaker=Breaker.GFCI), "purpose": CircuitPurpose.INDIVIDUAL})
    _chain(house, "Sump pump", [box])


def _wire_second_floor(house: DemoHouse) -> None:
    afci, bath = Breaker.AFCI, CircuitPurpose.BATHROOM
    for room in ("Main bedroom", "Bedroom 2", "Bedroom 3"):
        _circuit(house, room, "B", breaker=afci)
        _receptacles(house, room, room)
    _circuit(house, "Upper hall receptacle", "B", breaker=afci)
    _receptacles(house, "Upper hall receptacle", "Upper hallway")
    for room in ("Main bathroom", "Hall bathroom"):
        _circuit(house, room, "B", **_twenty(bath, Breaker.GFCI))
        _receptacles(house, room, room)
    _circuit(house, "Lights, main bedroom", "B", breaker=afci)
    _lights(house, "Lights, main bedroom", "Main bedroom", "Dressing closet", "Main bathroom")
    _circuit(house, "Lights, upper floor", "B", breaker=afci)
    _lights(house, "Lights, upper floor", "Bedroom 2", "Bedroom 3", "Upper hallway", "Hall bathroom")


def _wire_alarms(house: DemoHouse) -> None:
    """All alarms on one circuit with three-wire cable between them, so that one sets off all."""
    kinds = (DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.SMOKE_CO_ALARM)
    for room in ("Basement",):
        box = house.builder.box(
            house.rooms[room],
            label="A1",
            surface="ceiling",
            x_in=120,
            y_in=100,
            clamps="internal",
            volume_in3=Fraction(45, 2),
        )
        house.builder.device(box, DeviceKind.SMOKE_CO_ALARM)
    _circuit(house, "Alarms", "B", breaker=Breaker.AFCI, purpose=CircuitPurpose.ALARMS)
    boxes = [device.box_id for name in house.rooms for device in house.devices(name) if device.kind in kinds]
    _chain(house, "Alarms", boxes[:1])
    _chain(house, "Alarms", boxes[1:], start=boxes[0], insulated=3)
