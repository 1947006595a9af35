"""Turns a page's context into HTML.

A context is a frozen dataclass; its template sees it as ``page``, and the frame around every page as ``frame``::

    return render(request, "rooms/list.html", RoomList(job=..., rooms=...), job=JobBar(job.id, job.name))

Templates never see rows of the database, and an undefined name is an error. Filters: ``inches`` (exact inches as the
trade reads them), ``number``, ``day``, ``moment``, ``ago``, ``count`` (``3|count("box", "boxes")``), ``sized`` (a conductor
with its unit), ``field_name`` (a form's field).
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, is_dataclass
from datetime import UTC, date, datetime
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, Literal

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from server.dwelling import format_length
from server.pages import flash
from server.pages.navigation import JobBar, Place, places
from server.people.current import open_session
from server.people.person import Person
from server.readiness.words import write_number
from server.reckon.conductor_sizes import sized

__all__ = ["THEMES", "Frame", "render", "static_url", "template"]

_ROOT: Final = Path(__file__).parents[2]
_STATIC: Final = _ROOT / "static"
_UNITS: Final = ("in", "in3", "ft", "ft2", "a", "va", "awg", "deg")
THEMES: Final = ("auto", "light", "dark")
THEME_COOKIE: Final = "theme"


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around a page: whose it is, where one can go, what was just said."""

    person: Person | None
    crew_name: str
    theme: str
    path: str
    back: str
    job: JobBar | None
    places: tuple[Place, ...]
    said: flash.Said | None
    is_demo: bool
    plain: bool
    """Whether the reader asked for plain words before articles."""


@lru_cache(maxsize=256)
def static_url(name: str) -> str:
    """The address of a file under ``static/``, with its content's hash, so that browsers may keep it for ever.

    Raises:
        FileNotFoundError: there is no such file.
    """
    digest = hashlib.sha256((_STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{name}?v={digest}"


def _length(value: Fraction | int | None, missing: str = "not entered") -> str:
    return missing if value is None else format_length(Fraction(value))


def _number(value: Fraction | int | None, missing: str = "not entered") -> str:
    return missing if value is None else write_number(value)


def _day(value: date | None, missing: str = "no date") -> str:
    return missing if value is None else f"{value:%a} {value.day} {value:%b %Y}"


def _moment(value: datetime) -> str:
    """A time with its date, in UTC; ``<time>`` elements are put into the reader's own zone by the script."""
    return f"{_day(value.date())}, {value:%H:%M} UTC"


def _ago(value: datetime) -> str:
    """How long ago, in one unit."""
    seconds = max(0, int((datetime.now(UTC) - value).total_seconds()))
    for size, one, many in ((86_400, "day", "days"), (3_600, "hour", "hours"), (60, "minute", "minutes")):
        if seconds >= size:
            return f"{_count(seconds // size, one, many)} ago"
    return "just now"


def _count(number: int, one: str, many: str) -> str:
    """``1 box``, ``3 boxes``."""
    return f"{number:,} {one if number == 1 else many}"


def _field_name(name: str) -> str:
    """A form's field by name, without its unit: ``ceiling_height_in`` is ``Ceiling height``."""
    words = name.removesuffix("_id").split("_")
    return " ".join(words[:-1] if len(words) > 1 and words[-1] in _UNITS else words).capitalize()


def _sized(size: str) -> str:
    """A conductor's size with its unit, of parallel sets too: ``6 AWG``, ``2 x 250 kcmil``."""
    sets, times, each = size.rpartition(" x ")
    return f"{sets}{times}{sized(each)}"


@lru_cache(maxsize=1)
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(_ROOT / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
    )
    environment.filters |= {
        "inches": _length, "number": _number, "day": _day, "moment": _moment, "ago": _ago, "count": _count, "sized": _sized, "field_name": _field_name,
    }  # fmt: skip
    environment.globals |= {"static": static_url}
    return environment


def template(name: str, **context: Any) -> str:
    """Render a template without a frame, for paper and for fragments that need none."""
    return _environment().get_template(name).render(**context)


def render(
    request: Request,
    name: str,
    page: Any,
    *,
    status: int = 200,
    job: JobBar | None = None,
    headers: dict[str, str] | None = None,
) -> HTMLResponse:
    """Render a page (or a fragment: a template whose name starts with ``_``).

    Args:
        name: the template, such as ``rooms/list.html``.
        page: a dataclass; the template sees it as ``page``.
        job: the job that the page belongs to, for the top bar and the navigation.

    Raises:
        TypeError: ``page`` is no dataclass.
    """
    if not is_dataclass(page) or isinstance(page, type):
        raise TypeError(f"expected a dataclass as a page's context, came {type(page).__name__}")
    found = open_session(request)
    said = flash.read(request)
    frame = Frame(
        person=found.person if found else None,
        crew_name=found.crew_name if found else "",
        theme=theme_of(request),
        path=request.url.path,
        # what answers a form has no address to come back to
        back=request.url.path if request.method == "GET" else "/",
        job=job,
        places=places(request, found.person if found else None, job),
        said=said,
        is_demo=request.app.state.settings.demo,
        plain=request.cookies.get("who") == "homeowner",
    )
    html = _environment().get_template(name).render(page=page, frame=frame)
    response = HTMLResponse(html, status_code=status, headers=headers)
    if said is not None:
        flash.clear(response)
    return response


def theme_of(request: Request) -> Literal["auto", "light", "dark"]:
    """The theme that the reader chose."""
    match request.cookies.get(THEME_COOKIE):
        case "light":
            return "light"
        case "dark":
            return "dark"
        case _:
            return "auto"
