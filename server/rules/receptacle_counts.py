"""What the rules on required receptacles share: a receptacle as it is counted, and a count put into a verdict."""

from __future__ import annotations

from typing import Final

from server.dwelling import Box, Device, Dwelling
from server.reckon.receptacles_that_count import Receptacle
from server.reckon.required_receptacles import Required
from server.rules.naming import box_name
from server.rules.outcome import Missing, Outcome, clear, correction, unseen
from server.rules.switching import room_lights, switched

__all__ = ["COUNT_SAYS", "counted", "plain_receptacle"]

COUNT_SAYS: Final = {
    "has": "{why}: {receptacles:n} count.",
    "excused": "{why}.",
    "short": "{subject}: {why}; none is recorded that counts{refused}.",
    "fact-missing": "{subject}: {why}; it turns on {question}.",
    "other-room": "Only a {kind} is meant.",
}


def plain_receptacle(device: Device, box: Box, house: Dwelling) -> Receptacle:
    """A receptacle as the general rules on counting look at it."""
    whole = switched(device, house) if not room_lights(house, box.room_id).switched else "no"
    return Receptacle(
        id=device.id,
        height_in=box.height_in,
        switched=whole,
        fixed_in="cabinet" if box.inside_cabinet else "",
    )


def counted(found: Required, field: str, house: Dwelling) -> Outcome:
    """A requirement as an outcome; ``field`` would hold what is missing."""
    why = found.why[0].upper() + found.why[1:]
    if found.required == 0:
        return clear("excused", cites=found.cites, why=why)
    if found.complies:
        return clear("has", cites=found.cites, why=why, receptacles=len(found.counted))
    subject = found.subject[0].upper() + found.subject[1:]
    if found.complies is None:
        question = named(found.unseen[0], house)
        missing = Missing(question, field)
        return unseen(
            "fact-missing", missing, cites=found.cites, subject=subject, why=found.why, question=question
        )
    refused = "".join(f" ({named(each.receptacle, house)}: {each.why})" for each in found.uncounted[:1])
    return correction("short", cites=found.cites, subject=subject, why=found.why, refused=refused)


def named(words: str, house: Dwelling) -> str:
    """Ids of receptacles put into words."""
    for device_id in words.replace(":", " ").split():
        device = house.devices.get(device_id)
        box = house.boxes.get(device.box_id) if device else None
        if box is not None:
            words = words.replace(f"receptacle {device_id}", f"the receptacle at {box_name(box, house)}")
            words = words.replace(device_id, f"the receptacle at {box_name(box, house)}")
    return words
