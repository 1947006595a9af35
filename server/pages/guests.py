"""Links for people without an account: made by a foreman, opened by whoever has them, ended with a tap."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import segno
from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.pages import flash
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.navigation import JobBar
from server.pages.rendering import render
from server.pages.sign_in_cookies import request_id_of
from server.people.access import NotFound, job_for
from server.people.audit import note
from server.people.current import (
    GUEST_ENDING,
    Foreman,
    cookie_name,
    engine_of,
    open_to_anyone,
    require_proof,
)
from server.people.guest_links import GuestLink, find_guest, links_of, make_link, revoke_link
from server.people.person import Person
from server.people.roles import Role
from server.store.engine import reading, writing

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


class NewLink(BaseModel):
    """For whom, and for how long."""

    model_config = ConfigDict(extra="forbid")

    label: str = Field(min_length=1, max_length=80)
    days: int = Field(default=14, ge=1, le=180)


@dataclass(frozen=True, slots=True)
class GuestsPage:
    """The links to a job; ``made`` is the address of the one just made, shown this once, with its square code."""

    job_id: str
    job_name: str
    links: list[GuestLink]
    fields: Fields
    made: str = ""
    code: Markup | str = ""
    now: datetime | None = None


def _page(
    request: Request, person: Person, job_id: str, fields: Fields, *, made: str = "", status: int = 200
) -> HTMLResponse:
    with reading(engine_of(request)) as session:
        name = job_for(session, person, job_id, Role.FOREMAN).name
        links = links_of(session, person, job_id)
    code = Markup(_square_code(made)) if made else ""  # noqa: S704 - drawn by us from an address of ours
    page = GuestsPage(job_id, name, links, fields, made, code, datetime.now(UTC))
    return render(request, "crew_work/guests.html", page, job=JobBar(job_id, name), status=status)


def _square_code(address: str) -> str:
    """An address as a QR code (ISO/IEC 18004), drawn inline."""
    drawn: str = segno.make(address, error="m").svg_inline(
        scale=5, border=4, dark="#000", light="#fff", svgclass="qr"
    )
    return drawn


@router.get("/jobs/{job_id}/guests", name="guests")
def guests(request: Request, job_id: str, person: Foreman) -> HTMLResponse:
    """The links to a job."""
    return _page(request, person, job_id, NOTHING_TYPED)


@router.post("/jobs/{job_id}/guests", name="add_guest_link")
def add(request: Request, job_id: str, person: Foreman, form: Typed) -> HTMLResponse:
    """Make a link; its address is shown once."""
    require_proof(request)
    read = form.read(NewLink)
    if read.model is None:
        return _page(request, person, job_id, read.fields, status=422)
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.FOREMAN)
        token = make_link(
            session, person, job_id, read.model.label, now + timedelta(days=read.model.days), now
        )
        note(
            session,
            "guest link made",
            now,
            crew_id=person.crew_id,
            person_id=person.id,
            request_id=request_id_of(request),
            job_id=job_id,
        )
    base = request.app.state.settings.public_url or str(request.base_url).rstrip("/")
    return _page(request, person, job_id, NOTHING_TYPED, made=f"{base}/guest/{token}")


@router.post("/jobs/{job_id}/guests/{link_id}/revoke", name="revoke_guest_link")
def revoke(request: Request, job_id: str, link_id: str, person: Foreman) -> Response:
    """End a link at once."""
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.FOREMAN)
        revoke_link(session, person, job_id, link_id, datetime.now(UTC))
        note(
            session,
            "guest link revoked",
            datetime.now(UTC),
            crew_id=person.crew_id,
            person_id=person.id,
            request_id=request_id_of(request),
            job_id=job_id,
        )
    return flash.redirect(f"/jobs/{job_id}/guests", "The link no longer opens anything.")


@router.get(
    "/guest/{token}",
    name="open_guest_link",
    dependencies=[open_to_anyone("the link is what lets its holder in")],
)
def open_link(request: Request, token: str) -> Response:
    """Open a job by its link: the token goes into a cookie, so that it stands in no address afterwards."""
    now = datetime.now(UTC)
    with reading(engine_of(request)) as session:
        found = find_guest(session, token, now)
    if found is None:
        raise NotFound
    person, _ = found
    response = flash.redirect(f"/jobs/{person.only_job_id}/rooms")
    secure = request.app.state.settings.secure
    response.set_cookie(
        cookie_name(secure) + GUEST_ENDING,
        token,
        path="/",
        secure=secure,
        httponly=True,
        samesite="lax",
        max_age=7 * 86_400,
    )
    response.headers["X-Robots-Tag"] = "noindex"
    response.headers["Referrer-Policy"] = "no-referrer"
    return response
