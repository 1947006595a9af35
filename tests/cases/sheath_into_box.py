"""Cases for the sheath at the box. Figures: 314.17 as in server/editions/sheath.toml."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Clamps, Ref
from tests.cases.case import Case, House


def box_with(
    observed: Any = None, *, cable: dict[str, Any] | None = None, in_room: bool = False, **box: Any
) -> House:
    """A bedroom box with one cable; ``observed`` is a measure or an answer recorded for the box or its room."""
    rule = box.pop("rule", "sheath-into-box")

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        box_id = house.box(room, wall=1, at_in=36, height_in=15, **box)
        if cable is not None:
            circuit = house.circuit(house.panel(), "Bedroom")
            house.cable(house.facts().panels[0].id, box_id, circuit, **cable)
        if observed is not None:
            subject = ("room", room) if in_room else ("box", box_id)
            if isinstance(observed, Answer):
                house.observe(*subject, rule, observed)
            else:
                house.observe(*subject, rule, measure=observed)
        return Ref("box", box_id)

    return build


def held(observed: Any = None, **more: Any) -> House:
    return box_with(observed, rule="cable-held-at-box", **more)


NM: dict[str, Any] = {}
REACH, HELD = "sheath-into-box", "cable-held-at-box"

CASES = [
    Case(REACH, "clear - sheath is exactly the least inside", box_with("1/4", cable=NM), "reaches"),
    Case(REACH, "correction - sheath is just under the least", box_with("15/64", cable=NM), "short"),
    Case(REACH, "clear - sheath is just over the least", box_with("17/64", cable=NM), "reaches"),
    Case(REACH, "clear - the room's worst one was measured", box_with("3/8", cable=NM, in_room=True), "reaches"),
    Case(REACH, "clear - the reach is recorded on the cable", box_with(cable={"sheath_b_in": "1/2"}), "reaches"),
    Case(REACH, "correction - the cable's own reach is short", box_with(cable={"sheath_b_in": "1/8"}), "short"),
    Case(REACH, "correction - somebody saw too little", box_with(Answer.WRONG, cable=NM), "looked-wrong"),
    Case(REACH, "clear - somebody saw enough", box_with(Answer.RIGHT, cable=NM), "looked-right"),
    Case(REACH, "unseen - nobody measured", box_with(cable=NM), "not-measured"),
    Case(REACH, "unseen - no cable is recorded", box_with(), "no-cable"),
    Case(REACH, "outside - metal-clad cable has no such sheath", box_with(cable={"kind": "mc"}), "no-sheath"),
    Case(HELD, "clear - internal clamps hold", held(cable=NM, clamps=Clamps.INTERNAL), "clamped"),
    Case(HELD, "clear - fastened exactly within the distance", held(8, cable=NM), "near"),
    Case(HELD, "clear - fastened just nearer", held("7 63/64", cable=NM), "near"),
    Case(HELD, "correction - fastened just too far", held("8 1/64", cable=NM), "far"),
    Case(HELD, "correction - a two-gang box has no clamps", held(cable=NM, gangs=2), "needs-clamps"),
    Case(HELD, "correction - a metal box has no clamps", held(cable=NM, trade_size="3 x 2 x 2-1/2 device"), "needs-clamps"),
    Case(HELD, "correction - somebody saw a loose cable", held(Answer.WRONG, cable=NM), "looked-wrong"),
    Case(HELD, "clear - the room was looked over", held(Answer.RIGHT, cable=NM, in_room=True), "looked-right"),
    Case(HELD, "unseen - the distance is not recorded", held(cable=NM), "not-measured"),
    Case(HELD, "unseen - clamps are not recorded", held(cable=NM, clamps=None), "no-clamps-recorded"),
    Case(HELD, "unseen - no cable is recorded", held(), "no-cable"),
    Case(HELD, "outside - raceway", held(cable={"kind": "raceway"}), "no-sheath"),
]  # fmt: skip
