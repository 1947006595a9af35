"""One fault for every reckoned rule of the book: what is put into the complete house, and the rules that must report it.

A fault is named as a person would call it; the first rule is the one that it is about. Others stand beside it where the same
fact breaks two rules (a circuit that lost a purpose is missed in both rooms that it served).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from seed_demo import faults as demo_faults
from seed_demo.house import DemoHouse
from server.dwelling import CircuitPurpose, DeviceKind, FixtureKind, Surface, SwitchWays, Wetness
from server.editions import Amendment, parse_amendment

__all__ = ["INJECTED", "Injected"]

PutIn = Callable[[DemoHouse], None]


@dataclass(frozen=True, slots=True)
class Injected:
    """A fault in the facts, and the rules that report it: exactly these."""

    put_in: PutIn
    rules: frozenset[str]
    layers: tuple[Amendment, ...] = ()


def _f(put_in: PutIn, *rules: str, layers: tuple[Amendment, ...] = ()) -> Injected:
    return Injected(put_in, frozenset(rules), layers)


def _demo(name: str) -> PutIn:
    """A fault that the demo has, too."""
    return demo_faults.FAULTS[name].put_in


def _set(fact: Callable[[DemoHouse], str], **changes: Any) -> PutIn:
    return lambda house: house.builder.change(fact(house), **changes)


def _circuit(name: str, /, **changes: Any) -> PutIn:
    return _set(lambda house: house.circuits[name], **changes)


def _panel(name: str, /, **changes: Any) -> PutIn:
    return _set(lambda house: house.panels[name], **changes)


def _fixture(house: DemoHouse, kind: FixtureKind) -> str:
    return next(fixture.id for fixture in house.builder.facts().fixtures if fixture.kind is kind)


def _of(kind: FixtureKind, **changes: Any) -> PutIn:
    return _set(lambda house: _fixture(house, kind), **changes)


def _first(house: DemoHouse, room: str, kind: DeviceKind) -> Any:
    return house.devices(room, kind)[0]


def _cables(house: DemoHouse, circuit: str) -> list[str]:
    return [
        cable.id for cable in house.builder.facts().cables if house.circuits[circuit] in cable.circuit_ids
    ]


def _every_cable(circuit: str, **changes: Any) -> PutIn:
    def put_in(house: DemoHouse) -> None:
        for cable in _cables(house, circuit):
            house.builder.change(cable, **changes)

    return put_in


def _all(*faults: PutIn) -> PutIn:
    def put_in(house: DemoHouse) -> None:
        for fault in faults:
            fault(house)

    return put_in


def _without(find: Callable[[DemoHouse], list[str]]) -> PutIn:
    """Take facts away, with the cables at boxes that go."""

    def put_in(house: DemoHouse) -> None:
        for fact in find(house):
            house.builder.remove(fact)

    return put_in


def _become(find: Callable[[DemoHouse], list[Any]], **changes: Any) -> PutIn:
    def put_in(house: DemoHouse) -> None:
        for fact in find(house):
            house.builder.change(fact.id, **changes)

    return put_in


def _only_uf() -> tuple[Amendment, ...]:
    raw = {
        "id": "pipe-only", "title": "Raceways only", "place": "a town", "source": "a test",
        "change": [{"kind": "replaces", "node": "wiring.kinds_allowed", "value": ["raceway"], "cites": "local"}],
    }  # fmt: skip
    return (parse_amendment(raw, "a test"),)


def _site(**changes: Any) -> PutIn:
    def put_in(house: DemoHouse) -> None:
        house.builder.site = replace(house.builder.site, **changes)

    return put_in


def _moved(room: str, kind: DeviceKind, circuit: str) -> PutIn:
    """The first device of a kind is written on a circuit that no cable brings."""

    def put_in(house: DemoHouse) -> None:
        house.builder.change(_first(house, room, kind).id, circuit_id=house.circuits[circuit])

    return put_in


def _astray(house: DemoHouse) -> None:
    """The office circuit of panel A is run from panel B."""
    home_run = next(
        cable for cable in house.builder.facts().cables
        if house.circuits["Office"] in cable.circuit_ids and cable.a_panel_id == house.panels["A"]
    )  # fmt: skip
    house.builder.change(home_run.id, a_panel_id=house.panels["B"])


def _switch_loop(house: DemoHouse) -> None:
    """The deck's light hangs in the family room instead; its cable goes to the light first, and from there a switch loop to
    the switch."""
    deck = _first(house, "Deck", DeviceKind.LUMINAIRE).box_id
    front, inside = (
        next(box.id for box in house.boxes(room) if box.label == "S9") for room in ("Foyer", "Family room")
    )
    for cable in house.builder.facts().cables:
        if inside in (cable.a_box_id, cable.b_box_id):
            house.builder.remove(cable.id)
    circuit = house.circuits["Entrance lights"]
    house.builder.cable(front, deck, circuit)
    house.builder.cable(deck, inside, circuit)
    house.builder.change(
        deck, room_id=house.rooms["Family room"], wall_id=None, surface=Surface.CEILING, wetness=Wetness.DRY
    )


def _second_supply(house: DemoHouse) -> None:
    """A second circuit to the shed, for its light."""
    switch, lamp = (_first(house, "Shed", kind).box_id for kind in (DeviceKind.SWITCH, DeviceKind.LUMINAIRE))
    for cable in house.builder.facts().cables:
        if switch in (cable.a_box_id, cable.b_box_id):
            house.builder.remove(cable.id)
    receptacle = _first(house, "Shed", DeviceKind.RECEPTACLE).box_id
    house.builder.cable(house.panels["A"], receptacle, house.circuits["Shed"], kind="uf-b")
    lights = house.circuits["Garage lights"]
    garage = _first(house, "Garage", DeviceKind.SWITCH).box_id
    house.builder.cable(garage, switch, lights, kind="uf-b")
    house.builder.cable(switch, lamp, lights)


INJECTED: Mapping[str, Injected] = {
    "a switch box too small": _f(_demo("small-switch-box"), "box-fill"),
    "a town that takes raceways only": _f(lambda house: None, "wiring-methods-allowed", layers=_only_uf()),
    "a wall receptacle left out": _f(_demo("receptacle-left-out"), "wall-receptacle-spacing"),
    "a long hallway without a receptacle": _f(
        _become(lambda h: h.receptacles("Upper hallway"), kind=DeviceKind.OTHER), "hallway-receptacle"),
    "a counter receptacle left out": _f(
        _without(lambda h: [h.receptacles("Kitchen", serves="countertop")[-1].id]), "counter-receptacle-spacing"),
    "a basin without its receptacle": _f(
        _set(lambda h: h.receptacles("Hall bathroom")[0].box_id, from_sink_in=Fraction(40)), "bathroom-receptacle"),
    "a laundry whose receptacle is gone": _f(
        _become(lambda h: h.receptacles("Laundry", serves="washer"), kind=DeviceKind.OTHER), "laundry-receptacle"),
    "a basement with the sump's receptacle only": _f(
        _become(lambda h: h.receptacles("Basement"), kind=DeviceKind.OTHER), "basement-receptacle"),
    "a shed without a receptacle": _f(
        _become(lambda h: h.receptacles("Shed"), kind=DeviceKind.OTHER), "accessory-building-receptacle"),
    "no receptacle at the front": _f(
        _become(lambda h: h.receptacles("Front, outdoors"), kind=DeviceKind.OTHER), "outdoor-receptacles", "equipment-service-receptacle"),
    "a deck without a receptacle": _f(
        _become(lambda h: h.receptacles("Deck"), kind=DeviceKind.OTHER), "deck-receptacle"),
    "a refrigerator far from its receptacle": _f(
        _of(FixtureKind.REFRIGERATOR, at_in=Fraction(130)), "appliance-within-reach"),
    "a two-slot dryer receptacle": _f(
        _become(lambda h: h.receptacles("Laundry", serves="dryer"), configuration="10-30"), "receptacle-has-ground"),
    "cables without a ground": _f(_every_cable("Water heater", has_ground=False), "ground-brought"),
    "a room whose switch is gone": _f(
        _without(lambda h: [_first(h, "Bedroom 2", DeviceKind.SWITCH).id]), "room-lighting-outlet"),
    "a dining lamp on the counter circuit": _f(
        _become(lambda h: h.receptacles("Dining room")[-1:], circuit_id="circuit-2"), "switched-receptacle-circuit", "box-on-a-circuit"),
    "a hall whose switch is gone": _f(
        _without(lambda h: [d.id for d in h.devices("Hallway", DeviceKind.SWITCH)]), "passage-light"),
    "an entrance whose light is gone": _f(
        _without(lambda h: [d.id for d in h.devices("Deck", DeviceKind.LUMINAIRE)]), "entrance-light"),
    "a stair with one switch": _f(_demo("one-switch-on-the-stair"), "stair-switches"),
    "a dimmer on the stair": _f(
        _become(lambda h: h.devices("Stair", DeviceKind.SWITCH)[:1], dimmer=True), "stair-dimming"),
    "a switch out of reach": _f(
        _set(lambda h: _first(h, "Pantry", DeviceKind.SWITCH).box_id, height_in="81"), "switch-within-reach", "box-height-like-others"),
    "a switch over the tub": _f(_set(lambda h: _first(h, "Hall bathroom", DeviceKind.SWITCH).box_id, at_in="20"), "switch-outside-tub"),
    "a switch without a neutral": _f(_switch_loop, "neutral-at-switch", "hookup-possible", "cable-carries", "entrance-light"),
    "a bare lamp in the closet": _f(
        _become(lambda h: h.devices("Dressing closet", DeviceKind.LUMINAIRE), lamp="incandescent open"), "closet-light-kind"),
    "a bedroom without a smoke alarm": _f(
        _without(lambda h: [_first(h, "Bedroom 2", DeviceKind.SMOKE_ALARM).id]), "smoke-alarm-in-bedroom"),
    "a bedroom hall without an alarm": _f(
        _become(lambda h: h.devices("Upper hallway", DeviceKind.SMOKE_CO_ALARM), kind=DeviceKind.OTHER), "smoke-alarm-outside-bedrooms", "co-alarms"),
    "a storey without a smoke alarm": _f(
        _become(lambda h: h.devices("Basement", DeviceKind.SMOKE_CO_ALARM), kind=DeviceKind.CO_ALARM), "smoke-alarm-on-storey"),
    "bedrooms without a carbon monoxide alarm": _f(
        _become(lambda h: h.devices("Upper hallway", DeviceKind.SMOKE_CO_ALARM), kind=DeviceKind.SMOKE_ALARM), "co-alarms"),
    "alarms on two-wire cable": _f(_every_cable("Alarms", insulated=2), "alarms-joined"),
    "a home run that begins in the other panel": _f(_astray, "circuit-reached"),
    "a light written on a circuit that never comes there": _f(
        _moved("Pantry", DeviceKind.LUMINAIRE, "Lights, back of house"), "box-on-a-circuit"),
    "a cable with a wire too few": _f(_every_cable("Lights, back of house", insulated=2), "hookup-possible", "cable-carries"),
    "a three-way at one end only": _f(
        _become(lambda h: h.devices("Stair", DeviceKind.SWITCH)[:1], ways=SwitchWays.SINGLE_POLE), "switch-ways", "hookup-possible"),
    "one counter circuit": _f(
        _circuit("Kitchen counter right", purpose=CircuitPurpose.GENERAL), "counter-circuits", "small-appliance-receptacles"),
    "a light on a counter circuit": _f(
        _become(lambda h: h.devices("Kitchen", DeviceKind.LUMINAIRE)[:1], circuit_id="circuit-2"), "small-appliance-only", "box-on-a-circuit"),
    "a laundry circuit of 15 A": _f(
        _all(_circuit("Laundry", rating_a=15), _become(lambda h: h.receptacles("Laundry", serves="washer"), configuration="5-15")), "laundry-circuit"),
    "a bathroom circuit of 15 A": _f(
        _all(_circuit("Hall bathroom", rating_a=15), _become(lambda h: h.receptacles("Hall bathroom"), configuration="5-15")), "bathroom-circuit"),
    "the garage lights on the receptacle circuit": _f(
        _moved("Garage", DeviceKind.LUMINAIRE, "Garage receptacles"), "garage-circuit", "box-on-a-circuit"),
    "a large house on few circuits": _f(_site(floor_area_ft2=16_000), "general-circuits"),
    "a lighting circuit of 10 A with something else on it": _f(_circuit("Garage lights", rating_a=10), "smallest-circuits"),
    "a light on the furnace circuit": _f(
        _moved("Mechanical room", DeviceKind.LUMINAIRE, "Furnace"), "heating-own-circuit", "box-on-a-circuit"),
    "a receptacle on the dishwasher's circuit": _f(
        _moved("Office", DeviceKind.RECEPTACLE, "Dishwasher"), "appliance-own-circuit", "box-on-a-circuit"),
    "a receptacle on the car charger's circuit": _f(
        _moved("Office", DeviceKind.RECEPTACLE, "Car charger"), "ev-own-circuit", "box-on-a-circuit", "receptacle-rating", "fixed-load-share"),
    "a fixed load of more than half": _f(_of(FixtureKind.OTHER, va=Fraction(901)), "fixed-load-share"),
    "a shared neutral whose breakers are not tied": _f(
        _all(_circuit("Attic left", handle_tied=False), _circuit("Attic right", handle_tied=False)), "multiwire-disconnect", "yoke-disconnect"),
    "a 20 A receptacle on 15 A": _f(
        _become(lambda h: h.receptacles("Bedroom 2")[:1], configuration="5-20"), "receptacle-rating"),
    "a counter without GFCI": _f(_demo("counter-without-gfci"), "gfci-locations"),
    "a bedroom without AFCI": _f(_demo("bedroom-without-afci"), "afci-locations"),
    "a shallow working space": _f(_demo("shallow-working-space"), "panel-working-space"),
    "a panel in a bathroom": _f(
        lambda h: h.builder.change(h.panels["B"], room_id=h.rooms["Hall bathroom"]), "panel-room"),
    "a receptacle higher than the others": _f(
        _set(lambda h: h.receptacles("Bedroom 3")[0].box_id, height_in="18"), "box-height-like-others"),
    "a service of 60 A": _f(_panel("A", main_a=60), "service-size", "service-carries-load"),
    "a load above the service": _f(_of(FixtureKind.DISHWASHER, va=Fraction(90_000)), "service-carries-load"),
    "a main larger than its busbars": _f(_panel("A", bus_a=125), "panel-protected", "solar-busbar"),
    "a service neutral without its bond": _f(_panel("A", neutral_bonded=False), "main-bonding-jumper"),
    "a bonded subpanel": _f(_panel("B", neutral_bonded=True), "subpanel-neutral-apart"),
    "a subpanel without a ground bar": _f(_panel("B", ground_bar=False), "subpanel-ground-bar"),
    "a feeder with a wire too few": _f(_every_cable("Panel B feeder", insulated=2), "feeder-four-wire"),
    "a second cable to the shed": _f(_second_supply, "outbuilding-one-supply"),
    "a charger set too high": _f(_of(FixtureKind.EV_CHARGER, va=Fraction(9000)), "ev-circuit-rating"),
    "an air conditioner on thin wire": _f(_of(FixtureKind.AIR_CONDITIONER, minimum_circuit_a=Fraction(32)), "hvac-conductors"),
    "an air conditioner on a large breaker": _f(_of(FixtureKind.AIR_CONDITIONER, maximum_overcurrent_a=Fraction(25)), "hvac-overcurrent"),
    "a heater too large for its circuit": _f(_of(FixtureKind.ELECTRIC_HEAT, va=Fraction(3000)), "electric-heat-circuit"),
    "a water heater too large for its circuit": _f(_of(FixtureKind.WATER_HEATER, va=Fraction(6000)), "water-heater-circuit"),
    "an inverter too large for its circuit": _f(_of(FixtureKind.SOLAR_ARRAY, va=Fraction(3900)), "solar-breaker-rating"),
    "an array too large for the busbars": _f(
        _all(_of(FixtureKind.SOLAR_ARRAY, va=Fraction(9000)), _circuit("Solar array", rating_a=50), _every_cable("Solar array", awg="6")), "solar-busbar"),
    "a heater of 208 V": _f(_of(FixtureKind.ELECTRIC_HEAT, volts=208), "equipment-voltage"),
    "a range too large for its circuit": _f(_of(FixtureKind.RANGE, va=Fraction(26_000)), "range-circuit"),
    "a dryer too large for its circuit": _f(_of(FixtureKind.DRYER, va=Fraction(7400)), "dryer-circuit"),
    "two circuits of one name": _f(_circuit("Bedroom 2", name="Bedroom 3"), "circuit-named"),
    "two circuits in one space": _f(_circuit("Sump pump", spaces=(5,)), "breaker-spaces"),
    "a 240 V circuit on untied single poles": _f(_circuit("Dryer", poles=1, handle_tied=False), "both-legs-open"),
}  # fmt: skip
