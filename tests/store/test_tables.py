"""The tables hold exactly the fields of the facts, and give them back as they were."""

from __future__ import annotations

from contextlib import nullcontext
from dataclasses import fields
from datetime import UTC, datetime, timedelta, timezone
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from sqlalchemy import Engine, delete, insert, select
from sqlalchemy.exc import InternalError, StatementError

from server.dwelling import Facts, Observation
from server.store.base import Base
from server.store.engine import reading, writing
from server.store.houses import load_facts
from server.store.jobs import make_job, store_facts
from server.store.journal import NOBODY
from server.store.kinds import KINDS, FactKind, JobSettings
from server.store.tables import BOOKKEEPING, CrewRow, JobRow, ObservationRow
from tests.store.generated_houses import facts_of_a_house


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_a_kinds_columns_are_its_fields(kind: FactKind) -> None:
    columns = [column.name for column in kind.row.__table__.columns]

    own = [name for name in columns if name not in BOOKKEEPING]

    assert sorted(own) == sorted(field.name for field in fields(kind.fact))


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_a_column_may_be_empty_exactly_where_the_field_may_be_none(kind: FactKind) -> None:
    for field in fields(kind.fact):
        assert kind.row.__table__.c[field.name].nullable == ("None" in str(field.type)), field.name


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_every_field_that_names_a_fact_is_known_as_a_reference(kind: FactKind) -> None:
    naming = {
        field.name
        for field in fields(kind.fact)
        if field.name.endswith(("_id", "_ids")) or field.name in ("controls", "multiwire_with")
    }

    assert naming == {reference.field for reference in kind.references}


def test_the_log_has_a_column_for_every_field_of_an_observation() -> None:
    columns = {column.name for column in ObservationRow.__table__.columns}

    own = columns - {"job_id", "sequence", "person_id", "recorded_at", "subject_kind", "subject_id"}

    assert own == {field.name for field in fields(Observation)} - {"subject"}


def test_every_kind_of_facts_is_a_kind_of_the_store() -> None:
    plurals = {field.name for field in fields(Facts)} - {"site", "observations"}

    assert plurals == {kind.plural for kind in KINDS.values()}


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(facts=facts_of_a_house())
def test_a_house_comes_back_as_it_went_in(engine: Engine, facts: Facts) -> None:
    site = facts.site
    with writing(engine) as session:
        session.execute(delete(CrewRow))
        session.add(CrewRow(id="crew", name="", made_at=datetime.now(UTC)))
        session.flush()
        job = JobSettings(
            site.id, site.name, 2023, stage=site.stage, work=site.work, permit_date=site.permit_date,
            floor_area_ft2=site.floor_area_ft2,
        )  # fmt: skip
        make_job(session, "crew", job, NOBODY)
        store_facts(session, site.id, facts, NOBODY, "")

    with reading(engine) as session:
        found = load_facts(session, site.id)

    for field in fields(Facts):
        if field.name != "observations":
            assert getattr(found, field.name) == getattr(facts, field.name)


@pytest.mark.parametrize("length", [Fraction(149, 2), Fraction(1, 3), Fraction(10**30, 7), Fraction(0)])
def test_a_length_is_kept_exactly(engine: Engine, crew: str, length: Fraction) -> None:
    table = KINDS["opening"].row.__table__
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings("", "House", 2023), NOBODY)
        session.execute(
            table.insert().values(
                id="o", job_id=job_id, entered=1, version=1, wall_id="w", kind="door", from_in=length, to_in=length,
                has_counter=False,
            )
        )  # fmt: skip

    with reading(engine) as session:
        assert session.scalar(select(table.c.from_in)) == length


def test_times_come_back_in_utc_with_their_zone(engine: Engine, crew: str) -> None:
    east = datetime(2026, 11, 25, 12, 0, tzinfo=timezone(timedelta(hours=5)))
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings("", "House", 2023), NOBODY)
        session.get_one(JobRow, job_id).archived_at = east

    with reading(engine) as session:
        found = session.scalar(select(JobRow.archived_at))

    assert found == east
    assert found is not None
    assert found.tzinfo is UTC


def test_a_time_without_zone_is_refused(engine: Engine, crew: str) -> None:
    with pytest.raises(StatementError, match="with its zone"), writing(engine) as session:
        session.add(CrewRow(id="x", name="", made_at=datetime(2026, 1, 1)))  # noqa: DTZ001


def test_a_deleted_crew_takes_its_jobs_and_their_facts(engine: Engine, crew: str) -> None:
    with writing(engine) as session:
        job_id = make_job(session, crew, JobSettings("", "House", 2023), NOBODY)
        session.execute(
            KINDS["level"]
            .row.__table__.insert()
            .values(id="l", job_id=job_id, entered=1, version=1, name="First", order=0)
        )

    with writing(engine) as session:
        session.execute(delete(CrewRow))

    with reading(engine) as session:
        assert session.execute(select(KINDS["level"].row)).all() == []


def test_an_error_leaves_nothing_behind(engine: Engine, crew: str) -> None:
    def make_and_fail() -> None:
        with writing(engine) as session:
            make_job(session, crew, JobSettings("", "House", 2023), NOBODY)
            raise RuntimeError("on the way")

    with pytest.raises(RuntimeError, match="on the way"):
        make_and_fail()

    with reading(engine) as session:
        assert session.scalars(select(JobRow.id)).all() == []


def test_a_reading_session_keeps_nothing(engine: Engine, database_kind: str) -> None:
    refuses = pytest.raises(InternalError) if database_kind == "postgresql" else nullcontext()
    with refuses, reading(engine) as session:
        session.execute(insert(CrewRow).values(id="x", name="", made_at=datetime.now(UTC)))

    with reading(engine) as session:
        assert session.scalars(select(CrewRow.id)).all() == []


def test_a_reading_session_sees_one_moment(engine: Engine, crew: str) -> None:
    with reading(engine) as early:
        before = early.scalars(select(JobRow.id)).all()
        with writing(engine) as session:
            make_job(session, crew, JobSettings("", "House", 2023), NOBODY)

        assert early.scalars(select(JobRow.id)).all() == before == []


def test_no_table_is_called_what_sql_calls_something_else() -> None:
    assert not {"order", "group", "user", "table"} & set(Base.metadata.tables)
