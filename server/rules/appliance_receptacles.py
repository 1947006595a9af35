"""Receptacles near what they are for: heating and cooling equipment, and appliances with a cord."""

from __future__ import annotations

from typing import Final

from server.dwelling import Box, DeviceKind, Dwelling, Fixture, FixtureKind, Inches, Room, Stage
from server.editions import Edition
from server.reckon.required_receptacles import (
    Equipment,
    EquipmentReceptacle,
    appliance_receptacle,
    equipment_receptacle,
)
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import devices_of_fixture
from server.rules.citing import carried
from server.rules.looks import by_look, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.receptacle_counts import plain_receptacle
from server.rules.room_plan import distance_to, placed_fixture
from server.rules.room_spacing import required_receptacles_in
from server.rules.rule import Kind, rule

__all__ = ["appliance_within_reach", "equipment_service_receptacle"]

_SERVED: Final = (
    FixtureKind.FURNACE, FixtureKind.AIR_HANDLER, FixtureKind.AIR_CONDITIONER, FixtureKind.HEAT_PUMP, FixtureKind.MINI_SPLIT,
    FixtureKind.BOILER,
)  # fmt: skip


@rule(
    id="equipment-service-receptacle",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    kind=Kind.SEEN,
    cites=carried("210.63"),
    title="A receptacle is near heating and cooling equipment",
    why="Whoever services it needs a light and a tool, and should not bring a cord from two floors away.",
    look_for="A 125 V receptacle on the same level within twenty-five feet, not fed through the equipment's own disconnect.",
    cure="Set a receptacle near the equipment on another circuit, within twenty-five feet and on its level.",
    says={
        "near": "{receptacles:n} receptacles are within {reach_in:in} of it on its level.",
        "none-here": "No receptacle is recorded in the place where it stands.",
        "too-far": "The nearest receptacle where it stands is farther than {reach_in:in}.",
        "looked-right": "{who} looked and found one within reach{noted}.",
        "looked-wrong": "{who} looked and found none within reach{noted}.",
        "not-measured": "How far the receptacles here are from it cannot be told from what is recorded.",
        "other-kind": "A {kind} needs no service receptacle by this rule.",
    },
    mistakes="The receptacle on the load side of the furnace switch.",
    plain="There must be an outlet within 25 feet of the furnace and of the outdoor unit.",
)
def equipment_service_receptacle(
    fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT
) -> Outcome:
    """Receptacles in the equipment's own place, by the plan or by the size of the room."""
    if fixture.kind not in _SERVED:
        return outside("other-kind", kind=str(fixture.kind))
    room = house.rooms.get(fixture.room_id)
    reach_in = code.number("outlet.equipment.reach_in", work)
    cites = code.cites("outlet.equipment.reach_in")
    seen = observed(house, fixture, "equipment-service-receptacle")
    if seen is not None:
        return by_look(seen, cites=cites)
    receptacles = required_receptacles_in(room, house) if room else []
    if not receptacles:
        return correction("none-here", cites=cites)
    found = equipment_receptacle(
        Equipment(fixture.id, str(fixture.kind)),
        [
            EquipmentReceptacle(
                plain_receptacle(device, box, house),
                _away(box, fixture, room, reach_in, house),
                same_level=True,
            )
            for device, box in receptacles
        ],
        code,
        work,
    )
    if found.complies:
        return clear("near", cites=cites, receptacles=len(found.counted), reach_in=reach_in)
    if found.complies is None:
        return unseen("not-measured", Missing("a look"), cites=cites)
    return correction("too-far", cites=cites, reach_in=reach_in)


def _away(box: Box, fixture: Fixture, room: Room | None, reach_in: Inches, house: Dwelling) -> Inches | None:
    """How far a receptacle is from a fixture of its room: by the plan, else at most across the room."""
    thing = placed_fixture(fixture, house, sink=False)
    bounds = distance_to(box, thing, house) if thing is not None else None
    distance = bounds.across(reach_in) if bounds is not None else None
    if distance is None and room is not None and room.length_in is not None and room.width_in is not None:
        if room.length_in**2 + room.width_in**2 <= reach_in**2:
            return max(room.length_in, room.width_in)
    return distance


@rule(
    id="appliance-within-reach",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("210.50(C)"),
    title="An appliance's receptacle is within six feet of it",
    why="Its own cord has to reach, without an extension and without crossing a doorway.",
    look_for="The receptacle meant for washer, refrigerator, range or another appliance within six feet of where it will stand.",
    cure="Move the receptacle to within six feet of the appliance.",
    says={
        "near": "The receptacle is {distance_in:in} from the {kind}; {reach_in:in} is the most.",
        "far": "The receptacle is {distance_in:in} from the {kind}; {reach_in:in} is the most.",
        "not-placed": "Where the {kind} or its receptacle stands is not recorded closely enough.",
        "no-receptacle": "No receptacle is recorded for this {kind}.",
    },
    plain="Each appliance's outlet must be within six feet of it.",
)
def appliance_within_reach(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The distance on the plan between an appliance and the receptacle that is there for it."""
    kind = str(fixture.kind)
    boxes = [
        box
        for device in devices_of_fixture(fixture, house)
        if device.kind is DeviceKind.RECEPTACLE and (box := house.boxes.get(device.box_id)) is not None
    ]
    if not boxes:
        return outside("no-receptacle", kind=kind)
    reach_in = code.number("outlet.appliance.reach_in", work)
    thing = placed_fixture(fixture, house, sink=False)
    away = {}
    for box in boxes:
        bounds = distance_to(box, thing, house) if thing is not None else None
        distance = bounds.across(reach_in) if bounds is not None else None
        if distance is not None:
            away[box.id] = distance
    if not away:
        return unseen(
            "not-placed", Missing("where the appliance stands along its wall", "fixture.at_in"), kind=kind
        )
    found = appliance_receptacle(kind, away, code, work)
    distance_in = min(away.values())
    outcome, reason = (clear, "near") if found.complies else (correction, "far")
    return outcome(reason, cites=found.cites, distance_in=distance_in, reach_in=reach_in, kind=kind)
