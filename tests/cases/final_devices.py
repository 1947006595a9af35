"""Cases for devices and plates as they are finished: 404, 406, 314.25."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref, WorkKind
from tests.cases.houses import a_room, wired_box, wired_room
from tests.cases.whole_jobs import a_job, device_on, looks

ROOM, EMPTY = wired_room(), {"no box in the room": a_room()}
SWITCH = wired_room(device="switch")


def dimmer(house: HouseBuilder) -> Ref:
    """A room whose switch is a dimmer."""
    room = SWITCH(house)
    house.change(house.facts().devices[0].id, dimmer=True)
    return room


OUTDOORS = wired_box("outdoors")

CASES = [
    *looks(
        ROOM, "plates-on", "plate-suits-box", "metal-plates-grounded", "devices-flush", "devices-tight", "devices-clean",
        "outlets-blanked", "plates-straight", "insulation-round-wires", outside=EMPTY,
    ),
    *looks(ROOM, "receptacle-polarity", "receptacles-grounded", outside=EMPTY | {"switches only": SWITCH}),
    *looks(dimmer, "dimmers-suit", outside={"plain switches": SWITCH}),
    *looks(SWITCH, "switches-right-way", outside=EMPTY | {"receptacles only": ROOM}),
    *looks(device_on(DeviceKind.RECEPTACLE, gfci=True), "gfci-tested", outside={"a plain one": device_on(DeviceKind.RECEPTACLE)}),
    *looks(wired_room("kitchen"), "gfci-covers-all", outside={"a bedroom": ROOM, "an empty kitchen": a_room("kitchen")}),
    *looks(OUTDOORS, "in-use-cover", outside={"indoors": wired_box(), "a switch": wired_box("outdoors", device="switch")}),
    *looks(wired_box(surface="floor"), "floor-receptacle-cover", outside={"a wall box": wired_box()}),
    *looks(a_job(WorkKind.REPLACEMENT), "old-receptacles-labeled", outside={"a new house": a_job()}),
]  # fmt: skip
