"""What the store refuses, as problem details under ``/api`` and as a page elsewhere.

404 not there · 409 taken, changed meanwhile, undone before, key reused · 422 a field, a reference, an amendment ·
503 the database is busy: the same request again will do.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fastapi import FastAPI, Request
from pydantic import ValidationError
from sqlalchemy.exc import IntegrityError, OperationalError
from starlette.responses import Response

from server.api.problems import field_errors, problem
from server.editions import EditionError
from server.pages.errors import error_page
from server.store.engine import is_busy
from server.store.errors import (
    AlreadyUndone,
    Conflict,
    DanglingReference,
    KeyReused,
    NotThere,
    StoreError,
    Taken,
    UnknownField,
)
from server.store.job_file import JobFileError
from server.store.plain import plain_value

__all__ = ["Refused", "install", "refusal_of"]

_LONGEST_SHOWN = 80
_AGAIN_IN_S = "2"


class Refused(Exception):
    """Fields that do not fit together, found after each was read by itself."""

    def __init__(self, errors: Sequence[dict[str, str]]) -> None:
        self.errors = errors
        super().__init__(", ".join(error["field"] for error in errors))

    @classmethod
    def by(cls, error: ValidationError) -> Refused:
        """From a document's own validation."""
        return cls(field_errors(error.errors(include_url=False)))


def _field(field: str, expected: str, came: object) -> dict[str, str]:
    shown = repr(came)
    return {
        "field": field,
        "expected": expected,
        "came": shown if len(shown) <= _LONGEST_SHOWN else shown[:_LONGEST_SHOWN] + "...",
    }


def refusal_of(error: Exception) -> tuple[int, str, list[dict[str, str]], dict[str, Any]]:
    """An error of the store as status, sentence, fields, and what else a problem document tells."""
    match error:
        case NotThere():
            return 404, f"There is no {error.kind} by that id here.", [], {}
        case Taken():
            return 409, "The id is in use; choose another.", [_field("id", "a new id", error.id)], {}
        case Conflict():
            conflicts = [
                {
                    "field": item.field,
                    "theirs": plain_value(item.theirs),
                    "yours": plain_value(item.yours),
                    "by": item.by,
                    "at": item.at.isoformat() if item.at else None,
                }
                for item in error.fields
            ]
            return 409, f"{error}.", [], {"version": error.version, "conflicts": conflicts}
        case AlreadyUndone():
            return 409, "This was undone before.", [], {}
        case KeyReused():
            field = _field("Idempotency-Key", "a new key for another entry", error.key)
            return 409, "The key was used for something else.", [field], {}
        case DanglingReference():
            field = _field(error.field, f"a {error.wanted_kind} of this job", error.wanted_id)
            return 422, f"Look at: {error.field}", [field], {}
        case UnknownField():
            return (
                422,
                f"Look at: {error.field}",
                [_field(error.field, "a field that can be changed", "")],
                {},
            )
        case JobFileError():
            errors = [{"field": e.field, "expected": e.expected, "came": e.came} for e in error.errors]
            return 422, f"Look at: {', '.join(dict.fromkeys(e['field'] for e in errors))}", errors, {}
        case Refused():
            return 422, f"Look at: {error}", list(error.errors), {}
        case EditionError():
            return 422, "Look at: amendments", [_field("amendments", f"amendments that fit: {error}", "")], {}
        case IntegrityError():
            # two requests chose the same id or key at the same moment, and the other was first
            return 409, "The same was written at this very moment; ask again.", [], {}
        case OperationalError() if is_busy(error):
            return 503, "The database is busy. The same request again will do.", [], {}
        case _:
            raise error


def _answer(request: Request, error: Exception) -> Response:
    status, detail, errors, more = refusal_of(error)
    headers = {"Retry-After": _AGAIN_IN_S} if status == 503 else {}
    if not request.url.path.startswith("/api/"):
        return error_page(request, status, detail, headers)
    answer = problem(status, detail, errors, **more)
    answer.headers.update(headers)
    return answer


def install(app: FastAPI) -> None:
    """Register the answers."""
    handler: Callable[[Request, Exception], Response] = _answer
    for kind in (StoreError, JobFileError, Refused, EditionError, IntegrityError, OperationalError):
        app.add_exception_handler(kind, handler)
