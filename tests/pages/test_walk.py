"""Walking a room: one tap is one record, wrong ones stand out, everything can be taken back."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any
from uuid import uuid4

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from server.dwelling import Answer
from server.store.engine import reading
from server.store.houses import load_house
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
ROOM = "/jobs/job-1/rooms/room-1/walk"
RULE = "sheath-into-box"


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


def look(client: TestClient, answer: str = "right", *, key: str = "", rule: str = RULE, **more: str) -> Any:
    return client.post(
        f"{ROOM}/{rule}",
        data={"key": key or str(uuid4()), "answer": answer, **more},
        headers={"HX-Request": "true"},
    )


def log(engine: Engine) -> list[Any]:
    with reading(engine) as session:
        return list(load_house(session, "job-1").facts.observations)


def test_it_works(as_: As) -> None:
    page = as_("pat").get(ROOM)

    assert page.status_code == 200
    assert f'id="{RULE}"' in page.text
    assert "at least 1/4 in" in page.text


def test_one_tap_settles_the_whole_room_under_the_persons_name(as_: As, engine: Engine) -> None:
    answer = look(as_("pat"))

    assert answer.status_code == 200
    assert "Recorded as right" in answer.text
    (seen,) = log(engine)
    assert (seen.subject.kind, seen.subject.id, seen.rule, seen.by) == ("room", "room-1", RULE, "Pat Osei")


def test_measuring_the_worst_one_is_judged_at_once(as_: As) -> None:
    right = look(as_("pat"), "measured", measure="3/8")
    short = look(as_("pat"), "measured", measure='1/8"')

    assert "Recorded 3/8 in" in right.text
    assert "1/4 in is the least" in short.text


def test_a_worst_one_that_is_short_asks_which_one_it_is(as_: As, engine: Engine) -> None:
    short = look(as_("pat"), "measured", measure='1/8"').text

    assert short.count('class="card-wrong"') == 1
    assert "Which one is it?" in short
    assert 'value="1/8"' in short  # to be recorded for the one that is picked, without typing it again
    page = as_("gus").get("/jobs/job-1/readiness").text
    assert page.count("1/8 in into the box") == 1


def test_the_one_is_named_with_its_measure_and_the_others_are_left(as_: As, engine: Engine) -> None:
    look(as_("pat"), "measured", measure="1/8")

    named = look(as_("pat"), "measured", subject="box:box-2", measure="1/8 in").text

    assert "Which one is it?" not in named
    assert named.count('class="card-wrong"') == 1
    assert [(seen.subject.kind, str(seen.measure)) for seen in log(engine)] == [
        ("room", "1/8"),
        ("box", "1/8"),
    ]
    settled = look(as_("pat"), "measured", measure="1/2").text
    assert "done" in settled
    assert settled.count('class="card-wrong"') == 1


def test_a_measure_beside_another_answer_is_asked_about_and_kept(as_: As, engine: Engine) -> None:
    answer = look(as_("pat"), "wrong", subject="box:box-2", measure="3/16", note="torn at the clamp")

    assert answer.status_code == 422
    assert "Record the measure, or leave it empty" in answer.text
    assert 'value="3/16"' in answer.text
    assert "torn at the clamp" in answer.text
    assert re.search(r'value="box:box-2" required checked', answer.text)
    assert log(engine) == []


def test_one_box_is_wrong_while_the_others_are_right(as_: As, engine: Engine) -> None:
    look(as_("pat"), "right")

    answer = look(as_("pat"), "wrong", subject="box:box-2", note="torn at the clamp")

    assert "torn at the clamp" in answer.text
    page = as_("gus").get("/jobs/job-1/rooms/room-1").text
    assert "torn at the clamp" in page
    assert "Push more sheath" in page


def test_the_same_tap_sent_twice_is_one_record(as_: As, engine: Engine) -> None:
    key = str(uuid4())
    client = as_("pat")

    answers = [look(client, key=key) for _ in range(3)]

    assert [answer.status_code for answer in answers] == [200, 200, 200]
    assert len(log(engine)) == 1


def test_the_same_key_with_another_answer_is_refused_and_said(as_: As, engine: Engine) -> None:
    key = str(uuid4())
    look(as_("pat"), key=key)

    answer = look(as_("pat"), "wrong", key=key)

    assert answer.status_code == 409
    assert "recorded already" in answer.text
    assert len(log(engine)) == 1


def test_taking_back_leaves_what_stood_before(as_: As, engine: Engine) -> None:
    client = as_("pat")
    look(client, "right")
    page = look(client, "wrong").text
    newest = re.search(r'name="observation" value="([^"]+)"', page)
    assert newest is not None

    answer = client.post(
        f"{ROOM}/{RULE}/take-back",
        data={"key": str(uuid4()), "observation": newest[1]},
        headers={"HX-Request": "true"},
    )

    assert "Taken back" in answer.text
    assert log(engine)[-1].answer is Answer.TAKEN_BACK
    assert "found too little sheath inside" in page
    assert "found too little sheath inside" not in client.get("/jobs/job-1/rooms/room-1").text


def test_without_script_the_form_leads_back_to_its_card(as_: As) -> None:
    answer = as_("pat").post(f"{ROOM}/{RULE}", data={"key": str(uuid4()), "answer": "right"})

    assert answer.status_code == 303
    assert answer.headers["location"] == f"{ROOM}#{RULE}"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ({"answer": "measured"}, "Write what was measured"),
        ({"answer": "measured", "measure": "a bit"}, "Expected a length"),
        ({"answer": "perhaps"}, "came"),
        ({"answer": "right", "key": "x"}, "8"),
        ({"answer": "right", "colour": "red"}, "no such field"),
    ],
)
def test_what_is_wrong_is_named_and_what_was_typed_is_kept(
    as_: As, engine: Engine, data: dict[str, str], says: str
) -> None:
    answer = as_("pat").post(
        f"{ROOM}/{RULE}",
        data={"key": str(uuid4()), "note": "typed with gloves on", **data},
        headers={"HX-Request": "true"},
    )

    assert answer.status_code == 422
    assert says in answer.text
    assert "typed with gloves on" in answer.text
    assert log(engine) == []


@pytest.mark.parametrize(
    "path", [f"{ROOM}/no-such-rule", "/jobs/job-1/rooms/none/walk/sheath-into-box", f"{ROOM}/box-fill"]
)
def test_what_is_not_there_or_not_for_eyes_is_not_found(as_: As, path: str) -> None:
    answer = as_("pat").post(
        path, data={"key": str(uuid4()), "answer": "right"}, headers={"HX-Request": "true"}
    )

    assert answer.status_code == 404


def test_a_subject_of_another_job_cannot_be_recorded(as_: As, engine: Engine) -> None:
    put_house(engine, CREW, bedroom_house(prefix="o-"), job_id="other")

    assert look(as_("pat"), "wrong", subject="box:o-box-1").status_code == 404
    assert log(engine) == []


@pytest.mark.parametrize(
    ("name", "status"), [("ana", 200), ("elena", 200), ("pat", 200), ("gus", 403), ("sol", 404)]
)
def test_who_may_record(as_: As, engine: Engine, name: str, status: int) -> None:
    assert look(as_(name)).status_code == status
    assert len(log(engine)) == (status == 200)


def test_a_guest_sees_the_walk_without_its_buttons(as_: As) -> None:
    page = as_("gus").get(ROOM).text

    assert f'id="{RULE}"' in page
    assert "data-record" not in page


def test_getting_the_address_of_a_record_is_refused(as_: As) -> None:
    assert as_("pat").get(f"{ROOM}/{RULE}").status_code == 405


def test_recording_takes_the_same_queries_in_a_large_house(as_: As, engine: Engine, query_count: Any) -> None:
    put_house(engine, CREW, bedroom_house(prefix="l-", rooms=40, boxes=8), job_id="large")
    client = as_("pat")
    counts = []
    for job, room in (("job-1", "room-1"), ("large", "l-room-1")):
        path = f"/jobs/{job}/rooms/{room}/walk"
        client.get(path)
        with query_count() as queries:
            assert (
                client.post(
                    f"{path}/{RULE}",
                    data={"key": str(uuid4()), "answer": "right"},
                    headers={"HX-Request": "true"},
                ).status_code
                == 200
            )
        counts.append(queries.count)

    assert counts[0] == counts[1]
    assert counts[0] <= 12


def test_neighbouring_parts_of_one_card_are_one_part_and_are_settled_together(as_: As, job: str) -> None:
    page = as_("pat").get(f"/jobs/{job}/rooms/room-1/walk").text
    parts = [part.partition("</section>")[0] for part in page.split('<section class="walk-part"')[1:]]
    cards = [part.count('<article class="card') for part in parts]

    assert all(not (one == other == 1) for one, other in pairwise(cards)), cards
    joined = [part for part in parts if "," in part.partition("<h2")[2].partition("</h2>")[0]]
    assert joined, "this room has parts of one card beside each other"
    for part in joined:
        rules = re.findall(r'<article class="card[^"]*" id="([^"]+)"', part)
        assert all(f'name="rules" value="{rule}"' in part for rule in rules)


def test_the_rooms_the_room_its_readiness_and_its_walk_tell_the_same_number_to_look_at(as_: As) -> None:
    client = as_("elena")

    def told(path: str) -> set[str]:
        return set(re.findall(r"([\d,]+)(?:</strong>)? (?:left )?to look at", client.get(path).text))

    (walk,) = told(ROOM)
    assert walk in told("/jobs/job-1/rooms/room-1")
    assert walk in told("/jobs/job-1/rooms")
    assert walk in told("/jobs/job-1/readiness")
    assert walk in told("/jobs/job-1/walk")
