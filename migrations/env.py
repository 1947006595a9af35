"""How Alembic runs: one transaction a migration, batch mode on SQLite, foreign keys off while a table is rebuilt.

Called by ``server.store.schema`` with an open connection, or from the command line::

    STUDBAY_DATABASE_URL=sqlite:///var/new.sqlite3 alembic upgrade head
    STUDBAY_DATABASE_URL=sqlite:///var/new.sqlite3 alembic revision --autogenerate -m "why"

A new migration gets the next number as its name. Read what was generated before it is committed.
"""

from __future__ import annotations

import os
from typing import Any

from alembic import context
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, DateTime, Enum, String, Text

import server.store.tables  # noqa: F401 - registers the tables
from server.store.base import Base, ExactText, Moment, NumberList, WordList
from server.store.engine import DEFAULT_URL, make_engine, settle_sqlite_for_rebuild

_LOCK = 0x57D8A7
"""Any number that nobody else uses: workers that start together migrate one after the other."""


def _plain_types(kind: str, item: Any, _autogen: Any) -> str | bool:
    """A migration must still run when our own types have changed: write what they are in the database."""
    if kind != "type":
        return False
    if isinstance(item, ExactText | WordList | NumberList) or type(item) is Text:
        return "sa.Text()"
    if isinstance(item, Moment) or type(item) is DateTime:
        return "sa.DateTime(timezone=True)"
    if isinstance(item, Enum | String):
        return f"sa.String({item.length})"
    return False


def _number_it(migration_context: Any, _revision: Any, directives: list[Any]) -> None:
    script = ScriptDirectory.from_config(migration_context.config)
    taken = [int(found.revision) for found in script.walk_revisions()]
    directives[0].rev_id = f"{max(taken, default=0) + 1:04d}"


def _run(connection: Connection) -> None:
    on_sqlite = connection.dialect.name == "sqlite"
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=True,
        render_item=_plain_types,
        process_revision_directives=_number_it,
        transaction_per_migration=False,
        # Alembic takes SQLite for a database that cannot do this, and would commit after each migration: a worker that
        # waited would see some of them done and do the others again
        transactional_ddl=True,
    )
    with context.begin_transaction():
        if not on_sqlite:
            # waiting for another worker's migration may take long; waiting for its readers must not
            connection.exec_driver_sql("SET LOCAL statement_timeout = 0; SET LOCAL lock_timeout = 0")
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
            connection.exec_driver_sql("SET LOCAL lock_timeout = '10s'")
        context.run_migrations()
        if on_sqlite:
            broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
            if broken:
                raise RuntimeError(f"the migration left rows that point at nothing: {broken[:5]}")


def main() -> None:
    given = context.config.attributes.get("connection")
    if given is not None:
        _run(given)
        return
    engine = make_engine(os.environ.get("STUDBAY_DATABASE_URL", DEFAULT_URL))
    with settle_sqlite_for_rebuild(engine) as connection:
        _run(connection)
        connection.commit()
    engine.dispose()


main()
