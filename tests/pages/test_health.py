"""The health page: what fails is named, nothing else is told, and a watcher may ask by address."""

from __future__ import annotations

import shutil
from pathlib import Path

from sqlalchemy import Engine, create_engine

from tests.cast import client_for, make_app


def test_all_is_well(engine: Engine, tmp_path: Path) -> None:
    answer = client_for(make_app(engine, data_dir=str(tmp_path))).get("/health", headers={"Host": "10.0.0.7"})

    assert (answer.status_code, answer.json()) == (
        200,
        {"standing": "ok", "database": "ok", "data_folder": "ok"},
    )


def test_a_missing_data_folder_is_named(engine: Engine, tmp_path: Path) -> None:
    app = make_app(engine, data_dir=str(tmp_path / "data"))
    shutil.rmtree(tmp_path / "data", ignore_errors=True)

    answer = client_for(app).get("/health")

    assert (answer.status_code, answer.json()["data_folder"], answer.json()["database"]) == (
        503,
        "fails",
        "ok",
    )


def test_a_database_that_does_not_answer_is_named_without_its_address(tmp_path: Path) -> None:
    broken = create_engine(f"sqlite:///{tmp_path / 'nowhere' / 'missing.sqlite3'}")

    answer = client_for(make_app(broken, data_dir=str(tmp_path))).get("/health")

    assert (answer.status_code, answer.json()["database"]) == (503, "fails")
    assert "missing.sqlite3" not in answer.text
