"""A guest's link opens one job and nothing else: every route, asked by its holder."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from server.people.current import GUEST_ENDING, cookie_name
from server.people.guest_links import make_link
from server.people.person import Person
from server.people.roles import Role
from server.store.base import Base
from server.store.engine import make_engine, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings
from server.store.tables.practice import PracticeRow
from tests.cast import client_for, make_app, make_cast
from tests.conftest import fresh_sqlite
from tests.house.routes import Line
from tests.house.test_routes import (
    _MADE_FOR_READING,
    _OF_EVERYBODY,
    Ids,
    ask,
    at,
    everything,
    needs_sign_in,
    of,
    of_a_job,
    reads,
    writes,
)

OTHER_JOB, OTHER_ROOM, OTHER_CLASS = "Nobody else's house", "Hidden chamber", "Closed class"
_OWN_MATTERS = ("/account", "/prove")


@pytest.fixture(scope="module")
def engine(memory_folder: Path) -> Iterator[Engine]:
    made = make_engine(fresh_sqlite(memory_folder))
    Base.metadata.create_all(made)
    yield made
    made.dispose()


@pytest.fixture(scope="module")
def app(engine: Engine) -> FastAPI:
    return make_app(engine)


@pytest.fixture(scope="module")
def houses(engine: Engine) -> dict[str, Ids]:
    """Two jobs of one crew: the guest's, and another."""
    cast = make_cast(engine)
    author = Author(cast["ana"].id, cast["ana"].name)
    found = {}
    for name, title, room_name in (("own", "The guest's house", "Kitchen"), ("other", OTHER_JOB, OTHER_ROOM)):
        house = HouseBuilder(prefix=f"{name}-")
        room = house.room("kitchen", room_name, length_in=144, width_in=120)
        box = house.box(room, wall=1, at_in=36, height_in=44)
        device = house.receptacle(box)
        panel = house.panel("Panel A", room_id=room)
        circuit = house.circuit(panel, "Kitchen", rating_a=20, conductor_awg="12")
        (cable,) = house.home_run(circuit, box)
        with writing(engine) as session:
            job = make_job(session, cast["ana"].crew_id, JobSettings(f"job-{name}", title, 2023), author)
            change = store_facts(session, job, house.facts(), author, "a house")
        found[name] = Ids(
            job_id=job, room_id=room, wall_id=house.wall_of(room, 0), box_id=box, device_id=device, panel_id=panel,
            circuit_id=circuit, cable_id=cable, change_id=change or "", level_id=house.facts().levels[0].id, kind="box",
            subject_kind="box", fact_id=box, subject_id=box, rule_id="sheath-into-box", account_id="account-ana",
            crew_id="crew-of-ana", name="box-fill", year="2023", edition="2023", practice_id="closed-class",
        )  # fmt: skip
    with writing(engine) as session:
        session.add(
            PracticeRow(
                id="closed-class", crew_id="crew-of-ana", title=OTHER_CLASS, seed=1, faults=1, framing="wood", edition=2023,
                made_by="Ana", made_at=datetime.now(UTC),
            )
        )  # fmt: skip
    return found


@pytest.fixture(scope="module")
def guest(engine: Engine, app: FastAPI, houses: dict[str, Ids]) -> TestClient:
    """The browser of whoever has the link."""
    owner = Person("account-ana", "Ana Ruiz", "crew-of-ana", Role.OWNER)
    now = datetime.now(UTC)
    with writing(engine) as session:
        token = make_link(
            session, owner, houses["own"]["job_id"], "the inspector", now + timedelta(days=1), now
        )
    client = client_for(app)
    client.cookies.set(cookie_name(False) + GUEST_ENDING, token, domain="127.0.0.1")
    return client


@pytest.mark.parametrize("line", of(needs_sign_in, reads))
def test_what_a_guest_reads_tells_nothing_of_another_job(
    line: Line, guest: TestClient, houses: dict[str, Ids]
) -> None:
    answer = guest.get(at(line, houses["own"]))

    assert answer.status_code < 500
    for word in (OTHER_JOB, OTHER_ROOM, OTHER_CLASS, "job-other"):
        assert word not in answer.text


@pytest.mark.parametrize("line", of(needs_sign_in, reads, of_a_job))
def test_another_job_of_the_same_crew_is_missing_to_a_guest(
    line: Line, guest: TestClient, houses: dict[str, Ids]
) -> None:
    assert guest.get(at(line, houses["other"])).status_code in (303, 403, 404)


@pytest.mark.parametrize("line", of(needs_sign_in, writes, lambda line: line.name not in _MADE_FOR_READING))
@pytest.mark.parametrize("which", ["own", "other"])
def test_a_guest_changes_nothing(
    line: Line, which: str, guest: TestClient, engine: Engine, houses: dict[str, Ids]
) -> None:
    before = everything(engine, but=_OF_EVERYBODY)

    answer = ask(guest, line, at(line, houses[which]))

    assert answer.status_code in (303, 403, 404, 415, 422)
    assert everything(engine, but=_OF_EVERYBODY) == before


@pytest.mark.parametrize("line", of(needs_sign_in, lambda line: line.path.startswith(_OWN_MATTERS)))
def test_a_guest_has_no_account(line: Line, guest: TestClient, houses: dict[str, Ids]) -> None:
    assert ask(guest, line, at(line, houses["own"])).status_code == 403


def test_a_guest_leaves_by_signing_out(app: FastAPI, guest: TestClient, houses: dict[str, Ids]) -> None:
    leaving = client_for(app)
    leaving.cookies.update(guest.cookies)
    rooms = f"/jobs/{houses['own']['job_id']}/rooms"
    assert leaving.get(rooms).status_code == 200

    leaving.post("/sign-out")

    assert leaving.get(rooms).status_code == 303
