"""Two people on one job: what one records, the other's page shows without reloading, and without disturbing anybody."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Request, Response, expect

from server.store.summaries import count_stale
from tests.browser.accessibility import assert_accessible
from tests.browser.conftest import Live
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

pytestmark = pytest.mark.browser
JOB = "/jobs/job-1"
RULE = "box-fastened"
EVERY_MS = 15_000


@pytest.fixture
def foreman(live: Live, page: Page) -> Page:
    """Hugo, whose clock is in the test's hand."""
    put_house(live.engine, CREW, bedroom_house(rooms=2))
    live.sign_in(page, "hugo")
    page.clock.install()
    return page


@pytest.fixture
def other(live: Live, foreman: Page, chromium: Browser) -> Iterator[Page]:
    """Pat, in a browser of her own."""
    context = chromium.new_context(has_touch=True)
    page = context.new_page()
    live.sign_in(page, "pat")
    yield page
    context.close()


def pass_time(page: Page, ms: int = EVERY_MS + 100) -> None:
    page.clock.run_for(ms)


def asked(page: Page) -> list[str]:
    """The requests of the page that ask for its parts, as they are made."""
    found: list[str] = []

    def note(request: Request) -> None:
        if "/live" in request.url and "/static/" not in request.url:
            found.append(request.url)

    page.on("request", note)
    return found


def ended(page: Page) -> list[str]:
    """Of these requests the ones that were answered, or that failed."""
    found: list[str] = []

    def note(about: Response | Request) -> None:
        if "/live" in about.url and "/static/" not in about.url:
            found.append(about.url)

    page.on("response", note)
    page.on("requestfailed", note)
    return found


def pass_time_and_hear(page: Page, requests: list[str], over: list[str]) -> None:
    """Time passes, and what was asked is heard before it goes on: the page's patience with a slow answer runs by the same clock."""
    pass_time(page)
    for _ in range(200):
        if len(over) >= len(requests):
            break
        page.wait_for_timeout(20)
    page.evaluate("async () => { await fetch('/sign-in') }")


def wrong(other: Page, live: Live, room: str = "room-1") -> None:
    """Pat records a fault in a room."""
    other.goto(f"{live.url}{JOB}/rooms/{room}/walk")
    card = other.locator(f"#{RULE}")
    card.get_by_text("Something is wrong").click()
    card.get_by_role("button", name="Record as wrong").click()
    expect(other.locator(f"#{RULE} .is-wrong-count")).to_be_visible()


def row(page: Page, room: str) -> Any:
    return page.locator(f"a.room-row[href$='{room}']")


def test_the_rooms_follow_what_somebody_else_records(live: Live, foreman: Page, other: Page) -> None:
    foreman.goto(f"{live.url}{JOB}/rooms")
    before = row(foreman, "room-1").inner_text()
    wrong(other, live)

    pass_time(foreman)

    expect(row(foreman, "room-1")).not_to_have_text(before, use_inner_text=True)
    expect(row(foreman, "room-1")).to_contain_text("hold open")
    expect(foreman.locator("#job-standing")).to_contain_text("hold open")
    expect(foreman.locator("li.just-recorded")).to_have_count(1)
    assert_accessible(foreman)


def test_readiness_follows_and_offers_its_findings_anew(live: Live, foreman: Page, other: Page) -> None:
    foreman.goto(f"{live.url}{JOB}/readiness")
    before = row(foreman, "room-1").inner_text()
    wrong(other, live)

    pass_time(foreman)

    expect(row(foreman, "room-1")).not_to_have_text(before, use_inner_text=True)
    foreman.get_by_role("link", name="Show the findings anew").click()
    expect(foreman.get_by_role("link", name="The box is held fast to the framing")).to_be_visible()
    expect(foreman.get_by_role("link", name="Show the findings anew")).to_have_count(0)


def test_the_crews_work_follows_and_what_is_typed_stays(live: Live, foreman: Page, other: Page) -> None:
    foreman.goto(f"{live.url}{JOB}/work")
    foreman.locator("#note").first.fill("before Friday")
    live_elena = other
    live.sign_in(live_elena, "elena")
    live_elena.goto(f"{live.url}{JOB}/work")
    live_elena.get_by_label("What was written, one thing a line").fill("box loose in the bedroom")
    live_elena.get_by_role("button", name="Enter the visit").click()
    live_elena.wait_for_url("**/work#visits")

    pass_time(foreman)

    expect(foreman.locator("#visit-list")).to_contain_text("box loose in the bedroom")
    expect(foreman.locator("#note").first).to_have_value("before Friday")


def test_all_jobs_follow(live: Live, foreman: Page, other: Page) -> None:
    count_stale(live.engine)
    foreman.goto(f"{live.url}/jobs")
    before = foreman.locator("#board").inner_text()
    assert "corrections" in before
    wrong(other, live)
    count_stale(live.engine)

    pass_time(foreman)

    expect(foreman.locator("#board")).not_to_have_text(before, use_inner_text=True)
    expect(foreman.locator("#board li.just-recorded")).to_have_count(1)


def test_nothing_is_swapped_where_nothing_changed(live: Live, foreman: Page) -> None:
    requests, over = asked(foreman), ended(foreman)
    statuses: list[int] = []
    foreman.on(
        "response",
        lambda answer: (
            statuses.append(answer.status) if "/live" in answer.url and "/static/" not in answer.url else None
        ),
    )
    for path in ("/jobs", f"{JOB}/rooms", f"{JOB}/readiness", f"{JOB}/work"):
        foreman.goto(live.url + path)
        foreman.evaluate(
            "document.querySelectorAll('#board, #levels, #room-standings, #job-standing, #given-list, #visit-list').forEach((part) => { part.same = true })"
        )
        statuses.clear()
        for _ in range(3):
            pass_time_and_hear(foreman, requests, over)

        assert foreman.evaluate(
            "[...document.querySelectorAll('#board, #levels, #room-standings, #job-standing, #given-list, #visit-list')].every((part) => part.same)"
        ), path
        assert statuses == [200, 304, 304], path


def test_a_page_that_nobody_looks_at_asks_for_nothing_and_catches_up_at_once(
    live: Live, foreman: Page, other: Page
) -> None:
    foreman.goto(f"{live.url}{JOB}/rooms")
    requests = asked(foreman)
    hide(foreman, hidden=True)
    wrong(other, live)

    pass_time(foreman, 10 * EVERY_MS)
    assert requests == []

    hide(foreman, hidden=False)
    expect(row(foreman, "room-1")).to_contain_text("hold open")
    assert len(requests) == 1


def hide(page: Page, *, hidden: bool) -> None:
    page.evaluate(
        "(hidden) => { Object.defineProperty(document, 'hidden', { configurable: true, get: () => hidden }); Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => hidden ? 'hidden' : 'visible' }); document.dispatchEvent(new Event('visibilitychange')); }",
        hidden,
    )


def test_focus_and_what_is_unfolded_stay_where_they_are(live: Live, foreman: Page, other: Page) -> None:
    house = bedroom_house(prefix="p-", rooms=2)
    house.change("p-room-1", plan_x_in=0, plan_y_in=0)
    put_house(live.engine, CREW, house, job_id="planned", name="With a plan")
    foreman.goto(f"{live.url}/jobs/planned/rooms")
    foreman.get_by_text("Plan of this level").click()
    row(foreman, "p-room-2").focus()
    other.goto(f"{live.url}/jobs/planned/rooms/p-room-1/walk")
    card = other.locator(f"#{RULE}")
    card.get_by_text("Something is wrong").click()
    card.get_by_role("button", name="Record as wrong").click()
    expect(other.locator(f"#{RULE} .is-wrong-count")).to_be_visible()

    pass_time(foreman)

    expect(row(foreman, "p-room-1")).to_contain_text("hold open")
    expect(row(foreman, "p-room-2")).to_be_focused()
    assert foreman.locator("details[open] .drawing-scroll").count() == 1


def test_a_date_that_is_being_chosen_is_not_swapped_away(live: Live, foreman: Page, other: Page) -> None:
    live.sign_in(other, "elena")
    other.goto(f"{live.url}{JOB}/work")
    other.get_by_label("Result").select_option("approved")
    other.get_by_role("button", name="Enter the visit").click()
    other.wait_for_url("**/work#visits")
    foreman.goto(f"{live.url}{JOB}/work")
    requests, over = asked(foreman), ended(foreman)
    covered = foreman.get_by_label("Covered on")
    covered.fill("2026-12-24")
    other.get_by_label("What was written, one thing a line").fill("later on")
    other.get_by_role("button", name="Enter the visit").click()
    expect(other.locator("#visit-list")).to_contain_text("later on")

    pass_time_and_hear(foreman, requests, over)
    assert len(over) == 1
    expect(covered).to_have_value("2026-12-24")
    expect(foreman.locator("#visit-list")).not_to_contain_text("later on")

    covered.fill(str(datetime.now(UTC).date()))
    foreman.locator("#title").click()
    pass_time(foreman)
    expect(foreman.locator("#visit-list")).to_contain_text("later on")


def test_without_an_answer_it_asks_less_often_and_begins_again(live: Live, foreman: Page) -> None:
    foreman.goto(f"{live.url}{JOB}/rooms")
    requests = asked(foreman)
    over = ended(foreman)
    foreman.route("**/live/**", lambda route: route.abort())
    for _ in range(16):
        pass_time_and_hear(foreman, requests, over)
    seen = len(requests)

    # 15 s, then 30, 60 and 120 apart
    assert seen == 4
    foreman.unroute("**/live/**")
    for _ in range(10):
        if len(requests) > seen:
            break
        pass_time_and_hear(foreman, requests, over)
    assert len(requests) == seen + 1
    # a minute and a half: slowed down it would ask once at most
    for _ in range(6):
        pass_time_and_hear(foreman, requests, over)
    assert len(requests) >= seen + 3, "answered: it asks as often as before"


def test_signed_out_it_stops(live: Live, foreman: Page) -> None:
    foreman.goto(f"{live.url}{JOB}/rooms")
    requests = asked(foreman)
    over = ended(foreman)
    foreman.context.clear_cookies()
    for _ in range(4):
        pass_time_and_hear(foreman, requests, over)

    assert len(requests) == 1
    expect(row(foreman, "room-1")).to_be_visible()
