"""Outlets and what hangs or stands at them: receptacles, fans, pumps, heaters, switches. Written down before the rules in question were read."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import WorkKind
from tests.examined.circuits import AFCI15
from tests.examined.kitchens import counter, shared
from tests.examined.protection import FORTY, THIRTY, big, plain, wired_in
from tests.examined.rooms import bath, straight
from tests.examined.situation import TWENTY, Build, outlet, situation

R: dict[str, Any] = {}
LIGHT: dict[str, Any] = {"device": "luminaire"}
OPENER: dict[str, Any] = {
    "serves": "garage door opener",
    "fixture": {"kind": "garage door opener", "va": 600, "volts": 120},
}
BATH_FAN: dict[str, Any] = {"device": "exhaust fan"}
DISPOSER: dict[str, Any] = {
    "device": "receptacle",
    "serves": "disposer",
    "fixture": {"kind": "disposer", "va": 900, "volts": 120, "motor": True, "fastened_in_place": True},
}
GAS_RANGE: dict[str, Any] = {"serves": "range", "fixture": {"kind": "range", "fuel_burning": True}}
MICROWAVE: dict[str, Any] = {
    "serves": "microwave",
    "fixture": {"kind": "microwave", "va": 1500, "volts": 120, "fastened_in_place": True},
}


def chain(
    room: str, *, load: bool, first: str = "receptacle", breaker: str = "standard", **circuit: Any
) -> Build:
    """A GFCI receptacle and one beyond it, on its load or its line side."""

    def build(house: HouseBuilder) -> None:
        place = house.room(room, length_in=144, width_in=120)
        one, two = (house.box(place, wall=1, at_in=at, height_in=44) for at in (20, 60))
        guard = house.receptacle(one, gfci=True, weather_resistant=True)
        house.receptacle(two, weather_resistant=True)
        made = house.circuit(house.panel(), "Outlets", breaker=breaker, **(TWENTY | circuit))
        _, onward = house.home_run(made, one, two)
        if load:
            house.change(guard, load_cable_ids=(onward,))

    return build


def ceiling(room: str = "bedroom", device: str = "luminaire", **more: Any) -> Build:
    place = {name: more.pop(name) for name in ("fan_rated", "rated_lb") if name in more}
    return outlet(
        room,
        device=device,
        box={"surface": "ceiling", "x_in": 60, "y_in": 60} | place,
        circuit=AFCI15,
        **more,
    )


def switch_at(room: str, **place: Any) -> Build:
    def more(house: HouseBuilder, ids: dict[str, str]) -> None:
        house.switch(ids["box"], ids["lamp"])

    def build(house: HouseBuilder) -> None:
        at = house.room(room, length_in=144, width_in=120)
        house.fixture(at, "bathtub", wall=2, at_in=60, width_in=60, depth_in=30, out_in=0)
        lamp = house.luminaire(house.box(at, surface="ceiling", x_in=70, y_in=60))
        made = house.box(at, **({"wall": 1, "at_in": 6, "height_in": 48} | place))
        house.switch(made, lamp)
        circuit = house.circuit(house.panel(), "Bath lights")
        house.home_run(circuit, made)
        house.cable(made, next(b.id for b in house.facts().boxes if b.surface == "ceiling"), circuit)

    return build


def pump(breaker: str, *, kind: str = "sump pump", device: str = "receptacle") -> Build:
    return outlet("basement", device=device, room={"finished": False}, circuit={"purpose": "individual", "breaker": breaker} | TWENTY,
                  fixture={"kind": kind, "va": 900, "volts": 120}, serves=kind, dedicated=True)  # fmt: skip


def replaced(*, ground: bool, gfci: bool, breaker: str = "standard", room: str = "living room") -> Build:
    """A receptacle of three slots put in place of an old one of two, on old cable."""
    return outlet(room, circuit={"breaker": breaker}, cable={"has_ground": ground}, gfci=gfci)


def metal_box(*, has_ground: bool = True) -> Build:
    return outlet(
        "bedroom",
        circuit=AFCI15,
        cable={"has_ground": has_ground},
        box={"trade_size": "3 x 2 x 3-1/2 device", "clamps": "internal"},
    )


def luminaire_over_tub(away: Any) -> Build:
    def build(house: HouseBuilder) -> None:
        place = house.room("bathroom", length_in=144, width_in=96)
        house.fixture(place, "bathtub", wall=1, at_in=60, width_in=60, depth_in=30, out_in=0)
        house.luminaire(house.box(place, surface="ceiling", x_in=60, y_in=20), recessed=False)
        house.observe("room", place, "hanging-over-tub", measure=away)

    return build


def mixed() -> Build:
    """A 12-2 feeds a receptacle, two 14-2 a switch: the textbook's box of 31 1/2 in3."""

    def build(house: HouseBuilder) -> None:
        place = house.room("closet", length_in=144, width_in=120)
        made = house.box(
            place, wall=1, at_in=20, height_in=48, volume_in3="29.75", gangs=2, clamps="internal"
        )
        other = house.box(place, wall=1, at_in=60, height_in=16, volume_in3=40)
        lamp_box = house.box(place, surface="ceiling", x_in=60, y_in=60, volume_in3=40)
        panel = house.panel()
        twelve = house.circuit(panel, "Outlets", breaker="AFCI", **TWENTY)
        fourteen = house.circuit(panel, "Lights", breaker="AFCI")
        house.receptacle(made, circuit_id=twelve)
        house.receptacle(other)
        lamp = house.luminaire(lamp_box, lamp="LED", recessed=True)
        house.switch(made, lamp, circuit_id=fourteen)
        house.home_run(twelve, made, other)
        house.home_run(fourteen, made, lamp_box)

    return build


def heat_pump(rating: int, awg: str, **cable: Any) -> Build:
    return wired_in("outdoors", "mini-split", {"rating_a": rating, "conductor_awg": awg, "poles": 2, "volts": 240, "breaker": "GFCI"}, cable={"kind": "uf-b"} | cable,
                    minimum_circuit_a=14, maximum_overcurrent_a=20, volts=240, listed_hvac=True)  # fmt: skip


def split_receptacle(*, tied: bool) -> Build:
    """The two halves of one receptacle on two circuits."""

    def build(house: HouseBuilder) -> None:
        place = house.room("attic", length_in=144, width_in=120, finished=False)
        panel = house.panel()
        made = house.box(place, wall=1, at_in=20, height_in=16)
        a = house.circuit(panel, "Left", spaces=(1,), handle_tied=tied)
        b = house.circuit(panel, "Right", spaces=(3,), handle_tied=tied, multiwire_with=a)
        house.change(a, multiwire_with=b)
        house.receptacle(made, circuit_id=a, second_circuit_id=b)
        house.cable(panel, made, a, b, insulated=3)

    return build


SITUATIONS = [
    situation("A receptacle hangs beyond a GFCI's load terminals in a garage", chain("garage", load=True, purpose="garage"), clear=("gfci-locations",)),
    situation("A receptacle hangs beyond a GFCI's line terminals in a garage", chain("garage", load=False, purpose="garage"), "gfci-locations"),
    situation("An outdoor receptacle hangs beyond a GFCI in another", chain("outdoors", load=True), clear=("gfci-locations",)),
    situation("The garage's circuit has its light on it", shared(("garage", R), ("garage", LIGHT), purpose="garage", breaker="GFCI"), "garage-circuit", source="lights go on another circuit since 2017 (bobotechnologies.com)"),
    situation("The garage's circuit has the door opener on it", shared(("garage", R), ("garage", OPENER), purpose="garage", breaker="GFCI"), clear=("garage-circuit",), source="exam question 10, 2020: the opener's receptacle may be on it (smartsolve.ai)"),
    situation("A bathroom's fan is on its 20 A receptacle circuit alone with it", shared(("bathroom", R), ("bathroom", BATH_FAN), purpose="bathroom", breaker="GFCI"), clear=("bathroom-circuit",)),
    situation("A disposer's receptacle is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", DISPOSER), purpose="small-appliance"), "small-appliance-only", "appliance-own-circuit"),
    situation("A gas range's igniter is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", GAS_RANGE), purpose="small-appliance"), clear=("small-appliance-only",)),
    situation("A built-in microwave of 1500 W is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", MICROWAVE), purpose="small-appliance"), "small-appliance-only", "appliance-own-circuit", "fixed-load-share"),
    situation("A pantry's receptacle is on the hallway's circuit", shared(("hallway", R), ("pantry", R), rating_a=15, conductor_awg="14"), "small-appliance-receptacles"),
    situation("A laundry sink's receptacle is behind the wall, 8 ft by cord", plain("bedroom", "AFCI", box={"from_sink_in": 96})),
    situation("A sump pump's receptacle is on a GFCI breaker", pump("GFCI"), clear=("gfci-locations",)),
    situation("A sump pump is wired in on a plain breaker", pump("standard", device="hardwired"), "gfci-locations", since=2020, source="422.5(A)(6) since 2020 (forums.mikeholt.com 210-8d.2559641)"),
    situation("A bedroom's paddle fan hangs on a box not made for one", ceiling(device="fan", fan_rated=False), "fan-box"),
    situation("A bedroom's paddle fan hangs on a box made for one", ceiling(device="fan", fan_rated=True, weight_lb=30), clear=("fan-box",)),
    situation("A luminaire of 60 lb hangs on a box marked for 50", ceiling(weight_lb=60, rated_lb=50, fan_rated=True), "luminaire-box", source="exam question 14: 50 lb (learn8.cc)"),
    situation("A luminaire of 50 lb hangs on a box marked for 50", ceiling(weight_lb=50, rated_lb=50, fan_rated=True), clear=("luminaire-box",), source="exam question 14: 50 lb (learn8.cc)"),
    situation("A bedroom's ceiling box in the middle is not ready for a fan", ceiling(fan_rated=False, weight_lb=4), unsettled=("ceiling-box-for-fan",), source="314.27(C) since 2020: it turns on framing and place"),
    situation("A light switch stands 7 ft high", switch_at("bathroom", height_in=84), "switch-within-reach", source="404.8(A)"),
    situation("A light switch is above the tub", switch_at("bathroom", wall=2, at_in=60), "switch-outside-tub", source="404.4"),
    situation("A pendant is 35 in from the tub's rim", luminaire_over_tub(35), "hanging-over-tub", source=("flash cards 99030: 8 ft above, 3 ft aside (freezingblue.com)")),
    situation("A pendant is 36 in from the tub's rim", luminaire_over_tub(36), clear=("hanging-over-tub",), source=("flash cards 99030: 8 ft above, 3 ft aside (freezingblue.com)")),
    situation("A three-slot replacement without ground is on a plain breaker", replaced(ground=False, gfci=False), "ground-brought", "afci-locations", work=WorkKind.REPLACEMENT, source="406.4(D)"),
    situation("A three-slot replacement without ground has GFCI", replaced(ground=False, gfci=True, breaker="AFCI"), clear=("ground-brought",), work=WorkKind.REPLACEMENT, source="406.4(D)(2)"),
    situation("A cable without ground goes to a metal box", metal_box(has_ground=False), "ground-brought"),
    situation("Two 12-2 with a receptacle and two 14-2 with a switch are in 29 3/4 in3 with clamps", mixed(), "box-fill", source="314.16(B): 30 in3; a textbook that takes 12 AWG for both devices adds the same to 30 1/2 and prints 31 1/2 (todance.info)"),
    situation("A mini-split of 20 A at most is on 20 A and 12 AWG", heat_pump(20, "12"), clear=("hvac-overcurrent", "hvac-conductors", "conductor-overcurrent")),
    situation("A mini-split of 20 A at most is on 30 A and 10 AWG", heat_pump(30, "10"), "hvac-overcurrent"),
    situation("A receptacle's halves are on two breakers without a tie", split_receptacle(tied=False), "yoke-disconnect", "multiwire-disconnect", source="quizzes on the Code, 2002: 210.7 (ecmweb.com)"),
    situation("A receptacle's halves are on tied breakers", split_receptacle(tied=True), clear=("yoke-disconnect",), source="210.7"),
    situation("A 10-30 receptacle is put in for a new dryer", big("laundry", "dryer", "10-30", THIRTY | {"breaker": "GFCI"}, fixture={"va": 5000}), "receptacle-has-ground", source="250.140: four wires in new work"),
    situation("A range receptacle is fed by 6-3 on 50 A", big("kitchen", "range", "14-50", FORTY | {"breaker": "GFCI"}, fixture={"va": 12000}), clear=("range-circuit", "conductor-overcurrent", "cable-carries")),
    situation("A range of 8 kW is on 30 A with 10-3", big("kitchen", "range", "14-30", THIRTY | {"breaker": "GFCI"}, fixture={"va": 8000}), clear=("range-circuit",), source="80 percent of 8 kW is 6.4 kW, 26.7 A: 30 A carries it"),
    situation("A living room wall has a receptacle that is only in the floor, 19 in out", straight("living room", 120, 60, surface="floor", off_wall_in=19), "wall-receptacle-spacing", source="code quiz July 2004, question 9: 18 in (elec-toolbox.com)"),
    situation("A living room wall has a receptacle that is only in the floor, 18 in out", straight("living room", 120, 60, surface="floor", off_wall_in=18), clear=("wall-receptacle-spacing",), source="code quiz July 2004, question 9: 18 in (elec-toolbox.com)"),
    situation("A wall of 13 ft has receptacles in both ends' corners", straight("bedroom", 156, 2, 154), "wall-receptacle-spacing"),
    situation("A sink divides a counter, and one side has none", counter(120, 12, 24, breaks=(("sink", 48, 78),)), "counter-receptacle-spacing"),
    situation("A refrigerator divides a counter; both sides have one", counter(120, 24, 100, breaks=(("refrigerator", 48, 84),)), clear=("counter-receptacle-spacing",)),
    situation("Four 10-2 and no device are in 4 x 1-1/2 square with outside connectors", outlet("attic", device="luminaire", circuit={"rating_a": 30, "conductor_awg": "10"}, box={"trade_size": "4 x 1-1/2 square", "clamps": "external"}), source="two 10 AWG and a ground are 7 1/2 in3", clear=("box-fill",)),
    situation("Two vanities, a receptacle between them and one basin out of its reach", bath(70, basins=(30, 130)), "bathroom-receptacle"),
]  # fmt: skip
