"""Cords and plug-in strips that stand in for wiring."""

from __future__ import annotations

from server.dwelling import Room, RoomKind, Site, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look
from server.rules.reach import in_rooms

__all__ = ["cabinet_strips", "cords_not_wiring", "hidden_cords", "lighting_controls"]

cords_not_wiring = look(
    id="cords-not-wiring",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="400.12", e2020="400.12, 590.2"),
    title="No cord does the work of fixed wiring",
    why="Cord is not made to be stapled, walked on, or to warm for years.",
    look_for="No extension cord or power strip for openers, pumps, freezers, softeners; no cord stapled up or spliced; plugs on nothing that belongs wired in.",
    cure="Set a receptacle where it is needed.",
    mistakes="The garage-door opener on an orange cord.",
    plain="Extension cords are not wiring. Add an outlet.",
    danger="Cords under load behind furniture start fires.",
)

hidden_cords = look(
    id="hidden-cords",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("400.12, 110.3(B)"),
    title="No cord runs through a wall, floor, ceiling, door or window",
    why="The television's cord inside the wall is cut by its edges and found by screws.",
    look_for="Behind wall televisions a recessed receptacle or a listed in-wall kit; none through cabinets' backs into walls, above ceilings, under carpets.",
    cure="Set a receptacle behind the set, or a listed in-wall power kit.",
    plain="Never run a TV's power cord inside the wall.",
)

cabinet_strips = look(
    id="cabinet-strips",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("380.12, 406.5, 110.3(B)"),
    title="Outlet strips below cabinets are fixed, fed by wiring, and protected like the counter's",
    why="They are in everybody's reach, beside the sink.",
    look_for="A listed strip wired from a box on the counter circuits, its feed not a cord, GFCI and AFCI as for the counter, not face-up where water runs. None: “not here”.",
    cure="Feed the strip by cable into its own wiring space.",
    applies=in_rooms(RoomKind.KITCHEN, words="kitchens"),
    plain="Under-cabinet outlet strips must be wired in and GFCI protected.",
)

lighting_controls = look(
    id="lighting-controls",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("IRC N1104"),
    title="Lights have the controls that the energy code of the place asks for",
    why="Some places want dimmers, sensors and daylight switches room by room, and a signed form.",
    look_for="The department's list or form: sensors in bath, garage and laundry, dimmers or timers, outdoor lights off by day. Nothing asked: “not here”.",
    cure="Fit the controls, and sign the form.",
    plain="Ask whether your energy code wants dimmers or sensors.",
)
