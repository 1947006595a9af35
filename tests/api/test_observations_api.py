"""``/api/jobs/{id}/observations``: recorded once, in order, by whoever may; refused ones are told and stop no other."""

from __future__ import annotations

from typing import Any

import pytest

from tests.api.conftest import As, fields_of

RULE = "sheath-into-box"
LOOK = {"subject": {"kind": "box", "id": "box-1"}, "rule": RULE, "answer": "right"}


@pytest.fixture
def path(job: str) -> str:
    return f"/api/jobs/{job}/observations"


def entries(as_: As, path: str, query: str = "") -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = as_("gus").get(path + query).json()["observations"]
    return found


def test_an_apprentice_records_a_look(as_: As, path: str) -> None:
    answer = as_("pat").post(
        path,
        json={**LOOK, "note": "neat", "at": "2026-11-25T10:00:00+01:00"},
        headers={"Idempotency-Key": "k"},
    )

    (seen,) = entries(as_, path)
    assert answer.status_code == 201
    assert (seen["id"], seen["by"], seen["note"]) == (answer.json()["id"], "Pat Osei", "neat")
    assert seen["at"] == "2026-11-25T09:00:00Z"
    assert seen["recorded_at"].endswith("Z")


def test_a_measure_is_taken_as_the_trade_writes_it(as_: As, path: str) -> None:
    as_("pat").post(path, json={**LOOK, "answer": "measured", "measure": "5/16", "key": "k"})

    assert entries(as_, path)[0]["measure"] == "5/16"


def test_a_guest_records_nothing(as_: As, path: str) -> None:
    assert as_("gus").post(path, json={**LOOK, "key": "k"}).status_code == 403
    assert as_("gus").post(f"{path}/batch", json={"observations": [{**LOOK, "key": "k"}]}).status_code == 403
    assert entries(as_, path) == []


def test_another_crew_records_nothing(as_: As, path: str) -> None:
    assert as_("sol").post(path, json={**LOOK, "key": "k"}).status_code == 404
    assert as_("sol").post(f"{path}/x/take-back").status_code == 404
    assert as_("sol").get(path).status_code == 404


@pytest.mark.parametrize("how", ["header", "field", "id"])
def test_the_same_entry_sent_twice_is_one_record(as_: As, path: str, how: str) -> None:
    headers = {"Idempotency-Key": "k"} if how == "header" else {}
    body = LOOK | ({"key": "k"} if how == "field" else {"id": "made-by-the-tablet"} if how == "id" else {})

    first = as_("pat").post(path, json=body, headers=headers)
    second = as_("pat").post(path, json=body, headers=headers)

    assert (first.status_code, second.status_code) == (201, 200)
    assert first.json() | {"again": True} == second.json()
    assert len(entries(as_, path)) == 1


def test_the_same_key_for_another_entry_is_refused(as_: As, path: str) -> None:
    as_("pat").post(path, json={**LOOK, "key": "k"})

    answer = as_("pat").post(path, json={**LOOK, "answer": "wrong", "key": "k"})

    assert (answer.status_code, fields_of(answer)) == (409, ["Idempotency-Key"])


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"key": None}, "key"),
        ({"rule": "no-such-rule"}, "rule"),
        ({"rule": "Not A Rule"}, "rule"),
        ({"answer": "maybe"}, "answer"),
        ({"answer": "measured"}, "body"),
        ({"measure": 4}, "body"),
        ({"answer": "taken back"}, "body"),
        ({"takes_back": "x"}, "body"),
        ({"answer": "taken back", "takes_back": "x"}, "takes_back"),
        ({"subject": {"kind": "box", "id": "box-99"}}, "subject"),
        ({"subject": {"kind": "unicorn", "id": "box-1"}}, "subject.kind"),
        ({"subject": "box-1"}, "subject"),
        ({"at": "2026-11-25T09:00:00"}, "at"),
        ({"by": "somebody else"}, "by"),
        ({"note": "\x00"}, "note"),
        ({"key": "with space"}, "key"),
    ],
)
def test_a_wrong_entry_is_refused_by_field(as_: As, path: str, change: dict[str, Any], field: str) -> None:
    answer = as_("pat").post(path, json={**LOOK, "key": "k", **change})

    assert (answer.status_code, fields_of(answer)) == (422, [field])
    assert entries(as_, path) == []


def test_a_batch_keeps_its_order_and_a_refused_entry_stops_no_other(as_: As, path: str) -> None:
    batch = [
        {**LOOK, "key": "1"},
        {**LOOK, "key": "2", "subject": {"kind": "box", "id": "box-99"}},
        {**LOOK, "key": "3", "rule": "no-such-rule"},
        {**LOOK, "key": "4", "answer": "wrong", "note": "short"},
    ]

    results = as_("pat").post(f"{path}/batch", json={"observations": batch}).json()["results"]

    assert [(line["key"], line["status"]) for line in results] == [
        ("1", 201),
        ("2", 422),
        ("3", 422),
        ("4", 201),
    ]
    assert [error["field"] for line in results[1:3] for error in line["problem"]["errors"]] == [
        "subject", "observations.2.rule",
    ]  # fmt: skip
    assert [seen["answer"] for seen in entries(as_, path)] == ["right", "wrong"]


def test_a_batch_sent_again_records_nothing_twice(as_: As, path: str) -> None:
    batch = {"observations": [{**LOOK, "key": str(number)} for number in range(20)]}

    first = as_("pat").post(f"{path}/batch", json=batch).json()["results"]
    second = as_("pat").post(f"{path}/batch", json=batch).json()["results"]

    assert {line["status"] for line in first} == {201}
    assert {line["status"] for line in second} == {200}
    assert [line["recorded"]["id"] for line in first] == [line["recorded"]["id"] for line in second]
    assert len(entries(as_, path)) == 20


def test_taking_back_lets_the_one_before_stand_again(as_: As, job: str, path: str) -> None:
    readiness = f"/api/jobs/{job}/readiness/{RULE}/box/box-1"
    before = as_("gus").get(readiness).json()["verdict"]
    slip = as_("pat").post(path, json={**LOOK, "answer": "wrong", "key": "k"}).json()["id"]
    wrong = as_("gus").get(readiness).json()["verdict"]

    first = as_("pat").post(f"{path}/{slip}/take-back")
    second = as_("pat").post(f"{path}/{slip}/take-back")

    assert (first.status_code, second.status_code) == (201, 200)
    assert as_("gus").get(readiness).json()["verdict"] == before != wrong
    assert len(entries(as_, path)) == 2


def test_what_is_not_in_the_log_cannot_be_taken_back(as_: As, path: str) -> None:
    assert as_("pat").post(f"{path}/nothing/take-back").status_code == 404


def test_the_log_is_asked_by_room_subject_rule_and_what_is_new(as_: As, job: str, path: str) -> None:
    for number, (kind, subject) in enumerate([("box", "box-1"), ("box", "box-2"), ("room", "room-1")]):
        as_("pat").post(path, json={**LOOK, "subject": {"kind": kind, "id": subject}, "key": str(number)})
    first = entries(as_, path)[0]["sequence"]

    def subjects(query: str) -> list[str]:
        return [seen["subject"]["id"] for seen in entries(as_, path, query)]

    assert subjects("?room=room-1") == ["box-1", "room-1"]
    assert subjects("?kind=box&subject=box-2") == ["box-2"]
    assert subjects("?rule=box-fill") == []
    assert subjects(f"?after={first}") == ["box-2", "room-1"]
    assert subjects("?limit=1") == ["room-1"]
    assert as_("gus").get(f"{path}?room=nowhere").status_code == 404
