"""Houses of several rooms: stairs, shared circuits, and what a mended thing looks like."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind
from tests.examined.circuits import charger, heater
from tests.examined.kitchens import counter, island, shared
from tests.examined.panels import panel
from tests.examined.protection import FORTY, THIRTY, big, plain, wired_in
from tests.examined.rooms import measured, straight
from tests.examined.situation import TWENTY, Build, outlet, situation

R: dict[str, Any] = {}
LIGHT: dict[str, Any] = {"device": "luminaire"}
WASHER: dict[str, Any] = {"serves": "washer", "fixture": {"kind": "washer"}}
GAS_DRYER: dict[str, Any] = {"serves": "dryer", "fixture": {"kind": "dryer", "fuel_burning": True}}
FREEZER: dict[str, Any] = {"serves": "freezer", "dedicated": True, "fixture": {"kind": "freezer"}}


def up_and_down(*, low: str = "three-way", high: str = "three-way", legs: int = 3) -> Build:
    """A stair whose switches stand in the foyer below and in the hallway above."""

    def build(house: HouseBuilder) -> None:
        house.level("First floor", below_grade=False)
        foyer = house.room("foyer", length_in=90, width_in=80)
        stair = house.room("stair", length_in=144, width_in=40, risers=14)
        house.level("Second floor", below_grade=False)
        hall = house.room("hallway", length_in=100, width_in=42)
        lamp_box = house.box(stair, surface="ceiling", x_in=70, y_in=20)
        lamp = house.luminaire(lamp_box)
        first, second = (house.box(room, wall=1, at_in=12, height_in=48) for room in (foyer, hall))
        for made, ways in ((first, low), (second, high)):
            if ways:
                house.switch(made, lamp, ways=ways)
        circuit = house.circuit(house.panel(), "Stair", breaker="AFCI")
        house.home_run(circuit, first)
        house.cable(first, second, circuit, insulated=legs)
        house.cable(second, lamp_box, circuit)

    return build


def garage_freezer(breaker: str) -> Build:
    """A garage with its 20 A circuit, and a freezer on 15 A of its own."""

    def build(house: HouseBuilder) -> None:
        place = house.room("garage", length_in=240, width_in=240)
        bay, cold = (house.box(place, wall=1, at_in=at, height_in=44) for at in (30, 200))
        house.receptacle(bay)
        made = house.fixture(place, "freezer")
        house.receptacle(cold, fixture_id=made, serves="freezer", dedicated=True, receptacles=1)
        main = house.panel()
        house.home_run(house.circuit(main, "Garage", purpose="garage", breaker="GFCI", **TWENTY), bay)
        house.home_run(house.circuit(main, "Freezer", purpose="individual", breaker=breaker), cold)

    return build


def laundry_in_bath() -> Build:
    """A washer in a bathroom: its own 20 A circuit there beside the bathroom's."""

    def build(house: HouseBuilder) -> None:
        place = house.room("bathroom", length_in=144, width_in=120)
        house.fixture(place, "basin", wall=1, at_in=40, width_in=20, depth_in=18, out_in=0)
        made = house.fixture(place, "washer", wall=3, at_in=40, width_in=27, depth_in=27, out_in=0)
        by_basin, by_washer = (
            house.box(place, wall=1, at_in=60, height_in=42),
            house.box(place, wall=3, at_in=60, height_in=42),
        )
        house.receptacle(by_basin)
        house.receptacle(by_washer, fixture_id=made, serves="washer", dedicated=True)
        main = house.panel()
        house.home_run(house.circuit(main, "Bath", purpose="bathroom", breaker="GFCI", **TWENTY), by_basin)
        house.home_run(
            house.circuit(main, "Laundry", purpose="laundry", breaker="AFCI and GFCI", **TWENTY), by_washer
        )

    return build


def equipment_space(
    kind: str, *, light: bool, switch: bool = True, equipment: str | None = "furnace"
) -> Build:
    def build(house: HouseBuilder) -> None:
        place = house.room(kind, length_in=240, width_in=240, finished=False)
        if equipment:
            house.fixture(place, equipment, fuel_burning=True)
        made = house.box(place, wall=1, at_in=12, height_in=48)
        if light:
            lamp = house.luminaire(house.box(place, surface="ceiling", x_in=100, y_in=100))
            if switch:
                house.switch(made, lamp)
        else:
            house.receptacle(made)

    return build


def counter_pair(*, one_pole: bool) -> Build:
    """Two small-appliance circuits that share a neutral: two single breakers, or one of two poles."""

    def build(house: HouseBuilder) -> None:
        place = house.room("kitchen", length_in=192, width_in=168)
        house.counter(place, "wall", 96, 25, wall=1, from_in=0, height_in=36)
        main = house.panel()
        first, second = (
            house.box(place, wall=1, at_in=at, height_in=44, volume_in3=30, clamps="internal")
            for at in (24, 72)
        )
        poles = {"poles": 1 if one_pole else 2}
        a = house.circuit(
            main,
            "Counter left",
            purpose="small-appliance",
            breaker="AFCI and GFCI",
            spaces=(1,),
            handle_tied=True,
            **TWENTY,
            **poles,
        )
        b = house.circuit(
            main,
            "Counter right",
            purpose="small-appliance",
            breaker="AFCI and GFCI",
            spaces=(3,),
            handle_tied=True,
            multiwire_with=a,
            **TWENTY,
            **poles,
        )
        house.change(a, multiwire_with=b)
        house.receptacle(first, circuit_id=a)
        house.receptacle(second, circuit_id=b)
        house.cable(main, first, a, b, insulated=3)
        house.cable(first, second, b)

    return build


def three_ways(*, middle: str = "four-way") -> Build:
    def build(house: HouseBuilder) -> None:
        place = house.room("hallway", length_in=300, width_in=48)
        boxes = [house.box(place, wall=1, at_in=10 + 100 * n, height_in=48) for n in range(3)]
        lamp_box = house.box(place, surface="ceiling", x_in=150, y_in=24)
        lamp = house.luminaire(lamp_box)
        for made, ways in zip(boxes, ("three-way", middle, "three-way"), strict=True):
            house.switch(made, lamp, ways=ways)
        circuit = house.circuit(house.panel(), "Hall", breaker="AFCI")
        house.home_run(circuit, boxes[0])
        for a, b, count in ((boxes[0], boxes[1], 3), (boxes[1], boxes[2], 3), (boxes[2], lamp_box, 2)):
            house.cable(a, b, circuit, insulated=count)

    return build


def alarms(*, insulated: int) -> Build:
    """Alarms of two bedrooms on one run of cable."""

    def build(house: HouseBuilder) -> None:
        rooms = [house.room("bedroom", f"Bedroom {n}", length_in=144, width_in=120) for n in (1, 2)]
        boxes = [house.box(room, surface="ceiling", x_in=70, y_in=60) for room in rooms]
        for made in boxes:
            house.device(made, DeviceKind.SMOKE_ALARM)
        circuit = house.circuit(house.panel(), "Alarms", breaker="AFCI", purpose="alarms")
        house.home_run(circuit, boxes[0])
        house.cable(boxes[0], boxes[1], circuit, insulated=insulated)

    return build


SITUATIONS = [
    situation("A stair's switches stand in foyer and hallway, three-wire between them", up_and_down(), clear=("stair-switches", "hookup-possible")),
    situation("A stair's light is turned from the foyer only", up_and_down(low="single-pole", high=""), "stair-switches"),
    situation("A stair's three-ways have two-wire cable between them", up_and_down(legs=2), "cable-carries", "hookup-possible"),
    situation("A single-pole switch stands among two three-ways", three_ways(middle="single-pole"), "switch-ways", "hookup-possible"),
    situation("Three three-ways turn one light", three_ways(middle="three-way"), "switch-ways", "hookup-possible"),
    situation("A garage's freezer is alone on 15 A with GFCI", garage_freezer("GFCI"), clear=("garage-circuit", "gfci-locations"), years=(2020, 2023, 2026), source="others than those of the bays may be on 15 A since 2020 (captaincode2020.leviton.com, node 132)"),
    situation("A garage's freezer is alone on 15 A without GFCI", garage_freezer("standard"), "gfci-locations", years=(2020, 2023, 2026)),
    situation("A washer stands in a bathroom on a laundry circuit of its own", laundry_in_bath(), clear=("bathroom-circuit",)),
    situation("A gas dryer is on the laundry's circuit with the washer", shared(("laundry", WASHER), ("laundry", GAS_DRYER), purpose="laundry"), clear=("laundry-circuit",)),
    situation("A furnace in the attic has a light and a switch", equipment_space("attic", light=True), clear=("storage-light",)),
    situation("A furnace in the attic has no light", equipment_space("attic", light=False), "storage-light", unsettled=("equipment-service-receptacle",)),
    situation("An attic with nothing in it has no light", equipment_space("attic", light=False, equipment=None), unsettled=("storage-light",)),
    situation("Counter circuits share a neutral on one two-pole breaker", counter_pair(one_pole=False), clear=("multiwire-disconnect", "gfci-locations", "afci-locations")),
    situation("Counter circuits share a neutral on two single-pole breakers", counter_pair(one_pole=True), "protection-wired", "gfci-locations", "afci-locations"),
    situation("Alarms of two bedrooms are joined by three-wire cable", alarms(insulated=3), clear=("alarms-joined",)),
    situation("Alarms of two bedrooms are joined by two-wire cable", alarms(insulated=2), "alarms-joined"),
    situation("A smoke alarm's box is 30 in from the bathroom's door", measured(outlet("hallway", device="smoke alarm", box={"surface": "ceiling", "x_in": 60, "y_in": 20}, circuit={"breaker": "AFCI"}), "alarm-from-bath", 30), "alarm-from-bath", source="NFPA 72: 3 ft"),
    situation("A charger of 32 A is on 8-2 NM and 40 A", charger("8", 40, 7680), clear=("ev-circuit-rating", "conductor-overcurrent"), source="32 A and a quarter are 40 A, which 8 AWG carries at 60 C"),
    situation("A water heater of 5500 W is on 10-2 and 30 A", heater("10", 30, 5500), clear=("water-heater-circuit", "conductor-overcurrent"), source="22.9 A and a quarter are 28.6 A"),
    situation("A water heater of 6000 W is on 10-2 and 30 A", heater("10", 30, 6000), "water-heater-circuit", source="25 A and a quarter are 31.3 A"),
    situation("Baseboard heat of 9600 W is on 6-2 NM and 50 A", wired_in("bedroom", "electric heat", FORTY, va=9600, volts=240), clear=("electric-heat-circuit", "conductor-overcurrent"), source="40 A and a quarter are 50 A; the cable carries 55 A"),
    situation("Baseboard heat of 11 kW is on 6-2 NM and 60 A", wired_in("bedroom", "electric heat", FORTY | {"rating_a": 60}, va=11000, volts=240), "conductor-overcurrent", source="45.8 A and a quarter are 57.3 A; the cable carries 55 A"),
    situation("A dryer of 5.5 kW is on 10-3 and 30 A with GFCI", big("laundry", "dryer", "14-30", THIRTY | {"breaker": "GFCI"}, fixture={"va": 5500}), clear=("dryer-circuit", "conductor-overcurrent", "receptacle-has-ground")),
    situation("A toilet room without a basin has a receptacle on a plain breaker", plain("toilet room", box={"height_in": 44}), unsettled=("gfci-locations",)),
    situation("A mudroom's receptacle is on a plain breaker", plain("mudroom"), unsettled=("afci-locations",)),
    situation("A peninsula of 10 sq ft has one receptacle", island(60, 24, kind="peninsula", in_top=1), "counter-receptacle-spacing", since=2020, until=2020, source="one for 9 sq ft and one for each 18 sq ft begun beyond (210.52(C)(2), 2020)"),
    situation("A cooktop divides a counter; either side has one", counter(100, 20, 80, breaks=(("cooktop", 36, 66),)), clear=("counter-receptacle-spacing",)),
    situation("A counter of 11 in has none", counter(11), source="12 in and more"),
    situation("A sliding door breaks a wall, and only one side has one", straight("family room", 240, 40, openings=(("sliding door", 80, 152),)), "wall-receptacle-spacing"),
    situation("A window does not break a wall", straight("family room", 144, 72, openings=(("window", 40, 100),)), clear=("wall-receptacle-spacing",)),
    situation("A panel's door opens 80 degrees", panel(door_swing_deg=80), "panel-working-space", source="110.26(A)(2): 90 degrees"),
    situation("A panel stands in a hallway with all its space", panel("hallway"), clear=("panel-working-space", "panel-room")),
    situation("A crawl space's receptacle is on a plain breaker", plain("crawl space"), "gfci-locations"),
    situation("A deck's receptacle is on a plain breaker", plain("deck", weather_resistant=True), "gfci-locations"),
    situation("A shed's receptacle is on a plain breaker", outlet("accessory building", room={"finished": False}, circuit=TWENTY, cable={"kind": "uf-b"}), "gfci-locations"),
]  # fmt: skip
