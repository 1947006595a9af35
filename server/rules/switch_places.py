"""Where switches may be: within reach, and out of the tub and shower."""

from __future__ import annotations

from server.dwelling import Box, DeviceKind, Dwelling, Stage, Surface
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.room_plan import distance_to, tubs_near
from server.rules.rule import rule

__all__ = ["switch_outside_tub", "switch_within_reach"]


def _has_switch(box: Box, house: Dwelling) -> bool:
    return any(device.kind is DeviceKind.SWITCH for device in house.devices_of_box.get(box.id, ()))


@rule(
    id="switch-within-reach",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("404.8(A)"),
    title="The switch is within reach",
    why="A switch is for everybody who lives there, and for whoever has to turn something off in a hurry.",
    look_for="The middle of the switch, in its highest position, not more than six feet seven inches above the floor.",
    cure="Move the switch box down to within reach.",
    says={
        "reachable": "It stands at {height_in:in}; {most_in:in} is the most.",
        "too-high": "It stands at {height_in:in}; {most_in:in} is the most.",
        "in-ceiling": "The switch is in the ceiling.",
        "not-recorded": "The height of this switch is not recorded.",
        "no-switch": "No switch is in this box.",
    },
    plain="Light switches may be at most 6 feet 7 inches above the floor.",
)
def switch_within_reach(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The box's height against the highest that a switch may stand."""
    if not _has_switch(box, house):
        return outside("no-switch")
    if box.surface is Surface.CEILING:
        return correction("in-ceiling")
    if box.height_in is None:
        return unseen("not-recorded", Missing("the height of the box", "box.height_in"))
    most_in = code.number("switches.height_most_in", work)
    outcome, reason = (clear, "reachable") if box.height_in <= most_in else (correction, "too-high")
    return outcome(
        reason, cites=code.cites("switches.height_most_in"), height_in=box.height_in, most_in=most_in
    )


@rule(
    id="switch-outside-tub",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("404.4(C)"),
    title="No switch is inside the tub or shower",
    why="A wet hand on a switch, with both feet in water.",
    look_for="No switch within the tub or shower itself, unless it belongs to a listed tub or shower.",
    cure="Move the switch out of the tub or shower space.",
    says={
        "outside-it": "It is {distance_in:in} from the tub or shower.",
        "inside": "It is over or inside the tub or shower.",
        "not-placed": "How far it is from the tub or shower cannot be told from what is recorded.",
        "no-switch": "No switch is in this box.",
        "no-tub": "No tub or shower is recorded in this room.",
    },
    plain="No light switch inside the shower or over the tub.",
)
def switch_outside_tub(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The box's distance across from the nearest tub or shower."""
    if not _has_switch(box, house):
        return outside("no-switch")
    tubs = tubs_near(house, box.room_id)
    if not tubs:
        return outside("no-tub")
    distances = []
    for tub in tubs:
        bounds = distance_to(box, tub, house) if tub is not None else None
        if bounds is None:
            return unseen(
                "not-placed", Missing("where the tub or shower and the switch stand", "fixture.at_in")
            )
        distances.append(bounds)
    if any(bounds.across_most <= 0 for bounds in distances):
        return correction("inside")
    nearest = min(distances, key=lambda bounds: bounds.across_least)
    if nearest.across_least <= 0:
        return unseen("not-placed", Missing("the size of the tub or shower", "fixture.width_in"))
    return clear("outside-it", distance_in=nearest.least_across_in)
