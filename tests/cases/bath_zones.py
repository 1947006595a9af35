"""Cases for what keeps away from tubs and showers: 410.10(D), 406.9(C), 680.73."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref
from tests.cases.case import Case, House, look_cases, measure_cases, seen
from tests.cases.houses import a_box, a_room

ZONE = "receptacle-in-tub-zone"
EM = "Receptacles in damp and wet locations, 2023 406.9 (Electrical Contractor)"
SINCE_2020 = (2020, 2023, 2026)


def bath(
    *,
    at_in: Any = 20,
    tub: dict[str, Any] | None = None,
    device: str = "receptacle",
    about: str = "box",
    tape: Any = None,
    kind: str = "bathtub",
    **box: Any,
) -> House:
    """A bathroom with a tub five feet long at the right end of wall 1, and a box along that wall."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bathroom", length_in=144, width_in=96)
        fixture = house.fixture(
            room,
            kind,
            **(
                {"wall": 1, "at_in": 114, "width_in": 60, "depth_in": 32, "out_in": 0} if tub is None else tub
            ),
        )
        made = house.box(room, **({"wall": 1, "at_in": at_in, "height_in": 44, "from_tub_in": tape} | box))
        house.device(made, device)  # type: ignore[arg-type]
        return {"box": Ref("box", made), "room": Ref("room", room), "fixture": Ref("fixture", fixture)}[about]

    return build


HANGING = bath(device="luminaire", about="room")
NOT_PLACED = bath(tub={})

# the tub begins at 84 in along the wall
CASES = [
    *measure_cases("hanging-over-tub", HANGING, "3'", least=True, source="Departments' lists, E4003.11", outside={"no tub": a_room("bathroom"), "nothing hangs": bath(about="room")}),
    Case(ZONE, "clear - exactly 3 ft from the tub", bath(at_in=48), "clear-of-it", source=EM),
    Case(ZONE, "clear - just farther", bath(at_in="47 15/16"), "clear-of-it", source=EM),
    Case(ZONE, "correction - just nearer", bath(at_in="48 1/16"), "in-zone", SINCE_2020, EM),
    Case(ZONE, "clear - nearer, before there was a zone", bath(at_in="48 1/16"), "clear-of-it", (2017,), EM),
    Case(ZONE, "correction - over the tub", bath(at_in=100), "over-tub", (2017,)),
    Case(ZONE, "correction - over the tub", bath(at_in=100), "in-zone", SINCE_2020),
    Case(ZONE, "correction - 35 in by the tape", bath(tape=35), "in-zone", SINCE_2020),
    Case(ZONE, "clear - 36 in by the tape", bath(tape=36), "clear-of-it"),
    Case(ZONE, "clear - above the zone", bath(at_in=100, height_in=97), "above"),
    Case(ZONE, "unseen - the tub has no place", NOT_PLACED, "not-placed"),
    Case(ZONE, "clear - somebody looked", seen(NOT_PLACED, ZONE, Answer.RIGHT), "looked-right"),
    Case(ZONE, "correction - somebody found it in the zone", seen(NOT_PLACED, ZONE, Answer.WRONG), "looked-wrong"),
    Case(ZONE, "outside - a switch", bath(device="switch"), "no-receptacle"),
    Case(ZONE, "outside - no tub in the room", lambda house: receptacle(house), "no-tub"),
    *look_cases("luminaire-in-shower", HANGING, outside={"no tub": a_room("bathroom"), "no luminaire": bath(about="room")}),
    *look_cases("hydromassage-access", bath(kind="hydromassage tub", about="fixture"), outside={"an ordinary tub": bath(about="fixture")}),
]  # fmt: skip


def receptacle(house: HouseBuilder) -> Ref:
    ref = a_box("bathroom")(house)
    house.receptacle(ref.id)
    return ref
