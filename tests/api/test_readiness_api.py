"""``/api/jobs/{id}/readiness``: every room's standing and every finding, as the rules judge the same house."""

from __future__ import annotations

from collections import Counter
from typing import Any

from server.dwelling import Dwelling, Ref
from server.editions import load_edition
from server.readiness import JOB, evaluate, explain, line_of, standings
from server.rules.registry import RULES
from tests.api.conftest import As, small_house


def house() -> Dwelling:
    return Dwelling(small_house().facts())


def test_it_tells_what_the_rules_find_in_the_same_house(as_: As, job: str) -> None:
    answer = as_("gus").get(f"/api/jobs/{job}/readiness").json()

    code = load_edition(2023)
    findings = evaluate(house(), code)
    expected = standings(house(), findings)
    told = Counter(
        (f["rule"], f["subject"]["id"], f["verdict"], f["sentence"], f["article"]) for f in answer["findings"]
    )
    lines = [line_of(finding, code) for finding in findings]
    assert told == Counter(
        (li.rule_id, li.subject.id, li.verdict.value, li.sentence, li.article) for li in lines
    )
    assert [room["standing"] for room in answer["rooms"]] == [
        expected[room.id].standing.value for room in house().facts.rooms
    ]
    assert answer["job"]["unseen"] == expected[JOB].unseen > 0
    assert answer["edition"] == "2023"


def test_each_finding_carries_what_the_product_promises(as_: As, job: str) -> None:
    findings = as_("gus").get(f"/api/jobs/{job}/readiness").json()["findings"]

    for found in findings:
        assert found["sentence"]
        assert found["rule"] in RULES
        assert (found["cure"] != "") == (found["verdict"] == "correction"), found
        assert (found["missing"] != []) == (found["verdict"] == "unseen"), found


def test_findings_are_narrowed_by_room_rule_and_verdict(as_: As, job: str) -> None:
    path = f"/api/jobs/{job}/readiness"
    everything = as_("gus").get(path).json()

    def narrowed(query: str) -> list[dict[str, Any]]:
        answer = as_("gus").get(path + query).json()
        assert answer["rooms"] == everything["rooms"]
        found: list[dict[str, Any]] = answer["findings"]
        return found

    assert {r for f in narrowed("?room=room-2") for r in f["rooms"]} >= {"room-2"}
    assert all("room-2" in f["rooms"] for f in narrowed("?room=room-2"))
    assert {f["rule"] for f in narrowed("?rule=sheath-into-box")} == {"sheath-into-box"}
    both = narrowed("?verdict=unseen&verdict=correction")
    assert {f["verdict"] for f in both} <= {"unseen", "correction"}
    assert len(both) < len(everything["findings"])
    for wrong in ("?room=nowhere", "?rule=no-such-rule"):
        assert as_("gus").get(path + wrong).status_code == 404
    assert as_("gus").get(f"{path}?verdict=maybe").status_code == 422


def test_the_reckoning_comes_when_it_is_asked_for(as_: As, job: str) -> None:
    path = f"/api/jobs/{job}/readiness"

    plain = as_("gus").get(f"{path}?rule=box-fill").json()["findings"]
    with_steps = as_("gus").get(f"{path}?rule=box-fill&steps=1").json()["findings"]
    one = as_("gus").get(f"{path}/box-fill/box/box-1").json()

    found = explain(RULES["box-fill"], Ref("box", "box-1"), house(), load_edition(2023))
    assert found is not None
    assert "steps" not in plain[0]
    assert [step["text"] for step in one["steps"]] == [step.text for step in found.steps] != []
    assert one in with_steps


def test_a_finding_that_is_not_there_is_missing(as_: As, job: str) -> None:
    path = f"/api/jobs/{job}/readiness"
    for wrong in (
        "no-such-rule/box/box-1",
        "box-fill/room/room-1",
        "box-fill/box/box-99",
        "box-fill/unicorn/x",
    ):
        assert as_("gus").get(f"{path}/{wrong}").status_code == 404, wrong


def test_another_edition_judges_anew(as_: As, job: str) -> None:
    path = f"/api/jobs/{job}"
    for edition in ("2017", "2020", "2026"):
        as_("hugo").patch(path, json={"edition": edition})
        answer = as_("gus").get(f"{path}/readiness").json()
        code = load_edition(int(edition))
        articles = {line_of(finding, code).article for finding in evaluate(house(), code)}
        assert answer["edition"] == edition
        assert {found["article"] for found in answer["findings"]} == articles


def test_a_changed_fact_is_judged_at_once(as_: As, job: str) -> None:
    path = f"/api/jobs/{job}"
    as_("gus").get(f"{path}/readiness")

    as_("elena").patch(f"{path}/boxes/box-1", json={"volume_in3": 1})

    found = as_("gus").get(f"{path}/readiness/box-fill/box/box-1").json()
    standing = as_("gus").get(f"{path}/readiness").json()["rooms"][0]["standing"]
    assert (found["verdict"], standing) == ("correction", "hold open")


def test_readiness_takes_the_same_queries_whatever_the_size(as_: As, job: str, query_count: Any) -> None:
    elena, path = as_("elena"), f"/api/jobs/{job}"

    def queries() -> int:
        elena.patch(f"{path}/boxes/box-1", json={"note": str(len(counts))})  # so that nothing is remembered
        with query_count() as seen:
            assert elena.get(f"{path}/readiness").status_code == 200
        counts.append(seen.count)
        return int(seen.count)

    counts: list[int] = []
    few = queries()
    for _ in range(10):
        elena.post(f"{path}/boxes", json={"room_id": "room-1"})
        elena.post(f"{path}/rooms", json={"level_id": "level-1", "name": "Den", "kind": "den"})

    assert queries() == few <= 17
