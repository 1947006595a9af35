"""``kill -9`` of the server in the middle of a walk: what the tablet recorded arrives once, in its order, after a new start.

The server is ``python -m server`` in a process of its own, killed while answers are on their way and started again on the
same port over the same data. ``STUDBAY_TESTS_KILLS`` kills more often.
"""

from __future__ import annotations

import os
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Page, Route, expect
from sqlalchemy import Engine

from server.store import schema
from server.store.engine import make_engine, reading
from server.store.houses import load_house
from server.store.photographs import list_photographs
from tests.cast import CREW, make_cast
from tests.house.test_killed_serving import Server
from tests.pages.houses import bedroom_house, put_house

pytestmark = pytest.mark.browser
KILLS = int(os.environ.get("STUDBAY_TESTS_KILLS", "2"))
WALK = "/jobs/job-1/rooms/room-1/walk"
RULES = ("box-fastened", "box-whole", "connectors-fit", "boxes-plumb")
ENTRIES = 15
_WAIT_S = 120


@dataclass
class Job:
    """A server that can be killed, its database as this test reads it, and a page of the walk."""

    server: Server
    engine: Engine
    page: Page

    def log(self) -> list[Any]:
        with reading(self.engine) as session:
            return list(load_house(session, "job-1").facts.observations)

    def restart(self) -> None:
        self.server.kill()
        self.server.start()

    def wait_for_log(self, more_than: int) -> None:
        """Until the server has committed more entries than that: the next are on their way."""
        until = time.monotonic() + _WAIT_S
        while len(self.log()) <= more_than:
            assert time.monotonic() < until, f"nothing arrives: {len(self.log())} of more than {more_than}"
            time.sleep(0.005)

    def all_sent(self) -> None:
        until = time.monotonic() + _WAIT_S
        while not self.page.evaluate("async () => (await Studbay.outbox.all()).length === 0"):
            assert time.monotonic() < until, self.page.evaluate("Studbay.outbox.all()")
            self.page.wait_for_timeout(100)


@pytest.fixture
def job(memory_folder: Path, tmp_path: Path, page: Page) -> Iterator[Job]:
    path = memory_folder / "killed-walk.sqlite3"
    engine = make_engine(f"sqlite:///{path}")
    schema.upgrade(engine)
    cast = make_cast(engine)
    put_house(engine, CREW, bedroom_house(rooms=2))
    server = Server(f"sqlite:///{path}", tmp_path)
    server.start()
    page.context.add_cookies([{"name": "studbay", "value": cast.token("pat"), "url": server.url}])
    page.goto(f"{server.url}/jobs/job-1/rooms")
    page.get_by_role("button", name="Take this job along").click()
    expect(page.locator("#take-along [role=status]")).to_contain_text("On this tablet since")
    page.goto(server.url + WALK)
    yield Job(server, engine, page)
    page.close()
    server.kill()
    engine.dispose()
    for file in memory_folder.glob("killed-walk.sqlite3*"):
        file.unlink()


def right(page: Page, rule: str) -> None:
    page.locator(f"#{rule} button[value=right]").first.click()


def test_killed_again_and_again_while_the_outbox_sends_everything_arrives_once_and_in_order(job: Job) -> None:
    job.page.evaluate(
        """(count) => { window.done = (async () => {
          for (let n = 0; n < count; n++) {
            const body = new URLSearchParams({key: crypto.randomUUID(), answer: n % 2 ? "wrong" : "right", note: `look ${n}`, seen_at: new Date().toISOString()});
            await Studbay.outbox.keep({kind: "look", url: location.pathname + "/box-fastened", body: body.toString(), title: "", told: "", card: ""});
            if (n === 3) Studbay.outbox.drain();
          }
        })() }""",
        ENTRIES * KILLS,
    )
    in_between = []
    for kill in range(KILLS):
        job.wait_for_log(len(job.log()) + 1 + kill)
        job.server.kill()
        in_between.append(len(job.log()))
        job.server.start()

    job.page.evaluate("() => window.done")
    job.all_sent()

    assert [seen.note for seen in job.log()] == [f"look {n}" for n in range(ENTRIES * KILLS)]
    assert max(in_between) < ENTRIES * KILLS, "it was killed in the middle"


def test_taps_while_the_server_is_dead_wait_and_the_walk_opens_again_meanwhile(job: Job) -> None:
    right(job.page, RULES[0])
    job.server.kill()
    for rule in RULES[1:3]:
        right(job.page, rule)
        expect(job.page.locator(f"#{rule} .card-said")).to_contain_text("Recorded on this tablet")
    expect(job.page.locator("#outbox")).to_contain_text("not yet sent")
    job.page.reload()
    expect(job.page.get_by_role("heading", name="Bedroom 1", level=1)).to_be_visible()
    right(job.page, RULES[3])
    expect(job.page.locator(f"#{RULES[3]} .card-said")).to_contain_text("Recorded on this tablet")

    job.server.start()
    job.all_sent()

    assert [seen.rule for seen in job.log()] == list(RULES)
    assert all(seen.by == "Pat Osei" for seen in job.log())
    job.page.reload()
    expect(job.page.locator("#walk-counts")).to_contain_text(f"{len(RULES)} done")


def test_killed_after_the_commit_and_before_the_answer_it_is_recorded_once(job: Job) -> None:
    killed: list[str] = []

    def kill_before_the_answer(route: Route) -> None:
        if route.request.method == "POST" and len(killed) < 2:
            answer = route.fetch()
            assert answer.status == 200
            killed.append(route.request.post_data or "")
            job.server.kill()
            route.abort("connectionreset")
            job.server.start()
        else:
            route.fallback()

    job.page.route("**/walk/**", kill_before_the_answer)
    right(job.page, RULES[0])
    right(job.page, RULES[1])
    job.all_sent()

    assert len(killed) == 2
    assert killed[0] == killed[1], "the same entry under the same key was sent again"
    assert [seen.rule for seen in job.log()] == list(RULES[:2])


def test_killed_while_a_photograph_is_on_its_way_it_arrives_once_with_its_look(
    job: Job, context: BrowserContext, tmp_path: Path
) -> None:
    picture = tmp_path / "fault.jpg"
    Image.effect_noise((1600, 1200), 80).convert("RGB").save(picture)
    sent = Counter[str]()

    def kill_it(route: Route) -> None:
        sent["photograph"] += 1
        if sent["photograph"] == 1:
            job.server.kill()
            route.abort("connectionreset")
            job.server.start()
        elif sent["photograph"] == 2:
            route.fetch()
            job.server.kill()
            route.abort("connectionreset")
            job.server.start()
        else:
            route.fallback()

    job.page.route("**/photographs", kill_it)
    card = job.page.locator(f"#{RULES[0]}")
    card.get_by_text("Something is wrong").click()
    card.locator("details input[type=file]").set_input_files(picture)
    card.locator(".photo-marks").click()
    card.get_by_role("button", name="Record as wrong").click()
    expect(card.locator(".card-said")).to_be_visible()
    job.all_sent()

    (seen,) = job.log()
    with reading(job.engine) as session:
        (found,) = list_photographs(session, "job-1")
    assert sent["photograph"] == 3
    assert seen.photographs == (found.id,)
    assert len(found.marks) == 1
    answer = context.request.get(f"{job.server.url}/jobs/job-1/photographs/{found.id}")
    assert answer.headers["content-type"] == "image/jpeg"
    assert len(answer.body()) > 10_000
