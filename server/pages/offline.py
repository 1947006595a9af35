"""Work without signal: the worker, what a job taken along consists of, the page that shows in place of others.

The worker keeps only what was asked for: our own static files, and the pages of a job that somebody took along on this
tablet. What is recorded meanwhile waits in the browser's own storage (``static/outbox.js``) and is sent when the signal
is back; see docs in DEVELOPERS.md, *Without signal*.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import JSONResponse, Response

from server.pages.opened import open_job
from server.pages.rendering import render, static_url
from server.people.current import Reader, open_session, open_to_anyone

__all__ = ["router"]

router = APIRouter(include_in_schema=False)
_STATIC: Final = Path(__file__).parents[2] / "static"
_SHELL: Final = (
    "css/studbay.css", "css/work.css", "css/drawing.css", "css/entry.css", "app.js", "outbox.js", "outbox_page.js",
    "take_along.js", "measure.js", "mark.js", "walk.js", "entry.js", "vendor/htmx-4.0.1.min.js", "icon.svg",
)  # fmt: skip


@lru_cache(maxsize=1)
def _worker() -> str:
    """The worker's script with the addresses of our static files in it: another file, another worker."""
    shell = [static_url(name) for name in _SHELL]
    version = hashlib.sha256("".join(shell).encode()).hexdigest()[:12]
    script = (_STATIC / "worker.js").read_text(encoding="utf-8")
    listed = ", ".join(f'"{address}"' for address in shell)
    return script.replace("/*VERSION*/", version).replace("/*SHELL*/", listed)


@router.get("/worker.js", name="worker", dependencies=[open_to_anyone("a script without anybody's data")])
def worker() -> Response:
    """The service worker, at the root so that it may answer for every page. Never kept by the browser's own cache."""
    return Response(
        _worker(),
        media_type="text/javascript",
        headers={"Cache-Control": "no-cache", "Service-Worker-Allowed": "/"},
    )


@router.get(
    "/manifest.webmanifest", name="manifest", dependencies=[open_to_anyone("what the home screen shows")]
)
def manifest() -> Response:
    """What a tablet needs to put Studbay on its home screen."""
    icon = {"src": static_url("icon.svg"), "sizes": "any", "type": "image/svg+xml", "purpose": "any"}
    body = {
        "name": "Studbay", "short_name": "Studbay", "start_url": "/", "scope": "/", "display": "standalone",
        "background_color": "#FBFAF6", "theme_color": "#FBFAF6", "icons": [icon],
    }  # fmt: skip
    return JSONResponse(body, media_type="application/manifest+json")


@dataclass(frozen=True, slots=True)
class WithoutSignalPage:
    """Nothing of it is about anybody: it is kept by the worker."""

    title: str = "No signal"


@router.get(
    "/without-signal", name="without_signal", dependencies=[open_to_anyone("a page about having no signal")]
)
def without_signal(request: Request) -> HTMLResponse:
    """What shows where a page was not taken along."""
    return render(request, "offline/without_signal.html", WithoutSignalPage())


@router.get("/outbox", name="outbox")
def outbox(request: Request, person: Reader) -> HTMLResponse:
    """What waits on this tablet: filled in by the script from the browser's own storage."""
    return render(request, "offline/outbox.html", WithoutSignalPage("Not yet sent"))


@router.get("/jobs/{job_id}/take-along", name="take_along")
def take_along(request: Request, job_id: str, person: Reader) -> JSONResponse:
    """The pages of a job that go along, in the order in which they are fetched."""
    opened = open_job(request, person, job_id)
    base = f"/jobs/{job_id}"
    rooms = [room.id for room in opened.house.facts.rooms]
    pages = [f"{base}/rooms", f"{base}/walk", f"{base}/whole-job/walk", f"{base}/readiness"]
    pages += [f"{base}/rooms/{room}/walk" for room in rooms]
    pages += [f"{base}/rooms/{room}" for room in rooms]
    pages.append("/outbox")
    found = open_session(request)
    assert found is not None
    return JSONResponse(
        {
            "person": found.person.id,
            "job": job_id,
            "name": opened.job.name,
            "revision": opened.job.revision,
            "pages": pages,
        }
    )
