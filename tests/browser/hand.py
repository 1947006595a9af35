"""A hand on a tablet that counts its taps: real touches, one a tap, and none that the page did not see.

Choosing or taking a photograph counts as one tap, as in the issue: the camera's own buttons are not ours.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Locator, Page

__all__ = ["Hand"]


@dataclass
class Hand:
    """Taps on a page, with what each was on."""

    page: Page
    taps: list[str] = field(default_factory=list)

    def tap(self, target: Locator, *, at: tuple[float, float] | None = None) -> None:
        """Tap once: in the middle, or at parts of the target's width and height."""
        target.scroll_into_view_if_needed()
        box = target.bounding_box()
        assert box is not None, "nothing to tap on"
        spot = at or (0.5, 0.5)
        self.taps.append((target.text_content() or target.get_attribute("aria-label") or "")[:40].strip())
        if at is None:
            target.tap()
        else:
            target.tap(position={"x": box["width"] * spot[0], "y": box["height"] * spot[1]})

    def photograph(self, target: Locator, picture: Path) -> None:
        """Tap on what takes a photograph, and take this one."""
        with self.page.expect_file_chooser() as chooser:
            self.tap(target)
        chooser.value.set_files(picture)

    @property
    def count(self) -> int:
        return len(self.taps)
