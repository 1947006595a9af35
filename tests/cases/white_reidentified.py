"""Cases for white conductors used as hots: 200.7(C)(1)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref, SwitchWays, WhiteUse
from tests.cases.case import Case, House, seen

HOT, BOX, PANEL = "white-as-hot", "white-marked-at-box", "white-marked-at-panel"
EX_WHITE = "P087; 200.7(C)(1) question (Passetra)"
FM_4WAY = "P089; Making a three-way a four-way, 300.3 (Mike Holt Forums)"


def leg(
    *, ways: SwitchWays = SwitchWays.SINGLE_POLE, switches: int = 1, about: str = "cable", **cable: Any
) -> House:
    """Power at the ceiling box, a cable on to a switch box: the switch loop. The subject is the cable or its switch box."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Bedroom")
        ceiling = house.box(room, surface="ceiling")
        light = house.luminaire(ceiling)
        wall = house.box(room, wall=1, at_in=6, height_in=48)
        for _ in range(switches):
            house.switch(wall, light, ways=ways)
        house.home_run(circuit, ceiling)
        made = house.cable(ceiling, wall, circuit, **cable)
        return Ref("cable", made) if about == "cable" else Ref("box", wall)

    return build


def feed(
    *,
    about: str = "cable",
    device: DeviceKind | None = DeviceKind.RECEPTACLE,
    on_circuit: bool = True,
    **more: Any,
) -> House:
    """One cable from the panel to a box with one device: an ordinary feed, or a 240 V load."""
    circuit_facts = {key: more.pop(key) for key in ("poles", "volts") if key in more}

    def build(house: HouseBuilder) -> Ref:
        room = house.room("laundry", length_in=144, width_in=120)
        panel = house.panel(room_id=room)
        circuit = house.circuit(panel, "Water heater", rating_a=30, conductor_awg="10", **circuit_facts)
        box = house.box(room, wall=1, at_in=36)
        if device is not None:
            house.device(box, device)
        made = house.cable(panel, box, *([circuit] if on_circuit else []), **more)
        return {"cable": Ref("cable", made), "box": Ref("box", box), "panel": Ref("panel", panel)}[about]

    return build


def dead_end(about: str = "cable", insulated: int = 3) -> House:
    """Feed, first three-way and light side by side; three wires on to the second three-way, where no neutral is needed:
    two travelers and either the hot on or the way back, so that the white is a hot; which one nobody has recorded."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("closet", length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Closet")
        light = house.luminaire(lamp := house.box(room, surface="ceiling", x_in=60, y_in=60))
        near, far = (house.box(room, wall=1, at_in=at, height_in=48) for at in (6, 90))
        house.switch(near, light, ways=SwitchWays.THREE_WAY)
        house.switch(far, light, ways=SwitchWays.THREE_WAY)
        house.home_run(circuit, near, lamp)
        made = house.cable(near, far, circuit, insulated=insulated)
        return Ref("cable", made) if about == "cable" else Ref("box", far)

    return build


def bare(about: str) -> House:
    """A box or a panel without any cable."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        if about == "panel":
            return Ref("panel", house.panel(room_id=room))
        return Ref("box", house.box(room, wall=1, at_in=6))

    return build


def recorded(use: WhiteUse, **more: Any) -> House:
    return leg(white_use=use, **more)


STRAIGHT: dict[str, Any] = {"poles": 2, "volts": 240, "device": DeviceKind.HARDWIRED}

CASES = [
    Case(HOT, "clear - recorded as feeding the switch", recorded(WhiteUse.SWITCH_FEED), "feeds", source=EX_WHITE),
    Case(HOT, "correction - recorded as returning from it", recorded(WhiteUse.SWITCH_RETURN), "returns", source=EX_WHITE),
    Case(HOT, "clear - recorded as a traveler", recorded(WhiteUse.TRAVELER), "traveler", source=FM_4WAY),
    Case(HOT, "unseen - a two-wire switch loop, which way round", leg(), "which-way"),
    Case(HOT, "clear - somebody saw it feed the switch", seen(leg(), HOT, Answer.RIGHT), "looked-right"),
    Case(HOT, "correction - somebody saw it return", seen(leg(), HOT, Answer.WRONG), "looked-wrong"),
    Case(HOT, "outside - a three-wire loop leaves the white for the neutral", leg(insulated=3), "grounded"),
    Case(HOT, "unseen - three wires to a three-way switch", leg(ways=SwitchWays.THREE_WAY, insulated=3), "which-way"),
    Case(HOT, "outside - four wires to a three-way switch", leg(ways=SwitchWays.THREE_WAY, insulated=4), "grounded"),
    Case(HOT, "unseen - three wires to the second three-way: the white feeds it or travels, as the electrician chose", dead_end(), "which-way"),
    Case(HOT, "outside - four wires to the second three-way leave the white over", dead_end(insulated=4), "grounded"),
    Case(BOX, "unseen - a traveler's white, nobody looked", dead_end("box"), "not-looked"),
    Case(HOT, "unseen - two switches on a three-wire loop", leg(switches=2, insulated=3), "which-way"),
    Case(HOT, "clear - a 240 V load on two wires", feed(**STRAIGHT), "both-hot"),
    Case(HOT, "outside - a 240 V load on three wires has a neutral", feed(**STRAIGHT, insulated=3), "grounded"),
    Case(HOT, "outside - an ordinary feed", feed(), "grounded"),
    Case(HOT, "correction - a white hot in a raceway", feed(**STRAIGHT, kind="raceway"), "in-raceway"),
    Case(HOT, "clear - a white hot in metal-clad cable", feed(**STRAIGHT, kind="mc"), "both-hot"),
    Case(HOT, "unseen - the cable is on no circuit", feed(on_circuit=False), "use-not-known"),
    Case(HOT, "unseen - nothing is recorded beyond the cable", feed(device=None), "use-not-known"),
    Case(BOX, "unseen - a switch loop's white, nobody looked", leg(about="box"), "not-looked"),
    Case(BOX, "clear - marked", seen(leg(about="box"), BOX, Answer.RIGHT), "marked", source=EX_WHITE),
    Case(BOX, "correction - not marked", seen(leg(about="box"), BOX, Answer.WRONG), "not-marked", source=EX_WHITE),
    Case(BOX, "clear - the room was looked over", seen(leg(about="box"), BOX, Answer.RIGHT, in_room=True), "marked"),
    Case(BOX, "outside - every white is a neutral", feed(about="box"), "all-grounded"),
    Case(BOX, "unseen - no cable is recorded", bare("box"), "no-cable"),
    Case(BOX, "unseen - use not known", feed(about="box", on_circuit=False), "use-not-known"),
    Case(PANEL, "unseen - a 240 V load's white, nobody looked", feed(about="panel", **STRAIGHT), "not-looked"),
    Case(PANEL, "clear - marked", seen(feed(about="panel", **STRAIGHT), PANEL, Answer.RIGHT), "marked"),
    Case(PANEL, "correction - not marked", seen(feed(about="panel", **STRAIGHT), PANEL, Answer.WRONG), "not-marked"),
    Case(PANEL, "outside - every white is a neutral", feed(about="panel"), "all-grounded"),
    Case(PANEL, "unseen - no cable is recorded", bare("panel"), "no-cable"),
]  # fmt: skip
