"""A browser in words, from what it says of itself: ``Safari on iPad``. Only for the list of one's own sign-ins."""

from __future__ import annotations

from typing import Final

__all__ = ["device_words"]

# the first that occurs decides: browsers name their forebears too
_BROWSERS: Final = (("Edg/", "Edge"), ("OPR/", "Opera"), ("Firefox/", "Firefox"), ("FxiOS/", "Firefox"), ("CriOS/", "Chrome"),
                    ("Chrome/", "Chrome"), ("Safari/", "Safari"))  # fmt: skip
_SYSTEMS: Final = (("iPad", "iPad"), ("iPhone", "iPhone"), ("Android", "Android"), ("Windows", "Windows"), ("CrOS", "ChromeOS"),
                   ("Mac OS X", "Mac or iPad"), ("Linux", "Linux"))  # fmt: skip


def device_words(user_agent: str) -> str:
    """Browser and system, as far as they can be told."""
    browser = next((word for mark, word in _BROWSERS if mark in user_agent), "A browser")
    system = next((word for mark, word in _SYSTEMS if mark in user_agent), "")
    return f"{browser} on {system}" if system else browser
