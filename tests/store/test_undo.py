"""Every change can be undone as a whole, and the undoing too; what others did since is never written over."""

from __future__ import annotations

from fractions import Fraction
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from server.dwelling import Box, Facts, Room, RoomKind, Stage
from server.store.engine import reading, writing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference, NotThere
from server.store.facts import add, change, changing, delete, undo
from server.store.houses import load_facts
from server.store.jobs import change_job, make_job, store_facts
from server.store.journal import changes_of
from server.store.kinds import KINDS, JobSettings
from server.store.rekey import rekey
from tests.store.conftest import ANN, BEN, small_house


def facts_of(engine: Engine, job_id: str) -> Facts:
    with reading(engine) as session:
        return load_facts(session, job_id)


def test_undoing_an_edit_sets_its_fields_back(engine: Engine, job: str) -> None:
    before = facts_of(engine, job)
    with writing(engine) as session:
        done, _ = change(session, job, "box", "box-1", {"height_in": Fraction(50), "gangs": 2}, author=ANN)
        assert done

    with writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job) == before


@pytest.mark.parametrize(
    ("kind", "fact_id"),
    [
        ("level", "level-1"), ("room", "room-1"), ("room", "room-2"), ("wall", "wall-1"), ("counter", "counter-1"),
        ("fixture", "fixture-1"), ("panel", "panel-1"), ("circuit", "circuit-1"), ("box", "box-1"),
        ("device", "device-1"), ("cable", "cable-3"),
    ],
)  # fmt: skip
def test_undoing_a_deletion_brings_back_everything(engine: Engine, job: str, kind: str, fact_id: str) -> None:
    before = facts_of(engine, job)
    with writing(engine) as session:
        done = delete(session, job, kind, fact_id, author=ANN)
    assert facts_of(engine, job) != before

    with writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job) == before


def test_undoing_a_layout_removes_what_it_added_and_what_was_put_in_since(engine: Engine, job: str) -> None:
    before = facts_of(engine, job)
    with writing(engine) as session:
        done = add(session, job, Room("room-x", "level-1", "Den", RoomKind.DEN), author=ANN)
    with writing(engine) as session:
        add(session, job, Box("box-x", "room-x"), author=BEN)

    with writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job) == before


def test_an_undo_can_be_undone_and_that_too(engine: Engine, job: str) -> None:
    before = facts_of(engine, job)
    with writing(engine) as session:
        first = delete(session, job, "room", "room-1", author=ANN)
    after = facts_of(engine, job)

    with writing(engine) as session:
        second = undo(session, job, first, ANN)
    with writing(engine) as session:
        undo(session, job, second, ANN)
    assert facts_of(engine, job) == after

    with writing(engine) as session:
        undo(session, job, first, ANN)
    assert facts_of(engine, job) == before


def test_a_change_is_undone_once(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "box", "box-1", author=ANN)
    with writing(engine) as session:
        undo(session, job, done, ANN)

    with pytest.raises(AlreadyUndone), writing(engine) as session:
        undo(session, job, done, ANN)


def test_a_field_that_somebody_changed_since_is_not_set_back(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done, _ = change(session, job, "box", "box-1", {"height_in": Fraction(50)}, author=ANN)
        assert done
    with writing(engine) as session:
        change(session, job, "box", "box-1", {"height_in": Fraction(60)}, author=BEN)

    with pytest.raises(Conflict), writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job).boxes[0].height_in == 60


def test_a_cable_that_was_rerouted_since_stays_where_it_is(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "box", "box-1", author=ANN)
    with writing(engine) as session:
        change(session, job, "cable", "cable-1", {"b_box_id": "box-2"}, author=BEN)

    with writing(engine) as session:
        undo(session, job, done, ANN)

    facts = facts_of(engine, job)
    assert [box.id for box in facts.boxes] == ["box-1", "box-2", "box-3"]
    assert facts.cables[0].b_box_id == "box-2"
    assert facts.cables[1].a_box_id == "box-1"


def test_what_belonged_to_something_deleted_since_does_not_come_back_alone(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "box", "box-1", author=ANN)
    with writing(engine) as session:
        delete(session, job, "room", "room-1", author=BEN)

    with pytest.raises(DanglingReference), writing(engine) as session:
        undo(session, job, done, ANN)


def test_what_comes_back_lets_go_of_what_was_deleted_since(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "box", "box-1", author=ANN)
    with writing(engine) as session:
        delete(session, job, "wall", "wall-1", author=BEN)

    with writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job).boxes[0].wall_id is None


def test_undoing_a_change_of_the_job_sets_it_back(engine: Engine, job: str) -> None:
    before = facts_of(engine, job)
    with writing(engine) as session:
        done, _ = change_job(session, job, {"stage": Stage.FINAL, "edition": 2017}, author=ANN)
        assert done

    with writing(engine) as session:
        undo(session, job, done, ANN)

    assert facts_of(engine, job) == before


def test_another_jobs_change_cannot_be_undone(engine: Engine, crew: str, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "box", "box-1", author=ANN)
        other = make_job(session, crew, JobSettings("", "Another", 2023), ANN)

    with pytest.raises(NotThere), writing(engine) as session:
        undo(session, other, done, ANN)


def test_the_history_tells_what_was_undone(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        done = delete(session, job, "room", "room-1", author=ANN)
    with writing(engine) as session:
        undo(session, job, done, BEN)

    with reading(engine) as session:
        newest, before, _ = changes_of(session, job)
    assert (newest.what, newest.by) == ("undone: deleted room Kitchen", "Ben Ortiz")
    assert before.undone


HOUSES = count()

deeds = st.lists(
    st.tuples(
        st.sampled_from(["delete", "edit", "add", "undo"]), st.sampled_from(sorted(KINDS)), st.integers(0, 5)
    ),
    min_size=1,
    max_size=8,
)


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(deeds=deeds)
def test_undoing_everything_backwards_leads_back_to_the_start(
    engine: Engine, crew: str, deeds: list[tuple[str, str, int]]
) -> None:
    number = next(HOUSES)  # the database is the same for every example
    start = small_house().facts()
    names = {
        name: {fact.id: f"{fact.id}-{number}" for fact in getattr(start, kind.plural)}
        for name, kind in KINDS.items()
    }
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings("", "House", 2023), ANN)
        store_facts(session, job_id, rekey(start, names), ANN, "")
    before = facts_of(engine, job_id)
    done: list[str] = []
    for place, (deed, kind, which) in enumerate(deeds):
        members = getattr(facts_of(engine, job_id), KINDS[kind].plural)
        with writing(engine) as session:
            if deed == "undo" and done:
                done.append(undo(session, job_id, done[-1], ANN))
            elif deed == "add":
                room = members[0].id if kind == "room" and members else None
                with changing(session, job_id, ANN, "") as made:
                    if room:
                        made.add(Box(f"new-{place}-{number}", room))
                if made.lines:
                    done.append(made.id)
            elif members and deed == "delete":
                done.append(delete(session, job_id, kind, members[which % len(members)].id, author=ANN))
            elif members and deed == "edit" and "note" in KINDS[kind].fields:
                fact = members[which % len(members)]
                made_id, _ = change(session, job_id, kind, fact.id, {"note": f"note {place}"}, author=ANN)
                done.extend([made_id] if made_id else [])

    for change_id in reversed(done):
        with reading(engine) as session:
            undone = {item.id: item.undone for item in changes_of(session, job_id, limit=100)}
        if not undone[change_id]:
            with writing(engine) as session:
                undo(session, job_id, change_id, ANN)

    assert facts_of(engine, job_id) == before
