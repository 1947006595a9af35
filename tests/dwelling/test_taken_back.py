"""Which observation stands after some were taken back."""

from __future__ import annotations

from server.dwelling import Answer, Dwelling, Facts, Observation, Ref, Site

KITCHEN = Ref("room", "kitchen")


def seen_after(*log: Observation) -> Answer | None:
    found = Dwelling(Facts(Site("job"), observations=log)).seen("room", "kitchen", "cables-dressed")
    return found.answer if found else None


def look(name: str, answer: Answer, takes_back: str | None = None) -> Observation:
    return Observation(name, KITCHEN, "cables-dressed", answer, takes_back=takes_back)


def test_the_newest_look_stands() -> None:
    assert seen_after(look("1", Answer.WRONG), look("2", Answer.RIGHT)) is Answer.RIGHT


def test_taking_the_newest_back_lets_the_one_before_stand_again() -> None:
    log = look("1", Answer.WRONG), look("2", Answer.RIGHT), look("3", Answer.TAKEN_BACK, "2")

    assert seen_after(*log) is Answer.WRONG


def test_taking_the_only_one_back_leaves_nothing_seen() -> None:
    assert seen_after(look("1", Answer.RIGHT), look("2", Answer.TAKEN_BACK, "1")) is None


def test_taking_an_older_one_back_changes_nothing_that_stands() -> None:
    log = look("1", Answer.WRONG), look("2", Answer.RIGHT), look("3", Answer.TAKEN_BACK, "1")

    assert seen_after(*log) is Answer.RIGHT


def test_both_of_two_can_be_taken_back() -> None:
    log = (
        look("1", Answer.WRONG),
        look("2", Answer.RIGHT),
        look("3", Answer.TAKEN_BACK, "2"),
        look("4", Answer.TAKEN_BACK, "1"),
    )

    assert seen_after(*log) is None


def test_a_taking_back_that_names_none_clears_the_subject() -> None:
    log = look("1", Answer.WRONG), look("2", Answer.RIGHT), look("3", Answer.TAKEN_BACK)

    assert seen_after(*log) is None
