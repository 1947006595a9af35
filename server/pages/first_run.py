"""The first run: the first account and its crew. Once they are made the page is gone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.pages.errors import error_page
from server.pages.flash import redirect
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.rendering import render
from server.pages.sign_in_cookies import asking, request_id_of, set_signed_in
from server.people import passwords, throttle
from server.people.accounts import LONGEST_NAME, fold_sign_in_name
from server.people.audit import note
from server.people.current import engine_of, open_to_anyone
from server.people.first_account import AlreadyMade, is_made, make_first_account
from server.people.setup_code import forget_code, is_code
from server.people.signing_in import open_for
from server.people.throttle import Bucket
from server.store.engine import writing

__all__ = ["FirstAccountPage", "router"]

router = APIRouter(
    include_in_schema=False, dependencies=[open_to_anyone("there is nobody yet who could sign in")]
)


class FirstAccount(BaseModel):
    """What the first account takes."""

    model_config = ConfigDict(extra="forbid", str_strip_whitespace=False)

    name: str = Field(max_length=LONGEST_NAME, min_length=1)
    sign_in_name: str = Field(max_length=LONGEST_NAME)
    password: str = Field(max_length=passwords.LONGEST * 4)
    crew_name: str = Field(max_length=LONGEST_NAME, min_length=1)
    code: str = ""


@dataclass(frozen=True, slots=True)
class FirstAccountPage:
    """The page's context. ``asks_code``: the installation can be reached by others."""

    fields: Fields
    asks_code: bool
    shortest: int = passwords.SHORTEST


@router.get("/first-account", name="first_account")
def first_account(request: Request) -> Response:
    """Show the form, as long as there is no account."""
    if is_made(engine_of(request)):
        return error_page(request, 404)
    return _page(request, NOTHING_TYPED)


@router.post("/first-account")
def make(request: Request, form: Typed) -> Response:
    """Make the account and its crew, and sign in."""
    engine = engine_of(request)
    settings = request.app.state.settings
    if is_made(engine):
        return error_page(request, 404)
    read = form.read(FirstAccount)
    fields = read.fields.without("password")
    if read.model is None:
        return _page(request, fields, 422)
    entered = read.model
    try:
        sign_in_name = fold_sign_in_name(entered.sign_in_name)
    except ValueError as error:
        fields, sign_in_name = fields.wrong("sign_in_name", str(error).capitalize() + "."), ""
    weak = passwords.weakness(entered.password, (entered.name, entered.sign_in_name, entered.crew_name))
    if weak:
        fields = fields.wrong("password", weak)
    for field in ("name", "crew_name"):
        if not getattr(entered, field).strip():
            fields = fields.wrong(field, "Fill this in.")
    if fields.errors:
        return _page(request, fields, 422)
    now = datetime.now(UTC)
    if not settings.is_local:
        with writing(engine) as session:
            wait = throttle.take(session, [Bucket("first-account", throttle.ACCOUNT)], now)
        if wait or not is_code(settings.data_dir, entered.code):
            text = f"Wait {wait} seconds." if wait else "This is not the code that the server wrote down."
            return _page(request, fields.wrong("code", text), 422)
    kept = passwords.hash_password(entered.password)
    try:
        with writing(engine) as session:
            account_id, crew_id = make_first_account(
                session,
                name=entered.name.strip(),
                sign_in_name=sign_in_name,
                password_hash=kept,
                crew_name=entered.crew_name.strip(),
                now=now,
            )
            note(
                session,
                "first account made",
                now,
                person_id=account_id,
                crew_id=crew_id,
                request_id=request_id_of(request),
            )
            signed_in = open_for(session, account_id, crew_id, asking(request), now)
    except AlreadyMade:
        return error_page(request, 404)
    forget_code(settings.data_dir)
    response = redirect("/", f"Welcome, {entered.name.strip()}. This crew is yours.")
    set_signed_in(request, response, signed_in)
    return response


def _page(request: Request, fields: Fields, status: int = 200) -> Response:
    page = FirstAccountPage(fields, asks_code=not request.app.state.settings.is_local)
    return render(request, "people/first_account.html", page, status=status)
