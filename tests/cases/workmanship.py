"""Cases for neatness: 110.12, and our own figures."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House, look_cases, measure_cases
from tests.cases.houses import a_box, a_room, wired_box, wired_room

HEIGHT = "box-height-like-others"
OWN = "our own standard, editions/workmanship.toml"


def heights(*others: Any, own: Any, device: str = "receptacle", room: str = "bedroom", **box: Any) -> House:
    """A box among others of its kind; the first one built is the subject."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120)
        made = []
        for number, height in enumerate((own, *others)):
            given = {"wall": 1, "at_in": 12 * (number + 1), "height_in": height} | (
                box if number == 0 else {}
            )
            made.append(house.box(room_id, **given))
            house.device(made[-1], device)  # type: ignore[arg-type]
        return Ref("box", made[0])

    return build


def panel(house: HouseBuilder) -> Ref:
    return Ref("panel", house.panel())


NO_BOX, NO_CABLE = {"no box here": a_room()}, {"no cable here": a_room()}
CASES = [
    *look_cases("neat-and-workmanlike", wired_room(), outside=NO_BOX),
    *look_cases("cables-square", wired_room(), outside=NO_CABLE),
    *look_cases("cables-in-order", wired_room(), outside=NO_CABLE),
    *measure_cases("boxes-plumb", wired_room(), "1/16", least=False, source=OWN, outside=NO_BOX),
    *look_cases("protected-from-finish", wired_room(), outside=NO_BOX),
    *look_cases("slack-kept", wired_box(), unknown={"no cable": a_box()}),
    *look_cases("swept-out", wired_room(), outside=NO_BOX),
    *look_cases("cables-labeled", panel),
    Case(HEIGHT, "clear - at the height of the others", heights(16, 16, own=16), "same"),
    Case(HEIGHT, "clear - exactly a quarter inch off", heights(16, 16, own="16 1/4"), "same", source=OWN),
    Case(HEIGHT, "clear - just under", heights(16, 16, own="16 15/64"), "same"),
    Case(HEIGHT, "correction - just over", heights(16, 16, own="16 17/64"), "differs", source=OWN),
    Case(HEIGHT, "correction - lower than the others", heights(16, 16, own=15), "differs"),
    Case(HEIGHT, "correction - a switch", heights(48, 48, own=47, device="switch"), "differs"),
    Case(HEIGHT, "unseen - its height is not recorded", heights(16, 16, own=None), "not-recorded"),
    Case(HEIGHT, "outside - a high receptacle follows what it serves", heights(16, 16, own=60), "other-kind"),
    Case(HEIGHT, "outside - a kitchen", heights(16, own=20, room="kitchen"), "other-kind"),
    Case(HEIGHT, "outside - a ceiling box", heights(16, own=16, surface="ceiling"), "other-kind"),
]  # fmt: skip
