"""How receptacles and bare lamps are mounted where hands, tools and water are near."""

from __future__ import annotations

from server.dwelling import Device, DeviceKind, Dwelling, Room, RoomKind, Stage
from server.editions import Edition
from server.rules.citing import PRACTICE, carried, moved
from server.rules.looks import look
from server.rules.reach import all_of, has_devices, in_rooms

__all__ = ["afci_device_tested", "bare_lamps_guarded", "raised_cover_screws", "receptacles_not_face_up"]

_RECEPTACLES = has_devices(DeviceKind.RECEPTACLE)


def _afci(subject: Device, house: Dwelling, code: Edition) -> str | None:
    return None if subject.afci else "The device has no arc-fault protection in it."


receptacles_not_face_up = look(
    id="receptacles-not-face-up",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="406.5(E), (F)", e2020="406.5(G), (H)"),
    title="No receptacle lies face-up in a counter or below a sink",
    why="What is spilled runs into its slots.",
    look_for="None set flat into a counter or its work surface unless it is a listed pop-up or counter assembly; none facing up below a sink.",
    cure="Set it upright, or fit an assembly listed for counters.",
    applies=all_of(
        in_rooms(
            RoomKind.KITCHEN, RoomKind.BATHROOM, RoomKind.LAUNDRY, words="kitchens, baths and laundries"
        ),
        _RECEPTACLES,
    ),
    plain="Outlets in countertops must be the special spill-proof kind.",
)

raised_cover_screws = look(
    id="raised-cover-screws",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("406.5(C), 314.25, 250.146(A)"),
    title="A receptacle on a raised metal cover is held by more than one screw, and grounded",
    why="Each plug that is pulled turns it, until it turns into the wires.",
    look_for="Two screws or rivets and a locking device at each, cover corners flat on the box, a ground tail unless cover and box are listed for it, plastic bits of the yoke broken off. None: “not here”.",
    cure="Fit a cover with two screws, and a ground tail.",
    applies=all_of(
        in_rooms(
            RoomKind.GARAGE,
            RoomKind.BASEMENT,
            RoomKind.WORKSHOP,
            RoomKind.MECHANICAL_ROOM,
            RoomKind.UTILITY_ROOM,
            words="garages, basements, workshops and equipment rooms",
        ),
        _RECEPTACLES,
    ),
    plain="Outlets on metal covers need two screws and a ground wire.",
)

bare_lamps_guarded = look(
    id="bare-lamps-guarded",
    stage=Stage.FINAL,
    about=Room,
    cites=PRACTICE,
    title="Lamps that heads, ladders and boxes could strike are guarded",
    why="A broken hot lamp falls on what is stored below.",
    look_for="In attic, crawl space and low storage a cage, a jar or a closed luminaire, set beside the way and not in it.",
    cure="Fit a guard, or a closed luminaire.",
    applies=all_of(
        in_rooms(RoomKind.ATTIC, RoomKind.CRAWL_SPACE, words="attics and crawl spaces"),
        has_devices(DeviceKind.LUMINAIRE),
    ),
    plain="Guard bare bulbs in attics and crawl spaces.",
)

afci_device_tested = look(
    id="afci-device-tested",
    stage=Stage.FINAL,
    about=Device,
    cites=carried("210.12, 110.3(B)"),
    title="An AFCI receptacle trips by its button and resets",
    why="One wired backwards protects nothing beyond itself.",
    look_for="Press test: it trips, what it feeds is dead. Press reset: it comes back, its lamp as its leaflet says. It is the first outlet where the edition asks for that.",
    cure="Exchange line and load if they are swapped, else replace it.",
    applies=_afci,
    plain="Test AFCI outlets with their button.",
)
