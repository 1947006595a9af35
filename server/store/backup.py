"""Everything in one file, made while serving, and put back into an empty database of either kind.

The file is a zip: ``manifest.json`` (format, schema revision, when, how many rows), ``tables/NAME.jsonl`` (one row a
line, as plain JSON), and ``files/...`` (the folder of photographs, where one is given). What is in it is one moment:
rows are read in one snapshot, and files are never changed once written. It holds everything, password hashes
included: keep it as carefully as the database.

    write_backup(engine, Path("monday.zip"), files=Path("var/photographs"))
    read_backup(make_engine("postgresql://..."), Path("monday.zip"), files=Path("/srv/photographs"))

A backup of an older version is put back at its own schema revision and then upgraded.
"""

from __future__ import annotations

import json
import os
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path, PurePosixPath
from typing import Any, Final

from sqlalchemy import (
    JSON,
    Boolean,
    Connection,
    Date,
    DateTime,
    Engine,
    MetaData,
    Table,
    func,
    insert,
    select,
    text,
)

from server.store import schema
from server.store.engine import is_sqlite

__all__ = ["FORMAT", "BackupError", "Summary", "read_backup", "write_backup"]

FORMAT: Final = "studbay-backup/1"
_MANIFEST: Final = "manifest.json"
_TABLES: Final = "tables/"
_FILES: Final = "files/"
_AT_ONCE: Final = 500
_NOT_OURS: Final = ("alembic_version",)


class BackupError(Exception):
    """A backup that cannot be made or put back; says why."""


@dataclass(frozen=True, slots=True)
class Summary:
    """What a backup holds."""

    revision: str
    made_at: datetime
    rows: Mapping[str, int]
    files: int


def _tables_of(connection: Connection) -> list[Table]:
    """The tables as they stand in the database (not as this version's code has them), owners first."""
    metadata = MetaData()
    metadata.reflect(connection)
    return [table for table in metadata.sorted_tables if table.name not in _NOT_OURS]


def write_backup(engine: Engine, target: Path, *, files: Path | None = None) -> Summary:
    """Write everything to ``target``; while it is being made it stands beside it under another name.

    Raises:
        BackupError: the database has no schema, or ``target`` exists.
    """
    if target.exists():
        raise BackupError(f"expected a new file, but {target} exists")
    revision = schema.current(engine)
    if revision is None:
        raise BackupError("there is nothing to back up: the database has no tables yet")
    unfinished = target.with_name(f".{target.name}.unfinished")
    now = datetime.now(UTC)
    try:
        unfinished.touch(mode=0o600)  # it holds password hashes
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
            with engine.connect() as connection:
                if not is_sqlite(engine):
                    connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
                rows = {
                    table.name: _write_table(archive, connection, table) for table in _tables_of(connection)
                }
            kept = _write_files(archive, files)
            manifest = {
                "format": FORMAT,
                "revision": revision,
                "made_at": now.isoformat(),
                "rows": rows,
                "files": kept,
            }
            archive.writestr(_MANIFEST, json.dumps(manifest, indent=1))
        with unfinished.open("rb") as written:
            os.fsync(written.fileno())
        unfinished.rename(target)
    finally:
        unfinished.unlink(missing_ok=True)
    return Summary(revision, now, rows, kept)


def _write_table(archive: zipfile.ZipFile, connection: Connection, table: Table) -> int:
    keys = list(table.primary_key.columns)
    found = connection.execute(select(table).order_by(*keys), execution_options={"yield_per": _AT_ONCE})
    number = 0
    with archive.open(f"{_TABLES}{table.name}.jsonl", "w", force_zip64=True) as lines:
        for row in found.mappings():
            plain = {name: _plain(value) for name, value in row.items()}
            lines.write(json.dumps(plain, ensure_ascii=True, separators=(",", ":")).encode() + b"\n")
            number += 1
    return number


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        # SQLite keeps no zone; what was written was UTC
        return (value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)).isoformat()
    return value.isoformat() if isinstance(value, date) else value


def _write_files(archive: zipfile.ZipFile, folder: Path | None) -> int:
    if folder is None or not folder.is_dir():
        return 0
    number = 0
    for path in sorted(folder.rglob("*")):
        if path.is_file() and not path.is_symlink() and not path.name.startswith("."):
            # photographs are compressed already
            archive.write(path, f"{_FILES}{path.relative_to(folder).as_posix()}", zipfile.ZIP_STORED)
            number += 1
    return number


def read_backup(engine: Engine, source: Path, *, files: Path | None = None) -> Summary:
    """Put a backup into an empty database, and upgrade it to what this version needs. All of the rows or none.

    Raises:
        BackupError: the file is no backup or not whole, or the database is not empty.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            summary = _manifest(archive)
            _see_that_it_is_empty(engine)
            try:
                schema.upgrade(engine, summary.revision)
            except Exception as error:
                raise BackupError(
                    f"this backup is of schema {summary.revision}, which this version does not know "
                    f"(its newest is {schema.newest()})"
                ) from error
            with engine.begin() as connection:
                _read_tables(archive, connection, summary)
            kept = _read_files(archive, files) if files is not None else 0
    except (zipfile.BadZipFile, KeyError, json.JSONDecodeError, UnicodeDecodeError) as error:
        raise BackupError(f"{source} is no whole backup: {error}") from None
    schema.upgrade(engine)
    if files is not None and kept != summary.files:
        raise BackupError(f"expected {summary.files} files in {source}, found {kept}")
    return summary


def _manifest(archive: zipfile.ZipFile) -> Summary:
    raw = json.loads(archive.read(_MANIFEST))
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        came = raw.get("format") if isinstance(raw, dict) else raw
        raise BackupError(f"expected a backup of format {FORMAT}, came {came!r}")
    return Summary(raw["revision"], datetime.fromisoformat(raw["made_at"]), raw["rows"], raw["files"])


def _see_that_it_is_empty(engine: Engine) -> None:
    with engine.connect() as connection:
        for table in _tables_of(connection):
            if connection.execute(select(table).limit(1)).first() is not None:
                raise BackupError(
                    f"expected an empty database, but {table.name} has rows; restore into a new one"
                )


def _read_tables(archive: zipfile.ZipFile, connection: Connection, summary: Summary) -> None:
    tables = {table.name: table for table in _tables_of(connection)}
    if missing := sorted(set(summary.rows) - set(tables)):
        raise BackupError(f"the backup has tables that schema {summary.revision} does not: {missing}")
    for name, table in tables.items():
        number = 0
        for rows in _rows(archive, table):
            connection.execute(insert(table), rows)
            number += len(rows)
        if number != summary.rows.get(name, 0):
            raise BackupError(f"expected {summary.rows.get(name, 0)} rows of {name}, found {number}")
        _count_on(connection, table)


def _rows(archive: zipfile.ZipFile, table: Table) -> Iterator[list[dict[str, Any]]]:
    readers = {column.name: _reader(column.type) for column in table.columns}
    some: list[dict[str, Any]] = []
    with archive.open(f"{_TABLES}{table.name}.jsonl") as lines:
        for line in lines:
            some.append({name: readers[name](value) for name, value in json.loads(line).items()})
            if len(some) == _AT_ONCE:
                yield some
                some = []
    if some:
        yield some


def _reader(column_type: Any) -> Callable[[Any], Any]:
    if isinstance(column_type, DateTime):
        return lambda value: None if value is None else datetime.fromisoformat(value)
    if isinstance(column_type, Date):
        return lambda value: None if value is None else date.fromisoformat(value)
    if isinstance(column_type, Boolean):
        return lambda value: None if value is None else bool(value)
    if isinstance(column_type, JSON):
        column_type.none_as_null = True
    return lambda value: value


def _count_on(connection: Connection, table: Table) -> None:
    """PostgreSQL counts apart from the rows: go on after the highest number that came in."""
    if connection.dialect.name == "sqlite":
        return
    for column in table.primary_key.columns:
        owner = connection.execute(
            text("SELECT pg_get_serial_sequence(:table, :column)"),
            {"table": table.name, "column": column.name},
        ).scalar()
        if owner:
            highest = select(func.coalesce(func.max(column), 0)).scalar_subquery()
            connection.execute(select(func.setval(owner, highest + 1, False)))


def _read_files(archive: zipfile.ZipFile, folder: Path) -> int:
    number = 0
    for item in archive.infolist():
        if not item.filename.startswith(_FILES) or item.is_dir():
            continue
        path = PurePosixPath(item.filename.removeprefix(_FILES))
        if path.is_absolute() or ".." in path.parts or not path.parts:
            raise BackupError(f"a file in the backup has a name that leads elsewhere: {item.filename!r}")
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        with archive.open(item) as came, target.open("wb") as kept:
            while block := came.read(1 << 20):
                kept.write(block)
        number += 1
    return number
