"""What is dear to make is made for one person so often, and for others all the same."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select

from server.store.engine import reading, writing
from server.store.tables import JobRow
from server.store.tables.people import ThrottleRow
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
DEAR: dict[str, tuple[str, dict[str, Any]]] = {
    "pictures": ("/jobs/job-1/photographs", {"files": {"file": ("a.jpg", b"no picture")}}),
    "plans": ("/jobs/job-1/import", {"files": {"file": ("a.csv", b"no plan")}}),
    "files": ("/api/jobs", {"json": {"schema": "no job"}}),
    "paper": ("/jobs/job-1/packet/pdf", {}),
}


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house())


@pytest.mark.parametrize("what", DEAR)
def test_whoever_asked_too_often_waits_and_nobody_else_does(as_: As, engine: Engine, what: str) -> None:
    path, sent = DEAR[what]
    with writing(engine) as session:
        session.add(ThrottleRow(bucket=f"{what}:account-hugo", level=0, at=datetime.now(UTC)))

    waits, goes_on = as_("hugo").post(path, **sent), as_("ana").post(path, **sent)

    assert waits.status_code == 429
    assert 1 <= int(waits.headers["retry-after"]) <= 15
    assert goes_on.status_code in (303, 422)


def test_every_picture_takes_one(as_: As, engine: Engine) -> None:
    path, sent = DEAR["pictures"]
    for _ in range(3):
        as_("hugo").post(path, **sent)

    with reading(engine) as session:
        level = session.scalar(select(ThrottleRow.level).where(ThrottleRow.bucket == "pictures:account-hugo"))
        assert session.scalar(select(JobRow.id)) == "job-1"
    assert level == pytest.approx(297, abs=2.5)
