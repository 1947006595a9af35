"""Cases for where a panel stands: 110.26, 240.24."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref, WorkKind
from tests.cases.case import Case, House, look_cases, measure_cases

SPACE, ROOM, HANDLE = "panel-working-space", "panel-room", "panel-handle-height"
CTALK = "IRC E3405 quoted (ContractorTalk)"
FM = "110.26(A)(3) Ex. 1, existing dwellings (Mike Holt Forums)"
EM_CLO = "P090; panels in residential closets (Electrical Contractor)"
R67 = "P091; 240.24, the 6-7 rule (Mike Holt Forums)"


def panel(
    depth: Any = 36,
    width: Any = 30,
    height: Any = 78,
    *,
    kind: str | None = "garage",
    work: WorkKind = WorkKind.NEW,
    **more: Any,
) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        room = house.room(kind, length_in=240, width_in=240) if kind else None
        made = house.panel(
            room_id=room, space_depth_in=depth, space_width_in=width, space_height_in=height, **more
        )
        return Ref("panel", made)

    return build


CASES = [
    Case(SPACE, "clear - exactly 36 by 30 by 78 in", panel(), "enough", source=CTALK),
    Case(SPACE, "clear - just more", panel("36 1/64", "30 1/64", "78 1/64"), "enough"),
    Case(SPACE, "correction - just too shallow", panel("35 63/64"), "short", source=CTALK),
    Case(SPACE, "correction - just too narrow", panel(36, "29 63/64"), "short", source=CTALK),
    Case(SPACE, "correction - just too low", panel(36, 30, "77 63/64"), "short", source=CTALK),
    Case(SPACE, "clear - low, in an existing dwelling with 200 A", panel(36, 30, 72, work=WorkKind.EXTENSION, bus_a=200), "enough", source=FM),
    Case(SPACE, "correction - low, in an existing dwelling with more", panel(36, 30, 72, work=WorkKind.EXTENSION, bus_a=225), "short", source=FM),
    Case(SPACE, "clear - the door opens exactly 90 degrees", panel(door_swing_deg=90), "enough", source=CTALK),
    Case(SPACE, "correction - the door opens 89 degrees", panel(door_swing_deg=89), "short"),
    Case(SPACE, "unseen - depth not measured", panel(None), "not-measured"),
    Case(SPACE, "correction - too narrow, and depth not measured", panel(None, 24), "short"),
    Case(ROOM, "clear - a garage", panel(), "allowed"),
    Case(ROOM, "correction - a bathroom", panel(kind="bathroom"), "not-allowed", source="240.24 locations, Code Q&A (EC&M)"),
    Case(ROOM, "correction - over a stair", panel(kind="stair"), "not-allowed"),
    Case(ROOM, "inspector - a closet: a clothes closet may not", panel(kind="closet"), "closet", source=EM_CLO),
    Case(ROOM, "unseen - no room", panel(kind=None), "room-not-recorded"),
    *measure_cases(HANDLE, panel(), "6' 7", least=False, source=R67),
    Case(HANDLE, "clear - recorded exactly at the limit", panel(handle_height_in=79), "measured-enough", source=R67),
    Case(HANDLE, "correction - recorded just above it", panel(handle_height_in="79 1/64"), "measured-short", source=R67),
    *look_cases("panel-dedicated-space", panel()),
]  # fmt: skip
