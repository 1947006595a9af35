"""From an empty database to a crew of two, as a person does it: in the browser, with the keyboard."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Live

pytestmark = pytest.mark.browser
PASSWORD = "ladder copper blue seven"


def make_first_account(fresh: Live, page: Page) -> None:
    page.goto(fresh.url + "/jobs")
    expect(page).to_have_url(fresh.url + "/first-account")
    page.get_by_label("Your name").fill("Ana Ruiz")
    page.get_by_label("Sign-in name").fill("Ana.Ruiz")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_label("Crew").fill("Ruiz Wiring")
    page.get_by_role("button", name="Make the account and begin").click()


def test_every_page_leads_to_the_first_account_and_then_to_work(fresh: Live, page: Page) -> None:
    make_first_account(fresh, page)

    expect(page.get_by_role("status").filter(has_text="Welcome, Ana Ruiz")).to_be_visible()
    assert page.goto(fresh.url + "/first-account").status == 404  # type: ignore[union-attr]


def test_what_was_typed_stays_when_the_password_is_refused(fresh: Live, page: Page) -> None:
    page.goto(fresh.url + "/first-account")
    page.get_by_label("Your name").fill("Ana Ruiz")
    page.get_by_label("Sign-in name").fill("ana")
    page.get_by_label("Password").fill("password1234")
    page.get_by_label("Crew").fill("Ruiz Wiring")

    page.get_by_role("button", name="Make the account and begin").click()

    expect(page.get_by_role("alert")).to_be_focused()
    expect(page.get_by_label("Your name")).to_have_value("Ana Ruiz")
    expect(page.get_by_label("Crew")).to_have_value("Ruiz Wiring")
    expect(page.get_by_label("Password")).to_have_value("")
    expect(page.get_by_label("Password")).to_have_attribute("aria-invalid", "true")


def test_an_owner_adds_an_apprentice_who_sets_a_password_and_signs_in(fresh: Live, page: Page) -> None:
    make_first_account(fresh, page)
    page.goto(fresh.url + "/crew")
    page.get_by_role("link", name="Add somebody").click()
    page.get_by_label("Name", exact=True).fill("Pat Osei")
    page.get_by_label("Sign-in name").fill("pat")
    page.get_by_label("apprentice").check()
    page.get_by_role("button", name="Add and make the link").click()
    link = page.locator(".secret").inner_text()

    page.context.clear_cookies()
    page.goto(link)
    page.get_by_label("Password").fill("seven yellow hammers")
    page.get_by_role("button", name="Set the password").click()
    page.get_by_label("Sign-in name").fill("pat")
    page.get_by_label("Password").fill("seven yellow hammers")
    page.get_by_role("button", name="Sign in").click()

    page.get_by_text("Pat Osei").first.click()
    expect(page.locator(".menu-who")).to_contain_text("apprentice, Ruiz Wiring")
    assert page.goto(link).status == 404  # type: ignore[union-attr]


def test_signing_in_works_with_the_keyboard_alone(live: Live, page: Page) -> None:
    page.goto(live.url + "/")
    page.keyboard.type("ana")
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")

    expect(page.locator(".menu-name")).to_have_text("Ana Ruiz")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()


def test_the_dark_theme_is_kept_without_a_script(live: Live, page: Page) -> None:
    page.goto(live.url + "/sign-in")
    page.get_by_text("Light or dark").click()
    page.get_by_role("button", name="Dark").click()

    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(16, 22, 28)"
