"""What every page is asked in the browser: axe's rules (WCAG 2.0 to 2.2, A and AA), and targets a glove can hit.

axe reports targets below 24 px; ours are 48 px with 44 as the floor (WCAG 2.5.5), except links inside a sentence.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import SIZES

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]
LEAST_PX = 44
LOOKS = (("tablet", "light"), ("telephone", "dark"), ("desk", "light"))
"""Every size once and both themes: axe takes seconds over a long page, and a theme changes colours, not places."""

_SMALL_TARGETS = """
(least) => {
  const shown = (el) => {
    const style = getComputedStyle(el);
    return style.visibility !== 'hidden' && style.display !== 'none' && el.getClientRects().length > 0
      && !el.closest('[hidden], .spoken, .skip') && el.checkVisibility({ checkOpacity: false });
  };
  const inSentence = (el) => {
    if (el.tagName !== 'A') return false;
    const block = el.closest('p, dd, li, td, figcaption');
    return block && getComputedStyle(el).display === 'inline' && block.textContent.trim().length > el.textContent.trim().length;
  };
  const hit = (el) => {
    if (el.matches('input[type=radio], input[type=checkbox]') && el.closest('label')) el = el.closest('label');
    return el.getBoundingClientRect();
  };
  return [...document.querySelectorAll('a[href], button, summary, select, textarea, input:not([type=hidden]), [tabindex="0"][role=button]')]
    .filter((el) => shown(el) && !inSentence(el) && !el.disabled)
    .map((el) => ({ what: el.outerHTML.slice(0, 120), box: hit(el) }))
    .filter(({ box }) => box.width < least - 0.5 || box.height < least - 0.5)
    .map(({ what, box }) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${what}`);
}
"""


def small_targets(page: Page) -> list[str]:
    """Targets below 44 px, each with its size."""
    found: list[str] = page.evaluate(_SMALL_TARGETS, LEAST_PX)
    return found


def violations(page: Page) -> list[str]:
    """What axe finds, one line a rule with the first element.

    The window is made as tall as the page for it: axe takes what a sticky bar covers just now for too small, though
    one can scroll it free.
    """
    size = page.viewport_size
    assert size is not None
    tall = max(size["height"], page.evaluate("document.documentElement.scrollHeight"))
    page.set_viewport_size({"width": size["width"], "height": tall})
    answer: dict[str, Any] = (
        Axe()
        .run(page, options={"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]})
        .response
    )
    page.set_viewport_size(size)
    return [
        f"{item['id']}: {item['help']} ({len(item['nodes'])}x, {item['nodes'][0]['html'][:160]})"
        for item in answer["violations"]
    ]


def sideways(page: Page) -> int:
    """By how many pixels the page is wider than the screen (WCAG 1.4.10)."""
    found: int = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return found


def assert_accessible(page: Page) -> None:
    """Fail with everything that was found."""
    found = violations(page)
    small = small_targets(page)
    assert (found, small, sideways(page)) == ([], [], 0), "\n".join(
        [page.url, *found, *small, f"{sideways(page)} px too wide"]
    )


def look(page: Page, shots: Path, name: str) -> None:
    """Ask a page at every size and in both themes."""
    for size, theme in LOOKS:
        page.set_viewport_size({"width": SIZES[size][0], "height": SIZES[size][1]})
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        assert_accessible(page)
        picture(page, shots / f"{name}-{size}-{theme}.png")


def picture(page: Page, path: Path) -> None:
    """The whole page, where somebody asked for pictures (STUDBAY_SHOTS): in a window as tall as it is, so that bars
    which stick to an edge do not stand in the middle."""
    if not os.environ.get("STUDBAY_SHOTS"):
        return
    size = page.viewport_size
    assert size is not None
    tall = max(size["height"], page.evaluate("document.documentElement.scrollHeight"))
    page.set_viewport_size({"width": size["width"], "height": tall})
    page.screenshot(path=path)
    page.set_viewport_size(size)
