"""Every route times everybody: what is asked here is asked of routes that are not yet written, too.

A route with a new kind of id fails one test until ``ids`` has a row of that kind.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select

from seed_demo.building import HouseBuilder
from server.app import create_app
from server.people.roles import Role
from server.settings import Settings
from server.store.base import Base
from server.store.engine import make_engine, reading, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings
from server.store.tables import ObservationRow, PhotographRow
from server.store.tables.crew_work import AssignmentRow, VisitNoteRow, VisitRow
from server.store.tables.people import GuestLinkRow
from server.store.tables.practice import PracticeRow
from tests.cast import DATA, NAMES, Cast, client_for, make_app, make_cast
from tests.conftest import fresh_sqlite
from tests.house.routes import Line, route_table

_SETTINGS = Settings.model_validate({"data_dir": DATA})
ROUTES = route_table(create_app(_SETTINGS))
_SAFE = ("GET", "HEAD", "OPTIONS")
_MADE_FOR_READING = {
    "make_packet": "paper of what a guest may read; nothing of the job changes",
    "choose_who": "which words a reader prefers, kept in the reader's own browser",
}
_OF_EVERYBODY = {"sign_in_sessions", "throttle", "audit"}
"""Tables in which signing in and being refused leave a trace."""


class Ids(dict[str, str]):
    """Values of the routes' parameters; one that is not there is nobody's."""

    def __missing__(self, name: str) -> str:
        return "nobodys"


WITHOUT_A_ROW = {
    "token": "a secret, tested with its page",
    "session_id": "one's own browsers, tested with the account page",
    "key_id": "one's own keys, tested with the account page",
    "ticket": "a PDF that is being made, tested with the packet",
    "rule_id": "the rules are everybody's",
}
"""Parameters whose value does not stand for a row of a job."""


def of(*conditions: Callable[[Line], bool]) -> list[Any]:
    found = [line for line in ROUTES if all(condition(line) for condition in conditions)]
    return [pytest.param(line, id=f"{line.method} {line.path}") for line in found]


def needs_sign_in(line: Line) -> bool:
    return line.role is not None


def writes(line: Line) -> bool:
    return line.method not in _SAFE


def reads(line: Line) -> bool:
    return line.method == "GET"


def of_a_job(line: Line) -> bool:
    return "job_id" in line.parameters


def above_guest(line: Line) -> bool:
    return line.role is not None and line.role > Role.GUEST


def _names_a_row(parameter: str) -> bool:
    return parameter.endswith("_id") and parameter != "rule_id"


@pytest.fixture(scope="module")
def engine(memory_folder: Path) -> Iterator[Engine]:
    """One database for the whole walk: nothing that is asked here may change it, and the tests hold that."""
    made = make_engine(fresh_sqlite(memory_folder))
    Base.metadata.create_all(made)
    yield made
    made.dispose()


@pytest.fixture(scope="module")
def cast(engine: Engine) -> Cast:
    return make_cast(engine)


@pytest.fixture(scope="module")
def app(engine: Engine) -> FastAPI:
    return make_app(engine)


@pytest.fixture(scope="module")
def ids(engine: Engine, cast: Cast) -> dict[str, str]:
    """A job of Ana's crew with one of everything, by the names of the routes' parameters."""
    house = HouseBuilder(prefix="anas-")
    room = house.room("kitchen", length_in=144, width_in=120)
    box = house.box(room, wall=1, at_in=36, height_in=44)
    device = house.receptacle(box)
    panel = house.panel("Panel A", room_id=room)
    circuit = house.circuit(panel, "Kitchen", rating_a=20, conductor_awg="12")
    (cable,) = house.home_run(circuit, box)
    author = Author(cast["ana"].id, cast["ana"].name)
    with writing(engine) as session:
        job = make_job(session, cast["ana"].crew_id, JobSettings("job-of-ana", "Ana's job", 2023), author)
        change = store_facts(session, job, house.facts(), author, "a house")
        session.add_all(more_rows(job, datetime.now(UTC)))
        session.flush()
        session.add(VisitNoteRow(id="anas-note", visit_id="anas-visit", place=1, text="x"))
    return Ids(
        job_id=job, room_id=room, wall_id=house.wall_of(room, 0), box_id=box, device_id=device, panel_id=panel,
        circuit_id=circuit, cable_id=cable, change_id=change or "", level_id=house.facts().levels[0].id, kind="box",
        subject_kind="box", fact_id=box, subject_id=box, rule_id="sheath-into-box", account_id="account-ana",
        crew_id="crew-of-ana", name="box-fill", year="2023", edition="2023", photograph_id="anas-photograph",
        observation_id="anas-look", assignment_id="anas-task", visit_id="anas-visit", note_id="anas-note", link_id="anas-link",
        practice_id="anas-practice",
    )  # fmt: skip


def more_rows(job: str, now: datetime) -> list[Any]:
    """What a job has besides its facts, one row a kind."""
    return [
        PhotographRow(
            id="anas-photograph", job_id=job, sha256="0" * 64, content_type="image/jpeg", bytes=1, width_px=1, height_px=1,
            added_at=now,
        ),
        ObservationRow(
            id="anas-look", job_id=job, sequence=1, subject_kind="room", subject_id="anas-room-1", rule="x", answer="right",
            note="", by="Ana", at="2026-11-25T08:00:00Z", photographs=(), recorded_at=now,
        ),
        AssignmentRow(id="anas-task", job_id=job, made_by="Ana", made_at=now),
        VisitRow(id="anas-visit", job_id=job, stage="rough-in", on_date=now.date(), entered_by="Ana", entered_at=now),
        GuestLinkRow(
            id="anas-link", token_sha256="0" * 64, crew_id="crew-of-ana", job_id=job, label="the inspector", made_by="account-ana",
            made_at=now, ends_at=now + timedelta(days=1),
        ),
        PracticeRow(
            id="anas-practice", crew_id="crew-of-ana", title="x", seed=1, faults=1, framing="wood", edition=2023, made_by="Ana",
            made_at=now,
        ),
    ]  # fmt: skip


def everything(engine: Engine, *, but: set[str]) -> dict[str, list[tuple[Any, ...]]]:
    """All rows of all tables."""
    with reading(engine) as session:
        return {
            table.name: sorted((tuple(row) for row in session.execute(select(table))), key=repr)
            for table in Base.metadata.sorted_tables
            if table.name not in but
        }


def ask(client: TestClient, line: Line, path: str, **headers: str) -> Any:
    if line.method in ("POST", "PUT", "PATCH") and line.has_form:
        return client.request(line.method, path, data={"nothing": "useful"}, headers=headers)
    return client.request(line.method, path, headers=headers)


def at(line: Line, ids: dict[str, str]) -> str:
    return line.at(**{name: ids[name] for name in line.parameters})


def without_ids(text: str, *words: str) -> str:
    """An answer without what must differ: the request's id and the id that was asked for."""
    text = re.sub(r"\b[0-9a-f]{16}\b", "", text)
    for word in sorted(words, key=len, reverse=True):
        text = text.replace(word, "") if len(word) > 3 else text
    return text


def test_there_are_routes_to_walk() -> None:
    assert len(ROUTES) > 40
    assert any(line.role is Role.OWNER for line in ROUTES)


def test_every_id_of_a_route_is_somebodys(ids: dict[str, str]) -> None:
    """Another crew's row must be asked for, not only one that is missing: add a row of a new kind to ``ids``."""
    unknown = {
        f"{name} ({line.path})"
        for line in ROUTES
        for name in line.parameters
        if _names_a_row(name) and name not in ids and name not in WITHOUT_A_ROW
    }

    assert unknown == set()


@pytest.mark.parametrize("line", of())
def test_a_route_says_who_may_use_it(line: Line) -> None:
    assert line.access, "take a person (Reader ... Owner) or declare open_to_anyone(reason)"


@pytest.mark.parametrize("line", of())
def test_no_route_stands_in_the_shadow_of_one_before_it(line: Line) -> None:
    path = line.at(**dict.fromkeys(line.parameters, "some-id"))
    earlier = [other for other in ROUTES[: ROUTES.index(line)] if other.method == line.method]

    shadowing = [other.path for other in earlier if re.fullmatch(re.sub(r"{\w+}", "[^/]+", other.path), path)]

    assert shadowing == []


@pytest.mark.parametrize("line", of(lambda line: line.role is None))
def test_what_is_open_to_anyone_gives_a_reason(line: Line) -> None:
    assert all(len(word.removeprefix("anyone: ")) > 15 for word in line.access)


@pytest.mark.parametrize("line", of())
def test_a_route_knows_no_other_methods_than_these(line: Line) -> None:
    assert line.method in ("GET", "POST", "PUT", "DELETE", "PATCH")


@pytest.mark.parametrize("line", of(reads))
def test_reading_changes_nothing(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    client = client_for(app, cast.token("ana"))
    before = everything(engine, but=set())

    answer = client.get(at(line, ids))

    assert answer.status_code < 500
    assert everything(engine, but=set()) == before


@pytest.mark.parametrize("line", of(needs_sign_in))
def test_nobody_gets_in_without_signing_in(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    before = everything(engine, but=set())

    answer = ask(client_for(app), line, at(line, ids))

    if line.path.startswith("/api/") or writes(line):
        assert answer.status_code == 401
    else:
        assert answer.status_code == 303
        assert answer.headers["location"].startswith("/sign-in?next=")
    assert everything(engine, but=set()) == before


@pytest.mark.parametrize("line", of(above_guest))
def test_a_role_too_low_is_refused_and_changes_nothing(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    assert line.role is not None
    too_low = max(
        (cast[name] for name in NAMES if cast[name].role < line.role), key=lambda person: person.role
    )
    client = client_for(app, cast.token(too_low.id.removeprefix("account-")))
    before = everything(engine, but=_OF_EVERYBODY)

    answer = ask(client, line, at(line, ids))

    assert answer.status_code == 403
    assert everything(engine, but=_OF_EVERYBODY) == before


@pytest.mark.parametrize(
    "line", of(needs_sign_in, writes, of_a_job, lambda line: line.name not in _MADE_FOR_READING)
)
def test_a_guest_writes_nothing_of_a_job(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    before = everything(engine, but=_OF_EVERYBODY)

    answer = ask(client_for(app, cast.token("gus")), line, at(line, ids))

    assert answer.status_code == 403
    assert everything(engine, but=_OF_EVERYBODY) == before


@pytest.mark.parametrize("line", of(needs_sign_in, lambda line: any(map(_names_a_row, line.parameters))))
def test_another_crews_ids_answer_like_missing_ones(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    stranger = client_for(app, cast.token("sol"))
    foreign = at(line, ids)
    missing = line.at(**{name: "missing" if _names_a_row(name) else ids[name] for name in line.parameters})
    before = everything(engine, but=_OF_EVERYBODY)

    answer = ask(stranger, line, foreign)
    same = ask(stranger, line, missing)

    # a bare redirect to a page of the job says as little; that page is asked on its own
    assert answer.status_code in ((404, 303) if reads(line) else (404, 303, 415, 422))
    assert answer.status_code == same.status_code
    assert without_ids(answer.text, "nobodys", *ids.values()) == without_ids(
        same.text, "nobodys", "missing", *ids.values()
    )
    assert everything(engine, but=_OF_EVERYBODY) == before


@pytest.mark.parametrize("line", of(writes))
@pytest.mark.parametrize(
    "headers",
    [{"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}],
    ids=["cross-site", "same-site"],
)
def test_another_site_cannot_send_it(
    line: Line, headers: dict[str, str], app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    client = client_for(app, cast.token("ana"))
    before = everything(engine, but=set())

    answer = ask(client, line, at(line, ids), **headers)

    assert answer.status_code == 403
    assert everything(engine, but=set()) == before


def has_no_page(line: Line) -> bool:
    return not any(other.path == line.path and other.method == "GET" for other in ROUTES)


@pytest.mark.parametrize("line", of(writes, has_no_page))
def test_what_writes_is_not_asked_by_reading(
    line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]
) -> None:
    assert client_for(app, cast.token("ana")).get(at(line, ids)).status_code in (404, 405)


@pytest.mark.parametrize("line", of(writes, lambda line: line.has_form))
def test_a_form_is_a_form(line: Line, app: FastAPI, engine: Engine, cast: Cast, ids: dict[str, str]) -> None:
    client = client_for(app, cast.token("ana"))

    answer = client.request(line.method, at(line, ids), json={"name": "x"})

    assert answer.status_code == 415
