"""Cases for box fill through the rule: 314.16. The counting itself is tested against published examples in tests/reckon."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Clamps, DeviceKind, Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_box, wired_box

FILL = "box-fill"
FM_EGC = "Box fill counting ground conductors, 2020 change (Mike Holt Forum): four grounds are one allowance, each more a quarter"


def cables(count: int, *, insulated: int = 2, awg: str | None = "14", device: str = "", **box: Any) -> House:
    """A box with some cables of one size; 14-2 with ground, no device and no clamps unless told otherwise."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        made = house.box(room, wall=1, at_in=36, **box)
        if device:
            house.device(made, device)  # type: ignore[arg-type]
        circuit = house.circuit(house.panel(), "Bedroom")
        for _ in range(count):
            house.cable(house.facts().panels[0].id, made, circuit, insulated=insulated, awg=awg)
        return Ref("box", made)

    return build


CASES = [
    # two 14-2 with a receptacle: 4 x 2.00, grounds 2.00, yoke 2 x 2.00 = 14.00 in3
    Case(FILL, "clear - exactly as large as needed", cables(2, device="receptacle", volume_in3=14), "fits"),
    Case(FILL, "clear - just larger", cables(2, device="receptacle", volume_in3="14.1"), "fits"),
    Case(FILL, "correction - just smaller", cables(2, device="receptacle", volume_in3="13.9"), "too-small"),
    Case(FILL, "correction - inside clamps tip it over", cables(2, device="receptacle", volume_in3=14, clamps=Clamps.INTERNAL), "too-small"),
    Case(FILL, "clear - connectors outside do not", cables(2, device="receptacle", volume_in3=14, clamps=Clamps.EXTERNAL), "fits"),
    Case(FILL, "unseen - the clamps decide and nobody said", cables(2, device="receptacle", volume_in3=14, clamps=None), "clamps-decide"),
    Case(FILL, "clear - clamps not recorded, and either way it fits", cables(2, device="receptacle", volume_in3=16, clamps=None), "fits"),
    # a metal device box 3 x 2 x 2-1/2 has 12.5 in3; with a ring marked 1.5 it has 14
    Case(FILL, "correction - a shallow metal device box", cables(2, device="receptacle", trade_size="3 x 2 x 2-1/2 device"), "too-small"),
    Case(FILL, "clear - its ring makes up for it", cables(2, device="receptacle", trade_size="3 x 2 x 2-1/2 device", ring_in3="1.5"), "fits"),
    # a two-gang plastic box counts its marked volume once, a ganged metal box its table volume twice
    Case(FILL, "clear - two metal sections ganged", cables(3, device="receptacle", trade_size="3 x 2 x 2-1/2 device", gangs=2), "fits"),
    # five 14-2: 10 x 2.00 + grounds. 2017: one allowance = 22.00; 2020 on: 1-1/4 = 22.50
    Case(FILL, "clear - five grounds are one allowance", cables(5, volume_in3=22), "fits", (2017,), FM_EGC),
    Case(FILL, "correction - the fifth ground counts a quarter", cables(5, volume_in3=22), "too-small", (2020, 2023, 2026), FM_EGC),
    Case(FILL, "clear - room for that quarter", cables(5, volume_in3="22.5"), "fits", (2020, 2023, 2026), FM_EGC),
    Case(FILL, "unseen - no cable is recorded", a_box(), "fact-missing"),
    Case(FILL, "unseen - a cable without size", cables(1, awg=None), "fact-missing"),
    Case(FILL, "unseen - a size that does not exist", cables(1, awg="13"), "no-such-wire"),
    Case(FILL, "unseen - no volume", wired_box(volume_in3=None), "fact-missing"),
    Case(FILL, "unseen - an odd trade size", wired_box(trade_size="7 x 7 x 1 square"), "no-such-box"),
    Case(FILL, "outside - conductors of 4 AWG", cables(1, awg="4"), "large-conductors"),
]  # fmt: skip


def two_sizes(volume: Any, *, named: bool = True) -> House:
    """Two 12-2 with a receptacle and two 14-2 with a switch: 9 + 8, a ground and clamps at 2 1/4, 4 1/2 and 4 in3."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("closet", length_in=144, width_in=120)
        made = house.box(room, wall=1, at_in=20, volume_in3=volume, gangs=2, clamps="internal")
        panel = house.panel()
        for awg, rating, device in (("12", 20, DeviceKind.RECEPTACLE), ("14", 15, DeviceKind.SWITCH)):
            circuit = house.circuit(panel, f"{awg} AWG", rating_a=rating, conductor_awg=awg)
            house.device(made, device, circuit_id=circuit if named else None)
            house.home_run(circuit, made, house.box(room, wall=2, at_in=int(awg)))
        return Ref("box", made)

    return build


CASES += [
    Case(FILL, "clear - a switch on 14 AWG beside a receptacle on 12 takes 14's share: exactly 30 in3", two_sizes(30), "fits"),
    Case(FILL, "correction - just under 30 in3", two_sizes("29.99"), "too-small"),
    Case(FILL, "correction - which circuit turns on which device nobody said: both count as 12 AWG", two_sizes(30, named=False), "too-small"),
]  # fmt: skip
