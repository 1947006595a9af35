"""Practice frames: the seed decides everything, the figures lie on their side of the limit, grading is exact."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.readiness.practice import grade, make_frame
from server.rules.registry import RULES

CODE = load_edition(2023)


@given(seed=st.integers(0, 10**9), faults=st.integers(1, 12))
@settings(max_examples=60, deadline=None)
def test_a_frame_has_as_many_faults_as_asked_and_is_the_same_for_its_seed(seed: int, faults: int) -> None:
    frame = make_frame(seed, CODE, faults=faults)

    assert len(frame.faults) == faults
    assert frame.clues == make_frame(seed, CODE, faults=faults).clues
    assert all(clue.rule in RULES for clue in frame.clues)
    assert not any("{" in clue.words for clue in frame.clues)


def test_other_seeds_are_other_frames() -> None:
    assert len({make_frame(seed, CODE).clues for seed in range(40)}) >= 39


@given(seed=st.integers(0, 10**6), marked=st.sets(st.integers(0, 15)))
@settings(max_examples=80, deadline=None)
def test_what_was_marked_is_found_or_a_false_alarm_and_the_rest_of_the_faults_missed(
    seed: int, marked: set[int]
) -> None:
    frame = make_frame(seed, CODE, faults=5)
    ids = {str(number) for number in marked} & {clue.id for clue in frame.clues}

    result = grade(frame, ids, CODE)

    assert {clue.id for clue in result.found} | {item.clue.id for item in result.false_alarms} == ids
    assert {clue.id for clue in result.found} | {item.clue.id for item in result.missed} == {
        clue.id for clue in frame.faults
    }
    assert 0 <= result.points <= result.of == 5
    assert all(item.why for item in (*result.missed, *result.false_alarms))


@pytest.mark.parametrize("year", YEARS)
def test_figures_in_clues_come_from_the_edition(year: int) -> None:
    """314.17: 1/4 in of sheath; the right clue says twice that, the fault half of it."""
    words = {
        clue.words: clue.wrong
        for seed in range(60)
        for clue in make_frame(seed, load_edition(year)).clues
        if clue.rule == "sheath-into-box"
    }

    assert words == {
        "The jacket shows 1/2 in past the entry.": False,
        "The jacket ends 1/8 in inside the entry.": True,
    }
