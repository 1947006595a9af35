"""Cases for how receptacles and bare lamps are mounted: 406.5, 210.12."""

from __future__ import annotations

from server.dwelling import DeviceKind
from tests.cases.alarm_place import room_with
from tests.cases.docks import a_room
from tests.cases.whole_jobs import device_on, looks

RECEPTACLE, LUMINAIRE = DeviceKind.RECEPTACLE, DeviceKind.LUMINAIRE
BEDROOM = {"a bedroom": room_with(RECEPTACLE)}

CASES = [
    *looks(
        room_with(RECEPTACLE, "kitchen"), "receptacles-not-face-up",
        outside=BEDROOM | {"a kitchen without receptacles": a_room("kitchen")},
    ),
    *looks(
        room_with(RECEPTACLE, "garage"), "raised-cover-screws",
        outside=BEDROOM | {"a garage without receptacles": a_room("garage")},
    ),
    *looks(
        room_with(LUMINAIRE, "attic"), "bare-lamps-guarded",
        outside={"a bedroom": room_with(LUMINAIRE), "an attic without light": a_room("attic")},
    ),
    *looks(
        device_on(RECEPTACLE, "bedroom", afci=True), "afci-device-tested",
        outside={"an ordinary one": device_on(RECEPTACLE, "bedroom")},
    ),
]  # fmt: skip
