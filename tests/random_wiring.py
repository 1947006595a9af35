"""Houses wired at random: whole, half entered, circular, impossible, with facts that contradict each other.

A strategy of hypothesis, for everything that must answer any wiring with a sentence: rules, drawings, pages.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.dwelling import Breaker, CableKind, CircuitPurpose, DeviceKind, Half, SwitchWays

__all__ = ["grown_houses", "tangled_houses", "wired_houses"]

MOST_BOXES = 9
MOST_CIRCUITS = 3


def wired_houses() -> st.SearchStrategy[HouseBuilder]:
    """Houses that were wired with sense and then spoiled in a few places, and houses without any sense."""
    return st.one_of(grown_houses(), grown_houses(), tangled_houses())


@st.composite
def grown_houses(draw: st.DrawFn, *, prefix: str = "", most_faults: int = 2) -> HouseBuilder:
    """One or two circuits grown as trees from a panel, switches that turn loads of their circuit, and a few faults."""
    house = HouseBuilder(prefix=prefix)
    room = house.room(
        draw(st.sampled_from(["bedroom", "hallway", "closet", "basement"])), length_in=144, width_in=120
    )
    panel = house.panel()
    for number in range(draw(st.integers(1, 2))):
        circuit = house.circuit(panel, f"Circuit {number}")
        boxes = [
            house.box(room, label=f"B{number}{n}", clamps="none", volume_in3=20)
            for n in range(draw(st.integers(1, 6)))
        ]
        for place, box in enumerate(boxes):
            above = draw(st.sampled_from([panel, *boxes[:place]])) if place else panel
            house.cable(
                above,
                box,
                circuit,
                insulated=draw(st.sampled_from([2, 2, 3, 3, 4])),
                kind=draw(st.sampled_from(["nm-b", "nm-b", "mc", "raceway"])),
            )
        loads = [
            house.device(
                box,
                kind,
                **(
                    {"configuration": "5-15", "gfci": draw(st.integers(0, 4)) == 0}
                    if kind is DeviceKind.RECEPTACLE
                    else {}
                ),
            )
            for box in boxes
            for kind in draw(
                st.lists(
                    st.sampled_from(
                        [DeviceKind.LUMINAIRE, DeviceKind.RECEPTACLE, DeviceKind.FAN, DeviceKind.SMOKE_ALARM]
                    ),
                    max_size=1,
                )
            )
        ]
        groups = draw(st.lists(st.integers(1, 3), max_size=2)) if loads else []
        for size in groups:
            target = draw(st.sampled_from(loads))
            ways = {
                1: [SwitchWays.SINGLE_POLE],
                2: [SwitchWays.THREE_WAY] * 2,
                3: [SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY, SwitchWays.THREE_WAY],
            }
            for way in ways[size]:
                house.switch(draw(st.sampled_from(boxes)), target, ways=way)
        for cable in house.facts().cables:
            for device in house.facts().devices:
                if device.gfci and device.box_id == cable.a_box_id and draw(st.booleans()):
                    house.change(device.id, load_cable_ids=(cable.id,))
    for _ in range(draw(st.integers(0, most_faults))):
        _spoil(draw, house)
    return house


def _spoil(draw: st.DrawFn, house: HouseBuilder) -> None:
    """One fault somewhere."""
    facts = house.facts()
    cable = draw(st.sampled_from(facts.cables))
    match draw(st.integers(0, 6)):
        case 0:
            house.change(cable.id, b_box_id=None)
        case 1:
            house.cable(
                draw(st.sampled_from([box.id for box in facts.boxes])),
                draw(st.sampled_from([box.id for box in facts.boxes])),
                *cable.circuit_ids,
            )
        case 2:
            house.change(cable.id, insulated=draw(st.integers(1, 5)))
        case 3:
            house.change(
                cable.id,
                circuit_ids=draw(st.sampled_from([(), (facts.circuits[0].id,), (facts.circuits[-1].id,)])),
            )
        case 4 if facts.devices:
            device = draw(st.sampled_from(facts.devices))
            house.change(
                device.id,
                ways=draw(st.sampled_from([*SwitchWays, None])) if device.kind is DeviceKind.SWITCH else None,
            )
        case 5 if facts.devices:
            switch = draw(st.sampled_from(facts.devices))
            if switch.kind is DeviceKind.SWITCH:
                targets = [device.id for device in facts.devices]
                house.change(
                    switch.id,
                    controls=tuple(draw(st.lists(st.sampled_from(targets), max_size=3, unique=True))),
                )
        case _:
            house.remove(cable.id) if len(facts.cables) > 1 else None


@st.composite
def tangled_houses(draw: st.DrawFn, *, most_cables: int = 14, prefix: str = "") -> HouseBuilder:
    """A house of one or two rooms with boxes, devices, circuits and cables; ends, circuits and targets at random."""
    house = HouseBuilder(prefix=prefix)
    rooms = [
        house.room(kind, f"{kind.capitalize()} {n}", length_in=144, width_in=120, finished=draw(st.sampled_from([True, False, None])))
        for n, kind in enumerate(draw(st.lists(st.sampled_from(["bedroom", "hallway", "stair", "closet", "kitchen"]), min_size=1, max_size=2)))
    ]  # fmt: skip
    panels = [house.panel(f"Panel {letter}") for letter in "AB"[: draw(st.integers(1, 2))]]
    circuits = [
        _circuit(draw, house, draw(st.sampled_from(panels)), n)
        for n in range(draw(st.integers(1, MOST_CIRCUITS)))
    ]
    for circuit in circuits:
        if draw(st.integers(0, 3)) == 0:
            house.change(circuit, multiwire_with=draw(st.sampled_from(circuits)))
    labels = st.sampled_from(["", "S1", "S1", "L1", "(2)", "R\x007", "a" * 40])
    boxes = [
        house.box(draw(st.sampled_from(rooms)), label=draw(labels), surface=draw(st.sampled_from(["wall", "ceiling"])),
                  clamps="none", volume_in3=20)
        for _ in range(draw(st.integers(1, MOST_BOXES)))
    ]  # fmt: skip
    devices = [_device(draw, house, box, circuits) for box in boxes for _ in range(draw(st.integers(0, 2)))]
    cables = [_cable(draw, house, boxes, panels, circuits) for _ in range(draw(st.integers(0, most_cables)))]
    for device in devices:
        fact = house.dwelling().devices[device]
        if fact.kind is DeviceKind.SWITCH and devices:
            house.change(
                device, controls=tuple(draw(st.lists(st.sampled_from(devices), max_size=3, unique=True)))
            )
        if cables and (fact.gfci or fact.afci):
            house.change(
                device, load_cable_ids=tuple(draw(st.lists(st.sampled_from(cables), max_size=2, unique=True)))
            )
    return house


def _circuit(draw: st.DrawFn, house: HouseBuilder, panel: str, number: int) -> str:
    poles = draw(st.sampled_from([1, 1, 1, 2]))
    return house.circuit(
        panel, f"Circuit {number}", poles=poles, volts=240 if poles == 2 else 120, rating_a=draw(st.sampled_from([15, 20, None])),
        breaker=draw(st.sampled_from([*Breaker, None])), purpose=draw(st.sampled_from([*CircuitPurpose, *[CircuitPurpose.GENERAL] * 6])),
    )  # fmt: skip


def _device(draw: st.DrawFn, house: HouseBuilder, box: str, circuits: list[str]) -> str:
    kind = draw(
        st.sampled_from(
            [DeviceKind.SWITCH, DeviceKind.SWITCH, DeviceKind.LUMINAIRE, DeviceKind.RECEPTACLE, *DeviceKind]
        )
    )
    more: dict[str, Any] = {"circuit_id": draw(st.sampled_from([None, None, None, *circuits]))}
    if kind is DeviceKind.SWITCH:
        more |= {"ways": draw(st.sampled_from([*SwitchWays, None])), "dimmer": draw(st.booleans())}
    if kind in (DeviceKind.RECEPTACLE, DeviceKind.PROTECTOR):
        more |= {"gfci": draw(st.booleans()), "afci": draw(st.integers(0, 5)) == 0}
    if kind is DeviceKind.RECEPTACLE:
        more |= {
            "configuration": draw(st.sampled_from(["5-15", "5-20", "14-50", "6-20", None])), "receptacles": draw(st.sampled_from([1, 2])),
            "switched_half": draw(st.sampled_from([None, None, *Half])), "second_circuit_id": draw(st.sampled_from([None, None, None, *circuits])),
        }  # fmt: skip
    return house.device(box, kind, **more)


def _cable(
    draw: st.DrawFn, house: HouseBuilder, boxes: list[str], panels: list[str], circuits: list[str]
) -> str:
    places = st.sampled_from([*boxes, *boxes, *panels])
    cable = house.cable(
        draw(places), draw(places), *draw(st.lists(st.sampled_from(circuits), max_size=2, unique=True)),
        insulated=draw(st.sampled_from([1, 2, 2, 2, 3, 3, 4, 5])), kind=draw(st.sampled_from([CableKind.NM_B] * 4 + list(CableKind))),
        has_ground=draw(st.booleans()),
    )  # fmt: skip
    if draw(st.integers(0, 7)) == 0:
        house.change(cable, b_box_id=None, b_panel_id=None)
    if draw(st.integers(0, 15)) == 0:
        house.change(cable, a_box_id="gone", a_panel_id=None)
    return cable
