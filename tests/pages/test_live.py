"""Parts that follow: the same as on the page, sent once until they change, in the same few queries."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
PAGES = {
    "/jobs": "/jobs/live",
    "/jobs/job-1/rooms": "/jobs/job-1/live/rooms",
    "/jobs/job-1/rooms?only=not-walked": "/jobs/job-1/live/rooms?only=not-walked",
    "/jobs/job-1/readiness": "/jobs/job-1/live/readiness",
    "/jobs/job-1/work": "/jobs/job-1/live/work",
}


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house(rooms=2))


def look(as_: As, answer: str = "wrong", key: str = "key-of-a-look") -> None:
    path = "/jobs/job-1/rooms/room-1/walk/box-fastened"
    as_("pat").post(path, data={"key": key, "answer": answer, "subject": "box:box-1"})


@pytest.mark.parametrize("path", PAGES)
def test_the_page_names_its_parts_and_they_are_what_the_page_shows(as_: As, path: str) -> None:
    page = as_("gus").get(path).text
    (asks,) = re.findall(r'data-live="([^"]+)"', page)
    part = as_("gus").get(asks.replace("&amp;", "&"))

    assert asks.startswith(PAGES[path])
    assert "<html" not in part.text
    ids = re.findall(r'<(?:div|span) id="([\w-]+)"', part.text)
    assert ids
    for name in ids:
        assert f'id="{name}"' in page
    for each in re.split(rf"(?=<(?:div|span) id=\"(?:{'|'.join(ids)})\")", part.text):
        assert each.strip() in page


@pytest.mark.parametrize("path", PAGES.values())
def test_parts_are_sent_again_only_when_they_changed(as_: As, path: str) -> None:
    first = as_("gus").get(path)
    again = as_("gus").get(path, headers={"If-None-Match": first.headers["etag"]})

    assert first.status_code == 200
    assert (again.status_code, again.text) == (304, "")
    assert again.headers["etag"] == first.headers["etag"]
    assert first.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("path", ["/jobs/job-1/live/rooms", "/jobs/job-1/live/readiness"])
def test_a_look_changes_the_parts_of_its_job(as_: As, path: str) -> None:
    tag = as_("gus").get(path).headers["etag"]

    look(as_)

    after = as_("gus").get(path, headers={"If-None-Match": tag})
    assert after.status_code == 200
    assert "correction" in after.text


def test_readiness_says_that_something_was_recorded_since(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/readiness").text
    (asks,) = re.findall(r'data-live="([^"]+)"', page)
    before = as_("gus").get(asks).text
    look(as_)
    after = as_("gus").get(asks).text

    assert "Something was recorded since" not in page + before
    assert "Something was recorded since" in after


def test_what_is_put_away_does_not_follow(as_: As) -> None:
    assert "data-live" not in as_("gus").get("/jobs?archived=true").text


@pytest.mark.parametrize("path", PAGES.values())
def test_asking_takes_the_same_few_queries_in_a_large_house(
    as_: As, engine: Engine, query_count: Callable[[], Any], path: str
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="big-", rooms=12, boxes=8), job_id="big", name="A large one")
    counts = []
    for name in ("job-1", "big"):
        client = as_("gus")
        client.get(path.replace("job-1", name))
        with query_count() as queries:
            assert client.get(path.replace("job-1", name)).status_code == 200
        counts.append(queries.count)

    assert counts[0] == counts[1] <= 8
