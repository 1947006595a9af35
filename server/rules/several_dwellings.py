"""More than one dwelling under a roof or on a lot: a flat for the parents, a two-family house."""

from __future__ import annotations

from server.dwelling import Dwelling, RoomKind, Site, Stage
from server.editions import Edition
from server.rules.citing import carried, moved
from server.rules.looks import look

__all__ = [
    "common_lights_apart", "dwellings_alarms", "dwellings_disconnects", "dwellings_emergency_disconnect", "dwellings_meters_marked",
    "dwellings_own_circuits", "dwellings_panel_reached", "dwellings_surge", "dwellings_wall_sealed",
]  # fmt: skip


def _kitchens(house: Dwelling) -> int:
    return sum(room.kind is RoomKind.KITCHEN for room in house.facts.rooms)


def _several(subject: Site, house: Dwelling, code: Edition) -> str | None:
    """A second kitchen is what makes a second dwelling; one that is a mere bar or canning kitchen is “not here”."""
    return (
        None
        if house.derive(_kitchens) > 1
        else "No second kitchen is recorded, so the house is one dwelling."
    )


dwellings_panel_reached = look(
    id="dwellings-panel-reached",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("240.24(B)"),
    title="Each household can reach the breakers of all that it uses",
    why="A tenant stands in the dark and knocks at the neighbor's door.",
    look_for="The panel of each dwelling inside it or where all may go; none of its circuits in the other's rooms.",
    cure="Give each dwelling a panel of its own.",
    applies=_several,
    plain="Each apartment must be able to get to its own breakers.",
)

dwellings_own_circuits = look(
    id="dwellings-own-circuits",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("210.25(A)"),
    title="A dwelling's circuits feed that dwelling alone",
    why="One household turns off what the other believes on, and pays for it.",
    look_for="No outlet of one dwelling on the other's circuits, through the wall or by the stair; kitchen, laundry and bathroom circuits in each.",
    cure="Run a circuit from the dwelling's own panel.",
    applies=_several,
    mistakes="The receptacle on the back of the dividing wall, fed from the nearest box.",
    plain="Do not feed one apartment from the other's circuits.",
)

common_lights_apart = look(
    id="common-lights-apart",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("210.25(B)"),
    title="What serves both dwellings is on a panel that belongs to neither",
    why="The stair must be light though one household has not paid its bill.",
    look_for="Lights of common stair and entrance, common alarms, shared pumps and heating on a house panel. Nothing in common: “not here”.",
    cure="Set a house panel, or give each dwelling its own entrance light.",
    applies=_several,
    plain="Shared stair lights and pumps need a panel of their own.",
)

dwellings_disconnects = look(
    id="dwellings-disconnects",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="230.71, 230.72", e2020="230.71(B), 230.72"),
    title="The mains of all dwellings are together, each in its own compartment",
    why="Firemen turn off one house, not half of it.",
    look_for="Not more than six at one place, each household at its own, each in an enclosure or meter-stack section of its own since 2020, none behind a locked door.",
    cure="Group them outdoors at a meter stack.",
    applies=_several,
    plain="Put all the main switches of the building together.",
)

dwellings_meters_marked = look(
    id="dwellings-meters-marked",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.72(A), 408.4, 110.22"),
    title="Meters, mains and panels say which dwelling they are",
    why="The utility and the fire department go by them, and so does whoever works there.",
    look_for="Lasting plates with the number on meter socket, main and panel, tried: the meter that stops is that dwelling's.",
    cure="Put up engraved or stamped plates.",
    applies=_several,
    mistakes="Felt pen inside the meter cover.",
    plain="Label each meter and main with its apartment number.",
)

dwellings_wall_sealed = look(
    id="dwellings-wall-sealed",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("300.21, IRC R302.3, IRC R302.4"),
    title="Wall and floor between the dwellings keep their fire rating",
    why="The neighbor's fire has an hour to be put out.",
    look_for="Boxes on both sides two feet apart or with listed pads, steel or listed plastic, holes for cables filled with a listed system, luminaires in the ceiling boxed.",
    cure="Fit pads and fill the holes with a listed system.",
    applies=_several,
    plain="Seal all holes and boxes in the wall between apartments with fire-rated material.",
)

dwellings_alarms = look(
    id="dwellings-alarms",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("IRC R314.3, IRC R314.4, IRC R315.3"),
    title="Each dwelling has its own set of alarms",
    why="A flat above the garage is a house to those who sleep in it.",
    look_for="Smoke and carbon monoxide alarms in each as for a house, joined within it; between the two only as the place asks for it.",
    cure="Add the alarms that the second dwelling lacks.",
    applies=_several,
    plain="The in-law apartment needs its own smoke and CO alarms.",
)

dwellings_surge = look(
    id="dwellings-surge",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2023="215.18, 225.42"),
    title="A dwelling that is fed from another's panel has its own surge protector",
    why="The one at the service is too far away to help it.",
    look_for="A Type 1 or Type 2 device in or beside the panel with the second dwelling's own breakers.",
    cure="Fit one in the second dwelling's panel.",
    applies=_several,
    plain="Each apartment's panel needs a surge protector.",
)

dwellings_emergency_disconnect = look(
    id="dwellings-emergency-disconnect",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2023="225.41"),
    title="A dwelling in its own building has its own emergency disconnect outdoors",
    why="Firemen stand before the guest house and look for the switch there.",
    look_for="On the separate dwelling or in sight of it: a disconnect that is readily reached, rated for the fault current, with the red label in white letters. Both dwellings in one building: “not here”.",
    cure="Set a disconnect outdoors at the second dwelling, and label it.",
    applies=_several,
    mistakes="A feeder straight through the wall into the guest house's panel.",
    plain="A backyard apartment needs its own outdoor shut-off with a red label.",
)
