"""Published worked examples as data: how they are read, asked through a sheet, and compared."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from fastapi.testclient import TestClient

from server.api import sheet_routes
from server.api.problems import unprocessable
from server.api.sheets import SHEETS, answer

__all__ = ["asked", "differences", "examples", "named", "sheet_client"]

_DATA = Path(__file__).parent / "data"
_OURS_PLACES = 3


def examples(file: str) -> list[dict[str, Any]]:
    """The examples of a file below ``tests/data``."""
    found: list[dict[str, Any]] = json.loads((_DATA / file).read_text(encoding="utf-8"))["examples"]
    assert found, file
    return found


def named(example: dict[str, Any]) -> str:
    """How an example is called in the test report."""
    return f"{example['id']} {example['stated'][:50]}"


def sheet_client() -> TestClient:
    """The sheets' routes and nothing else: no database, no host to answer for."""
    app = FastAPI()
    app.add_exception_handler(RequestValidationError, unprocessable)
    app.include_router(sheet_routes.router)
    return TestClient(app)


def asked(sheet: str, request: dict[str, Any], edition: str | None = None) -> dict[str, Any]:
    """A sheet's result for a request in JSON, as JSON."""
    model = SHEETS[sheet].asks.model_validate({**request, **({"edition": edition} if edition else {})})
    result: dict[str, Any] = answer(sheet, model).model_dump(mode="json")["result"]
    return result


def differences(expected: dict[str, Any], came: dict[str, Any]) -> dict[str, tuple[Any, Any]]:
    """Where a result is not what is expected: field to (expected, came). Numbers are compared to the places
    that the page prints (``places``), else to three."""
    places = expected.get("places", _OURS_PLACES)
    return {
        name: (value, came[name])
        for name, value in expected.items()
        if name != "places" and not _same(value, came[name], places)
    }


def _same(expected: Any, came: Any, places: int) -> bool:
    if isinstance(expected, dict):
        return all(_same(value, came[name], places) for name, value in expected.items())
    if isinstance(expected, bool) or not isinstance(expected, int | float):
        return bool(expected == came)
    # Half a unit of the last printed place, and a hair for the binary form of decimals.
    return came is not None and abs(came - expected) <= 0.5 * 10**-places + 1e-9
