"""The database behind a URL, and the two ways to talk to it.

    with reading(engine) as session: ...     # one snapshot, never written
    with writing(engine) as session: ...     # left without error: committed; with an error: rolled back

SQLite: write-ahead log, foreign keys on, ``synchronous=FULL`` (what was acknowledged survives a power cut).
A writing transaction begins IMMEDIATE: one that first reads and then wants to write would otherwise be refused
at once when somebody else committed in between, without the busy timeout being asked. PostgreSQL: connections are
tried before use; a statement or a lock that waits too long is given up.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

__all__ = [
    "DEFAULT_URL",
    "is_busy",
    "is_sqlite",
    "make_engine",
    "reading",
    "settle_sqlite_for_rebuild",
    "writing",
]

DEFAULT_URL: Final = "sqlite:///var/studbay.sqlite3"

_BUSY_TIMEOUT_MS: Final = 15_000
_STATEMENT_TIMEOUT_MS: Final = 30_000
_LOCK_TIMEOUT_MS: Final = 10_000
_BEGIN: Final = "studbay_begin"
_READING: Final = "studbay_reading"


def make_engine(url: str = DEFAULT_URL, *, pool_size: int = 10) -> Engine:
    """Connect to ``sqlite:///PATH`` or ``postgresql://...`` (psycopg is chosen where no driver is named).

    Args:
        url: an SQLAlchemy database URL.
        pool_size: connections kept; at least the number of threads that serve requests, or they wait on each
            other.

    Raises:
        ValueError: the URL names another kind of database, or an SQLite database in memory (each connection
            would see its own).
    """
    parsed = make_url(url)
    backend = parsed.get_backend_name()
    if backend == "sqlite":
        if parsed.database in (None, "", ":memory:"):
            raise ValueError(
                "expected an SQLite file, such as sqlite:///var/studbay.sqlite3; came one in memory"
            )
        engine = create_engine(parsed, pool_size=pool_size, max_overflow=pool_size)
        event.listen(engine, "connect", _open_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
        return engine
    if backend == "postgresql":
        if parsed.drivername == "postgresql":
            parsed = parsed.set(drivername="postgresql+psycopg")
        options = f"-c statement_timeout={_STATEMENT_TIMEOUT_MS} -c lock_timeout={_LOCK_TIMEOUT_MS}"
        return create_engine(
            parsed,
            pool_size=pool_size,
            max_overflow=pool_size,
            pool_pre_ping=True,
            connect_args={"options": options, "application_name": "studbay"},
        )
    raise ValueError(f"expected a database URL of sqlite or postgresql, came {backend!r}")


def is_sqlite(engine: Engine) -> bool:
    """Whether the engine speaks to SQLite."""
    return engine.dialect.name == "sqlite"


def is_busy(error: DBAPIError) -> bool:
    """Whether an error passes: somebody else holds what was asked for, and the same again will do."""
    code = getattr(error.orig, "sqlite_errorcode", None)
    if code is not None:
        return (code & 0xFF) in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
    # lock not available, statement cancelled, deadlock, no more connections, server shutting down
    return getattr(error.orig, "sqlstate", None) in ("55P03", "57014", "40P01", "40001", "53300", "57P01")


def _open_sqlite(connection: Any, _record: Any) -> None:
    # the driver's own way of beginning transactions skips SELECT and breaks savepoints: _begin_sqlite does it
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in (
        "journal_mode=WAL",
        "synchronous=FULL",
        "foreign_keys=ON",
        f"busy_timeout={_BUSY_TIMEOUT_MS}",
        "cache_size=-16000",
        "temp_store=MEMORY",
    ):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get(_BEGIN, "BEGIN"))


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """A session over one snapshot of the database; whatever was changed in it is thrown away."""
    options = {} if is_sqlite(engine) else {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
    with (
        engine.connect().execution_options(**options) as connection,
        Session(connection, expire_on_commit=False, autoflush=False, info={_READING: True}) as session,
    ):
        yield session


def is_reading(session: Session) -> bool:
    """Whether a session is of :func:`reading`: everything it sees has been committed."""
    return _READING in session.info


@contextmanager
def writing(engine: Engine) -> Iterator[Session]:
    """A session that commits when left without error and rolls back otherwise. Keep it short: on SQLite it is
    the only writer (never hash, resize or render inside it)."""
    options = {_BEGIN: "BEGIN IMMEDIATE"} if is_sqlite(engine) else {}
    with (
        engine.connect().execution_options(**options) as connection,
        Session(connection, expire_on_commit=False) as session,
        session.begin(),
    ):
        yield session


@contextmanager
def settle_sqlite_for_rebuild(engine: Engine) -> Iterator[Connection]:
    """A connection for migrations: on SQLite alone on the database, with foreign keys off.

    SQLite changes a table by building a new one and dropping the old; with foreign keys on, dropping it would
    delete every row that points at it. The pragma does nothing inside a transaction, hence here.
    """
    with engine.connect() as connection:
        if not is_sqlite(engine):
            yield connection
            return
        driver: Any = connection.connection.dbapi_connection
        driver.execute("PRAGMA foreign_keys=OFF")
        connection.execution_options(**{_BEGIN: "BEGIN IMMEDIATE"})
        try:
            yield connection
        finally:
            connection.rollback()
            driver.execute("PRAGMA foreign_keys=ON")
