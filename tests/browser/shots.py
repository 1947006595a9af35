"""``make shots``: every page of the demo at three sizes, light and dark, into var/shots; a few for the README.

Not a test: it serves the demo on a free port and drives Chromium over its pages.
"""

from __future__ import annotations

import re
import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import Page, sync_playwright

from seed_demo.seed import seed
from server.app import create_app
from server.settings import Settings
from server.store import schema
from server.store.engine import make_engine
from server.store.summaries import count_stale

SIZES = {"tablet": (820, 1180), "telephone": (390, 844), "desk": (1280, 800)}
OUT = Path("var/shots")
ROOM, CIRCUIT = "alder-room-7", "alder-circuit-2"
PATHS = {
    "jobs": "/jobs", "new-job": "/jobs/new", "patterns": "/jobs/patterns", "rooms": "JOB/rooms", "new-room": "JOB/rooms/new",
    "room": "JOB/rooms/alder-room-6", "edit-room": f"JOB/rooms/{ROOM}/edit", "walls": f"JOB/rooms/{ROOM}/walls", "copy": f"JOB/rooms/{ROOM}/copy",
    "new-box": f"JOB/rooms/{ROOM}/boxes/new", "box": "JOB/boxes/alder-kitchen-box-3", "history": "JOB/rooms/alder-room-21/history", "walk-rooms": "JOB/walk", "walk": "JOB/rooms/alder-room-8/walk",
    "walk-job": "JOB/whole-job/walk", "panels": "JOB/panels", "circuit": f"JOB/circuits/{CIRCUIT}", "circuit-lacking": "JOB/circuits/alder-circuit-29", "run": f"JOB/circuits/{CIRCUIT}/run", "hookup": f"JOB/circuits/{CIRCUIT}/hookup",
    "readiness": "JOB/readiness", "packet": "JOB/packet", "work": "JOB/work", "guests": "JOB/guests", "guide": "JOB/guide", "shopping": "JOB/shopping",
    "import": "JOB/import", "settings": "JOB/settings", "sheets": "/sheets", "sheet": "/sheets/box-fill?example=true", "rules": "/rules",
    "rule": "/rules/sheath-into-box", "editions": "/rules/editions", "practice": "/practice", "crew": "/crew", "account": "/account", "outbox": "/outbox",
    "without-signal": "/without-signal",
}  # fmt: skip


def main(names: list[str]) -> int:
    """Take the screenshots (of some names, or of all); returns how many pages did not answer 200 or were too wide."""
    OUT.mkdir(parents=True, exist_ok=True)
    bad = 0
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        url = _serve(Path(folder))
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        page = browser.new_page()
        job = _sign_in(page, url)
        for name, path in PATHS.items():
            if names and name not in names:
                continue
            for size, (wide, high) in SIZES.items():
                for scheme in ("light", "dark"):
                    page.set_viewport_size({"width": wide, "height": high})
                    page.emulate_media(color_scheme=scheme)
                    answer = page.goto(url + path.replace("JOB", job))
                    page.screenshot(path=OUT / f"{name}-{size}-{scheme}.png")
                    width = page.evaluate("document.documentElement.scrollWidth")
                    if answer is None or answer.status != 200 or width > wide:
                        bad += 1
                        print(
                            f"{name} {size} {scheme}: {answer.status if answer else 'no answer'}, {width} px wide on {wide}"
                        )
        browser.close()
    print(f"{len(list(OUT.glob('*.png')))} screenshots in {OUT}; {bad} to look at")
    return bad


def _serve(folder: Path) -> str:
    engine = make_engine(f"sqlite:///{folder}/shots.sqlite3")
    schema.upgrade(engine)
    seed(engine)
    count_stale(engine)
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    port = listener.getsockname()[1]
    app = create_app(Settings(data_dir=folder, demo=True, port=port), engine)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", access_log=False))
    threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    return f"http://127.0.0.1:{port}"


def _sign_in(page: Page, url: str) -> str:
    page.goto(f"{url}/demo")
    page.get_by_role("button", name=re.compile("Ames")).first.click()
    page.wait_for_load_state()
    page.goto(f"{url}/jobs")
    href = page.locator("a.row").first.get_attribute("href")
    assert href is not None
    return href.rpartition("/")[0]


if __name__ == "__main__":
    sys.exit(1 if main(sys.argv[1:]) else 0)
