"""Cases for receptacles along walls and in hallways: 210.52(A), (H), (I). The reckoning itself is tested in tests/reckon."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Half, Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_room

WALLS, HALL = "wall-receptacle-spacing", "hallway-receptacle"
EM_LITE3 = "210.70(A)(1) switched receptacles, In Focus part III (Electrical Contractor)"
EM_HALL = "P016; 210.52(H) hallways, In Focus part X (Electrical Contractor)"
FM_WALL = "P006; wall between door and cabinet (Mike Holt Forums)"
ECM_DOOR = "P003; wall space behind a door, Code Q&A 93 (EC&M)"
ECM_FLOOR = "P013; 2011 changes p. 5, 210.52(A)(3) (EC&M)"


def along(
    length: Any, *at: Any, door: tuple[Any, Any] | None = None, kind: str = "bedroom", switch: str = "", height: Any = 16,
    light: bool = False, cabinet: tuple[Any, Any] | None = None, **box: Any,
) -> House:  # fmt: skip
    """A room of one straight wall with receptacles at some places along it; ``switch`` turns the last one whole or half."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room(kind, walls=False)
        house.wall(room, length)
        if door:
            house.opening(room, 1, "door", *door)
        if cabinet:
            house.opening(room, 1, "cabinet", *cabinet)
        last = ""
        for place in at:
            half = {"switched_half": Half.TOP} if switch == "half" and place == at[-1] else {}
            last = house.receptacle(
                house.box(room, **({"wall": 1, "at_in": place, "height_in": height} | box)), **half
            )
        if switch:
            house.switch(house.box(room, wall=1, at_in=1, height_in=48), last)
        if light:
            ceiling = house.box(room, surface="ceiling")
            house.switch(house.box(room, wall=1, at_in=2, height_in=48), house.luminaire(ceiling))
        return Ref("room", room)

    return build


def hall(length: Any, receptacles: int = 0, *, placed: bool = True, **room: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        room_id = house.room("hallway", **({"length_in": length, "width_in": 42} | room))
        for number in range(receptacles):
            place = {"wall": 1, "at_in": 24 + number} if placed else {}
            house.receptacle(house.box(room_id, height_in=16, **place))
        return Ref("room", room_id)

    return build


def foyer(area: Any, *at: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        ref = along("10'", *at, kind="foyer")(house)
        if area is not None:
            house.change(ref.id, floor_area_ft2=area)
        return ref

    return build


CASES = [
    Case(WALLS, "clear - exactly 6 ft from either end", along("12'", "6'"), "covered"),
    Case(WALLS, "clear - just under 6 ft", along("11' 11", "6'"), "covered"),
    Case(WALLS, "correction - just over 6 ft from one end", along("12' 1/64", "6'"), "uncovered"),
    Case(WALLS, "clear - two receptacles 12 ft apart", along("24'", "6'", "18'"), "covered"),
    Case(WALLS, "correction - two receptacles just over 12 ft apart", along("24'", "6'", "18' 1/64"), "uncovered"),
    Case(WALLS, "correction - a wall space of exactly 2 ft", along("5'", door=("2'", "5'")), "uncovered", source=FM_WALL),
    Case(WALLS, "correction - just over 2 ft", along("5'", door=("2' 1/64", "5'")), "uncovered"),
    Case(WALLS, "clear - just under 2 ft needs none", along("5'", door=("1' 11 63/64", "5'")), "none-needed"),
    Case(WALLS, "correction - the receptacle across the door does not serve", along("15'", "3'", door=("6'", "9'")), "uncovered"),
    Case(WALLS, "correction - the wall behind the door counts", along("9'", "1'", door=("3'", "6'")), "uncovered", source=ECM_DOOR),
    Case(WALLS, "clear - exactly 5 ft 6 in above the floor", along("12'", "6'", height=66), "covered"),
    Case(WALLS, "correction - just higher does not count", along("12'", "6'", height="66 1/64"), "uncovered"),
    Case(WALLS, "clear - in the floor exactly 18 in from the wall", along("12'", "6'", surface="floor", off_wall_in=18), "covered", source=ECM_FLOOR),
    Case(WALLS, "correction - 20 in from the wall", along("12'", "6'", surface="floor", off_wall_in=20), "uncovered", source=ECM_FLOOR),
    Case(WALLS, "correction - inside a cabinet", along("12'", "6'", inside_cabinet=True), "uncovered"),
    Case(WALLS, "correction - the only receptacle is switched whole for the light", along("12'", "6'", switch="whole"), "switched-only", source=EM_LITE3),
    Case(WALLS, "clear - half of it stays live", along("12'", "6'", switch="half"), "covered", source=EM_LITE3),
    Case(WALLS, "clear - switched whole beside a light of its own", along("12'", "6'", switch="whole", light=True), "covered", source=EM_LITE3),
    Case(WALLS, "correction - one switched for the light, and one too far for the rest", along("24'", "6'", "20'", switch="whole"), "uncovered"),
    Case(WALLS, "unseen - the walls are not recorded", a_room("bedroom", length_in=None), "no-walls"),
    Case(WALLS, "unseen - where the receptacle is nobody said", along("12'", "6'", wall=None, wall_id=None), "not-placed"),
    Case(WALLS, "unseen - a door beyond the end of its wall", along("5'", door=("3'", "8'")), "layout"),
    Case(WALLS, "outside - a bathroom", along("12'", kind="bathroom"), "other-room"),
    Case(WALLS, "outside - an unfinished basement", a_room("basement", finished=False), "other-room"),
    Case(WALLS, "correction - a finished basement is living space", a_room("basement", finished=True), "uncovered"),
    Case(WALLS, "clear - a foyer of exactly 60 sq ft", foyer(60), "none-needed"),
    Case(WALLS, "correction - a foyer just larger, with nothing in its wall", foyer("60.1"), "uncovered"),
    Case(WALLS, "clear - a large foyer with one in its wall, anywhere", foyer(80, "9'"), "covered"),
    Case(WALLS, "unseen - a foyer of unknown size", foyer(None), "area-not-recorded"),
    Case(HALL, "correction - exactly 10 ft without a receptacle", hall("10'"), "none", source=EM_HALL),
    Case(HALL, "correction - just over 10 ft", hall("10' 1/64"), "none"),
    Case(HALL, "clear - just under 10 ft needs none", hall("9' 11 63/64"), "short", source=EM_HALL),
    Case(HALL, "clear - one serves any length", hall("40'", 1), "has-one", source=EM_HALL),
    Case(HALL, "clear - one of which nobody said where", hall("12'", 1, placed=False), "has-one"),
    Case(HALL, "unseen - no walls", hall(None, width_in=None), "no-walls"),
    Case(HALL, "outside - a bedroom", a_room("bedroom"), "other-room"),
]  # fmt: skip
