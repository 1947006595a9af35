"""After more was seen, judging only what was touched comes to the same as judging everything."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Dwelling, Observation, Ref
from server.editions import load_edition
from server.readiness import JOB, Finding, Judged, evaluate, judge_again, standings
from server.rules.registry import RULES

CODE = load_edition(2023)


def house_of_three_rooms() -> Dwelling:
    house = HouseBuilder()
    circuit = house.circuit(house.panel(), "Bedrooms")
    for kind in ("bedroom", "kitchen", "bathroom"):
        room = house.room(kind, length_in=144, width_in=120)
        boxes = [house.box(room, wall=1, at_in=12 * n, height_in=16) for n in range(1, 4)]
        for box in boxes:
            house.receptacle(box)
        house.home_run(circuit, *boxes)
    return house.dwelling()


BASE = house_of_three_rooms()
FINDINGS = evaluate(BASE, CODE)
REFS = [
    *(Ref("room", room.id) for room in BASE.facts.rooms),
    *(Ref("box", box.id) for box in BASE.facts.boxes),
    *(Ref("device", device.id) for device in BASE.facts.devices),
    *(Ref("cable", cable.id) for cable in BASE.facts.cables),
    *(Ref("circuit", circuit.id) for circuit in BASE.facts.circuits),
    Ref("job", "job-1"),
]
RECORDABLE = [rule.id for rule in RULES.values() if rule.recordable]


@st.composite
def logs(draw: st.DrawFn) -> list[Observation]:
    made: list[Observation] = []
    for number in range(draw(st.integers(1, 5))):
        back = draw(st.sampled_from([None, *(seen.id for seen in made)]))
        answer = draw(st.sampled_from([Answer.RIGHT, Answer.WRONG, Answer.MEASURED, Answer.NOT_HERE]))
        earlier = next((seen for seen in made if seen.id == back), None)
        made.append(
            Observation(
                str(number),
                earlier.subject if earlier else draw(st.sampled_from(REFS)),
                earlier.rule if earlier else draw(st.sampled_from(RECORDABLE)),
                Answer.TAKEN_BACK if earlier else answer,
                draw(st.integers(0, 64).map(lambda n: Fraction(n, 16)))
                if answer is Answer.MEASURED and not earlier
                else None,
                by="R. Ames",
                takes_back=back,
            )
        )
    return made


@given(logs())
@settings(max_examples=50, deadline=None)
def test_judging_what_was_touched_is_judging_everything(log: list[Observation]) -> None:
    seen = BASE.seeing(log)

    assert judge_again(FINDINGS, seen, CODE, log) == evaluate(seen, CODE)


def test_a_house_that_saw_more_is_the_house_built_with_it() -> None:
    log = [Observation("1", REFS[0], RECORDABLE[0], Answer.RIGHT)]
    built = Dwelling(replace(BASE.facts, observations=tuple(log)))

    assert evaluate(BASE.seeing(log), CODE) == evaluate(built, CODE)
    assert BASE.facts.observations == ()


def keyed(findings: list[Finding]) -> dict[tuple[str, str, str], Finding]:
    return {(f.rule.id, f.subject.kind, f.subject.id): f for f in findings}


@given(logs())
@settings(max_examples=40, deadline=None)
def test_a_judged_house_after_more_was_seen_is_the_house_judged_with_it(log: list[Observation]) -> None:
    judged = Judged.of(BASE, CODE)
    before = {room.id: judged.standing(room.id) for room in BASE.facts.rooms}

    after = judged.seeing(log)

    whole = evaluate(BASE.seeing(log), CODE)
    assert keyed(after.findings) == keyed(whole)
    assert after.standings == standings(after.house, whole)
    assert all(after.standing(room.id) == after.standings[room.id] for room in BASE.facts.rooms)
    assert {room.id: judged.standing(room.id) for room in BASE.facts.rooms} == before
    assert len(after.room(JOB)) == sum(not finding.rooms for finding in whole)
