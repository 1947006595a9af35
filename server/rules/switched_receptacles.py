"""Switched receptacles: where one may stand for a room's light, and what it then costs.

Two rules. A room that people live in has a light under a wall switch, or, outside the kitchen and the bathroom,
a receptacle under one. In a dining room that receptacle is an extra one on a general-purpose circuit. That a
wholly switched receptacle does not count as one of those that the walls need is judged with the walls
(``wall_receptacles``), by :func:`server.rules.switching.switched`.
"""

from __future__ import annotations

from server.dwelling import CircuitPurpose, Device, DeviceKind, Dwelling, Room, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.rule import rule
from server.rules.switching import room_lights, switched

__all__ = ["habitable", "room_lighting_outlet", "switched_receptacle_circuit"]


def habitable(room: Room, code: Edition) -> bool:
    """Whether a room is lived in: by its kind, or finished as living space."""
    if room.kind in code.names("lighting.habitable_rooms"):
        return True
    return room.finished is True and room.kind in code.names("lighting.habitable_when_finished")


@rule(
    id="room-lighting-outlet",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.70(A)(1)"),
    title="The room has a light under a wall switch",
    why="Nobody should have to cross a dark room to find a lamp: people fall, and they reach for cords in the dark.",
    look_for="A lighting outlet and, at the usual way in, the switch that turns it. In living rooms and bedrooms a "
    "receptacle under the switch will do instead; in kitchens and bathrooms it will not. "
    "From 2023 on a switch on a battery alone does not count, unless its light comes on by itself or it warns when the battery fails.",
    cure="Run a switch leg to a ceiling or wall box for a light before the room is covered.",
    says={
        "light": "{lights:n} of its lights are under a wall switch.",
        "receptacle": "A receptacle under a wall switch stands for the light, as it may in this room.",
        "receptacle-not-here": "Only a switched receptacle gives light here; in a {kind} it may not stand for the lighting outlet.",
        "no-switch": "The room has a light, and no wall switch is recorded anywhere for it.",
        "no-light": "Neither a light nor a receptacle under a wall switch is recorded here.",
        "controls-not-recorded": "There is a light and a switch, and what the switch controls is not recorded.",
        "nothing-recorded": "No box is recorded in this room yet.",
        "unsettled": "A {kind} is read by some as part of the bathroom beside it, which needs a light, and by others not.",
        "finished-not-recorded": "Whether this {kind} is finished as living space is not recorded.",
        "other-room": "A {kind} is no habitable room; passages and storage spaces have rules of their own.",
    },
    cures={
        "receptacle-not-here": "Add a ceiling or wall lighting outlet under a wall switch; the switched receptacle may stay beside it.",
        "no-switch": "Bring a switch leg from the light to a box at the way in.",
    },
    mistakes="Counting the receptacle that the disposer switch turns; leaving the walk-in pantry light on a chain.",
    plain="You must be able to turn on a light from the door. A lamp plugged into a switched outlet is enough in a "
    "bedroom, not in a kitchen or bathroom.",
)
def room_lighting_outlet(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A switched luminaire, or a switched receptacle where the edition lets it stand for one."""
    kind = str(room.kind)
    unsettled = room.kind in code.names("lighting.rooms_unsettled")
    needs = unsettled or habitable(room, code) or room.kind in code.names("lighting.rooms_too", work)
    if not needs:
        if room.finished is None and room.kind in code.names("lighting.habitable_when_finished"):
            missing = Missing("whether the room is finished as living space", "room.finished")
            return unseen("finished-not-recorded", missing, kind=kind)
        return outside("other-room", kind=kind)
    lights = room_lights(house, room.id)
    if work:
        work.step(
            "lights under a wall switch", len(lights.switched), "count", code.cites("lighting.rooms_too")
        )
    if lights.switched:
        return clear("light", lights=len(lights.switched))
    if lights.receptacles:
        cites = code.cites("lighting.no_receptacle_instead")
        if room.kind not in code.names("lighting.no_receptacle_instead", work):
            return clear("receptacle", cites=cites)
        confidence = code.confidence("lighting.no_receptacle_instead")
        return correction("receptacle-not-here", cites=cites, confidence=confidence, kind=kind)
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the room's boxes", "box"))
    if lights.unswitched and lights.idle_switches:
        missing = Missing("what the switch controls", "device.controls")
        return unseen("controls-not-recorded", missing)
    if unsettled:
        return ask_inspector("unsettled", kind=kind)
    return correction("no-switch" if lights.unswitched else "no-light")


@rule(
    id="switched-receptacle-circuit",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("210.52(B)(1) Ex. 1"),
    title="A switched dining-room receptacle is off the small-appliance circuits",
    why="The small-appliance circuits are kept for the toaster and the roaster; a lamp circuit on them takes their "
    "capacity, and its switch would turn off an appliance.",
    look_for="The receptacle that the wall switch turns, fed by a lighting or general circuit, beside the ones that "
    "the walls need.",
    cure="Feed the switched receptacle from a general-purpose circuit, and leave the required ones on the "
    "small-appliance circuits.",
    says={
        "general": "The switched receptacle is on a {purpose} circuit.",
        "small-appliance": "The switched receptacle is on {circuit}, a small-appliance circuit.",
        "circuit-not-recorded": "Which circuit feeds the switched receptacle is not recorded.",
        "always-live": "No wall switch turns this receptacle.",
        "other-room": "Small-appliance circuits do not reach this room, or it may not have a switched receptacle for light.",
        "no-receptacle": "Only receptacles are meant.",
    },
    mistakes="Switching half of a required dining-room receptacle while both halves stay on the small-appliance circuit.",
    plain="In the dining room the outlet that works a lamp from the wall switch needs a different circuit from the others.",
)
def switched_receptacle_circuit(
    device: Device, house: Dwelling, code: Edition, work: Work = SILENT
) -> Outcome:
    """The circuit's purpose, in the rooms that the small-appliance circuits serve."""
    if device.kind is not DeviceKind.RECEPTACLE:
        return outside("no-receptacle")
    if switched(device, house) == "no":
        return outside("always-live")
    room = house.room_of_device(device)
    if room is None or room.kind not in code.names("lighting.small_appliance_rooms", work):
        return outside("other-room")
    circuit = house.circuit_of(device)
    if circuit is None:
        return unseen("circuit-not-recorded", Missing("the circuit that feeds it", "device.circuit_id"))
    if work:
        work.step(
            f"fed by {circuit_name(circuit)}",
            str(circuit.purpose),
            "",
            code.cites("lighting.small_appliance_rooms"),
        )
    if circuit.purpose is CircuitPurpose.SMALL_APPLIANCE:
        return correction("small-appliance", circuit=circuit_name(circuit))
    return clear("general", purpose=str(circuit.purpose))
