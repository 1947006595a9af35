"""Luminaires in closets and in insulated ceilings, where something can catch fire."""

from __future__ import annotations

from server.dwelling import Device, DeviceKind, Dwelling, Room, RoomKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import Applies, look, measured
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import all_of, has_devices, in_rooms
from server.rules.rule import Measure, rule
from server.rules.switching import room_lights

__all__ = [
    "closet_light_fluorescent",
    "closet_light_kind",
    "closet_light_recessed",
    "closet_light_surface",
    "recessed_in_insulation",
    "recessed_listed",
    "recessed_near_wood",
]

_BARE = ("bare", "open", "pendant", "lampholder", "keyless")
_IN_CLOSET = in_rooms(RoomKind.CLOSET)


def _lights(room: Room, house: Dwelling) -> list[Device]:
    lights = room_lights(house, room.id)
    return [*lights.switched, *lights.unswitched]


def _has(recessed: bool, *, asks_which: bool = False) -> Applies:
    """The room has a luminaire that is recessed (or is not). Where nobody said, one rule of a set asks which."""
    words = "recessed" if recessed else "surface-mounted"
    why = f"No {words} luminaire is recorded here."

    def asks(room: Room, house: Dwelling, code: Edition) -> str | Missing | None:
        lights = _lights(room, house)
        if any(light.recessed is recessed for light in lights):
            return None
        if asks_which and any(light.recessed is None for light in lights):
            return Missing("whether the luminaire is recessed", "device.recessed")
        return why

    return asks


def _fluorescent(light: Device) -> bool:
    return "fluorescent" in light.lamp.lower()


def _tubes(wanted: bool) -> Applies:
    """Surface luminaires with fluorescent lamps keep another distance than all others."""
    others = "No surface-mounted luminaire is recorded here but fluorescent ones."
    why = "No surface-mounted fluorescent luminaire is recorded here." if wanted else others

    def asks(room: Room, house: Dwelling, code: Edition) -> str | Missing | None:
        surface = [light for light in _lights(room, house) if not light.recessed]
        return None if any(_fluorescent(light) is wanted for light in surface) else why

    return asks


_RECESSED = _has(True)
_PERHAPS_RECESSED = _has(True, asks_which=True)
_PERHAPS_SURFACE = _has(False, asks_which=True)


@rule(
    id="closet-light-kind",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.16(A), (B)"),
    title="A closet has no bare or hanging lamp",
    why="Clothes and boxes get pushed against a hot lamp and smolder.",
    look_for="Enclosed LED or incandescent luminaires, fluorescent ones, or those listed for closets: on the ceiling, on the wall "
    "above the door, or recessed. No bare bulb, no pendant.",
    cure="Fit an enclosed LED luminaire where it clears the shelves.",
    says={
        "enclosed": "No luminaire here is bare or hanging (luminaires: {lights:n}).",
        "bare": "A luminaire here is recorded as {lamp}.",
        "lamp-not-recorded": "What kind of lamp the closet's luminaire has is not recorded.",
        "no-light": "No luminaire is recorded in this closet.",
        "other-room": "Only closets are meant.",
    },
    mistakes="A porcelain lampholder with a bare bulb over the shelf.",
    plain="No bare bulbs in closets.",
)
def closet_light_kind(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The lamps recorded in a closet."""
    if room.kind is not RoomKind.CLOSET:
        return outside("other-room")
    lights = _lights(room, house)
    if not lights:
        return outside("no-light")
    for light in lights:
        if work:
            work.step("lamp", light.lamp or "not recorded", "", "410.16(A), (B)")
        if any(word in light.lamp.lower() for word in _BARE):
            return correction("bare", lamp=light.lamp)
    if any(not light.lamp and not light.recessed for light in lights):
        return unseen("lamp-not-recorded", Missing("the kind of lamp", "device.lamp"))
    return clear("enclosed", lights=len(lights))


closet_light_surface = measured(
    id="closet-light-surface",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.16(C)(1)"),
    title="A surface luminaire keeps clear of the closet's storage space",
    why="The storage space is what shelves and hanging clothes take up; a warm luminaire stays away from it.",
    look_for="A foot from an enclosed LED or incandescent luminaire to the nearest shelf edge and to the line of the clothes. The space reaches two feet out from the walls below the rod, and a foot (or the shelf) above.",
    cure="Move the luminaire toward the door or to the wall above it, or use a recessed or listed closet luminaire.",
    measure=Measure(
        unit="in",
        limit="closet.surface_enclosed_in",
        least=True,
        how="Measure from the luminaire's edge to the nearest point of the storage space: shelf or line of clothes.",
        worst="the luminaire nearest to a shelf",
    ),
    applies=all_of(_IN_CLOSET, _PERHAPS_SURFACE, _tubes(False)),
    mistakes="Centering the box in a closet less than three feet deep.",
    plain="Keep a closet light at least a foot away from the shelves and clothes.",
)

closet_light_fluorescent = measured(
    id="closet-light-fluorescent",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.16(C)(2)"),
    title="A surface fluorescent luminaire keeps clear of the closet's storage space",
    why="Tubes run cooler than lamps and may be nearer, but cardboard against a ballast still chars.",
    look_for="Half a foot from the luminaire to the nearest shelf edge and to the line of the clothes.",
    cure="Move the luminaire toward the door or to the wall above it.",
    measure=Measure(
        unit="in",
        limit="closet.surface_fluorescent_in",
        least=True,
        how="Measure from the luminaire's edge to the nearest point of the storage space: shelf or line of clothes.",
        worst="the fluorescent luminaire nearest to a shelf",
    ),
    applies=all_of(_IN_CLOSET, _tubes(True)),
    plain="Keep a fluorescent closet light at least six inches away from the shelves and clothes.",
)

closet_light_recessed = measured(
    id="closet-light-recessed",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.16(C)(3), (4)"),
    title="A recessed luminaire keeps clear of the closet's storage space",
    why="Even a recessed lamp warms what is pushed up against it.",
    look_for="Half a foot from the rim of the housing to the nearest shelf edge or line of clothes.",
    cure="Move the housing toward the door before the ceiling is closed.",
    measure=Measure(
        unit="in",
        limit="closet.recessed_in",
        least=True,
        how="Measure from the rim of the housing to the nearest point of the storage space.",
        worst="the housing nearest to a shelf",
    ),
    applies=all_of(_IN_CLOSET, _RECESSED),
    plain="Keep a recessed closet light at least six inches away from the shelves.",
)

_LIGHTS = has_devices(DeviceKind.LUMINAIRE)

recessed_in_insulation = look(
    id="recessed-in-insulation",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.116"),
    title="Recessed housings under insulation are made for it",
    why="A housing that cannot shed its heat cooks its wires and the wood around it.",
    look_for="The IC marking on every housing in an insulated ceiling; sealed (airtight) ones where the energy code asks.",
    cure="Change to an IC-rated housing before the insulation goes in.",
    applies=all_of(_LIGHTS, _PERHAPS_RECESSED),
    mistakes="Boxing a non-IC housing with scraps and letting the insulation crew bury it.",
    plain="Recessed lights that will be covered with insulation must be marked IC.",
)

recessed_near_wood = measured(
    id="recessed-near-wood",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.116(A)(1)"),
    title="A housing without IC rating keeps clear of wood",
    why="Its shell runs hot enough to char wood over the years.",
    look_for="Half an inch from the shell to any joist or blocking, save at its feet; three inches to insulation.",
    cure="Shift the housing on its bars, or change to an IC-rated one.",
    measure=Measure(
        unit="in",
        limit="recessed.non_ic_wood_in",
        least=True,
        how="Measure from the shell of the housing to the nearest wood, its mounting points apart.",
        worst="the housing set tightest against a joist",
    ),
    applies=all_of(_LIGHTS, _RECESSED),
    plain="Recessed lights not marked IC need half an inch of air to wood.",
)

recessed_listed = look(
    id="recessed-listed",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.115(C)"),
    title="Recessed housings are wired and thermally protected",
    why="The thermal protector goes out before the ceiling does; and a housing is wired at rough-in, because its box is inside.",
    look_for="The thermal-protection marking, housings fastened on their bars, the cable made up in the housing's box with its cover on.",
    cure="Make up the joint in the housing's own box and snap its cover on; change a housing without protection.",
    applies=all_of(_LIGHTS, _RECESSED),
    plain="Recessed lights are wired before the ceiling goes up.",
)
