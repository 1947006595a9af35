"""The database's tables brought to what this version of Studbay needs, and back."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine

import server.store.tables  # noqa: F401 - registers the tables
from server.store.base import Base
from server.store.engine import settle_sqlite_for_rebuild

__all__ = ["current", "differences", "downgrade", "newest", "upgrade"]

_MIGRATIONS: Final = Path(__file__).parents[2] / "migrations"


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    return config


def upgrade(engine: Engine, to: str = "head") -> None:
    """Run the migrations that have not run yet. Several workers may call it at once."""
    _run(engine, command.upgrade, to)


def downgrade(engine: Engine, to: str) -> None:
    """Undo migrations down to a revision (``base``: all of them, with everything they hold)."""
    _run(engine, command.downgrade, to)


def _run(engine: Engine, step: Any, to: str) -> None:
    config = _config()
    with settle_sqlite_for_rebuild(engine) as connection:
        config.attributes["connection"] = connection
        step(config, to)
        connection.commit()


def current(engine: Engine) -> str | None:
    """The revision that the database stands at; None for an empty one."""
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def newest() -> str | None:
    """The revision that this version of Studbay needs."""
    return ScriptDirectory.from_config(_config()).get_current_head()


def differences(engine: Engine) -> list[Any]:
    """What the tables in code have that the database has not, and the other way round; empty when they agree."""
    with engine.connect() as connection:
        found: list[Any] = compare_metadata(MigrationContext.configure(connection), Base.metadata)
        return found
