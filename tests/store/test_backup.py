"""A backup is made while others write, and put back whole into an empty database of either kind."""

from __future__ import annotations

import json
import stat
import threading
import time
import zipfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, select

from server.backup import main as command
from server.dwelling import Answer, Observation, Ref
from server.store import schema
from server.store.backup import BackupError, read_backup, write_backup
from server.store.base import Base
from server.store.engine import make_engine, reading, writing
from server.store.facts import delete
from server.store.jobs import make_job, store_facts
from server.store.journal import Author
from server.store.kinds import JobSettings
from server.store.observations import log, record
from server.store.tables import AuditRow, CrewRow, JobRow
from tests.conftest import fresh_postgres
from tests.store.conftest import ANN, small_house

Fresh = Callable[[str], Engine]


@pytest.fixture
def source(fresh: Fresh, database_kind: str) -> Engine:
    """A database at the newest schema, with a crew, a job, a log, a journal, an audit trail."""
    engine = fresh(database_kind)
    schema.upgrade(engine)
    return engine


@pytest.fixture
def fresh(tmp_path: Path, request: pytest.FixtureRequest, worker_name: str) -> Iterator[Fresh]:
    """Makes databases without any table."""
    made: list[Engine] = []
    opened: list[Any] = []

    def make(kind: str) -> Engine:
        if kind == "sqlite":
            engine = make_engine(f"sqlite:///{tmp_path / f'{len(made)}.sqlite3'}")
        else:
            context = fresh_postgres(
                request.getfixturevalue("postgres_server"), f"backup_{worker_name}_{len(made)}"
            )
            opened.append(context)
            engine = make_engine(context.__enter__())
        made.append(engine)
        return engine

    yield make
    for engine in made:
        engine.dispose()
    for context in opened:
        context.__exit__(None, None, None)


def fill(engine: Engine) -> None:
    with writing(engine) as session:
        session.add(CrewRow(id="crew-1", name="Ames & Söhne\nÜ", made_at=datetime.now(UTC)))
        session.flush()
        job = make_job(session, "crew-1", JobSettings("job-1", "Alder", 2023), ANN)
        store_facts(session, job, small_house().facts(), ANN, "laid out")
        session.add(AuditRow(at=datetime.now(UTC), what="signed in", details={"browser": "x"}))
    with writing(engine) as session:
        record(
            session,
            "job-1",
            Observation("o", Ref("box", "box-1"), "box-fill", Answer.RIGHT),
            key="k",
            author=ANN,
        )
        delete(session, "job-1", "box", "box-2", author=ANN)


def everything(engine: Engine) -> dict[str, list[tuple[Any, ...]]]:
    with reading(engine) as session:
        return {
            table.name: [
                tuple(row) for row in session.execute(select(table).order_by(*table.primary_key.columns))
            ]
            for table in Base.metadata.sorted_tables
        }


@pytest.mark.parametrize("target_kind", ["sqlite", "postgresql"])
def test_a_backup_comes_back_row_for_row_on_either_database(
    source: Engine, fresh: Fresh, tmp_path: Path, target_kind: str
) -> None:
    fill(source)
    photographs = tmp_path / "photographs" / "ab"
    photographs.mkdir(parents=True)
    (photographs / "abcd.jpg").write_bytes(b"\xff\xd8picture")

    made = write_backup(source, tmp_path / "all.zip", files=tmp_path / "photographs")
    target = fresh(target_kind)
    read = read_backup(target, tmp_path / "all.zip", files=tmp_path / "restored")

    assert everything(target) == everything(source)
    assert read == made
    assert made.rows["boxes"] == 3
    assert (tmp_path / "restored" / "ab" / "abcd.jpg").read_bytes() == b"\xff\xd8picture"
    assert schema.differences(target) == []


def test_a_restored_database_counts_on(source: Engine, fresh: Fresh, tmp_path: Path) -> None:
    fill(source)
    write_backup(source, tmp_path / "all.zip")
    target = fresh("postgresql")
    read_backup(target, tmp_path / "all.zip")

    with writing(target) as session:
        session.add(AuditRow(at=datetime.now(UTC), what="signed in", details={}))

    with reading(target) as session:
        assert session.scalars(select(AuditRow.number).order_by(AuditRow.number)).all() == [1, 2]


def test_a_backup_made_while_others_record_is_one_moment(
    source: Engine, fresh: Fresh, tmp_path: Path
) -> None:
    fill(source)
    stop = threading.Event()
    number = 0

    def tablet() -> None:
        nonlocal number
        while not stop.is_set():
            number += 1
            seen = Observation(f"seen-{number}", Ref("room", "room-1"), "box-fill", Answer.RIGHT)
            with writing(source) as session:
                record(session, "job-1", seen, key=seen.id, author=Author("tablet", "T"))

    busy = threading.Thread(target=tablet)
    busy.start()
    try:
        while number < 20:
            time.sleep(0.01)
        write_backup(source, tmp_path / "all.zip")
    finally:
        stop.set()
        busy.join()
    target = fresh("sqlite")
    read_backup(target, tmp_path / "all.zip")

    with reading(target) as session:
        revision = session.get_one(JobRow, "job-1").revision
        sequences = [item.sequence for item in log(session, "job-1")]
    # the job's revision and its log agree: no entry that the job does not know of, none missing
    assert sequences[-1] == revision
    assert len(sequences) >= 20
    assert sequences[1:] == list(range(sequences[1], revision + 1))


def test_a_backup_is_for_its_owners_eyes_only(source: Engine, tmp_path: Path) -> None:
    write_backup(source, tmp_path / "all.zip")

    assert stat.S_IMODE((tmp_path / "all.zip").stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.glob(".*")] == []


def test_a_backup_of_the_first_schema_is_upgraded(fresh: Fresh, tmp_path: Path) -> None:
    old = fresh("sqlite")
    schema.upgrade(old, "0001")
    with old.begin() as connection:
        connection.exec_driver_sql(
            "INSERT INTO crews (id, name, made_at) VALUES ('c', 'Crew', '2026-01-01 00:00:00')"
        )
    write_backup(old, tmp_path / "old.zip")

    target = fresh("sqlite")
    read_backup(target, tmp_path / "old.zip")

    assert schema.current(target) == schema.newest()
    assert everything(target)["crews"][0][:2] == ("c", "Crew")


def test_nothing_is_put_back_over_something(source: Engine, tmp_path: Path) -> None:
    fill(source)
    write_backup(source, tmp_path / "all.zip")
    before = everything(source)

    with pytest.raises(BackupError, match="empty database"):
        read_backup(source, tmp_path / "all.zip")
    with pytest.raises(BackupError, match="exists"):
        write_backup(source, tmp_path / "all.zip")

    assert everything(source) == before


def test_an_empty_database_has_nothing_to_back_up(fresh: Fresh, tmp_path: Path) -> None:
    with pytest.raises(BackupError, match="nothing to back up"):
        write_backup(fresh("sqlite"), tmp_path / "all.zip")


def broken(path: Path, change: Callable[[dict[str, bytes]], None]) -> Path:
    with zipfile.ZipFile(path) as archive:
        entries = {name: archive.read(name) for name in archive.namelist()}
    change(entries)
    changed = path.with_name("changed.zip")
    with zipfile.ZipFile(changed, "w") as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return changed


@pytest.mark.parametrize(
    "change",
    [
        lambda entries: entries.pop("manifest.json"),
        lambda entries: entries.update({"manifest.json": b"{}"}),
        lambda entries: entries.update({"manifest.json": b"[]"}),
        lambda entries: entries.pop("tables/boxes.jsonl"),
        lambda entries: entries.update({"tables/boxes.jsonl": b""}),
        lambda entries: entries.update({"tables/boxes.jsonl": b"{"}),
        lambda entries: entries.update(
            {
                "manifest.json": json.dumps(
                    {**json.loads(entries["manifest.json"]), "revision": "9999"}
                ).encode()
            }
        ),
        lambda entries: entries.update({"files/../../outside.txt": b"x"}),
    ],
)
def test_what_is_no_whole_backup_is_refused_and_leaves_no_rows(
    source: Engine, fresh: Fresh, tmp_path: Path, change: Callable[[dict[str, bytes]], None]
) -> None:
    fill(source)
    write_backup(source, tmp_path / "all.zip")
    target = fresh("sqlite")

    with pytest.raises(BackupError):
        read_backup(target, broken(tmp_path / "all.zip", change), files=tmp_path / "restored")

    assert not (tmp_path.parent / "outside.txt").exists()


def test_what_is_no_zip_is_refused(fresh: Fresh, tmp_path: Path) -> None:
    (tmp_path / "x.zip").write_bytes(b"not a zip")

    with pytest.raises(BackupError, match="no whole backup"):
        read_backup(fresh("sqlite"), tmp_path / "x.zip")


def test_one_command_writes_a_backup_and_one_reads_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("STUDBAY_DATA_DIR", str(tmp_path / "var"))
    (tmp_path / "var" / "photographs").mkdir(parents=True)
    (tmp_path / "var" / "photographs" / "a.jpg").write_bytes(b"x")
    engine = make_engine(f"sqlite:///{tmp_path / 'var' / 'studbay.sqlite3'}")
    schema.upgrade(engine)
    fill(engine)

    wrote = command(["write", str(tmp_path / "monday.zip")])
    monkeypatch.setenv("STUDBAY_DATA_DIR", str(tmp_path / "new"))
    read = command(["read", str(tmp_path / "monday.zip")])
    again = command(["read", str(tmp_path / "monday.zip")])

    restored = make_engine(f"sqlite:///{tmp_path / 'new' / 'studbay.sqlite3'}")
    assert (wrote, read, again) == (0, 0, 1)
    assert everything(restored) == everything(engine)
    assert (tmp_path / "new" / "photographs" / "a.jpg").read_bytes() == b"x"
    said = capsys.readouterr()
    assert "1 photographs" in said.out
    assert "expected an empty database" in said.err
    for made in (engine, restored):
        made.dispose()
