"""Cases for receptacles that places must have indoors: 210.52(D), (F), (G). The counting is tested in tests/reckon."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref
from tests.cases.case import Case, House, seen
from tests.cases.houses import a_room

BATH, LAUNDRY, GARAGE = "bathroom-receptacle", "laundry-receptacle", "garage-receptacle"
BASEMENT, SHED = "basement-receptacle", "accessory-building-receptacle"
ECM_81 = "Code Q&A 81, receptacle beside the basin (EC&M)"
LEV = "210.52(G), 2017 (Leviton Captain Code)"
XCE = "Security receptacles in basements and garages, 2023 (ExpertCE)"


def bath(
    *at: Any, tape: Any = None, basins: int = 1, placed: bool = True, kind: str = "bathroom", **box: Any
) -> House:
    """A bathroom whose basin is 20 by 16 in, its left edge at 60 in along wall 1; receptacles along that wall."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room(kind, length_in=240, width_in=96)
        for number in range(basins):
            place = (
                {"wall": 1, "at_in": 70 + 72 * number, "width_in": 20, "depth_in": 16, "out_in": 0}
                if placed
                else {}
            )
            house.fixture(room, "basin", **place)
        for each in at:
            where = {"wall": 1, "at_in": each, "height_in": 44, "from_sink_in": tape} | box
            house.receptacle(house.box(room, **where))
        return Ref("room", room)

    return build


def room(
    kind: str, receptacles: int = 1, *, height: Any = 18, space: dict[str, Any] | None = None, **device: Any
) -> House:
    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, length_in=240, width_in=240, **(space or {}))
        house.luminaire(house.box(room_id, surface="ceiling"))
        for number in range(receptacles):
            house.receptacle(house.box(room_id, wall=1, at_in=24 * (number + 1), height_in=height), **device)
        return Ref("room", room_id)

    return build


UNFINISHED: dict[str, Any] = {"finished": False}
CASES = [
    Case(BATH, "clear - exactly 3 ft from the edge of the basin", bath(24), "all", source=ECM_81),
    Case(BATH, "clear - just nearer", bath("24 1/16"), "all"),
    Case(BATH, "correction - just farther", bath("23 15/16"), "short"),
    Case(BATH, "clear - 36 in by the tape", bath(0, tape=36), "all"),
    Case(BATH, "correction - just over by the tape", bath(0, tape="36 1/64"), "short"),
    Case(BATH, "clear - one between two basins serves both", bath(106, basins=2), "all", source=ECM_81),
    Case(BATH, "correction - the second basin has none", bath(56, basins=2), "short"),
    Case(BATH, "correction - inside the medicine cabinet", bath(70, inside_cabinet=True), "short"),
    Case(BATH, "clear - on the vanity's side, exactly 12 in below the top", bath(70, below_counter_in=12), "all", source=ECM_81),
    Case(BATH, "correction - lower than that", bath(70, below_counter_in="12 1/64"), "short", source=ECM_81),
    Case(BATH, "correction - no receptacle", bath(), "short"),
    Case(BATH, "unseen - the basin has no place", bath(24, placed=False), "fact-missing"),
    Case(BATH, "unseen - no basin is recorded", a_room("bathroom"), "no-basin"),
    Case(BATH, "clear - a toilet room with a basin is a bathroom", bath(24, kind="toilet room"), "all"),
    Case(BATH, "outside - a toilet room without", a_room("toilet room"), "other-room"),
    Case(BATH, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(LAUNDRY, "clear - one", room("laundry"), "has"),
    Case(LAUNDRY, "correction - none", room("laundry", 0), "short"),
    Case(LAUNDRY, "correction - higher than 5 ft 6 in", room("laundry", height="66 1/64"), "short"),
    Case(LAUNDRY, "clear - exactly 5 ft 6 in", room("laundry", height=66), "has"),
    Case(LAUNDRY, "unseen - nothing recorded", a_room("laundry"), "fact-missing"),
    Case(LAUNDRY, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(GARAGE, "unseen - one, and the bays nobody looked at", room("garage"), "bays-not-looked", source=LEV),
    Case(GARAGE, "clear - somebody saw one in each bay", seen(room("garage"), GARAGE, Answer.RIGHT), "looked-right", source=LEV),
    Case(GARAGE, "correction - somebody saw a bay without", seen(room("garage"), GARAGE, Answer.WRONG), "looked-wrong"),
    Case(GARAGE, "correction - none", room("garage", 0), "short", source=LEV),
    Case(GARAGE, "correction - only the door opener's", room("garage", serves="garage door opener", dedicated=True), "short"),
    Case(GARAGE, "unseen - at exactly 5 ft 6 in it counts", room("garage", height=66), "bays-not-looked", source=LEV),
    Case(GARAGE, "correction - higher it does not", room("garage", height="66 1/64"), "short", source=LEV),
    Case(GARAGE, "correction - a security system's never counts", room("garage", serves="security panel"), "short", (2023, 2026), XCE),
    Case(GARAGE, "unseen - nothing recorded", a_room("garage"), "nothing-recorded"),
    Case(GARAGE, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(BASEMENT, "clear - one", room("basement", space=UNFINISHED), "has", source=XCE),
    Case(BASEMENT, "correction - none", room("basement", 0, space=UNFINISHED), "short", source=XCE),
    Case(BASEMENT, "correction - only the sump pump's", room("basement", space=UNFINISHED, serves="sump pump", dedicated=True), "short"),
    Case(BASEMENT, "outside - finished", room("basement"), "finished"),
    Case(BASEMENT, "unseen - finished or not", room("basement", space={"finished": None}), "finished-not-recorded"),
    Case(BASEMENT, "unseen - nothing recorded", a_room("basement", finished=False), "nothing-recorded"),
    Case(BASEMENT, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(SHED, "clear - one", room("accessory building"), "has", source=XCE),
    Case(SHED, "correction - a light only", room("accessory building", 0), "short", source=XCE),
    Case(SHED, "unseen - nothing recorded", a_room("accessory building"), "no-power"),
    Case(SHED, "outside - a garage", a_room("garage"), "other-room"),
]  # fmt: skip
