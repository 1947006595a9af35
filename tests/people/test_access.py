"""The one way to a job: another crew's answers like a missing one, a role too low is told only of one's own."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, update

from seed_demo.building import HouseBuilder
from server.people.access import Forbidden, NotFound, fact_for, job_for, jobs_open_to, room_for
from server.people.roles import Role
from server.store.engine import reading, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings
from server.store.tables import RoomRow
from tests.cast import Cast

AUTHOR = Author("account-ana", "Ana Ruiz")


@pytest.fixture
def house(engine: Engine, cast: Cast) -> dict[str, str]:
    """Two jobs of Ana's crew and one of Sol's, each with a kitchen."""
    ids = {}
    with writing(engine) as session:
        for name, crew_id in (("one", "crew-of-ana"), ("two", "crew-of-ana"), ("sols", "crew-of-sol")):
            builder = HouseBuilder(prefix=f"{name}-")
            ids[f"{name}-room"] = builder.room("kitchen", length_in=144, width_in=120)
            ids[name] = make_job(session, crew_id, JobSettings(f"job-{name}", name, 2023), AUTHOR)
            store_facts(session, ids[name], builder.facts(), AUTHOR, "a kitchen")
    return ids


def test_a_job_of_ones_own_crew_is_found_in_one_query(
    engine: Engine, cast: Cast, house: dict[str, str], query_count: object
) -> None:
    with query_count() as queries, reading(engine) as session:  # type: ignore[operator]
        assert job_for(session, cast["gus"], house["one"]).name == "one"

    assert queries.count == 1


@pytest.mark.parametrize("job", ["sols", "missing"])
@pytest.mark.parametrize("need", list(Role))
def test_another_crews_job_answers_like_a_missing_one_whatever_is_asked(
    engine: Engine, cast: Cast, house: dict[str, str], job: str, need: Role
) -> None:
    for name in ("ana", "gus"):
        with reading(engine) as session, pytest.raises(NotFound) as raised:
            job_for(session, cast[name], house.get(job, job), need)
        assert str(raised.value) == ""


@pytest.mark.parametrize("need", list(Role))
@pytest.mark.parametrize("name", ["ana", "hugo", "elena", "pat", "gus"])
def test_a_role_reaches_up_to_itself(
    engine: Engine, cast: Cast, house: dict[str, str], name: str, need: Role
) -> None:
    person = cast[name]
    with reading(engine) as session:
        if person.role >= need:
            assert job_for(session, person, house["one"], need).id == house["one"]
        else:
            with pytest.raises(
                Forbidden, match=f"takes the role {need.word} or higher; yours .* {person.role.word}"
            ):
                job_for(session, person, house["one"], need)


def test_a_room_is_found_with_its_job_in_one_query(
    engine: Engine, cast: Cast, house: dict[str, str], query_count: object
) -> None:
    with query_count() as queries, reading(engine) as session:  # type: ignore[operator]
        job, room = room_for(session, cast["gus"], house["one"], house["one-room"])

    assert (job.id, room.id) == (house["one"], house["one-room"])
    assert queries.count == 1


@pytest.mark.parametrize(
    ("job", "room"),
    [
        ("two", "one-room"),
        ("sols", "sols-room"),
        ("one", "sols-room"),
        ("sols", "one-room"),
        ("one", "missing"),
    ],
)
def test_a_room_is_found_only_in_its_own_job(
    engine: Engine, cast: Cast, house: dict[str, str], job: str, room: str
) -> None:
    with reading(engine) as session, pytest.raises(NotFound):
        room_for(session, cast["ana"], house[job], house.get(room, room))


def test_a_deleted_room_is_gone(engine: Engine, cast: Cast, house: dict[str, str]) -> None:
    with writing(engine) as session:
        session.execute(
            update(RoomRow).where(RoomRow.id == house["one-room"]).values(deleted_at=datetime.now(UTC))
        )

    with reading(engine) as session, pytest.raises(NotFound):
        fact_for(session, cast["ana"], RoomRow, house["one"], house["one-room"])


def test_a_guest_of_one_job_sees_no_other(engine: Engine, cast: Cast, house: dict[str, str]) -> None:
    guest = replace(cast["gus"], only_job_id=house["one"])

    with reading(engine) as session:
        assert [job.id for job in session.scalars(jobs_open_to(guest))] == [house["one"]]
        assert job_for(session, guest, house["one"]).id == house["one"]
        with pytest.raises(NotFound):
            job_for(session, guest, house["two"])
        with pytest.raises(NotFound):
            room_for(session, guest, house["two"], house["two-room"])
        with pytest.raises(Forbidden):
            job_for(session, guest, house["one"], Role.APPRENTICE)


def test_roles_are_named_and_ordered() -> None:
    assert sorted(Role) == [Role.GUEST, Role.APPRENTICE, Role.ELECTRICIAN, Role.FOREMAN, Role.OWNER]
    assert [Role.named(role.word) for role in Role] == list(Role)
    with pytest.raises(ValueError, match="expected one of guest, .* came 'boss'"):
        Role.named("boss")
