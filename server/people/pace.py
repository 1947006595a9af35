"""How often one person may ask for what is dear to make: pictures, plans, job files, paper.

A bucket a person, as for signing in (:mod:`server.people.throttle`). They are wide: a day's photographs come at once when
the signal is back, and the outbox waits and tries again on 429.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any, Final

from fastapi import Depends, Request
from starlette.exceptions import HTTPException

from server.people import throttle
from server.people.current import current_person, engine_of
from server.people.throttle import Bucket, Limit
from server.store.engine import writing

__all__ = ["FILES", "PAPER", "PICTURES", "PLANS", "paced"]

PICTURES: Final = Limit(300, 1)
PLANS: Final = Limit(20, 15)
FILES: Final = Limit(60, 10)
PAPER: Final = Limit(20, 15)


def paced(what: str, limit: Limit) -> Any:
    """A dependency of a route: one token of the person's bucket for ``what``, or 429 with the seconds to wait."""

    def take_one(request: Request) -> None:
        bucket = Bucket(f"{what}:{current_person(request).id}", limit)
        with writing(engine_of(request)) as session:
            wait = throttle.take(session, [bucket], datetime.now(UTC))
        if wait:
            raise HTTPException(
                429,
                f"That was asked for too often in a row. Try again in {wait} s.",
                {"Retry-After": str(wait)},
            )

    return Depends(take_one)
