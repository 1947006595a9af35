"""Counters, islands and the circuits of kitchens, laundries, bathrooms and garages."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from tests.examined.situation import TWENTY, Build, situation

CARDS = "residential flash cards 99030 (freezingblue.com)"
QUIZ_20 = "quizzes on the Code, question 5: at most 20 in above the counter (ecmweb.com)"
QUIZ_12 = "code quiz July 2004, question 1: 12 in of counter beside the range takes one (elec-toolbox.com)"


def island(length: Any, depth: Any, *below: Any, kind: str = "island", in_top: int = 0) -> Build:
    """An island with receptacles in its side, each so far below the top, or in the top itself."""

    def build(house: HouseBuilder) -> None:
        room = house.room("kitchen", length_in=192, width_in=168)
        top = house.counter(room, kind, length, depth)
        boxes = [
            house.box(room, surface="counter", counter_id=top, at_in=6 + 24 * n, below_counter_in=b)
            for n, b in enumerate(below)
        ]
        boxes += [house.box(room, surface="counter", counter_id=top, at_in=6 + 24 * n) for n in range(in_top)]
        circuit = house.circuit(
            house.panel(), "Counter", purpose="small-appliance", breaker="AFCI and GFCI", **TWENTY
        )
        for each in boxes:
            house.receptacle(each)
        if boxes:
            house.home_run(circuit, *boxes)

    return build


def counter(length: Any, *at: Any, height: Any = 44, breaks: tuple[tuple[Any, ...], ...] = ()) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room("kitchen", length_in=192, width_in=168)
        top = house.counter(room, "wall", length, 25, wall=1, from_in=0, height_in=36)
        for kind, start, end in breaks:
            house.break_(top, kind, start, end)
        boxes = [house.box(room, wall=1, at_in=place, height_in=height) for place in at]
        circuit = house.circuit(
            house.panel(), "Counter", purpose="small-appliance", breaker="AFCI and GFCI", **TWENTY
        )
        for each in boxes:
            house.receptacle(each)
        if boxes:
            house.home_run(circuit, *boxes)

    return build


def shared(*outlets: tuple[str, dict[str, Any]], breaker: str = "AFCI and GFCI", **circuit: Any) -> Build:
    """One circuit through outlets in several rooms, in order: (kind of room, how). Outlets of one room kind share it
    unless ``room`` names another."""

    def build(house: HouseBuilder) -> None:
        rooms: dict[str, str] = {}
        boxes = []
        for number, (kind, how) in enumerate(outlets):
            how = dict(how)
            name = how.pop("room", kind)
            if name not in rooms:
                rooms[name] = house.room(kind, name, length_in=144, width_in=120, **how.pop("facts", {}))
            device, fixture, place = (
                how.pop("device", "receptacle"),
                how.pop("fixture", None),
                how.pop("box", {}),
            )
            if fixture:
                how["fixture_id"] = house.fixture(rooms[name], **fixture)
            box = house.box(rooms[name], **({"wall": 1, "at_in": 10 + 6 * number, "height_in": 44} | place))
            boxes.append(box)
            if device == "receptacle":
                house.receptacle(box, **how)
            elif device == "luminaire":
                house.luminaire(box, **how)
            else:
                house.device(box, device, **how)
        made = house.circuit(house.panel(), "Shared", breaker=breaker, **(TWENTY | circuit))
        house.home_run(made, *boxes)

    return build


R: dict[str, Any] = {}
LIGHT: dict[str, Any] = {"device": "luminaire"}
HOOD: dict[str, Any] = {
    "device": "hardwired",
    "serves": "range hood",
    "fixture": {"kind": "range hood", "va": 400, "volts": 120},
}
DISHWASHER: dict[str, Any] = {
    "device": "hardwired",
    "serves": "dishwasher",
    "fixture": {"kind": "dishwasher", "va": 1200, "volts": 120},
}
FRIDGE: dict[str, Any] = {"serves": "refrigerator", "fixture": {"kind": "refrigerator"}}

SITUATIONS = [
    situation("An island of 8 sq ft has no receptacle", island(48, 24), "counter-receptacle-spacing", until=2020),
    situation("An island of 8 sq ft has one 12 in below its top", island(48, 24, 12), source="it no longer serves the top since 2023, which then needs a provision (ecmag.com, CQD spotlight)"),
    situation("An island of 8 sq ft has one listed for its top", island(48, 24, in_top=1)),
    situation("An island of 16 sq ft has one receptacle", island(96, 24, in_top=1), "counter-receptacle-spacing", since=2020, until=2020),
    situation("An island of 16 sq ft has two", island(96, 24, in_top=2)),
    situation("An island is 24 by 11 in", island(24, 11)),
    situation("A peninsula of 10 sq ft has no receptacle", island(60, 24, kind="peninsula"), "counter-receptacle-spacing", until=2020),
    situation("A counter of 48 in has one 24 in from either end", counter(48, 24), clear=("counter-receptacle-spacing",)),
    situation("A counter of 60 in has one in its middle", counter(60, 30), "counter-receptacle-spacing"),
    situation("A counter's only receptacle is 21 in above it", counter(48, 24, height=57), "counter-receptacle-spacing", source=QUIZ_20),
    situation("A counter's only receptacle is 20 in above it", counter(48, 24, height=56), clear=("counter-receptacle-spacing",), source=QUIZ_20),
    situation("Twelve inches of counter stand beside the range", counter(42, breaks=(("range", 12, 42),)), "counter-receptacle-spacing", source=QUIZ_12),
    situation("Eleven inches of counter stand beside the range", counter(41, breaks=(("range", 11, 41),)), source=QUIZ_12),
    situation("A range hood is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", HOOD), purpose="small-appliance"), "small-appliance-only"),
    situation("A dishwasher is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", DISHWASHER), purpose="small-appliance"), "small-appliance-only", "appliance-own-circuit"),
    situation("A refrigerator is on a small-appliance circuit", shared(("kitchen", R), ("kitchen", FRIDGE), purpose="small-appliance"), clear=("small-appliance-only",)),
    situation("A refrigerator is alone on 15 A", shared(("kitchen", FRIDGE | {"receptacles": 1, "dedicated": True}), purpose="individual", rating_a=15, conductor_awg="14"), clear=("small-appliance-receptacles",),
              source="code quiz July 2004, question 8: an individual 15 A circuit for refrigeration (elec-toolbox.com)"),
    situation("Kitchen lights are on a small-appliance circuit", shared(("kitchen", R), ("kitchen", LIGHT), purpose="small-appliance"), "small-appliance-only"),
    situation("An outdoor receptacle is on a small-appliance circuit", shared(("kitchen", R), ("outdoors", {"weather_resistant": True}), purpose="small-appliance"), "small-appliance-only"),
    situation("A dining room's receptacle is on the kitchen's small-appliance circuit", shared(("kitchen", R), ("dining room", R), purpose="small-appliance"), clear=("small-appliance-only", "small-appliance-receptacles")),
    situation("A dining room's receptacle is on a bedroom's circuit", shared(("bedroom", R), ("dining room", R), rating_a=15, conductor_awg="14"), "small-appliance-receptacles"),
    situation("A small-appliance circuit is rated 15 A", shared(("kitchen", R), purpose="small-appliance", rating_a=15, conductor_awg="14"), "small-appliance-receptacles"),
    situation("The laundry's circuit goes on into a bathroom", shared(("laundry", R), ("bathroom", R), purpose="laundry"), "laundry-circuit", "bathroom-circuit"),
    situation("The laundry's circuit has its light on it", shared(("laundry", R), ("laundry", LIGHT), purpose="laundry"), "laundry-circuit"),
    situation("The laundry's circuit is 15 A", shared(("laundry", R), purpose="laundry", rating_a=15, conductor_awg="14"), "laundry-circuit"),
    situation("One 20 A circuit serves the receptacles of two bathrooms", shared(("bathroom", R), ("bathroom", {"room": "Other bath"}), purpose="bathroom"), clear=("bathroom-circuit",)),
    situation("A bathroom's 20 A circuit serves its own light too", shared(("bathroom", R), ("bathroom", LIGHT), purpose="bathroom"), clear=("bathroom-circuit",)),
    situation("One circuit serves receptacles of two bathrooms and a light in one", shared(("bathroom", R), ("bathroom", {"room": "Other bath"}), ("bathroom", LIGHT), purpose="bathroom"), "bathroom-circuit"),
    situation("A bathroom's receptacle is on 15 A", shared(("bathroom", R), purpose="bathroom", rating_a=15, conductor_awg="14"), "bathroom-circuit"),
    situation("A bathroom's receptacle is on the bedroom's circuit", shared(("bedroom", R), ("bathroom", R)), "bathroom-circuit"),
    situation("The garage's circuit goes on to an outdoor receptacle", shared(("garage", R), ("outdoors", {"weather_resistant": True}), purpose="garage"), clear=("garage-circuit",)),
    situation("The garage's circuit goes on into a bedroom", shared(("garage", R), ("bedroom", R), purpose="garage"), "garage-circuit"),
    situation("The garage's only circuit is 15 A", shared(("garage", R), purpose="garage", rating_a=15, conductor_awg="14"), "garage-circuit"),
]  # fmt: skip
