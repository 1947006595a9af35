"""What tests of the store, the API and the pages share: a database of each kind, a crew, a count of queries.

A test that takes ``engine`` (or ``database_url``) runs on SQLite and on PostgreSQL. A module that needs only one
of them overrides ``database_kind``::

    @pytest.fixture
    def database_kind() -> str:
        return "sqlite"

The schema is made once a session: SQLite tests get a copy of the file, PostgreSQL tests one database whose rows
are deleted after each test.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, create_engine, event, text
from sqlalchemy.engine import make_url

from server.store.base import Base
from server.store.engine import make_engine, writing
from server.store.tables import CrewRow
from tests.postgres import cluster

DATABASE_KINDS = ("sqlite", "postgresql")


@pytest.fixture(scope="session")
def memory_folder() -> Iterator[Path]:
    """A folder in memory where the system has one: syncing to a disk is what most of a write's time goes to."""
    in_memory = Path("/dev/shm")  # noqa: S108 - a folder of its own with a random name is made in it
    folder = tempfile.mkdtemp(prefix="studbay-", dir=in_memory if in_memory.is_dir() else None)
    yield Path(folder)
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def empty_sqlite(memory_folder: Path) -> Path:
    """An SQLite file with every table and no rows."""
    path = memory_folder / "empty.sqlite3"
    engine = make_engine(f"sqlite:///{path}")
    Base.metadata.create_all(engine)
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    engine.dispose()
    return path


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[str]:
    """The URL of a PostgreSQL server's ``postgres`` database."""
    with cluster() as url:
        yield url


@contextmanager
def fresh_postgres(server: str, name: str) -> Iterator[str]:
    """A database of its own on that server; yields its URL and drops it afterwards."""
    admin = create_engine(server, isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)'))
        connection.execute(text(f'CREATE DATABASE "{name}"'))
    try:
        yield make_url(server).set(database=name).render_as_string(hide_password=False)
    finally:
        with admin.connect() as connection:
            connection.execute(text(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)'))
        admin.dispose()


@pytest.fixture(scope="session")
def empty_postgres(postgres_server: str, worker_name: str) -> Iterator[str]:
    """A PostgreSQL database with every table and no rows."""
    with fresh_postgres(postgres_server, f"studbay_{worker_name}") as url:
        engine = make_engine(url)
        Base.metadata.create_all(engine)
        engine.dispose()
        yield url


@pytest.fixture(scope="session")
def worker_name(request: pytest.FixtureRequest) -> str:
    """The name of this test process: several may share one PostgreSQL server."""
    return str(getattr(request.config, "workerinput", {}).get("workerid", "main"))


@pytest.fixture(params=DATABASE_KINDS)
def database_kind(request: pytest.FixtureRequest) -> str:
    """Which database a test runs on: both, one after the other."""
    return str(request.param)


@pytest.fixture
def database_url(database_kind: str, request: pytest.FixtureRequest) -> Iterator[str]:
    """The URL of an empty database with every table."""
    if database_kind == "sqlite":
        folder = Path(tempfile.mkdtemp(dir=request.getfixturevalue("memory_folder")))
        shutil.copy(request.getfixturevalue("empty_sqlite"), folder / "studbay.sqlite3")
        yield f"sqlite:///{folder / 'studbay.sqlite3'}"
        shutil.rmtree(folder, ignore_errors=True)
        return
    url = request.getfixturevalue("empty_postgres")
    yield url
    engine = make_engine(url)
    with engine.begin() as connection:
        for table in reversed(Base.metadata.sorted_tables):
            connection.execute(table.delete())
    engine.dispose()


@pytest.fixture
def crew(engine: Engine) -> str:
    """The id of a crew, without anybody on it."""
    with writing(engine) as session:
        session.add(CrewRow(id="crew-1", name="Ames & Daughter", made_at=datetime.now(UTC)))
    return "crew-1"


@pytest.fixture
def engine(database_url: str) -> Iterator[Engine]:
    """An engine on an empty database with every table."""
    made = make_engine(database_url)
    yield made
    made.dispose()


@dataclass
class Queries:
    """The statements that reached the database."""

    statements: list[str] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many, leaving out what only opens and closes a transaction."""
        return sum(not text.startswith(("BEGIN", "COMMIT", "ROLLBACK", "PRAGMA")) for text in self.statements)


@pytest.fixture
def query_count(engine: Engine) -> Callable[[], Any]:
    """Counts queries: ``with query_count() as queries: ...``, then ``queries.count`` and ``queries.statements``."""

    @contextmanager
    def counting() -> Iterator[Queries]:
        seen = Queries()

        def note(
            _connection: Any, _cursor: Any, statement: str, _parameters: Any, _context: Any, _many: bool
        ) -> None:
            seen.statements.append(statement)

        event.listen(engine, "before_cursor_execute", note)
        try:
            yield seen
        finally:
            event.remove(engine, "before_cursor_execute", note)

    return counting
