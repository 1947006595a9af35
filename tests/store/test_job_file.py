"""A job goes into a file and out of it without loss; a file that is not right is refused by field."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from itertools import count
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, select

from seed_demo.seed import seed
from server.dwelling import Answer, Facts, Observation, Ref
from server.editions import load_edition
from server.readiness import evaluate
from server.store.engine import reading, writing
from server.store.facts import delete
from server.store.houses import load_code, load_house
from server.store.job_file import (
    JobContents,
    JobFileError,
    export_job,
    import_job,
    read_job_file,
    write_job_file,
)
from server.store.job_file_documents import JobFile
from server.store.journal import new_id
from server.store.kinds import KINDS, JobSettings
from server.store.observations import record
from server.store.rekey import rekey
from server.store.tables import CrewRow, JobRow, PhotographRow
from tests.store.conftest import ANN, small_house
from tests.store.generated_houses import facts_of_a_house

LAYER = {
    "id": "our-town", "title": "Our town", "source": "Ordinance 12", "place": "Our town",
    "change": [{"kind": "replaces", "node": "sheath.reach_in", "value": "1/2", "cites": "12.4"}],
}  # fmt: skip
WORKS = count()


def contents(facts: Facts, **more: Any) -> JobContents:
    site = facts.site
    job = JobSettings(
        site.id, site.name, 2023, stage=site.stage, work=site.work, permit_date=site.permit_date,
        floor_area_ft2=site.floor_area_ft2,
    )  # fmt: skip
    return JobContents(job, facts, {}, **more)


def small_file() -> dict[str, Any]:
    return write_job_file(contents(small_house().facts()))


def through_json(document: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(document))
    return found


@settings(max_examples=60, deadline=None)
@given(facts=facts_of_a_house())
def test_facts_go_into_a_file_and_come_out_equal(facts: Facts) -> None:
    found = read_job_file(through_json(write_job_file(contents(facts))))

    assert found.facts == facts
    assert found == contents(facts)


@settings(max_examples=60, deadline=None)
@given(facts=facts_of_a_house())
def test_what_is_written_is_what_the_schema_writes(facts: Facts) -> None:
    document = through_json(write_job_file(contents(facts)))

    assert JobFile.model_validate(document).model_dump(mode="json", by_alias=True) == document


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(facts=facts_of_a_house())
def test_an_imported_job_is_exported_as_the_same_file_under_other_ids(
    engine: Engine, crew: str, facts: Facts
) -> None:
    # the database is the same for every example: ids of earlier ones are in use by now
    document = through_json(write_job_file(contents(facts)))
    with writing(engine) as session:
        first = import_job(session, crew, read_job_file(document), ANN)
    with reading(engine) as session:
        exported = through_json(export_job(session, first.job_id))

    with writing(engine) as session:
        second = import_job(session, crew, read_job_file(exported), ANN)
    with reading(engine) as session:
        again = through_json(export_job(session, second.job_id))

    read, read_again = read_job_file(exported), read_job_file(again)
    assert read.facts == rekey(facts, first.renamed)
    assert read_again.facts == rekey(read.facts, second.renamed)
    everything = [read.facts.site, *read.facts.observations]
    everything += [fact for kind in KINDS.values() for fact in getattr(read.facts, kind.plural)]
    assert len(everything) == sum(map(len, second.renamed.values()))  # not one old id is left
    assert replace(read_again.settings, id="") == replace(read.settings, id="")
    assert list(read_again.recorded_at.values()) == list(read.recorded_at.values())


def test_the_demo_house_goes_into_a_file_and_into_another_crews_hands(engine: Engine, crew: str) -> None:
    with engine.begin() as connection:
        connection.execute(CrewRow.__table__.delete())  # the demo wants an empty database
    seeded = seed(engine)
    with reading(engine) as session:
        document = through_json(export_job(session, seeded.job_id))
    with writing(engine) as session:
        session.add(CrewRow(id=crew, name="Others", made_at=datetime.now(UTC)))
        session.flush()
        made = import_job(session, crew, read_job_file(document), ANN)

    with reading(engine) as session:
        there, here = load_house(session, seeded.job_id), load_house(session, made.job_id)
        code = load_code(session.get_one(JobRow, made.job_id))
    assert len(here.boxes) >= 150
    assert here.facts == rekey(there.facts, made.renamed)
    verdicts = Counter((finding.rule.id, finding.outcome.verdict) for finding in evaluate(here, code))
    assert verdicts == Counter(
        (finding.rule.id, finding.outcome.verdict) for finding in evaluate(there, code)
    )


def test_ids_that_nobody_uses_are_kept(engine: Engine, crew: str) -> None:
    document = small_file()

    with writing(engine) as session:
        made = import_job(session, crew, read_job_file(document), ANN)

    with reading(engine) as session:
        exported = export_job(session, made.job_id)
    assert made.renamed == {}
    assert through_json(exported) == document


def test_only_ids_in_use_are_changed_and_everything_follows(engine: Engine, crew: str) -> None:
    facts = small_house().facts()
    with writing(engine) as session:
        import_job(session, crew, contents(facts), ANN)
    mixed = rekey(facts, {"box": {"box-1": "mine"}, "job": {"job-1": "job-2"}})

    with writing(engine) as session:
        made = import_job(session, crew, contents(mixed), ANN)

    with reading(engine) as session:
        found = read_job_file(through_json(export_job(session, made.job_id))).facts
    assert "mine" not in made.renamed["box"]
    assert found == rekey(mixed, made.renamed)
    assert [found.cables[0].b_box_id, found.devices[0].box_id] == ["mine", "mine"]


def test_deleted_facts_stay_out_of_the_file_and_what_was_seen_of_them_stays_in(
    engine: Engine, job: str
) -> None:
    seen = Observation(new_id(), Ref("box", "box-1"), "box-fill", Answer.RIGHT)
    with writing(engine) as session:
        record(session, job, seen, key="k", author=ANN)
        delete(session, job, "box", "box-1", author=ANN)

    with reading(engine) as session:
        document = through_json(export_job(session, job))

    assert "box-1" not in [box["id"] for box in document["boxes"]]
    assert document["observations"][0]["subject"] == {"kind": "box", "id": "box-1"}
    read_job_file(document)


def test_the_files_clock_is_kept(engine: Engine, crew: str) -> None:
    document = small_file()
    document["observations"] = [
        {
            "id": "seen-1", "subject": {"kind": "box", "id": "box-1"}, "rule": "box-fill", "answer": "measured",
            "measure": "5/16", "by": "R. Ames", "at": "2026-11-20T09:00:00Z", "recorded_at": "2026-11-20T11:00:00Z",
        }
    ]  # fmt: skip
    with writing(engine) as session:
        made = import_job(session, crew, read_job_file(document), ANN)

    with reading(engine) as session:
        (seen,) = export_job(session, made.job_id)["observations"]

    assert (seen["measure"], seen["by"], seen["recorded_at"]) == ("5/16", "R. Ames", "2026-11-20T11:00:00Z")


def test_amendments_travel_with_the_job_and_judge_it(engine: Engine, crew: str) -> None:
    document = small_file()
    document["amendments"]["own"] = [LAYER]

    with writing(engine) as session:
        made = import_job(session, crew, read_job_file(document), ANN)

    with reading(engine) as session:
        code = load_code(session.get_one(JobRow, made.job_id))
        assert through_json(export_job(session, made.job_id))["amendments"]["own"] == [LAYER]
    assert code.number("sheath.reach_in") == Fraction(1, 2) != load_edition(2023).number("sheath.reach_in")
    assert code.entry("sheath.reach_in").amended_by == "our-town"


def test_a_photograph_of_another_crew_is_not_opened_by_its_hash(engine: Engine, crew: str) -> None:
    photograph = {"sha256": "a" * 64, "content_type": "image/jpeg", "bytes": 1, "width_px": 1, "height_px": 1}
    document = {**small_file(), "photographs": [photograph]}
    with writing(engine) as session:
        session.add(CrewRow(id="crew-2", name="Others", made_at=datetime.now(UTC)))
        session.flush()
        mine = import_job(session, crew, read_job_file(document), ANN)
        session.execute(PhotographRow.__table__.update().values(is_here=True))
        theirs = import_job(session, "crew-2", read_job_file(document), ANN)
        ours = import_job(session, crew, read_job_file(document), ANN)

    with reading(engine) as session:
        rows = session.execute(select(PhotographRow.job_id, PhotographRow.is_here)).all()
        exported = export_job(session, theirs.job_id)
    assert {row.job_id: row.is_here for row in rows} == {
        mine.job_id: True,
        theirs.job_id: False,
        ours.job_id: True,
    }
    assert exported["photographs"][0]["sha256"] == "a" * 64


def wrong(change: Callable[[dict[str, Any]], Any]) -> list[str]:
    document = small_file()
    change(document)
    with pytest.raises(JobFileError) as caught:
        read_job_file(through_json(document))
    return [error.field for error in caught.value.errors]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        (lambda file: file.update(schema="studbay-job/2"), "schema"),
        (lambda file: file.pop("schema"), "schema"),
        (lambda file: file.pop("job"), "job"),
        (lambda file: file.update(unicorns=[]), "unicorns"),
        (lambda file: file["boxes"][0].update(colour="red"), "boxes.0.colour"),
        (lambda file: file["boxes"][1].update(gangs=0), "boxes.1.gangs"),
        (lambda file: file["boxes"][1].update(gangs="two"), "boxes.1.gangs"),
        (lambda file: file["boxes"][1].update(height_in="high"), "boxes.1.height_in"),
        (lambda file: file["boxes"][1].update(height_in="-4"), "boxes.1.height_in"),
        (lambda file: file["boxes"][1].update(height_in=1e300), "boxes.1.height_in"),
        (lambda file: file["boxes"][1].update(volume_in3="1e999999"), "boxes.1.volume_in3"),
        (lambda file: file["boxes"][1].update(volume_in3="1/0"), "boxes.1.volume_in3"),
        (lambda file: file["boxes"][1].update(note="\x00"), "boxes.1.note"),
        (lambda file: file["boxes"][1].update(id="a/b"), "boxes.1.id"),
        (lambda file: file["boxes"][1].update(id="box-1"), "boxes.1.id"),
        (lambda file: file["boxes"][1].update(wall_id="wall-99"), "boxes.1.wall_id"),
        (lambda file: file["boxes"][1].update(wall_id="room-1"), "boxes.1.wall_id"),
        (lambda file: file["rooms"][0].update(level_id=None), "rooms.0.level_id"),
        (lambda file: file["rooms"][0].update(kind="ballroom"), "rooms.0.kind"),
        (lambda file: file["devices"][0].update(controls=["device-99"]), "devices.0.controls"),
        (lambda file: file["cables"][0].update(circuit_ids=["circuit-9"]), "cables.0.circuit_ids"),
        (lambda file: file["walls"][0].update(length_in="0"), "walls.0.length_in"),
        (lambda file: file["openings"][0].update(from_in="80"), "openings.0"),
        (lambda file: file["job"].update(edition="2019"), "job.edition"),
        (lambda file: file["job"].update(permit_date="yesterday"), "job.permit_date"),
        (lambda file: file["amendments"].update(presets=["atlantis"]), "amendments"),
        (lambda file: file["amendments"].update(own=[LAYER, LAYER]), "amendments"),
        (lambda file: file["amendments"].update(own=[{**LAYER, "source": ""}]), "amendments.own.0.source"),
        (lambda file: file["amendments"].update(own=[{**LAYER, "change": []}]), "amendments.own.0.change"),
        (
            lambda file: file["amendments"].update(
                own=[{**LAYER, "change": [{**LAYER["change"][0], "value": "1e999999999"}]}]  # type: ignore[dict-item]
            ),
            "amendments.own.0.change.0.value",
        ),
        (lambda file: file.update(observations=[{"id": "x"}]), "observations.0.subject"),
        (
            lambda file: file.update(
                observations=[
                    {"id": "x", "subject": {"kind": "room", "id": "room-1"}, "rule": "r", "answer": "taken back",
                     "takes_back": "y"}
                ]
            ),
            "observations.0.takes_back",
        ),
        (lambda file: file.update(photographs=[{"sha256": "../../etc/passwd"}]), "photographs.0.sha256"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named(change: Callable[[dict[str, Any]], Any], field: str) -> None:
    assert field in wrong(change)


def test_everything_wrong_is_named_at_once() -> None:
    def change(file: dict[str, Any]) -> None:
        file["boxes"][0]["gangs"] = 99
        file["rooms"][1]["colour"] = "red"

    assert wrong(change) == ["rooms.1.colour", "boxes.0.gangs"]


def test_an_error_says_what_was_expected_and_what_came() -> None:
    document = small_file()
    document["boxes"][0]["wall_id"] = "wall-99"

    with pytest.raises(JobFileError, match=r"boxes.0.wall_id: expected a wall of this file; came 'wall-99'"):
        read_job_file(document)


@pytest.mark.parametrize("raw", [None, 7, "x", [], {}, {"schema": None}, [{"schema": "studbay-job/1"}]])
def test_what_is_no_job_file_at_all_is_refused(raw: Any) -> None:
    with pytest.raises(JobFileError):
        read_job_file(raw)


json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["1/0", "1e99999"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


@settings(max_examples=400, deadline=None)
@given(data=st.data(), value=json_values)
def test_a_file_with_anything_anywhere_is_read_or_refused_and_never_fails_otherwise(
    data: st.DataObject, value: Any
) -> None:
    document: Any = small_file()
    document["amendments"]["own"] = [through_json(LAYER)]
    place = document
    while True:
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        key = data.draw(st.sampled_from(keys))
        if not isinstance(place[key], dict | list) or not place[key] or data.draw(st.integers(0, 4)) == 0:
            place[key] = value
            break
        place = place[key]

    try:
        found = read_job_file(document)
    except JobFileError:
        return
    assert read_job_file(through_json(write_job_file(found))) == found
