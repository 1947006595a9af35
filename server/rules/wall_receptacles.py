"""Receptacles along the walls: rooms, foyers and hallways, with what a switched one is worth."""

from __future__ import annotations

from dataclasses import replace

from server.dwelling import Dwelling, Room, Stage, format_length
from server.editions import Edition
from server.reckon.floor_line import LayoutError
from server.reckon.remembered import remembered
from server.reckon.spacing_result import WallSpacing
from server.reckon.wall_layout import WallLayout
from server.reckon.wall_spacing import reckon_wall_spacing, room_rule
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Lazily, Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.room_spacing import Laid, wall_layout_of, walls_kind
from server.rules.rule import rule

__all__ = ["hallway_receptacle", "wall_receptacle_spacing"]


def _where(found: WallSpacing, layout: WallLayout) -> str:
    worst = max(found.uncovered, key=lambda part: part.length_in)
    more = len(found.uncovered) - 1
    also = f", and {more} more stretch{'es' if more > 1 else ''}" if more else ""
    return f"{format_length(worst.length_in)} of wall ({worst}){also}"


def _short(found: WallSpacing) -> str:
    """The worst stretch as a tape finds it: from receptacle to receptacle, and how much of it no cord reaches."""
    worst = max(found.uncovered, key=lambda part: part.length_in)
    more = len(found.uncovered) - 1
    also = f"; {more} more stretch{'es' if more > 1 else ''} beside it" if more else ""
    gaps = [gap for space in found.spaces if worst in space.uncovered for gap in space.gaps if gap.over_in]
    gap = next((gap for gap in gaps if gap.over_in == worst.length_in), None)
    if gap is None:
        return f"{format_length(worst.length_in)} of wall ({worst}) has no receptacle in reach{also}."
    return (
        f"{format_length(gap.part.length_in)} of wall {gap.ends} ({gap.part}), at most {format_length(gap.most_in)}: "
        f"{format_length(worst.length_in)} of it is out of reach{also}."
    )


def _cure(layout: WallLayout, code: Edition) -> str:
    added = reckon_wall_spacing(layout, code).added
    if not added:
        return "Add a receptacle in the wall space that has none within reach."
    places = "; ".join(f"{item.place} ({item.ground})" for item in added)
    return f"Add {'one receptacle' if len(added) == 1 else f'{len(added)} receptacles'}: {places}."


@rule(
    id="wall-receptacle-spacing",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(A)"),
    title="No point along the walls is far from a receptacle",
    why="A lamp has six feet of cord. Where a receptacle is missing somebody runs an extension cord under the rug, and "
    "that is how fires start.",
    look_for="Walk the floor line from door to door and around corners: no point more than six feet from a receptacle in "
    "the same wall space, every space of two feet and more with one. Doors, fireplaces and tall cabinets end a space; windows do not.",
    cure="Add a receptacle within six feet of the uncovered stretch, in the same wall space.",
    says={
        "covered": "Every wall space is in reach of a receptacle (wall spaces: {spaces:n}, receptacles: {receptacles:n}).",
        "none-needed": "{why}",
        "uncovered": "{short}",
        "switched-only": "{where} has only a receptacle that the wall switch turns off: it stands for the light and does not count.",
        "not-allowed": "{why}",
        "doubt": "It turns on {question}.",
        "no-walls": "The walls of this room are not recorded.",
        "not-placed": "{where} has no receptacle within reach, and where {receptacles:n} of the room's receptacles are is not recorded.",
        "area-not-recorded": "It turns on {question}.",
        "layout": "The walls as recorded cannot be: {problem}.",
        "other-room": "The spacing of wall receptacles does not reach a {kind}.",
    },
    cures={
        "uncovered": "{cure}",
        "switched-only": "Break the tab so that one half of the switched receptacle stays live, or: {cure}",
        "not-allowed": "Move the receptacle out of the space where it may not be.",
    },
    mistakes="Measuring across a doorway; leaving the wall behind the door without one; counting the receptacle that the "
    "wall switch turns.",
    plain="Along every wall you should never be more than six feet from an outlet, and any piece of wall two feet or wider needs one.",
)
def wall_receptacle_spacing(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The wall spaces of the room against the receptacles that count in them."""
    if room_rule(walls_kind(room, code), code) not in ("spacing", "foyer"):
        return outside("other-room", kind=str(room.kind))
    laid = wall_layout_of(room, house, code)
    if laid is None:
        return unseen("no-walls", Missing("the walls of the room", "wall"))
    try:
        found = _spacing(laid.walls, code, work)
    except LayoutError as error:
        return unseen(
            "layout", Missing("walls and openings that fit each other", "opening"), problem=str(error)
        )
    return _verdict(found, laid, code)


def _spacing(layout: WallLayout, code: Edition, work: Work) -> WallSpacing:
    return reckon_wall_spacing(layout, code, work, propose=False) if work else _known(layout, code)


@remembered(4096)
def _known(layout: WallLayout, code: Edition) -> WallSpacing:
    """A room's walls change seldom, and the house around it often."""
    return reckon_wall_spacing(layout, code, propose=False)


def _verdict(found: WallSpacing, laid: Laid, code: Edition) -> Outcome:
    cites = code.cites("spacing.foyer.least_width_in" if found.rule == "foyer" else "spacing.wall.reach_in")
    if found.complies:
        if not found.spaces:
            return clear("none-needed", cites=cites, why=found.why[0].upper() + found.why[1:] + ".")
        receptacles = sum(len(space.receptacles) for space in found.spaces)
        return clear("covered", cites=cites, spaces=len(found.spaces), receptacles=receptacles)
    if found.complies is None:
        missing = Missing("the floor area of the room", "room.floor_area_ft2")
        return unseen("area-not-recorded", missing, cites=cites, question=found.unseen[0])
    if found.not_allowed and not found.uncovered:
        return correction("not-allowed", cites=found.not_allowed[0].cites, why=found.not_allowed[0].why)
    where = Lazily(lambda: _where(found, laid.walls))
    if laid.unplaced:
        missing = Missing("where along the walls the receptacle is", "box.at_in")
        return unseen("not-placed", missing, cites=cites, where=where, receptacles=len(laid.unplaced))
    doubtful = next(
        (each for each in found.both_ways if each.complies_if_it_breaks or each.complies_if_not), None
    )
    if doubtful is not None:
        return ask_inspector("doubt", cites=cites, question=doubtful.question)
    cure = Lazily(lambda: _cure(laid.walls, code))
    if _switched_would_serve(laid.walls, code):
        return correction(
            "switched-only", cites=code.cites("spacing.switched_not_counted"), where=where, cure=cure
        )
    return correction("uncovered", cites=cites, short=Lazily(lambda: _short(found)), cure=cure)


def _switched_would_serve(layout: WallLayout, code: Edition) -> bool:
    """Whether the walls would be served if the receptacles under a switch counted."""
    if layout.lighting_outlet or all(each.switched != "whole" for each in layout.receptacles):
        return False
    counting = _known(replace(layout, lighting_outlet=True), code)
    return counting.complies is True


@rule(
    id="hallway-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(H)"),
    title="A long hallway has a receptacle",
    why="The vacuum cleaner needs one, and so does the night light.",
    look_for="Hallways of ten feet and more, measured along the middle without passing a doorway: one receptacle anywhere in it.",
    cure="Add one receptacle anywhere in the hallway, not more than five and a half feet above the floor.",
    says={
        "has-one": "{why}; it has {receptacles:n}.",
        "short": "{why}.",
        "none": "{why}; none is recorded that counts.",
        "length-not-recorded": "How long the hallway is along its middle is not recorded.",
        "no-walls": "The walls of this hallway are not recorded.",
        "layout": "The walls as recorded cannot be: {problem}.",
        "other-room": "Only hallways are meant.",
    },
    plain="A hallway ten feet or longer needs one outlet.",
)
def hallway_receptacle(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The hallway's length along its middle against its receptacles."""
    if room_rule(str(room.kind), code) != "hallway":
        return outside("other-room")
    laid = wall_layout_of(room, house, code)
    if laid is None:
        return unseen("no-walls", Missing("the walls of the room", "wall"))
    try:
        found = _spacing(laid.walls, code, work)
    except LayoutError as error:
        return unseen(
            "layout", Missing("walls and openings that fit each other", "opening"), problem=str(error)
        )
    cites = code.cites("outlet.hallway.least_length_in")
    if found.complies is None:
        return unseen(
            "length-not-recorded", Missing("the length of the hallway", "room.length_in"), cites=cites
        )
    why = found.why[0].upper() + found.why[1:]
    if found.fewest == 0:
        return clear("short", cites=cites, why=why)
    if found.complies:
        counted = len(laid.walls.receptacles) - len(found.uncounted)
        return clear("has-one", cites=cites, why=why, receptacles=counted)
    if laid.unplaced:
        # wherever it stands in the hallway it counts
        return clear("has-one", cites=cites, why=why, receptacles=len(laid.unplaced))
    return correction("none", cites=cites, why=why)
