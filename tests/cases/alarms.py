"""Cases for smoke and carbon monoxide alarms: IRC R314, R315."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref
from tests.cases.case import Case, House, look_cases, measure_cases
from tests.cases.houses import a_room

BEDROOM, OUTSIDE, STOREY, CO, JOINED = (
    "smoke-alarm-in-bedroom", "smoke-alarm-outside-bedrooms", "smoke-alarm-on-storey", "co-alarms", "alarms-joined",
)  # fmt: skip
CLOVIS = "Smoke and CO alarms, 2019 CRC (City of Clovis)"
CAMDEN = "CO alarm ordinance (Camden County NC)"
SMOKE, BOTH, GAS = DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM, DeviceKind.CO_ALARM


def storey(
    *,
    bedroom: DeviceKind | None = SMOKE,
    hall: DeviceKind | None = SMOKE,
    kinds: tuple[str, str] = ("bedroom", "hallway"),
    boxes: bool = True,
    fuel: bool | None = False,
    garage: bool = False,
    about: str = "level",
) -> House:
    """A storey with a bedroom and a hall, an alarm in each or not; a furnace that burns fuel or not."""

    def build(house: HouseBuilder) -> Ref:
        level = house.level("First floor")
        rooms = [house.room(kind, length_in=120, width_in=96) for kind in kinds]
        for room, alarm in zip(rooms, (bedroom, hall), strict=True):
            if boxes:
                house.box(room, wall=1, at_in=36)
            if alarm is not None:
                house.device(house.box(room, surface="ceiling"), alarm)
        house.fixture(rooms[1], "furnace", fuel_burning=fuel)
        if garage:
            house.room("garage", length_in=240, width_in=240)
        return Ref("level", level) if about == "level" else Ref("room", rooms[0])

    return build


def joined(
    alarms: int = 3, *, insulated: int = 3, circuits: int = 1, fed: bool = True, chained: bool = True
) -> House:
    def build(house: HouseBuilder) -> Ref:
        panel = house.panel()
        boxes = []
        for _ in range(alarms):
            room = house.room("bedroom", length_in=120, width_in=96)
            boxes.append(house.box(room, surface="ceiling"))
            house.device(boxes[-1], SMOKE)
        ids = [house.circuit(panel, f"Alarms {n}") for n in range(circuits)]
        if fed and circuits > 1:
            for n, box in enumerate(boxes):
                house.home_run(ids[n % circuits], box)
        elif fed and boxes and chained:
            house.home_run(ids[0], *boxes, insulated=insulated)
        elif fed:
            for box in boxes:
                house.home_run(ids[0], box)
        return Ref("job", house.site.id)

    return build


def alarm_room(*, alarm: bool = True) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("hallway", length_in=120, width_in=42)
        box = house.box(room, surface="ceiling")
        if alarm:
            house.device(box, SMOKE)
        return Ref("room", room)

    return build


NONE = {"no alarm here": alarm_room(alarm=False)}
CASES = [
    Case(BEDROOM, "clear - a smoke alarm", storey(about="room"), "has-one", source=CLOVIS),
    Case(BEDROOM, "clear - a combined one", storey(bedroom=BOTH, about="room"), "has-one"),
    Case(BEDROOM, "correction - none", storey(bedroom=None, about="room"), "none", source=CLOVIS),
    Case(BEDROOM, "correction - a carbon monoxide alarm is none", storey(bedroom=GAS, about="room"), "none"),
    Case(BEDROOM, "unseen - nothing recorded", a_room("bedroom"), "nothing-recorded"),
    Case(BEDROOM, "outside - a den", a_room("den"), "other-room"),
    Case(OUTSIDE, "clear - one in the hall", storey(), "has-one", source=CLOVIS),
    Case(OUTSIDE, "correction - only in the bedroom", storey(hall=None), "none", source=CLOVIS),
    Case(OUTSIDE, "unseen - nothing recorded in the hall", storey(hall=None, boxes=False), "nothing-recorded"),
    Case(OUTSIDE, "outside - no bedroom on this storey", storey(kinds=("den", "hallway")), "no-bedroom"),
    Case(STOREY, "clear - one", storey(hall=None), "has-one", source=CLOVIS),
    Case(STOREY, "correction - none", storey(bedroom=None, hall=None, kinds=("den", "hallway")), "none", source=CLOVIS),
    Case(STOREY, "correction - a basement without one", storey(bedroom=None, hall=None, kinds=("basement", "utility room")), "none", source=CLOVIS),
    Case(STOREY, "unseen - nothing recorded", storey(bedroom=None, hall=None, boxes=False), "nothing-recorded"),
    Case(STOREY, "outside - only outdoors", storey(kinds=("outdoors", "deck")), "no-rooms"),
    Case(CO, "clear - a combined alarm in the hall", storey(hall=BOTH, fuel=True), "has-one", source=CAMDEN),
    Case(CO, "correction - a furnace burns fuel", storey(fuel=True), "none", source=CAMDEN),
    Case(CO, "correction - a garage", storey(garage=True), "none", source=CAMDEN),
    Case(CO, "outside - nothing burns", storey(), "no-source", source=CAMDEN),
    Case(CO, "unseen - fuel not recorded", storey(fuel=None), "fuel-not-recorded"),
    Case(CO, "outside - no bedroom", storey(kinds=("den", "hallway"), fuel=True), "no-bedroom"),
    Case(JOINED, "clear - three-wire cable", joined(), "joined", source=CLOVIS),
    Case(JOINED, "clear - one alarm", joined(1), "one"),
    Case(JOINED, "correction - two-wire cable", joined(insulated=2), "two-wire", source=CLOVIS),
    Case(JOINED, "correction - two circuits", joined(circuits=2), "several-circuits"),
    Case(JOINED, "unseen - no circuit", joined(fed=False), "not-recorded"),
    Case(JOINED, "unseen - no cable from alarm to alarm", joined(chained=False), "not-recorded"),
    Case(JOINED, "unseen - no alarm", joined(0), "no-alarm"),
    *measure_cases("alarm-from-bath", alarm_room(), "3'", least=True, source=CLOVIS, outside=NONE),
    *measure_cases("alarm-from-cooking", alarm_room(), "6'", least=True, source="2024 IRC smoke alarm changes (The Building Code Forum)", outside=NONE, years=(2017, 2020, 2023)),
    Case("alarm-from-cooking", "outside - taken out in 2024", alarm_room(), "no-limit", (2026,)),
    *look_cases("alarms-on-house-power", alarm_room(), outside=NONE),
]  # fmt: skip
