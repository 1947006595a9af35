"""Cases for receptacles near equipment and appliances: 210.63, 210.50(C)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref
from tests.cases.case import Case, House, seen

SERVICE, REACH = "equipment-service-receptacle", "appliance-within-reach"
EM = "210.63, In Focus (Electrical Contractor)"
QW = "210.50(C) question (exam preparation)"


def placed(
    kind: str, receptacle_at: Any = None, *, size: int = 480, own: bool = False, spot: bool = True
) -> House:
    """Equipment 24 in wide, its left edge at 400 in along a long wall, and a receptacle along the same wall."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("mechanical room", length_in=size, width_in=96)
        place = {"wall": 1, "at_in": 412, "width_in": 24, "depth_in": 24, "out_in": 0} if spot else {}
        fixture = house.fixture(room, kind, **place)
        if receptacle_at is not None:
            box = house.box(room, wall=1, at_in=receptacle_at, height_in=18)
            house.receptacle(box, **({"fixture_id": fixture} if own else {}))
        return Ref("fixture", fixture)

    return build


def washer(at: Any, **more: Any) -> House:
    return placed("washer", at, own=True, **more)


CASES = [
    Case(SERVICE, "clear - exactly 25 ft", placed("furnace", 100), "near", source=EM),
    Case(SERVICE, "clear - just nearer", placed("furnace", "100 1/16"), "near", source=EM),
    Case(SERVICE, "correction - just farther", placed("furnace", "99 15/16"), "too-far", source=EM),
    Case(SERVICE, "correction - none where it stands", placed("air handler"), "none-here", source=EM),
    Case(SERVICE, "clear - a room smaller than that, wherever they stand", placed("boiler", 24, size=120, spot=False), "near"),
    Case(SERVICE, "unseen - a large place, and no place for the equipment", placed("heat pump", 24, spot=False), "not-measured"),
    Case(SERVICE, "clear - somebody measured", seen(placed("heat pump", 24, spot=False), SERVICE, Answer.RIGHT), "looked-right"),
    Case(SERVICE, "correction - somebody found none", seen(placed("heat pump", 24, spot=False), SERVICE, Answer.WRONG), "looked-wrong"),
    Case(SERVICE, "outside - a water heater", placed("water heater"), "other-kind"),
    Case(REACH, "clear - exactly 6 ft", washer(328), "near", source=QW),
    Case(REACH, "clear - just nearer", washer("328 1/16"), "near"),
    Case(REACH, "correction - just farther", washer("327 15/16"), "far", source=QW),
    Case(REACH, "unseen - the washer has no place", washer(328, spot=False), "not-placed"),
    Case(REACH, "outside - no receptacle is recorded for it", placed("washer"), "no-receptacle"),
]  # fmt: skip
