"""Signing in and out, the second step, one-time links, and giving the password again before a sensitive change."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import RedirectResponse, Response

from server.pages.flash import own_path, redirect
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.rendering import render
from server.pages.sign_in_cookies import (
    asking,
    end_session_cookies,
    half_token,
    request_id_of,
    set_half,
    set_session,
    set_signed_in,
)
from server.people import passwords, sessions, throttle
from server.people.accounts import LONGEST_NAME, account_by_id
from server.people.audit import note
from server.people.current import Member, cookie_name, engine_of, open_session, open_to_anyone
from server.people.first_account import is_made
from server.people.signing_in import HalfWay, Refused, TooManyTries, second_step, sign_in
from server.people.throttle import Bucket
from server.store.engine import reading, writing

__all__ = ["ProvePage", "SecondStepPage", "SignInPage", "router"]

router = APIRouter(include_in_schema=False)
_ANYONE = [open_to_anyone("signing in comes before being known")]
_SAME_ANSWER = "That name and password do not go together."


class Entered(BaseModel):
    """Name and password as typed."""

    model_config = ConfigDict(extra="forbid")

    sign_in_name: str = Field(max_length=LONGEST_NAME * 2)
    password: str = Field(max_length=passwords.LONGEST * 4)
    next: str = "/"


class Code(BaseModel):
    """The second step."""

    model_config = ConfigDict(extra="forbid")

    code: str = Field(max_length=60)
    next: str = "/"


class Proof(BaseModel):
    """The password again."""

    model_config = ConfigDict(extra="forbid")

    password: str = Field(max_length=passwords.LONGEST * 4)
    next: str = "/"


@dataclass(frozen=True, slots=True)
class SignInPage:
    """``lost``: something was sent while nobody was signed in."""

    fields: Fields
    next: str
    lost: bool
    has_demo: bool


@dataclass(frozen=True, slots=True)
class SecondStepPage:
    """The second step's context."""

    fields: Fields
    next: str


@dataclass(frozen=True, slots=True)
class ProvePage:
    """Giving the password again."""

    fields: Fields
    next: str
    name: str


def _too_many(seconds: int) -> str:
    minutes = (seconds + 59) // 60
    return "Too many tries. Wait " + (f"{seconds} seconds." if seconds < 90 else f"{minutes} minutes.")


@router.get("/sign-in", name="sign_in", dependencies=_ANYONE)
def show(request: Request, next: str = "/", lost: str = "") -> Response:  # noqa: A002 - the address says next
    """Show the form; whoever is signed in already goes on."""
    if not is_made(engine_of(request)):
        return RedirectResponse("/first-account", status_code=303)
    if open_session(request) is not None:
        return RedirectResponse(own_path(next), status_code=303)
    return _page(request, NOTHING_TYPED, own_path(next), lost=lost == "yes")


@router.post("/sign-in", dependencies=_ANYONE)
def enter(request: Request, form: Typed) -> Response:
    """Try a name and a password."""
    if not is_made(engine_of(request)):
        return RedirectResponse("/first-account", status_code=303)
    read = form.read(Entered)
    fields = read.fields.without("password")
    to = own_path(form.values.get("next", "/"))
    if read.model is None:
        return _page(request, fields, to, 422)
    found = sign_in(
        engine_of(request), read.model.sign_in_name, read.model.password, asking(request), datetime.now(UTC)
    )
    match found:
        case TooManyTries(seconds):
            return _page(
                request, fields.wrong("", _too_many(seconds)), to, 429, {"Retry-After": str(seconds)}
            )
        case Refused():
            return _page(request, fields.wrong("", _SAME_ANSWER), to, 422)
        case HalfWay(token):
            response: Response = render(request, "people/second_step.html", SecondStepPage(NOTHING_TYPED, to))
            set_half(request, response, token)
            return response
        case _:
            response = RedirectResponse(to, status_code=303)
            set_signed_in(request, response, found)
            return response


@router.post("/sign-in/code", dependencies=_ANYONE)
def enter_code(request: Request, form: Typed) -> Response:
    """Try the second factor."""
    read = form.read(Code)
    to = own_path(form.values.get("next", "/"))
    if read.model is None:
        return render(request, "people/second_step.html", SecondStepPage(read.fields, to), status=422)
    found = second_step(
        engine_of(request),
        half_token(request),
        read.model.code,
        asking(request),
        datetime.now(UTC),
        request.app.state.seal,
    )
    match found:
        case None:
            fields = NOTHING_TYPED.wrong("", "This took longer than five minutes. Begin again.")
            return _page(request, fields, to, 422)
        case TooManyTries(seconds):
            fields = NOTHING_TYPED.wrong("code", _too_many(seconds))
            headers = {"Retry-After": str(seconds)}
            return render(
                request, "people/second_step.html", SecondStepPage(fields, to), status=429, headers=headers
            )
        case Refused():
            fields = NOTHING_TYPED.wrong("code", "This code does not fit, or it was used before.")
            return render(request, "people/second_step.html", SecondStepPage(fields, to), status=422)
        case _:
            response = RedirectResponse(to, status_code=303)
            set_signed_in(request, response, found)
            return response


@router.post(
    "/sign-out",
    name="sign_out",
    dependencies=[open_to_anyone("signing out must work whatever the session's state")],
)
def leave(request: Request) -> Response:
    """End the session here and on the server."""
    token = request.cookies.get(cookie_name(request.app.state.settings.secure), "")
    found = open_session(request)
    if token:
        with writing(engine_of(request)) as session:
            sessions.end_token(session, token)
            if found is not None:
                note(
                    session, "signed out", datetime.now(UTC), person_id=found.person.id, crew_id=found.person.crew_id,
                    request_id=request_id_of(request),
                )  # fmt: skip
    response = redirect("/sign-in", "You are signed out.")
    end_session_cookies(request, response)
    return response


@router.get("/prove", name="prove")
def ask_proof(request: Request, person: Member, next: str = "/") -> Response:  # noqa: A002 - the address says next
    """Ask for the password again."""
    return render(request, "people/prove.html", ProvePage(NOTHING_TYPED, own_path(next), person.name))


@router.post("/prove")
def prove(request: Request, person: Member, form: Typed) -> Response:
    """Take the password again; the session gets a new token."""
    engine, now = engine_of(request), datetime.now(UTC)
    read = form.read(Proof)
    to = own_path(form.values.get("next", "/"))
    fields = read.fields.without("password")
    if read.model is not None:
        wrong = check_password(request, person.id, read.model.password)
        if wrong is None:
            with writing(engine) as session:
                token = sessions.renew(session, person.session_id, now)
            response = RedirectResponse(to, status_code=303)
            set_session(request, response, token)
            return response
        fields = fields.wrong("password", wrong)
    return render(request, "people/prove.html", ProvePage(fields, to, person.name), status=422)


def check_password(request: Request, account_id: str, password: str) -> str | None:
    """Why a signed-in person's password is not taken, as a sentence; None when it is right. Tries are counted."""
    engine, now = engine_of(request), datetime.now(UTC)
    bucket = Bucket(f"prove:{account_id}", throttle.ACCOUNT)
    with writing(engine) as session:
        wait = throttle.take(session, [bucket], now)
    if wait:
        return _too_many(wait)
    with reading(engine) as session:
        account = account_by_id(session, account_id)
    if not passwords.verify(password, account.password_hash if account else None):
        return "This is not your password."
    with writing(engine) as session:
        throttle.give_back(session, [bucket])
    return None


def _page(
    request: Request,
    fields: Fields,
    to: str,
    status: int = 200,
    headers: dict[str, str] | None = None,
    *,
    lost: bool = False,
) -> Response:
    page = SignInPage(fields, to, lost, request.app.state.settings.demo)
    return render(request, "people/sign_in.html", page, status=status, headers=headers)
