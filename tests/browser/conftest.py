"""A live server on a free port with a database of its own, and Chromium in front of it.

    def test_...(live: Live, page: Page) -> None:
        live.sign_in(page, "ana")          # somebody of tests/cast.py, without the form
        page.goto(live.url + "/jobs")

Debian's Chromium is driven: browsers that Playwright would download are not to be had everywhere.
"""

from __future__ import annotations

import os
import shutil
import socket
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright
from sqlalchemy import Engine

from tests.cast import Cast, make_app, make_cast

TABLET, TELEPHONE, DESK = (820, 1180), (390, 844), (1280, 800)
SIZES = {"tablet": TABLET, "telephone": TELEPHONE, "desk": DESK}
TWO_LOOKS = (("tablet", "light"), ("telephone", "dark"))
"""For long pages, which cost axe seconds each: both themes, the tablet and the narrowest layout."""
_WAIT_S = 20
_CHROMIUM = os.environ.get("STUDBAY_TEST_CHROMIUM", "/usr/bin/chromium")
_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]


@dataclass(frozen=True, slots=True)
class Live:
    """A server that answers. ``cast`` is None where nobody was put into the database."""

    url: str
    engine: Engine
    cast: Cast | None

    def sign_in(self, page: Page, name: str) -> None:
        """Give a page's browser somebody's session."""
        assert self.cast is not None, "there is nobody to sign in"
        page.context.add_cookies(
            [
                {
                    "name": "studbay",
                    "value": self.cast.token(name),
                    "url": self.url,
                    "httpOnly": True,
                    "sameSite": "Lax",
                }
            ]
        )


@pytest.fixture
def database_kind() -> str:
    """A browser does not see which database there is."""
    return "sqlite"


def serve(engine: Engine, cast: Cast | None, **settings: object) -> Iterator[Live]:
    """Serve the application from a thread of this process."""
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    port = listener.getsockname()[1]
    app = make_app(engine, port=port, **settings)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", access_log=False, lifespan="on"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    until = time.monotonic() + _WAIT_S
    while not server.started:
        assert thread.is_alive(), "the server stopped before it had started"
        assert time.monotonic() < until, "the server did not start in time"
        time.sleep(0.01)
    yield Live(f"http://127.0.0.1:{port}", engine, cast)
    server.should_exit = True
    thread.join(_WAIT_S)
    listener.close()


@pytest.fixture
def live(engine: Engine) -> Iterator[Live]:
    """A server with the cast of tests/cast.py."""
    yield from serve(engine, make_cast(engine))


@pytest.fixture
def fresh(engine: Engine) -> Iterator[Live]:
    """A server over an empty database, as on the first day."""
    yield from serve(engine, None)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as made:
        yield made


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for the whole run."""
    browser = playwright.chromium.launch(executable_path=_CHROMIUM, args=_ARGUMENTS)
    yield browser
    browser.close()


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    """A fresh profile with a tablet's size."""
    made = chromium.new_context(viewport={"width": TABLET[0], "height": TABLET[1]}, has_touch=True)
    made.set_default_timeout(_WAIT_S * 1000)
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    """A page; the test fails if it broke the content security policy or a script failed in it."""
    made = context.new_page()
    trouble: list[str] = []
    made.on("pageerror", lambda error: trouble.append(f"script: {error}"))
    made.on(
        "console",
        lambda message: (
            trouble.append(f"console: {message.text}")
            if message.type == "error" and "Content Security Policy" in message.text
            else None
        ),
    )
    yield made
    assert trouble == []


@pytest.fixture(scope="session")
def shots() -> Iterator[Path]:
    """Where screenshots go: STUDBAY_SHOTS, or a folder that is thrown away."""
    if os.environ.get("STUDBAY_SHOTS"):
        folder = Path(os.environ["STUDBAY_SHOTS"])
        folder.mkdir(parents=True, exist_ok=True)
        yield folder
        return
    made = Path(tempfile.mkdtemp(prefix="studbay-shots-"))
    yield made
    shutil.rmtree(made, ignore_errors=True)
