"""A room's history: who recorded what, when by our clock, with photographs, what was taken back; of that room alone."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image
from sqlalchemy import Engine

from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
ROOM = "/jobs/job-1/rooms/room-1"
HISTORY = f"{ROOM}/history"


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bedroom_house(rooms=2))


def record(
    as_: As, key: str, *, room: str = "room-1", rule: str = "box-fastened", who: str = "pat", **more: str
) -> None:
    path = f"/jobs/job-1/rooms/{room}/walk/{rule}"
    answer = as_(who).post(path, data={"key": key, "answer": "right", **more})
    assert answer.status_code == 303


def rows(page: str) -> list[str]:
    """The entries in words."""
    found = re.findall(r'<li><div class="row">(.*?)</li>', page, re.DOTALL)
    return [" ".join(re.sub(r"<[^>]+>", " ", row).split()) for row in found]


def test_everything_stands_there_the_newest_first_with_who_recorded_it(as_: As) -> None:
    record(as_, "key-number-1")
    record(as_, "key-number-2", answer="wrong", subject="box:box-2", note="hangs loose", who="elena")
    record(as_, "key-number-3", rule="sheath-into-box", answer="measured", measure="3/8")

    found = rows(as_("gus").get(HISTORY).text)

    assert len(found) == 3
    assert "3/8 in" in found[0]
    assert "Pat Osei" in found[0]
    assert "Elena Novak" in found[1]
    assert "hangs loose" in found[1]
    assert found[1].endswith("wrong")
    assert found[2].endswith("right")


def test_what_was_taken_back_stays_and_says_so(as_: As) -> None:
    record(as_, "key-number-1")
    as_("hugo").post(
        f"{ROOM}/walk/box-fastened/take-back", data={"key": "key-number-2", "observation": "key-number-1"}
    )

    taking, taken = rows(as_("gus").get(HISTORY).text)

    assert "Hugo Lind" in taking
    assert taking.endswith("taken back")
    assert taken.endswith("right taken back later")


def test_another_rooms_entries_stand_in_another_history(as_: As) -> None:
    record(as_, "key-number-1", room="room-2", note="of the other room")
    record(as_, "key-number-2", room="room-2", subject="box:box-4", note="of the other box")

    assert rows(as_("gus").get(HISTORY).text) == []
    assert len(rows(as_("gus").get(HISTORY.replace("room-1", "room-2")).text)) == 2


def test_photographs_stand_beside_what_they_are_of(as_: As) -> None:
    record(as_, "key-number-1", answer="wrong", subject="box:box-1", photographs="photo-of-it")
    before = as_("gus").get(HISTORY).text
    out = io.BytesIO()
    Image.new("RGB", (160, 120), "grey").save(out, "JPEG")
    marks = '[{"kind": "circle", "x": 0.1, "y": 0.1, "to_x": 0.4, "to_y": 0.4}]'
    as_("pat").post(
        "/jobs/job-1/photographs",
        data={"id": "photo-of-it", "marks": marks},
        files={"file": ("a.jpg", out.getvalue())},
    )
    after = as_("gus").get(HISTORY).text

    assert "1 photograph of this not arrived here" in before
    assert "marked with 1 circle" in after
    assert 'class="photo-marks"' in after


def test_a_clock_that_is_wrong_is_told_and_ours_counts(as_: As) -> None:
    now = datetime.now(UTC)
    record(as_, "key-number-1", seen_at="2019-01-01T08:00:00+00:00")
    record(as_, "key-number-2", seen_at=now.isoformat())
    record(as_, "key-number-3", seen_at="no time at all")

    page = as_("gus").get(HISTORY).text

    assert page.count("the tablet's clock said") == 1 or page.count("the tablet&#39;s clock said") == 1
    assert "2019-01-01 08:00" in page
    assert f"{now:%Y-%m-%d}T" in page


def test_a_long_history_goes_on_on_another_page(as_: As) -> None:
    client = as_("pat")
    for number in range(120):
        path = f"{ROOM}/walk/box-fastened"
        client.post(path, data={"key": f"key-number-{number}", "answer": "right", "note": f"look {number};"})

    first = as_("gus").get(HISTORY).text
    (older,) = re.findall(r'href="([^"]+\?before=\d+)"', first)
    second = as_("gus").get(older).text

    assert [len(rows(page)) for page in (first, second)] == [100, 20]
    assert "look 119;" in first
    assert "look 19;" in second
    assert "look 20;" not in second
    assert "before=" not in second


def test_another_crew_and_a_missing_room_see_nothing(as_: As) -> None:
    assert as_("sol").get(HISTORY).status_code == 404
    assert as_("gus").get("/jobs/job-1/rooms/nowhere/history").status_code == 404
    assert as_("gus").get(f"{HISTORY}?before=-1").status_code == 422


def test_it_takes_the_same_queries_however_much_was_recorded(as_: As, query_count: Callable[[], Any]) -> None:
    client, counts = as_("gus"), []
    for number in range(4):
        record(as_, f"key-number-{number}")
        client.get(HISTORY)
        with query_count() as queries:
            client.get(HISTORY)
        counts.append(queries.count)

    assert counts == counts[:1] * 4
    assert counts[0] <= 6
