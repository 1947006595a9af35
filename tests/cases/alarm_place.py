"""Cases for where alarms hang and what feeds them: IRC R314."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref
from tests.cases.case import House
from tests.cases.docks import a_room
from tests.cases.whole_jobs import SIZE, a_job, looks


def room_with(kind: DeviceKind, room: str = "bedroom") -> House:
    """A room with one device in its ceiling."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, **SIZE)
        house.device(house.box(room_id, surface="ceiling", x_in=60, y_in=60), kind)
        return Ref("room", room_id)

    return build


CASES = [
    *looks(room_with(DeviceKind.SMOKE_ALARM), "alarm-place", outside={"no alarm": a_room("bedroom")}),
    *looks(a_job(), "alarm-circuit"),
    *looks(a_room("garage"), "garage-heat-alarm", outside={"a bedroom": a_room("bedroom")}),
]
