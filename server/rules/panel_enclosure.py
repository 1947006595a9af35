"""The panel's enclosure in its wall, and what is fitted into it besides breakers."""

from __future__ import annotations

from server.dwelling import Panel, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "breakers_up_on",
    "panel_bending_room",
    "panel_extras",
    "panel_flush",
    "panel_gap",
    "panel_not_in_fire_wall",
]

panel_flush = look(
    id="panel-flush",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("312.3"),
    title="The panel's edge comes to the face of the wall",
    why="Sparks that miss the box fall into the wall.",
    look_for="In a wood-framed or paneled wall flush or standing out; in masonry or tile at most a quarter inch back. On the surface: “not here”.",
    cure="Move the enclosure forward, or fit the maker's extension.",
    plain="The panel box must be flush with the finished wall.",
)

panel_gap = measured(
    id="panel-gap",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("312.4"),
    title="No wide gap is left in the wall around the panel",
    why="Fire inside finds the bay, and the cover hides the hole.",
    look_for="The board around a flush panel, with its cover off or pressed on all around. On the surface: “not here”.",
    cure="Fill the gap with plaster or compound.",
    measure=Measure(
        unit="in",
        limit="panel.gap_most_in",
        least=False,
        how="Measure between enclosure and board before the cover goes on, power off; later look along its edge.",
        worst="the widest gap",
    ),
    plain="Fill gaps wider than an eighth of an inch around the panel.",
    danger="Behind the cover everything may be live. Leave it on, or have an electrician take it off.",
)

panel_bending_room = look(
    id="panel-bending-room",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("312.6, 110.14"),
    title="Large conductors have room to bend to their lugs",
    why="Bent too hard they push on the lug, and spring the main off its seat.",
    look_for="Feeders and service conductors in a wide curve, straight into the lug, no strands left out or cut off, no insulation under it.",
    cure="Land them anew with a wider bend, or use a deeper enclosure.",
    mistakes="Strands trimmed so that the cable fits a small lug.",
    plain="Thick wires must bend gently and go fully into their lugs.",
)

breakers_up_on = look(
    id="breakers-up-on",
    stage=Stage.FINAL,
    about=Panel,
    cites=moved(e2017="240.81, 404.7", e2020="240.81, 404.7, 408.43"),
    title="Breakers say on and off, and up is on where they move up and down",
    why="In smoke one goes by the handle.",
    look_for="On and off to be read at each; in a panel hung upside down or sideways no handle that is on when down; no panel that lies "
    "with its face up.",
    cure="Turn the panel's interior, or hang it the other way.",
    plain="Breakers that move up and down must be on when up.",
)

panel_extras = look(
    id="panel-extras",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("312.8(B), 110.3(B)"),
    title="What else is in the panel is listed to be there",
    why="Meters, transformers and radios crowd the gutter and bring thin wires to the bus.",
    look_for="Energy monitors and surge devices listed for it, their leads on a breaker and led along the edge, no bell transformer or low-voltage splice inside. Nothing besides breakers: “not here”.",
    cure="Take it out, or mount it beside the panel through a nipple.",
    mistakes="Current clamps lying on the neutral bar, their cable out through the cover's edge.",
    plain="Only gadgets listed for it may go inside the panel.",
    danger="Clamps are put around live conductors. Have a qualified person do it.",
)

panel_not_in_fire_wall = look(
    id="panel-not-in-fire-wall",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("300.21, IRC R302.6, IRC R302.4"),
    title="The panel does not open a hole in a wall that keeps fire out",
    why="A panel set into the garage's wall takes the board away behind it.",
    look_for="Not flush in the wall between garage and house or between dwellings, unless board goes on behind it or it is on the surface. Another wall: “not here”.",
    cure="Hang it on the surface, fur the wall out, or board the bay behind it.",
    mistakes="A flush panel in the garage, its back to the kitchen.",
    plain="Do not set the panel into the fire wall between garage and house.",
)
