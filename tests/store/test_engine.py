"""What a connection is set up to do, and which errors pass."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import Engine, select, text
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from server.api.store_problems import refusal_of
from server.store.engine import is_busy, is_reading, make_engine, reading, writing
from server.store.tables import CrewRow


def test_sqlite_is_set_up_as_measured(tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'x.sqlite3'}")
    with engine.connect() as connection:
        found = {
            name: connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    engine.dispose()

    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 15_000}


def test_postgresql_gives_up_what_waits_too_long(empty_postgres: str) -> None:
    engine = make_engine(empty_postgres)
    with reading(engine) as session:
        found = {
            name: session.execute(text(f"SHOW {name}")).scalar()
            for name in (
                "statement_timeout",
                "lock_timeout",
                "transaction_isolation",
                "transaction_read_only",
            )
        }
    engine.dispose()

    assert found == {
        "statement_timeout": "30s",
        "lock_timeout": "10s",
        "transaction_isolation": "repeatable read",
        "transaction_read_only": "on",
    }


def test_a_connection_goes_back_as_it_came(empty_postgres: str) -> None:
    engine = make_engine(empty_postgres, pool_size=1)
    with reading(engine):
        pass
    with writing(engine) as session:
        found = session.execute(text("SHOW transaction_read_only")).scalar()
    engine.dispose()

    assert found == "off"


@pytest.mark.parametrize(
    "url", ["sqlite://", "sqlite:///:memory:", "mysql://x/y", "postgresql+nothing://x/y", "nonsense"]
)
def test_a_database_that_would_not_do_is_refused(url: str) -> None:
    with pytest.raises(Exception, match=r"expected|load plugin|parse"):
        make_engine(url)


def test_psycopg_is_chosen_where_no_driver_is_named() -> None:
    assert make_engine("postgresql://somewhere/studbay").driver == "psycopg"


def busy_error(engine: Engine) -> DBAPIError:
    """What a writer is told that waits for another one longer than it may."""
    with engine.connect() as first, engine.connect() as second:
        on_sqlite = engine.dialect.name == "sqlite"
        row = CrewRow.__table__.insert().values(id="x", name="", made_at=text("CURRENT_TIMESTAMP"))
        second.exec_driver_sql("PRAGMA busy_timeout=20" if on_sqlite else "SET lock_timeout = '20ms'")
        second.commit()
        first.execute(row)
        with pytest.raises(DBAPIError) as caught:
            second.execute(row)
        second.rollback()
        second.exec_driver_sql("PRAGMA busy_timeout=15000" if on_sqlite else "SET lock_timeout = '10s'")
        second.commit()
        return caught.value


def test_a_busy_database_is_told_from_a_broken_one(engine: Engine) -> None:
    busy = busy_error(engine)

    assert is_busy(busy)
    assert refusal_of(busy)[0] == 503
    with pytest.raises(DBAPIError) as caught, reading(engine) as session:
        session.execute(text("SELECT * FROM no_such_table"))
    assert not is_busy(caught.value)
    with pytest.raises(DBAPIError):
        refusal_of(caught.value)


def test_the_same_id_at_the_same_moment_is_a_conflict(engine: Engine) -> None:
    row = {"id": "x", "name": "", "made_at": text("CURRENT_TIMESTAMP")}
    with writing(engine) as session:
        session.execute(CrewRow.__table__.insert().values(**row))

    with pytest.raises(IntegrityError) as caught, writing(engine) as session:
        session.execute(CrewRow.__table__.insert().values(**row))

    assert refusal_of(caught.value)[0] == 409
    with reading(engine) as session:
        assert session.scalars(select(CrewRow.id)).all() == ["x"]


def test_an_operational_error_that_does_not_pass_is_not_hidden() -> None:
    error = OperationalError("SELECT 1", {}, Exception("disk full"))

    with pytest.raises(OperationalError):
        refusal_of(error)


def test_a_session_knows_whether_what_it_sees_was_committed(engine: Engine) -> None:
    with reading(engine) as session:
        assert is_reading(session)
    with writing(engine) as session:
        assert not is_reading(session)
