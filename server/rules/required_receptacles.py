"""Receptacles that certain places must have indoors: beside basins, in laundries, garages, basements and outbuildings.

The counting is ``server.reckon.required_receptacles``.
"""

from __future__ import annotations

from server.dwelling import (
    Box,
    Dwelling,
    Fixture,
    FixtureKind,
    Inches,
    Room,
    RoomKind,
    Stage,
    format_length,
)
from server.editions import Edition
from server.reckon.required_receptacles import (
    Basin,
    BathReceptacle,
    GarageReceptacle,
    bathroom_receptacles,
    garage_and_basement_receptacles,
    laundry_receptacle,
)
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import by_look, observed
from server.rules.outcome import Missing, Outcome, clear, outside, unseen
from server.rules.receptacle_counts import COUNT_SAYS, counted, plain_receptacle
from server.rules.room_plan import distance_to, placed_fixture
from server.rules.room_spacing import required_receptacles_in
from server.rules.rule import Kind, rule

__all__ = [
    "accessory_building_receptacle",
    "basement_receptacle",
    "bathroom_receptacle",
    "garage_receptacle",
    "laundry_receptacle_rule",
]


@rule(
    id="bathroom-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(D)"),
    title="A receptacle is beside each basin",
    why="Hair dryers and razors are used at the mirror; a cord across the basin is the worst place for one.",
    look_for="Within three feet of the outside edge of each basin, on the wall beside it, on the counter, or on the cabinet not more "
    "than a foot below the top. One between two basins serves both if it is near enough to each.",
    cure="Set a receptacle on the wall within three feet of the edge of that basin.",
    says=COUNT_SAYS | {
        "all": "Each of {basins:n} basins has a receptacle within reach.",
        "no-basin": "No basin is recorded in this bathroom.",
    },
    mistakes="The receptacle over the toilet, four feet from the basin; one inside the medicine cabinet.",
    plain="Put an outlet within three feet of every bathroom sink.",
)  # fmt: skip
def bathroom_receptacle(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The room's receptacles against the edge of each basin."""
    basins = [
        f for f in house.fixtures_of_room.get(room.id, ()) if f.kind in (FixtureKind.BASIN, FixtureKind.SINK)
    ]
    if room.kind is not RoomKind.BATHROOM and not (room.kind is RoomKind.TOILET_ROOM and basins):
        return outside("other-room", kind="bathroom")
    if not basins:
        return unseen("no-basin", Missing("the basins of the bathroom", "fixture"))
    reach_in = code.number("outlet.bathroom.reach_in", work)
    receptacles = [
        BathReceptacle(
            plain_receptacle(device, box, house),
            {basin.id: away for basin in basins if (away := _from_basin(box, basin, len(basins), reach_in, house)) is not None},
            where="cabinet" if box.below_counter_in is not None else "wall",
            below_top_in=box.below_counter_in,
        )
        for device, box in required_receptacles_in(room, house)
    ]  # fmt: skip
    for found in bathroom_receptacles([Basin(basin.id) for basin in basins], receptacles, code, work):
        if not found.complies:
            basin = house.fixtures[found.subject]
            named = basin.name or (
                f"the basin at {format_length(basin.at_in)}" if basin.at_in else "the basin"
            )
            answer = counted(found, "box.from_sink_in", house)
            operands = {**answer.operands, "subject": named[0].upper() + named[1:]}
            return Outcome(answer.verdict, answer.reason, operands, answer.missing, answer.cites)
    return clear("all", cites=code.cites("outlet.bathroom.reach_in"), basins=len(basins))


def _from_basin(box: Box, basin: Fixture, basins: int, reach_in: Inches, house: Dwelling) -> Inches | None:
    """From the outside edge of a basin: the tape's where there is only one, else what the plan settles."""
    if box.from_sink_in is not None and basins == 1:
        return box.from_sink_in
    thing = placed_fixture(basin, house, sink=True)
    bounds = distance_to(box, thing, house) if thing is not None else None
    return None if bounds is None else bounds.across(reach_in)


@rule(
    id="laundry-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(F)"),
    title="The laundry has a receptacle",
    why="The washer has a short cord and must not share an extension with the iron.",
    look_for="At least one receptacle where the laundry equipment will stand, within six feet of the washer.",
    cure="Set a receptacle for the washer on the laundry circuit.",
    says=COUNT_SAYS,
    plain="The laundry area needs at least one outlet for the washer.",
)
def laundry_receptacle_rule(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A receptacle of the laundry that counts."""
    if room.kind is not RoomKind.LAUNDRY:
        return outside("other-room", kind="laundry")
    if not house.boxes_of_room.get(room.id):
        return unseen("fact-missing", Missing("the room's boxes", "box"), subject=room.name,
                      why="an area for laundry equipment", question="its boxes, none of which is recorded yet")  # fmt: skip
    receptacles = [
        plain_receptacle(device, box, house) for device, box in required_receptacles_in(room, house)
    ]
    return counted(laundry_receptacle(room.name, receptacles, code, work), "box", house)


def _in_building(room: Room, house: Dwelling) -> list[GarageReceptacle]:
    return [
        GarageReceptacle(
            plain_receptacle(device, box, house), room.name,
            for_equipment=device.dedicated or (device.fixture_id is not None and device.serves != "general"),
            security=device.serves == "security panel",
        )
        for device, box in required_receptacles_in(room, house)
    ]  # fmt: skip


@rule(
    id="garage-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    kind=Kind.SEEN,
    cites=carried("210.52(G)(1)"),
    title="Each bay of the garage has a receptacle",
    why="One does not reach across a car with a vacuum cleaner or a charger.",
    look_for="One receptacle in every vehicle bay, not higher than five and a half feet, besides those for the door opener and the freezer.",
    cure="Set a receptacle in the bay that has none.",
    says=COUNT_SAYS | {
        "looked-right": "{who} looked and found one in each bay{noted}.",
        "looked-wrong": "{who} looked and found a bay without one{noted}.",
        "bays-not-looked": "{receptacles:n} receptacles count; whether each vehicle bay has one nobody has looked.",
        "nothing-recorded": "No box is recorded in this garage yet.",
    },
    mistakes="Counting the ceiling receptacle of the door opener.",
    plain="Each parking bay in the garage needs an outlet on the wall.",
)  # fmt: skip
def garage_receptacle(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The garage's receptacles that count; how they fall on the bays is a look."""
    if room.kind is not RoomKind.GARAGE:
        return outside("other-room", kind="garage")
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the boxes of the garage", "box"))
    found = garage_and_basement_receptacles("garage", [room.name], _in_building(room, house), code, work)[0]
    seen = observed(house, room, "garage-receptacle")
    if not found.complies:
        return counted(found, "box.height_in", house)
    if seen is None:
        return unseen("bays-not-looked", Missing("a look"), cites=found.cites, receptacles=len(found.counted))
    return by_look(seen, cites=found.cites)


@rule(
    id="basement-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(G)(3)"),
    title="Each unfinished part of the basement has a receptacle",
    why="Pumps, dehumidifiers and work lights end up there, on whatever cord is at hand.",
    look_for="One receptacle in every separate unfinished portion, besides those for the washer, the furnace or a pump.",
    cure="Set a receptacle in that part of the basement.",
    says=COUNT_SAYS | {
        "finished": "The room is finished and has its receptacles along the walls.",
        "finished-not-recorded": "Whether this part of the basement is finished is not recorded.",
        "nothing-recorded": "No box is recorded in this part of the basement yet.",
    },
    plain="Each unfinished part of the basement needs its own outlet.",
)  # fmt: skip
def basement_receptacle(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The receptacles of an unfinished basement room that count."""
    if room.kind is not RoomKind.BASEMENT:
        return outside("other-room", kind="basement")
    if room.finished is None:
        return unseen("finished-not-recorded", Missing("whether the room is finished", "room.finished"))
    if room.finished:
        return outside("finished")
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the room's boxes", "box"))
    found = garage_and_basement_receptacles("basement", [room.name], _in_building(room, house), code, work)[0]
    return counted(found, "box", house)


@rule(
    id="accessory-building-receptacle",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(G)(2)"),
    title="A building with power has a receptacle",
    why="A shed with a light gets an extension cord through its window otherwise.",
    look_for="At least one receptacle in every separate building that has power.",
    cure="Set a receptacle in the building.",
    says=COUNT_SAYS | {"no-power": "No box is recorded in this building, so it has no power as far as recorded."},
    plain="A shed or outbuilding with electricity needs at least one outlet.",
)  # fmt: skip
def accessory_building_receptacle(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The receptacles of a powered outbuilding that count."""
    if room.kind is not RoomKind.ACCESSORY_BUILDING:
        return outside("other-room", kind="building beside the house")
    if not house.boxes_of_room.get(room.id):
        return unseen("no-power", Missing("the boxes of the building", "box"))
    found = garage_and_basement_receptacles(
        "accessory building", [room.name], _in_building(room, house), code, work, attached=False
    )[0]
    return counted(found, "box", house)
