"""Where facts are missing and an answer is wanted all the same: the most demanding reading, said aloud."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.editions import YEARS, load_edition
from server.reckon.protection.conservative import conservative_reading
from server.reckon.protection.facts import NOWHERE_NEAR, OutletFacts
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.work import Work
from tests.protection_facts import ASK, edition, hardwired, receptacle
from tests.reckon.protection.test_gfci_boundaries import facts_of_any_outlet


def test_a_settled_answer_assumes_nothing() -> None:
    found = conservative_reading(gfci_required, receptacle("bathroom"), edition(2023))

    assert (found.required, found.assumed) == (True, ())


def test_an_unknown_basement_is_taken_as_unfinished_and_says_so() -> None:
    found = conservative_reading(gfci_required, receptacle("basement"), edition(2017))

    assert found.required is True
    assert found.assumed == ("Assumed: the room is not finished.",)
    assert found.why.endswith(found.assumed[0])


def test_no_sink_is_taken_for_granted_where_none_was_named() -> None:
    found = conservative_reading(gfci_required, OutletFacts("bedroom", volts=125, amps=20), edition(2023))

    assert found.required is False
    assert any("no sink" in sentence for sentence in found.assumed)


def test_what_makes_no_difference_is_not_mentioned() -> None:
    found = conservative_reading(gfci_required, OutletFacts("garage"), edition(2023))

    assert (found.required, found.assumed) == (True, ())


def test_a_permits_date_is_not_guessed() -> None:
    facts = hardwired("outdoors", serves="heat pump", listed_hvac=True)

    found = conservative_reading(gfci_required, facts, edition(2023))

    assert found.required == "inspector"
    assert "date" in found.why


def test_a_permits_date_that_decides_nothing_is_not_asked_for() -> None:
    facts = hardwired("outdoors", serves="heat pump", listed_hvac=True, circuit_amps=70)

    assert conservative_reading(gfci_required, facts, edition(2023)).required is False


def test_the_work_names_every_assumption() -> None:
    work = Work()

    conservative_reading(gfci_required, receptacle("accessory building"), edition(2023), work)

    said = [step.text for step in work.steps]
    assert "Assumed: the space is not lived in." in said
    assert "Assumed: the floor is at or below grade." in said


YES_NO = (
    "finished",
    "readily_accessible",
    "dedicated",
    "listed_hvac",
    "damp",
    "floor_at_grade",
    "habitable",
    "single",
)


@settings(max_examples=250, deadline=None)
@given(facts=facts_of_any_outlet, year=st.sampled_from(YEARS), what=st.sampled_from(sorted(ASK)))
def test_an_answer_always_comes_out(facts: OutletFacts, year: int, what: str) -> None:
    found = conservative_reading(ASK[what], facts, load_edition(year))

    assert found.required in (True, False, "inspector")


@settings(max_examples=150, deadline=None)
@given(facts=facts_of_any_outlet, year=st.sampled_from(YEARS))
def test_no_filling_in_of_plain_facts_is_more_demanding(facts: OutletFacts, year: int) -> None:
    """Against brute force: every way to fill in the missing yes-or-no facts.

    Left out: dampness, which counts as dry where nobody said otherwise, and whether a room on a basement level is
    finished, which its kind tells.
    """
    code = load_edition(year)
    far = {name: getattr(facts, name) or NOWHERE_NEAR for name in ("from_sink_in", "from_tub_in")}
    facts = replace(
        facts,
        volts=facts.volts or 125,
        amps=facts.amps or 20,
        serves=facts.serves or "general",
        damp=bool(facts.damp),
        finished=True if facts.in_basement and facts.finished is None else facts.finished,
        permit_date=facts.permit_date or date(2026, 9, 1),
        **far,
    )
    open_facts = [name for name in YES_NO if getattr(facts, name) is None]
    demand: dict[Any, int] = {True: 2, "inspector": 1, False: 0}
    strictest = max(
        demand[gfci_required(replace(facts, **dict(zip(open_facts, values, strict=True))), code).required]
        for values in product((True, False), repeat=len(open_facts))
    )

    found = conservative_reading(gfci_required, facts, code)

    assert demand[found.required] == strictest


@pytest.mark.parametrize("year", YEARS)
def test_the_same_question_twice_has_the_same_answer(year: int) -> None:
    facts = OutletFacts("kitchen")

    assert conservative_reading(gfci_required, facts, edition(year)) == conservative_reading(
        gfci_required, facts, edition(year)
    )
