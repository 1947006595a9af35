"""One fault put into a house that is right is reported by exactly the rules that it is about, and nothing else is.

The house is the demo's: 24 rooms, wired right. Faults that somebody sees are put in as looks, over every recordable
rule; faults in the facts one by one, with the rules that must answer.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from seed_demo.faults import FAULTS
from seed_demo.house import DemoHouse, demo_house
from server.dwelling import (
    Answer,
    Breaker,
    CableKind,
    CircuitPurpose,
    DeviceKind,
    Dwelling,
    Observation,
    Ref,
    Stage,
    SwitchWays,
    Wetness,
)
from server.editions import YEARS, load_edition
from server.readiness import evaluate, judge_again
from server.readiness.evaluate import Finding
from server.rules.outcome import Verdict
from server.rules.registry import RULES
from server.rules.rule import Rule

CODE = load_edition(2023)
RIGHT: Dwelling = demo_house().builder.dwelling()
FINDINGS = evaluate(RIGHT, CODE)


def corrections(findings: list[Finding]) -> set[tuple[str, Ref]]:
    return {(f.rule.id, f.subject) for f in findings if f.outcome.verdict is Verdict.CORRECTION}


def rules_of(house: Dwelling) -> set[str]:
    return {rule for rule, _ in corrections(evaluate(house, CODE))}


@pytest.mark.parametrize("year", YEARS)
def test_a_house_that_is_right_has_no_correction(year: int) -> None:
    found = corrections(evaluate(RIGHT, load_edition(year)))

    if year == 2026:
        # 625.54 asks for GFCI at hardwired chargers too; the house was wired by an earlier edition
        assert {rule for rule, _ in found} == {"gfci-locations"}
        assert len(found) == 1
    else:
        assert found == set()


LOOKED_AT = [
    (rule, next(f.subject for f in FINDINGS if f.rule is rule and f.outcome.verdict is Verdict.UNSEEN))
    for rule in RULES.values()
    if rule.recordable
    and any(
        f.rule is rule and f.outcome.verdict is Verdict.UNSEEN and not f.outcome.missing[0].field
        for f in FINDINGS
    )
]


def test_most_recordable_rough_in_rules_reach_something_in_the_house() -> None:
    recordable = [rule for rule in RULES.values() if rule.recordable and rule.stage is Stage.ROUGH_IN]

    assert len(LOOKED_AT) >= len(recordable) * 2 // 3


@pytest.mark.parametrize(
    ("rule", "subject"), LOOKED_AT, ids=lambda value: value.id if isinstance(value, Rule) else ""
)
def test_one_wrong_look_is_one_correction_and_a_right_one_none(rule: Rule, subject: Ref) -> None:
    for answer, expected in ((Answer.WRONG, {(rule.id, subject)}), (Answer.RIGHT, set())):
        seen = Observation("o", subject, rule.id, answer, by="R. Ames")
        house = RIGHT.seeing([seen])

        assert corrections(judge_again(FINDINGS, house, CODE, [seen])) == expected, answer


@pytest.mark.parametrize(
    ("rule", "subject"), LOOKED_AT, ids=lambda value: value.id if isinstance(value, Rule) else ""
)
def test_what_somebody_recorded_as_not_there_is_never_clear(rule: Rule, subject: Ref) -> None:
    seen = Observation("o", subject, rule.id, Answer.NOT_HERE, by="R. Ames")
    house = RIGHT.seeing([seen])

    found = judge_again(FINDINGS, house, CODE, [seen])

    verdict = next(f.outcome.verdict for f in found if f.rule is rule and f.subject == subject)
    assert verdict in (Verdict.OUTSIDE, Verdict.UNSEEN)


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_the_demo_is_reported_by_exactly_its_rules(name: str) -> None:
    fault = FAULTS[name]
    house = demo_house()
    fault.put_in(house)
    due = {rule for rule in fault.rules if RULES[rule].stage is Stage.ROUGH_IN}

    assert rules_of(house.builder.dwelling()) == due


def first(house: DemoHouse, room: str, kind: DeviceKind) -> Any:
    return house.devices(room, kind)[0]


def change(fact: Callable[[DemoHouse], str], **changes: Any) -> Callable[[DemoHouse], None]:
    return lambda house: house.builder.change(fact(house), **changes)


def cable_to(house: DemoHouse, box_id: str) -> str:
    return next(c.id for c in house.builder.facts().cables if box_id in (c.a_box_id, c.b_box_id))


def add_switched_lamp(house: DemoHouse) -> None:
    """The den light of the office goes, and its switch turns a whole receptacle instead: nothing in the wall is left."""
    light = first(house, "Office", DeviceKind.LUMINAIRE)
    switch = first(house, "Office", DeviceKind.SWITCH)
    receptacle = house.receptacles("Office")[0]
    house.builder.change(switch.id, controls=(receptacle.id,))
    house.builder.remove(light.id)


def metal_without_ground(house: DemoHouse) -> None:
    box = house.receptacles("Bedroom 2")[0].box_id
    for cable in house.builder.facts().cables:
        if box in (cable.a_box_id, cable.b_box_id):
            house.builder.change(cable.id, has_ground=False)


MUTATIONS: dict[str, tuple[Callable[[DemoHouse], None], set[str]]] = {
    "a chandelier too heavy for its box": (
        change(lambda h: first(h, "Dining room", DeviceKind.LUMINAIRE).id, weight_lb="60"), {"luminaire-box"}),
    "a light moved out to the garden on NM cable": (
        change(lambda h: first(h, "Deck", DeviceKind.LUMINAIRE).box_id, surface="free", wetness=Wetness.WET), {"cable-place"}),
    "a bedroom without a smoke alarm": (
        lambda h: h.builder.remove(first(h, "Bedroom 2", DeviceKind.SMOKE_ALARM).id), {"smoke-alarm-in-bedroom"}),
    "a furnace circuit that also lights the room": (
        lambda h: h.builder.change(first(h, "Mechanical room", DeviceKind.LUMINAIRE).id, circuit_id=h.circuits["Furnace"]),
        {"heating-own-circuit", "box-on-a-circuit"}),
    "one counter circuit for all": (
        change(lambda h: h.circuits["Kitchen counter right"], purpose=CircuitPurpose.GENERAL),
        {"counter-circuits", "small-appliance-receptacles"}),
    "a bathroom circuit of 15 A": (
        lambda h: (h.builder.change(h.circuits["Hall bathroom"], rating_a=15),
                   [h.builder.change(d.id, configuration="5-15") for d in h.receptacles("Hall bathroom", serves=None)]),
        {"bathroom-circuit"}),
    "the garage lights on the receptacle circuit": (
        lambda h: [h.builder.change(d.id, circuit_id=h.circuits["Garage receptacles"]) for d in h.devices("Garage", DeviceKind.LUMINAIRE)],
        {"garage-circuit", "box-on-a-circuit"}),
    "a 20 A receptacle on 15 A": (
        change(lambda h: h.receptacles("Bedroom 2")[0].id, configuration="5-20"), {"receptacle-rating"}),
    "a three-slot dryer receptacle": (
        lambda h: [h.builder.change(d.id, configuration="10-30") for d in h.receptacles("Laundry", serves="dryer")],
        {"receptacle-has-ground"}),
    "a cable without ground": (metal_without_ground, {"ground-brought"}),
    "a switch out of reach": (
        change(lambda h: first(h, "Pantry", DeviceKind.SWITCH).box_id, height_in="81"),
        {"switch-within-reach", "box-height-like-others"}),
    "a receptacle set higher than the others": (
        change(lambda h: h.receptacles("Bedroom 3")[0].box_id, height_in="18"), {"box-height-like-others"}),
    "a panel in a bathroom": (
        lambda h: h.builder.change(h.panels["B"], room_id=h.rooms["Hall bathroom"]), {"panel-room"}),
    "a panel hung too high": (
        change(lambda h: h.panels["B"], handle_height_in="80"), {"panel-handle-height"}),
    "a counter receptacle left out": (
        lambda h: h.builder.remove(h.receptacles("Kitchen", serves="countertop")[-1].id),
        {"counter-receptacle-spacing"}),
    "a lamp receptacle in place of the light": (add_switched_lamp, {"wall-receptacle-spacing"}),
    "a light that nothing turns": (
        lambda h: h.builder.remove(first(h, "Bedroom 2", DeviceKind.SWITCH).id), {"room-lighting-outlet"}),
    "a hallway without a receptacle": (
        lambda h: [h.builder.change(d.id, kind=DeviceKind.OTHER) for d in h.receptacles("Upper hallway")], {"hallway-receptacle"}),
    "a single-pole switch at the foot of the stair": (
        change(lambda h: first(h, "Stair", DeviceKind.SWITCH).id, ways=SwitchWays.SINGLE_POLE), {"switch-ways", "hookup-possible"}),
    "alarms on two-wire cable": (
        lambda h: [h.builder.change(c.id, insulated=2) for c in h.builder.facts().cables if h.circuits["Alarms"] in c.circuit_ids],
        {"alarms-joined"}),
    "a circuit of 14 AWG on a GFCI breaker alone": (
        change(lambda h: h.circuits["Bedroom 2"], breaker=Breaker.GFCI), {"afci-locations"}),
    "a clamp-less metal box": (
        lambda h: h.builder.change(h.receptacles("Main bedroom")[0].box_id, material="metal", clamps="none"), {"cable-held-at-box"}),
    "pipe where the white is a hot": (
        lambda h: [h.builder.change(c.id, kind=CableKind.RACEWAY) for c in h.builder.facts().cables if h.circuits["Water heater"] in c.circuit_ids],
        {"white-as-hot"}),
}  # fmt: skip


@pytest.mark.parametrize("name", MUTATIONS)
def test_a_fault_in_the_facts_is_reported_by_exactly_its_rules(name: str) -> None:
    put_in, expected = MUTATIONS[name]
    house = demo_house()
    put_in(house)

    assert rules_of(house.builder.dwelling()) == expected
