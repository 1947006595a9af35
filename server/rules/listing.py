"""What holds for everything that was installed: listed, as instructed, connected and working."""

from __future__ import annotations

from server.dwelling import Room, Site, Stage
from server.rules.citing import DEPARTMENT, held, moved
from server.rules.looks import look
from server.rules.reach import has_boxes

__all__ = ["equipment_listed", "everything_works", "instructions_followed", "power_on"]

equipment_listed = look(
    id="equipment-listed",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="110.2, 110.3(C)"),
    title="All equipment is listed by a recognized laboratory",
    why="Nobody on site can tell whether a luminaire from the flea market melts.",
    look_for="The mark of a testing laboratory on everything that is wired in: luminaires, fans, heaters, chargers, panels, cords.",
    cure="Replace it by a listed one, or have it field-evaluated.",
    mistakes="A chandelier bought abroad; a mark that only says CE.",
    plain="Everything you install must carry a testing lab's mark, like UL or ETL.",
)

instructions_followed = look(
    id="instructions-followed",
    stage=Stage.FINAL,
    about=Site,
    cites=held("110.3(B)"),
    title="Equipment is installed as its listing and instructions say",
    why="What the laboratory tested was the thing as its leaflet shows it.",
    look_for="Clearances, circuit, breaker type, orientation, torque, listed parts: leaflet beside the thing.",
    cure="Install it as the leaflet shows.",
    plain="Follow the instruction sheet of everything you install.",
)

power_on = look(
    id="power-on",
    stage=Stage.FINAL,
    about=Site,
    cites=DEPARTMENT,
    title="The power is on for the final visit",
    why="GFCIs, AFCIs, alarms and polarity cannot be tried on a dead house.",
    look_for="Meter set, main and all finished circuits on, the ones not finished off and marked.",
    cure="Have the utility connect, and turn the circuits on one by one.",
    plain="The power must be on for the final inspection.",
    danger="Turn circuits on only when every box on them is closed.",
)

everything_works = look(
    id="everything-works",
    stage=Stage.FINAL,
    about=Room,
    cites=DEPARTMENT,
    title="Everything in the room is connected and works",
    why="What does not work at the final is a correction, or a call next week.",
    look_for="Every switch turned, both ends of a three-way, every receptacle tried, every luminaire lit, every fan and appliance run.",
    cure="Find the open splice or the swapped traveler.",
    applies=has_boxes,
    plain="Try every switch and outlet in the room.",
)
