"""The table of DEVELOPERS.md "What protects it" is true, and what can be asked of the whole tree is asked here."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

import server
from server.settings import Settings

ROOT = Path(__file__).parents[2]
ITEMS = 42
STANDINGS = {"met", "partly", "not", "does not apply"}
SOURCES = sorted((ROOT / "server").rglob("*.py"))


def rows() -> list[list[str]]:
    """The table's cells, a list a row."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    chapter = text.split("## What protects it")[1].split("\n## ")[0]
    lines = [line for line in chapter.splitlines() if re.match(r"\| *\d+ *\|", line)]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def names(cell: str) -> list[str]:
    """What stands in ticks in a cell."""
    return re.findall(r"`([^`]+)`", cell)


def test_the_table_has_every_item_once_and_in_order() -> None:
    assert [int(row[0]) for row in rows()] == list(range(1, ITEMS + 1))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row[0])
def test_a_row_of_the_table_says_how_it_stands_and_names_what_is_there(row: list[str]) -> None:
    _number, item, standing, where, tests = row

    assert standing in STANDINGS
    assert len(item) > 10
    for name in names(where):
        assert (ROOT / name).exists(), f"{name} of “{item}” is not there"
    if standing in ("met", "partly"):
        assert names(where), f"“{item}” names no file"
        assert names(tests), f"“{item}” names no test"
    for name in names(tests):
        file, _, function = name.partition("::")
        assert function in functions(ROOT / "tests" / file), f"{name} of “{item}” is not there"


def functions(path: Path) -> set[str]:
    """The tests of a file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {
        node.name
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    }


def models() -> Iterator[type[BaseModel]]:
    """Every Pydantic model of the server."""
    for module in pkgutil.walk_packages(server.__path__, "server."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    waiting: list[type[BaseModel]] = [BaseModel]
    while waiting:
        found = waiting.pop().__subclasses__()
        waiting += found
        yield from (model for model in found if model.__module__.startswith("server."))


def test_no_model_takes_a_field_that_it_does_not_know() -> None:
    """So nobody sets what a form does not offer; the environment of the settings has names that are not ours."""
    known = set(models()) - {Settings}

    assert len(known) > 100
    assert [model for model in known if model.model_config.get("extra") != "forbid"] == []


def calls(tree: ast.AST) -> Iterator[tuple[str, ast.Call]]:
    """The calls of a file by the last word of what is called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = node.func
            yield (called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")), node


SQL = {"text", "exec_driver_sql", "literal_column"}
NEVER = {"eval", "exec", "compile", "loads_pickle", "__import__"}


def findings(source: str) -> list[str]:
    """What runs text as a program or as SQL that was put together."""
    tree, found = ast.parse(source), []
    takes_text = re.search(r"from sqlalchemy import[^)\n]*\(?[^)]*\btext\b", source) is not None
    for name, call in calls(tree):
        built = bool(call.args) and not isinstance(call.args[0], ast.Constant)
        if name in NEVER and isinstance(call.func, ast.Name):
            found.append(f"{name} in line {call.lineno}")
        if name in SQL and built and (name != "text" or (takes_text and isinstance(call.func, ast.Name))):
            found.append(f"SQL that was put together in line {call.lineno}")
    for node in ast.walk(tree):
        imported = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        imported += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        found += [
            f"{name} in line {node.lineno}"
            for name in imported
            if name in ("pickle", "yaml", "marshal", "shelve")
        ]  # type: ignore[attr-defined]
    return found


def test_no_text_is_run_as_a_program_or_put_together_to_sql() -> None:
    found = {
        path.relative_to(ROOT).as_posix(): findings(path.read_text(encoding="utf-8")) for path in SOURCES
    }

    # how a transaction begins is one of two words of the engine's own
    assert [line.rpartition(" in ")[0] for line in found.pop("server/store/engine.py")] == [
        "SQL that was put together"
    ]
    assert {path: lines for path, lines in found.items() if lines} == {}


@pytest.mark.parametrize(
    "bad",
    [
        "eval(x)", "import pickle", "from yaml import load", "from sqlalchemy import text\ntext(f'SELECT {x}')",
        "connection.exec_driver_sql('SELECT ' + x)",
    ],
)  # fmt: skip
def test_the_look_for_run_text_can_fail(bad: str) -> None:
    assert len(findings(bad)) == 1


DRAWN_BY_US = r"Markup\(\s*(?:#.*\n\s*)?(?:draw_\w+|drawn|drawing|plan|face|html|_square_code|_on_screen|marks|out\.getvalue|\))"


def test_unescaped_text_is_our_own_drawing_and_nothing_else() -> None:
    """``Markup`` is what templates do not escape: each use is of a drawing, which escapes where it writes."""
    uses = {
        path.relative_to(ROOT).as_posix(): (
            len(re.findall(r"\bMarkup\(", text)),
            len(re.findall(DRAWN_BY_US, text)),
        )
        for path in SOURCES
        if (text := path.read_text(encoding="utf-8")) and "Markup(" in text
    }

    assert uses
    assert {path: use for path, use in uses.items() if use[0] != use[1]} == {}


def test_the_audit_trail_is_added_to_in_one_place_and_never_changed() -> None:
    naming = {
        path.relative_to(ROOT / "server").as_posix()
        for path in SOURCES
        if re.search(r"\bAuditRow\b|tables\.audit\b", path.read_text(encoding="utf-8"))
    }

    assert naming == {"people/audit.py", "store/tables/audit.py", "store/tables/__init__.py"}
    writer = (ROOT / "server/people/audit.py").read_text(encoding="utf-8")
    assert not {"update", "delete", "merge"} & {name for name, _ in calls(ast.parse(writer))}


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-test.lock"])
def test_every_dependency_is_pinned_with_its_hashes(lock: str) -> None:
    entries = re.split(r"\n(?=[a-z0-9])", (ROOT / lock).read_text(encoding="utf-8").strip())

    assert len(entries) > 40
    assert [
        entry
        for entry in entries
        if not re.match(r"[\w.\[\]-]+==\S+ \\\n +--hash=sha256:[0-9a-f]{64}", entry)
    ] == []
    assert (ROOT / "Makefile").read_text(encoding="utf-8").count("--require-hashes -r requirements") == 2
