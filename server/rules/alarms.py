"""Smoke and carbon monoxide alarms: in and outside the bedrooms, on every storey, joined, fed, at their distances.

The residential code asks for them (R314, R315), not the electrical code; departments write them up at rough-in because
their boxes and cables are inside the ceiling.
"""

from __future__ import annotations

from collections.abc import Mapping

from server.dwelling import Device, DeviceKind, Dwelling, Level, Room, RoomKind, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.reach import has_devices
from server.rules.rule import Measure, rule

__all__ = [
    "alarm_fed",
    "alarm_from_bath",
    "alarm_from_cooking",
    "alarms_joined",
    "co_alarms",
    "smoke_alarm_in_bedroom",
    "smoke_alarm_on_storey",
    "smoke_alarm_outside_bedrooms",
]

_SMOKE = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM})
_CO = frozenset({DeviceKind.CO_ALARM, DeviceKind.SMOKE_CO_ALARM})
_JOINING = 3
"""Conductors of a cable that joins alarms: hot, neutral and the one that tells the others."""
_NO_STOREY = (RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.CRAWL_SPACE, RoomKind.ATTIC, RoomKind.ACCESSORY_BUILDING,
              RoomKind.GARAGE, RoomKind.BOATHOUSE)  # fmt: skip


def alarms_of_rooms(house: Dwelling) -> Mapping[str, list[Device]]:
    """The alarms of each room."""
    found: dict[str, list[Device]] = {}
    for device in house.facts.devices:
        if device.kind in _SMOKE or device.kind in _CO:
            box = house.boxes.get(device.box_id)
            if box is not None:
                found.setdefault(box.room_id, []).append(device)
    return found


def _has(room: Room, kinds: frozenset[DeviceKind], house: Dwelling) -> bool:
    return any(device.kind in kinds for device in house.derive(alarms_of_rooms).get(room.id, ()))


def _rooms(level: Level, house: Dwelling) -> list[Room]:
    return [room for room in house.facts.rooms if room.level_id == level.id and room.kind not in _NO_STOREY]


@rule(
    id="smoke-alarm-in-bedroom",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R314.3"),
    title="Each bedroom has a smoke alarm",
    why="A closed door keeps the sound of the hall alarm out as well as the smoke.",
    look_for="A box and cable for an alarm on the ceiling or high on the wall of every room that is slept in.",
    cure="Set a box for a smoke alarm in the room and join it to the others.",
    says={
        "has-one": "The room has a smoke alarm.",
        "none": "No smoke alarm is recorded in this bedroom.",
        "nothing-recorded": "No box is recorded in this room yet.",
        "other-room": "Only rooms that are slept in are meant.",
    },
    plain="Every bedroom needs a smoke alarm.",
    danger="Smoke alarms save lives only if they work: never leave one disconnected overnight.",
)
def smoke_alarm_in_bedroom(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A smoke alarm among the room's devices."""
    if room.kind not in code.names("alarms.sleeping_rooms", work):
        return outside("other-room")
    if _has(room, _SMOKE, house):
        return clear("has-one")
    if not house.boxes_of_room.get(room.id):
        return unseen("nothing-recorded", Missing("the room's boxes", "box"))
    return correction("none")


@rule(
    id="smoke-alarm-outside-bedrooms",
    stage=Stage.ROUGH_IN,
    about=Level,
    cites=carried("IRC R314.3"),
    title="A smoke alarm is outside the bedrooms",
    why="It hears the fire that starts while everybody sleeps.",
    look_for="On each storey with bedrooms an alarm in the hall or room that leads to them, near their doors.",
    cure="Set a box for a smoke alarm in the hall outside the bedrooms.",
    says={
        "has-one": "{rooms:list} on this storey has a smoke alarm outside the bedrooms.",
        "none": "{bedrooms} on this storey, and no smoke alarm is recorded outside them.",
        "nothing-recorded": "No box is recorded outside the bedrooms of this storey yet.",
        "no-bedroom": "No bedroom is on this storey.",
    },
    plain="Put a smoke alarm in the hall outside the bedrooms.",
)
def smoke_alarm_outside_bedrooms(
    level: Level, house: Dwelling, code: Edition, work: Work = SILENT
) -> Outcome:
    """A smoke alarm in a room of the storey that is not a bedroom."""
    sleeping = code.names("alarms.sleeping_rooms", work)
    rooms = _rooms(level, house)
    bedrooms = [room for room in rooms if room.kind in sleeping]
    if not bedrooms:
        return outside("no-bedroom")
    others = [room for room in rooms if room.kind not in sleeping]
    with_one = tuple(room.name for room in others if _has(room, _SMOKE, house))
    if with_one:
        return clear("has-one", rooms=with_one)
    if not any(house.boxes_of_room.get(room.id) for room in others):
        return unseen("nothing-recorded", Missing("the boxes of the hall outside the bedrooms", "box"))
    count = len(bedrooms)
    return correction("none", bedrooms="A bedroom is" if count == 1 else f"{count} bedrooms are")


@rule(
    id="smoke-alarm-on-storey",
    stage=Stage.ROUGH_IN,
    about=Level,
    cites=carried("IRC R314.3"),
    title="Each storey has a smoke alarm",
    why="Fires start in basements, and are noticed too late upstairs.",
    look_for="At least one alarm on every storey, basements and lived-in attics too.",
    cure="Set a box for a smoke alarm on this storey, near the way up.",
    says={
        "has-one": "{alarms:n} smoke alarms are on this storey.",
        "none": "No smoke alarm is recorded on this storey.",
        "nothing-recorded": "No box is recorded on this storey yet.",
        "no-rooms": "No room of the house is on this storey.",
    },
    plain="Every floor of the house, the basement too, needs a smoke alarm.",
)
def smoke_alarm_on_storey(level: Level, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A smoke alarm anywhere on the storey."""
    rooms = _rooms(level, house)
    if not rooms:
        return outside("no-rooms")
    alarms = sum(
        device.kind in _SMOKE for room in rooms for device in house.derive(alarms_of_rooms).get(room.id, ())
    )
    if alarms:
        return clear("has-one", alarms=alarms)
    if not any(house.boxes_of_room.get(room.id) for room in rooms):
        return unseen("nothing-recorded", Missing("the boxes of this storey", "box"))
    return correction("none")


def _burns_fuel(house: Dwelling, code: Edition) -> bool | None:
    """Whether an appliance burns fuel or a garage is attached; None where nobody said of an appliance that may."""
    named = code.names("alarms.fuel_burning")
    unsaid = False
    for fixture in house.facts.fixtures:
        if fixture.fuel_burning:
            return True
        if fixture.fuel_burning is None and fixture.kind in named:
            unsaid = True
    if any(room.kind is RoomKind.GARAGE for room in house.facts.rooms):
        return True
    return None if unsaid else False


@rule(
    id="co-alarms",
    stage=Stage.ROUGH_IN,
    about=Level,
    cites=carried("IRC R315.2, R315.3"),
    title="Carbon monoxide alarms are outside the bedrooms",
    why="Carbon monoxide has no smell and puts sleepers to sleep for good.",
    look_for="Where anything burns fuel, or a garage opens into the house: an alarm outside each group of bedrooms, and in a bedroom "
    "that has a fuel-burning appliance in it or in its bath.",
    cure="Set a box for a carbon monoxide alarm (or a combined one) outside the bedrooms.",
    says={
        "has-one": "{rooms:list} on this storey has a carbon monoxide alarm outside the bedrooms.",
        "none": "Fuel is burned or a garage is attached, and no carbon monoxide alarm is recorded outside the bedrooms of this storey.",
        "fuel-not-recorded": "Whether the appliances burn fuel is not recorded.",
        "no-source": "Nothing in the house burns fuel, and no garage is recorded.",
        "no-bedroom": "No bedroom is on this storey.",
    },
    plain="If you have gas, oil or wood burning, or an attached garage, put a carbon monoxide alarm outside the bedrooms.",
    danger="If a carbon monoxide alarm sounds, get everybody out and call the fire department.",
)
def co_alarms(level: Level, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A carbon monoxide alarm outside the bedrooms of the storey, where there is a source."""
    sleeping = code.names("alarms.sleeping_rooms", work)
    rooms = _rooms(level, house)
    if not any(room.kind in sleeping for room in rooms):
        return outside("no-bedroom")
    with_one = tuple(room.name for room in rooms if room.kind not in sleeping and _has(room, _CO, house))
    if with_one:
        return clear("has-one", rooms=with_one)
    source = _burns_fuel(house, code)
    if work:
        work.step(
            "a fuel-burning appliance or an attached garage", source, "", code.cites("alarms.fuel_burning")
        )
    if source is None:
        missing = Missing("whether the appliance burns fuel", "fixture.fuel_burning")
        return unseen("fuel-not-recorded", missing)
    return correction("none") if source else outside("no-source")


@rule(
    id="alarms-joined",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("IRC R314.4"),
    title="All alarms sound together",
    why="The alarm in the basement wakes nobody on the second floor unless the others join in.",
    look_for="A three-wire cable from alarm to alarm, whose third wire joins them, all on one circuit; or alarms listed to join by radio.",
    cure="Run three-wire cable between the alarms, or use alarms that are joined by radio.",
    says={
        "joined": "{alarms:n} alarms are on {circuit}, joined by cables with a third conductor.",
        "one": "There is one alarm only.",
        "two-wire": "Cables between the alarms without a third conductor to join them: {short:n}.",
        "several-circuits": "The alarms are on {circuits:n} circuits; wires cannot join them.",
        "not-recorded": "Which circuit and cables feed {alarms:n} of the alarms is not recorded.",
        "no-alarm": "No alarm is recorded yet.",
    },
    cures={"several-circuits": "Put all alarms on one circuit, or use alarms that are joined by radio."},
    plain="When one smoke alarm goes off, all of them must.",
)
def alarms_joined(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """One circuit, and between the alarms' boxes cables with at least three insulated conductors."""
    alarms = [device for devices in house.derive(alarms_of_rooms).values() for device in devices]
    if not alarms:
        return unseen("no-alarm", Missing("the alarms of the house", "box"))
    if len(alarms) == 1:
        return clear("one")
    circuits = {circuit.id: circuit for device in alarms if (circuit := house.circuit_of(device))}
    unfed = sum(house.circuit_of(device) is None for device in alarms)
    if unfed:
        return unseen("not-recorded", Missing("the circuit that feeds it", "device.circuit_id"), alarms=unfed)
    if len(circuits) > 1:
        return correction("several-circuits", circuits=len(circuits))
    boxes = {device.box_id for device in alarms}
    between = [
        cable
        for cable in house.cables_of_circuit.get(next(iter(circuits)), ())
        if cable.a_box_id in boxes and cable.b_box_id in boxes
    ]
    if len(between) < len(boxes) - 1:
        missing = Missing("the cables between the alarms", "cable")
        return unseen("not-recorded", missing, alarms=len(boxes) - 1 - len(between))
    short = sum(cable.insulated < _JOINING for cable in between)
    if work:
        work.step("cables between the alarms without a third conductor", short, "count", "IRC R314.4")
    if short:
        return correction("two-wire", short=short)
    return clear("joined", alarms=len(alarms), circuit=circuit_name(next(iter(circuits.values()))))


_ALARMS = has_devices(DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM)

alarm_from_bath = measured(
    id="alarm-from-bath",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("IRC R314.3"),
    title="Smoke alarms keep away from bathroom doors",
    why="Steam sets them off, and an alarm that cries wolf is taken down.",
    look_for="Three feet across from the alarm to the door of a bathroom with a tub or shower, unless that would lose the required place.",
    cure="Move the box away from the bathroom door.",
    measure=Measure(
        unit="in",
        limit="alarms.from_bath_in",
        least=True,
        how="Measure across the ceiling from the alarm to the nearest edge of the bathroom's door opening.",
        worst="the alarm nearest to a bathroom door",
    ),
    applies=_ALARMS,
    plain="Keep smoke alarms three feet away from bathroom doors.",
)

alarm_from_cooking = measured(
    id="alarm-from-cooking",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="IRC R314.3.1", e2026="IRC R314.3.1"),
    title="Smoke alarms keep away from the stove",
    why="The alarm that goes off at every toast ends up in a drawer.",
    look_for="Six feet across from a photoelectric alarm to a cooking appliance, more for other kinds (ten with a silencing button, twenty without).",
    cure="Move the box away from the kitchen, or plan a photoelectric alarm there.",
    measure=Measure(
        unit="in",
        limit="alarms.from_cooking_photoelectric_in",
        least=True,
        how="Measure across from the alarm to the nearest cooking appliance.",
        worst="the alarm nearest to the kitchen",
    ),
    applies=_ALARMS,
    plain="Keep smoke alarms at least six feet from the stove.",
)

alarm_fed = look(
    id="alarms-on-house-power",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("IRC R314.6"),
    title="Alarms run on house power with a battery behind it",
    why="Batteries are borrowed for toys; house power fails in the fire that starts at the panel. Together they hold.",
    look_for="Each alarm connected to the house wiring, on a circuit without a switch, its battery in place, tested together with the others.",
    cure="Connect the alarm to the house wiring and put its battery in; test all of them.",
    applies=has_devices(DeviceKind.SMOKE_ALARM, DeviceKind.SMOKE_CO_ALARM, DeviceKind.CO_ALARM),
    plain="Smoke alarms must be wired in and have a backup battery.",
)
