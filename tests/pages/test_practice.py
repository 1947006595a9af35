"""Practice by the cast: an instructor makes a frame, learners mark, the class is seen, other crews see nothing."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient

from server.editions import load_edition
from server.readiness.practice import make_frame

As = Callable[[str], TestClient]


@pytest.fixture
def frame(as_: As) -> str:
    answer = as_("hugo").post(
        "/practice",
        data={"title": "Tuesday", "faults": "4", "framing": "wood", "edition": "2023", "seed": "7"},
    )
    return str(answer.headers["location"])


def test_a_learner_marks_and_reads_why_what_was_missed_is_wrong(as_: As, frame: str) -> None:
    faults = make_frame(7, load_edition(2023), faults=4).faults
    learner = as_("pat")
    assert faults[3].words in learner.get(frame).text

    learner.post(frame, data={"wrong": [clue.id for clue in faults[:3]]})

    page = learner.get(frame).text
    assert "You found 3 of 4" in page
    assert "missed at" in page
    assert "The class" not in page
    assert "3 of 4 found" in as_("hugo").get(frame).text


def test_the_faults_are_not_in_the_page_before_somebody_looked(as_: As, frame: str) -> None:
    page = as_("pat").get(frame).text

    assert "missed" not in page
    assert page.count('type="checkbox"') >= 12
    assert " checked" not in page


@pytest.mark.parametrize(("name", "status"), [("elena", 403), ("pat", 403), ("gus", 403)])
def test_only_a_foreman_makes_frames(as_: As, name: str, status: int) -> None:
    assert (
        as_(name)
        .post("/practice", data={"title": "x", "faults": "4", "framing": "wood", "edition": "2023"})
        .status_code
        == status
    )


def test_another_crew_sees_no_frame(as_: As, frame: str) -> None:
    assert as_("sol").get(frame).status_code == 404
    assert as_("sol").post(frame, data={"wrong": "1"}).status_code == 404
    assert "Tuesday" not in as_("sol").get("/practice").text


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("faults", "0"),
        ("faults", "99"),
        ("title", ""),
        ("edition", "2014"),
        ("framing", "straw"),
        ("seed", "-1"),
    ],
)
def test_a_wrong_field_is_named_and_kept(as_: As, field: str, typed: str) -> None:
    answer = as_("hugo").post(
        "/practice",
        data={"title": "Kept title", "faults": "4", "framing": "wood", "edition": "2023", field: typed},
    )

    assert answer.status_code == 422
    assert 'id="wrong"' in answer.text
    assert field == "title" or "Kept title" in answer.text


def test_a_place_is_called_as_the_drawing_calls_it(as_: As) -> None:
    client = as_("hugo")
    made = client.post(
        "/practice",
        data={"title": "Evening", "faults": "3", "framing": "wood", "edition": "2023", "seed": "7"},
    )
    page = client.get(made.headers["location"]).text

    assert "Box S1" in page
    assert "Box s1" not in page
