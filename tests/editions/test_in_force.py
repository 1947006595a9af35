"""Where an edition is in force: what was read, where it comes from, and that one always asks."""

from __future__ import annotations

from datetime import date

import pytest

from server.editions import YEARS, EditionError, load_presets
from server.editions.in_force import in_force_in, load_in_force, parse_in_force

GOOD = """
read = "2026-11-25"
[sources]
A = "a list"
[[place]]
code = "CO"
name = "Colorado"
adoption = "state"
edition = 2023
source = ["A"]
confidence = "one"
"""


def test_every_state_and_the_district_are_there() -> None:
    assert len(load_in_force()) == 51
    assert len({place.name for place in load_in_force().values()}) == 51


@pytest.mark.parametrize("code", load_in_force())
def test_a_place_says_whom_to_ask_and_where_its_line_comes_from(code: str) -> None:
    place = load_in_force()[code]

    assert place.advice.startswith(place.name)
    assert "Ask your department" in place.advice
    assert place.sources or place.confidence == "memory"
    assert place.since is None or place.since <= place.read
    assert place.edition is None or place.since is None or place.since.year >= place.edition - 1


@pytest.mark.parametrize(
    ("code", "edition", "since"),
    [
        ("AK", 2020, date(2020, 4, 16)),
        ("AR", 2020, date(2022, 8, 1)),
        ("CO", 2023, date(2023, 8, 1)),
        ("CT", 2020, date(2022, 10, 1)),
        ("DE", 2020, date(2021, 9, 1)),
        ("FL", 2020, date(2023, 12, 31)),
        ("SC", 2020, date(2023, 1, 1)),
    ],
)
def test_dated_lines_are_those_of_the_published_list(code: str, edition: int, since: date) -> None:
    """NEC adoption list by state, Mike Holt Enterprises; for South Carolina a contractor's article (mid-2026)."""
    place = in_force_in(code)

    assert place is not None
    assert (place.edition, place.since, place.settled) == (edition, since, True)


@pytest.mark.parametrize("code", ["NJ", "MT", "NC", "NY", "PA", "CA"])
def test_where_sources_disagree_nothing_is_settled(code: str) -> None:
    place = in_force_in(code)

    assert place is not None
    assert place.adoption == "unsettled"
    assert not place.settled
    assert place.note


@pytest.mark.parametrize("code", ["AZ", "IL", "KS", "MS", "MO", "NV"])
def test_where_towns_adopt_the_state_settles_nothing(code: str) -> None:
    place = in_force_in(code)

    assert place is not None
    assert not place.settled
    assert "its towns" in place.advice


def test_an_edition_that_is_not_entered_is_said_to_be_so() -> None:
    place = in_force_in("dc")

    assert place is not None
    assert place.edition == 2014
    assert not place.known
    assert not place.settled


def test_a_place_that_is_none_is_not_there() -> None:
    assert in_force_in("XX") is None
    assert in_force_in("") is None


def test_every_place_with_shipped_amendments_has_a_line() -> None:
    names = {place.name for place in load_in_force().values()}

    assert {layer.place for layer in load_presets()} <= names


def test_settled_places_have_an_edition_that_the_files_know() -> None:
    assert all(place.edition in YEARS for place in load_in_force().values() if place.settled)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ('code = "CO"', 'code = "Co"', "two capital letters"),
        ('name = "Colorado"', 'name = " "', "a name"),
        ('adoption = "state"', 'adoption = "county"', "adoption"),
        ("edition = 2023", "edition = 2022", "a year of the code"),
        ("edition = 2023", "", "names its edition"),
        ("edition = 2023", 'edition = 2023\nsince = "soon"', "since"),
        ('source = ["A"]', 'source = ["B"]', "not in \\[sources\\]"),
        ('source = ["A"]', "source = []", "without source"),
        ('confidence = "one"', 'confidence = "sure"', "confidence"),
        ('confidence = "one"', 'confidence = "one"\nstate = 1', "unknown key"),
        ('read = "2026-11-25"', 'read = "lately"', "a day"),
        ('read = "2026-11-25"', 'read = "2026-11-25"\nother = 1', "unknown key"),
        ("[sources]", "[sources", "in_force"),
    ],
)
def test_a_wrong_line_is_refused_by_name(before: str, after: str, words: str) -> None:
    with pytest.raises(EditionError, match=words):
        parse_in_force(GOOD.replace(before, after), "in_force.toml")


def test_a_place_that_stands_twice_is_refused() -> None:
    twice = GOOD + GOOD[GOOD.index("[[place]]") :]

    with pytest.raises(EditionError, match="twice"):
        parse_in_force(twice, "in_force.toml")
