"""Walking what belongs to no room: papers, trenches, the service. Recorded like a room's looks, under the job itself."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from server.editions import load_edition
from server.readiness import JOB, Judged
from server.rules.outcome import Verdict
from server.rules.registry import RULES
from server.rules.rule import Kind
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
WALK = "/jobs/job-1/whole-job/walk"


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


def cards(page: str) -> list[str]:
    """The rules that still have something to look at."""
    return re.findall(r'<article class="card" id="([a-z0-9-]+)"', page)


def log(engine: Engine) -> list[Any]:
    with reading(engine) as session:
        return list(load_house(session, "job-1").facts.observations)


def look(client: TestClient, rule: str, answer: str = "right", **more: str) -> Any:
    return client.post(
        f"{WALK}/{rule}",
        data={"key": str(uuid4()), "answer": answer, **more},
        headers={"HX-Request": "true"},
    )


def first(page: str, kind: Kind) -> str:
    return next(rule for rule in cards(page) if RULES[rule].kind is kind and RULES[rule].about_kind == "job")


def test_every_rule_of_the_job_that_somebody_settles_has_its_card(as_: As, engine: Engine) -> None:
    asked = set(cards(as_("pat").get(WALK).text))

    with reading(engine) as session:
        judged = Judged.of(load_house(session, "job-1"), load_edition(2023))
    waiting = {
        finding.rule.id
        for finding in judged.room(JOB)
        if finding.outcome.verdict is Verdict.UNSEEN
        and finding.rule.recordable
        and any(not missing.field for missing in finding.outcome.missing)
    }
    assert len(waiting) > 60
    assert asked == waiting


def test_the_list_of_places_and_the_readiness_lead_to_it(as_: As) -> None:
    for page in ("/jobs/job-1/walk", "/jobs/job-1/readiness"):
        assert f'href="{WALK}"' in as_("gus").get(page).text


def test_one_tap_is_recorded_under_the_job(as_: As, engine: Engine) -> None:
    rule = first(as_("pat").get(WALK).text, Kind.PAPER)

    answer = look(as_("pat"), rule)

    assert "Recorded as right" in answer.text
    (seen,) = log(engine)
    assert (seen.subject.kind, seen.rule, seen.by) == ("job", rule, "Pat Osei")
    assert rule not in cards(as_("pat").get(WALK).text)


def test_a_measurement_is_judged_at_once(as_: As) -> None:
    rule = first(as_("pat").get(WALK).text, Kind.MEASURED)

    answer = look(as_("pat"), rule, "measured", measure="1/16")

    assert "Recorded 1/16 in" in answer.text


def test_what_is_wrong_holds_the_job_open_and_can_be_taken_back(as_: As, engine: Engine) -> None:
    rule = first(as_("pat").get(WALK).text, Kind.SEEN)

    answer = look(as_("pat"), rule, "wrong", note="no tape over it")

    assert "no tape over it" in answer.text
    assert "no tape over it" in as_("gus").get("/jobs/job-1/readiness").text
    (seen,) = log(engine)
    back = as_("pat").post(
        f"{WALK}/{rule}/take-back",
        data={"key": str(uuid4()), "observation": seen.id},
        headers={"HX-Request": "true"},
    )
    assert "Taken back" in back.text
    assert rule in cards(as_("pat").get(WALK).text)


def test_a_whole_subject_that_is_not_here_is_one_tap(as_: As) -> None:
    page = as_("pat").get(WALK).text
    form = next(f for f in re.findall(r"<form.*?</form>", page, re.S) if "None of this is here" in f)
    rules = re.findall(r'name="rules" value="([a-z0-9-]+)"', form)

    answer = as_("pat").post(WALK, data={"key": str(uuid4()), "answer": "not here", "rules": rules})

    assert answer.headers["location"] == WALK
    left = cards(as_("pat").get(WALK).text)
    assert len(rules) > 1
    assert not set(rules) & set(left)


def test_what_has_no_room_is_recorded_one_by_one(as_: As, engine: Engine) -> None:
    """A panel that stands in no room has no room to speak for it: the look is the panel's own."""
    page = as_("pat").get(WALK).text
    rule = next(rule for rule in cards(page) if RULES[rule].about_kind == "panel")

    answer = look(as_("pat"), rule)

    assert answer.status_code == 200
    assert {seen.subject.kind for seen in log(engine)} == {"panel"}
    assert rule not in cards(as_("pat").get(WALK).text)


def test_a_tap_that_is_sent_twice_is_one_record(as_: As, engine: Engine) -> None:
    page = as_("pat").get(WALK).text
    for kind in (Kind.PAPER, Kind.SEEN):
        rule, key = first(page, kind), str(uuid4())
        for _ in range(2):
            as_("pat").post(f"{WALK}/{rule}", data={"key": key, "answer": "right"})

    assert len(log(engine)) == 2


def test_a_room_cannot_be_marked_as_a_whole_that_is_not_here(as_: As) -> None:
    assert "None of this is here" not in as_("pat").get("/jobs/job-1/rooms/room-1/walk").text


@pytest.mark.parametrize(
    "form",
    [
        {"answer": "measured", "measure": "a bit"},
        {"answer": "measured", "measure": ""},
        {"answer": "perhaps"},
        {"answer": "right", "other": "1"},
    ],
)
def test_a_crooked_form_is_told_and_nothing_is_recorded(
    as_: As, engine: Engine, form: dict[str, str]
) -> None:
    rule = first(as_("pat").get(WALK).text, Kind.MEASURED)

    answer = as_("pat").post(f"{WALK}/{rule}", data={"key": str(uuid4()), **form})

    assert answer.status_code == 422
    assert log(engine) == []


def test_it_takes_the_same_queries_however_large_the_house(as_: As, query_count: Callable[[], Any]) -> None:
    client = as_("pat")
    client.get(WALK)
    with query_count() as queries:
        client.get(WALK)

    assert queries.count <= 8
