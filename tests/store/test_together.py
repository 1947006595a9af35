"""Several people write at once, on both databases: nothing is lost, nothing is doubled, nobody is turned away."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence

from sqlalchemy import Engine, select

from server.dwelling import Answer, Box, Observation, Ref
from server.store.engine import reading, writing
from server.store.errors import Conflict
from server.store.facts import add, change, delete, read
from server.store.houses import load_facts
from server.store.journal import Author, changes_of
from server.store.observations import Entry, log, record, record_many
from server.store.tables import JobRow, KeyRow
from tests.store.conftest import ANN

TABLETS = 6
EACH = 25


def at_once(*deeds: Callable[[], None]) -> list[BaseException]:
    """Run deeds in threads that start together; the errors they ended with."""
    errors: list[BaseException] = []
    start = threading.Barrier(len(deeds))

    def run(deed: Callable[[], None]) -> None:
        start.wait()
        try:
            deed()
        except BaseException as error:
            errors.append(error)

    threads = [threading.Thread(target=run, args=(deed,)) for deed in deeds]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return errors


def observations_of(tablet: int) -> Sequence[Observation]:
    return [
        Observation(f"seen-{tablet}-{place}", Ref("room", "room-1"), "cables-dressed", Answer.RIGHT)
        for place in range(EACH)
    ]


def test_observations_of_many_tablets_are_all_there_once_and_in_each_tablets_order(
    engine: Engine, job: str
) -> None:
    def tablet(number: int) -> Callable[[], None]:
        def send() -> None:
            for seen in observations_of(number):
                with writing(engine) as session:
                    record(session, job, seen, key=seen.id, author=Author(f"account-{number}", f"P{number}"))

        return send

    errors = at_once(*(tablet(number) for number in range(TABLETS)))

    assert errors == []
    with reading(engine) as session:
        entries = log(session, job)
        revision = session.get_one(JobRow, job).revision
    assert len(entries) == TABLETS * EACH
    assert [item.sequence for item in entries] == list(range(2, TABLETS * EACH + 2))
    assert revision == TABLETS * EACH + 1
    for number in range(TABLETS):
        own = [item.observation.id for item in entries if item.person_id == f"account-{number}"]
        assert own == [seen.id for seen in observations_of(number)]


def test_the_same_entries_sent_from_two_windows_at_once_are_recorded_once(engine: Engine, job: str) -> None:
    entries = [Entry(seen, seen.id) for seen in observations_of(0)]

    def send() -> None:
        for entry in entries:
            with writing(engine) as session:
                record_many(session, job, [entry], ANN)

    errors = at_once(*[send] * 4)

    assert errors == []
    with reading(engine) as session:
        assert [item.observation.id for item in log(session, job)] == [
            entry.observation.id for entry in entries
        ]
        assert len(session.scalars(select(KeyRow.key)).all()) == EACH


def test_edits_of_one_box_by_many_are_all_journalled(engine: Engine, job: str) -> None:
    def edit(number: int) -> Callable[[], None]:
        def send() -> None:
            for place in range(10):
                with writing(engine) as session:
                    change(session, job, "box", "box-1", {"note": f"{number}-{place}"}, author=ANN)

        return send

    errors = at_once(*(edit(number) for number in range(TABLETS)))

    assert errors == []
    with reading(engine) as session:
        assert read(session, job, "box", "box-1").version == TABLETS * 10 + 1
        assert len(changes_of(session, job, limit=1000)) == TABLETS * 10 + 1


def test_of_many_who_edit_the_same_version_of_a_field_one_wins_and_the_others_are_told(
    engine: Engine, job: str
) -> None:
    def edit(number: int) -> Callable[[], None]:
        def send() -> None:
            with writing(engine) as session:
                change(session, job, "box", "box-1", {"gangs": number + 2}, 1, author=ANN)

        return send

    errors = at_once(*(edit(number) for number in range(TABLETS)))

    assert len(errors) == TABLETS - 1
    assert all(isinstance(error, Conflict) for error in errors)


def test_boxes_put_into_a_room_while_it_is_deleted_leave_nothing_dangling(engine: Engine, job: str) -> None:
    def put() -> None:
        for place in range(20):
            with writing(engine) as session:
                add(session, job, Box(f"new-{place}", "room-1"), author=ANN)

    def remove() -> None:
        with writing(engine) as session:
            delete(session, job, "room", "room-1", author=ANN)

    at_once(put, remove)

    with reading(engine) as session:
        facts = load_facts(session, job)
    rooms = {room.id for room in facts.rooms}
    assert "room-1" not in rooms
    assert {box.room_id for box in facts.boxes} <= rooms
