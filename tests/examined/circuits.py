"""Cables, wire sizes, whites, shared neutrals, appliances."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from tests.examined.protection import THIRTY, big, wired_in
from tests.examined.situation import TWENTY, Build, outlet, situation

AFCI15: dict[str, Any] = {"breaker": "AFCI"}


def loop(white: str, *, insulated: int = 2, room: str = "closet") -> Build:
    """Power at the light, a cable down to the switch."""

    def build(house: HouseBuilder) -> None:
        place = house.room(room, length_in=144, width_in=120)
        lamp_box = house.box(place, surface="ceiling", x_in=70, y_in=60)
        switch_box = house.box(place, wall=1, at_in=6, height_in=48)
        lamp = house.luminaire(lamp_box, lamp="LED", recessed=True)
        house.switch(switch_box, lamp)
        circuit = house.circuit(house.panel(), "Lights", breaker="AFCI")
        house.home_run(circuit, lamp_box)
        house.cable(lamp_box, switch_box, circuit, insulated=insulated, white_use=white or None)

    return build


def stair(*insulated: int) -> Build:
    """Panel, three-way, four-way, three-way, light: the cables from the first switch on have so many conductors."""

    def build(house: HouseBuilder) -> None:
        place = house.room("hallway", length_in=300, width_in=48)
        boxes = [house.box(place, wall=1, at_in=10 + 100 * n, height_in=48) for n in range(3)]
        lamp_box = house.box(place, surface="ceiling", x_in=150, y_in=24)
        lamp = house.luminaire(lamp_box)
        for box, ways in zip(boxes, ("three-way", "four-way", "three-way"), strict=True):
            house.switch(box, lamp, ways=ways)
        circuit = house.circuit(house.panel(), "Hall", breaker="AFCI")
        house.home_run(circuit, boxes[0])
        for (a, b), count in zip(
            ((boxes[0], boxes[1]), (boxes[1], boxes[2]), (boxes[2], lamp_box)), insulated, strict=True
        ):
            house.cable(a, b, circuit, insulated=count)

    return build


def pair(*, tied: bool | None, spaces: tuple[int, int] = (1, 3), breaker: str = "standard") -> Build:
    """Two circuits that share a neutral through one 14-3 to two boxes."""

    def build(house: HouseBuilder) -> None:
        place = house.room(
            "bedroom" if breaker == "AFCI" else "attic", length_in=144, width_in=120, finished=False
        )
        panel = house.panel()
        first, second = (house.box(place, wall=1, at_in=at, height_in=16) for at in (20, 90))
        a = house.circuit(panel, "Bedroom A", breaker=breaker, spaces=(spaces[0],), handle_tied=tied)
        b = house.circuit(
            panel, "Bedroom B", breaker=breaker, spaces=(spaces[1],), handle_tied=tied, multiwire_with=a
        )
        house.change(a, multiwire_with=b)
        house.receptacle(first, circuit_id=a)
        house.receptacle(second, circuit_id=b)
        house.cable(panel, first, a, b, insulated=3)
        house.cable(first, second, b)

    return build


def sized(awg: str, breaker_a: int, *, room: str = "bedroom", breaker: str = "AFCI", **cable: Any) -> Build:
    return outlet(
        room, circuit={"rating_a": breaker_a, "conductor_awg": awg, "breaker": breaker}, cable=cable
    )


def condenser(awg: str, breaker_a: int, mca: Any, mocp: Any, **cable: Any) -> Build:
    circuit = {"rating_a": breaker_a, "conductor_awg": awg, "poles": 2, "volts": 240, "breaker": "GFCI"}
    return wired_in(
        "outdoors",
        "air conditioner",
        circuit,
        cable={"kind": "uf-b"} | cable,
        minimum_circuit_a=mca,
        maximum_overcurrent_a=mocp,
        volts=240,
        listed_hvac=True,
    )


def charger(awg: str, breaker_a: int, va: Any, **cable: Any) -> Build:
    circuit = {"rating_a": breaker_a, "conductor_awg": awg, "poles": 2, "volts": 240, "breaker": "GFCI"}
    return wired_in("garage", "EV charger", circuit, cable=cable, va=va, volts=240)


def heater(awg: str, breaker_a: int, va: Any = 4500) -> Build:
    return wired_in(
        "basement",
        "water heater",
        {"rating_a": breaker_a, "conductor_awg": awg, "poles": 2, "volts": 240},
        va=va,
        volts=240,
    )


def shares(kind: str, va: Any, **fixture: Any) -> Build:
    """A fixture wired in on a bedroom's 15 A receptacle circuit."""

    def more(house: HouseBuilder, ids: dict[str, str]) -> None:
        box = house.box(ids["room"], wall=1, at_in=100, height_in=16)
        house.receptacle(box)
        house.cable(ids["box"], box, ids["circuit"])

    return outlet(
        "bedroom",
        device="hardwired",
        circuit=AFCI15,
        fixture={"kind": kind, "va": va, "volts": 120, "fastened_in_place": True} | fixture,
        serves=kind,
        then=more,
        volts=120,
    )


SITUATIONS = [
    situation("A switch loop's white feeds the switch", loop("switch feed"), clear=("white-as-hot",), source="200.7(C)(1)"),
    situation("A switch loop's white comes back from the switch", loop("switch return"), "white-as-hot", source="200.7(C)(1)"),
    situation("A switch loop to a living room's switch has no neutral", loop("switch feed", room="living room"), "neutral-at-switch", "cable-carries", "hookup-possible", source="404.2(C)"),
    situation("A switch loop with three conductors has one", loop("", insulated=3, room="living room"), clear=("neutral-at-switch",), source="404.2(C)"),
    situation("A switch loop to a garage's switch has no neutral", loop("switch feed", room="garage"), unsettled=("neutral-at-switch",), source="garages are no habitable rooms (forums.mikeholt.com 2590449, electriciantalk.com)"),
    situation("A four-way's cable from the first switch is 14-2", stair(2, 3, 2), "cable-carries", "hookup-possible"),
    situation("A four-way's cables are 14-3", stair(3, 3, 2), clear=("hookup-possible",)),
    situation("14 AWG is on 20 A", sized("14", 20), "conductor-overcurrent"),
    situation("12 AWG is on 20 A", sized("12", 20), clear=("conductor-overcurrent",)),
    situation("One length of 14 AWG is in a 20 A circuit of 12", outlet("bedroom", circuit=TWENTY | AFCI15, cable={"awg": "14"}), "conductor-overcurrent"),
    situation("12 AWG aluminum is on 20 A", sized("12", 20, material="aluminum"), "conductor-overcurrent"),
    situation("A water heater is on 12-2 and 30 A", heater("12", 30), "conductor-overcurrent"),
    situation("A water heater of 4500 W is on 20 A", heater("12", 20), "water-heater-circuit"),
    situation("A water heater of 4500 W is on 10-2 and 30 A", heater("10", 30), clear=("water-heater-circuit", "conductor-overcurrent")),
    situation("A water heater of 4500 W is on 25 A", heater("10", 25), clear=("water-heater-circuit",)),
    situation("A charger of 48 A is on 6-2 NM and 60 A", charger("6", 60, 11520), "conductor-overcurrent", source="55 A at 60 C, 60 A needed (forums.mikeholt.com ev-charger.2572317, autochargepros.com)"),
    situation("A charger of 48 A is on 6 AWG MC and 60 A", charger("6", 60, 11520, kind="mc"), clear=("ev-circuit-rating",), unsettled=("conductor-overcurrent",), source="65 A where both ends are marked 75 C (intrysys.com)"),
    situation("A charger of 48 A is on 4-2 NM and 60 A", charger("4", 60, 11520), clear=("ev-circuit-rating", "conductor-overcurrent")),
    situation("A charger of 48 A is on 50 A", charger("4", 50, 11520), "ev-circuit-rating"),
    situation("A charger of 40 A is on 6-2 NM and 50 A", charger("6", 50, 9600), clear=("ev-circuit-rating", "conductor-overcurrent")),
    situation("Ten cables of 12-2 lie bundled for 30 in", sized("12", 20, bundled_with=9, bundled_length_in=30), "conductor-overcurrent", source="50 percent of 30 A (310.15)"),
    situation("Four cables of 12-2 lie bundled for 30 in", sized("12", 20, bundled_with=3, bundled_length_in=30), clear=("conductor-overcurrent",), source="70 percent of 30 A (310.15)"),
    situation("Ten cables of 12-2 lie together for 24 in", sized("12", 20, bundled_with=9, bundled_length_in=24), clear=("conductor-overcurrent",), source="24 in or less is not counted (310.15)"),
    situation("Five cables of 14-2 lie bundled in insulation", sized("14", 15, bundled_with=4, bundled_length_in=60, in_insulation=True), "conductor-overcurrent", source="50 percent of 25 A is 12 1/2"),
    situation("An attic of 140 F has 12-2 on 20 A", sized("12", 20, ambient_f=140), clear=("conductor-overcurrent",), source="0.71 of 30 A is 21"),
    situation("NM cable runs outdoors", outlet("outdoors", circuit=TWENTY | {"breaker": "GFCI"}, weather_resistant=True), unsettled=("cable-place",)),
    situation("A condenser of MCA 18 and MOCP 30 is on 12 AWG and 30 A", condenser("12", 30, 18, 30), clear=("hvac-conductors", "hvac-overcurrent", "conductor-overcurrent"), source="240.4(G), 440.22"),
    situation("The same on 40 A", condenser("10", 40, 18, 30), "hvac-overcurrent", source="240.4(G), 440.22"),
    situation("A condenser of MCA 24 is on 12 AWG", condenser("12", 35, 24, 40), "hvac-conductors", source="440.32, 60 C column of UF"),
    situation("A dryer is on a cable without a neutral", big("laundry", "dryer", "14-30", THIRTY | {"breaker": "GFCI"}, fixture={"va": 5000}, then=lambda h, ids: h.change(ids["cable"], insulated=2)), "cable-carries", "hookup-possible"),
    situation("A dryer of 5 kW is on 20 A", big("laundry", "dryer", "14-30", THIRTY | {"breaker": "GFCI", "rating_a": 20}, fixture={"va": 5000}), "dryer-circuit", clear=("receptacle-rating",), source="210.21(B)(1) lets a single receptacle be rated more than its circuit"),
    situation("A range of 12 kW is on 30 A", big("kitchen", "range", "14-50", THIRTY | {"breaker": "GFCI"}, fixture={"va": 12000}), "range-circuit", source="210.19(A)(3): 40 A from 8 3/4 kW"),
    situation("A range of 12 kW is on 40 A", big("kitchen", "range", "14-50", THIRTY | {"breaker": "GFCI", "rating_a": 40, "conductor_awg": "8"}, fixture={"va": 12000}), clear=("range-circuit",), source="Table 210.21(B)(3): a 50 A receptacle on 40 A"),
    situation("A shared neutral's breakers have no tie", pair(tied=False), "multiwire-disconnect", source="210.4(B)"),
    situation("A shared neutral's breakers are tied", pair(tied=True), clear=("multiwire-disconnect",), source="210.4(B)"),
    situation("A shared neutral's two hots are on one leg", pair(tied=True, spaces=(1, 5)), "multiwire-disconnect", source="the neutral carries both (common practice)"),
    situation("Two single-pole AFCI breakers share a neutral", pair(tied=True, breaker="AFCI"), "protection-wired", "afci-locations", source="each sees the other's current (common practice)"),
    situation("A receptacle of three slots is on a cable without a ground", sized("14", 15, has_ground=False), "ground-brought", source="250.114, 406.4(A)"),
    situation("A single 15 A receptacle is alone on 20 A", outlet("bedroom", circuit=TWENTY | AFCI15 | {"purpose": "individual"}, receptacles=1, dedicated=True), "receptacle-rating", source="210.21(B)(1)"),
    situation("A duplex 15 A receptacle is on 20 A", outlet("bedroom", circuit=TWENTY | AFCI15), clear=("receptacle-rating",), source="exam question 15, Table 210.21(B)(3) (learn8.cc)"),
    situation("A 20 A receptacle is on 15 A", outlet("bedroom", circuit=AFCI15, configuration="5-20"), "receptacle-rating", source="Table 210.21(B)(3)"),
    situation("A furnace shares a bedroom's circuit", shares("furnace", 600, fuel_burning=True), "heating-own-circuit", source="422.12"),
    situation("A fixed load of 1000 VA shares a 15 A circuit", shares("other", 1000), "fixed-load-share", source="210.23(A)(2): half of 1800 VA"),
    situation("A fixed load of 900 VA shares a 15 A circuit", shares("other", 900), clear=("fixed-load-share",), source="210.23(A)(2): half of 1800 VA"),
    situation("Baseboard heat of 4000 W is on 20 A", wired_in("bedroom", "electric heat", TWENTY | {"poles": 2, "volts": 240}, va=4000, volts=240), "electric-heat-circuit", source="424.4: 125 percent of 16.7 A"),
    situation("Baseboard heat of 3840 W is on 20 A", wired_in("bedroom", "electric heat", TWENTY | {"poles": 2, "volts": 240}, va=3840, volts=240), clear=("electric-heat-circuit",), source="424.4: 125 percent of 16 A"),
    situation("A 240 V water heater is on a 120 V circuit", wired_in("basement", "water heater", TWENTY | {"rating_a": 30, "conductor_awg": "10"}, va=4500, volts=240), "equipment-voltage"),
]  # fmt: skip
