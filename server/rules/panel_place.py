"""Where a panel stands: the room, the clear space before and above it, the height of its handles."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Dwelling, Panel, RoomKind, Stage, WorkKind
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.reckon.working_space import Dimension, WorkingSpace, reckon_working_space
from server.rules.citing import carried
from server.rules.looks import look, measured
from server.rules.outcome import Lazily, Missing, Outcome, ask_inspector, clear, correction, unseen
from server.rules.rule import Measure, rule

__all__ = ["panel_dedicated_space", "panel_handle_height", "panel_room", "panel_working_space"]

_FIELDS = {
    "depth_in": "panel.space_depth_in",
    "width_in": "panel.space_width_in",
    "height_in": "panel.space_height_in",
}
_WORDS = {
    "depth_in": "clear depth before the panel",
    "width_in": "clear width at the panel",
    "height_in": "clear height at the panel",
    "door_swing_deg": "door swing",
}


def _figure(part: Dimension) -> str:
    given = "not measured" if part.given is None else f"{float(part.given):g} {part.unit}"
    return f"{_WORDS.get(part.name, part.name)} {given}, at least {float(part.required):g} {part.unit}"


@rule(
    id="panel-working-space",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("110.26(A)"),
    title="There is room to work before the panel",
    why="Whoever works on it live must be able to step back without falling over the washer.",
    look_for="Three feet clear before the panel, thirty inches wide (not necessarily centered), six and a half feet high, the "
    "door opening at least a right angle; nothing built or stored in it.",
    cure="Move the panel, or move what stands in the space before it is built.",
    says={
        "enough": "{depth_in:in} deep, {width_in:in} wide, {height_in:in} high.",
        "short": "Too little room: {short}.",
        "not-measured": "The {what} is not recorded.",
    },
    mistakes="The furnace, the laundry sink or the basement stair within the three feet; a panel behind a door that cannot open fully.",
    plain="Keep a space three feet deep and two and a half feet wide in front of the panel, and never store anything there.",
    danger="Never work in a panel that is energized: even with the main off its supply side is live.",
)
def panel_working_space(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Depth, width, height and door swing as recorded against the edition's."""
    found = reckon_working_space(
        WorkingSpace(
            depth_in=panel.space_depth_in,
            width_in=panel.space_width_in,
            height_in=panel.space_height_in,
            door_swing_deg=None if panel.door_swing_deg is None else Fraction(panel.door_swing_deg),
            existing_dwelling=house.site.work is not WorkKind.NEW,
            rating_a=panel.bus_a,
        ),
        code,
        work,
    )
    short = [part for part in found.dimensions if part.complies is False]
    if short:
        return correction("short", cites=short[0].cites, short=Lazily(lambda: "; ".join(map(_figure, short))))
    unknown = [part for part in found.dimensions if part.complies is None]
    if unknown:
        missing = tuple(Missing(f"the {_WORDS[part.name]}", _FIELDS.get(part.name, "")) for part in unknown)
        return unseen("not-measured", *missing, cites=unknown[0].cites, what=_WORDS[unknown[0].name])
    return clear(
        "enough", depth_in=panel.space_depth_in, width_in=panel.space_width_in, height_in=panel.space_height_in
    )  # fmt: skip


@rule(
    id="panel-room",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("240.24(C) to (F)"),
    title="The panel is in a room where it may be",
    why="Steam, clothes and stair steps are what one does not want around breakers, or around a person at work on them.",
    look_for="Not in a bathroom, not in a clothes closet, not over the steps of a stair, not where it gets struck.",
    cure="Move the panel to a hall, basement, utility room or garage wall.",
    says={
        "allowed": "A panel may be in a {kind}.",
        "not-allowed": "A panel may not be in a {kind}.",
        "closet": "A clothes closet may not hold a panel; another closet may. Show what this one is for.",
        "room-not-recorded": "Which room the panel is in is not recorded.",
    },
    mistakes="The former hall closet that has become the coat closet.",
    plain="Do not put a panel in a bathroom or a clothes closet.",
)
def panel_room(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The kind of room against those where overcurrent devices may not stand."""
    room = house.rooms.get(panel.room_id) if panel.room_id else None
    if room is None:
        return unseen("room-not-recorded", Missing("the room that the panel is in", "panel.room_id"))
    cites = code.cites("working.forbidden_rooms")
    if room.kind is RoomKind.CLOSET:
        return ask_inspector("closet", cites=cites)
    forbidden = room.kind in code.names("working.forbidden_rooms", work)
    if work:
        work.step(f"the panel is in a {room.kind}", not forbidden, "", cites)
    outcome, reason = (correction, "not-allowed") if forbidden else (clear, "allowed")
    return outcome(reason, cites=cites, kind=str(room.kind))


def _recorded_height(panel: Panel, house: Dwelling, code: Edition) -> tuple[list[Fraction], bool]:
    return (
        [] if panel.handle_height_in is None else [panel.handle_height_in]
    ), panel.handle_height_in is not None


panel_handle_height = measured(
    id="panel-handle-height",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("240.24(A)"),
    title="The highest breaker handle is within reach",
    why="In an emergency nobody looks for a ladder.",
    look_for="The middle of the highest handle, in its highest position, not more than six feet seven inches above the floor.",
    cure="Set the panel lower on the wall.",
    measure=Measure(
        unit="in",
        limit="panel.handle_most_in",
        least=False,
        how="Measure from the finished floor to the middle of the highest handle in its on position.",
        worst="the top breaker, or the main",
    ),
    recorded=_recorded_height,
    mistakes="Measuring to the bottom of the enclosure; a raised slab or platform that is not there when the panel is used.",
    plain="The top breaker handle may be at most 6 feet 7 inches above the floor.",
)


panel_dedicated_space = look(
    id="panel-dedicated-space",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("110.26(E)"),
    title="Nothing foreign passes above or below the panel",
    why="A pipe that leaks above a panel fills it with water.",
    look_for="From the floor to six feet above the panel (or to the ceiling), as wide and deep as the panel: no pipe, duct or tank.",
    cure="Move the pipe or duct out of that space, or move the panel.",
    mistakes="The drain of the bathroom above; a duct boxed in right over the panel.",
    plain="Keep water pipes and ducts out of the space above the panel.",
)
