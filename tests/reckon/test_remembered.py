"""What is remembered is what would be reckoned, and it can be forgotten."""

from __future__ import annotations

import pytest

from seed_demo.faults import put_in
from seed_demo.house import demo_house
from seed_demo.walked import walk_half
from server.dwelling import Dwelling
from server.editions import YEARS, load_edition
from server.readiness import evaluate
from server.reckon.remembered import forget, remembered


def test_the_same_question_is_reckoned_once_until_it_is_forgotten() -> None:
    asked: list[int] = []

    @remembered(8)
    def doubled(number: int) -> int:
        asked.append(number)
        return 2 * number

    assert [doubled(2), doubled(2), doubled(3)] == [4, 4, 6]
    assert asked == [2, 3]
    forget()
    assert doubled(2) == 4
    assert asked == [2, 3, 2]


def test_no_more_than_the_bound_is_kept() -> None:
    asked: list[int] = []

    @remembered(2)
    def same(number: int) -> int:
        asked.append(number)
        return number

    for number in (1, 2, 3, 1):
        same(number)
    assert asked == [1, 2, 3, 1]


def test_what_raises_is_asked_again() -> None:
    asked: list[int] = []

    @remembered(8)
    def refuses(number: int) -> int:
        asked.append(number)
        raise ValueError("expected an even number")

    for _ in range(2):
        with pytest.raises(ValueError, match="even"):
            refuses(1)
    assert asked == [1, 1]


@pytest.mark.parametrize("year", YEARS)
def test_a_house_is_judged_alike_with_everything_remembered_and_with_nothing(year: int) -> None:
    house = demo_house()
    walk_half(house)
    put_in(house)
    facts, code = house.builder.facts(), load_edition(year)
    forget()
    first = evaluate(Dwelling(facts), code)
    for other in YEARS:
        # another edition in between: what is remembered of it must not be taken for this one's
        evaluate(Dwelling(facts), load_edition(other))
    again = evaluate(Dwelling(facts), code)
    assert len(first) > 5000
    assert again == first
