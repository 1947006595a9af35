"""A basement: the network goes away in the middle of a walk, the tab is killed, an answer is lost after it was kept.

What was recorded is in the log once, in its order, whatever happened on the way.
"""

from __future__ import annotations

import os
import time
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Page, Route, expect

from server.pages import rules
from server.store.engine import reading
from server.store.houses import load_house
from tests.browser.conftest import Live
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

ROOM = "/jobs/job-1/rooms/room-1"
WALK = f"{ROOM}/walk"
SHEATH = "sheath-into-box"
ENTRIES = int(os.environ.get("STUDBAY_TESTS_ENTRIES", "40"))
"""How many each of two tablets records on one room."""
RULES = ("box-fastened", "box-whole", "connectors-fit")


@pytest.fixture
def walking(live: Live, page: Page) -> Page:
    """A walk of a bedroom, the job taken along, ready to lose its network."""
    put_house(live.engine, CREW, bedroom_house(rooms=2))
    live.sign_in(page, "pat")
    page.goto(f"{live.url}/jobs/job-1/rooms")
    page.get_by_role("button", name="Take this job along").click()
    expect(page.locator("#take-along [role=status]")).to_contain_text("On this tablet since")
    page.goto(live.url + WALK)
    return page


def log(live: Live) -> list[Any]:
    with reading(live.engine) as session:
        return list(load_house(session, "job-1").facts.observations)


def right(page: Page, rule: str) -> None:
    page.locator(f"#{rule} button[value=right]").first.click()


def until(page: Page, wanted: str) -> None:
    """Wait until something holds of the entries that wait in this browser."""
    for _ in range(150):
        if page.evaluate(f"async () => {{ const entries = await Studbay.outbox.all(); return {wanted}; }}"):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"not within 15 s: {wanted}; {page.evaluate('Studbay.outbox.all()')}")


def all_sent(page: Page) -> None:
    until(page, "entries.length === 0")


def test_a_tap_is_sent_at_once_when_there_is_signal(live: Live, walking: Page) -> None:
    right(walking, RULES[0])

    expect(walking.locator(f"#{RULES[0]}")).to_have_class("card card-done just-recorded")
    all_sent(walking)
    assert [seen.rule for seen in log(live)] == [RULES[0]]


def test_a_walk_without_network_is_sent_once_and_in_order_when_it_is_back(
    live: Live, walking: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    walking.reload()
    for rule in RULES:
        right(walking, rule)
        expect(walking.locator(f"#{rule} .card-said")).to_contain_text("Recorded on this tablet")
    expect(walking.locator("#outbox")).to_contain_text("3 not yet sent")
    assert log(live) == []

    context.set_offline(False)
    all_sent(walking)

    assert [seen.rule for seen in log(live)] == list(RULES)
    assert all(seen.by == "Pat Osei" and seen.at for seen in log(live))


def test_another_room_that_was_taken_along_opens_without_network(
    walking: Page, context: BrowserContext, live: Live
) -> None:
    context.set_offline(True)

    walking.goto(f"{live.url}/jobs/job-1/rooms/room-2/walk")

    expect(walking.get_by_role("heading", name="Bedroom 2", level=1)).to_be_visible()


def test_a_job_taken_along_is_walked_without_network_though_no_walk_was_opened_before(
    live: Live, page: Page, context: BrowserContext
) -> None:
    put_house(live.engine, CREW, bedroom_house(rooms=2))
    live.sign_in(page, "pat")
    page.goto(f"{live.url}/jobs/job-1/rooms")
    page.get_by_role("button", name="Take this job along").click()
    expect(page.locator("#take-along [role=status]")).to_contain_text("On this tablet since")
    context.set_offline(True)

    page.goto(live.url + WALK)
    right(page, RULES[0])
    expect(page.locator(f"#{RULES[0]} .card-said")).to_contain_text("Recorded on this tablet")
    page.locator("#outbox a").click()
    expect(page.locator("#waiting li")).to_have_count(1)

    context.set_offline(False)
    all_sent(page)
    assert [seen.rule for seen in log(live)] == [RULES[0]]


def test_a_page_that_was_not_taken_along_says_so(walking: Page, context: BrowserContext, live: Live) -> None:
    context.set_offline(True)

    walking.goto(f"{live.url}/sheets")

    expect(walking.get_by_role("heading", level=1)).to_contain_text("not taken along")


def test_a_measure_is_judged_on_the_tablet_without_the_server(walking: Page, context: BrowserContext) -> None:
    context.set_offline(True)
    card = walking.locator(f"#{SHEATH}")

    card.locator(".card-measure input[name=measure]").fill("3/16")
    card.get_by_role("button", name="Record for this room").click()

    expect(card.locator(".card-said")).to_contain_text("falls short of at least 1/4 in")


def test_what_is_no_length_is_not_recorded(live: Live, walking: Page) -> None:
    card = walking.locator(f"#{SHEATH}")

    card.locator(".card-measure input[name=measure]").fill("a bit")
    card.get_by_role("button", name="Record for this room").click()

    expect(card.get_by_role("alert")).to_contain_text("That is no length")
    assert log(live) == []


def test_a_killed_tab_loses_nothing(live: Live, walking: Page, context: BrowserContext) -> None:
    context.set_offline(True)
    for rule in RULES[:2]:
        right(walking, rule)
        expect(walking.locator(f"#{rule} .card-said")).to_be_visible()
    walking.close(run_before_unload=False)
    context.set_offline(False)

    again = context.new_page()
    again.goto(live.url + WALK)
    all_sent(again)

    assert [seen.rule for seen in log(live)] == list(RULES[:2])


def test_an_answer_that_is_lost_after_it_was_kept_is_not_recorded_twice(live: Live, walking: Page) -> None:
    lost = {"left": 2}

    def lose(route: Route) -> None:
        if route.request.method == "POST" and lost["left"]:
            lost["left"] -= 1
            route.fetch()  # the server keeps it, and the answer goes under on the way back
            route.abort("connectionreset")
        else:
            route.fallback()

    walking.route("**/walk/**", lose)
    right(walking, RULES[0])
    right(walking, RULES[1])
    all_sent(walking)

    assert lost["left"] == 0
    assert [seen.rule for seen in log(live)] == list(RULES[:2])


def test_an_entry_that_the_server_refuses_is_kept_and_explained_and_the_others_go_on(
    live: Live, walking: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    right(walking, RULES[0])
    walking.evaluate(
        """async () => { const [entry] = await Studbay.outbox.all(); await Studbay.outbox.put({...entry, body: entry.body.replace('right', 'perhaps')}); }"""
    )
    right(walking, RULES[1])
    context.set_offline(False)
    until(walking, "entries.length > 0 && entries.every((entry) => entry.state === 'kept')")

    walking.goto(f"{live.url}/outbox")

    assert [seen.rule for seen in log(live)] == [RULES[1]]
    expect(walking.locator("#waiting li")).to_have_count(1)
    expect(walking.get_by_role("button", name="Send again")).to_be_visible()


def test_a_sign_in_that_ran_out_keeps_everything_until_somebody_signs_in(
    live: Live, walking: Page, context: BrowserContext
) -> None:
    context.clear_cookies()
    right(walking, RULES[0])
    until(walking, "entries.some((entry) => entry.message.includes('signed out'))")
    assert log(live) == []

    live.sign_in(walking, "pat")
    walking.goto(live.url + WALK)
    all_sent(walking)

    assert [seen.rule for seen in log(live)] == [RULES[0]]


def test_what_one_person_recorded_is_never_sent_by_another(
    live: Live, walking: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    right(walking, RULES[0])
    expect(walking.locator(f"#{RULES[0]} .card-said")).to_be_visible()
    context.clear_cookies()
    context.set_offline(False)

    live.sign_in(walking, "elena")
    walking.goto(live.url + WALK)
    walking.wait_for_timeout(500)

    assert log(live) == []


def test_signing_out_asks_once_more_while_something_waits(
    live: Live, walking: Page, context: BrowserContext
) -> None:
    walking.route("**/walk/**", lambda route: route.abort())
    right(walking, RULES[0])
    expect(walking.locator("#outbox")).to_contain_text("1 not yet sent")

    walking.locator("summary.menu-button").click()
    walking.get_by_role("button", name="Sign out").click()

    expect(walking.get_by_role("button", name="Sign out and lose 1 not yet sent")).to_be_visible()
    walking.get_by_role("button", name="Sign out and lose 1 not yet sent").click()
    walking.wait_for_url("**/sign-in**")
    assert walking.evaluate("caches.has('studbay-pages')") is False
    assert [base["name"] for base in walking.evaluate("indexedDB.databases()")] == []


def test_a_wrong_clock_does_not_change_the_order(live: Live, walking: Page) -> None:
    walking.clock.install(time="2019-01-01T00:00:00Z")
    walking.goto(live.url + WALK)
    right(walking, RULES[0])
    walking.clock.run_for(1000)
    all_sent(walking)
    walking.clock.set_system_time("2031-01-01T00:00:00Z")
    right(walking, RULES[1])
    walking.clock.run_for(1000)
    all_sent(walking)

    assert [seen.rule for seen in log(live)] == list(RULES[:2])
    assert log(live)[0].at.startswith("2019")


def test_a_part_of_looks_is_one_tap(live: Live, walking: Page) -> None:
    walking.locator(".part-all button").first.click()
    all_sent(walking)

    assert len(log(live)) > 1
    assert all(seen.answer == "right" for seen in log(live))


def test_a_photograph_follows_the_look_that_it_belongs_to(
    live: Live, walking: Page, context: BrowserContext, tmp_path: Any
) -> None:
    picture = tmp_path / "fault.jpg"
    Image.new("RGB", (800, 600), "grey").save(picture)
    context.set_offline(True)
    card = walking.locator(f"#{RULES[0]}")
    card.get_by_text("Something is wrong").click()
    card.locator("input[type=file]").set_input_files(picture)
    card.locator("input[name=note]").fill("hanging by its cables")
    card.get_by_role("button", name="Record as wrong").click()
    expect(walking.locator("#outbox")).to_contain_text("2 not yet sent")

    context.set_offline(False)
    all_sent(walking)

    (seen,) = log(live)
    answer = walking.request.get(f"{live.url}/jobs/job-1/photographs/{seen.photographs[0]}")
    assert seen.note == "hanging by its cables"
    assert answer.headers["content-type"] == "image/jpeg"


def test_two_tablets_on_one_room_lose_and_double_nothing(live: Live, walking: Page, chromium: Any) -> None:
    """``STUDBAY_TESTS_ENTRIES=500`` gives each tablet more than the suite has time for, and prints how long it took."""
    other = chromium.new_context()
    second = other.new_page()
    live.sign_in(second, "elena")
    second.goto(live.url + WALK)
    many = """async (who) => {
      for (let n = 0; n < ENTRIES; n++) {
        const body = new URLSearchParams({key: crypto.randomUUID(), answer: n % 2 ? "wrong" : "right", note: `${who} ${n}`, seen_at: new Date().toISOString()});
        await Studbay.outbox.keep({kind: "look", url: location.pathname + "/box-fastened", body: body.toString(), title: "", told: "", card: ""});
      }
      await Studbay.outbox.drain();
    }""".replace("ENTRIES", str(ENTRIES))
    start = time.monotonic()
    walking.evaluate(f"() => {{ window.done = ({many})('pat') }}")
    second.evaluate(many, "elena")
    walking.evaluate("() => window.done")
    all_sent(walking)
    all_sent(second)
    took_s = time.monotonic() - start
    other.close()

    notes = [seen.note for seen in log(live)]
    assert sorted(notes) == sorted(f"{who} {n}" for who in ("pat", "elena") for n in range(ENTRIES))
    for who in ("pat", "elena"):
        assert [note for note in notes if note.startswith(who)] == [f"{who} {n}" for n in range(ENTRIES)]
    print(f"two tablets, {ENTRIES} entries each: {took_s:.1f} s, {len(notes)} in the log, each once")


def test_a_page_that_was_not_taken_along_is_waited_for_where_the_answer_is_only_slow(
    live: Live, walking: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    groups = rules.by_subject

    def slowly(found: list[Any]) -> Any:
        time.sleep(6.5)
        return groups(found)

    monkeypatch.setattr(rules, "by_subject", slowly)
    assert walking.evaluate("navigator.serviceWorker.controller !== null")

    walking.goto(f"{live.url}/rules")

    expect(walking.get_by_role("heading", level=1)).to_have_text("The rule book")
