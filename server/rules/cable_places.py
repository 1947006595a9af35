"""Cables where they show or where the place is hard on them: basements, attics, crawl spaces, floors, ducts, wet places."""

from __future__ import annotations

from server.dwelling import Box, Cable, Dwelling, Room, RoomKind, Site, Stage, Surface, Wetness
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import by_look, look, measured, observed
from server.rules.naming import box_name, cable_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import SHEATHED, all_of, has_cables, in_rooms, not_in_rooms
from server.rules.rule import Kind, Measure, rule

__all__ = [
    "air_spaces",
    "attic_cables_guarded",
    "cable_place",
    "exposed_cable",
    "joist_bottoms",
    "nm_through_floor",
    "wiring_methods_allowed",
]

_OPEN_BELOW = in_rooms(RoomKind.BASEMENT, RoomKind.CRAWL_SPACE)
_OPEN_ROOMS = in_rooms(
    RoomKind.BASEMENT, RoomKind.CRAWL_SPACE, RoomKind.GARAGE, RoomKind.UTILITY_ROOM, RoomKind.MECHANICAL_ROOM,
    RoomKind.WORKSHOP, RoomKind.ATTIC, RoomKind.ACCESSORY_BUILDING,
)  # fmt: skip
_OUT_OF_DOORS = (RoomKind.OUTDOORS, RoomKind.DECK)


def _known_unfinished(room: Room, house: Dwelling, code: Edition) -> str | None:
    return None if room.finished is False else "The room is not recorded as unfinished."


def _unfinished(room: Room, house: Dwelling, code: Edition) -> str | Missing | None:
    if room.finished is None:
        return Missing("whether the room is finished", "room.finished")
    return "The room is finished, so no cable shows." if room.finished else None


joist_bottoms = look(
    id="joist-bottoms",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.15(C)"),
    title="Small cables do not cross the bottoms of open joists",
    why="Under the joists of a basement they become the clothes line and the place to hang paint cans.",
    look_for="Cables at an angle to the joists go through bored holes or along a running board; only large cables (two 6 AWG "
    "or three 8 AWG and up) may be fastened straight to the joists.",
    cure="Bore the joists and pull the cable through, or fasten a running board and staple the cable to it.",
    applies=all_of(_OPEN_BELOW, _known_unfinished, has_cables(*SHEATHED)),
    mistakes="Stapling 14-2 across the joists of a crawl space because nobody goes there.",
    plain="In a basement or crawl space, run small cables through the joists or on a board, not across underneath.",
)

attic_cables_guarded = look(
    id="attic-cables-guarded",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.23, 320.23"),
    title="Cables in the attic are guarded where people climb",
    why="Knees and storage boxes land on whatever lies across the top of the joists.",
    look_for="Guard strips as high as the cable on both sides where it crosses the joists or rafters: within six feet of "
    "the hatch, or everywhere up to seven feet high where stairs or a ladder stay.",
    cure="Bore the joists, or nail strips as high as the cable along both its sides.",
    applies=all_of(in_rooms(RoomKind.ATTIC), has_cables()),
    mistakes="Draping home runs over the joists beside the hatch.",
    plain="Near the attic hatch, protect cables that cross the joists with strips of wood on both sides.",
)

exposed_cable = look(
    id="exposed-cable",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.15"),
    title="Cable that stays in sight follows the surface and is guarded",
    why="Where no board will cover it, the surface is what protects a cable.",
    look_for="Cables close along the wall, ceiling or running board; down an open or masonry wall in pipe or behind a board "
    "where things lean against it.",
    cure="Fasten the cable close to the surface, and sleeve it with pipe or cover it with a board where it can be struck.",
    applies=all_of(_OPEN_ROOMS, _unfinished, has_cables(*SHEATHED)),
    mistakes="A loose drop from the joists to a workbench receptacle on a block wall.",
    plain="Cable that will stay visible must hug the wall, and needs pipe around it where it could get hit.",
)

nm_through_floor = measured(
    id="nm-through-floor",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.15(B)"),
    title="Exposed cable is protected where it comes through the floor",
    why="Brooms, boxes and boots reach that far up.",
    look_for="Pipe or another guard around a cable that comes through a floor in the open, to half a foot above it.",
    cure="Sleeve the cable with pipe from below the floor to at least six inches above it.",
    measure=Measure(
        unit="in",
        limit="places.nm_above_floor_in",
        least=True,
        how="Measure from the floor to the top of the pipe or guard.",
        worst="the shortest sleeve in the room",
    ),
    applies=all_of(_OPEN_ROOMS, _known_unfinished, has_cables(*SHEATHED)),
    plain="A cable that comes up through the floor in the open needs a pipe around its first six inches.",
)

air_spaces = look(
    id="air-spaces",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.22(C)"),
    title="Wiring stays out of the spaces that carry air",
    why="Smoke from a burning cable in a return bay is blown into every room.",
    look_for="Stud and joist bays used as return air: nothing along them; cable straight across is let pass in a dwelling, "
    "and some departments want it sleeved. Nothing at all inside real ducts.",
    cure="Move the cable out of the bay, or take it straight across; sleeve it where the department asks.",
    applies=all_of(
        not_in_rooms(*_OUT_OF_DOORS, why="Outdoors no space carries the house's air."), has_cables()
    ),
    mistakes="Dropping a thermostat or furnace cable down the return bay because it is open.",
    plain="Do not run cables inside the wall or floor spaces that carry air for the furnace.",
)


@rule(
    id="cable-place",
    stage=Stage.ROUGH_IN,
    about=Cable,
    kind=Kind.SEEN,
    cites=carried("334.10, 334.12"),
    title="The cable is one that may be in this place",
    why="The paper and jacket of indoor cable soak up water; outdoors and in damp masonry they rot from inside.",
    look_for="NM-B only where it is always dry: not outdoors, not in pipe outdoors or underground, not in damp masonry. It "
    "may come to a box on an outside wall from behind, out of the dry wall. UF-B, or wet-rated conductors in pipe, for the rest.",
    cure="Run UF-B or wet-rated conductors in raceway for this stretch, and change over in a box in a dry place.",
    says={
        "dry": "Both ends of the cable are in dry places.",
        "wet-place": "The {cable} ends at {box}, out in the wet; it may only be where it is always dry.",
        "looked-right": "{who} looked: the cable stays inside the dry wall{noted}.",
        "looked-wrong": "{who} looked: the cable runs where it gets wet{noted}.",
        "from-behind": "The cable ends at a box that is outdoors or in the wet; whether it comes from inside the dry wall nobody has looked.",
        "any-place": "Dryness does not limit this kind of cable.",
        "ends-not-recorded": "Neither end of the cable is at a recorded box.",
    },
    mistakes="NM-B through the wall and on to a post light inside a pipe.",
    plain="Ordinary indoor cable must never be used outside or where it gets wet, not even inside a pipe.",
)
def cable_place(cable: Cable, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A cable for dry places against the places of its boxes."""
    if cable.kind not in code.names("places.dry_only_kinds", work):
        return outside("any-place")
    boxes = [house.boxes[end] for end in (cable.a_box_id, cable.b_box_id) if end and end in house.boxes]
    if not boxes:
        return unseen("ends-not-recorded", Missing("the boxes that it joins", "cable.a_box_id"))
    wet = [box for box in boxes if _is_wet(box, house)]
    if work:
        for box in boxes:
            work.step(
                box_name(box, house), "wet" if box in wet else "dry", "", code.cites("places.dry_only_kinds")
            )
    if not wet:
        return clear("dry")
    for box in wet:
        if box.surface is not Surface.WALL:
            return correction("wet-place", cable=cable_name(cable), box=box_name(box, house))
    seen = observed(house, cable, "cable-place")
    if seen is None:
        return unseen("from-behind", Missing("a look at where the cable comes from"))
    return by_look(seen)


def _is_wet(box: Box, house: Dwelling) -> bool:
    """Damp or wet as recorded; outdoors where nothing is recorded."""
    if box.wetness is not None:
        return box.wetness is not Wetness.DRY
    room = house.rooms.get(box.room_id)
    return room is not None and room.kind in _OUT_OF_DOORS


@rule(
    id="wiring-methods-allowed",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("334.10"),
    title="The wiring methods are those that the place allows",
    why="Some towns allow less than the code does: pipe throughout, or no plastic cable. It is found at the first visit, when "
    "everything has been pulled.",
    look_for="The department's own list of wiring methods, before the first cable is pulled.",
    cure="Run the method that the department asks for, or get its written leave for this one.",
    says={
        "allowed": "{kinds:list} may be used here.",
        "not-allowed": "{kinds:list} may not be used here: only {allowed:list}.",
        "no-cable": "No cable is recorded yet.",
    },
    mistakes="Assuming that what the next county allows holds here.",
    plain="Check which kinds of cable your town allows before you buy any.",
)
def wiring_methods_allowed(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The kinds of cable in the house against the edition's list, which a local amendment may have shortened."""
    used = dict.fromkeys(cable.kind for cable in house.facts.cables)
    if not used:
        return unseen("no-cable", Missing("the cables of the house", "cable"))
    allowed = code.names("wiring.kinds_allowed", work)
    wrong = tuple(str(kind).upper() for kind in used if kind not in allowed)
    cites = code.cites("wiring.kinds_allowed")
    if wrong:
        return correction(
            "not-allowed", cites=cites, kinds=wrong, allowed=tuple(each.upper() for each in allowed)
        )
    return clear("allowed", cites=cites, kinds=tuple(str(kind).upper() for kind in used))
