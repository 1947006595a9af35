"""What tests of the store, the API and the pages share: a database of each kind, a crew, a count of queries.

A test that takes ``engine`` (or ``database_url``) runs on SQLite and on PostgreSQL. A module that needs only one
of them overrides ``database_kind``::

    @pytest.fixture
    def database_kind() -> str:
        return "sqlite"

Both databases are made once a session; the rows are deleted after each test.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, settings
from sqlalchemy import Engine, create_engine, event, text
from sqlalchemy.engine import make_url

from server.store.base import Base
from server.store.engine import make_engine, writing
from server.store.tables import CrewRow
from tests.postgres import cluster

# What hypothesis draws is the same in every run, and no test is timed: a busy machine fails nothing.
# STUDBAY_TESTS_SEARCH=1 draws afresh, to look for what has not been found yet.
settings.register_profile(
    "repeatable",
    derandomize="STUDBAY_TESTS_SEARCH" not in os.environ,
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("repeatable")

DATABASE_KINDS = ("sqlite", "postgresql")

_WAITING = ("test_killed_serving.py", "test_serving.py")
"""Modules outside of tests/browser that mostly wait, for servers that start and are killed."""


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Give every process its share of the browser first, then of what reckons.

    The processes begin with equal runs of the list and take over from each other what is left. Browser tests wait most
    of their time: all in one run, they would leave one process waiting while the others have nothing left to do.
    """
    count: int = getattr(config, "workerinput", {}).get("workercount", 1)
    modules: dict[Path, list[pytest.Item]] = {}
    quick: list[pytest.Item] = []
    for item in items:
        waits = item.path.parent.name == "browser" or item.path.name in _WAITING
        (modules.setdefault(item.path, []) if waits else quick).append(item)
    shares: list[list[pytest.Item]] = [[] for _ in range(count)]
    for module in sorted(modules.values(), key=len, reverse=True):
        min(shares, key=len).extend(module)
    left = len(items)
    for place, share in enumerate(shares):
        size = max(left // (count - place) - len(share), 0)
        share.extend(quick[:size])
        del quick[:size]
        left -= len(share)
    items[:] = [item for share in shares for item in share] + quick


@pytest.fixture(scope="session")
def memory_folder() -> Iterator[Path]:
    """A folder in memory where the system has one: syncing to a disk is what most of a write's time goes to."""
    in_memory = Path("/dev/shm")  # noqa: S108 - a folder of its own with a random name is made in it
    folder = tempfile.mkdtemp(prefix="studbay-", dir=in_memory if in_memory.is_dir() else None)
    yield Path(folder)
    shutil.rmtree(folder, ignore_errors=True)


def fresh_sqlite(folder: Path) -> str:
    """The URL of an SQLite database that is not there yet. Each call another: tests of one module may come to a process
    in two goes (it takes over what the other one has not got to), and then its fixtures are made twice."""
    return f"sqlite:///{folder / uuid4().hex}.sqlite3"


@pytest.fixture(scope="session")
def empty_sqlite(memory_folder: Path) -> str:
    """The URL of an SQLite database with every table and no rows."""
    return f"sqlite:///{memory_folder / 'studbay.sqlite3'}"


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
    """The URL of a PostgreSQL database of this process's own."""
    with fresh_postgres(postgres_server, f"studbay_{worker_name}") as url:
        yield url


@pytest.fixture(scope="session")
def engines(request: pytest.FixtureRequest) -> Iterator[Callable[[str], Engine]]:
    """One engine a kind of database, kept through the session: what it has compiled once stays compiled."""
    made: dict[str, Engine] = {}

    def engine_of(kind: str) -> Engine:
        if kind not in made:
            made[kind] = make_engine(
                request.getfixturevalue("empty_sqlite" if kind == "sqlite" else "empty_postgres")
            )
            Base.metadata.create_all(made[kind])
        return made[kind]

    yield engine_of
    for engine in made.values():
        engine.dispose()


@pytest.fixture(scope="session")
def worker_name(request: pytest.FixtureRequest) -> str:
    """The name of this test process: several may share one PostgreSQL server."""
    return str(getattr(request.config, "workerinput", {}).get("workerid", "main"))


@pytest.fixture(params=DATABASE_KINDS)
def database_kind(request: pytest.FixtureRequest) -> str:
    """Which database a test runs on: both, one after the other."""
    return str(request.param)


@pytest.fixture
def engine(database_kind: str, engines: Callable[[str], Engine]) -> Iterator[Engine]:
    """An engine on a database with every table and no rows; whatever a test writes is deleted after it."""
    kept = engines(database_kind)
    # an engine of the test's own over the kept one: what the service remembers by engine is not the last test's
    yield kept.execution_options()
    with kept.begin() as connection:
        for table in reversed(Base.metadata.sorted_tables):
            connection.execute(table.delete())


@pytest.fixture
def database_url(engine: Engine) -> str:
    """The URL of that database."""
    return engine.url.render_as_string(hide_password=False)


@pytest.fixture
def crew(engine: Engine) -> str:
    """The id of a crew, without anybody on it."""
    with writing(engine) as session:
        session.add(CrewRow(id="crew-1", name="Ames & Daughter", made_at=datetime.now(UTC)))
    return "crew-1"


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
