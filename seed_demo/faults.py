"""What is wrong in the demo house: a dozen faults of different kinds, each put into a house that is right.

``FAULTS`` names each with the rules that must report it, so that the tests can put them in one by one and see that
exactly these rules answer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from seed_demo.house import DemoHouse
from server.dwelling import Answer, Breaker, DeviceKind, SwitchWays, WhiteUse

__all__ = ["FAULTS", "Fault", "put_in"]


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: what a person would call it, the room it shows in, how it is put in, the rules that report it."""

    title: str
    room: str
    put_in: Callable[[DemoHouse], None]
    rules: tuple[str, ...]


def _counter_without_gfci(house: DemoHouse) -> None:
    for device in house.receptacles("Kitchen", serves="countertop")[:1]:
        house.builder.change(device.id, gfci=False)
    house.builder.change(house.circuits["Kitchen counter left"], breaker=Breaker.AFCI)


def _bedroom_without_afci(house: DemoHouse) -> None:
    house.builder.change(house.circuits["Bedroom 3"], breaker=Breaker.STANDARD)


def _receptacle_left_out(house: DemoHouse) -> None:
    """The second receptacle of the living room was never set: its box goes, and the cables are joined past it."""
    device = house.receptacles("Living room")[1]
    box_id = device.box_id
    cables = [cable for cable in house.builder.facts().cables if box_id in (cable.a_box_id, cable.b_box_id)]
    before, after = cables
    house.builder.change(before.id, b_box_id=after.b_box_id)
    for gone in (after.id, device.id, box_id):
        house.builder.remove(gone)


def _small_switch_box(house: DemoHouse) -> None:
    switch = house.devices("Upper hallway", DeviceKind.SWITCH)[0]
    house.builder.change(switch.box_id, volume_in3=Fraction(14))


def _thin_wire_on_twenty(house: DemoHouse) -> None:
    circuit = house.circuits["Garage receptacles"]
    house.builder.change(circuit, conductor_awg="14")
    for cable in house.builder.facts().cables:
        if circuit in cable.circuit_ids:
            house.builder.change(cable.id, awg="14")


def _laundry_feeds_the_foyer(house: DemoHouse) -> None:
    """The laundry circuit goes on to the pantry's receptacle."""
    washer = house.receptacles("Laundry", serves="washer")[0]
    target = house.receptacles("Foyer")[0] if house.receptacles("Foyer") else house.receptacles("Hallway")[0]
    for cable in house.builder.facts().cables:
        if target.box_id in (cable.a_box_id, cable.b_box_id):
            house.builder.remove(cable.id)
    house.builder.cable(washer.box_id, target.box_id, house.circuits["Laundry"], awg="12")


def _one_switch_on_the_stair(house: DemoHouse) -> None:
    first, second = house.devices("Stair", DeviceKind.SWITCH)
    house.builder.change(first.id, ways=SwitchWays.SINGLE_POLE)
    house.builder.remove(second.id)


def _two_wires_between_three_ways(house: DemoHouse) -> None:
    """In the hallway a two-wire cable was pulled from the first three-way to the second: a traveler is missing."""
    first, second = house.devices("Hallway", DeviceKind.SWITCH)
    for cable in house.builder.facts().cables:
        if {cable.a_box_id, cable.b_box_id} == {first.box_id, second.box_id}:
            house.builder.change(cable.id, insulated=2)


def _outdoors_not_weather_resistant(house: DemoHouse) -> None:
    house.builder.change(house.receptacles("Front, outdoors")[0].id, weather_resistant=False)


def _not_tamper_resistant(house: DemoHouse) -> None:
    house.builder.change(house.receptacles("Bedroom 2")[0].id, tamper_resistant=False)


def _white_comes_back_from_the_switch(house: DemoHouse) -> None:
    """In the office the white of the cable to the luminaire was used as the switched conductor's return."""
    luminaire = house.devices("Office", DeviceKind.LUMINAIRE)[0]
    for cable in house.builder.facts().cables:
        if luminaire.box_id in (cable.a_box_id, cable.b_box_id):
            house.builder.change(cable.id, white_use=WhiteUse.SWITCH_RETURN)


def _sheath_short(house: DemoHouse) -> None:
    house.builder.observe(
        "box", house.receptacles("Bedroom 2")[1].box_id, "sheath-into-box", measure="1/8", by="D. Okoro"
    )


def _loose_cable(house: DemoHouse) -> None:
    box = house.receptacles("Family room")[0].box_id
    house.builder.observe(
        "box", box, "cable-held-at-box", Answer.WRONG, note="pulls out by hand", by="D. Okoro"
    )


def _shallow_working_space(house: DemoHouse) -> None:
    house.builder.change(house.panels["A"], space_depth_in=30)


def _basin_receptacle_too_far(house: DemoHouse) -> None:
    device = house.receptacles("Hall bathroom")[0]
    house.builder.change(device.box_id, from_sink_in=Fraction(40), at_in=Fraction(104))


FAULTS: Mapping[str, Fault] = {
    "counter-without-gfci": Fault("A counter receptacle without GFCI protection", "Kitchen", _counter_without_gfci, ("gfci-locations",)),
    "bedroom-without-afci": Fault("A bedroom circuit on a standard breaker", "Bedroom 3", _bedroom_without_afci, ("afci-locations",)),
    "receptacle-left-out": Fault("A living room receptacle that was never set", "Living room", _receptacle_left_out, ("wall-receptacle-spacing",)),
    "small-switch-box": Fault("A switch box too small for what is in it", "Upper hallway", _small_switch_box, ("box-fill",)),
    "thin-wire": Fault("14 AWG on a 20 A breaker", "Garage", _thin_wire_on_twenty, ("conductor-overcurrent",)),
    "laundry-feeds-more": Fault("The laundry circuit feeds a room outside the laundry", "Laundry", _laundry_feeds_the_foyer, ("laundry-circuit",)),
    "one-switch-on-the-stair": Fault("A stair of fourteen risers with a switch at one end only", "Stair", _one_switch_on_the_stair, ("stair-switches",)),
    "short-cable": Fault("A two-wire cable between two three-ways", "Hallway", _two_wires_between_three_ways, ("hookup-possible", "cable-carries")),
    "not-weather-resistant": Fault("A receptacle outdoors that is not weather-resistant", "Front, outdoors", _outdoors_not_weather_resistant, ("weather-resistant",)),
    "not-tamper-resistant": Fault("A bedroom receptacle that is not tamper-resistant", "Bedroom 2", _not_tamper_resistant, ("tamper-resistant",)),
    "white-return": Fault("A white conductor used as a switch's return", "Office", _white_comes_back_from_the_switch, ("white-as-hot",)),
    "sheath-short": Fault("Sheath that reaches only 1/8 in into a box", "Bedroom 2", _sheath_short, ("sheath-into-box",)),
    "loose-cable": Fault("A cable that is not held at its box", "Family room", _loose_cable, ("cable-held-at-box",)),
    "shallow-working-space": Fault("Only 30 in of working space before the service panel", "Garage", _shallow_working_space, ("panel-working-space",)),
    "basin-receptacle": Fault("The basin's receptacle is more than 3 ft from it", "Hall bathroom", _basin_receptacle_too_far, ("bathroom-receptacle", "receptacle-in-tub-zone")),
}  # fmt: skip


def put_in(house: DemoHouse, *names: str) -> None:
    """Put some faults (all where none is named) into a house."""
    for name in names or FAULTS:
        FAULTS[name].put_in(house)
