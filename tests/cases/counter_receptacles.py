"""Cases for kitchen counters: 210.52(C). The reckoning itself is tested in tests/reckon."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref, parse_length
from tests.cases.case import Case, House, seen
from tests.cases.houses import a_room

SPACING, ISLAND = "counter-receptacle-spacing", "island-provision"
EM_PEN = "P027; peninsular counters, In Focus (Electrical Contractor)"
ECM_PEN = "P029; code quiz: peninsular countertops (EC&M)"
BCF_SINK = "P024; receptacle behind a sink (The Building Code Forum)"
ELR26 = "210.52(C) below the top, 2026 change (ElectricalLicenseRenewal.com)"
SINCE_2023 = (2023, 2026)


def counter(
    length: Any, *at: Any, kind: str = "wall", depth: Any = 25, above: Any = 4, sink: tuple[Any, Any, Any] | None = None,
    room: str = "kitchen", start: Any = 0, box: dict[str, Any] | None = None, about: str = "room",
) -> House:  # fmt: skip
    """One counter with receptacles at some places along it, so far above the top; ``sink`` from, to and behind."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=240, width_in=144)
        wall = 1 if kind == "wall" else None
        counter_id = house.counter(room_id, kind, length, depth, wall=wall, from_in=start)
        if sink:
            house.break_(counter_id, "sink", sink[0], sink[1], behind_in=sink[2])
        for place in at:
            where = {"wall": 1, "at_in": place} if kind == "wall" else {"at_in": place, "surface": "counter"}
            made = house.box(
                room_id,
                **(where | {"height_in": 36 + parse_length(above), "counter_id": counter_id} | (box or {})),
            )
            house.receptacle(made, configuration="5-20")
        return Ref("counter", counter_id) if about == "counter" else Ref("room", room_id)

    return build


def island(*at: Any, **more: Any) -> House:
    return counter("60", *at, kind="island", about="counter", **more)


CASES = [
    Case(SPACING, "clear - exactly 24 in from either end", counter(48, 24), "covered"),
    Case(SPACING, "clear - just under", counter("47 63/64", 24), "covered"),
    Case(SPACING, "correction - just over 24 in from one end", counter("48 1/64", 24), "uncovered"),
    Case(SPACING, "correction - exactly a foot of counter", counter(12), "uncovered"),
    Case(SPACING, "clear - just under a foot needs none", counter("11 63/64"), "covered"),
    Case(SPACING, "clear - exactly 20 in above the top", counter(48, 24, above=20), "covered"),
    Case(SPACING, "correction - just higher", counter(48, 24, above="20 1/64"), "uncovered"),
    Case(SPACING, "correction - behind an appliance garage's door", counter(48, 24, box={"inside_cabinet": True}), "uncovered"),
    Case(SPACING, "correction - a sink divides the counter", counter(96, 24, sink=(48, 81, 6)), "uncovered"),
    Case(SPACING, "clear - each side of the sink has its own", counter(96, 24, 88, sink=(48, 81, 6)), "covered"),
    Case(SPACING, "correction - a foot of counter behind the sink is counter", counter(96, 24, 88, sink=(48, 81, 12)), "uncovered", source=BCF_SINK),
    Case(SPACING, "correction - an island 5 ft by 2 ft without a receptacle", counter(60, kind="island", depth=24), "too-few", (2017, 2020), EM_PEN),
    Case(SPACING, "clear - one is enough in 2017, whatever its length", counter(60, 30, kind="island", depth=24), "covered", (2017,), EM_PEN),
    Case(SPACING, "correction - 10 sq ft need two in 2020", counter(60, 30, kind="island", depth=24), "too-few", (2020,), EM_PEN),
    Case(SPACING, "clear - exactly 9 sq ft need one in 2020", counter(54, 27, kind="island", depth=24), "covered", (2020,)),
    Case(SPACING, "clear - an island just under 24 in long needs none in 2017", counter("23 63/64", kind="island", depth=12), "covered", (2017,), ECM_PEN),
    Case(SPACING, "correction - exactly 24 by 12 in needs one in 2017", counter(24, kind="island", depth=12), "too-few", (2017,), ECM_PEN),
    Case(SPACING, "clear - none required since 2023", counter(60, kind="island", depth=24), "covered", SINCE_2023),
    Case(SPACING, "correction - within 24 in below the top in 2026", counter(60, 30, kind="island", box={"below_counter_in": 24}), "not-allowed", (2026,), ELR26),
    Case(SPACING, "clear - just lower than that", counter(60, 30, kind="island", box={"below_counter_in": "24 1/64"}), "covered", (2026,), ELR26),
    Case(SPACING, "unseen - a kitchen without counters", a_room("kitchen"), "no-counter"),
    Case(SPACING, "unseen - a counter without a start", counter(48, 24, start=None), "not-placed"),
    Case(SPACING, "unseen - a sink beyond the counter's end", counter(48, 24, sink=(40, 60, 6)), "layout"),
    Case(SPACING, "outside - a bathroom", counter(48, room="bathroom"), "other-room"),
    Case(SPACING, "outside - a dining room without a counter", a_room("dining room"), "other-room"),
    Case(ISLAND, "clear - a receptacle in the top", island(30), "has-receptacle", SINCE_2023),
    Case(ISLAND, "unseen - none, and nobody looked", island(), "not-looked", SINCE_2023),
    Case(ISLAND, "unseen - one below the top does not serve it", island(30, box={"below_counter_in": 6}), "not-looked", SINCE_2023),
    Case(ISLAND, "clear - somebody saw a provision", seen(island(), ISLAND, Answer.RIGHT), "looked-right", SINCE_2023),
    Case(ISLAND, "correction - somebody saw none", seen(island(), ISLAND, Answer.WRONG), "looked-wrong", SINCE_2023),
    Case(ISLAND, "outside - earlier editions ask for the receptacle itself", island(), "absent", (2017, 2020)),
    Case(ISLAND, "outside - a wall counter", counter(48, about="counter"), "wall-counter", SINCE_2023),
]  # fmt: skip
