"""A photograph and its marks: wherever the picture shows, and for whom they may be changed."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from PIL import Image
from sqlalchemy import Engine

from server.drawings.photograph_marks import draw_marks
from server.store.engine import reading, writing
from server.store.job_file import export_job, import_job, read_job_file
from server.store.journal import NOBODY
from server.store.photographs import list_photographs
from tests.cast import CREW, OTHER_CREW, client_for
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
ROOM = "/jobs/job-1/rooms/room-1"
PHOTOGRAPHS = "/jobs/job-1/photographs"
RULE = "box-fastened"
MARKS = [
    {"kind": "circle", "x": 0.25, "y": 0.25, "to_x": 0.5, "to_y": 0.5},
    {"kind": "arrow", "x": 0.9, "y": 0.9, "to_x": 0.6, "to_y": 0.6},
]
DRAWN = draw_marks(MARKS, 160, 120)


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


def send(as_: As, name: str = "photo-of-the-box", *, who: str = "pat", **fields: str) -> Any:
    out = io.BytesIO()
    Image.new("RGB", (160, 120), "grey").save(out, "JPEG")
    return as_(who).post(
        PHOTOGRAPHS,
        data={"id": name, "subject_kind": "box", "subject_id": "box-1", **fields},
        files={"file": ("a.jpg", out.getvalue(), "image/jpeg")},
        headers={"Accept": "application/json"},
    )


def wrong(as_: As, photograph: str, subject: str = "box:box-1") -> None:
    answer = as_("pat").post(
        f"{ROOM}/walk/{RULE}",
        data={"key": "key-of-the-look", "answer": "wrong", "subject": subject, "photographs": photograph},
    )
    assert answer.status_code == 303


def kept(engine: Engine) -> list[Any]:
    with reading(engine) as session:
        return [item.marks for item in list_photographs(session, "job-1")]


def test_a_photograph_brings_its_marks_with_it(as_: As, engine: Engine) -> None:
    made = send(as_, marks=json.dumps(MARKS))

    assert made.status_code == 201
    assert kept(engine) == [tuple(MARKS)]


def test_marks_show_wherever_the_photograph_does(as_: As) -> None:
    send(as_, marks=json.dumps(MARKS))
    wrong(as_, "photo-of-the-box")

    for path in (
        ROOM,
        f"{ROOM}/walk",
        "/jobs/job-1/readiness",
        "/jobs/job-1/boxes/box-1",
        "/jobs/job-1/packet",
    ):
        page = as_("gus").get(path).text
        assert DRAWN in page, path
        assert "marked with 1 arrow and 1 circle" in page, path
    assert DRAWN in as_("gus").get(f"{PHOTOGRAPHS}/photo-of-the-box/view").text


def test_marks_are_changed_and_lead_back_to_where_one_came_from(as_: As, engine: Engine) -> None:
    send(as_)
    here = f"{PHOTOGRAPHS}/photo-of-the-box"

    answer = as_("pat").post(
        f"{here}/marks", data={"marks": json.dumps(MARKS[:1]), "back": f"{ROOM}/walk#{RULE}"}
    )

    assert answer.status_code == 303
    assert answer.headers["location"] == f"{ROOM}/walk#{RULE}"
    assert kept(engine) == [tuple(MARKS[:1])]


def test_marks_lead_to_no_other_site(as_: As) -> None:
    send(as_)
    here = f"{PHOTOGRAPHS}/photo-of-the-box"

    answer = as_("pat").post(f"{here}/marks", data={"marks": "[]", "back": "//elsewhere.example"})
    page = as_("pat").get(f"{here}/view?back=https://elsewhere.example/walk").text

    assert answer.headers["location"] == f"{here}/view"
    assert "elsewhere" not in page


@pytest.mark.parametrize(
    "marks",
    [
        "no json",
        "{}",
        '[{"kind": "text"}]',
        json.dumps([{**MARKS[0], "x": 1.5}]),
        json.dumps([{**MARKS[0], "color": "red"}]),
        json.dumps(MARKS[:1] * 41),
    ],
)
def test_what_is_no_mark_is_refused_and_changes_nothing(as_: As, engine: Engine, marks: str) -> None:
    send(as_, marks=json.dumps(MARKS))

    on_it = as_("pat").post(f"{PHOTOGRAPHS}/photo-of-the-box/marks", data={"marks": marks})
    with_it = send(as_, "another-photograph", marks=marks)

    assert (on_it.status_code, with_it.status_code) == (422, 422)
    assert kept(engine) == [tuple(MARKS)]


def test_forty_marks_fit(as_: As) -> None:
    send(as_)

    answer = as_("pat").post(
        f"{PHOTOGRAPHS}/photo-of-the-box/marks",
        data={"marks": json.dumps(MARKS[:1] * 40)},
        headers={"HX-Request": "true"},
    )

    assert answer.json() == {"marks": 40}


def test_a_guest_sees_marks_and_changes_none(as_: As, engine: Engine) -> None:
    send(as_, marks=json.dumps(MARKS))
    here = f"{PHOTOGRAPHS}/photo-of-the-box"

    page = as_("gus").get(f"{here}/view").text
    answer = as_("gus").post(f"{here}/marks", data={"marks": "[]"})

    assert DRAWN in page
    assert "data-marking" not in page
    assert "mark.js" not in page
    assert "Take it off" not in page
    assert answer.status_code == 403
    assert kept(engine) == [tuple(MARKS)]


def test_another_crew_and_another_job_do_not_see_the_page(as_: As, engine: Engine, app: FastAPI) -> None:
    put_house(engine, CREW, bedroom_house(prefix="o-"), job_id="other", name="Another house")
    put_house(engine, OTHER_CREW, bedroom_house(prefix="s-"), job_id="strangers", name="A stranger's")
    send(as_)

    assert as_("sol").get(f"{PHOTOGRAPHS}/photo-of-the-box/view").status_code == 404
    assert as_("pat").get("/jobs/other/photographs/photo-of-the-box/view").status_code == 404
    assert client_for(app).get(f"{PHOTOGRAPHS}/photo-of-the-box/view").status_code == 303
    assert as_("pat").post(f"{PHOTOGRAPHS}/photo-of-the-box/remove").status_code == 303
    assert as_("pat").get(f"{PHOTOGRAPHS}/photo-of-the-box/view").status_code == 404


def test_a_photograph_that_has_not_come_yet_is_said_to_be_on_its_way(as_: As) -> None:
    wrong(as_, "photo-of-the-box")
    before = as_("pat").get(f"{ROOM}/walk").text
    send(as_)
    after = as_("pat").get(f"{ROOM}/walk").text

    assert 'data-coming="photo-of-the-box"' in before
    assert "data-coming" not in after
    assert f"{PHOTOGRAPHS}/photo-of-the-box/view?back=" in after


@pytest.mark.parametrize("path", [f"{ROOM}/walk", ROOM, "/jobs/job-1/readiness"])
def test_photographs_take_the_same_queries_however_many(
    as_: As, query_count: Callable[[], Any], path: str
) -> None:
    client, counts = as_("pat"), []
    wrong(as_, "photo-0000")
    for number in range(4):
        out = io.BytesIO()
        Image.new("RGB", (160 + number, 120), "grey").save(out, "JPEG")
        client.post(
            PHOTOGRAPHS,
            data={"id": f"photo-000{number}", "subject_kind": "box", "subject_id": "box-1"},
            files={"file": ("a.jpg", out.getvalue(), "image/jpeg")},
        )
        client.get(path)
        with query_count() as queries:
            assert client.get(path).text.count("<img") > 0
        counts.append(queries.count)

    assert counts == counts[:1] * 4


def test_one_photograph_of_two_faults_is_found_by_both_looks(as_: As, engine: Engine) -> None:
    wrong(as_, "photo-of-the-box")
    as_("pat").post(
        f"{ROOM}/walk/box-whole",
        data={
            "key": "key-of-another",
            "answer": "wrong",
            "subject": "box:box-1",
            "photographs": "the-same-again",
        },
    )
    first, again = send(as_), send(as_, "the-same-again", marks=json.dumps(MARKS))

    page = as_("gus").get(f"{ROOM}/walk").text

    assert first.json() == again.json()
    assert kept(engine) == [tuple(MARKS)]
    assert "data-coming" not in page
    assert page.count(DRAWN) == 2
    assert as_("gus").get(ROOM).text.split('id="photographs"')[1].count("<img") == 1


def test_looks_of_a_job_file_find_their_photographs_again(as_: As, engine: Engine) -> None:
    send(as_, marks=json.dumps(MARKS))
    send(as_, "the-same-again")
    wrong(as_, "the-same-again")
    with reading(engine) as session:
        file = export_job(session, "job-1")
    (photograph,) = file["photographs"]
    assert [seen["photographs"] for seen in file["observations"]] == [[photograph["sha256"]]]

    with writing(engine) as session:
        made = import_job(session, CREW, read_job_file(json.loads(json.dumps(file))), NOBODY)

    rooms = re.findall(
        rf'href="(/jobs/{made.job_id}/rooms/[^"/?]+)"', as_("gus").get(f"/jobs/{made.job_id}/rooms").text
    )
    page = as_("gus").get(f"{rooms[0]}/walk").text
    assert DRAWN in page
    assert "data-coming" not in page


def test_a_photograph_of_the_whole_job_disturbs_no_page(as_: As) -> None:
    send(as_, subject_kind="job", subject_id="job-1", marks=json.dumps(MARKS))

    for path in (
        ROOM,
        f"{ROOM}/walk",
        f"{ROOM}/history",
        "/jobs/job-1/whole-job/walk",
        "/jobs/job-1/readiness",
    ):
        assert as_("gus").get(path).status_code == 200, path
    for path in (f"{PHOTOGRAPHS}/photo-of-the-box/view", "/jobs/job-1/packet"):
        assert DRAWN in as_("gus").get(path).text, path


@pytest.mark.parametrize(("kind", "subject"), [("box", "no-box"), ("no-kind", "x"), ("", "")])
def test_a_photograph_of_what_is_not_there_disturbs_no_page(as_: As, kind: str, subject: str) -> None:
    send(as_, subject_kind=kind, subject_id=subject, marks=json.dumps(MARKS))

    for path in (ROOM, f"{ROOM}/walk", "/jobs/job-1/readiness"):
        assert as_("gus").get(path).status_code == 200, path
    for path in (f"{PHOTOGRAPHS}/photo-of-the-box/view", "/jobs/job-1/packet"):
        assert DRAWN in as_("gus").get(path).text, path
