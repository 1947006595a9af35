"""All jobs of a foreman on one page: three or two hundred, whatever their standing, take the same queries."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select

from seed_demo.building import HouseBuilder
from server.readiness import Standing
from server.store.engine import reading, writing
from server.store.summaries import count_stale
from server.store.tables import JobRow, SummaryRow
from server.store.tables.crew_work import AssignmentRow, StandingDayRow, VisitNoteRow, VisitRow
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
PAGES = ("/jobs", "/jobs?archived=true", "/jobs/patterns")
MOST_QUERIES = 8
MANY = 200


@pytest.fixture
def database_kind(request: pytest.FixtureRequest) -> str:
    """A count of queries may differ between the two databases, so both are asked."""
    return str(getattr(request, "param", "sqlite"))


def held(prefix: str) -> HouseBuilder:
    """A bedroom with a box that is too small."""
    house = bedroom_house(prefix=prefix)
    house.change(f"{prefix}box-2", volume_in3=10)
    return house


def unseen(prefix: str) -> HouseBuilder:
    """A bedroom that nobody has walked."""
    return bedroom_house(prefix=prefix)


def emptied(prefix: str) -> HouseBuilder:
    """A job without a room."""
    return HouseBuilder(prefix=prefix)


HOUSES = (held, unseen, emptied)


def add_jobs(engine: Engine, count: int, *, first: int = 0) -> None:
    """Jobs of mixed standing: three are built, the others stand as those do."""
    today = datetime.now(UTC).date()
    if first == 0:
        for number, build in enumerate(HOUSES):
            put_house(engine, CREW, build(f"h{number}-"), job_id=f"job-{number}", name=f"House {number}")
        while count_stale(engine):
            pass
        with writing(
            engine
        ) as session:  # the third stands as one that is done, without the looks of a whole house
            done = session.get_one(SummaryRow, "job-2")
            done.standing, done.ready, done.unseen = Standing.READY.value, 6, 0
    with writing(engine) as session:
        models = {number: session.get_one(SummaryRow, f"job-{number}") for number in range(len(HOUSES))}
        for number in range(max(first, len(HOUSES)), count):
            session.add(
                JobRow(
                    id=f"job-{number}", crew_id=CREW, name=f"House {number}", edition=2023, created_at=datetime.now(UTC),
                    inspection_date=today + timedelta(days=number % 30 - 3) if number % 4 else None,
                )
            )  # fmt: skip
            session.flush()
            if number % 7:  # every seventh has not been counted yet
                session.add(like(models[number % len(HOUSES)], f"job-{number}"))
        session.flush()
        for number in range(first, count):
            session.add_all(around(f"job-{number}", number, today))
        session.flush()
        for number in range(first, count):
            job_id = f"job-{number}"
            session.add(
                VisitNoteRow(
                    id=f"{job_id}-note",
                    visit_id=f"{job_id}-visit",
                    place=1,
                    text="Box too full",
                    rule="box-fill",
                )
            )


def like(model: SummaryRow, job_id: str) -> SummaryRow:
    """The same standing for another job."""
    names = [column.name for column in SummaryRow.__table__.columns if column.name != "job_id"]
    return SummaryRow(job_id=job_id, **{name: getattr(model, name) for name in names})


def around(job_id: str, number: int, today: date) -> list[Any]:
    """What a job has on the board besides: earlier days, who is on it, a visit with what was written."""
    now = datetime.now(UTC)
    days = [
        StandingDayRow(
            id=f"{job_id}-day-{back}", job_id=job_id, day=today - timedelta(days=back), ready=number % 3, hold=1, not_walked=1,
            corrections=2, unseen=5,
        )
        for back in range(1, 8)
    ]  # fmt: skip
    return [
        *days,
        AssignmentRow(id=f"{job_id}-task", job_id=job_id, person_id="account-elena", made_by="Hugo", made_at=now),
        AssignmentRow(id=f"{job_id}-more", job_id=job_id, person_id="account-pat", made_by="Hugo", made_at=now),
        VisitRow(
            id=f"{job_id}-visit", job_id=job_id, stage="rough-in", on_date=today, entered_by="Hugo", entered_at=now,
            result="approved" if number % 2 else "corrections",
        ),
    ]  # fmt: skip


@pytest.mark.parametrize("database_kind", ["sqlite", "postgresql"], indirect=True)
def test_two_hundred_jobs_of_mixed_standing_take_the_queries_of_three(
    as_: As, engine: Engine, query_count: Callable[[], Any]
) -> None:
    client = as_("hugo")
    add_jobs(engine, len(HOUSES))
    few = {}
    for path in PAGES:
        with query_count() as queries:
            assert client.get(path).status_code == 200
        few[path] = queries.count

    add_jobs(engine, MANY, first=len(HOUSES))
    many, texts, times = {}, {}, []
    for path in PAGES:
        with query_count() as queries:
            texts[path] = client.get(path).text
        many[path] = queries.count
    for _ in range(5):
        start = time.perf_counter()
        client.get("/jobs")
        times.append(time.perf_counter() - start)

    assert many == few
    assert max(many.values()) <= MOST_QUERIES
    assert texts["/jobs"].count('class="row job-row"') == MANY
    for words in ("rooms ready", "Falls short: ", "Elena Novak", "since yesterday"):
        assert words in texts["/jobs"], words
    print(
        f"{MANY} jobs: {many} queries, {statistics.median(times) * 1000:.0f} ms, {len(texts['/jobs']) // 1000} kB"
    )


def test_the_jobs_of_this_test_do_differ(engine: Engine, cast: object) -> None:
    add_jobs(engine, 12)

    with reading(engine) as session:
        standings = {row.standing for row in session.scalars(select(SummaryRow))}
        kinds = {(row.corrections, row.unseen, row.ready) for row in session.scalars(select(SummaryRow))}
    assert len(standings) >= 2
    assert len(kinds) == len(HOUSES)
