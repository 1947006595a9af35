"""Cases for the neutral at light switches: 404.2(C)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref, SwitchWays, WhiteUse
from tests.cases.case import Case, House

RULE = "neutral-at-switch"
ECM_17 = "Switch and receptacle installation basics, 2017 (EC&M)"
FORUM = "404.2(C) in utility space (Mike Holt Forums 2590449), garage and closet (electriciantalk.com)"
EX_404 = "404.2(C) list question (sciemce.com)"


def switch(
    *, fed: str = "light", room: str = "bedroom", target: str = "luminaire", second: bool = False, wired: bool = True,
    **cable: Any,
) -> House:  # fmt: skip
    """A light and its switch; power comes to the ``light`` (a switch loop goes on) or to the ``switch`` first.
    ``second`` is another three-way switch of the same room, with the power at it."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Lights")
        ceiling = house.box(room_id, surface="ceiling")
        made = house.luminaire(ceiling) if target == "luminaire" else house.receptacle(ceiling)
        wall = house.box(room_id, wall=1, at_in=6, height_in=48)
        ways = SwitchWays.THREE_WAY if second else SwitchWays.SINGLE_POLE
        house.switch(wall, *([made] if target else []), ways=ways)
        if second:
            other = house.box(room_id, wall=3, at_in=6, height_in=48)
            house.switch(other, made, ways=ways)
            house.home_run(circuit, other, ceiling, insulated=3)
            house.cable(ceiling, wall, circuit, insulated=3, **cable)
        elif wired and fed == "light":
            house.home_run(circuit, ceiling)
            house.cable(ceiling, wall, circuit, **cable)
        elif wired:
            house.home_run(circuit, wall, ceiling, **cable)
        return Ref("box", wall)

    return build


def idle(house: HouseBuilder) -> Ref:
    ref = switch(fed="switch")(house)
    house.change(next(d.id for d in house.facts().devices if d.kind == "switch"), controls=())
    return ref


CASES = [
    Case(RULE, "clear - power comes to the switch first", switch(fed="switch"), "has-neutral", source=ECM_17),
    Case(RULE, "clear - a three-wire loop with its white free", switch(insulated=3), "has-neutral"),
    Case(RULE, "correction - a two-wire loop", switch(), "without", source=ECM_17),
    Case(RULE, "clear - a raceway comes to the box", switch(kind="raceway"), "raceway", source=EX_404),
    Case(RULE, "clear - the other switch of the room has one", switch(second=True, white_use=WhiteUse.TRAVELER), "elsewhere", source=EX_404),
    Case(RULE, "outside - a switched receptacle", switch(target="receptacle"), "no-light", source=EX_404),
    Case(RULE, "outside - a closet", switch(room="closet"), "other-room"),
    Case(RULE, "unseen - no cable", switch(wired=False), "no-cable"),
    Case(RULE, "unseen - what it turns is not recorded", idle, "controls-not-recorded"),
]  # fmt: skip


def open_garage(house: HouseBuilder) -> Ref:
    ref = switch(room="garage")(house)
    house.change(house.facts().rooms[0].id, finished=False)
    return ref


def from_the_hall(house: HouseBuilder) -> Ref:
    """A closet's light, turned from the hallway by a two-wire loop."""
    ref = switch(room="closet")(house)
    house.change(ref.id, room_id=house.room("hallway", length_in=144, width_in=42), wall_id=None)
    return ref


CASES += [
    Case(RULE, "inspector - a garage is no habitable room", switch(room="garage"), "asked", source=FORUM),
    Case(RULE, "inspector - a switch in the hallway for the closet's light", from_the_hall, "asked"),
    Case(
        RULE,
        "outside - an unfinished room: the box stays within reach of a cable",
        open_garage,
        "open-wall",
        source=EX_404,
    ),
]


def no_switch(house: HouseBuilder) -> Ref:
    ref = switch()(house)
    return Ref("box", next(box.id for box in house.facts().boxes if box.id != ref.id))


def unknown(house: HouseBuilder) -> Ref:
    ref = switch(fed="switch")(house)
    for cable in house.facts().cables:
        house.change(cable.id, circuit_ids=())
    return ref


CASES += [
    Case(RULE, "outside - the light's own box", no_switch, "no-light"),
    Case(RULE, "unseen - cables on no circuit", unknown, "use-not-known"),
]
