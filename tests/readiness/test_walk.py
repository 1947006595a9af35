"""The walk: findings folded into one stop per rule and room."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Answer
from server.editions import load_edition
from server.readiness import evaluate
from server.readiness.walk import Left, Stop, facts_missing, left_of, stops_of


def bedroom(boxes: int = 3) -> tuple[HouseBuilder, str, list[str]]:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    circuit = house.circuit(house.panel(), "Bedroom")
    made = [house.box(room, wall=1, at_in=12 * (n + 1), height_in=16) for n in range(boxes)]
    house.home_run(circuit, *made)
    return house, room, made


def stop(house: HouseBuilder, room: str, rule: str) -> Stop:
    findings = evaluate(house.dwelling(), load_edition(2023))
    return next(stop for stop in stops_of(room, findings) if stop.rule.id == rule)


def test_a_rule_over_three_boxes_is_one_stop() -> None:
    house, room, _ = bedroom()

    found = stop(house, room, "sheath-into-box")

    assert (len(found.unseen), found.settled, found.by_eyes) == (3, False, True)


def test_measuring_the_worst_one_settles_the_room() -> None:
    house, room, _ = bedroom()

    house.observe("room", room, "sheath-into-box", measure="3/8")

    found = stop(house, room, "sheath-into-box")
    assert (len(found.right), found.settled) == (3, True)


def test_one_wrong_box_stands_beside_a_room_that_is_right() -> None:
    house, room, boxes = bedroom()
    house.observe("room", room, "sheath-into-box", Answer.RIGHT)

    house.observe("box", boxes[1], "sheath-into-box", Answer.WRONG)

    found = stop(house, room, "sheath-into-box")
    assert [finding.subject.id for finding in found.wrong] == [boxes[1]]
    assert len(found.right) == 2


def test_taking_an_observation_back_makes_it_unseen_again() -> None:
    house, room, _ = bedroom()
    house.observe("room", room, "sheath-into-box", measure="3/8")

    house.observe("room", room, "sheath-into-box", Answer.TAKEN_BACK)

    assert not stop(house, room, "sheath-into-box").settled


def test_a_fact_that_no_look_settles_is_listed_by_its_field() -> None:
    house, room, boxes = bedroom(1)
    house.change(boxes[0], clamps=None)
    findings = evaluate(house.dwelling(), load_edition(2023))

    waiting = facts_missing(stops_of(room, findings))

    assert "box.clamps" in waiting


def test_another_room_has_its_own_stops() -> None:
    house, room, _ = bedroom()
    other = house.room("den", length_in=120, width_in=120)
    findings = evaluate(house.dwelling(), load_edition(2023))

    rules_of_other = {stop.rule.id for stop in stops_of(other, findings)}

    assert "sheath-into-box" not in rules_of_other
    assert "sheath-into-box" in {stop.rule.id for stop in stops_of(room, findings)}


def test_what_is_left_counts_a_rule_once_as_the_walk_does() -> None:
    house, room, _ = bedroom()
    findings = [item for item in evaluate(house.dwelling(), load_edition(2023)) if room in item.rooms]
    stops = stops_of(room, findings)

    left = left_of(findings)

    assert left.looks == sum(stop.by_eyes for stop in stops) > 0
    assert left.looks + left.facts == sum(not stop.settled for stop in stops)


def test_one_look_is_one_less_and_what_is_left_adds_up() -> None:
    house, room, _ = bedroom()

    def left() -> Left:
        return left_of(item for item in evaluate(house.dwelling(), load_edition(2023)) if room in item.rooms)

    before = left()
    house.observe("room", room, "sheath-into-box", measure="3/8")

    assert left() == Left(before.looks - 1, before.facts)
    assert left() + Left(1, 0) == before
