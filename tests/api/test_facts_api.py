"""Every kind of fact under ``/api/jobs/{id}/{kind}``: the same questions of each."""

from __future__ import annotations

from typing import Any

import pytest

from server.store.kinds import KINDS, FactKind
from tests.api.conftest import As, fields_of

EVERY_KIND = pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)

NEW: dict[str, dict[str, Any]] = {
    "level": {"name": "Attic", "order": 2},
    "room": {"level_id": "level-1", "name": "Den", "kind": "den", "length_in": "12'"},
    "wall": {"room_id": "room-1", "order": 4, "length_in": "6-2 1/2"},
    "opening": {"wall_id": "wall-1", "kind": "window", "from_in": "2'", "to_in": 60.5},
    "counter": {"room_id": "room-1", "kind": "island", "length_in": 60, "depth_in": 36},
    "break": {"counter_id": "counter-1", "kind": "sink", "from_in": 10, "to_in": 30},
    "fixture": {"room_id": "room-1", "kind": "dishwasher", "va": "1200"},
    "panel": {"name": "Panel B"},
    "circuit": {"panel_id": "panel-1", "name": "Laundry", "spaces": [7], "rating_a": 20},
    "box": {"room_id": "room-1", "volume_in3": "20.3", "height_in": "44 1/2"},
    "device": {"box_id": "box-1", "kind": "receptacle", "configuration": "5-20"},
    "cable": {"a_box_id": "box-1", "b_box_id": "box-2", "circuit_ids": ["circuit-1"], "awg": "14"},
}


@pytest.fixture
def there(as_: As, job: str) -> str:
    """The path of a job in which every kind stands at least once."""
    base = f"/api/jobs/{job}"
    for kind in ("counter", "break", "fixture"):
        body = {**NEW[kind], "id": f"{kind}-1"}
        assert as_("elena").post(f"{base}/{KINDS[kind].plural}", json=body).status_code == 201
    return base


@EVERY_KIND
def test_it_is_added_read_listed_changed_and_deleted(as_: As, there: str, kind: FactKind) -> None:
    elena, path = as_("elena"), f"{there}/{kind.plural}"

    added = elena.post(path, json=NEW[kind.name])
    assert added.status_code == 201, added.text
    fact = added.json()[kind.name]
    one = f"{path}/{fact['id']}"
    assert added.headers["location"] == one
    assert elena.get(one).json() == fact
    assert elena.get(path).json()[kind.plural][-1] == fact

    field, value = (
        ("name", "Renamed") if "name" in fact else ("order", 9) if "order" in fact else ("to_in", "99")
    )
    if kind.name == "counter":
        field, value = "depth_in", "30"
    changed = elena.patch(one, json={field: value, "base_version": 1}).json()
    assert changed[kind.name] == {**fact, field: value, "version": 2}

    deleted = elena.delete(one)
    assert deleted.status_code == 200
    assert elena.get(one).status_code == 404
    assert fact["id"] not in [item["id"] for item in elena.get(path).json()[kind.plural]]

    undone = elena.post(f"{there}/changes/{deleted.json()['change']}/undo")
    assert undone.status_code == 200
    assert elena.get(one).json() == {**changed[kind.name], "version": 4}


@EVERY_KIND
def test_an_apprentice_and_a_guest_read_and_change_nothing(as_: As, there: str, kind: FactKind) -> None:
    path = f"{there}/{kind.plural}"
    first = as_("gus").get(path).json()[kind.plural][0]["id"]

    for name in ("pat", "gus"):
        client = as_(name)
        assert client.get(f"{path}/{first}").status_code == 200
        assert client.post(path, json=NEW[kind.name]).status_code == 403
        assert client.patch(f"{path}/{first}", json={}).status_code == 403
        assert client.delete(f"{path}/{first}").status_code == 403


@EVERY_KIND
def test_another_crew_gets_what_a_missing_one_gets(as_: As, there: str, kind: FactKind) -> None:
    sol, path = as_("sol"), f"{there}/{kind.plural}"
    first = as_("gus").get(path).json()[kind.plural][0]["id"]

    assert sol.get(path).status_code == 404
    assert sol.post(path, json=NEW[kind.name]).status_code == 404
    for method in ("GET", "DELETE"):
        assert sol.request(method, f"{path}/{first}").status_code == 404
    assert sol.patch(f"{path}/{first}", json={}).status_code == 404
    assert as_("gus").get(f"{path}/{first}").status_code == 200


@EVERY_KIND
def test_a_field_that_it_does_not_have_is_refused(as_: As, there: str, kind: FactKind) -> None:
    path = f"{there}/{kind.plural}"
    first = as_("gus").get(path).json()[kind.plural][0]["id"]

    for forbidden in ("colour", "job_id", "version", "deleted_at"):
        added = as_("elena").post(path, json={**NEW[kind.name], forbidden: "x"})
        changed = as_("elena").patch(f"{path}/{first}", json={forbidden: "x"})
        assert (added.status_code, fields_of(added)) == (422, [forbidden])
        assert (changed.status_code, fields_of(changed)) == (422, [forbidden])
    assert fields_of(as_("elena").patch(f"{path}/{first}", json={"id": "x"})) == ["id"]


@EVERY_KIND
def test_the_same_fact_sent_twice_is_one(as_: As, there: str, kind: FactKind) -> None:
    elena, path = as_("elena"), f"{there}/{kind.plural}"
    body = {**NEW[kind.name], "id": "made-by-the-tablet"}
    before = len(elena.get(path).json()[kind.plural])

    first, second = elena.post(path, json=body), elena.post(path, json=body)

    assert (first.status_code, second.status_code) == (201, 201)
    assert first.json()[kind.name] == second.json()[kind.name]
    assert len(elena.get(path).json()[kind.plural]) == before + 1


def test_another_fact_under_the_same_id_is_refused(as_: As, there: str) -> None:
    elena = as_("elena")
    elena.post(f"{there}/levels", json={"id": "l", "name": "Attic"})

    answer = elena.post(f"{there}/levels", json={"id": "l", "name": "Cellar"})

    assert (answer.status_code, fields_of(answer)) == (409, ["id"])


def test_an_id_of_another_crew_is_refused_and_told_nothing_of(as_: As, there: str) -> None:
    sol = as_("sol")
    own = sol.post("/api/jobs", json={"name": "Own", "edition": "2023"}).json()["id"]

    taken = sol.post(f"/api/jobs/{own}/levels", json={"id": "level-1", "name": "First floor"})
    named = sol.post(f"/api/jobs/{own}/rooms", json={**NEW["room"], "level_id": "level-1"})

    assert (taken.status_code, named.status_code) == (409, 422)
    assert fields_of(named) == ["level_id"]
    assert sol.get(f"/api/jobs/{own}/levels/level-1").status_code == 404


@pytest.mark.parametrize(
    ("kind", "change", "field"),
    [
        ("box", {"room_id": "room-99"}, "room_id"),
        ("box", {"room_id": None}, "room_id"),
        ("box", {"height_in": "tall"}, "height_in"),
        ("box", {"gangs": 1.5}, "gangs"),
        ("box", {"gangs": 2**70}, "gangs"),
        ("box", {"surface": "air"}, "surface"),
        ("box", {"label": "x" * 201}, "label"),
        ("device", {"controls": ["device-99"]}, "controls"),
        ("device", {"controls": "device-1"}, "controls"),
        ("opening", {"from_in": 1000}, "body"),
        ("wall", {"length_in": 0}, "length_in"),
    ],
)
def test_a_wrong_value_is_refused_by_field(
    as_: As, there: str, kind: str, change: dict[str, Any], field: str
) -> None:
    path = f"{there}/{KINDS[kind].plural}/{kind}-1"
    before = as_("gus").get(path).json()

    answer = as_("elena").patch(path, json=change)

    assert (answer.status_code, fields_of(answer)) == (422, [field])
    assert as_("gus").get(path).json() == before


def test_lengths_are_taken_as_the_trade_writes_them_and_given_exactly(as_: As, there: str) -> None:
    lengths = {}
    for written in ("6' 2 1/2\"", "6-2 1/2", "74.5", "149/2", 74.5):
        box = (
            as_("elena")
            .post(f"{there}/boxes", json={"room_id": "room-1", "height_in": written})
            .json()["box"]
        )
        lengths[str(written)] = box["height_in"]

    assert set(lengths.values()) == {"149/2"}


def test_edits_of_different_fields_are_merged_and_of_the_same_told(as_: As, there: str) -> None:
    path = f"{there}/boxes/box-1"
    as_("elena").patch(path, json={"height_in": 48, "base_version": 1})

    merged = as_("hugo").patch(path, json={"note": "clamp loose", "base_version": 1})
    refused = as_("hugo").patch(path, json={"height_in": 50, "base_version": 1})

    assert merged.json()["box"]["height_in"] == "48"
    assert refused.status_code == 409
    (conflict,) = refused.json()["conflicts"]
    assert (conflict["field"], conflict["theirs"], conflict["yours"], conflict["by"]) == (
        "height_in", "48", "50", "Elena Novak",
    )  # fmt: skip


def test_the_same_key_does_an_edit_once(as_: As, there: str) -> None:
    elena, path, key = as_("elena"), f"{there}/boxes/box-1", {"Idempotency-Key": "k"}
    first = elena.patch(path, json={"height_in": 48, "base_version": 1}, headers=key)
    elena.patch(path, json={"height_in": 50})

    again = elena.patch(path, json={"height_in": 48, "base_version": 1}, headers=key)
    other = elena.patch(path, json={"height_in": 52}, headers=key)

    assert again.json() == first.json()
    assert elena.get(path).json()["height_in"] == "50"
    assert other.status_code == 409


def test_lists_take_the_same_queries_whatever_the_size(as_: As, there: str, query_count: Any) -> None:
    elena = as_("elena")
    with query_count() as few:
        elena.get(f"{there}/boxes")
    for _ in range(15):
        elena.post(f"{there}/boxes", json={"room_id": "room-1"})

    with query_count() as many:
        elena.get(f"{there}/boxes")

    assert many.count == few.count
