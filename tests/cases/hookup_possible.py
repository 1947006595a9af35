"""Cases for circuits that can be wired, or cannot: 300.3(B), 404.2(A) and (C), as the trade counts conductors.

The counts (which leg needs how many conductors) are common practice, worked by hand; see tests/data/hookup too.
"""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref, SwitchWays
from tests.cases.case import Case, House

POSSIBLE, CARRIES, WAYS = "hookup-possible", "cable-carries", "switch-ways"
THREE, FOUR, SINGLE = SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY, SwitchWays.SINGLE_POLE
ECM = "W04; Switch and receptacle installation basics (2017), 404.2(C); EC&M"
FM_300 = "W02; 404.2(A) thread quoting 300.3(B) (Mike Holt Forums)"


def stair(
    *insulated: int,
    ways: tuple[SwitchWays | None, ...] = (THREE, FOUR, THREE),
    room: str = "stair",
    kind: str = "nm-b",
    about: str = "circuit",
    circuit: dict[str, Any] | None = None,
    light: DeviceKind = DeviceKind.LUMINAIRE,
    finished: bool = True,
    controls: bool = True,
) -> House:
    """Panel, then a switch box for each of ``ways``, then the light; ``insulated`` for each cable in that order.

    ``about``: ``circuit``, ``switch N`` or ``cable N``, counted from the panel.
    """

    def build(house: HouseBuilder) -> Ref:
        place = house.room(room, "Stair", length_in=144, width_in=48, finished=finished)
        panel = house.panel()
        made = house.circuit(panel, "Stair light", **(circuit or {}))
        lamp = house.box(place, label="L1", surface="ceiling", x_in=70, y_in=24)
        load = house.device(lamp, light)
        boxes = [
            house.box(place, label=f"S{n + 1}", wall=1, at_in=12 * (n + 1), height_in=48)
            for n in range(len(ways))
        ]
        switches = [
            house.device(box, DeviceKind.SWITCH, controls=(load,) if controls else (), ways=way)
            for box, way in zip(boxes, ways, strict=True)
        ]
        stops = [panel, *boxes, lamp]
        cables = [
            house.cable(a, b, made, insulated=count, kind=kind)
            for a, b, count in zip(stops, stops[1:], insulated, strict=False)
        ]
        word, _, number = about.partition(" ")
        place_of = int(number or 1) - 1
        return {
            "circuit": Ref("circuit", made),
            "switch": Ref("device", switches[min(place_of, len(switches) - 1)]),
            "cable": Ref("cable", cables[min(place_of, len(cables) - 1)]),
        }[word]

    return build


def loop(insulated: int, *, room: str = "bedroom", finished: bool = True, kind: str = "nm-b",
         light: DeviceKind = DeviceKind.LUMINAIRE, about: str = "circuit") -> House:  # fmt: skip
    """The feed comes into the ceiling box; a cable drops to the switch."""

    def build(house: HouseBuilder) -> Ref:
        place = house.room(room, length_in=144, width_in=120, finished=finished)
        made = house.circuit(house.panel(), "Lights")
        ceiling = house.box(place, label="L1", surface="ceiling", x_in=70, y_in=60)
        load = house.device(ceiling, light)
        wall = house.box(place, label="S1", wall=1, at_in=6, height_in=48)
        house.switch(wall, load)
        house.home_run(made, ceiling)
        drop = house.cable(ceiling, wall, made, insulated=insulated, kind=kind)
        return Ref("circuit", made) if about == "circuit" else Ref("cable", drop)

    return build


def dead_end(insulated: int, room: str = "bedroom", other: str = "") -> House:
    """Feed, first three-way and light in a row; the second three-way at the end of a cable of its own, in the same room or
    in ``other``. With three wires (two travelers and the way back) no neutral reaches it."""

    def build(house: HouseBuilder) -> Ref:
        place = house.room(room, length_in=144, width_in=120)
        far_place = house.room(other, "Beyond", length_in=144, width_in=120) if other else place
        made = house.circuit(house.panel(), "Lights")
        lamp = house.box(place, label="L1", surface="ceiling", x_in=70, y_in=60)
        load = house.luminaire(lamp)
        near = house.box(place, label="S1", wall=1, at_in=6, height_in=48)
        far = house.box(far_place, label="S2", wall=2, at_in=6, height_in=48)
        for box in (near, far):
            house.switch(box, load, ways=THREE)
        house.home_run(made, near, lamp)
        house.cable(near, far, made, insulated=insulated)
        return Ref("circuit", made)

    return build


def straight(insulated: int, configuration: str = "14-50", about: str = "circuit") -> House:
    """A two-pole circuit to one receptacle."""

    def build(house: HouseBuilder) -> Ref:
        place = house.room("kitchen", length_in=144, width_in=120)
        panel = house.panel()
        made = house.circuit(panel, "Range", rating_a=50, poles=2, volts=240, conductor_awg="6")
        box = house.box(place, label="R1", wall=1, at_in=36)
        house.receptacle(box, configuration=configuration, receptacles=1)
        cable = house.cable(panel, box, made, insulated=insulated)
        return Ref("circuit", made) if about == "circuit" else Ref("cable", cable)

    return build


def shared(insulated: int, *, circuits: tuple[int, ...] = (0, 1)) -> House:
    """Two circuits on one neutral: a receptacle on each, the second beyond the first. The subject is the first circuit."""

    def build(house: HouseBuilder) -> Ref:
        place = house.room("basement", length_in=144, width_in=120)
        panel = house.panel()
        one = house.circuit(panel, "Bench left", handle_tied=True)
        other = house.circuit(panel, "Bench right", handle_tied=True)
        house.change(one, multiwire_with=other)
        house.change(other, multiwire_with=one)
        near, far = (house.box(place, label=f"R{n}", wall=1, at_in=24 * n, height_in=44) for n in (1, 2))
        for box, number in zip((near, far), circuits, strict=False):
            house.receptacle(box, circuit_id=(one, other)[number])
        house.cable(panel, near, one, other, insulated=insulated)
        house.cable(near, far, other)
        return Ref("circuit", one)

    return build


def feeder(house: HouseBuilder) -> Ref:
    """A feeder to a second panel."""
    main = house.panel()
    made = house.circuit(main, "Feeder", rating_a=60, poles=2, volts=240, purpose="feeder", conductor_awg="6")
    sub = house.panel("Panel B", fed_by_circuit_id=made)
    house.cable(main, sub, made, insulated=3)
    return Ref("circuit", made)


def no_run(house: HouseBuilder) -> Ref:
    """A circuit that nobody has drawn."""
    return Ref("circuit", house.circuit(house.panel(), "Spare"))


def loose_cable(house: HouseBuilder) -> Ref:
    """A cable on no circuit."""
    room = house.room("bedroom", length_in=144, width_in=120)
    one, other = (house.box(room, label=f"R{n}", wall=1, at_in=24 * n) for n in (1, 2))
    return Ref("cable", house.cable(one, other))


def empty_boxes(house: HouseBuilder) -> Ref:
    """Cables, and no device in any box."""
    room = house.room("bedroom", length_in=144, width_in=120)
    made = house.circuit(house.panel(), "Bedroom")
    house.home_run(made, house.box(room, wall=1, at_in=24))
    return Ref("circuit", made)


def other_circuits_light(house: HouseBuilder) -> Ref:
    """A switch whose light is fed by another circuit."""
    room = house.room("bedroom", length_in=144, width_in=120)
    panel = house.panel()
    one, other = house.circuit(panel, "Lights"), house.circuit(panel, "Receptacles")
    lamp = house.box(room, label="L1", surface="ceiling", x_in=10, y_in=10)
    wall = house.box(room, label="S1", wall=1, at_in=12)
    house.switch(wall, house.luminaire(lamp))
    house.home_run(one, lamp)
    house.home_run(other, wall)
    return Ref("circuit", other)


def receptacle(house: HouseBuilder) -> Ref:
    """A device that is no switch."""
    room = house.room("bedroom", length_in=144, width_in=120)
    return Ref("device", house.receptacle(house.box(room, wall=1, at_in=12)))


CASES = [
    Case(POSSIBLE, "clear - three locations, three-wire between them", stair(2, 3, 3, 2), "works"),
    Case(POSSIBLE, "correction - two-wire between the first two locations", stair(2, 2, 3, 2), "short", source=FM_300),
    Case(POSSIBLE, "clear - two locations, three-wire between", stair(2, 3, 2, ways=(THREE, THREE)), "works"),
    Case(POSSIBLE, "correction - two locations, two-wire between", stair(2, 2, 2, ways=(THREE, THREE)), "short", source=FM_300),
    Case(POSSIBLE, "correction - a two-wire switch loop leaves no neutral at the switch", loop(2), "short", source=ECM),
    Case(POSSIBLE, "clear - a three-wire switch loop brings it", loop(3), "works", source=ECM),
    Case(POSSIBLE, "clear - a two-wire loop where the box can be reached without opening a finish", loop(2, room="basement", finished=False), "works", source="W05; 404.2(C)"),
    Case(POSSIBLE, "clear - a two-wire loop in a closet", loop(2, room="closet"), "works", source="W04; 404.2(C)"),
    Case(POSSIBLE, "correction - a two-wire loop in a hallway", loop(2, room="hallway"), "short"),
    Case(POSSIBLE, "clear - in a garage, which nobody lives in", loop(2, room="garage"), "works"),
    Case(POSSIBLE, "clear - a two-wire loop to a switched receptacle", loop(2, light=DeviceKind.RECEPTACLE), "works", source="W05; 404.2(C)"),
    Case(POSSIBLE, "clear - a two-wire loop to an appliance that is no light", loop(2, light=DeviceKind.HARDWIRED), "works"),
    Case(POSSIBLE, "clear - two conductors in raceway, where a neutral can be pulled later", loop(2, kind="raceway"), "works", source="W05; 404.2(C)"),
    Case(POSSIBLE, "correction - a single-pole switch among two locations", stair(2, 3, 2, ways=(THREE, SINGLE)), "impossible"),
    Case(POSSIBLE, "unseen - a three-way without its partner", stair(2, 2, ways=(THREE,)), "not-entered"),
    Case(POSSIBLE, "unseen - nobody said what the switch turns", stair(2, 2, ways=(SINGLE,), controls=False), "not-entered"),
    Case(POSSIBLE, "unseen - the run stops before the light", stair(2, 3, 3), "not-entered"),
    Case(POSSIBLE, "unseen - no cable at all", no_run, "not-entered"),
    Case(POSSIBLE, "unseen - no device in any box", empty_boxes, "not-entered"),
    Case(POSSIBLE, "unseen - the switch is on another circuit than its light", other_circuits_light, "not-entered"),
    Case(POSSIBLE, "inspector - no neutral at the second of two locations in a room, where the whole floor may be seen", dead_end(3), "one-neutral", source="W05; 404.2(C)"),
    Case(POSSIBLE, "clear - a neutral at both locations", dead_end(4), "works", source=ECM),
    Case(POSSIBLE, "correction - no neutral at the second location, in another room", dead_end(3, other="hallway"), "short", source="W05; 404.2(C)"),
    Case(POSSIBLE, "correction - two wires to the second location carry no travelers and way back", dead_end(2), "short"),
    Case(POSSIBLE, "clear - a range on three wires", straight(3), "works"),
    Case(POSSIBLE, "correction - a range receptacle with neutral on two wires", straight(2), "short"),
    Case(POSSIBLE, "clear - a 240 V receptacle on two wires", straight(2, "6-20"), "works"),
    Case(POSSIBLE, "unseen - a 120 V receptacle on a two-pole circuit", straight(3, "5-15"), "not-entered"),
    Case(POSSIBLE, "clear - two circuits share a neutral on three wires", shared(3), "works"),
    Case(POSSIBLE, "correction - two circuits share a neutral on two wires", shared(2), "short"),
    Case(POSSIBLE, "outside - a feeder", feeder, "outside"),
    Case(CARRIES, "clear - three conductors between two locations", stair(2, 3, 2, ways=(THREE, THREE), about="cable 2"), "enough"),
    Case(CARRIES, "correction - two conductors between two locations", stair(2, 2, 2, ways=(THREE, THREE), about="cable 2"), "short", source=FM_300),
    Case(CARRIES, "clear - the home run of a circuit that is short elsewhere", stair(2, 2, 2, ways=(THREE, THREE), about="cable 1"), "enough"),
    Case(CARRIES, "correction - the drop to a switch has no neutral", loop(2, about="cable"), "short", source=ECM),
    Case(CARRIES, "clear - the drop to a switch with its neutral", loop(3, about="cable"), "enough", source=ECM),
    Case(CARRIES, "clear - one conductor more than is needed", loop(4, about="cable"), "enough"),
    Case(CARRIES, "clear - the four wires of a range", straight(3, about="cable"), "enough"),
    Case(CARRIES, "correction - a range's receptacle on two wires", straight(2, about="cable"), "short"),
    Case(CARRIES, "unseen - on no circuit", loose_cable, "no-circuit"),
    Case(CARRIES, "unseen - the run stops before the light", stair(2, 3, 3, about="cable 1"), "not-entered"),
    Case(CARRIES, "outside - the switches are of the wrong kind", stair(2, 3, 2, ways=(THREE, SINGLE), about="cable 2"), "outside"),
    Case(WAYS, "clear - alone", stair(2, 2, ways=(SINGLE,), about="switch"), "alone"),
    Case(WAYS, "clear - a three-way at the end of a chain", stair(2, 3, 3, 2, about="switch 1"), "in-chain"),
    Case(WAYS, "clear - a four-way in the middle of a chain", stair(2, 3, 3, 2, about="switch 2"), "in-chain"),
    Case(WAYS, "correction - a single-pole among two locations", stair(2, 3, 2, ways=(THREE, SINGLE), about="switch 2"), "single"),
    Case(WAYS, "correction - three three-ways", stair(2, 3, 3, 2, ways=(THREE, THREE, THREE), about="switch 2"), "too-many"),
    Case(WAYS, "correction - four-ways alone", stair(2, 3, 2, ways=(FOUR, FOUR), about="switch 1"), "no-ends"),
    Case(WAYS, "unseen - which kind is not recorded", stair(2, 3, 2, ways=(THREE, None), about="switch 2"), "ways-unknown"),
    Case(WAYS, "unseen - a three-way without a second location", stair(2, 2, ways=(THREE,), about="switch"), "no-second"),
    Case(WAYS, "unseen - nobody said what it turns", stair(2, 2, ways=(SINGLE,), controls=False, about="switch"), "controls-nothing"),
    Case(WAYS, "outside - a receptacle", receptacle, "no-switch"),
]  # fmt: skip
