"""Cases for the light of passages, entrances, stairs and storage spaces: 210.70(A)(2), (C)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref
from tests.cases.case import Case, House, look_cases, seen
from tests.cases.houses import a_room

ELR_DIM = (
    "210.70(A)(2)(4) new in 2017 (electricallicenserenewal.com, section 242; thomasdomitrovich.com/210-70)"
)
PASSAGE, ENTRANCE, STAIR, DIM, STORAGE = (
    "passage-light",
    "entrance-light",
    "stair-switches",
    "stair-dimming",
    "storage-light",
)
LITE7 = "P079; 210.70(A)(2) stairway switches, In Focus part VII (Electrical Contractor)"
QUIZ = "P080; Test your code IQ, December 2025 (EC&M)"
LITE8 = "210.70 storage spaces, In Focus part VIII (Electrical Contractor)"
HTWH = "Hall, stair and garage lighting (How to Wire a House)"


def lit(kind: str, *, switch: str = "one", receptacle: bool = False, door: str = "", **room: Any) -> House:
    """A place with a light: turned by ``one`` switch or ``two`` (or by one of which nobody said: ``idle``), or ``bare``."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, **({"length_in": 144, "width_in": 42} | room))
        if door:
            house.opening(room_id, 1, door, 24, 60)
        box = house.box(room_id, surface="wall" if receptacle else "ceiling")
        target = house.receptacle(box) if receptacle else house.luminaire(box)
        controls = {"one": [target], "two": [target], "idle": []}.get(switch)
        if controls is not None:
            house.switch(house.box(room_id, wall=1, at_in=6, height_in=48), *controls)
        if switch == "two":
            house.switch(house.box(room_id, wall=3, at_in=6, height_in=48), *controls or [])
        return Ref("room", room_id)

    return build


def stair(risers: int | None, switch: str = "one", dimmers: tuple[bool, ...] = ()) -> House:
    def build(house: HouseBuilder) -> Ref:
        ref = lit("stair", switch=switch, risers=risers)(house)
        switches = [device for device in house.facts().devices if device.kind == "switch"]
        for device, dimmer in zip(switches, dimmers, strict=False):
            house.change(device.id, dimmer=dimmer)
        return ref

    return build


def equipment(kind: str, **more: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        ref = lit(kind, **({"switch": "bare", "receptacle": True} | more))(house)
        house.fixture(ref.id, "air handler")
        return ref

    return build


SINCE_2023 = (2023, 2026)
CASES = [
    *(Case(PASSAGE, f"clear - a switched light in a {kind}", lit(kind), "light", source=HTWH) for kind in ("hallway", "foyer", "stair", "garage")),
    Case(PASSAGE, "correction - a hallway light without a switch", lit("hallway", switch="bare"), "no-switch"),
    Case(PASSAGE, "correction - a switched receptacle will not do", lit("hallway", receptacle=True), "no-light", source=HTWH),
    Case(PASSAGE, "unseen - what the switch turns is not recorded", lit("garage", switch="idle"), "controls-not-recorded"),
    Case(PASSAGE, "unseen - nothing recorded", a_room("hallway"), "nothing-recorded"),
    Case(PASSAGE, "outside - a bedroom", lit("bedroom"), "other-room"),
    Case(ENTRANCE, "clear - a switched light outside", lit("outdoors", door="door"), "light"),
    Case(ENTRANCE, "correction - a light without a switch", lit("outdoors", door="door", switch="bare"), "no-switch"),
    Case(ENTRANCE, "correction - a receptacle at the sliding door", lit("deck", door="sliding door", switch="bare", receptacle=True), "no-light"),
    Case(ENTRANCE, "outside - only a window looks out", lit("outdoors", door="window", switch="bare"), "no-entrance"),
    Case(ENTRANCE, "unseen - doors are not recorded", lit("outdoors", switch="bare"), "door-not-recorded"),
    Case(ENTRANCE, "outside - a hallway", lit("hallway"), "other-room"),
    Case(STAIR, "clear - exactly six risers, two switches", stair(6, "two"), "both-ends", source=QUIZ),
    Case(STAIR, "correction - exactly six risers, one switch", stair(6), "one-end", source=QUIZ),
    Case(STAIR, "correction - fourteen risers, one switch", stair(14), "one-end"),
    Case(STAIR, "clear - five risers, one switch", stair(5), "few-risers", source=LITE7),
    Case(STAIR, "unseen - risers not recorded", stair(None), "risers-not-recorded"),
    Case(STAIR, "unseen - no light yet", stair(14, "bare"), "no-light"),
    Case(STAIR, "outside - a hallway", lit("hallway"), "other-room"),
    *look_cases("stair-light-reaches", lit("stair"), outside={"a hallway": lit("hallway")}),
    Case(DIM, "clear - no dimmer", stair(14, "two"), "plain", source=ELR_DIM),
    Case(DIM, "clear - dimmers at both ends", stair(14, "two", (True, True)), "all-dim", source=ELR_DIM),
    Case(DIM, "correction - a dimmer at one end", stair(14, "two", (True, False)), "some-dim", source=ELR_DIM),
    Case(DIM, "unseen - no light yet", stair(14, "bare"), "no-light", source=ELR_DIM),
    Case(DIM, "outside - a hallway", lit("hallway"), "other-room", source=ELR_DIM),
    Case(STORAGE, "clear - a wall switch", lit("attic"), "light", source=LITE8),
    Case(STORAGE, "correction - equipment, and only a receptacle", equipment("attic"), "no-light", source=LITE8),
    Case(STORAGE, "correction - a switched receptacle will not do", equipment("attic", switch="one"), "no-light", source=LITE8),
    Case(STORAGE, "correction - a basement without a light", lit("basement", switch="bare", receptacle=True), "no-light"),
    Case(STORAGE, "unseen - an attic: for storage or not", lit("attic", switch="bare", receptacle=True), "use-not-recorded"),
    Case(STORAGE, "unseen - a light, with a switch of its own or not", lit("crawl space", switch="bare"), "own-switch-not-looked"),
    Case(STORAGE, "clear - somebody saw its own switch", seen(lit("crawl space", switch="bare"), STORAGE, Answer.RIGHT), "own-switch"),
    Case(STORAGE, "correction - somebody saw none", seen(lit("crawl space", switch="bare"), STORAGE, Answer.WRONG), "looked-wrong"),
    Case(STORAGE, "unseen - nothing recorded", a_room("mechanical room"), "nothing-recorded"),
    Case(STORAGE, "outside - a bedroom", lit("bedroom"), "other-room"),
]  # fmt: skip
