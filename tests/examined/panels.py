"""Boxes and panels."""

from __future__ import annotations

from itertools import count
from typing import Any

from seed_demo.building import HouseBuilder
from tests.examined.situation import Build, situation

PRACTICE_LEGS = "both poles on one leg give no 240 V (common practice)"


def box(volume: Any, *cables: str, devices: tuple[str, ...] = ("switch",), **more: Any) -> Build:
    """A box with devices and so many cables: the first from the panel, the others on to boxes of their own."""

    def build(house: HouseBuilder) -> None:
        place = house.room("closet", length_in=144, width_in=120)
        size = {} if "trade_size" in more else {"volume_in3": volume}
        made = house.box(place, wall=1, at_in=20, height_in=48, **size, **more)
        lamps = []
        circuit = house.circuit(
            house.panel(), "Lights", breaker="AFCI", conductor_awg=cables[0].split("-")[0]
        )
        ends = count()
        for number, cable in enumerate(cables):
            awg, insulated = cable.split("-")
            if number == 0:
                house.home_run(circuit, made, awg=awg, insulated=int(insulated))
                continue
            far = house.box(place, surface="ceiling", x_in=20 + 20 * next(ends), y_in=40, volume_in3=40)
            lamps.append(house.luminaire(far, lamp="LED", recessed=True))
            house.cable(made, far, circuit, awg=awg, insulated=int(insulated))
        for number, device in enumerate(devices):
            if device == "switch":
                house.switch(made, *lamps[number : number + 1])
            else:
                house.receptacle(made)

    return build


def panel(kind: str = "garage", *, stage_facts: dict[str, Any] | None = None, **more: Any) -> Build:
    def build(house: HouseBuilder) -> None:
        room = house.room(kind, length_in=240, width_in=240)
        given = {
            "space_depth_in": 36,
            "space_width_in": 30,
            "space_height_in": 78,
            "handle_height_in": 60,
            "neutral_bonded": True,
        }
        house.panel(room_id=room, **(given | more))

    return build


def subpanel(*, separate: bool = False, kind: str = "basement", feeder_a: int = 60, awg: str = "6", bus_a: int = 100, main_a: int | None = None,
             insulated: int = 3, has_ground: bool = True, **more: Any) -> Build:  # fmt: skip
    def build(house: HouseBuilder) -> None:
        main_room = house.room("garage", "Main garage", length_in=240, width_in=240)
        space = {"space_depth_in": 36, "space_width_in": 30, "space_height_in": 78, "handle_height_in": 60}
        main = house.panel(room_id=main_room, neutral_bonded=True, **space)
        room = house.room("accessory building" if separate else kind, "There", length_in=240, width_in=240)
        feeder = house.circuit(
            main, "Feeder", rating_a=feeder_a, conductor_awg=awg, poles=2, volts=240, purpose="feeder"
        )
        given = {"neutral_bonded": False, "ground_bar": True, "bus_a": bus_a, "main_a": main_a} | space | more
        sub = house.panel(
            "Panel B",
            is_service=False,
            room_id=room,
            fed_by_circuit_id=feeder,
            in_separate_building=separate,
            **given,
        )
        house.cable(
            main, sub, feeder, insulated=insulated, has_ground=has_ground, kind="uf-b" if separate else "nm-b"
        )

    return build


def crowded(spaces: tuple[tuple[int, ...], ...], have: int = 20) -> Build:
    def build(house: HouseBuilder) -> None:
        panel(spaces=have)(house)
        for number, taken in enumerate(spaces):
            house.circuit(
                "panel-1",
                f"Bedroom {number}",
                spaces=taken,
                poles=len(taken),
                volts=240 if len(taken) == 2 else 120,
            )

    return build


SITUATIONS = [
    situation("18 in3 hold two 14-2, a switch and internal clamps", box(18, "14-2", "14-2", clamps="internal"), clear=("box-fill",), source="314.16(B): 16 in3"),
    situation("18 in3 hold three 14-2, a switch and internal clamps", box(18, "14-2", "14-2", "14-2", clamps="internal"), "box-fill", source="314.16(B): 20 in3"),
    situation("16 in3 hold two 14-2, a switch and internal clamps", box(16, "14-2", "14-2", clamps="internal"), clear=("box-fill",), source="314.16(B): exactly 16 in3"),
    situation("18 in3 hold two 12-2, a switch and internal clamps", box(18, "12-2", "12-2", clamps="internal"), clear=("box-fill",), source="314.16(B): exactly 18 in3"),
    situation("18 in3 hold three 12-2 and a switch", box(18, "12-2", "12-2", "12-2"), "box-fill", source="314.16(B): 20 1/4 in3"),
    situation("A metal 3 x 2 x 3-1/2 device box holds two 14-2, a switch and clamps", box(None, "14-2", "14-2", trade_size="3 x 2 x 3-1/2 device", clamps="internal"), clear=("box-fill",), source="quizzes on the Code 26, question 4 (ecmweb.com)"),
    situation("A metal 3 x 2 x 1-1/2 device box holds two 14-2, a switch and clamps", box(None, "14-2", "14-2", trade_size="3 x 2 x 1-1/2 device", clamps="internal"), "box-fill", source="quizzes on the Code 26, question 4 (ecmweb.com)"),
    situation("Three gangs of 44 in3 hold four 14-2 and three switches", box(44, "14-2", "14-2", "14-2", "14-2", devices=("switch",) * 3, gangs=3, clamps="external"), clear=("box-fill",), source="314.16(B): 30 in3"),
    situation("Three gangs of 43 in3 hold seven 14-2 and three switches", box(43, *["14-2"] * 7, devices=("switch",) * 3, gangs=3, clamps="external"), "box-fill", since=2020, source="314.16(B): 42 in3 to 2017; 43 1/2 since 2020"),
    situation("A panel has 30 in of depth before it", panel(space_depth_in=30), "panel-working-space", source="110.26(A)"),
    situation("A panel has 28 in of width before it", panel(space_width_in=28), "panel-working-space", source="110.26(A)"),
    situation("A panel stands in a bathroom", panel("bathroom"), "panel-room", source="240.24(E)"),
    situation("A panel stands over the steps of a stair", panel("stair"), "panel-room", source="240.24(F)"),
    situation("A panel stands in a closet", panel("closet"), source="240.24(D): clothes closets", unsettled=("panel-room",)),
    situation("A breaker's handle is at 6 ft 8 in", panel(handle_height_in=80), "panel-handle-height", source="240.24(A)"),
    situation("A breaker's handle is at 6 ft 7 in", panel(handle_height_in=79), clear=("panel-handle-height",), source="240.24(A)"),
    situation("A service panel's neutral is not bonded", panel(neutral_bonded=False), "main-bonding-jumper", stage="service", source="250.24(B)"),
    situation("A subpanel's neutral is bonded to its cabinet", subpanel(neutral_bonded=True), "subpanel-neutral-apart", stage="service", source="250.24(A)(5)"),
    situation("A detached garage's panel is fed by three wires", subpanel(separate=True, insulated=3, has_ground=False), "feeder-four-wire", source="250.32(B)"),
    situation("A detached garage's panel is fed by four wires", subpanel(separate=True), clear=("feeder-four-wire",), source="250.32(B)"),
    situation("A subpanel with a bus of 100 A is fed at 125 A without a main", subpanel(feeder_a=125, awg="1/0", bus_a=100), "panel-protected", stage="service", source="408.36"),
    situation("A subpanel with a bus of 100 A is fed at 60 A", subpanel(), clear=("panel-protected",), stage="service", source="408.36"),
    situation("A subpanel's feeder of 8 AWG is on 60 A", subpanel(awg="8"), "conductor-overcurrent", source="40 A at 60 C"),
    situation("Two breakers fill the same space", crowded(((1,), (1,))), "breaker-spaces", stage="final"),
    situation("A breaker stands in space 22 of 20", crowded(((1,), (22,))), "breaker-spaces", stage="final"),
    situation("A 240 V breaker fills spaces 1 and 2, of one leg", crowded(((1, 2),)), "breaker-spaces", stage="final", source=PRACTICE_LEGS),
]  # fmt: skip
