"""Facts are added, edited and deleted as journalled changes; two people's edits are merged field by field."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import Engine

from server.dwelling import Box, Device, DeviceKind, Facts, Level, Room, RoomKind, Stage
from server.store.engine import reading, writing
from server.store.errors import Conflict, DanglingReference, NotThere, Taken, UnknownField
from server.store.facts import add, change, changing, delete, read, read_all
from server.store.houses import load_facts
from server.store.jobs import change_job, make_job
from server.store.journal import changes_of, lines_of
from server.store.kinds import KINDS, JobSettings
from server.store.stored import targets_of
from server.store.tables import JobRow
from tests.store.conftest import ANN, BEN


def facts_of(engine: Engine, job_id: str) -> Facts:
    with reading(engine) as session:
        return load_facts(session, job_id)


def stands(engine: Engine, job_id: str, kind: str, fact_id: str) -> Any:
    with reading(engine) as session:
        return read(session, job_id, kind, fact_id).fact


def test_an_added_fact_is_there_with_version_one(engine: Engine, job: str) -> None:
    box = Box("box-new", "room-1", label="behind the range", height_in=Fraction(149, 2))

    with writing(engine) as session:
        add(session, job, box, author=ANN)

    with reading(engine) as session:
        stored = read(session, job, "box", "box-new")
    assert (stored.fact, stored.version) == (box, 1)
    assert facts_of(engine, job).boxes[-1] == box


def test_facts_added_in_one_change_may_name_each_other_in_any_order(engine: Engine, job: str) -> None:
    device = Device("device-new", "box-new", DeviceKind.SWITCH, controls=("device-newer",))
    other = Device("device-newer", "box-new", DeviceKind.LUMINAIRE)

    with writing(engine) as session, changing(session, job, ANN, "a light") as made:
        made.add(device, other, Box("box-new", "room-new"))
        made.add(Room("room-new", "level-1", "Den", RoomKind.DEN))

    assert facts_of(engine, job).devices[-2:] == (device, other)


def test_an_id_in_use_is_refused_in_whatever_job(engine: Engine, crew: str, job: str) -> None:
    with writing(engine) as session:
        other = make_job(session, crew, JobSettings("", "Another", 2023), ANN)

    with pytest.raises(Taken, match="level-1"), writing(engine) as session:
        add(session, other, Level("level-1", "First"), author=ANN)


def test_the_same_id_twice_in_one_change_is_refused(engine: Engine, job: str) -> None:
    with pytest.raises(Taken), writing(engine) as session:
        add(session, job, Level("level-9", "Attic"), Level("level-9", "Cellar"), author=ANN)


@pytest.mark.parametrize(
    ("fact", "field"),
    [
        (Box("x", "room-9"), "room_id"),
        (Box("x", "room-1", wall_id="wall-99"), "wall_id"),
        (Device("x", "box-1", DeviceKind.SWITCH, controls=("device-1", "device-99")), "controls"),
        (Device("x", "box-1", DeviceKind.SWITCH, load_cable_ids=("cable-99",)), "load_cable_ids"),
    ],
)
def test_a_fact_that_names_what_is_not_in_the_job_is_refused(
    engine: Engine, job: str, fact: Any, field: str
) -> None:
    with pytest.raises(DanglingReference) as caught, writing(engine) as session:
        add(session, job, fact, author=ANN)

    assert caught.value.field == field
    assert fact not in facts_of(engine, job).boxes + facts_of(engine, job).devices


def test_a_fact_cannot_name_another_jobs_facts(engine: Engine, crew: str, job: str) -> None:
    with writing(engine) as session:
        other = make_job(session, crew, JobSettings("", "Another", 2023), ANN)

    with pytest.raises(DanglingReference), writing(engine) as session:
        add(session, other, Room("room-x", "level-1", "Den", RoomKind.DEN), author=ANN)


def test_an_edit_changes_its_fields_and_no_others(engine: Engine, job: str) -> None:
    before = stands(engine, job, "box", "box-1")

    with writing(engine) as session:
        _, version = change(session, job, "box", "box-1", {"height_in": Fraction(97, 2)}, author=ANN)

    assert version == 2
    assert stands(engine, job, "box", "box-1") == replace(before, height_in=Fraction(97, 2))


def test_an_edit_to_the_same_value_changes_nothing(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change_id, version = change(session, job, "box", "box-1", {"height_in": Fraction(44)}, author=ANN)

    assert (change_id, version) == (None, 1)


@pytest.mark.parametrize("field", ["id", "job_id", "version", "colour"])
def test_a_field_that_is_not_the_facts_own_cannot_be_edited(engine: Engine, job: str, field: str) -> None:
    with pytest.raises(UnknownField), writing(engine) as session:
        change(session, job, "box", "box-1", {field: "x"}, author=ANN)


@pytest.mark.parametrize(("kind", "fact_id"), [("box", "box-99"), ("room", "box-1"), ("unicorn", "box-1")])
def test_what_is_not_there_cannot_be_edited(engine: Engine, job: str, kind: str, fact_id: str) -> None:
    with pytest.raises(NotThere), writing(engine) as session:
        change(session, job, kind, fact_id, {"note": "x"}, author=ANN)


def test_another_jobs_fact_cannot_be_edited_or_deleted(engine: Engine, crew: str, job: str) -> None:
    with writing(engine) as session:
        other = make_job(session, crew, JobSettings("", "Another", 2023), ANN)

    with pytest.raises(NotThere), writing(engine) as session:
        change(session, other, "box", "box-1", {"note": "x"}, author=ANN)
    with pytest.raises(NotThere), writing(engine) as session:
        delete(session, other, "box", "box-1", author=ANN)


def test_edits_of_different_fields_are_merged(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change(session, job, "box", "box-1", {"height_in": Fraction(48)}, 1, author=ANN)

    with writing(engine) as session:
        _, version = change(session, job, "box", "box-1", {"note": "clamp loose"}, 1, author=BEN)

    box = stands(engine, job, "box", "box-1")
    assert (box.height_in, box.note, version) == (48, "clamp loose", 3)


def test_edits_of_the_same_field_conflict_and_tell_both_values(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change(session, job, "box", "box-1", {"height_in": Fraction(48), "gangs": 2}, 1, author=ANN)

    with pytest.raises(Conflict) as caught, writing(engine) as session:
        change(session, job, "box", "box-1", {"height_in": Fraction(50), "note": "x"}, 1, author=BEN)

    (field,) = caught.value.fields
    assert (field.field, field.theirs, field.yours, field.by) == ("height_in", 48, 50, "Ann Ames")
    assert field.at is not None
    assert caught.value.version == 2
    assert stands(engine, job, "box", "box-1").note == ""


def test_two_people_who_enter_the_same_value_do_not_conflict(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change(session, job, "box", "box-1", {"height_in": Fraction(48)}, 1, author=ANN)

    with writing(engine) as session:
        _, version = change(session, job, "box", "box-1", {"height_in": Fraction(48)}, 1, author=BEN)

    assert version == 2


def test_an_edit_on_the_version_that_stands_never_conflicts(engine: Engine, job: str) -> None:
    for height in (48, 50, 52):
        with writing(engine) as session:
            version = read(session, job, "box", "box-1").version
            change(session, job, "box", "box-1", {"height_in": Fraction(height)}, version, author=ANN)

    assert stands(engine, job, "box", "box-1").height_in == 52


def test_deleting_a_room_takes_what_stands_in_it(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        delete(session, job, "room", "room-1", author=ANN)

    facts = facts_of(engine, job)
    assert [room.id for room in facts.rooms] == ["room-2"]
    assert {wall.room_id for wall in facts.walls} == {"room-2"}
    assert (facts.openings, facts.counters, facts.breaks, facts.fixtures) == ((), (), (), ())
    assert [box.id for box in facts.boxes] == ["box-3"]
    assert [device.id for device in facts.devices] == ["device-3"]


def test_what_referred_to_a_deleted_fact_lets_go_of_it(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        delete(session, job, "room", "room-1", author=ANN)

    facts = facts_of(engine, job)
    switch = facts.devices[0]
    ends = {cable.id: (cable.a_panel_id, cable.a_box_id, cable.b_box_id) for cable in facts.cables}
    assert switch.controls == ()
    # cable-2 ran between two boxes of that room and went with them
    assert ends == {"cable-1": ("panel-1", None, None), "cable-3": (None, None, "box-3")}


def test_deleting_a_panel_takes_its_circuits_and_cables_let_go(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        delete(session, job, "panel", "panel-1", author=ANN)

    facts = facts_of(engine, job)
    assert facts.circuits == ()
    assert [cable.circuit_ids for cable in facts.cables] == [(), (), ()]
    assert facts.cables[0].a_panel_id is None
    assert facts.devices[-1].circuit_id is None


def test_deleting_a_cable_frees_the_device_that_fed_it(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        delete(session, job, "cable", "cable-3", author=ANN)

    assert facts_of(engine, job).devices[-1].load_cable_ids == ()


def test_deleting_what_is_not_there_deletes_nothing(engine: Engine, job: str) -> None:
    with pytest.raises(NotThere), writing(engine) as session:
        delete(session, job, "box", "box-1", "box-99", author=ANN)

    assert len(facts_of(engine, job).boxes) == 3


def test_no_reference_is_left_dangling_whatever_is_deleted(engine: Engine, job: str) -> None:
    for kind, fact_id in [("wall", "wall-1"), ("counter", "counter-1"), ("fixture", "fixture-1"),
                          ("circuit", "circuit-1"), ("box", "box-2"), ("device", "device-1")]:  # fmt: skip
        with writing(engine) as session:
            delete(session, job, kind, fact_id, author=ANN)
        facts = facts_of(engine, job)
        ids = {name: {fact.id for fact in getattr(facts, kind.plural)} for name, kind in KINDS.items()}
        for name, found in KINDS.items():
            for fact in getattr(facts, found.plural):
                for reference in found.references:
                    targets = targets_of(reference, getattr(fact, reference.field))
                    assert set(targets) <= ids[reference.kind], (name, fact)


def test_every_change_takes_the_jobs_next_revision(engine: Engine, job: str) -> None:
    with reading(engine) as session:
        before = session.get_one(JobRow, job).revision

    with writing(engine) as session:
        change(session, job, "box", "box-1", {"note": "x"}, author=ANN)
        delete(session, job, "box", "box-2", author=ANN)

    with reading(engine) as session:
        row = session.get_one(JobRow, job)
        assert (row.revision, row.facts_revision) == (before + 2, before + 2)


def test_the_journal_tells_who_changed_what_from_what_to_what(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change(
            session, job, "box", "box-1", {"height_in": Fraction(97, 2)}, author=BEN, what="raised the box"
        )

    with reading(engine) as session:
        newest = changes_of(session, job)[0]
        (line,) = lines_of(session, newest.id)
    assert (newest.what, newest.by, newest.undone) == ("raised the box", "Ben Ortiz", False)
    assert (line.before, line.after) == ({"height_in": "44"}, {"height_in": "97/2"})


def test_a_jobs_settings_are_changed_like_a_fact(engine: Engine, job: str) -> None:
    with writing(engine) as session:
        change_job(session, job, {"stage": Stage.FINAL, "name": "Alder Street 12"}, 1, author=ANN)

    with pytest.raises(Conflict, match="Ann Ames changed name"), writing(engine) as session:
        change_job(session, job, {"name": "Elsewhere"}, 1, author=BEN)

    assert facts_of(engine, job).site.stage is Stage.FINAL


def test_facts_come_back_in_the_order_in_which_they_were_entered(engine: Engine, job: str) -> None:
    with writing(engine) as session, changing(session, job, ANN, "") as made:
        made.add(*(Box(name, "room-1") for name in ("z", "m", "a")))

    with reading(engine) as session:
        assert [stored.fact.id for stored in read_all(session, job, "box")] == [
            "box-1", "box-2", "box-3", "z", "m", "a",
        ]  # fmt: skip


def test_an_error_within_a_change_keeps_nothing_of_it(engine: Engine, job: str) -> None:
    before = facts_of(engine, job)

    def change_and_fail() -> None:
        with writing(engine) as session, changing(session, job, ANN, "") as made:
            made.add(Level("level-x", "Attic"))
            made.delete("room", "room-1")
            made.edit("box", "box-99", {"note": "x"})

    with pytest.raises(NotThere):
        change_and_fail()

    assert facts_of(engine, job) == before
    with reading(engine) as session:
        assert len(changes_of(session, job)) == 1


def test_a_job_that_is_not_there_cannot_be_changed(engine: Engine, crew: str) -> None:
    with pytest.raises(NotThere), writing(engine) as session:
        add(session, "nowhere", Level("l", "First"), author=ANN)
