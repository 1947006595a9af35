"""Errors of the JSON API as RFC 9457 problem details that name the field, what was expected and what came."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse

__all__ = ["RESPONSES", "describe_problems", "field_errors", "problem", "unprocessable"]

_TITLES = {
    400: "The request cannot be read",
    401: "Sign in first",
    403: "Not allowed for your role",
    404: "Nothing here by that name",
    405: "This address does not take that method",
    409: "Changed by someone else meanwhile",
    413: "Too large",
    415: "Unexpected content type",
    422: "Some fields need another value",
    429: "Too many tries",
    503: "Busy; the same request again will do",
    500: "Something failed on our side",
}
_LONGEST_SHOWN = 80
_NO_FIELDS = ("body", "query", "path", "job-file", "new-job")
"""Where a field was looked for, or as which document: no part of its name."""

_SCHEMA: Final[dict[str, Any]] = {
    "title": "Problem",
    "description": "What went wrong (RFC 9457); `errors` names each field with what was expected and what came.",
    "type": "object",
    "required": ["type", "title", "status", "detail"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "request_id": {"type": "string"},
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["field", "expected", "came"],
                "properties": {name: {"type": "string"} for name in ("field", "expected", "came")},
            },
        },
        "version": {"type": "integer", "description": "the version that stands, after a conflict"},
        "conflicts": {
            "type": "array",
            "description": "fields that somebody else changed since the version that was seen",
            "items": {"type": "object"},
        },
    },
}
RESPONSES: Final[dict[int | str, dict[str, Any]]] = {
    status: {
        "description": _TITLES[status],
        "content": {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}},
    }
    for status in (400, 401, 403, 404, 409, 413, 422, 429, 503)
}
"""How a router describes what it may answer besides: ``APIRouter(..., responses=RESPONSES)``."""


def describe_problems(app: FastAPI) -> None:
    """Put the schema of a problem document into the application's OpenAPI document."""
    described = app.openapi

    def openapi() -> dict[str, Any]:
        document = described()
        document.setdefault("components", {}).setdefault("schemas", {})["Problem"] = _SCHEMA
        return document

    app.openapi = openapi  # type: ignore[method-assign]


def problem(status: int, detail: str, errors: Sequence[dict[str, str]] = (), **more: Any) -> JSONResponse:
    """A problem document (RFC 9457) as a response."""
    body: dict[str, Any] = {
        "type": "about:blank",
        "title": _TITLES.get(status, "The request failed"),
        "status": status,
        "detail": detail,
        **more,
    }
    if errors:
        body["errors"] = list(errors)
    return JSONResponse(body, status_code=status, media_type="application/problem+json")


def field_errors(errors: Sequence[Any]) -> list[dict[str, str]]:
    """Pydantic's errors as ``{field, expected, came}``, one a field."""
    found = []
    for error in errors:
        place = [str(part) for part in error.get("loc", ()) if part not in _NO_FIELDS]
        came = repr(error.get("input"))
        found.append(
            {
                "field": ".".join(place) or "body",
                "expected": str(error.get("msg", "")).removeprefix("Value error, "),
                "came": came if len(came) <= _LONGEST_SHOWN else came[:_LONGEST_SHOWN] + "...",
            }
        )
    return found


async def unprocessable(_request: Request, error: Exception) -> JSONResponse:
    """Answer a request whose fields do not fit their model."""
    assert isinstance(error, RequestValidationError)
    errors = field_errors(error.errors())
    names = ", ".join(dict.fromkeys(item["field"] for item in errors))
    return problem(422, f"Look at: {names}", errors)
