"""``/api/jobs``: listed, made from a form or a file, changed, undone, written out; each by whoever may."""

from __future__ import annotations

import json

import pytest
from fastapi import FastAPI
from httpx import Response

from server.store.job_file import read_job_file, write_job_file
from tests.api.conftest import As, fields_of, small_house
from tests.cast import client_for
from tests.store.test_job_file import contents

NEW = {"name": "Birch Lane", "edition": "2023"}
LAYER = {
    "id": "our-town", "title": "Our town", "source": "Ordinance 12",
    "change": [{"kind": "replaces", "node": "sheath.reach_in", "value": "1/2", "cites": "12.4"}],
}  # fmt: skip


def test_a_foreman_makes_a_job_and_the_crew_sees_it(as_: As) -> None:
    made = as_("hugo").post("/api/jobs", json={**NEW, "inspection_date": "2026-12-01"})

    listed = as_("gus").get("/api/jobs").json()["jobs"]
    assert made.status_code == 201
    assert made.headers["location"] == f"/api/jobs/{made.json()['id']}"
    assert [(job["name"], job["inspection_date"]) for job in listed] == [("Birch Lane", "2026-12-01")]


def test_jobs_come_with_the_next_visit_first(as_: As) -> None:
    for name, visit in (("none", None), ("late", "2027-01-01"), ("soon", "2026-12-01")):
        as_("hugo").post("/api/jobs", json={**NEW, "name": name, "inspection_date": visit})

    assert [job["name"] for job in as_("gus").get("/api/jobs").json()["jobs"]] == ["soon", "late", "none"]


@pytest.mark.parametrize("name", ["elena", "pat", "gus"])
def test_nobody_below_a_foreman_makes_or_changes_a_job(as_: As, job: str, name: str) -> None:
    assert as_(name).post("/api/jobs", json=NEW).status_code == 403
    assert as_(name).patch(f"/api/jobs/{job}", json={"name": "x"}).status_code == 403


def test_another_crew_sees_nothing_of_a_job(as_: As, job: str) -> None:
    stranger = as_("sol")

    assert stranger.get("/api/jobs").json() == {"jobs": []}
    for path in ("", "/file", "/readiness", "/changes", "/observations", "/boxes", "/boxes/box-1"):
        missing = stranger.get(f"/api/jobs/nowhere{path}")
        theirs = stranger.get(f"/api/jobs/{job}{path}")
        assert (theirs.status_code, missing.status_code) == (404, 404), path
        assert _without_id(theirs) == _without_id(missing), path


def _without_id(answer: Response) -> dict[str, object]:
    return {name: value for name, value in answer.json().items() if name != "request_id"}


def test_without_signing_in_there_is_no_api(app: FastAPI) -> None:
    client = client_for(app)

    for method, path in (("GET", "/api/jobs"), ("POST", "/api/jobs"), ("GET", "/api/jobs/x/file")):
        answer = client.request(method, path, json={} if method == "POST" else None)
        assert answer.status_code == 401
        assert answer.headers["content-type"] == "application/problem+json"


def test_a_job_file_makes_a_whole_job_and_comes_out_the_same(as_: As) -> None:
    document = json.loads(json.dumps(write_job_file(contents(small_house().facts()))))

    made = as_("hugo").post("/api/jobs", json=document)
    written = as_("gus").get(f"/api/jobs/{made.json()['id']}/file")

    assert made.status_code == 201
    assert made.json() == {"id": "job-1", "renamed": {}}
    assert written.json() == document
    assert "attachment" in written.headers["content-disposition"]


def test_the_same_file_twice_makes_two_jobs_with_ids_of_their_own(as_: As) -> None:
    document = json.loads(json.dumps(write_job_file(contents(small_house().facts()))))
    as_("hugo").post("/api/jobs", json=document)

    again = as_("sol").post("/api/jobs", json=document).json()

    file = as_("sol").get(f"/api/jobs/{again['id']}/file").json()
    assert set(again["renamed"]) == {
        "job", "level", "room", "wall", "opening", "panel", "circuit", "box", "device", "cable",
    }  # fmt: skip
    assert read_job_file(file).facts.boxes[0].room_id == again["renamed"]["room"]["room-1"]


def test_the_same_key_makes_one_job(as_: As) -> None:
    client = as_("hugo")

    first = client.post("/api/jobs", json=NEW, headers={"Idempotency-Key": "k1"})
    second = client.post("/api/jobs", json=NEW, headers={"Idempotency-Key": "k1"})
    other = client.post("/api/jobs", json={**NEW, "name": "Other"}, headers={"Idempotency-Key": "k1"})

    assert first.json() == second.json()
    assert other.status_code == 409
    assert len(client.get("/api/jobs").json()["jobs"]) == 1


def test_a_wrong_file_is_refused_by_field(as_: As) -> None:
    document = write_job_file(contents(small_house().facts()))
    document["boxes"][0]["gangs"] = 0
    document["boxes"][1]["colour"] = "red"

    answer = as_("hugo").post(
        "/api/jobs", content=json.dumps(document), headers={"Content-Type": "application/json"}
    )

    assert answer.status_code == 422
    assert fields_of(answer) == ["boxes.0.gangs", "boxes.1.colour"]


def test_a_file_that_names_what_it_does_not_hold_is_refused_by_field(as_: As) -> None:
    document = write_job_file(contents(small_house().facts()))
    document["devices"][0]["box_id"] = "box-99"

    answer = as_("hugo").post("/api/jobs", json=json.loads(json.dumps(document)))

    assert (answer.status_code, fields_of(answer)) == (422, ["devices.0.box_id"])
    assert as_("hugo").get("/api/jobs").json() == {"jobs": []}


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"edition": "2023"}, "name"),
        ({"name": "", "edition": "2023"}, "name"),
        ({"name": "x", "edition": "2019"}, "edition"),
        ({"name": "x", "edition": "2023", "colour": 1}, "colour"),
        ({"name": "x\x00", "edition": "2023"}, "name"),
        ({"name": "x", "edition": "2023", "id": "../x"}, "id"),
        ({"name": "x", "edition": "2023", "floor_area_ft2": -1}, "floor_area_ft2"),
        ({"name": "x", "edition": "2023", "amendments": {"presets": ["atlantis"]}}, "amendments"),
        (
            {"name": "x", "edition": "2023", "amendments": {"own": [{**LAYER, "years": ["x"]}]}},
            "amendments.own.0.years.0",
        ),
    ],
)
def test_a_wrong_form_is_refused_by_field(as_: As, body: dict[str, object], field: str) -> None:
    answer = as_("hugo").post("/api/jobs", json=body)

    assert answer.status_code == 422
    assert field in fields_of(answer)


@pytest.mark.parametrize(
    "body", ["", "[]", "7", "null", '"x"', "{", "[" * 5000, '{"schema": 1}', "NaN", "\xff"]
)
def test_what_is_no_document_is_refused(as_: As, body: str) -> None:
    answer = as_("hugo").post(
        "/api/jobs", content=body.encode("latin-1"), headers={"Content-Type": "application/json"}
    )

    assert answer.status_code in (400, 422)
    assert answer.headers["content-type"] == "application/problem+json"


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_a_document_that_is_not_called_json_is_refused(as_: As, kind: str) -> None:
    answer = as_("hugo").post("/api/jobs", content=json.dumps(NEW), headers={"Content-Type": kind})

    assert answer.status_code == 422
    assert as_("hugo").get("/api/jobs").json()["jobs"] == []


def test_a_file_may_be_larger_than_other_requests_but_not_endless(as_: As) -> None:
    big = {**NEW, "address": "x" * 3_000_000}

    form = as_("hugo").post("/api/jobs", json=big)
    patch = as_("hugo").patch("/api/jobs/x", json=big)
    endless = as_("hugo").post("/api/jobs", json={**NEW, "address": "x" * 26_000_000})

    assert (form.status_code, patch.status_code, endless.status_code) == (422, 413, 413)


def test_a_job_is_changed_field_by_field_and_tells_its_version(as_: As, job: str) -> None:
    client = as_("hugo")

    changed = client.patch(f"/api/jobs/{job}", json={"stage": "final", "base_version": 1}).json()

    assert (changed["job"]["stage"], changed["job"]["version"], changed["job"]["name"]) == (
        "final",
        2,
        "Alder Street",
    )
    assert changed["change"]


def test_two_who_change_the_same_setting_are_told(as_: As, job: str) -> None:
    as_("hugo").patch(f"/api/jobs/{job}", json={"name": "Alder 12", "base_version": 1})

    answer = as_("ana").patch(f"/api/jobs/{job}", json={"name": "Alder 14", "base_version": 1})

    assert answer.status_code == 409
    (conflict,) = answer.json()["conflicts"]
    assert conflict["at"]
    assert {**conflict, "at": ""} == {
        "field": "name", "theirs": "Alder 12", "yours": "Alder 14", "by": "Hugo Lind", "at": "",
    }  # fmt: skip


def test_amendments_of_a_job_are_changed_and_undone(as_: As, job: str) -> None:
    client = as_("hugo")

    changed = client.patch(f"/api/jobs/{job}", json={"amendments": {"own": [LAYER]}}).json()
    told = client.get(f"/api/jobs/{job}/readiness").json()["amendments"]
    client.post(f"/api/jobs/{job}/changes/{changed['change']}/undo")

    assert told == ["Our town"]
    assert client.get(f"/api/jobs/{job}").json()["amendments"] == {"presets": [], "own": []}


def test_an_electrician_may_not_set_back_what_only_a_foreman_may_set(as_: As, job: str) -> None:
    changed = as_("hugo").patch(f"/api/jobs/{job}", json={"edition": "2017"}).json()

    answer = as_("elena").post(f"/api/jobs/{job}/changes/{changed['change']}/undo")

    assert answer.status_code == 403
    assert as_("hugo").get(f"/api/jobs/{job}").json()["edition"] == "2017"


def test_a_job_that_was_put_away_is_listed_apart(as_: As, job: str) -> None:
    client = as_("hugo")

    client.patch(f"/api/jobs/{job}", json={"archived": True})

    assert client.get("/api/jobs").json() == {"jobs": []}
    assert [one["id"] for one in client.get("/api/jobs?archived=true").json()["jobs"]] == [job]
    client.patch(f"/api/jobs/{job}", json={"archived": False})
    assert len(client.get("/api/jobs").json()["jobs"]) == 1


def test_the_history_tells_who_changed_what(as_: As, job: str) -> None:
    as_("elena").delete(f"/api/jobs/{job}/boxes/box-1")

    newest = as_("gus").get(f"/api/jobs/{job}/changes?limit=1").json()["changes"]

    assert [(one["by"], one["what"]) for one in newest] == [("Elena Novak", "deleted box")]
