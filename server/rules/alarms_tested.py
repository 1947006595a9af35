"""Smoke and carbon monoxide alarms at the final visit: uncovered, sounding together, young enough."""

from __future__ import annotations

from server.dwelling import DeviceKind, Room, Site, Stage
from server.rules.citing import carried, held
from server.rules.looks import look
from server.rules.reach import has_devices

__all__ = ["alarms_sound_together", "alarms_uncovered", "co_alarm_tested"]

alarms_sound_together = look(
    id="alarms-sound-together",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("IRC R314.4"),
    title="One tested alarm sets off all",
    why="The wire that joins them is the one that is forgotten at trim.",
    look_for="Power on: the button of each alarm held until all others sound; once more with the breaker off, on batteries.",
    cure="Join the third wire, or pair the alarms by radio.",
    mistakes="Two makes that do not understand each other.",
    plain="Press the test button of each smoke alarm: all of them must sound.",
    danger="Never leave the house without working alarms overnight.",
)

alarms_uncovered = look(
    id="alarms-uncovered",
    stage=Stage.FINAL,
    about=Room,
    cites=held("110.3(B)"),
    title="The alarm is uncovered, clean and within its years",
    why="An alarm under its dust cap hears nothing; after ten years none is to be trusted.",
    look_for="Dust cap and paint tape off, date on its back within ten years, at the place its leaflet shows.",
    cure="Take the cap off, and replace an old or painted alarm.",
    applies=has_devices(DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM, DeviceKind.CO_ALARM),
    mistakes="The orange cap left on for the drywall sanding.",
    plain="Take the dust covers off the smoke alarms and check their date.",
)

co_alarm_tested = look(
    id="co-alarm-tested",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("IRC R315.3"),
    title="The carbon monoxide alarm works",
    why="It is the only nose for this gas.",
    look_for="Its lamp shows power, its button gives the four beeps of carbon monoxide.",
    cure="Replace the alarm by a new one.",
    applies=has_devices(DeviceKind.CO_ALARM, DeviceKind.SMOKE_CO_ALARM),
    plain="Test the carbon monoxide alarm.",
    danger="If it sounds by itself: everybody out, then call the fire department.",
)
