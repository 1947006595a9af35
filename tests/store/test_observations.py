"""The log: each entry once whatever is sent again, nothing overwritten, the newest stands, taking back is an entry."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from uuid import uuid4

import pytest
from sqlalchemy import Engine, func, select

from server.dwelling import Answer, Dwelling, Observation, Ref
from server.store.engine import reading, writing
from server.store.errors import DanglingReference, KeyReused, NotThere, Taken
from server.store.facts import delete
from server.store.houses import load_house
from server.store.jobs import make_job
from server.store.journal import Author
from server.store.kinds import JobSettings
from server.store.observations import Entry, Recorded, log, newest_of, record, record_many, take_back
from server.store.tables import JobRow, ObservationRow
from tests.store.conftest import ANN, BEN

KITCHEN = Ref("room", "room-1")
BOX = Ref("box", "box-1")


def look(subject: Ref = KITCHEN, answer: Answer = Answer.RIGHT, **more: object) -> Observation:
    return Observation(
        **{"id": uuid4().hex, "subject": subject, "rule": "cables-dressed", "answer": answer, **more}  # type: ignore[arg-type]
    )


def put(engine: Engine, job: str, seen: Observation, key: str = "", author: Author = ANN) -> Recorded:
    with writing(engine) as session:
        return record(session, job, seen, key=key or uuid4().hex, author=author)


def count(engine: Engine) -> int:
    with reading(engine) as session:
        return session.scalar(select(func.count()).select_from(ObservationRow)) or 0


def house_of(engine: Engine, job: str) -> Dwelling:
    with reading(engine) as session:
        return load_house(session, job)


def test_a_look_is_recorded_under_the_persons_name(engine: Engine, job: str) -> None:
    seen = look(
        answer=Answer.MEASURED, measure=Fraction(5, 16), note="worst of four", at="2026-11-25T09:00:00Z"
    )

    told = put(engine, job, seen)

    with reading(engine) as session:
        (logged,) = log(session, job)
    assert logged.observation == replace(seen, by="Ann Ames")
    assert (logged.person_id, logged.sequence) == ("account-ann", told.sequence)
    assert logged.recorded_at.tzinfo is not None


def test_the_same_key_twice_is_one_record(engine: Engine, job: str) -> None:
    seen = look()

    first = put(engine, job, seen, "key-1")
    second = put(engine, job, seen, "key-1")

    assert (first.again, second.again) == (False, True)
    assert (second.id, second.sequence) == (first.id, first.sequence)
    assert count(engine) == 1


def test_the_same_key_with_something_else_is_refused(engine: Engine, job: str) -> None:
    seen = look()
    put(engine, job, seen, "key-1")

    with pytest.raises(KeyReused, match="key-1"):
        put(engine, job, replace(seen, answer=Answer.WRONG), "key-1")

    assert count(engine) == 1


def test_two_people_may_choose_the_same_key(engine: Engine, job: str) -> None:
    put(engine, job, look(), "key-1", ANN)
    put(engine, job, look(), "key-1", BEN)

    assert count(engine) == 2


def test_a_batch_is_recorded_in_its_order_and_each_entry_once(engine: Engine, job: str) -> None:
    old, new, newer = look(), look(BOX), look(BOX, Answer.WRONG)
    put(engine, job, old, "key-1")

    with writing(engine) as session:
        told = record_many(
            session,
            job,
            [Entry(old, "key-1"), Entry(new, "key-2"), Entry(newer, "key-3"), Entry(new, "key-2")],
            ANN,
        )

    assert [item.again for item in told] == [True, False, False, True]
    assert [item.id for item in told] == [old.id, new.id, newer.id, new.id]
    with reading(engine) as session:
        assert [item.observation.id for item in log(session, job)] == [old.id, new.id, newer.id]


def test_a_batch_with_one_bad_entry_records_none(engine: Engine, job: str) -> None:
    with pytest.raises(DanglingReference), writing(engine) as session:
        record_many(session, job, [Entry(look(), "1"), Entry(look(Ref("box", "box-99")), "2")], ANN)

    assert count(engine) == 0


def test_an_id_is_used_once(engine: Engine, job: str) -> None:
    seen = look()
    put(engine, job, seen, "key-1")

    with pytest.raises(Taken):
        put(engine, job, seen, "key-2")


def test_the_newest_of_a_subject_and_rule_stands(engine: Engine, job: str) -> None:
    put(engine, job, look(answer=Answer.WRONG))
    put(engine, job, look(answer=Answer.RIGHT))
    put(engine, job, look(BOX, Answer.WRONG))

    house = house_of(engine, job)

    kitchen, box = (
        house.seen("room", "room-1", "cables-dressed"),
        house.seen("box", "box-1", "cables-dressed"),
    )
    assert kitchen
    assert box
    assert (kitchen.answer, box.answer) == (Answer.RIGHT, Answer.WRONG)
    assert len(house.facts.observations) == 3


def test_what_reached_us_last_stands_whatever_the_tablets_clock_said(engine: Engine, job: str) -> None:
    put(engine, job, look(answer=Answer.WRONG, at="2031-01-01T00:00:00Z"))
    put(engine, job, look(answer=Answer.RIGHT, at="2026-11-25T09:00:00Z"))

    seen = house_of(engine, job).seen("room", "room-1", "cables-dressed")

    assert seen
    assert seen.answer is Answer.RIGHT


def test_taking_back_is_an_entry_and_lets_the_one_before_stand(engine: Engine, job: str) -> None:
    put(engine, job, look(answer=Answer.WRONG), author=BEN)
    slip = put(engine, job, look(answer=Answer.RIGHT))

    with writing(engine) as session:
        take_back(session, job, slip.id, key="k", author=ANN, new_id=uuid4().hex, at="")

    seen = house_of(engine, job).seen("room", "room-1", "cables-dressed")
    assert seen
    assert (seen.answer, seen.by) == (Answer.WRONG, "Ben Ortiz")
    assert count(engine) == 3


def test_taking_the_only_one_back_leaves_it_unseen(engine: Engine, job: str) -> None:
    slip = put(engine, job, look())

    with writing(engine) as session:
        take_back(session, job, slip.id, key="k", author=ANN, new_id=uuid4().hex, at="")

    assert house_of(engine, job).seen("room", "room-1", "cables-dressed") is None


def test_a_taking_back_cannot_be_taken_back(engine: Engine, job: str) -> None:
    slip = put(engine, job, look())
    with writing(engine) as session:
        back = take_back(session, job, slip.id, key="k", author=ANN, new_id=uuid4().hex, at="")

    with pytest.raises(NotThere), writing(engine) as session:
        take_back(session, job, back.id, key="k2", author=ANN, new_id=uuid4().hex, at="")


@pytest.mark.parametrize("change", [{"subject": BOX}, {"rule": "box-fill"}, {"takes_back": "nothing"}])
def test_an_entry_takes_back_only_one_of_its_own_subject_and_rule(
    engine: Engine, job: str, change: dict[str, object]
) -> None:
    seen = put(engine, job, look())

    with pytest.raises(DanglingReference) as caught:
        put(engine, job, look(**{"answer": Answer.TAKEN_BACK, "takes_back": seen.id, **change}))  # type: ignore[arg-type]

    assert caught.value.field == "takes_back"


@pytest.mark.parametrize(
    "subject", [Ref("box", "box-99"), Ref("room", "box-1"), Ref("job", "another"), Ref("unicorn", "x")]
)
def test_a_subject_that_the_job_never_had_is_refused(engine: Engine, job: str, subject: Ref) -> None:
    with pytest.raises(DanglingReference) as caught:
        put(engine, job, look(subject))

    assert caught.value.field == "subject"


def test_another_jobs_subject_is_refused(engine: Engine, crew: str, job: str) -> None:
    with writing(engine) as session:
        other = make_job(session, crew, JobSettings("", "Another", 2023), ANN)

    with pytest.raises(DanglingReference):
        put(engine, other, look(BOX))


def test_what_was_seen_of_a_box_that_was_deleted_meanwhile_is_kept(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        delete(session, job, "box", "box-1", author=BEN)

    put(engine, job, look(BOX))

    assert count(engine) == 1


def test_an_observation_takes_a_revision_that_changes_no_fact(engine: Engine, job: str) -> None:
    with reading(engine) as session:
        before = session.get_one(JobRow, job).revision

    told = put(engine, job, look())

    with reading(engine) as session:
        row = session.get_one(JobRow, job)
        assert (row.revision, row.facts_revision) == (before + 1, before)
        assert told.sequence == row.revision


def test_a_repeat_takes_no_revision(engine: Engine, job: str) -> None:
    seen = look()
    told = put(engine, job, seen, "key-1")

    put(engine, job, seen, "key-1")

    with reading(engine) as session:
        assert session.get_one(JobRow, job).revision == told.sequence


def test_the_log_can_be_asked_for_a_room_a_rule_and_what_is_new(engine: Engine, job: str) -> None:
    first = put(engine, job, look())
    put(engine, job, look(BOX, rule="box-fill"))
    put(engine, job, look(Ref("room", "room-2")))

    with reading(engine) as session:
        room = log(session, job, subjects=[KITCHEN, BOX])
        rule = log(session, job, rule="box-fill")
        new = log(session, job, after=first.sequence)
        last = log(session, job, limit=1)
        last_of_room = log(session, job, subjects=[KITCHEN, BOX], limit=1)
    assert [item.observation.subject for item in room] == [KITCHEN, BOX]
    assert [item.observation.subject for item in rule] == [BOX]
    assert [item.observation.subject.id for item in new] == ["box-1", "room-2"]
    assert [item.observation.subject.id for item in last] == ["room-2"]
    assert [item.observation.subject for item in last_of_room] == [BOX]


def test_of_each_subject_and_rule_the_log_tells_which_entry_stands(engine: Engine, job: str) -> None:
    put(engine, job, look(answer=Answer.WRONG))
    standing = put(engine, job, look())
    gone = put(engine, job, look(BOX))
    with writing(engine) as session:
        take_back(session, job, gone.id, key="k", author=ANN, new_id=uuid4().hex, at="")

    with reading(engine) as session:
        newest = newest_of(log(session, job))

    assert {place: item.observation.id for place, item in newest.items()} == {
        (KITCHEN, "cables-dressed"): standing.id
    }


def test_the_store_and_the_house_agree_on_what_stands(engine: Engine, job: str) -> None:
    first = put(engine, job, look(answer=Answer.WRONG))
    put(engine, job, look(answer=Answer.RIGHT))
    with writing(engine) as session:
        take_back(session, job, first.id, key="k", author=ANN, new_id=uuid4().hex, at="")
    put(engine, job, look(BOX, Answer.TAKEN_BACK))

    with reading(engine) as session:
        newest = newest_of(log(session, job))
        house = load_house(session, job)

    for subject in (KITCHEN, BOX):
        seen = house.seen(subject.kind, subject.id, "cables-dressed")
        item = newest.get((subject, "cables-dressed"))
        assert (seen and seen.id) == (item and item.observation.id)
