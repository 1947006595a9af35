"""The demo house with what it lacks for every reckoned rule to reach something: a shed, an attic, an air conditioner, electric
heat, a solar array and what else few houses have, circuits that share a neutral, a switched dining-room receptacle, a
fixed load on a shared circuit, doors outdoors.

It is as right as the demo, and stands at its final stage.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from seed_demo.house import DemoHouse, demo_house
from server.dwelling import (
    Breaker,
    CircuitPurpose,
    DeviceKind,
    FixtureKind,
    Framing,
    Half,
    Opening,
    OpeningKind,
    Room,
    RoomKind,
    Stage,
    Wall,
)

__all__ = ["complete_house"]


def complete_house() -> DemoHouse:
    """The house at its final stage, without observations."""
    house = demo_house()
    house.builder.site = replace(house.builder.site, stage=Stage.FINAL)
    _shed(house)
    _attic(house)
    _air_conditioner(house)
    _electric_heat(house)
    _solar_array(house)
    _seldom(house)
    _dining_lamp(house)
    _fixed_load(house)
    _outdoors(house)
    # the 2026 edition asks for it at a hardwired charger too
    house.builder.change(house.circuits["Car charger"], breaker=Breaker.GFCI)
    return house


def _room(
    house: DemoHouse, name: str, kind: RoomKind, length: int, width: int, level: str = "Second floor"
) -> None:
    """A rectangular room of four inside walls. The demo counts its rooms itself, so this one is named."""
    builder = house.builder
    facts = builder.facts()
    level_id = next(each.id for each in facts.levels if each.name == level)
    room_id = house.rooms[name] = f"{builder.prefix}room-{name.lower().replace(' ', '-')}"
    builder.take(
        Room(
            room_id, level_id, name, kind, len(facts.rooms), finished=False, length_in=Fraction(length),
            width_in=Fraction(width), framing=Framing.WOOD,
        )
    )  # fmt: skip
    for number in range(4):
        length_in = Fraction(length if number % 2 == 0 else width)
        builder.take(Wall(f"{room_id}-wall-{number + 1}", room_id, number, length_in, exterior=False))


def _box(house: DemoHouse, room: str, label: str, **more: Any) -> str:
    """A large box with clamps, like the demo's own."""
    given = {
        "clamps": "internal",
        "volume_in3": Fraction(42),
        "gangs": 2,
        "at_in": 36,
        "height_in": 16,
        **more,
    }
    if given.get("surface", "wall") == "wall":
        given["wall_id"] = given.get("wall_id") or _wall(house, room, given.pop("wall", 1))
    given.pop("wall", None)
    return house.builder.box(house.rooms[room], label=label, **given)


def _circuit(house: DemoHouse, name: str, **more: Any) -> str:
    house.circuits[name] = house.builder.circuit(house.panels["A"], name, **more)
    return house.circuits[name]


def _equipment(house: DemoHouse, name: str, room: str, kind: FixtureKind, box: dict[str, Any], circuit: dict[str, Any], cable: dict[str, Any] | None = None, **fixture: Any) -> None:  # fmt: skip
    """A piece of equipment wired on a circuit of its own."""
    builder = house.builder
    made = builder.fixture(house.rooms[room], kind, name=name, fastened_in_place=True, **fixture)
    at = _box(house, room, name, **box)
    builder.device(
        at,
        DeviceKind.HARDWIRED,
        fixture_id=made,
        serves=kind.value,
        dedicated=True,
        volts=circuit.get("volts", 120),
    )
    _circuit(house, name, purpose=CircuitPurpose.INDIVIDUAL, **circuit)
    builder.cable(house.panels["A"], at, house.circuits[name], **(cable or {}))


def _shed(house: DemoHouse) -> None:
    """A shed with a light, its switch and a receptacle, all on one circuit from the house."""
    builder = house.builder
    _room(house, "Shed", RoomKind.ACCESSORY_BUILDING, 120, 96)
    circuit = _circuit(house, "Shed", rating_a=20, conductor_awg="12", breaker=Breaker.GFCI)
    receptacle, switch = _box(house, "Shed", "S1"), _box(house, "Shed", "S2", at_in=12, height_in=48)
    lamp = _box(house, "Shed", "S3", surface="ceiling", x_in=60, y_in=48)
    builder.receptacle(receptacle, configuration="5-20")
    light = builder.luminaire(lamp, recessed=False, lamp="LED", weight_lb=4)
    builder.switch(switch, light)
    builder.cable(house.panels["A"], switch, circuit, kind="uf-b")
    builder.cable(switch, lamp, circuit)
    builder.cable(switch, receptacle, circuit)


def _attic(house: DemoHouse) -> None:
    """A receptacle with a circuit on each half, that share a neutral, and a switched light."""
    builder = house.builder
    _room(house, "Attic", RoomKind.ATTIC, 240, 120)
    left = _circuit(house, "Attic left", breaker=Breaker.STANDARD, handle_tied=True)
    # spaces 32 and 34 stand on opposite legs
    builder.change(left, spaces=(34,))
    right = _circuit(house, "Attic right", breaker=Breaker.STANDARD, handle_tied=True, multiwire_with=left)
    builder.change(right, spaces=(36,))
    builder.change(left, multiwire_with=right)
    split, switch = _box(house, "Attic", "T1"), _box(house, "Attic", "T2", at_in=12, height_in=48)
    lamp = _box(house, "Attic", "T3", surface="ceiling", x_in=60, y_in=48)
    builder.receptacle(split, circuit_id=left, second_circuit_id=right)
    light = builder.luminaire(lamp, recessed=False, lamp="LED", weight_lb=4)
    builder.switch(switch, light)
    builder.cable(house.panels["A"], split, left, right, insulated=3)
    builder.cable(split, switch, left)
    builder.cable(switch, lamp, left)


def _air_conditioner(house: DemoHouse) -> None:
    _equipment(
        house, "Air conditioner", "Front, outdoors", FixtureKind.AIR_CONDITIONER,
        {"at_in": 200, "height_in": 48, "wetness": "wet"},
        {"rating_a": 30, "poles": 2, "volts": 240, "conductor_awg": "10", "breaker": Breaker.GFCI, "spaces": (37, 39)},
        {"kind": "uf-b"}, va=3600, volts=240, minimum_circuit_a=Fraction(20), maximum_overcurrent_a=Fraction(30), listed_hvac=True,
    )  # fmt: skip


def _electric_heat(house: DemoHouse) -> None:
    _equipment(
        house, "Bath heater", "Main bathroom", FixtureKind.ELECTRIC_HEAT, {"wall_id": _wall(house, "Main bathroom", 3), "at_in": 100, "height_in": 30},
        {"rating_a": 15, "poles": 2, "volts": 240, "conductor_awg": "14", "breaker": Breaker.STANDARD, "spaces": (38, 40)},
        va=1500, volts=240,
    )  # fmt: skip


def _solar_array(house: DemoHouse) -> None:
    """Its inverter hangs outdoors; 16 A and the main of 200 A are within 240 A."""
    house.builder.change(house.panels["A"], spaces=60)
    _equipment(
        house, "Solar array", "Front, outdoors", FixtureKind.SOLAR_ARRAY, {"at_in": 230, "height_in": 48, "wetness": "wet"},
        {"rating_a": 20, "poles": 2, "volts": 240, "conductor_awg": "12", "breaker": Breaker.STANDARD, "spaces": (41, 43)},
        {"kind": "uf-b"}, va=3840, volts=240,
    )  # fmt: skip


_SELDOM = {
    "Front, outdoors": (
        FixtureKind.DEICING, FixtureKind.GARDEN_LIGHTING, FixtureKind.FOUNTAIN, FixtureKind.POOL, FixtureKind.GENERATOR,
        FixtureKind.RV_OUTLET, FixtureKind.MANUFACTURED_HOME,
    ),
    "Garage": (FixtureKind.CENTRAL_VACUUM, FixtureKind.SPRINKLER_CONTROLLER, FixtureKind.SECURITY_PANEL),
    "Basement": (FixtureKind.SEWAGE_PUMP, FixtureKind.SAUNA),
    "Kitchen": (FixtureKind.LOW_VOLTAGE_LIGHTING, FixtureKind.TRACK_LIGHTING),
    "Family room": (FixtureKind.GAS_FIREPLACE, FixtureKind.ROOM_AIR_CONDITIONER),
    "Attic": (FixtureKind.ATTIC_FAN,),
    "Stair": (FixtureKind.LIFT,),
}  # fmt: skip


def _seldom(house: DemoHouse) -> None:
    """What few houses have: wired where a reckoning asks for it, else only named."""
    outdoors: dict[str, Any] = {"height_in": 48, "wetness": "wet"}
    two_pole: dict[str, Any] = {"poles": 2, "volts": 240, "breaker": Breaker.GFCI}
    small = {**two_pole, "rating_a": 20, "conductor_awg": "12"}
    _equipment(
        house, "Mini-split", "Front, outdoors", FixtureKind.MINI_SPLIT, {**outdoors, "at_in": 170}, {**small, "spaces": (42, 44)},
        {"kind": "uf-b"}, va=1800, volts=240, minimum_circuit_a=Fraction(12), maximum_overcurrent_a=Fraction(20), listed_hvac=True,
    )  # fmt: skip
    _equipment(
        house, "Well pump", "Front, outdoors", FixtureKind.WELL_PUMP, {**outdoors, "at_in": 140}, {**small, "spaces": (45, 47)},
        {"kind": "uf-b"}, va=1200, volts=240,
    )  # fmt: skip
    _equipment(
        house, "Hot tub", "Front, outdoors", FixtureKind.HOT_TUB, {**outdoors, "at_in": 110}, {**small, "spaces": (46, 48)},
        {"kind": "uf-b"}, va=1500, volts=240,
    )  # fmt: skip
    _equipment(
        house, "Battery", "Garage", FixtureKind.ENERGY_STORAGE, {"at_in": 90, "height_in": 48},
        {**small, "breaker": Breaker.STANDARD, "spaces": (49, 51)}, va=960, volts=240,
    )  # fmt: skip
    _equipment(
        house, "Warm floor", "Main bathroom", FixtureKind.FLOOR_HEATING, {"wall_id": _wall(house, "Main bathroom", 3), "at_in": 84, "height_in": 48},
        {**small, "spaces": (50, 52)}, va=600, volts=240,
    )  # fmt: skip
    for room, kinds in _SELDOM.items():
        for kind in kinds:
            house.builder.fixture(house.rooms[room], kind)


def _wall(house: DemoHouse, room: str, number: int) -> str:
    return [wall.id for wall in house.builder.facts().walls if wall.room_id == house.rooms[room]][number - 1]


def _dining_lamp(house: DemoHouse) -> None:
    """In the dining room a second switch turns the top half of one more receptacle, on the lighting circuit."""
    builder = house.builder
    switch = house.devices("Dining room", DeviceKind.SWITCH)[0]
    circuit = house.circuits["Kitchen and dining lights"]
    box = _box(house, "Dining room", "R20", wall_id=_wall(house, "Dining room", 1), at_in=60)
    lamp = builder.receptacle(box, switched_half=Half.TOP)
    builder.change(switch.box_id, volume_in3=Fraction(42), gangs=2, clamps="internal")
    builder.switch(switch.box_id, lamp)
    builder.cable(switch.box_id, box, circuit, insulated=3)


def _fixed_load(house: DemoHouse) -> None:
    """A heat tape on the lights of the garage."""
    builder = house.builder
    made = builder.fixture(
        house.rooms["Garage"], FixtureKind.OTHER, name="Heat tape", fastened_in_place=True, va=300
    )
    box = _box(house, "Garage", "J9", wall_id=_wall(house, "Garage", 2), at_in=24, height_in=60)
    builder.device(box, DeviceKind.HARDWIRED, fixture_id=made, serves="heat tape", volts=120)
    switch = house.devices("Garage", DeviceKind.SWITCH)[0]
    builder.cable(switch.box_id, box, house.circuits["Garage lights"])


def _outdoors(house: DemoHouse) -> None:
    """A door leads out at the front and onto the deck, with a light outside that is turned from inside; a yard at the back."""
    builder = house.builder
    circuit = _circuit(house, "Entrance lights", breaker=Breaker.AFCI, spaces=(33,))
    last = house.panels["A"]
    for outdoors, inside in (("Front, outdoors", "Foyer"), ("Deck", "Family room")):
        wall_id = _wall(house, outdoors, 1)
        builder.take(
            Opening(
                f"{wall_id}-door",
                wall_id,
                OpeningKind.DOOR,
                Fraction(2),
                Fraction(38),
                Fraction(0),
                Fraction(80),
            )
        )
        switch = _box(house, inside, "S9", wall_id=_wall(house, inside, 1), at_in=20, height_in=48)
        for light in house.devices(outdoors, DeviceKind.LUMINAIRE):
            for cable in builder.facts().cables:
                if light.box_id in (cable.a_box_id, cable.b_box_id):
                    builder.remove(cable.id)
            builder.switch(switch, light.id)
            builder.cable(switch, light.box_id, circuit)
        builder.cable(last, switch, circuit)
        last = switch
    _room(house, "Back yard", RoomKind.OUTDOORS, 480, 96, "First floor")
    at = _box(house, "Back yard", "Y1", at_in=60, wetness="wet")
    builder.receptacle(at, configuration="5-20", gfci=True, weather_resistant=True)
    on_deck = house.receptacles("Deck")[-1].box_id
    builder.cable(on_deck, at, house.circuits["Outdoor receptacles"], kind="uf-b")
    wall_id = _wall(house, "Back yard", 1)
    builder.take(
        Opening(
            f"{wall_id}-window",
            wall_id,
            OpeningKind.WINDOW,
            Fraction(90),
            Fraction(126),
            Fraction(36),
            Fraction(80),
        )
    )
