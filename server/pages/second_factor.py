"""Setting up the second factor: a square code for the app, then codes for when the telephone is gone."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import UTC, datetime

import segno
from fastapi import APIRouter, Request
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.pages.flash import redirect
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.rendering import render
from server.pages.sign_in import check_password
from server.pages.sign_in_cookies import request_id_of
from server.people import passwords, second_factor
from server.people.audit import note
from server.people.current import Member, engine_of, open_session, require_proof
from server.people.person import Person
from server.store.engine import reading, writing

__all__ = ["CodesPage", "SecondFactorPage", "router"]

router = APIRouter(prefix="/account/second-factor", include_in_schema=False)


class FirstCode(BaseModel):
    """The app's first code."""

    model_config = ConfigDict(extra="forbid")

    code: str = Field(max_length=20)


class Password(BaseModel):
    """The password, to turn it off."""

    model_config = ConfigDict(extra="forbid")

    password: str = Field(max_length=passwords.LONGEST * 4)


@dataclass(frozen=True, slots=True)
class SecondFactorPage:
    """The page's context. ``secret`` and ``square`` are empty until setting up begins."""

    fields: Fields
    is_on: bool
    codes_left: int
    secret: str = ""
    square: Markup | None = None
    is_required: bool = False


@dataclass(frozen=True, slots=True)
class CodesPage:
    """The codes on paper, shown once."""

    codes: tuple[str, ...]


def _square(text: str) -> Markup:
    """A QR code as one SVG path in ink; our own generator's output, no user's text in it."""
    out = io.BytesIO()
    segno.make(text, error="m").save(
        out, kind="svg", xmldecl=False, svgns=True, nl=False, border=4, omitsize=True
    )
    return Markup(out.getvalue().decode())  # noqa: S704 - segno's own markup of a secret that we made


def _page(request: Request, person: Person, fields: Fields = NOTHING_TYPED) -> Response:
    found = open_session(request)
    assert found is not None, "the route's person was signed in"
    with reading(engine_of(request)) as session:
        secret = (
            second_factor.pending(session, person.id, request.app.state.seal)
            if not found.has_second_factor
            else None
        )
        left = second_factor.left_over(session, person.id) if found.has_second_factor else 0
    page = SecondFactorPage(
        fields,
        found.has_second_factor,
        left,
        " ".join(secret[i : i + 4] for i in range(0, len(secret), 4)) if secret else "",
        _square(second_factor.uri(secret, found.sign_in_name)) if secret else None,
        person.owns and not request.app.state.settings.is_local,
    )
    return render(request, "people/second_factor.html", page, status=422 if fields.errors else 200)


@router.get("", name="second_factor")
def show(request: Request, person: Member) -> Response:
    """Show where the second factor stands."""
    require_proof(request)
    return _page(request, person)


@router.post("/begin")
def begin(request: Request, person: Member) -> Response:
    """Make a secret for the app."""
    require_proof(request)
    with writing(engine_of(request)) as session:
        second_factor.begin(session, person.id, request.app.state.seal)
    return redirect("/account/second-factor")


@router.post("/confirm")
def confirm(request: Request, person: Member, form: Typed) -> Response:
    """Turn it on with the app's first code, and show the codes for paper."""
    require_proof(request)
    read = form.read(FirstCode)
    if read.model is None:
        return _page(request, person, read.fields)
    now = datetime.now(UTC)
    codes: list[str] = []
    with writing(engine_of(request)) as session:
        if second_factor.confirm(session, person.id, read.model.code, now, request.app.state.seal):
            codes = second_factor.new_codes(session, person.id)
            note(
                session,
                "second factor on",
                now,
                person_id=person.id,
                crew_id=person.crew_id,
                request_id=request_id_of(request),
            )
    if not codes:
        return _page(
            request,
            person,
            read.fields.wrong("code", "This code does not fit. Take the one that the app shows now."),
        )
    return render(request, "people/codes.html", CodesPage(tuple(codes)))


@router.post("/codes")
def new_codes(request: Request, person: Member) -> Response:
    """New codes for paper; the old ones end."""
    require_proof(request)
    found = open_session(request)
    if found is None or not found.has_second_factor:
        return redirect("/account/second-factor")
    with writing(engine_of(request)) as session:
        codes = second_factor.new_codes(session, person.id)
    return render(request, "people/codes.html", CodesPage(tuple(codes)))


@router.post("/off")
def turn_off(request: Request, person: Member, form: Typed) -> Response:
    """Turn it off, with the password."""
    require_proof(request)
    read = form.read(Password)
    fields = read.fields.without("password")
    if read.model is not None:
        wrong = check_password(request, person.id, read.model.password)
        if wrong is None:
            now = datetime.now(UTC)
            with writing(engine_of(request)) as session:
                second_factor.take_off(session, person.id)
                note(
                    session,
                    "second factor off",
                    now,
                    person_id=person.id,
                    crew_id=person.crew_id,
                    request_id=request_id_of(request),
                )
            return redirect("/account", "The second factor is off.")
        fields = fields.wrong("password", wrong)
    return _page(request, person, fields)
