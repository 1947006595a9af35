"""Where on wall or ceiling an alarm hangs, and what feeds it."""

from __future__ import annotations

from server.dwelling import DeviceKind, Room, RoomKind, Site, Stage
from server.rules.citing import DEPARTMENT, carried
from server.rules.looks import look
from server.rules.reach import has_devices, in_rooms

__all__ = ["alarm_circuit", "alarm_place", "garage_heat_alarm"]

alarm_place = look(
    id="alarm-place",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R314.3, IRC R314.1"),
    title="The alarm's box is where smoke comes, and draft does not",
    why="In a dead corner or before a register it sounds too late.",
    look_for="On the ceiling, or high on the wall within a foot of it; below a peak by a few inches; three feet from registers, fan blades and bathroom doors, as its leaflet shows.",
    cure="Move the box to where the leaflet shows it.",
    applies=has_devices(DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM),
    mistakes="In the ridge of a sloped ceiling, or beside the air conditioner's register.",
    plain="Keep smoke alarms out of corners and away from vents and fans.",
)

alarm_circuit = look(
    id="alarm-circuit",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("IRC R314.6, 210.12(A)"),
    title="Alarms are on a circuit that no switch or ordinary GFCI turns off",
    why="Whoever turns off the light would turn off the alarms.",
    look_for="Fed unswitched, with AFCI where the rooms ask for it, not behind a GFCI device; often wanted on a lighting circuit, so that its loss is seen. Ask the place.",
    cure="Feed the alarms ahead of switches and GFCI devices.",
    plain="Smoke alarms must not be on a switched or GFCI circuit.",
)

garage_heat_alarm = look(
    id="garage-heat-alarm",
    stage=Stage.FINAL,
    about=Room,
    cites=DEPARTMENT,
    title="The garage has a heat alarm where the place asks for it",
    why="Cars and chargers burn where no smoke alarm can hang.",
    look_for="A listed heat alarm joined to the house's alarms. Not asked for here: “not here”.",
    cure="Add a heat alarm joined to the others.",
    applies=in_rooms(RoomKind.GARAGE, words="garages"),
    plain="Some places want a heat alarm in the garage. Ask.",
)
