"""Cases for switched receptacles and the room's light. Figures and readings: 210.70(A)(1), 210.52(B)(1)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, DeviceKind, Half, Ref
from tests.cases.case import Case, House

LIGHT, CIRCUIT = "room-lighting-outlet", "switched-receptacle-circuit"
EM_LITE3 = "210.70(A)(1) switched receptacles, In Focus part III (Electrical Contractor)"
FLASH = "Residential flashcards (FreezingBlue)"
EM_23 = "Accepting NEC change part 7, 2023 chapter 2 (Electrical Contractor)"


def lit(kind: str, by: str | None, *, switch: str = "controls", **room: Any) -> House:
    """A room lit ``by`` a luminaire, a whole or half switched receptacle, or nothing; the switch ``controls`` it, is
    there ``idle`` (nobody recorded what it does), or is ``missing``."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, length_in=144, width_in=120, **room)
        if by is None:
            return Ref("room", room_id)
        box = house.box(room_id, wall=1, at_in=36, height_in=16)
        if by == "luminaire":
            target = house.luminaire(box)
        elif by == "half":
            target = house.receptacle(box, switched_half=Half.TOP)
        elif by == "box":
            return Ref("room", room_id)
        else:
            target = house.receptacle(box)
        if switch != "missing":
            house.switch(
                house.box(room_id, wall=2, at_in=6, height_in=48), *([target] if switch == "controls" else [])
            )
        return Ref("room", room_id)

    return build


def dining(
    purpose: CircuitPurpose | None, *, kind: str = "dining room", switched: bool = True, device: str = ""
) -> House:
    """A receptacle in a dining room, switched or not, on a circuit of some purpose (None: on no circuit yet)."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room(kind, length_in=144, width_in=120)
        box = house.box(room, wall=1, at_in=36, height_in=16)
        made = house.device(box, DeviceKind.LUMINAIRE) if device else house.receptacle(box)
        if switched:
            house.switch(house.box(room, wall=2, at_in=6, height_in=48), made)
        if purpose is not None:
            house.home_run(house.circuit(house.panel(), "Dining", purpose=purpose), box)
        return Ref("device", made)

    return build


HABITABLE = ("kitchen", "dining room", "living room", "family room", "parlor", "library", "den", "office", "sunroom",
             "bedroom", "recreation room")  # fmt: skip
OLD, NEW = (2017, 2020), (2023, 2026)

CASES = [
    *(Case(LIGHT, f"clear - a switched light in a {kind}", lit(kind, "luminaire"), "light") for kind in HABITABLE),
    *(
        Case(LIGHT, f"clear - a switched receptacle stands for the light in a {kind}", lit(kind, "whole"), "receptacle",
             source=EM_LITE3)
        for kind in HABITABLE if kind != "kitchen"
    ),
    *(
        Case(LIGHT, f"correction - a switched receptacle in a {kind}", lit(kind, "whole"), "receptacle-not-here", source=FLASH)
        for kind in ("kitchen", "bathroom")
    ),
    Case(LIGHT, "clear - a half switched receptacle will do too", lit("bedroom", "half"), "receptacle", source=EM_LITE3),
    Case(LIGHT, "clear - a switched light in a bathroom", lit("bathroom", "luminaire"), "light"),
    Case(LIGHT, "outside - a laundry needed none before 2023", lit("laundry", "box"), "other-room", OLD, EM_23),
    Case(LIGHT, "correction - a laundry without a switched light", lit("laundry", "box"), "no-light", NEW, EM_23),
    Case(LIGHT, "correction - a switched receptacle in a laundry", lit("laundry", "whole"), "receptacle-not-here", NEW),
    Case(LIGHT, "clear - a switched light in a laundry", lit("laundry", "luminaire"), "light", NEW, EM_23),
    Case(LIGHT, "correction - a light without a switch", lit("den", "luminaire", switch="missing"), "no-switch"),
    Case(LIGHT, "correction - no light and no switched receptacle", lit("den", "whole", switch="missing"), "no-light"),
    Case(LIGHT, "unseen - what the switch controls is not recorded", lit("den", "luminaire", switch="idle"), "controls-not-recorded"),
    Case(LIGHT, "unseen - nothing is laid out yet", lit("bedroom", None), "nothing-recorded"),
    Case(LIGHT, "unseen - a basement, finished or not", lit("basement", "box", finished=None), "finished-not-recorded"),
    Case(LIGHT, "correction - a finished basement without a light", lit("basement", "box"), "no-light"),
    Case(LIGHT, "outside - an unfinished basement", lit("basement", "box", finished=False), "other-room"),
    Case(LIGHT, "inspector - a toilet room without a light", lit("toilet room", "box"), "unsettled"),
    Case(LIGHT, "clear - a toilet room with a switched light", lit("toilet room", "luminaire"), "light"),
    Case(LIGHT, "outside - a hallway has its own rule", lit("hallway", "luminaire"), "other-room"),
    Case(LIGHT, "outside - a garage has its own rule", lit("garage", "box"), "other-room"),
    Case(CIRCUIT, "correction - on a small-appliance circuit", dining(CircuitPurpose.SMALL_APPLIANCE), "small-appliance",
         source="P076; " + EM_LITE3),
    Case(CIRCUIT, "clear - on a general-purpose circuit", dining(CircuitPurpose.GENERAL), "general", source=EM_LITE3),
    Case(CIRCUIT, "correction - in a pantry", dining(CircuitPurpose.SMALL_APPLIANCE, kind="pantry"), "small-appliance"),
    Case(CIRCUIT, "unseen - on no recorded circuit", dining(None), "circuit-not-recorded"),
    Case(CIRCUIT, "outside - always live", dining(CircuitPurpose.SMALL_APPLIANCE, switched=False), "always-live"),
    Case(CIRCUIT, "outside - in a bedroom", dining(CircuitPurpose.GENERAL, kind="bedroom"), "other-room"),
    Case(CIRCUIT, "outside - a luminaire", dining(CircuitPurpose.GENERAL, device="luminaire"), "no-receptacle"),
]  # fmt: skip
