"""Before the cover: nothing is hidden, what belongs to the rough-in is there, and it is fastened."""

from __future__ import annotations

from server.dwelling import (
    Device,
    DeviceKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Panel,
    Room,
    RoomKind,
    Site,
    Stage,
    WorkKind,
)
from server.editions import Edition
from server.rules.citing import DEPARTMENT, carried, held, limited_energy
from server.rules.looks import look
from server.rules.reach import fixture_is, has_boxes, has_fixtures, in_rooms
from server.rules.rule import Kind

__all__ = [
    "comfort_equipment_secured",
    "covered_early_opened",
    "detached_building_ground",
    "disconnect_in_sight",
    "dishwasher_outlet_place",
    "exhaust_fan_set",
    "low_voltage_apart",
    "nothing_covered",
    "panel_set",
    "rough_in_complete",
    "small_permit_alarms",
]

nothing_covered = look(
    id="wiring-open-to-view",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=DEPARTMENT,
    title="The wiring is open to view until it has been approved",
    why="What the inspector cannot see is not approved; opening it again is at your cost.",
    look_for="No insulation, board or paneling over any cable, box or pipe of this room before the visit.",
    cure="Take the cover off wherever it hides wiring, and keep it off until the rough-in is approved.",
    applies=has_boxes,
    mistakes="Letting the insulation crew start in the next room; hanging the bath wall for the tub delivery.",
    plain="Do not cover any wiring before the inspector has approved it.",
)

rough_in_complete = look(
    id="rough-in-complete",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=DEPARTMENT,
    title="The rough-in of the room is complete",
    why="Half-done work costs a second visit, and the second visit costs a fee.",
    look_for="Every cable pulled and fastened, every box set, joints and grounds made up, devices not hung; other trades done in these walls.",
    cure="Finish what is missing before the inspection is called for.",
    applies=has_boxes,
    mistakes="Calling for the inspection while the plumber still has holes to bore.",
    plain="Finish all the wiring in the room before you call the inspector.",
)

covered_early_opened = look(
    id="covered-early-opened",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=DEPARTMENT,
    title="What was covered too early has been opened again",
    why="The department will ask for it, at the cost of whoever covered it.",
    look_for="If anything was closed in before it was looked at: an opening at every box and along each run. Record “not here” where "
    "nothing was.",
    cure="Open the wall or ceiling along the hidden wiring, or arrange with the inspector how it is to be shown.",
    applies=has_boxes,
    plain="If you covered something too soon, open it up again before the inspection.",
)


def _is_exhaust_fan(device: Device, house: Dwelling, code: Edition) -> str | None:
    return None if device.kind is DeviceKind.EXHAUST_FAN else "Only exhaust fans are meant."


exhaust_fan_set = look(
    id="exhaust-fan-set",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=held("110.3(B)"),
    title="The exhaust fan's housing is set and wired",
    why="The housing is part of the rough-in: its box, its duct and its hangers are inside the ceiling.",
    look_for="Housing screwed to the joists, cable made up in its junction box, duct joined and running outdoors.",
    cure="Fasten the housing, make up its joint and join its duct before the ceiling is closed.",
    applies=_is_exhaust_fan,
    mistakes="Leaving the cable hanging for the finish crew; a duct that ends in the attic.",
    plain="The bath fan's metal box has to be mounted and wired before the ceiling goes up.",
)


panel_set = look(
    id="panel-set",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=DEPARTMENT,
    title="The panel is set and the cables are brought into it",
    why="At the rough visit the home runs are looked at where they end: clamps, fill, space, working room.",
    look_for="Enclosure fastened and level, every home run in through its connector, sheath showing inside, conductors long enough "
    "to reach any terminal, each cable labeled.",
    cure="Set the enclosure and bring every home run into it through a connector.",
    mistakes="Calling for rough with the home runs coiled on the floor.",
    plain="Hang the panel and bring all the cables into it before the rough inspection.",
    danger="The supply side of a panel can be live even with its main breaker off. Covers of energized panels are for qualified people.",
)

_COMFORT = (
    FixtureKind.FURNACE,
    FixtureKind.AIR_HANDLER,
    FixtureKind.AIR_CONDITIONER,
    FixtureKind.HEAT_PUMP,
    FixtureKind.MINI_SPLIT,
    FixtureKind.BOILER,
)

comfort_equipment_secured = look(
    id="comfort-equipment-secured",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.11, 110.13(A)"),
    title="Feeds and disconnects of heating and cooling are fastened",
    why="A whip that hangs from the condenser, or a disconnect on two drywall screws, is pulled off by the next service call.",
    look_for="Disconnects on the wall with proper anchors, whips and raceways strapped, nothing fastened with drywall screws or wire.",
    cure="Fasten disconnect, raceway and whip with anchors and straps made for them.",
    applies=has_fixtures(*_COMFORT),
    plain="Fasten the furnace and air conditioner wiring and shut-offs firmly to the wall.",
)

_WITH_DISCONNECT = (
    FixtureKind.AIR_CONDITIONER,
    FixtureKind.HEAT_PUMP,
    FixtureKind.MINI_SPLIT,
    FixtureKind.FURNACE,
    FixtureKind.AIR_HANDLER,
    FixtureKind.BOILER,
    FixtureKind.WATER_HEATER,
    FixtureKind.ELECTRIC_HEAT,
    FixtureKind.WELL_PUMP,
    FixtureKind.SEWAGE_PUMP,
    FixtureKind.HOT_TUB,
)

disconnect_in_sight = look(
    id="disconnect-in-sight",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("422.31, 440.14, 430.102"),
    title="The equipment has its disconnect in sight, or one that locks",
    why="Whoever has a hand in the equipment must be able to see that nobody turns it on.",
    look_for="A switch, pull-out or plug within sight of the equipment and reachable; a breaker that can be locked open will do for a "
    "water heater and the like. Not mounted behind or on what it serves.",
    cure="Set a disconnect within sight of the equipment, or fit a lock to its breaker where that is allowed.",
    applies=fixture_is(*_WITH_DISCONNECT),
    mistakes="The condenser's disconnect behind the condenser.",
    plain="Furnace, air conditioner and water heater each need a shut-off you can see from them.",
    danger="Turn it off, lock it, and prove it dead before opening any equipment.",
)

dishwasher_outlet_place = look(
    id="dishwasher-outlet-place",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("422.16(B)"),
    title="Outlets of dishwasher and disposer can be reached",
    why="One has to be able to pull the plug or open the joint without pulling the appliance out.",
    look_for="The dishwasher's receptacle in the cabinet beside it, not behind it; the disposer's under the sink; cords within the "
    "lengths of their instructions, holes edged.",
    cure="Move the box into the cabinet beside the appliance.",
    applies=fixture_is(FixtureKind.DISHWASHER, FixtureKind.DISPOSER),
    mistakes="The receptacle right behind the dishwasher.",
    plain="Put the dishwasher's outlet in the cabinet next to it, not behind it.",
)

detached_building_ground = look(
    id="detached-building-ground",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("250.32"),
    title="A separate building has its own electrode and a ground wire in its feeder",
    why="Without the fourth wire the neutral's current comes home through pipes and people.",
    look_for="Feeder with separate neutral and equipment ground, neutral not bonded to the enclosure there, an electrode at the "
    "building (one branch circuit with its ground may do without).",
    cure="Pull a feeder with an equipment grounding conductor, separate the neutral in the panel there, and drive an electrode.",
    applies=in_rooms(RoomKind.ACCESSORY_BUILDING, words="separate buildings"),
    mistakes="A three-wire feeder to the barn with the neutral bonded.",
    plain="A shed or detached garage with a panel needs a four-wire feed and its own ground rod.",
)

low_voltage_apart = look(
    id="low-voltage-apart",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=limited_energy("725.136, 800.133"),
    title="Low-voltage cables keep their distance",
    why="A power conductor that touches a data or bell cable brings 120 V to a keypad.",
    look_for="Data, bell, thermostat and coaxial cables not in the same box, hole or staple as power cables, two inches apart where "
    "they run side by side loose.",
    cure="Give the low-voltage cables holes, staples and boxes of their own.",
    applies=has_boxes,
    mistakes="The thermostat cable under the same staples as the furnace feed.",
    plain="Keep phone, data and thermostat wires away from power cables and out of their boxes.",
)


def _in_an_old_house(site: Site, house: Dwelling, code: Edition) -> str | None:
    return (
        "The house is new and has its alarms by the residential code." if site.work is WorkKind.NEW else None
    )


small_permit_alarms = look(
    id="small-permit-alarms",
    stage=Stage.ROUGH_IN,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Alarms are added where the town asks for them on a small permit",
    why="Many towns take every permit as the occasion to bring a house's alarms up to date.",
    look_for="On work in an existing house: whether the department wants smoke and carbon monoxide alarms added, and where.",
    cure="Add the alarms that the department asks for.",
    applies=_in_an_old_house,
    plain="Ask your town whether a small job means new smoke alarms.",
)
