"""Cases for wiring that is entered whole, or not. Common practice: there is no article about what is written down."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House

REACHED, BOX = "circuit-reached", "box-on-a-circuit"


def run(*pairs: str, about: str = "circuit", boxes: int = 3) -> House:
    """Three receptacle boxes R1 to R3 and cables between pairs of ``P`` (the panel), ``Q`` (another one), ``1`` to ``3``
    and ``-`` (nowhere). The subject is the circuit, or a box by its number."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        ends = {"P": house.panel(), "Q": house.panel("Panel B")}
        made = house.circuit(ends["P"], "Bedroom")
        for number in range(1, boxes + 1):
            ends[str(number)] = house.box(room, label=f"R{number}", wall=1, at_in=24 * number, height_in=16)
            house.receptacle(ends[str(number)])
        for a, b in pairs:
            cable = house.cable(ends[a], ends[b if b != "-" else a], made)
            if b == "-":
                house.change(cable, b_box_id=None, b_panel_id=None)
        return Ref("circuit", made) if about == "circuit" else Ref("box", ends[about])

    return build


def feeder(*, drawn: bool) -> House:
    """The feeder of a second panel."""

    def build(house: HouseBuilder) -> Ref:
        main = house.panel()
        made = house.circuit(main, "Feeder", rating_a=60, poles=2, volts=240, purpose="feeder")
        sub = house.panel("Panel B", fed_by_circuit_id=made)
        if drawn:
            house.cable(main, sub, made, insulated=3)
        return Ref("circuit", made)

    return build


def parallel(house: HouseBuilder) -> Ref:
    """Two cables from a light to the box with its switch and a receptacle: one is the loop, the other the feed."""
    room = house.room("closet", length_in=144, width_in=48)
    panel = house.panel()
    made = house.circuit(panel, "Light")
    lamp = house.box(room, label="L1", surface="ceiling", x_in=70, y_in=24)
    load = house.luminaire(lamp)
    wall = house.box(room, label="S1", wall=1, at_in=12, height_in=48)
    house.switch(wall, load)
    house.receptacle(wall)
    house.home_run(made, lamp)
    house.cable(lamp, wall, made)
    house.cable(lamp, wall, made)
    return Ref("circuit", made)


def two_in_a_box(device_circuit: str) -> House:
    """A box that two circuits enter; its receptacle is on ``one`` of them, on a ``third`` circuit, or on ``none``."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        panel = house.panel()
        one, other, third = (house.circuit(panel, name) for name in ("One", "Other", "Third"))
        box = house.box(room, label="R1", wall=1, at_in=24, height_in=16)
        house.home_run(one, box)
        house.home_run(other, box)
        house.receptacle(box, circuit_id={"one": one, "third": third, "none": None}[device_circuit])
        return Ref("box", box)

    return build


def bare(house: HouseBuilder) -> Ref:
    """A box without cable."""
    room = house.room("bedroom", length_in=144, width_in=120)
    return Ref("box", house.box(room, wall=1, at_in=24))


def uncircuited(house: HouseBuilder) -> Ref:
    """A box whose cable is on no circuit."""
    room = house.room("bedroom", length_in=144, width_in=120)
    one, other = (house.box(room, label=f"R{n}", wall=1, at_in=24 * n) for n in (1, 2))
    house.cable(one, other)
    return Ref("box", one)


CASES = [
    Case(REACHED, "clear - from the panel to each box", run("P1", "12", "23"), "whole"),
    Case(REACHED, "clear - a branch", run("P1", "12", "13"), "whole"),
    Case(REACHED, "unseen - an end leads nowhere", run("P1", "12", "2-"), "not-entered"),
    Case(REACHED, "unseen - no home run", run("12", "23"), "not-entered"),
    Case(REACHED, "unseen - a cable hangs apart", run("P1", "23"), "not-entered"),
    Case(REACHED, "unseen - a ring", run("P1", "12", "23", "31"), "not-entered"),
    Case(REACHED, "clear - two cables side by side, each with its part", parallel, "ring-open"),
    Case(REACHED, "correction - a cable lands in another panel", run("P1", "12", "2Q"), "astray"),
    Case(REACHED, "correction - a cable begins and ends in one box", run("P1", "11"), "astray"),
    Case(REACHED, "unseen - nothing drawn", run(), "not-entered"),
    Case(REACHED, "clear - a feeder to its panel", feeder(drawn=True), "feeder"),
    Case(REACHED, "unseen - a feeder that nobody has drawn", feeder(drawn=False), "not-entered"),
    Case(BOX, "clear - fed", run("P1", "12", about="2"), "fed"),
    Case(BOX, "unseen - nothing joins its cables to the panel", run("P1", "23", about="3"), "not-reached"),
    Case(BOX, "unseen - no cable", bare, "no-cable"),
    Case(BOX, "unseen - its cable is on no circuit", uncircuited, "no-circuit"),
    Case(BOX, "clear - two circuits, and it is said which", two_in_a_box("one"), "fed"),
    Case(BOX, "unseen - two circuits, and nobody said which", two_in_a_box("none"), "which-circuit"),
    Case(BOX, "correction - recorded on a circuit that does not enter", two_in_a_box("third"), "other-circuit"),
]  # fmt: skip
