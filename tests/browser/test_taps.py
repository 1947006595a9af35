"""Taps, counted as a finger makes them: one for what is right, at most five for a correction with its measurement and its
photograph, at most twenty for a whole bedroom where all is right."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Page, expect
from sqlalchemy import Engine, select

from seed_demo.seed import seed
from server.people import sessions
from server.people.roles import Role
from server.people.sessions import Lifetime
from server.store.engine import reading, writing
from server.store.houses import load_house
from server.store.photographs import list_photographs
from server.store.tables import RoomRow
from server.store.tables.people import MembershipRow
from tests.browser.accessibility import assert_accessible, picture
from tests.browser.conftest import SIZES, TWO_LOOKS, Live, serve
from tests.browser.hand import Hand

pytestmark = pytest.mark.browser
SHEATH = "sheath-into-box"
LOOK = "box-fastened"


@pytest.fixture
def demo(engine: Engine) -> Iterator[Live]:
    """A server with the demo house: its main bedroom, with closet and alarm, nobody has walked yet."""
    seed(engine)
    yield from serve(engine, None)


@pytest.fixture
def bedroom(demo: Live, page: Page) -> Page:
    """The walk of the main bedroom in an apprentice's hand."""
    with writing(demo.engine) as session:
        row = session.scalars(select(MembershipRow).where(MembershipRow.role == Role.APPRENTICE.word)).first()
        assert row is not None
        lifetime = Lifetime(timedelta(hours=72), timedelta(days=30))
        token = sessions.start(session, row.account_id, row.crew_id, "test", datetime.now(UTC), lifetime)
        job_id, room_id = session.execute(
            select(RoomRow.job_id, RoomRow.id).where(RoomRow.name == "Main bedroom")
        ).one()
    page.context.add_cookies([{"name": "studbay", "value": token, "url": demo.url}])
    page.goto(f"{demo.url}/jobs/{job_id}/rooms/{room_id}/walk")
    return page


def place(page: Page) -> tuple[str, str]:
    """The job and the room of the walk that is open."""
    _, job_id, _, room_id, _ = page.url.split("/", 3)[3].split("/")
    return job_id, room_id


def recorded(demo: Live, page: Page) -> list[Any]:
    """What was recorded of the room by who walks it here."""
    job_id, room_id = place(page)
    with reading(demo.engine) as session:
        log = load_house(session, job_id).facts.observations
    return [item for item in log if item.subject.id == room_id]


def all_sent(page: Page) -> None:
    for _ in range(300):
        if page.evaluate("async () => (await Studbay.outbox.all()).length === 0"):
            return
        page.wait_for_timeout(100)
    raise AssertionError(page.evaluate("Studbay.outbox.all()"))


def test_a_clear_check_is_one_tap(demo: Live, bedroom: Page) -> None:
    hand, card = Hand(bedroom), bedroom.locator(f"#{LOOK}")

    hand.tap(card.locator("button[value=right]").first)
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(bedroom)

    assert hand.count == 1
    (seen,) = recorded(demo, bedroom)
    assert (seen.rule, seen.answer) == (LOOK, "right")


def test_a_measured_check_that_is_enough_is_two_taps(demo: Live, bedroom: Page) -> None:
    hand, card = Hand(bedroom), bedroom.locator(f"#{SHEATH}")

    hand.tap(card.get_by_role("button", name="1/2", exact=True))
    hand.tap(card.get_by_role("button", name="Record for this room"))
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(bedroom)

    assert hand.count == 2
    (seen,) = recorded(demo, bedroom)
    assert (seen.answer, str(seen.measure)) == ("measured", "1/2")


def test_a_correction_with_its_measurement_and_its_marked_photograph_is_four_taps(
    demo: Live, bedroom: Page, tmp_path: Path
) -> None:
    picture = tmp_path / "short.jpg"
    Image.new("RGB", (800, 600), "grey").save(picture)
    hand, card = Hand(bedroom), bedroom.locator(f"#{SHEATH}")

    hand.tap(card.get_by_role("button", name="1/8", exact=True))
    hand.photograph(card.locator(".card-measure .photo-button"), picture)
    hand.tap(card.locator(".card-measure .photo-marks"), at=(0.3, 0.3))
    hand.tap(card.get_by_role("button", name="Record for this room"))
    expect(card.locator(".card-said")).to_contain_text("1/8")
    all_sent(bedroom)

    assert hand.count == 4 <= 5, hand.taps
    job_id, room_id = place(bedroom)
    (seen,) = recorded(demo, bedroom)
    with reading(demo.engine) as session:
        (found,) = list_photographs(session, job_id)
    assert (seen.answer, str(seen.measure), seen.photographs) == ("measured", "1/8", (found.id,))
    assert (found.subject_kind, found.subject_id, len(found.marks)) == ("room", room_id, 1)
    bedroom.reload()
    expect(card.locator(".card-wrong")).to_have_count(1)
    expect(card.locator(".card-wrong")).to_contain_text("Nobody said which one.")
    expect(card.locator(".thumb .photo-marks")).to_be_visible()


def test_saying_which_one_is_short_is_two_taps_more_without_typing_again(demo: Live, bedroom: Page) -> None:
    hand, card = Hand(bedroom), bedroom.locator(f"#{SHEATH}")
    hand.tap(card.get_by_role("button", name="1/8", exact=True).first)
    hand.tap(card.get_by_role("button", name="Record for this room"))
    all_sent(bedroom)
    expect(card.get_by_text("Which one is it?")).to_be_visible()

    hand.tap(card.locator(".choice-option").nth(2))
    hand.tap(card.get_by_role("button", name="Record the measure"))
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(bedroom)

    assert hand.count == 4, hand.taps
    job_id, _ = place(bedroom)
    with reading(demo.engine) as session:
        newest = load_house(session, job_id).facts.observations[-1]
    assert (newest.subject.kind, newest.rule, str(newest.measure)) == ("box", SHEATH, "1/8")
    bedroom.reload()
    expect(card.locator(".card-wrong")).to_have_count(1)
    expect(card.locator(".card-wrong")).not_to_contain_text("Nobody said")


def test_a_correction_of_one_box_with_its_photograph_and_a_mark_is_at_most_five_taps(
    demo: Live, bedroom: Page, tmp_path: Path
) -> None:
    picture = tmp_path / "loose.jpg"
    Image.new("RGB", (800, 600), "grey").save(picture)
    hand, card = Hand(bedroom), bedroom.locator(f"#{LOOK}")

    hand.tap(card.get_by_text("Something is wrong"))
    hand.tap(card.locator(".choice-option").nth(1))
    hand.photograph(card.locator("details .photo-button"), picture)
    hand.tap(card.locator("details .photo-marks"))
    hand.tap(card.get_by_role("button", name="Record as wrong"))
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(bedroom)

    assert hand.count == 5, hand.taps


def walk_all(hand: Hand) -> None:
    """Everything that is left, in the order of the page: a part's looks, what is measured in it, then single cards."""
    page = hand.page
    together = page.locator(".walk-part .part-all")
    for number in range(together.count()):
        if together.nth(number).is_visible():
            hand.tap(together.nth(number).locator("button[value=right]"))
            expect(together.nth(number)).to_be_hidden()
    cards = page.locator(".walk-part .card")
    for number in range(cards.count()):
        if "card-kept" not in (cards.nth(number).get_attribute("class") or "") and "to see" in (
            cards.nth(number).locator(".card-count").text_content() or ""
        ):
            hand.tap(cards.nth(number).locator("button[value=right]").first)
            expect(cards.nth(number).locator(".card-said")).to_be_visible()


def test_a_whole_bedroom_where_all_is_right_is_at_most_twenty_taps(demo: Live, bedroom: Page) -> None:
    job_id, room_id = place(bedroom)
    asked = set(bedroom.locator(".walk-part .card").evaluate_all("cards => cards.map(card => card.id)"))
    assert len(asked) >= 40, "a bedroom with all that is asked of it"
    hand = Hand(bedroom)
    bedroom.goto(f"{demo.url}/jobs/{job_id}/rooms/{room_id}")
    hand.tap(bedroom.get_by_role("link", name="Walk this room"))
    bedroom.wait_for_url("**/walk")

    walk_all(hand)
    all_sent(bedroom)

    assert hand.count <= 20, hand.taps
    seen = recorded(demo, bedroom)
    assert {item.rule for item in seen} == asked, "each is recorded by itself"
    assert all(item.by and item.answer == "right" for item in seen)
    bedroom.reload()
    expect(bedroom.locator("#walk-counts")).to_contain_text("0 left to look at")


def test_all_looks_of_a_room_are_two_taps_and_leave_what_is_measured(demo: Live, bedroom: Page) -> None:
    looks = bedroom.locator(".walk-part .card:not(:has(.card-measure))").evaluate_all(
        "cards => cards.map(card => card.id)"
    )
    measured = bedroom.locator(".walk-part .card:has(.card-measure)").count()
    hand = Hand(bedroom)

    hand.tap(bedroom.get_by_text("Everything here looks right"))
    hand.tap(bedroom.get_by_role("button", name="looks in this room are right"))
    expect(bedroom.locator(f"#{LOOK} .card-count")).to_contain_text("recorded")
    expect(bedroom.get_by_role("button", name="of these look right")).to_have_count(0)
    all_sent(bedroom)

    assert hand.count == 2
    assert sorted(item.rule for item in recorded(demo, bedroom)) == sorted(looks)
    expect(bedroom.locator("#walk-counts")).to_contain_text(f"{measured} left to look at")


def test_the_walk_of_a_bedroom_is_accessible(bedroom: Page, shots: Path) -> None:
    for size, theme in TWO_LOOKS:
        wide, high = SIZES[size]
        bedroom.set_viewport_size({"width": wide, "height": high})
        bedroom.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        bedroom.reload()
        picture(bedroom, shots / f"walk-bedroom-{size}-{theme}.png")
        bedroom.get_by_text("Everything here looks right").click()
        picture(bedroom, shots / f"walk-bedroom-all-{size}-{theme}.png")
        bedroom.evaluate("scrollTo(0, 0)")
        assert_accessible(bedroom)


def test_the_standing_of_the_room_stays_in_sight_while_it_is_walked(bedroom: Page) -> None:
    bedroom.evaluate("window.scrollTo({ top: 1500, behavior: 'instant' })")

    head = bedroom.locator(".walk-head").bounding_box()
    top = bedroom.locator(".top").bounding_box()

    assert head is not None
    assert top is not None
    assert head["y"] >= top["y"] + top["height"] - 1, "it stands below the bar, not behind it"
    expect(bedroom.locator(".walk-head .standing")).to_be_in_viewport()
    assert bedroom.locator(".card .button-main:visible").count() == 0, "no card shouts louder than another"
