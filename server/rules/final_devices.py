"""Receptacles, switches and plates as they are finished and tried."""

from __future__ import annotations

from server.dwelling import Box, Device, DeviceKind, Dwelling, Room, RoomKind, Site, Stage, Surface
from server.editions import Edition
from server.rules.citing import DEPARTMENT, PRACTICE, carried, held, moved
from server.rules.job_facts import work_in_old_house
from server.rules.looks import look
from server.rules.reach import (
    all_of,
    box_holds,
    has_boxes,
    has_devices,
    in_rooms,
    on_surface,
    outdoors_or_wet,
)
from server.rules.rule import Carried

__all__ = [
    "devices_clean",
    "devices_flush",
    "devices_tight",
    "dimmers_suit",
    "floor_receptacle_cover",
    "gfci_covers_all",
    "gfci_tested",
    "in_use_cover",
    "insulation_round_wires",
    "old_receptacles_labeled",
    "outlets_blanked",
    "plate_suits_box",
    "plates_grounded",
    "plates_on",
    "plates_straight",
    "receptacle_polarity",
    "receptacles_grounded",
    "switches_right_way",
]

_RECEPTACLES = has_devices(DeviceKind.RECEPTACLE)
_SWITCHES = has_devices(DeviceKind.SWITCH)

plates_on = look(
    id="plates-on",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("314.25, 404.9(A), 406.6"),
    title="Every box has its plate or cover",
    why="An open box at the height of a child's hand is live inside.",
    look_for="Plates whole and tight on every device, covers on junction boxes, in closets, attic and behind appliances too.",
    cure="Fit the missing plates and replace cracked ones.",
    applies=has_boxes,
    mistakes="The junction box above the water heater.",
    plain="Every outlet, switch and box needs its cover.",
    danger="Turn the circuit off before you reach into an open box.",
)

plate_suits_box = look(
    id="plate-suits-box",
    stage=Stage.FINAL,
    about=Room,
    cites=PRACTICE,
    title="The plate suits its box",
    why="A plate for a wall box on a box that stands out of the wall has sharp open corners.",
    look_for="Surface boxes with covers made for them, no flush plastic plate on them; weatherproof ones outdoors.",
    cure="Fit a cover that is made for the box.",
    applies=has_boxes,
    plain="Use the right kind of cover for boxes mounted on the surface.",
)

plates_grounded = look(
    id="metal-plates-grounded",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("404.9(B), 406.6(B)"),
    title="Metal plates are grounded",
    why="A loose strand behind it makes the plate live.",
    look_for="Metal plates on grounded yokes with metal screws. Plastic plates throughout: “not here”.",
    cure="Ground the yoke, or use nonmetallic plates with nonmetallic screws.",
    applies=has_boxes,
    plain="Metal wall plates must be grounded through their screws.",
)

devices_flush = look(
    id="devices-flush",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("404.10(B), 406.5(A), (D)"),
    title="Devices sit tight on the wall, their faces out to the plate",
    why="A receptacle that sinks in when one plugs something in works its wires loose.",
    look_for="Ears against the wall or box, no play; faces flush with the plate or standing out, never behind it; boxes too deep shimmed or extended.",
    cure="Shim the yoke or fit a box extender.",
    applies=has_boxes,
    mistakes="The plate's own screw pulling the device forward.",
    plain="Outlets and switches must not move or sink in when you push them.",
)

devices_tight = look(
    id="devices-tight",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("110.14(A), 110.14(D)"),
    title="Wires are under the screws of their devices, tightened",
    why="Push-in contacts and half-tight screws are where receptacles burn.",
    look_for="The wire around the screw the way it turns, insulation up to it and not under it, tightened as marked; splices under connectors of their size.",
    cure="Make the terminal anew, on the screw, to its torque.",
    applies=has_boxes,
    plain="Tighten the wires well on the side screws.",
    danger="Prove the circuit dead before you loosen a device.",
)

devices_clean = look(
    id="devices-clean",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("110.12(B)"),
    title="Faces of devices are free of paint and damage",
    why="Paint in the slots keeps the plug from its contact.",
    look_for="No paint, texture or cracks on receptacles and switches; nothing scraped or broken.",
    cure="Replace painted and damaged devices.",
    applies=has_boxes,
    plain="Replace outlets and switches that got paint on them.",
)

receptacle_polarity = look(
    id="receptacle-polarity",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("200.10(B), 200.11"),
    title="Polarity is right at every receptacle",
    why="Turned around, the shell of every lamp is live.",
    look_for="A tester in each receptacle: hot on the short slot, neutral on the long, no open wire; each half of a split one.",
    cure="Change the wires over, here or in the box before.",
    applies=_RECEPTACLES,
    mistakes="A tester that reads right with ground and neutral exchanged: look at one box a circuit.",
    plain="Plug a tester into every outlet. It must show “correct”.",
)

receptacles_grounded = look(
    id="receptacles-grounded",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="406.4(A), (C)", e2026=Carried("406.12(A), (C)")),
    title="Every receptacle's ground is connected",
    why="Three slots promise a ground.",
    look_for="The tester's ground light in each; the ground on its screw, not cut off behind the device, not tied to the neutral.",
    cure="Connect the ground, and find where it is open.",
    applies=_RECEPTACLES,
    mistakes="A jumper from neutral to ground to please the tester.",
    plain="The tester must show a working ground at every outlet.",
    danger="A jumper from neutral to ground makes cases live when the neutral opens.",
)


def _gfci(device: Device, house: Dwelling, code: Edition) -> str | None:
    return None if device.gfci else "This is no GFCI device."


gfci_tested = look(
    id="gfci-tested",
    stage=Stage.FINAL,
    about=Device,
    cites=held("110.3(B)"),
    title="The GFCI trips by its button and resets",
    why="One that was wired the wrong way round, or that lightning reached, may do nothing at all, and looks the same.",
    look_for="Press test: it trips, and it is dead by a tester. Press reset: it comes back. Its lamp as its leaflet says.",
    cure="Exchange line and load if they are swapped, else replace it.",
    applies=_gfci,
    plain="Press “test” on every GFCI: the power must go off.",
    danger="A GFCI that does not trip protects nobody. Replace it at once.",
)

_NEEDING = (RoomKind.KITCHEN, RoomKind.BATHROOM, RoomKind.TOILET_ROOM, RoomKind.LAUNDRY, RoomKind.GARAGE, RoomKind.BASEMENT,
            RoomKind.CRAWL_SPACE, RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.BOATHOUSE, RoomKind.ACCESSORY_BUILDING,
            RoomKind.MECHANICAL_ROOM, RoomKind.UTILITY_ROOM, RoomKind.WORKSHOP)  # fmt: skip

gfci_covers_all = look(
    id="gfci-covers-all",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="210.8, 406.4(D)(3)", e2026="210.8, 406.12(D)(3)"),
    title="Every receptacle that needs it goes dead with its GFCI",
    why="A receptacle beyond a GFCI whose load side was left off looks protected.",
    look_for="Trip the GFCI, then try each receptacle of the room with a tester: dead. The stickers for protected ones where the code asks for them.",
    cure="Move the cable onward to the load terminals.",
    applies=all_of(in_rooms(*_NEEDING, words="rooms where receptacles need GFCI protection"), _RECEPTACLES),
    plain="With the GFCI tripped, all the outlets it protects must be dead.",
)

in_use_cover = look(
    id="in-use-cover",
    stage=Stage.FINAL,
    about=Box,
    cites=carried("406.9(A), (B)"),
    title="Receptacles outdoors have covers that keep the rain out while a cord is in",
    why="Christmas lights stay plugged in for a month of rain.",
    look_for="Wet places: extra-duty bubble covers that close over the plug (from 2023 on opening fully). Damp ones under a roof: a cover that closes "
    "without a plug. Gasket whole, the top sealed to the wall.",
    cure="Fit an extra-duty cover and seal it.",
    applies=all_of(outdoors_or_wet, box_holds(DeviceKind.RECEPTACLE, words="receptacle")),
    mistakes="Flip lids on an open wall.",
    plain="Outdoor outlets need the big bubble covers.",
)

floor_receptacle_cover = look(
    id="floor-receptacle-cover",
    stage=Stage.FINAL,
    about=Box,
    cites=carried("314.27(B), 406.9(D)"),
    title="Floor receptacles are in boxes and covers made for floors",
    why="Mop water runs into it and heels break it.",
    look_for="A listed floor box with its own cover, closing flush.",
    cure="Change box and cover for listed ones.",
    applies=all_of(
        on_surface(Surface.FLOOR, words="floor"), box_holds(DeviceKind.RECEPTACLE, words="receptacle")
    ),
    plain="Outlets in the floor need special floor boxes.",
)

outlets_blanked = look(
    id="outlets-blanked",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("314.25, 110.12(A)"),
    title="Outlets kept for later are capped and covered",
    why="A live end in an open box waits for a child or a painter.",
    look_for="Boxes without a device: each conductor capped, folded in, a blank plate on, the circuit named. None such here: “not here”.",
    cure="Cap the conductors and fit a blank cover.",
    applies=has_boxes,
    plain="Cover boxes you are not using yet, with the wires capped.",
)

switches_right_way = look(
    id="switches-right-way",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("404.7"),
    title="Single-pole switches are on when up",
    why="In the dark everybody expects it, and “off” must mean off.",
    look_for="Up is on at each single-pole switch; three-ways as they come; dimmers with the marks right.",
    cure="Turn the switch over in its box.",
    applies=_SWITCHES,
    plain="Up should be on.",
)


def _dimming(house: Dwelling) -> frozenset[str]:
    boxes = {device.box_id for device in house.facts.devices if device.dimmer}
    return frozenset(house.boxes[box_id].room_id for box_id in boxes if box_id in house.boxes)


def _has_dimmer(room: Room, house: Dwelling, code: Edition) -> str | None:
    return None if room.id in house.derive(_dimming) else "No dimmer is recorded in this room."


dimmers_suit = look(
    id="dimmers-suit",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("404.14(E), 404.22"),
    title="Dimmers turn what they are made for",
    why="A dimmer on a fan or a receptacle burns the motor; with the wrong lamps it flickers and hums.",
    look_for="Each dimmer on permanent luminaires with lamps that may be dimmed, within its watts (less where dimmers stand side by side); never on "
    "receptacles or fans. Sensors and smart ones on a neutral, not on the ground wire.",
    cure="Change the dimmer, the lamps, or fit a plain switch; join the sensor's white to the neutral.",
    applies=_has_dimmer,
    mistakes="A lamp dimmer on the bath fan; fins broken off and the watts not reduced.",
    plain="Use dimmers only for lights, with dimmable bulbs.",
)

plates_straight = look(
    id="plates-straight",
    stage=Stage.FINAL,
    about=Room,
    cites=PRACTICE,
    title="Plates are straight and alike",
    why="They are all that is ever seen of the work.",
    look_for="Plates level, screw slots upright, one color in a room, receptacles all the same way up.",
    cure="Straighten the devices and exchange the odd plate.",
    applies=has_boxes,
    plain="Make the plates straight and all the same.",
)

old_receptacles_labeled = look(
    id="old-receptacles-labeled",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="406.4(D)(2)", e2026=Carried("406.12(D)(2)")),
    title="Replaced receptacles without a ground say so",
    why="A computer plugged into three slots trusts the third.",
    look_for="Where an old cable has no ground: two-slot receptacles, or GFCI protected ones with “no equipment ground” (and “GFCI protected”) on them.",
    cure="Label them, or run a ground.",
    applies=work_in_old_house,
    plain="Old outlets without a ground must be GFCI protected and labeled.",
)

insulation_round_wires = look(
    id="insulation-round-wires",
    stage=Stage.FINAL,
    about=Room,
    cites=DEPARTMENT,
    title="Insulation is fitted around wires and boxes, not pressed behind them",
    why="A squeezed batt is a cold stripe, and moisture settles on the box.",
    look_for="Before the board: batts split around cables and cut around boxes, something behind each box in outer walls. Already closed: what the "
    "insulation visit wrote.",
    cure="Split the batts around the cables and fill behind the boxes.",
    applies=has_boxes,
    plain="Cut insulation to fit around wires and boxes.",
)
