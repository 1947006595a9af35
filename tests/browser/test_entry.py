"""Entering a house in the browser: a bedroom, a kitchen with an island from a sketch, boxes tapped onto walls.

Taps and keystrokes are counted and printed; their limits stand in the tests.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from server.dwelling import BreakKind, CounterKind, Dwelling, FixtureKind, OpeningKind
from server.store.engine import reading
from server.store.houses import load_house
from tests.browser.accessibility import look, picture
from tests.browser.conftest import SIZES, Live
from tests.cast import CREW
from tests.pages.houses import bedroom_house, kitchen_house, put_house

pytestmark = pytest.mark.browser
KITCHEN = "/jobs/job-1/rooms/room-1"


@dataclass
class Hand:
    """A hand on a tablet that counts what it does."""

    page: Page
    taps: int = 0
    keys: int = 0
    began: float = field(default_factory=time.monotonic)

    def tap(self, what: Locator) -> None:
        what.click()
        self.taps += 1

    def button(self, name: str) -> None:
        self.tap(self.page.get_by_role("button", name=name, exact=True))

    def link(self, name: str, exact: bool = True) -> None:
        self.tap(self.page.get_by_role("link", name=name, exact=exact).first)

    def type(self, label: str, text: str) -> None:
        """A tap into a field and its keys."""
        where = self.page.get_by_label(label).first
        self.tap(where)
        where.fill(text)
        self.keys += len(text)

    def next_field(self, text: str) -> None:
        """Tab to the next field and type: no tap."""
        self.page.keyboard.press("Tab")
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)
        self.keys += 1 + len(text)

    def choose(self, label: str, option: str) -> None:
        """A list: one tap opens it, one chooses."""
        self.page.get_by_label(label).first.select_option(label=option)
        self.taps += 2

    def told(self, what: str) -> str:
        return f"{what}: {self.taps} taps, {self.keys} keys, {time.monotonic() - self.began:.1f} s"


def house_of(live: Live) -> Dwelling:
    with reading(live.engine) as session:
        return load_house(session, "job-1")


@pytest.fixture
def kitchen(live: Live) -> str:
    return put_house(live.engine, CREW, kitchen_house())


def test_a_typical_bedroom_takes_at_most_twelve_taps(
    live: Live, page: Page, capsys: pytest.CaptureFixture[str]
) -> None:
    put_house(live.engine, CREW, bedroom_house())
    live.sign_in(page, "elena")
    page.goto(live.url + "/jobs/job-1/rooms")
    hand = Hand(page)

    hand.link("Add a room")
    hand.tap(page.get_by_label("Bedroom", exact=True))
    hand.type("Length", "13-6")
    hand.next_field("11-4")
    hand.button("Add the room")
    expect(page.get_by_role("status").first).to_contain_text("Bedroom laid out")
    # what differs on site: the second switch leg, a receptacle more beside the bed
    hand.link("Place boxes")
    hand.link("Wall 3")
    wall = page.locator("a[data-wall] .d-hit").bounding_box()
    assert wall is not None
    page.mouse.click(wall["x"] + wall["width"] * 0.25, wall["y"] + wall["height"] * 0.8)
    hand.taps += 1
    hand.tap(page.get_by_role("button", name="Receptacle 15 A duplex"))
    hand.link("Done")

    with capsys.disabled():
        print("\n" + hand.told("a typical bedroom"))
    assert hand.taps <= 12
    house = house_of(live)
    (room,) = [each for each in house.facts.rooms if each.name == "Bedroom"]
    assert len(house.boxes_of_room[room.id]) >= 7
    expect(page.get_by_text("Too far without a receptacle")).to_have_count(0)


def test_a_kitchen_with_an_island_is_entered_from_a_sketch(
    live: Live, page: Page, shots: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A homeowner's sketch: 14-3 by 12-6, a door and a window, counters along two walls, an island, four appliances."""
    put_house(live.engine, CREW, bedroom_house())
    live.sign_in(page, "elena")
    page.goto(live.url + "/jobs/job-1/rooms")
    hand = Hand(page)

    hand.link("Add a room")
    hand.tap(page.get_by_label("Kitchen", exact=True))
    hand.type("Length", "14-3")
    hand.next_field("12-6")
    hand.tap(page.get_by_label("Lay out this room", exact=False))
    hand.button("Add the room")
    hand.link("Enter the walls")
    hand.button("Save the walls")
    hand.link("Add to wall 1")
    hand.type("Begins at", "8")
    page.keyboard.press("Tab")
    hand.next_field("32")
    hand.button("Save")
    hand.link("Add to wall 3")
    hand.tap(page.get_by_label("window", exact=True))
    hand.type("Begins at", "5-6")
    page.keyboard.press("Tab")
    hand.next_field("48")
    hand.next_field("42")
    hand.button("Save")
    # counters: all of wall 3, and wall 2 from its corner
    hand.link("Add a counter")
    hand.link("Wall 3")
    hand.type("Length", "14-3")
    hand.button("Save and add another")
    hand.link("Wall 2")
    hand.type("Begins at", "5-6")
    page.keyboard.press("Tab")
    hand.next_field("7'")
    hand.button("Save and add another")
    hand.tap(page.get_by_label("island", exact=True))
    hand.choose("Along or out from", "No wall")
    hand.type("Length", "6'")
    hand.next_field("36")
    hand.button("Save")
    hand.tap(page.get_by_role("link", name="Add a sink or range to the wall counter on wall 3, 14 ft 3 in"))
    hand.type("Begins at", "6-2")
    hand.next_field("33")
    hand.next_field("3")
    hand.button("Save")
    hand.tap(page.get_by_role("link", name="Add a sink or range to the wall counter on wall 2, 7 ft"))
    hand.tap(page.get_by_label("range", exact=True))
    hand.type("Begins at", "30")
    hand.next_field("30")
    hand.button("Save")
    for place, (kind, wall, at) in enumerate(
        (("range", "Wall 2", "9-3"), ("refrigerator", "Wall 4", "3-6"), ("dishwasher", "Wall 3", "5-0"))
    ):
        if place == 0:
            hand.link("Add a fixture or appliance")
        hand.link(wall)
        hand.choose("What is it?", kind)
        hand.type("Its middle at", at)
        hand.button("Save" if kind == "dishwasher" else "Save and add another")
    picture(page, shots / "sketch-walls.png")
    hand.link("Done")
    hand.button("Lay out this room")
    expect(page.get_by_role("status").first).to_contain_text("Kitchen laid out")
    picture(page, shots / "sketch-laid-out.png")

    with capsys.disabled():
        print("\n" + hand.told("own kitchen with island"))
    house = house_of(live)
    (room,) = [each for each in house.facts.rooms if each.name == "Kitchen"]
    walls = house.walls_of_room[room.id]
    assert [wall.length_in for wall in walls] == [171, 150, 171, 150]
    assert [(item.kind, item.from_in, item.to_in) for wall in walls for item in house.openings_of_wall.get(wall.id, ())] == [
        (OpeningKind.DOOR, 8, 40), (OpeningKind.WINDOW, 66, 114),
    ]  # fmt: skip
    counters = house.counters_of_room[room.id]
    assert [(item.kind, item.length_in, item.depth_in) for item in counters] == [
        (CounterKind.WALL, 171, 25), (CounterKind.WALL, 84, 25), (CounterKind.ISLAND, 72, 36),
    ]  # fmt: skip
    breaks = [item for counter in counters for item in house.breaks_of_counter.get(counter.id, ())]
    assert [(item.kind, item.from_in, item.to_in) for item in breaks] == [
        (BreakKind.SINK, 74, 107),
        (BreakKind.RANGE, 30, 60),
    ]
    assert [(item.kind, item.at_in) for item in house.fixtures_of_room[room.id]] == [
        (FixtureKind.RANGE, 111), (FixtureKind.REFRIGERATOR, 42), (FixtureKind.DISHWASHER, 60),
    ]  # fmt: skip
    served = {device.serves for device in house.devices_in_room(room.id)}
    assert {"countertop", "range", "refrigerator", "dishwasher"} <= served
    expect(page.get_by_text("Too far without a receptacle")).to_have_count(0)
    assert hand.taps <= 75


@pytest.mark.parametrize("part", [0.1, 0.5, 0.83])
@pytest.mark.parametrize("size", ["tablet", "telephone"])
def test_a_tap_on_the_wall_is_its_place_within_an_inch(
    live: Live, page: Page, kitchen: str, size: str, part: float
) -> None:
    page.set_viewport_size({"width": SIZES[size][0], "height": SIZES[size][1]})
    live.sign_in(page, "elena")
    page.goto(live.url + f"{KITCHEN}/boxes/new?wall=wall-2")
    page.evaluate("document.querySelector('[data-place]').scrollLeft = 9999" if part > 0.5 else "0")
    wall = page.locator("a[data-wall] .d-hit").bounding_box()
    assert wall is not None

    page.mouse.click(wall["x"] + wall["width"] * part, wall["y"] + wall["height"] * 0.7)

    expect(page.locator("path[data-spot]")).to_have_count(1)
    page.get_by_role("button", name="Receptacle 15 A duplex").click()
    expect(page.get_by_role("status").first).to_contain_text("placed on Wall 2")
    (box,) = [each for each in house_of(live).boxes_of_room["room-1"] if each.wall_id == "wall-2"]
    assert box.at_in is not None
    assert abs(float(box.at_in) - 144 * part) <= 1


def test_a_tap_on_the_bare_wall_of_the_room_carries_its_place(live: Live, page: Page, kitchen: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + KITCHEN)
    hit = page.locator('a[data-wall="wall-4"] .d-hit')
    hit.scroll_into_view_if_needed()
    wall = hit.bounding_box()
    assert wall is not None

    page.mouse.click(wall["x"] + wall["width"] / 2, wall["y"] + wall["height"] / 2)

    expect(page.locator("#at_in")).to_have_value("6' 0\"")
    expect(page.locator('.tabs [aria-current="true"]')).to_have_text("Wall 4")


def test_a_tap_on_the_plan_places_a_light_there(live: Live, page: Page, kitchen: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + f"{KITCHEN}/boxes/new?surface=ceiling")
    plan = page.locator("a[data-plan-wide] .d-hit").bounding_box()
    assert plan is not None

    page.mouse.click(plan["x"] + plan["width"] * 0.25, plan["y"] + plan["height"] * 0.25)
    page.get_by_role("button", name="Ceiling light").click()

    expect(page.get_by_role("status").first).to_contain_text("placed on the ceiling")
    made = house_of(live).boxes_of_room["room-1"][-1]
    assert made.x_in is not None
    assert made.y_in is not None
    assert abs(made.x_in - Fraction(42)) <= 1
    assert abs(made.y_in - Fraction(36)) <= 1


def test_boxes_are_reached_and_opened_with_the_keyboard(live: Live, page: Page, kitchen: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + KITCHEN)
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement?.dataset?.box") == "box-2":
            break
    else:
        pytest.fail("the box is not reached with Tab")

    page.keyboard.press("Enter")

    expect(page.get_by_role("heading", level=1)).to_have_text("S1")


def test_the_wall_is_followed_with_the_keyboard_without_a_place(live: Live, page: Page, kitchen: str) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + KITCHEN)

    page.locator('a[data-wall="wall-2"]').focus()
    page.keyboard.press("Enter")

    expect(page.locator("#at_in")).to_have_value("")
    expect(page.locator('.tabs [aria-current="true"]')).to_have_text("Wall 2")


def test_boxes_and_walls_are_entered_without_a_script(live: Live, chromium: Browser, kitchen: str) -> None:
    context = chromium.new_context(java_script_enabled=False, viewport={"width": 820, "height": 1180})
    page = context.new_page()
    live.sign_in(page, "elena")
    page.goto(live.url + KITCHEN)
    page.get_by_role("link", name="Place boxes").click()
    page.get_by_role("link", name="Wall 2", exact=True).click()
    page.get_by_label("How far along").fill("6' 2 1/2\"")
    page.get_by_label("Move it to the nearest stud").check()
    page.get_by_role("button", name="GFCI receptacle").click()

    expect(page.get_by_role("status").first).to_contain_text("GFCI receptacle R1 placed on Wall 2 at")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("status").first).to_contain_text("Undone")
    page.goto(live.url + f"{KITCHEN}/walls")
    page.get_by_role("link", name="Add to wall 4").click()
    page.get_by_label("fireplace").check()
    page.get_by_label("Begins at").fill("36")
    page.get_by_label("Width").fill("6'")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("status").first).to_contain_text("Fireplace added")
    context.close()


def test_the_gaps_are_mended_with_one_tap(live: Live, page: Page) -> None:
    put_house(live.engine, CREW, bedroom_house(boxes=1))
    live.sign_in(page, "elena")
    page.goto(live.url + KITCHEN)
    expect(page.locator(".d-gap").first).to_be_attached()

    page.get_by_role("button", name="Add these").click()

    expect(page.get_by_role("status").first).to_contain_text("where the spacing asked for it")
    expect(page.locator(".d-gap")).to_have_count(0)


def test_what_was_typed_stays_after_a_mistake_and_the_fields_are_named(
    live: Live, page: Page, kitchen: str
) -> None:
    live.sign_in(page, "elena")
    page.goto(live.url + "/jobs/job-1/boxes/box-2/edit")
    page.get_by_label("How far along the wall").fill("15'")
    page.get_by_label("Note").fill("behind the door")
    page.get_by_role("button", name="Save the box").click()

    expect(page.get_by_role("alert")).to_be_focused()
    expect(page.get_by_label("Note")).to_have_value("behind the door")
    expect(page.get_by_label("How far along the wall")).to_have_attribute("aria-invalid", "true")


PAGES = {
    "room-gaps": "/jobs/job-2/rooms/g-room-1",
    "place-wall": f"{KITCHEN}/boxes/new?wall=wall-3",
    "place-ceiling": f"{KITCHEN}/boxes/new?surface=ceiling",
    "box": "/jobs/job-1/boxes/box-2",
    "box-edit": "/jobs/job-1/boxes/box-2/edit",
    "device-switch": "/jobs/job-1/devices/device-2",
    "device-luminaire": "/jobs/job-1/devices/device-1",
    "device-receptacle": "/jobs/job-2/devices/g-device-1",
    "walls": f"{KITCHEN}/walls",
    "walls-none": "/jobs/job-3/rooms/n-room-1/walls",
    "opening": f"{KITCHEN}/parts/opening/new?wall=wall-1",
    "counter": f"{KITCHEN}/parts/counter/counter-1",
    "break": f"{KITCHEN}/parts/break/break-1",
    "fixture": f"{KITCHEN}/parts/fixture/fixture-1",
    "copy": f"{KITCHEN}/copy",
    "levels": "/jobs/job-1/levels",
    "import": "/jobs/job-1/import",
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_entry_is_accessible_in_every_size_and_both_themes(
    live: Live, page: Page, shots: Path, kitchen: str, name: str
) -> None:
    put_house(live.engine, CREW, bedroom_house(prefix="g-", boxes=1), job_id="job-2")
    empty = bedroom_house(prefix="n-", boxes=0)
    for wall in range(1, 5):
        empty.remove(empty.wall_of("n-room-1", wall))
    put_house(live.engine, CREW, empty, job_id="job-3")
    live.sign_in(page, "elena")
    page.goto(live.url + PAGES[name])
    for summary in page.locator("main details.unfold:not(.why) > summary").all():
        if summary.is_visible():
            summary.click()

    look(page, shots, f"entry-{name}")


def test_the_preview_of_an_import_is_accessible(
    live: Live, page: Page, shots: Path, kitchen: str, tmp_path: Path
) -> None:
    table = tmp_path / "rooms.csv"
    table.write_text(
        "room,wall,length,turn\n"
        + "".join(f"A very long name of a room indeed,{n},12',90\n" for n in range(1, 5))
    )
    live.sign_in(page, "elena")
    page.goto(live.url + "/jobs/job-1/import")
    page.set_input_files("#file", table)
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("1 room in rooms.csv")

    look(page, shots, "entry-preview")
