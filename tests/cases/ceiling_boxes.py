"""Cases for what hangs on a box: 314.27."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref
from tests.cases.case import Case, House, seen
from tests.cases.houses import a_box

LIGHT, FAN, READY = "luminaire-box", "fan-box", "ceiling-box-for-fan"
ECM = "A weighty issue, 2017 314.27(A)(2) (EC&M)"
FM_23 = "314.27, quoting 2023 314.27(C) (Mike Holt Forum)"
BED_20 = "2020 Code: ceiling fans in bedrooms (Mike Holt Forum, thread 2569630)"
SINCE_2020 = (2020, 2023, 2026)


def hung(
    kind: DeviceKind | None,
    weight_lb: Any = None,
    *,
    room: str = "bedroom",
    device: dict[str, Any] | None = None,
    **box: Any,
) -> House:
    """A ceiling box with a luminaire or a fan of some weight."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120)
        made = house.box(room_id, **({"surface": "ceiling"} | box))
        if kind is not None:
            house.device(made, kind, weight_lb=weight_lb, **(device or {}))
        return Ref("box", made)

    return build


def light(weight_lb: Any = None, **more: Any) -> House:
    return hung(DeviceKind.LUMINAIRE, weight_lb, **more)


def fan(weight_lb: Any = None, **more: Any) -> House:
    return hung(DeviceKind.FAN, weight_lb, **more)


CASES = [
    Case(LIGHT, "clear - exactly 50 lb", light(50), "holds", source=ECM),
    Case(LIGHT, "clear - just under 50 lb", light("49.9"), "holds", source=ECM),
    Case(LIGHT, "correction - just over 50 lb", light("50.1"), "too-heavy", source=ECM),
    Case(LIGHT, "clear - heavier, on a box marked for it", light(80, rated_lb=80), "holds", source=ECM),
    Case(LIGHT, "correction - heavier than the marking", light("80.5", rated_lb=80), "too-heavy"),
    Case(LIGHT, "unseen - weight not recorded", light(), "weight-not-recorded"),
    Case(LIGHT, "clear - somebody looked at what will hang here", seen(light(), LIGHT, Answer.RIGHT), "looked-right"),
    Case(LIGHT, "correction - somebody saw a chandelier", seen(light(), LIGHT, Answer.WRONG), "looked-wrong"),
    Case(LIGHT, "outside - nothing hangs here", a_box(), "no-luminaire"),
    Case(LIGHT, "outside - a recessed light", light(5, device={"recessed": True}), "recessed"),
    Case(FAN, "clear - a fan of exactly 35 lb on a fan box", fan(35, fan_rated=True), "fan-rated", source=FM_23),
    Case(FAN, "correction - just over 35 lb and no marking", fan("35.1", fan_rated=True), "marking-missing", source=FM_23),
    Case(FAN, "clear - just over 35 lb, marked for 50", fan("35.1", fan_rated=True, rated_lb=50), "fan-rated", source=FM_23),
    Case(FAN, "correction - heavier than the marking", fan(51, fan_rated=True, rated_lb=50), "over-marking"),
    Case(FAN, "clear - exactly 70 lb, marked for it", fan(70, fan_rated=True, rated_lb=70), "fan-rated", source=FM_23),
    Case(FAN, "correction - just over 70 lb", fan("70.1", fan_rated=True, rated_lb=80), "over-all", source=FM_23),
    Case(FAN, "correction - an ordinary box", fan(20, fan_rated=False), "not-rated"),
    Case(FAN, "unseen - rating not recorded", fan(20), "rating-not-recorded"),
    Case(FAN, "unseen - weight not recorded", fan(None, fan_rated=True), "weight-not-recorded"),
    Case(FAN, "clear - somebody read both labels", seen(fan(None, fan_rated=True), FAN, Answer.RIGHT), "looked-right"),
    Case(FAN, "correction - the box is marked for less", seen(fan(None, fan_rated=True), FAN, Answer.WRONG), "looked-wrong"),
    Case(FAN, "outside - a light", light(5), "no-fan"),
    Case(READY, "outside - no such rule in 2017", light(5, fan_rated=False), "absent", (2017,), BED_20),
    Case(READY, "clear - a fan box", light(5, fan_rated=True), "fan-rated", SINCE_2020, BED_20),
    Case(READY, "unseen - an ordinary box, nobody looked behind it", light(5, fan_rated=False), "not-looked", SINCE_2020),
    Case(READY, "unseen - rating not recorded", light(5), "not-recorded", SINCE_2020),
    Case(READY, "clear - somebody saw the framing", seen(light(5, fan_rated=False), READY, Answer.RIGHT), "looked-right", SINCE_2020, BED_20),
    Case(READY, "correction - nothing behind the box", seen(light(5, fan_rated=False), READY, Answer.WRONG), "looked-wrong", SINCE_2020, BED_20),
    Case(READY, "outside - a hallway", light(5, room="hallway", fan_rated=False), "not-here", SINCE_2020),
    Case(READY, "outside - a wall box", light(5, fan_rated=False, surface="wall", wall=1), "not-here", SINCE_2020),
    Case(READY, "outside - a fan is there", fan(20, fan_rated=True), "has-fan", SINCE_2020),
    Case(READY, "outside - a recessed light", light(5, device={"recessed": True}, fan_rated=False), "no-light", SINCE_2020),
    Case(READY, "outside - a smoke alarm's box", hung(DeviceKind.SMOKE_ALARM, fan_rated=False), "no-light", SINCE_2020),
]  # fmt: skip
