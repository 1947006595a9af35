"""Circuits in the browser: a three-location stair light from scratch on the tablet, its plan, its cards on paper.

Taps and keystrokes are counted and printed; their limits stand in the tests. Every page is asked by axe and by a ruler.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect
from pypdf import PdfReader

from server.dwelling import Dwelling, SwitchWays
from server.store.engine import reading
from server.store.houses import load_house
from tests.browser.accessibility import look, picture
from tests.browser.conftest import Live
from tests.browser.test_entry import Hand
from tests.cast import CREW
from tests.pages.circuit_houses import stair_house
from tests.pages.houses import put_house

pytestmark = pytest.mark.browser
JOB = "/jobs/job-1"


@pytest.fixture
def stair(live: Live) -> str:
    """A stair with four boxes and their devices, no circuit drawn."""
    return put_house(live.engine, CREW, stair_house(drawn=False))


@pytest.fixture
def drawn(live: Live) -> str:
    """The same with its circuit drawn, two cables of it short of a conductor."""
    return put_house(live.engine, CREW, stair_house(2, 2, 2, 2))


def house_of(live: Live) -> Dwelling:
    with reading(live.engine) as session:
        return load_house(session, "job-1")


def box(page: Page, label: str) -> Callable[[], None]:
    return lambda: page.get_by_role("button", name=label).first.click()


def test_a_three_location_stair_light_is_drawn_planned_and_printed(
    live: Live, page: Page, stair: str, shots: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As somebody learning would: everything in two-wire cable, then the plan's own cables with one tap."""
    live.sign_in(page, "elena")
    page.goto(live.url + JOB + "/panels")
    hand = Hand(page)

    hand.link("Add a circuit")
    hand.type("Name", "Stair")
    hand.button("Add the circuit and draw its run")
    hand.tap(page.locator(".run-rooms a", has_text="Stair"))
    for label in ("S1", "S2", "S3", "L1"):
        hand.tap(page.locator(".tap-box", has_text=label))
        expect(page.locator(".pull-from strong")).to_have_text(f"Stair {label}")
    expect(page.locator(".run-answer")).to_contain_text("Cable 2 (14-2) needs 3 conductors")
    hand.button("Put these cables in the run")
    expect(page.locator(".run-answer")).to_contain_text("It can be wired: 10 conductors in use")
    hand.link("Hookup, box by box")
    expect(page.locator(".hookup-card")).to_have_count(5)
    printed: list[bool] = []
    page.expose_function("wasPrinted", lambda: printed.append(True))
    page.evaluate("() => { window.print = () => window.wasPrinted(); }")
    hand.button("Print: one box on each card")

    with capsys.disabled():
        print("\n" + hand.told("a three-location stair light, from an empty circuit to its cards"))
    assert printed == [True]
    assert hand.taps <= 12
    house = house_of(live)
    circuit = next(each for each in house.facts.circuits if each.name == "Stair")
    cables = house.cables_of_circuit[circuit.id]
    assert [cable.insulated for cable in cables] == [2, 3, 3, 2]
    picture(page, shots / "stair-plan.png")


def test_from_an_empty_stair_the_switches_come_out_right(
    live: Live, page: Page, capsys: pytest.CaptureFixture[str]
) -> None:
    """From nothing at all: the room laid out, a third switch placed, the circuit drawn, its switches and cables fitted."""
    house = stair_house(drawn=False)
    for box_id in ("box-1", "box-2", "box-3", "box-4"):
        house.remove(box_id)
    for device in list(house.facts().devices):
        if device.box_id in ("box-1", "box-2", "box-3", "box-4"):
            house.remove(device.id)
    house.remove("cable-3")
    house.remove("room-2")
    for wall in list(house.facts().walls):
        if wall.room_id == "room-2":
            house.remove(wall.id)
    put_house(live.engine, CREW, house)
    live.sign_in(page, "elena")
    page.goto(live.url + JOB + "/rooms")
    hand = Hand(page)

    hand.link("Add a room")
    hand.tap(page.get_by_label("Stair", exact=True))
    hand.button("Add the room")
    hand.link("Place boxes")
    hand.tap(page.locator("a[data-wall]").first)
    hand.tap(page.get_by_role("button", name="Three-way switch"))
    page.goto(live.url + JOB + "/panels")
    hand.taps += 1  # Circuits in the bar
    hand.link("Add a circuit")
    hand.button("Add the circuit and draw its run")
    hand.tap(page.locator(".run-rooms a", has_text="Stair"))
    for label in ("S1", "S3", "S2", "L1"):
        hand.tap(page.locator(".tap-box", has_text=label))
        expect(page.locator(".pull-from strong")).to_have_text(f"Stair {label}")
    hand.link("Hookup, box by box")
    hand.tap(page.get_by_role("button", name="Stair L1 (luminaire)"))
    hand.tap(page.get_by_role("button", name="Fit"))
    hand.tap(page.get_by_role("button", name="in the run"))
    expect(page.locator(".answer")).to_contain_text("It can be wired")

    with capsys.disabled():
        print("\n" + hand.told("the same from an empty job, with the room and its boxes"))
    assert hand.taps <= 24
    ways = sorted(
        str(device.ways)
        for device in house_of(live).facts.devices
        if device.ways is not SwitchWays.SINGLE_POLE and device.ways
    )
    assert ways == ["four-way", "three-way", "three-way"]


def test_without_a_script_the_run_is_drawn_all_the_same(live: Live, chromium: object, stair: str) -> None:
    context: BrowserContext = chromium.new_context(
        viewport={"width": 820, "height": 1180}, java_script_enabled=False
    )  # type: ignore[attr-defined]
    page = context.new_page()
    live.sign_in(page, "elena")
    page.goto(live.url + JOB + "/circuits/circuit-1/run?room=room-2")
    page.get_by_text("14-3").first.click()
    for label in ("S1", "S2"):
        page.locator(".tap-box", has_text=label).click()
        page.wait_for_load_state()
    expect(page.locator(".said").first).to_contain_text("14-3 from Stair S1 to Stair S2")
    page.locator(".said").get_by_role("button", name="Undo").click()
    expect(page.locator(".leg")).to_have_count(1)
    context.close()


def test_a_box_in_the_drawing_is_tapped_like_its_button(live: Live, page: Page, stair: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + JOB + "/circuits/circuit-1/run?room=room-2")
    page.get_by_text("Tap in the drawing instead").click()
    page.locator('.run-drawings a[href="#tap-box-2"]').first.dispatch_event("click")

    expect(page.locator(".pull-from strong")).to_have_text("Stair S1")
    expect(page.locator("#run-drawings")).to_have_attribute("open", "")
    expect(page.locator("#live")).to_contain_text("14-2 from Panel A to Stair S1")
    assert len(house_of(live).cables_of_circuit["circuit-1"]) == 1


def test_the_pressed_box_keeps_the_focus_for_the_keyboard(live: Live, page: Page, stair: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + JOB + "/circuits/circuit-1/run?room=room-2")
    page.locator("#tap-box-3").focus()
    page.keyboard.press("Enter")

    expect(page.locator("#tap-box-3")).to_have_attribute("aria-current", "true")
    expect(page.locator("#tap-box-3")).to_be_focused()


def test_the_cards_print_one_box_on_a_page(
    live: Live, page: Page, stair: str, tmp_path: Path, shots: Path
) -> None:
    house = stair_house(prefix="p-")
    put_house(live.engine, CREW, house, job_id="job-2")
    live.sign_in(page, "gus")
    page.goto(live.url + "/jobs/job-2/circuits/p-circuit-1/hookup")
    paper = tmp_path / "cards.pdf"
    page.pdf(path=paper, prefer_css_page_size=True, print_background=False)
    pages = [part.extract_text() for part in PdfReader(paper).pages]
    subprocess.run(["pdftoppm", "-r", "60", "-png", str(paper), str(shots / "cards")], check=True)

    cards = [text for text in pages if "proved dead before you touch it" in text]
    assert len(cards) == 5
    for name, text in zip(("Panel A", "Stair S1", "Stair S2", "Stair S3", "Stair L1"), cards, strict=True):
        assert name in text.splitlines()[0] or name in text[:120]
        assert text.count("proved dead before you touch it") == 1
    assert "Tried in every position" in pages[0] + pages[1]
    assert len(pages) <= 7


PAGES = {
    "panels": f"{JOB}/panels", "panel": f"{JOB}/panels/panel-1", "panel-form": f"{JOB}/panels/panel-1/edit", "panel-new": f"{JOB}/panels/new",
    "circuit": f"{JOB}/circuits/circuit-1", "circuit-two": f"{JOB}/circuits/circuit-2", "circuit-new": f"{JOB}/circuits/new",
    "run": f"{JOB}/circuits/circuit-1/run", "run-load-side": f"{JOB}/circuits/circuit-2/run?at=box-5", "run-insert": f"{JOB}/circuits/circuit-1/run?leg=cable-2&mode=insert",
    "hookup-short": f"{JOB}/circuits/circuit-1/hookup", "hookup": f"{JOB}/circuits/circuit-2/hookup", "box-hookup": f"{JOB}/boxes/box-5/hookup",
    "cable": f"{JOB}/cables/cable-2", "cable-form": f"{JOB}/cables/cable-2/edit", "cable-new": f"{JOB}/cables/new",
}  # fmt: skip


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_circuits_is_accessible(live: Live, page: Page, shots: Path, drawn: str, name: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + PAGES[name])

    look(page, shots, f"circuits-{name}")


def test_the_circuit_form_is_accessible_after_a_mistake(
    live: Live, page: Page, shots: Path, drawn: str
) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + f"{JOB}/circuits/new")
    page.get_by_label("Spaces in the panel").fill("1")
    page.get_by_role("button", name="Add the circuit and draw its run").click()

    expect(page.get_by_role("alert")).to_be_focused()
    look(page, shots, "circuits-circuit-wrong")
