"""A look at a whole room that found something wrong is one correction: nobody is told that every box is wrong."""

from __future__ import annotations

from fractions import Fraction

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Dwelling, Observation, Ref
from server.editions import load_edition
from server.readiness import Finding, Judged, explain, line_of
from server.rules.outcome import Verdict
from server.rules.registry import RULES

CODE = load_edition(2023)
REACH = "sheath-into-box"
FREE = "free-conductor"
FASTENED = "box-fastened"


def bedroom(boxes: int = 3) -> tuple[HouseBuilder, list[str]]:
    house = HouseBuilder()
    circuit = house.circuit(house.panel(), "Bedrooms")
    room = house.room("bedroom", length_in=144, width_in=120)
    made = [house.box(room, wall=1, at_in=24 * n, height_in=16) for n in range(1, boxes + 1)]
    for box in made:
        house.receptacle(box)
    house.home_run(circuit, *made)
    return house, made


def room_of(house: Dwelling) -> Ref:
    return Ref("room", house.facts.rooms[0].id)


def of(ref: Ref, rule: str, answer: Answer, measure: str = "", number: int = 1) -> Observation:
    return Observation(str(number), ref, rule, answer, Fraction(measure) if measure else None, by="R. Ames")


def found(house: Dwelling, rule: str, *log: Observation) -> list[Finding]:
    judged = Judged.of(house, CODE).seeing(log)
    assert judged.findings == Judged.of(judged.house, CODE).findings
    return [item for item in judged.room(house.facts.rooms[0].id) if item.rule.id == rule]


def verdicts(findings: list[Finding]) -> list[str]:
    return [item.outcome.verdict.value for item in findings]


def test_a_worst_one_that_is_enough_clears_all() -> None:
    house = bedroom()[0].dwelling()
    got = found(house, REACH, of(room_of(house), REACH, Answer.MEASURED, "1/4"))
    assert verdicts(got) == ["clear"] * 3


def test_a_worst_one_that_falls_short_is_one_correction_and_the_others_wait() -> None:
    house = bedroom()[0].dwelling()
    for rule, measure in ((REACH, "3/16"), (FREE, "5")):
        got = found(house, rule, of(room_of(house), rule, Answer.MEASURED, measure))
        assert verdicts(got) == ["correction", "unseen", "unseen"], rule
        assert got[0].place == room_of(house)
        assert "Nobody said which one." in line_of(got[0], CODE).sentence
        assert (
            line_of(got[1], CODE).sentence == "One in this room was found wrong, and nobody said which one."
        )


def test_a_room_found_wrong_by_a_look_is_one_correction() -> None:
    house = bedroom()[0].dwelling()
    got = found(house, FASTENED, of(room_of(house), FASTENED, Answer.WRONG))
    assert verdicts(got) == ["correction", "unseen", "unseen"]


def test_the_only_one_of_its_kind_is_the_one() -> None:
    house = bedroom(1)[0].dwelling()
    (got,) = found(house, REACH, of(room_of(house), REACH, Answer.MEASURED, "3/16"))
    assert got.outcome.verdict is Verdict.CORRECTION
    assert got.place == got.subject == Ref("box", house.facts.boxes[0].id)


def test_naming_the_one_leaves_the_others_to_be_looked_at() -> None:
    house = bedroom()[0].dwelling()
    second = Ref("box", house.facts.boxes[1].id)
    got = found(
        house, REACH,
        of(room_of(house), REACH, Answer.MEASURED, "3/16", 1), of(second, REACH, Answer.MEASURED, "3/16", 2),
    )  # fmt: skip
    assert verdicts(got) == ["unseen", "correction", "unseen"]
    assert got[1].place == second
    assert "nobody has looked at this one since" in line_of(got[0], CODE).sentence


def test_one_that_was_named_and_mended_does_not_bring_the_rooms_correction_back() -> None:
    house = bedroom()[0].dwelling()
    second = Ref("box", house.facts.boxes[1].id)
    got = found(
        house, REACH,
        of(room_of(house), REACH, Answer.MEASURED, "3/16", 1), of(second, REACH, Answer.MEASURED, "3/16", 2),
        of(second, REACH, Answer.MEASURED, "1/2", 3),
    )  # fmt: skip
    assert verdicts(got) == ["unseen", "clear", "unseen"]


def test_after_naming_it_the_next_worst_one_settles_the_rest() -> None:
    house = bedroom()[0].dwelling()
    second = Ref("box", house.facts.boxes[1].id)
    got = found(
        house, REACH,
        of(room_of(house), REACH, Answer.MEASURED, "3/16", 1), of(second, REACH, Answer.MEASURED, "3/16", 2),
        of(room_of(house), REACH, Answer.MEASURED, "1/2", 3),
    )  # fmt: skip
    assert verdicts(got) == ["clear", "correction", "clear"]


def test_one_that_was_named_before_is_not_the_one_that_is_short_now() -> None:
    house = bedroom()[0].dwelling()
    second = Ref("box", house.facts.boxes[1].id)
    got = found(
        house, REACH,
        of(second, REACH, Answer.MEASURED, "3/16", 1), of(room_of(house), REACH, Answer.MEASURED, "1/8", 2),
    )  # fmt: skip
    assert verdicts(got) == ["correction", "correction", "unseen"]
    assert [item.place for item in got[:2]] == [room_of(house), second]


def test_one_that_was_named_right_leaves_the_wrong_one_among_the_others() -> None:
    house = bedroom()[0].dwelling()
    first = Ref("box", house.facts.boxes[0].id)
    got = found(
        house, REACH,
        of(room_of(house), REACH, Answer.MEASURED, "1/8", 1), of(first, REACH, Answer.MEASURED, "1/2", 2),
    )  # fmt: skip
    assert verdicts(got) == ["clear", "correction", "unseen"]


def test_what_the_facts_say_of_a_box_is_its_own_correction() -> None:
    builder, boxes = bedroom()
    for cable in [each for each in builder.facts().cables if each.b_box_id == boxes[1]]:
        builder.change(cable.id, sheath_b_in=Fraction(1, 16))
    house = builder.dwelling()
    before = found(house, REACH)
    assert verdicts(before) == ["unseen", "correction", "unseen"]

    got = found(house, REACH, of(room_of(house), REACH, Answer.MEASURED, "1/8"))

    assert got[1].place == Ref("box", boxes[1])
    assert verdicts(got) == ["correction", "correction", "unseen"]


def test_the_reckoning_says_the_same_as_the_list() -> None:
    house = bedroom()[0].dwelling()
    log = (of(room_of(house), REACH, Answer.MEASURED, "3/16"),)
    for item in found(house, REACH, *log):
        told = explain(RULES[REACH], item.subject, house.seeing(log), CODE)
        assert told is not None
        assert told.line == line_of(item, CODE)
