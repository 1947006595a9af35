"""The grounded conductor at the switches for lights."""

from __future__ import annotations

from server.dwelling import Box, CableKind, Device, DeviceKind, Dwelling, Stage, SwitchWays
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.rule import rule
from server.rules.white_conductors import white_use_of

__all__ = ["neutral_at_switch"]


@rule(
    id="neutral-at-switch",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("404.2(C)"),
    title="A neutral is in the box of a light switch",
    why="Occupancy sensors, timers and smart switches need one; without it people send their current down the ground wire.",
    look_for="In switch boxes of halls, stairs, bathrooms and rooms that people use: a white that is a neutral, spare or in "
    "use. Where several switches see the same room, one of them is enough.",
    cure="Pull a cable with one conductor more to the switch, so that its white is the neutral.",
    says={
        "has-neutral": "A cable here brings a neutral.",
        "raceway": "A raceway comes to the box; a neutral can be pulled when it is needed.",
        "elsewhere": "Another switch for the same lights in this room has a neutral, which is enough.",
        "without": "The switch turns a light, and no cable brings a neutral to its box.",
        "use-not-known": "What the white of a cable here carries cannot be told from what is recorded.",
        "no-cable": "No cable is recorded at this box.",
        "controls-not-recorded": "What the switch in this box turns is not recorded.",
        "no-light": "No switch in this box turns a light.",
        "other-room": "A switch for a light of the {kind} needs no neutral.",
        "open-wall": "This room stays unfinished: a cable can be brought to the switch without opening a finish.",
        "asked": "The switch turns a light of the {kind} and has no neutral. Whether such a place counts as lived in or occupied is read differently: ask the inspector.",
    },
    mistakes="A two-wire switch loop down to the switch, as it was done for decades.",
    plain="Each light switch box needs a neutral (white) wire, so that electronic switches will work.",
)
def neutral_at_switch(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A white at the switch that is grounded, here or at another switch that sees the same room."""
    switches = [d for d in house.devices_of_box.get(box.id, ()) if d.kind is DeviceKind.SWITCH]
    if not switches:
        return outside("no-light")
    room = house.rooms.get(box.room_id)
    lights = {
        target for switch in switches for target in switch.controls if _is_light(house.devices.get(target))
    }
    if not lights:
        if any(not switch.controls for switch in switches):
            missing = Missing("what the switch controls", "device.controls")
            return unseen("controls-not-recorded", missing)
        return outside("no-light")
    if all(switch.ways is SwitchWays.DOUBLE_POLE for switch in switches):
        return outside("no-light")
    listed, doubtful = (
        code.names("switches.neutral_rooms", work),
        code.names("switches.neutral_doubtful_rooms"),
    )
    places = [
        str(each.kind) for light in sorted(lights) if (each := house.room_of_device(house.devices[light]))
    ]
    kinds = {*places, *([str(room.kind)] if room else ())}
    if not kinds & {*listed, *doubtful}:
        return outside("other-room", kind=places[0] if places else "place")
    if room is not None and room.finished is False:
        return outside("open-wall")
    found = _neutral(box, house, code)
    if work:
        work.step("a neutral in the box", found, "", code.cites("switches.neutral_rooms"))
    if found is True:
        raceway = any(cable.kind is CableKind.RACEWAY for cable in house.cables_of_box[box.id])
        return clear("raceway" if raceway else "has-neutral")
    if box.id not in house.cables_of_box:
        return unseen("no-cable", Missing("the cables that enter it", "cable"))
    if found is None:
        return unseen("use-not-known", Missing("what the white conductor carries", "cable.white_use"))
    if _elsewhere(box, lights, house, code):
        return clear("elsewhere")
    if not any(place in listed for place in places):
        return ask_inspector("asked", kind=places[0] if places else "place")
    return correction("without")


def _is_light(device: Device | None) -> bool:
    return device is not None and device.kind is DeviceKind.LUMINAIRE


def _neutral(box: Box, house: Dwelling, code: Edition) -> bool | None:
    """Whether a cable brings a neutral, or a raceway could; None where nobody can tell."""
    known = True
    for cable in house.cables_of_box.get(box.id, ()):
        if cable.kind is CableKind.RACEWAY:
            return True
        white = white_use_of(cable, house, code)
        if white.ungrounded is False:
            return True
        known = known and white.ungrounded is not None
    return False if known else None


def _elsewhere(box: Box, lights: set[str], house: Dwelling, code: Edition) -> bool:
    """Whether another switch for the same lights, in the same room, has a neutral."""
    for light in lights:
        for switch in house.controlled_by.get(light, ()):
            other = house.boxes.get(switch.box_id)
            if other is None or other.id == box.id or other.room_id != box.room_id:
                continue
            if _neutral(other, house, code):
                return True
    return False
