"""What must keep away from tubs and showers, and what belongs to them: hanging lights, receptacles, tub motors."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import (
    Box,
    DeviceKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Room,
    Stage,
    Surface,
)
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import by_look, look, measured, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import all_of, fixture_is, has_devices, has_fixtures
from server.rules.room_plan import distance_to, tubs_near
from server.rules.rule import Kind, Measure, rule

__all__ = ["hanging_over_tub", "hydromassage_access", "luminaire_in_shower", "receptacle_in_tub_zone"]

_BATHING = (FixtureKind.BATHTUB, FixtureKind.SHOWER, FixtureKind.HYDROMASSAGE_TUB)

hanging_over_tub = measured(
    id="hanging-over-tub",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("410.10(D)"),
    title="Nothing hangs over or beside the tub",
    why="A hand comes up wet from the bath and reaches what hangs there.",
    look_for="No pendant, chain-hung luminaire, track or paddle fan within three feet across and eight feet up from the rim of "
    "the tub or the threshold of the shower.",
    cure="Move the box, or use a luminaire tight to the ceiling that is listed for the place.",
    measure=Measure(
        unit="in",
        limit="tub.hanging_across_in",
        least=True,
        how="Measure across from the rim to the nearest part of anything that hangs lower than eight feet above the rim.",
        worst="the hanging luminaire nearest to the tub",
    ),
    applies=all_of(has_fixtures(*_BATHING), has_devices(DeviceKind.LUMINAIRE, DeviceKind.FAN)),
    mistakes="A chandelier over a free-standing tub under a nine-foot ceiling.",
    plain="No hanging lights or fans within three feet of a bathtub, up to eight feet above it.",
    danger="Never work on a luminaire while standing in a tub.",
)


@rule(
    id="receptacle-in-tub-zone",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.SEEN,
    cites=carried("406.9(C)"),
    title="No receptacle in the tub's or shower's zone",
    why="A cord that reaches the water kills.",
    look_for="No receptacle inside or over the tub or shower; from 2020 on none within three feet across and eight feet up, save "
    "on the far side of a wall, and save where a small bathroom leaves no other place.",
    cure="Move the receptacle out of the zone.",
    says={
        "clear-of-it": "It is {distance_in:in} from the tub or shower; the zone reaches {zone_in:in}.",
        "in-zone": "It is {distance_in:in} from the tub or shower; the zone reaches {zone_in:in}.",
        "over-tub": "It is over or inside the tub or shower.",
        "looked-right": "{who} looked and found it outside the zone{noted}.",
        "looked-wrong": "{who} looked and found it inside the zone{noted}.",
        "not-placed": "How far it is from the tub or shower cannot be told from what is recorded.",
        "no-receptacle": "No receptacle is in this box.",
        "no-tub": "No tub or shower is recorded in this room.",
        "above": "It is {height_in:in} above the floor, over the zone.",
    },
    mistakes="The receptacle beside a basin that stands next to the tub.",
    plain="Keep outlets at least three feet away from the bathtub or shower.",
    danger="Never use a corded appliance within reach of the tub.",
)
def receptacle_in_tub_zone(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The box's distance across from the tub against the zone (or against none, before 2020)."""
    if all(d.kind is not DeviceKind.RECEPTACLE for d in house.devices_of_box.get(box.id, ())):
        return outside("no-receptacle")
    tubs = tubs_near(house, box.room_id)
    if not tubs and box.from_tub_in is None:
        return outside("no-tub")
    up_in = code.number("tub.hanging_up_in", work)
    if box.surface is Surface.WALL and box.height_in is not None and box.height_in > up_in:
        return clear("above", height_in=box.height_in)
    seen = observed(house, box, "receptacle-in-tub-zone")
    if seen is not None:
        return by_look(seen)
    has_zone = code.has("tub.receptacle_zone_in")
    zone_in = code.number("tub.receptacle_zone_in", work) if has_zone else Fraction(0)
    distance_in = box.from_tub_in
    if distance_in is None:
        settled = [None if tub is None else distance_to(box, tub, house) for tub in tubs]
        found = [None if bounds is None else bounds.across(zone_in) for bounds in settled]
        if any(each is None for each in found):
            missing = Missing("its distance from the tub or shower", "box.from_tub_in")
            return unseen("not-placed", missing)
        distance_in = min(each for each in found if each is not None)
    if work:
        work.step(
            "distance across from the tub or shower", distance_in, "in", code.cites("tub.receptacle_zone_in")
        )
    if not has_zone and distance_in <= 0:
        return correction("over-tub")
    if has_zone and distance_in < zone_in:
        return correction("in-zone", distance_in=distance_in, zone_in=zone_in)
    return clear("clear-of-it", distance_in=distance_in, zone_in=zone_in)


hydromassage_access = look(
    id="hydromassage-access",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("680.73"),
    title="The tub's motor can be reached without breaking the finish",
    why="The pump is the part that fails, and its receptacle has to be reached too.",
    look_for="An access panel in the framing where the motor will be, its receptacle facing the opening and not farther than a "
    "foot from it.",
    cure="Frame an access opening at the motor, and set the receptacle in it within reach.",
    applies=fixture_is(FixtureKind.HYDROMASSAGE_TUB),
    mistakes="Tiling the apron shut; a panel on the side away from the motor.",
    plain="A jetted tub needs a removable panel at its motor.",
)

luminaire_in_shower = look(
    id="luminaire-in-shower",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("410.10(A), (D)"),
    title="A luminaire over tub or shower is marked for damp or wet places",
    why="Steam rises into it every morning, and spray reaches it.",
    look_for="Within the tub's or shower's own outline up to eight feet: “wet locations” where spray reaches, else “damp”; its trim, gasket and GFCI as its leaflet asks. None there: “not here”.",
    cure="Change trim or luminaire for one that is marked for showers.",
    applies=all_of(has_fixtures(*_BATHING), has_devices(DeviceKind.LUMINAIRE)),
    mistakes="An open recessed trim over the shower.",
    plain="The light over the shower must say that it may get wet.",
    danger="Never change a lamp there with wet feet or the light on.",
)
