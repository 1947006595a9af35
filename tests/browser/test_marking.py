"""A photograph is marked with a finger, a mouse and the keyboard; on the walk before it is sent, and later on its page."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import BrowserContext, Page, expect

from server.drawings.photograph_marks import draw_marks
from server.people.guest_links import make_link
from server.store.engine import reading, writing
from server.store.houses import load_house
from server.store.photographs import Photograph, list_photographs
from tests.browser.accessibility import assert_accessible, picture
from tests.browser.conftest import SIZES, TWO_LOOKS, Live
from tests.browser.hand import Hand
from tests.cast import CREW
from tests.pages.houses import bedroom_house, put_house

pytestmark = pytest.mark.browser
ROOM = "/jobs/job-1/rooms/room-1"
WALK = f"{ROOM}/walk"
RULE = "box-fastened"


@pytest.fixture
def fault(tmp_path: Path) -> Path:
    """A box that hangs on two cables, more or less."""
    picture = Image.new("RGB", (1200, 900), "#b9a27c")
    pen = ImageDraw.Draw(picture)
    for at in (120, 620, 1120):
        pen.rectangle((at - 45, 0, at + 45, 900), fill="#e3cfa4", outline="#8d774f")
    pen.rectangle((430, 330, 610, 580), fill="#2c4d83", outline="#1a2c4a", width=6)
    pen.line((470, 330, 440, 0), fill="#f0e6b0", width=22)
    pen.line((540, 330, 560, 0), fill="#f0e6b0", width=22)
    path = tmp_path / "fault.jpg"
    picture.save(path)
    return path


@pytest.fixture
def walking(live: Live, page: Page) -> Page:
    put_house(live.engine, CREW, bedroom_house())
    live.sign_in(page, "pat")
    page.goto(live.url + WALK)
    return page


def photographs(live: Live) -> list[Photograph]:
    with reading(live.engine) as session:
        return list(list_photographs(session, "job-1"))


def log(live: Live) -> list[Any]:
    with reading(live.engine) as session:
        return list(load_house(session, "job-1").facts.observations)


def all_sent(page: Page) -> None:
    for _ in range(150):
        if page.evaluate("async () => (await Studbay.outbox.all()).length === 0"):
            return
        page.wait_for_timeout(100)
    raise AssertionError(page.evaluate("Studbay.outbox.all()"))


def recorded(live: Live, walking: Page, fault: Path) -> str:
    """A fault with its photograph, unmarked; returns the address of its page."""
    card = walking.locator(f"#{RULE}")
    card.get_by_text("Something is wrong").click()
    card.locator("details input[type=file]").set_input_files(fault)
    expect(card.locator(".picture img")).to_be_visible()
    card.get_by_role("button", name="Record as wrong").click()
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(walking)
    (found,) = photographs(live)
    assert found.marks == ()
    return f"{live.url}/jobs/job-1/photographs/{found.id}/view?back={WALK}"


def drawn(page: Page) -> str:
    found = page.locator(".photo-marks path").last.get_attribute("d")
    return found or ""


def as_kept(live: Live) -> str:
    """The path that the server draws from what is kept."""
    (found,) = photographs(live)
    svg = draw_marks(found.marks, found.width_px, found.height_px)
    return svg.split('d="')[1].split('"')[0] if svg else ""


def test_take_mark_record_is_four_taps(live: Live, walking: Page, fault: Path) -> None:
    hand, card = Hand(walking), walking.locator(f"#{RULE}")

    hand.tap(card.get_by_text("Something is wrong"))
    hand.photograph(card.locator("details .photo-button"), fault)
    hand.tap(card.locator(".photo-marks"), at=(0.43, 0.5))
    hand.tap(card.get_by_role("button", name="Record as wrong"))
    expect(card.locator(".card-said")).to_be_visible()
    all_sent(walking)

    assert hand.count == 4, hand.taps
    (found,), (seen,) = photographs(live), log(live)
    assert seen.photographs == (found.id,)
    assert (found.subject_kind, found.subject_id) == (seen.subject.kind, seen.subject.id)
    (mark,) = found.marks
    assert mark["kind"] == "circle"
    # around the tap, and round on a picture of four by three
    assert (mark["x"] + mark["to_x"]) / 2 == pytest.approx(0.43, abs=0.01)
    assert (mark["y"] + mark["to_y"]) / 2 == pytest.approx(0.5, abs=0.01)
    assert (mark["to_x"] - mark["x"]) * 1200 == pytest.approx((mark["to_y"] - mark["y"]) * 900, abs=2)


def test_the_card_shows_the_photograph_with_its_mark_as_soon_as_it_has_arrived(
    live: Live, walking: Page, fault: Path
) -> None:
    card = walking.locator(f"#{RULE}")
    recorded(live, walking, fault)

    expect(card.get_by_role("link", name="Photograph")).to_be_visible()
    walking.reload()
    expect(walking.locator(f"#{RULE} .thumb img")).to_be_visible()


def test_a_drag_makes_an_arrow_or_a_circle_of_its_size_and_the_last_is_taken_back(
    live: Live, walking: Page, fault: Path
) -> None:
    walking.goto(recorded(live, walking, fault))
    # what is measured before the picture is there and drawn lies elsewhere afterwards
    walking.wait_for_function(
        "() => { const image = document.querySelector('.picture img'); return image.complete && image.naturalWidth > 0; }"
    )
    box = walking.locator(".photo-marks").bounding_box()
    assert box is not None

    def drag(x: float, y: float, to_x: float, to_y: float) -> None:
        walking.mouse.move(box["x"] + box["width"] * x, box["y"] + box["height"] * y)
        walking.mouse.down()
        walking.mouse.move(box["x"] + box["width"] * to_x, box["y"] + box["height"] * to_y, steps=4)
        walking.mouse.up()

    drag(0.3, 0.3, 0.6, 0.7)
    walking.get_by_role("button", name="Arrow").click()
    drag(0.9, 0.9, 0.55, 0.6)
    drag(0.1, 0.1, 0.3, 0.1)
    walking.get_by_role("button", name="Take the last back").click()
    shown = drawn(walking)
    expect(walking.locator(".marking-state")).to_have_count(0)
    walking.get_by_role("button", name="Save the marks").click()
    expect(walking.locator(".marking-state")).to_have_text("Marks saved.")

    circle, arrow = photographs(live)[0].marks
    assert (circle["kind"], arrow["kind"]) == ("circle", "arrow")
    assert [circle[name] for name in ("x", "y", "to_x", "to_y")] == pytest.approx(
        [0.3, 0.3, 0.6, 0.7], abs=0.005
    )
    assert [arrow[name] for name in ("x", "y", "to_x", "to_y")] == pytest.approx(
        [0.9, 0.9, 0.55, 0.6], abs=0.005
    )
    assert shown == as_kept(live), "what was drawn is not what is shown afterwards"
    walking.get_by_role("link", name="Back to the walk").click()
    assert walking.locator(f"#{RULE} .photo-marks path").last.get_attribute("d") == shown


def test_opened_from_the_card_a_mark_is_two_taps_more(live: Live, walking: Page, fault: Path) -> None:
    recorded(live, walking, fault)
    walking.reload()
    hand = Hand(walking)

    hand.tap(walking.locator(f"#{RULE} .thumb"))
    hand.tap(walking.locator(".photo-marks"), at=(0.5, 0.5))
    hand.tap(walking.get_by_role("button", name="Save the marks"))
    expect(walking.locator(".marking-state")).to_have_text("Marks saved.")

    assert hand.count == 3
    assert len(photographs(live)[0].marks) == 1


def test_marks_are_made_with_the_keyboard_alone(live: Live, walking: Page, fault: Path) -> None:
    walking.goto(recorded(live, walking, fault))
    walking.get_by_role("button", name="Arrow").focus()
    walking.keyboard.press("Enter")
    walking.locator(".photo-marks").focus()
    for _ in range(5):
        walking.keyboard.press("ArrowLeft")
    walking.keyboard.press("ArrowUp")
    assert walking.locator("input[name=marks]").input_value() == "[]", "not put yet"
    walking.keyboard.press("Enter")
    walking.keyboard.press("Enter")
    expect(walking.locator("#live")).to_contain_text("2 on the picture")
    walking.keyboard.press("Backspace")
    walking.get_by_role("button", name="Save the marks").focus()
    walking.keyboard.press("Enter")
    expect(walking.locator(".marking-state")).to_have_text("Marks saved.")

    (mark,) = photographs(live)[0].marks
    assert mark["kind"] == "arrow"
    assert (mark["to_x"], mark["to_y"]) == pytest.approx((0.4, 0.48))


def test_shift_and_an_arrow_key_change_the_size_and_escape_puts_nothing(
    live: Live, walking: Page, fault: Path
) -> None:
    walking.goto(recorded(live, walking, fault))
    board = walking.locator(".photo-marks")
    board.focus()
    walking.keyboard.press("ArrowDown")
    assert drawn(walking)
    walking.keyboard.press("Escape")
    assert drawn(walking) == ""
    walking.keyboard.press("Shift+ArrowRight")
    for _ in range(60):
        walking.keyboard.press("ArrowRight")
    walking.keyboard.press("Enter")

    (mark,) = walking.evaluate("JSON.parse(document.querySelector('input[name=marks]').value)")
    assert mark["to_x"] - mark["x"] == pytest.approx(2 * 0.09 + 0.02, abs=0.001), "the edge keeps it whole"
    assert 0.97 <= mark["to_x"] <= 1


def test_without_signal_a_photograph_is_marked_and_both_arrive_together(
    live: Live, walking: Page, context: BrowserContext, fault: Path
) -> None:
    context.set_offline(True)
    card = walking.locator(f"#{RULE}")
    card.get_by_text("Something is wrong").click()
    card.locator("details input[type=file]").set_input_files(fault)
    card.locator(".photo-marks").click()
    card.get_by_role("button", name="Record as wrong").click()
    expect(walking.locator("#outbox")).to_contain_text("2 not yet sent")
    assert [
        entry["told"] for entry in walking.evaluate("Studbay.outbox.all()") if entry["kind"] == "photo"
    ] == ["with its marks"]

    context.set_offline(False)
    all_sent(walking)

    assert len(photographs(live)[0].marks) == 1


def test_marks_made_later_without_signal_wait_in_the_outbox(
    live: Live, walking: Page, context: BrowserContext, fault: Path
) -> None:
    walking.goto(recorded(live, walking, fault))
    context.set_offline(True)
    walking.locator(".photo-marks").click()
    walking.get_by_role("button", name="Save the marks").click()
    expect(walking.locator(".marking-state")).to_have_text("Saved on this tablet.")
    expect(walking.locator("#outbox")).to_contain_text("1 not yet sent")
    assert photographs(live)[0].marks == ()

    context.set_offline(False)
    all_sent(walking)

    assert len(photographs(live)[0].marks) == 1


def test_whoever_has_a_link_sees_marks_and_makes_none(
    live: Live, walking: Page, context: BrowserContext, fault: Path
) -> None:
    address = recorded(live, walking, fault)
    walking.goto(address)
    walking.locator(".photo-marks").click()
    walking.get_by_role("button", name="Save the marks").click()
    expect(walking.locator(".marking-state")).to_have_text("Marks saved.")
    assert live.cast is not None
    now = datetime.now(UTC)
    with writing(live.engine) as session:
        token = make_link(session, live.cast["hugo"], "job-1", "the inspector", now + timedelta(days=1), now)
    context.clear_cookies()
    walking.goto(f"{live.url}/guest/{token}")

    walking.goto(address)

    assert drawn(walking) == as_kept(live) != ""
    expect(walking.get_by_role("button", name="Circle")).to_have_count(0)


def test_the_pages_with_photographs_are_accessible(
    live: Live, walking: Page, shots: Path, fault: Path
) -> None:
    address = recorded(live, walking, fault)
    walking.goto(address)
    walking.locator(".photo-marks").click(position={"x": 300, "y": 250})
    walking.get_by_role("button", name="Arrow").click()
    walking.locator(".photo-marks").click(position={"x": 420, "y": 330})
    walking.get_by_role("button", name="Save the marks").click()
    expect(walking.locator(".marking-state")).to_have_text("Marks saved.")
    states = {
        "photograph": address,
        "room-with-photograph": live.url + ROOM,
        "walk-with-photograph": live.url + WALK,
    }
    for name, path in states.items():
        for size, theme in TWO_LOOKS:
            wide, high = SIZES[size]
            walking.set_viewport_size({"width": wide, "height": high})
            walking.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
            walking.goto(path)
            if name == "walk-with-photograph":
                # a photograph that was just taken, on the card
                card = walking.locator("#box-whole")
                card.get_by_text("Something is wrong").click()
                card.locator("details input[type=file]").set_input_files(fault)
                card.locator(".photo-marks").click()
                # the heading sticks: scrolled, it lies over what axe then takes for too small
                walking.evaluate("scrollTo(0, 0)")
            assert_accessible(walking)
            if name == "walk-with-photograph":
                card.locator(".picture").scroll_into_view_if_needed()
            elif name == "room-with-photograph":
                walking.locator("#photographs").scroll_into_view_if_needed()
            picture(walking, shots / f"{name}-{size}-{theme}.png")


@pytest.mark.parametrize("size", ["tablet", "telephone"])
def test_the_page_keeps_the_room_of_a_photograph_that_has_not_come_yet(
    live: Live, walking: Page, fault: Path, size: str
) -> None:
    address = recorded(live, walking, fault)
    waiting: list[Any] = []
    walking.set_viewport_size({"width": SIZES[size][0], "height": SIZES[size][1]})
    walking.context.route(
        "**/photographs/*",
        lambda route: waiting.append(route) if "/view" not in route.request.url else route.continue_(),
    )
    walking.goto(address, wait_until="commit")
    picture = walking.locator(".marking .picture img")
    expect(walking.locator(".marking .marking-end")).to_be_attached()

    before = picture.bounding_box()
    for _ in range(100):
        if waiting:
            break
        walking.wait_for_timeout(50)
    for route in waiting:
        route.continue_()
    expect(picture).to_have_js_property("naturalWidth", 1200)
    after = picture.bounding_box()

    assert waiting, "the photograph was held back"
    assert before == after
    assert after is not None
    assert after["width"] / after["height"] == pytest.approx(4 / 3, abs=0.01)
