"""The tables in code and the migrations say the same, on both databases, up and down."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.migration import MigrationContext
from alembic.operations import Operations
from sqlalchemy import CheckConstraint, Engine, ForeignKeyConstraint, PrimaryKeyConstraint, inspect, text
from sqlalchemy.exc import IntegrityError

from server.store import schema
from server.store.base import Base
from server.store.engine import make_engine, settle_sqlite_for_rebuild
from tests.conftest import fresh_postgres

ROOT = Path(__file__).parents[2]
VERSIONS = sorted((ROOT / "migrations" / "versions").glob("*.py"))


@pytest.fixture
def bare_engine(database_kind: str, tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Engine]:
    """An engine on a database without any table."""
    if database_kind == "sqlite":
        engine = make_engine(f"sqlite:///{tmp_path / 'bare.sqlite3'}")
        yield engine
        engine.dispose()
        return
    name = f"bare_{request.getfixturevalue('worker_name')}"
    with fresh_postgres(request.getfixturevalue("postgres_server"), name) as url:
        engine = make_engine(url)
        yield engine
        engine.dispose()


def test_an_upgraded_database_has_exactly_the_tables_in_code(bare_engine: Engine) -> None:
    schema.upgrade(bare_engine)

    assert schema.differences(bare_engine) == []


def test_tables_made_without_migrations_are_the_same(engine: Engine) -> None:
    assert schema.differences(engine) == []


def test_a_column_that_no_migration_made_is_noticed(bare_engine: Engine) -> None:
    schema.upgrade(bare_engine)
    with bare_engine.begin() as connection:
        connection.execute(text("ALTER TABLE boxes ADD COLUMN colour TEXT"))

    found = schema.differences(bare_engine)

    assert [item[0] for item in found] == ["remove_column"]


def test_upgrade_is_done_once_and_then_has_nothing_to_do(bare_engine: Engine) -> None:
    assert schema.current(bare_engine) is None

    schema.upgrade(bare_engine)
    schema.upgrade(bare_engine)

    assert schema.current(bare_engine) == schema.newest()


def test_every_migration_can_be_undone_and_done_again(bare_engine: Engine) -> None:
    schema.upgrade(bare_engine)

    schema.downgrade(bare_engine, "base")

    left = set(inspect(bare_engine).get_table_names()) - {"alembic_version"}
    assert left == set()
    schema.upgrade(bare_engine)
    assert schema.differences(bare_engine) == []


def test_workers_that_start_together_migrate_one_after_the_other(bare_engine: Engine) -> None:
    url = bare_engine.url.render_as_string(hide_password=False)
    code = (
        "import sys; from server.store import schema, engine; schema.upgrade(engine.make_engine(sys.argv[1]))"
    )

    workers = [
        subprocess.Popen([sys.executable, "-c", code, url], cwd=ROOT, stderr=subprocess.PIPE, text=True)
        for _ in range(3)
    ]
    said = [worker.communicate(timeout=60)[1] for worker in workers]

    assert [worker.returncode for worker in workers] == [0, 0, 0], said
    assert schema.differences(bare_engine) == []


def test_foreign_keys_hold_again_after_a_migration(bare_engine: Engine) -> None:
    schema.upgrade(bare_engine)

    with pytest.raises(IntegrityError), bare_engine.begin() as connection:
        connection.execute(
            text(
                "INSERT INTO memberships (crew_id, account_id, role, joined_at) VALUES ('x','y','owner','2026-01-01')"
            )
        )


def test_rebuilding_a_table_on_sqlite_keeps_the_rows_that_point_at_it(tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'rebuilt.sqlite3'}")
    schema.upgrade(engine)
    with engine.begin() as connection:
        connection.execute(text("INSERT INTO crews (id, name, made_at) VALUES ('c', 'Crew', '2026-01-01')"))
        connection.execute(
            text(
                "INSERT INTO accounts (id, sign_in_name, name, password_hash, password_set_at, made_at) VALUES ('a','a','A','x','2026-01-01','2026-01-01')"
            )
        )
        connection.execute(
            text(
                "INSERT INTO memberships (crew_id, account_id, role, joined_at) VALUES ('c','a','owner','2026-01-01')"
            )
        )

    with settle_sqlite_for_rebuild(engine) as connection:
        operations = Operations(MigrationContext.configure(connection, opts={"render_as_batch": True}))
        with operations.batch_alter_table("crews", recreate="always") as batch:
            batch.alter_column("name", new_column_name="title")
        connection.commit()

    with engine.connect() as connection:
        assert connection.execute(text("SELECT count(*) FROM memberships")).scalar() == 1
        assert connection.execute(text("SELECT title FROM crews")).scalar() == "Crew"

    engine.dispose()


def test_every_constraint_and_index_has_a_name() -> None:
    nameless = [
        f"{table.name}: {constraint}"
        for table in Base.metadata.tables.values()
        for constraint in [*table.constraints, *table.indexes]
        if isinstance(constraint, CheckConstraint | ForeignKeyConstraint | PrimaryKeyConstraint)
        and not constraint.name
    ]

    assert nameless == []


def test_migrations_are_numbered_in_one_line_and_import_nothing_of_ours() -> None:
    numbers = []
    for path in VERSIONS:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        values = {
            node.targets[0].id: ast.literal_eval(node.value)
            for node in tree.body
            if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
        }
        numbers.append((values["down_revision"], values["revision"]))
        imported = {
            (node.module or "") if isinstance(node, ast.ImportFrom) else node.names[0].name
            for node in ast.walk(tree)
            if isinstance(node, ast.Import | ast.ImportFrom)
        }
        assert not [name for name in imported if name.startswith("server")], path.name

    expected = [f"{number:04d}" for number in range(1, len(VERSIONS) + 1)]
    assert [number for _, number in numbers] == expected
    assert [before for before, _ in numbers] == [None, *expected[:-1]]
