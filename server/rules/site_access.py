"""What an inspector needs to get in, get around and see."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT
from server.rules.looks import look

__all__ = ["address_seen", "safe_access", "somebody_there", "video_visit_ready"]

address_seen = look(
    id="address-seen",
    stage=Stage.PAPERWORK,
    about=Site,
    cites=DEPARTMENT,
    title="The house number is seen from the street",
    why="An inspector with twelve stops does not look for lot 14.",
    look_for="The number, large, at the street end of the drive or on the house; gate codes left with the office.",
    cure="Put the number up where it is read from the street.",
    plain="Put your house number where it can be read from the road.",
)

safe_access = look(
    id="safe-access",
    stage=Stage.PAPERWORK,
    about=Site,
    cites=DEPARTMENT,
    title="Stairs have handrails and the way is clear",
    why="Inspectors turn around at a stair without a rail, and a failed visit is charged.",
    look_for="Handrails on every stair in use, openings covered, debris away, a ladder where something is above one storey, light.",
    cure="Set temporary rails, clear the floors, and put a ladder where it will be needed.",
    mistakes="The basement stair, a plank and two blocks.",
    plain="Make it safe to walk through: handrails, no junk, enough light.",
    danger="Open stairwells and uncovered holes cripple people. Close them before anybody else comes.",
)

somebody_there = look(
    id="somebody-there",
    stage=Stage.PAPERWORK,
    about=Site,
    cites=DEPARTMENT,
    title="Somebody opens the door and can answer",
    why="No access counts as a failed visit nearly everywhere.",
    look_for="Somebody who knows the work and may speak for it, doors and gates unlocked, dogs shut away.",
    cure="Arrange who meets the inspector, or move the visit.",
    plain="Be there, or send somebody who knows the job, and keep the dog inside.",
)

video_visit_ready = look(
    id="video-visit-ready",
    stage=Stage.PAPERWORK,
    about=Site,
    cites=DEPARTMENT,
    title="For a visit by video everything is at hand",
    why="A call that drops at the panel, or a tape that has to be looked for, ends the visit.",
    look_for="Telephone charged, signal in every room and in the basement, tape measure, flashlight, tester and ladder, the plans. "
    "Record “not here” where the inspector comes in person.",
    cure="Try the connection in the farthest room beforehand, or ask for a visit in person.",
    plain="For a video inspection have your phone charged, good signal, a tape measure, a flashlight and a ladder.",
    danger="Never take the cover off an energized panel for the camera. Leave that to a licensed electrician.",
)
