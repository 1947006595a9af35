"""The first day of somebody new: an empty database, an account, a job, a room laid out, walked, and on paper.

Taps and keys are counted and printed with the seconds that the browser took; the seconds decide nothing.
"""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader
from sqlalchemy import Engine

from server.dwelling import Answer
from server.store.engine import reading
from server.store.houses import load_house
from tests.browser.conftest import Live, serve
from tests.browser.test_entry import Hand

pytestmark = pytest.mark.browser


def walk_everything(hand: Hand) -> None:
    """What is asked of the room: the looks of each part together, what is measured together, then what is left."""
    page = hand.page
    together = page.locator(".walk-part .part-all")
    for number in range(together.count()):
        if together.nth(number).is_visible():
            hand.tap(together.nth(number).locator("button[value=right]"))
            expect(together.nth(number)).to_be_hidden()
    for name in page.locator(".walk-part .card").evaluate_all("cards => cards.map(card => card.id)"):
        card = page.locator(f"#{name}")
        if "to see" in (card.locator(".card-count").text_content() or ""):
            hand.tap(card.locator("button[value=right]").first)
            expect(card.locator(".card-said")).to_be_visible()


def test_from_an_empty_database_to_a_room_on_paper(
    engine: Engine, page: Page, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    live: Live
    for live in serve(engine, None, data_dir=tmp_path):
        hand = Hand(page)
        page.goto(live.url)
        hand.type("Your name", "Ana Ruiz")
        hand.next_field("ana")
        hand.next_field("ladder copper blue seven")
        hand.next_field("Ruiz Wiring")
        hand.button("Make the account and begin")

        hand.link("Set up the first job")
        hand.type("Name of the job", "Alder Court")
        hand.button("Set up the job")
        hand.link("Add the first room")
        hand.tap(page.get_by_label("Bedroom", exact=True))
        hand.type("Length", "13-6")
        hand.next_field("11-4")
        hand.button("Add the room")
        expect(page.get_by_role("status").first).to_contain_text("Bedroom laid out")

        hand.link("Walk this room", exact=False)
        page.wait_for_url("**/walk")
        walk_everything(hand)
        expect(page.locator("#walk-counts")).to_contain_text("0 left to look at")

        hand.link("Packet")
        hand.button("Make the PDF")
        done = page.get_by_role("link", name="Open the PDF")
        done.wait_for(timeout=120_000)
        path = done.get_attribute("href")
        hand.taps += 1  # the document opens outside of the page
        content = page.request.get(live.url + (path or "")).body()

        job_id = page.url.split("/jobs/")[1].split("/")[0]
        with reading(engine) as session:
            facts = load_house(session, job_id).facts
        looked = [seen for seen in facts.observations if seen.answer is Answer.RIGHT]
        words = " ".join(sheet.extract_text() for sheet in PdfReader(BytesIO(content)).pages)
        with capsys.disabled():
            print("\n" + hand.told("from an empty database to a room on paper"))
        assert len(looked) >= 15
        assert {seen.by for seen in looked} == {"Ana Ruiz"}
        assert "Alder Court" in words
        assert "13 ft 6 in x 11 ft 4 in" in words
        assert "Ana Ruiz" in words, "who looked stands on paper"
        assert hand.taps <= 25
