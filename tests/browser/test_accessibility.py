"""Every page of signing in and of the crew: axe, targets of 44 px, no sideways scrolling; three sizes and both themes."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.accessibility import look, small_targets, violations
from tests.browser.conftest import Live

pytestmark = pytest.mark.browser
OF_OWNERS = {
    "account": "/account",
    "second-factor": "/account/second-factor",
    "crew": "/crew",
    "new-person": "/crew/people/new",
    "member": "/crew/people/account-pat",
    "own-membership": "/crew/people/account-ana",
    "prove": "/prove?next=/crew",
    "missing": "/nothing-here",
}


@pytest.mark.parametrize("name", OF_OWNERS)
def test_a_page_of_an_owner_is_accessible(live: Live, page: Page, shots: Path, name: str) -> None:
    live.sign_in(page, "ana")
    page.goto(live.url + OF_OWNERS[name])

    look(page, shots, name)


def test_signing_in_is_accessible_before_and_after_a_mistake(live: Live, page: Page, shots: Path) -> None:
    page.goto(live.url + "/sign-in")
    look(page, shots, "sign-in")

    page.get_by_label("Sign-in name").fill("ana")
    page.get_by_label("Password").fill("not this one at all")
    page.get_by_role("button", name="Sign in").click()

    page.locator(".wrong").wait_for()
    look(page, shots, "sign-in-wrong")


def test_the_first_account_is_accessible_before_and_after_a_mistake(
    fresh: Live, page: Page, shots: Path
) -> None:
    page.goto(fresh.url + "/")
    look(page, shots, "first-account")

    for name, text in {
        "name": "Ana",
        "sign_in_name": "a b",
        "password": "password1234",
        "crew_name": "R",
    }.items():
        page.fill(f"#{name}", text)
    page.get_by_role("button", name="Make the account").click()

    page.locator(".wrong").wait_for()
    look(page, shots, "first-account-wrong")


def test_the_open_menu_is_accessible(live: Live, page: Page, shots: Path) -> None:
    live.sign_in(page, "ana")
    page.goto(live.url + "/account")
    page.locator(".menu-button").click()

    look(page, shots, "menu")
    page.keyboard.press("Escape")
    assert page.locator(".menu[open]").count() == 0


def test_setting_up_a_second_factor_is_accessible(live: Live, page: Page, shots: Path) -> None:
    live.sign_in(page, "ana")
    page.goto(live.url + "/account/second-factor")
    page.get_by_role("button", name="Begin").click()
    page.locator(".square svg").wait_for()

    look(page, shots, "second-factor-square")


def test_the_one_time_link_is_accessible(live: Live, page: Page, shots: Path) -> None:
    live.sign_in(page, "ana")
    page.goto(live.url + "/crew/people/account-pat")
    page.get_by_role("button", name="Make a one-time link").click()
    page.locator(".secret").wait_for()
    link = page.locator(".secret").inner_text()
    look(page, shots, "link")

    page.context.clear_cookies()
    page.goto(link)
    look(page, shots, "join")


def test_the_address_of_a_calendar_is_accessible_and_copied(live: Live, page: Page, shots: Path) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=live.url)
    live.sign_in(page, "pat")
    page.goto(live.url + "/account")
    page.get_by_role("button", name="Make an address").click()
    page.locator(".secret").wait_for()
    page.get_by_role("button", name="Copy").click()
    page.get_by_role("button", name="Copied").wait_for()

    address = page.evaluate("navigator.clipboard.readText()")
    assert address == page.locator(".secret").inner_text()
    assert page.context.request.get(address).headers["content-type"].startswith("text/calendar")
    look(page, shots, "calendar-address")


def test_the_checks_can_fail(page: Page) -> None:
    page.set_content(
        '<html lang="en"><title>t</title><main><button id="a">x</button><img src="data:,"><p>A <a href="#">link</a> here</p></main>'
    )

    assert [found.split(":")[0] for found in violations(page)] == ["image-alt"]
    assert [target for target in small_targets(page) if 'id="a"' in target]
    assert not [target for target in small_targets(page) if "link" in target], (
        "a link in a sentence is exempt"
    )
