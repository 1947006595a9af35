"""Cases for tamper- and weather-resistant receptacles: 406.12 and 406.9."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref
from tests.cases.case import Case, House, seen
from tests.cases.published_rows import puzzle_cases

TR, WR = "tamper-resistant", "weather-resistant"


def receptacle(
    room: str = "bedroom",
    *,
    kind: DeviceKind = DeviceKind.RECEPTACLE,
    box: dict[str, Any] | None = None,
    **device: Any,
) -> House:
    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120)
        made = house.box(room_id, **({"wall": 1, "at_in": 36, "height_in": 16} | (box or {})))
        given = {"configuration": "5-15"} | device if kind is DeviceKind.RECEPTACLE else device
        return Ref("device", house.device(made, kind, **given))

    return build


def high(height: Any) -> House:
    return receptacle(box={"height_in": height}, tamper_resistant=False)


CASES = [
    Case(TR, "clear - recorded as tamper-resistant", receptacle(tamper_resistant=True), "has"),
    Case(TR, "correction - recorded as not", receptacle(tamper_resistant=False), "has-not"),
    Case(TR, "unseen - nobody looked", receptacle(), "not-looked"),
    Case(TR, "clear - somebody saw the marking", seen(receptacle(), TR, Answer.RIGHT), "looked-right"),
    Case(TR, "correction - somebody saw none", seen(receptacle(), TR, Answer.WRONG), "looked-wrong"),
    Case(TR, "clear - the room was looked over", seen(receptacle(), TR, Answer.RIGHT, in_room=True), "looked-right"),
    Case(TR, "correction - exactly 5 ft 6 in high", high(66), "has-not"),
    Case(TR, "correction - just lower", high("65 63/64"), "has-not"),
    Case(TR, "outside - just higher", high("66 1/64"), "not-needed"),
    Case(TR, "unseen - the height is not recorded", receptacle(box={"height_in": None}, tamper_resistant=False), "fact-missing"),
    Case(TR, "outside - a 30 A dryer receptacle", receptacle("laundry", configuration="14-30"), "not-needed"),
    Case(TR, "outside - a single receptacle behind the refrigerator", receptacle("kitchen", serves="refrigerator", dedicated=True, receptacles=1), "not-needed"),
    Case(TR, "outside - a switch", receptacle(kind=DeviceKind.SWITCH), "no-receptacle"),
    *puzzle_cases(TR, "tamper", tamper_resistant=False),
    *puzzle_cases(WR, "weather", weather_resistant=False),
    Case(WR, "clear - recorded as weather-resistant", receptacle("outdoors", weather_resistant=True), "has"),
    Case(WR, "correction - recorded as not", receptacle("outdoors", weather_resistant=False), "has-not"),
    Case(WR, "unseen - nobody looked", receptacle("outdoors"), "not-looked"),
    Case(WR, "clear - somebody saw the marking", seen(receptacle("outdoors"), WR, Answer.RIGHT), "looked-right"),
    Case(WR, "correction - somebody saw none", seen(receptacle("outdoors"), WR, Answer.WRONG), "looked-wrong"),
    Case(WR, "correction - a damp place indoors", receptacle("basement", box={"wetness": "damp"}, weather_resistant=False), "has-not"),
    Case(WR, "outside - a dry bedroom", receptacle(), "not-needed"),
    Case(WR, "unseen - a mudroom, damp or not", receptacle("mudroom"), "fact-missing"),
    Case(WR, "outside - a luminaire", receptacle("outdoors", kind=DeviceKind.LUMINAIRE), "no-receptacle"),
]  # fmt: skip
