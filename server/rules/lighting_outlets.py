"""Lighting outlets of passages, entrances, stairs and storage spaces, and what turns them."""

from __future__ import annotations

from server.dwelling import Dwelling, OpeningKind, Room, RoomKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.looks import by_look, look, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import in_rooms
from server.rules.rule import Kind, rule
from server.rules.switching import RoomLights, room_lights, wall_switches_of

__all__ = [
    "entrance_light",
    "passage_light",
    "stair_dimming",
    "stair_light_reaches",
    "stair_switches",
    "storage_light",
]

_DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)


def _unlit(lights: RoomLights, room: Room, house: Dwelling) -> Outcome:
    """What is wrong, or missing, in a room that has no light under a switch."""
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the room's boxes", "box"))
    if lights.unswitched and lights.idle_switches:
        return unseen("controls-not-recorded", Missing("what the switch controls", "device.controls"))
    return correction("no-switch" if lights.unswitched else "no-light")


_SAYS = {
    "light": "{lights:n} of its lights are under a wall switch.",
    "no-switch": "There is a light, and no wall switch is recorded for it.",
    "no-light": "No light under a wall switch is recorded here.",
    "controls-not-recorded": "There is a light and a switch, and what the switch controls is not recorded.",
    "nothing-recorded": "No box is recorded here yet.",
    "other-room": "A {kind} has other rules for its light.",
}


@rule(
    id="passage-light",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(2)"),
    title="The passage has a light under a wall switch",
    why="Halls, stairs and garages are where people walk at night with their hands full.",
    look_for="A lighting outlet in every hallway, stair and garage, and a wall switch on the way in. A switched receptacle "
    "will not do here.",
    cure="Add a ceiling or wall lighting outlet, with a switch leg to a box on the way in.",
    says=_SAYS,
    cures={"no-switch": "Bring a switch leg from the light to a box on the way in."},
    mistakes="A garage lit only by the door opener; a back hall whose light hangs on the kitchen switch out of sight.",
    plain="Hallways, stairs and garages need a light with a wall switch.",
)
def passage_light(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A switched luminaire in a hallway, foyer, stair or garage."""
    if room.kind not in code.names("lighting.passages", work):
        return outside("other-room", kind=str(room.kind))
    lights = room_lights(house, room.id)
    return clear("light", lights=len(lights.switched)) if lights.switched else _unlit(lights, room, house)


@rule(
    id="entrance-light",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(2)"),
    title="Each entrance has a light outside under a switch",
    why="One should see the step, the lock, and who is standing there.",
    look_for="On the outside of every door that one can walk up to from the ground, garage side doors included: a light, "
    "turned from inside. A garage's vehicle door is not an entrance.",
    cure="Add a lighting outlet beside or above the door, with its switch inside.",
    says=_SAYS | {
        "door-not-recorded": "Whether a door leads out here is not recorded.",
        "no-entrance": "No door leads out here.",
    },
    cures={"no-switch": "Bring a switch leg to a box inside the door."},
    mistakes="The side door of the garage; the sliding door at the back.",
    plain="Every outside door needs an outside light that you can turn on from inside.",
)  # fmt: skip
def entrance_light(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A switched luminaire outdoors where a door leads out."""
    if room.kind not in (RoomKind.OUTDOORS, RoomKind.DECK):
        return outside("other-room", kind=str(room.kind))
    lights = room_lights(house, room.id)
    if lights.switched:
        return clear("light", lights=len(lights.switched))
    openings = [
        item
        for wall in house.walls_of_room.get(room.id, ())
        for item in house.openings_of_wall.get(wall.id, ())
    ]
    if not openings:
        return unseen("door-not-recorded", Missing("the doors that lead out here", "opening"))
    if all(item.kind not in _DOORS for item in openings):
        return outside("no-entrance")
    return _unlit(lights, room, house)


@rule(
    id="stair-switches",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(2)"),
    title="A stair's light is turned from both ends",
    why="Whoever stands at the dark end has to be able to light the steps before walking them.",
    look_for="Six risers and more between two floors: a switch at each floor, and at a landing with a door. Five or fewer: one is enough.",
    cure="Add a three-way switch at the other end of the stair, with a three-wire cable between the two.",
    says={
        "both-ends": "{risers:n} risers; its light is turned from {controls:n} places, and {least:n} is the fewest.",
        "one-end": "{risers:n} risers, and its light is turned from {controls:n} place; {least:n} is the fewest.",
        "few-risers": "{risers:n} risers are fewer than {from_risers:n}: one switch is enough.",
        "risers-not-recorded": "How many risers the stair has is not recorded.",
        "no-light": "No light under a switch is recorded on this stair.",
        "other-room": "Only stairs are meant.",
    },
    mistakes="Counting treads instead of risers; the second switch in a room beyond a door.",
    plain="A staircase with six or more steps up needs a light switch at the top and at the bottom.",
)
def stair_switches(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The places from which one of the stair's lights is turned, against its risers."""
    if room.kind is not RoomKind.STAIR:
        return outside("other-room")
    from_risers = code.number("lighting.stair_risers", work)
    if room.risers is None:
        return unseen("risers-not-recorded", Missing("the number of risers", "room.risers"))
    if room.risers < from_risers:
        return clear("few-risers", risers=room.risers, from_risers=from_risers)
    lights = room_lights(house, room.id).switched
    if not lights:
        return unseen("no-light", Missing("the stair's light and its switches", "device.controls"))
    least = code.number("lighting.stair_controls", work)
    controls = max(len({switch.box_id for switch in wall_switches_of(light, house)}) for light in lights)
    if work:
        work.step(
            f"{room.risers} risers; places that turn one light",
            controls,
            "count",
            code.cites("lighting.stair_controls"),
        )
    outcome, reason = (clear, "both-ends") if controls >= least else (correction, "one-end")
    return outcome(reason, risers=room.risers, controls=controls, least=least)


stair_light_reaches = look(
    id="stair-light-reaches",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(2), IRC R303.7"),
    title="The stair's light reaches every step",
    why="One light at the top leaves the lowest steps in the shadow of whoever walks down.",
    look_for="A lighting outlet over or beside the stair so that every tread and landing is lit, turns included.",
    cure="Add a lighting outlet over the dark part of the stair, on the same switches.",
    applies=in_rooms(RoomKind.STAIR),
    mistakes="Relying on the hall light around the corner.",
    plain="The light must shine on every step of the stairs.",
)


@rule(
    id="stair-dimming",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(2)(4)"),
    title="A dimmed stair light can be made bright from everywhere",
    why="A stair that somebody dimmed from above is dark for the one who comes from below.",
    look_for="No dimmer on a stair's light, or a dimmer at every control that brings it to full brightness.",
    cure="Fit a switch in place of the dimmer, or companion dimmers that give full brightness at every control.",
    says={
        "plain": "No dimmer turns the stair's light.",
        "all-dim": "Every control of the stair's light is a dimmer.",
        "some-dim": "{dimmers:n} of {controls:n} controls of a stair light dim it; the others cannot make it bright.",
        "no-light": "No light under a switch is recorded on this stair.",
        "other-room": "Only stairs are meant.",
    },
    plain="If you want a dimmer on the stairs, the light must still go to full brightness from every switch.",
)
def stair_dimming(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Dimmers among the controls of each stair light."""
    if room.kind is not RoomKind.STAIR:
        return outside("other-room")
    lights = room_lights(house, room.id).switched
    if not lights:
        return unseen("no-light", Missing("the stair's light and its switches", "device.controls"))
    dimmed = False
    for light in lights:
        controls = wall_switches_of(light, house)
        dimmers = sum(switch.dimmer for switch in controls)
        if work:
            work.step("dimmers among the controls of a light", dimmers, "count", "210.70(A)(2)(4)")
        if 0 < dimmers < len(controls):
            return correction("some-dim", dimmers=dimmers, controls=len(controls))
        dimmed = dimmed or dimmers > 0
    return clear("all-dim" if dimmed else "plain")


@rule(
    id="storage-light",
    stage=Stage.ROUGH_IN,
    about=Room,
    kind=Kind.SEEN,
    cites=moved(e2017="210.70(C)"),
    title="The storage or equipment space has a light that is turned at its entry",
    why="Whoever crawls in to the furnace with a flashlight in the teeth steps through the ceiling.",
    look_for="In attics, crawl spaces, basements and utility rooms for storage or equipment: a light with its own switch or a "
    "wall switch at the usual way in, and one near the equipment. A switched receptacle will not do.",
    cure="Add a lighting outlet near the equipment, with its switch at the usual way in.",
    says=_SAYS | {
        "own-switch": "{who} looked: the light has a switch of its own at the way in, or nothing is kept here{noted}.",
        "looked-wrong": "{who} looked: the light cannot be turned from the way in{noted}.",
        "use-not-recorded": "No light under a wall switch is recorded; whether this {kind} is for storage or equipment nobody has said.",
        "own-switch-not-looked": "There is a light without a wall switch; whether it has a switch of its own at the way in nobody has looked.",
    },
    cures={"no-switch": "Fit a pull-chain at the way in, or a wall switch there."},
    mistakes="One light at the hatch and none at the air handler, thirty feet away.",
    plain="Attics and crawl spaces with equipment or storage need a light you can switch on before you climb in.",
)  # fmt: skip
def storage_light(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A switched light, or one with its own switch as somebody saw, where things are kept or serviced."""
    if room.kind not in code.names("lighting.storage_places", work):
        return outside("other-room", kind=str(room.kind))
    lights = room_lights(house, room.id)
    if lights.switched:
        return clear("light", lights=len(lights.switched))
    seen = observed(house, room, "storage-light")
    if seen is not None:
        return by_look(seen, right="own-switch")
    if lights.unswitched:
        return unseen("own-switch-not-looked", Missing("a look"))
    equipped = room.kind in code.names("lighting.storage_places_always") or house.fixtures_of_room.get(
        room.id
    )
    if not equipped:
        return unseen("use-not-recorded", Missing("a look at what the space is for"), kind=str(room.kind))
    return _unlit(lights, room, house)
