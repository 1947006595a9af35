"""The floors of the house: each imports only floors below it, and the lower five touch nothing outside."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SERVER = Path(__file__).parents[2] / "server"
FLOORS = {
    "dwelling": 0,
    "editions": 1,
    "reckon": 2,
    "rules": 3,
    "readiness": 4,
    "store": 5,
    "people": 5,
    "pages": 6,
    "api": 6,
    "reports": 6,
    "drawings": 5,
    "security": 6,
    "imports": 6,
}
OUTSIDE_THE_PURE_FLOORS = {
    "fastapi", "starlette", "sqlalchemy", "alembic", "jinja2", "weasyprint", "pydantic", "httpx", "random",
    "time", "sqlite3", "socket", "subprocess", "os", "urllib", "requests", "logging",
}  # fmt: skip
MODULES = sorted(path for path in SERVER.rglob("*.py") if path.relative_to(SERVER).parts[0] in FLOORS)


def imports_of(path: Path) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.extend(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write imports in full"
            found.append(node.module or "")
    return found


def floor_of(module: str) -> int | None:
    parts = module.split(".")
    return FLOORS.get(parts[1]) if parts[0] == "server" and len(parts) > 1 else None


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SERVER)))
def test_a_module_imports_only_from_its_own_floor_and_those_below(path: Path) -> None:
    own = FLOORS[path.relative_to(SERVER).parts[0]]

    too_high = [name for name in imports_of(path) if (floor_of(name) or 0) > own]

    assert too_high == []


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if FLOORS[path.relative_to(SERVER).parts[0]] <= 4],
    ids=lambda path: str(path.relative_to(SERVER)),
)
def test_a_pure_floor_touches_nothing_outside(path: Path) -> None:
    touched = {name.split(".")[0] for name in imports_of(path)} & OUTSIDE_THE_PURE_FLOORS

    assert touched == set()


def test_every_folder_of_the_server_is_a_floor() -> None:
    folders = {path.name for path in SERVER.iterdir() if path.is_dir() and path.name != "__pycache__"}

    assert folders <= set(FLOORS)


def test_only_the_editions_loader_reads_files() -> None:
    readers = [
        path.relative_to(SERVER).as_posix()
        for path in MODULES
        if FLOORS[path.relative_to(SERVER).parts[0]] <= 4 and "pathlib" in imports_of(path)
    ]

    assert readers == ["editions/loader.py"]


@pytest.mark.parametrize("word", ["utils", "helpers", "manager", "misc", "common"])
def test_no_module_is_named_for_nothing(word: str) -> None:
    assert [path for path in SERVER.rglob("*.py") if word in path.stem] == []
