"""A calendar program follows a person's visits under an address of its own: only theirs, until it is ended."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from icalendar import Calendar
from sqlalchemy import Engine, select, update

from server.people.accounts import add_membership
from server.people.roles import Role
from server.store.engine import reading, writing
from server.store.tables import JobRow
from server.store.tables.audit import AuditRow
from server.store.tables.people import AccountRow, CalendarLinkRow, MembershipRow, SignInSessionRow
from tests.cast import CREW, OTHER_CREW, client_for
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]


@pytest.fixture(autouse=True)
def jobs(engine: Engine, cast: object) -> None:
    put_house(engine, CREW, bedroom_house(), name="Alder Court")
    put_house(engine, CREW, bedroom_house(prefix="away-"), job_id="away", name="Put away")
    put_house(engine, CREW, bedroom_house(prefix="no-"), job_id="no-visit", name="No visit yet")
    put_house(engine, OTHER_CREW, bedroom_house(prefix="s-"), job_id="strangers", name="A stranger's")
    with writing(engine) as session:
        for job_id, day in (("job-1", 1), ("away", 2), ("strangers", 3)):
            session.execute(
                update(JobRow).where(JobRow.id == job_id).values(inspection_date=date(2026, 12, day))
            )
        session.execute(update(JobRow).where(JobRow.id == "away").values(archived_at=datetime.now(UTC)))


def link(as_: As, who: str = "pat") -> str:
    """Make somebody's address; returns its path."""
    page = as_(who).post("/account/calendar").text
    found = re.search(r'data-copy="[^"]+?(/calendar/[\w-]{43}\.ics)"', page)
    assert found is not None
    return found[1]


def names(app: FastAPI, path: str) -> list[str]:
    """The visits that a program reads without any session."""
    answer = client_for(app).get(path, headers={"Accept": "text/calendar"})
    assert answer.status_code == 200
    return [str(event["summary"]) for event in Calendar.from_ical(answer.content).walk("VEVENT")]


def test_a_program_without_a_session_reads_the_visits_of_the_persons_crew_alone(
    as_: As, app: FastAPI
) -> None:
    assert names(app, link(as_)) == ["Inspection: Alder Court (rough-in)"]
    assert names(app, link(as_, "sol")) == ["Inspection: A stranger's (rough-in)"]


def test_whoever_is_on_two_crews_reads_the_visits_of_both(as_: As, app: FastAPI, engine: Engine) -> None:
    path = link(as_)
    with writing(engine) as session:
        add_membership(session, OTHER_CREW, "account-pat", Role.APPRENTICE, datetime.now(UTC))

    assert names(app, path) == ["Inspection: Alder Court (rough-in)", "Inspection: A stranger's (rough-in)"]


def test_whoever_is_let_go_reads_that_crews_visits_no_longer(as_: As, app: FastAPI, engine: Engine) -> None:
    path = link(as_)
    with writing(engine) as session:
        session.execute(
            update(MembershipRow)
            .where(MembershipRow.account_id == "account-pat")
            .values(ended_at=datetime.now(UTC))
        )

    assert names(app, path) == []


def test_a_closed_account_opens_nothing(as_: As, app: FastAPI, engine: Engine) -> None:
    path = link(as_)
    with writing(engine) as session:
        session.execute(
            update(AccountRow).where(AccountRow.id == "account-pat").values(disabled_at=datetime.now(UTC))
        )

    assert client_for(app).get(path).status_code == 404


def test_what_was_ended_opens_nothing(as_: As, app: FastAPI) -> None:
    path = link(as_)
    answer = as_("pat").post("/account/calendar/end")

    assert answer.status_code == 303
    assert client_for(app).get(path).status_code == 404
    assert "Make an address" in as_("pat").get("/account").text


def test_a_new_address_ends_the_one_before_and_nobody_elses(as_: As, app: FastAPI) -> None:
    first, others = link(as_), link(as_, "hugo")
    second = link(as_)

    assert client_for(app).get(first).status_code == 404
    assert client_for(app).get(second).status_code == 200
    assert client_for(app).get(others).status_code == 200


@pytest.mark.parametrize("token", ["short", "A" * 43, "A" * 44, "%00", "..%2F" * 8])
def test_what_never_was_opens_nothing(app: FastAPI, token: str) -> None:
    assert client_for(app).get(f"/calendar/{token}.ics").status_code == 404


def test_the_address_is_shown_once_and_kept_nowhere(as_: As, engine: Engine) -> None:
    path = link(as_)
    token = path.split("/")[-1].removesuffix(".ics")

    assert token not in as_("pat").get("/account").text
    with reading(engine) as session:
        kept = session.scalars(select(CalendarLinkRow)).one()
        told = [(row.what, row.person_id, str(row.details)) for row in session.scalars(select(AuditRow))]
    assert token not in kept.token_sha256
    assert ("calendar link made", "account-pat") in [entry[:2] for entry in told]
    assert token not in str(told)


def test_the_address_stands_in_no_log_and_in_no_index(
    as_: As, app: FastAPI, caplog: pytest.LogCaptureFixture
) -> None:
    path = link(as_)
    with caplog.at_level(logging.INFO):
        answer = client_for(app).get(path)

    # the test's own client logs, too
    said = [record.getMessage() for record in caplog.records if record.name.startswith("studbay")]
    assert said == ["GET /calendar/... 200"]
    assert answer.headers["x-robots-tag"] == "noindex"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["cache-control"] == "no-store"
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert "set-cookie" not in answer.headers


def test_the_address_opens_nothing_else_and_nothing_writes_under_it(as_: As, app: FastAPI) -> None:
    path = link(as_)
    token = path.split("/")[-1].removesuffix(".ics")
    client = client_for(app)

    for method in ("POST", "PUT", "DELETE", "PATCH"):
        assert client.request(method, path).status_code in (403, 404, 405)
    assert client.get(f"/guest/{token}").status_code == 404
    assert client_for(app, token).get("/jobs").status_code == 303
    bearer = {"Authorization": f"Bearer {token}", "Accept": "application/json"}
    assert client.get("/api/jobs", headers=bearer).status_code == 401


def test_making_one_asks_for_the_password_again(as_: As, engine: Engine) -> None:
    pat = as_("pat")
    with writing(engine) as session:
        session.execute(update(SignInSessionRow).values(proved_at=datetime.now(UTC) - timedelta(days=1)))

    answer = pat.post("/account/calendar")

    assert answer.headers["location"].startswith("/prove?next=")
    with reading(engine) as session:
        assert session.scalars(select(CalendarLinkRow)).all() == []


def test_the_feed_takes_the_same_queries_for_one_job_and_for_many(
    as_: As, app: FastAPI, engine: Engine, query_count: Callable[[], object]
) -> None:
    path, counts = link(as_), []
    for number in range(5):
        put_house(engine, CREW, bedroom_house(prefix=f"n{number}-"), job_id=f"n{number}")
        with writing(engine) as session:
            session.execute(update(JobRow).values(inspection_date=date(2026, 12, 9)))
        with query_count() as queries:  # type: ignore[attr-defined]
            names(app, path)
        counts.append(queries.count)

    assert counts == [3] * 5
