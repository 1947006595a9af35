"""The one-time link: set a password, for a new member of a crew or for one who forgot it."""

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
from server.pages.sign_in_cookies import end_session_cookies, request_id_of
from server.people import passwords
from server.people.accounts import set_password
from server.people.audit import note
from server.people.current import engine_of, open_to_anyone
from server.people.invites import Invited, find_invite, use_invite
from server.store.engine import reading, writing

__all__ = ["JoinPage", "router"]

router = APIRouter(
    include_in_schema=False, dependencies=[open_to_anyone("the link's secret stands for signing in")]
)
_ENDED = "This link was used already, or it has ended. Ask the crew's owner for another one."


class NewPassword(BaseModel):
    """A password to set."""

    model_config = ConfigDict(extra="forbid")

    password: str = Field(max_length=passwords.LONGEST * 4)


@dataclass(frozen=True, slots=True)
class JoinPage:
    """Whom the link is for, and the form."""

    name: str
    sign_in_name: str
    token: str
    fields: Fields
    shortest: int = passwords.SHORTEST


def _invited(request: Request, token: str) -> Invited | None:
    with reading(engine_of(request)) as session:
        return find_invite(session, token, datetime.now(UTC))


@router.get("/join/{token}", name="join")
def show(request: Request, token: str) -> Response:
    """Show the form. Looking does not use the link up: mail programs look at links too."""
    invited = _invited(request, token)
    if invited is None:
        return error_page(request, 404, _ENDED)
    return _page(request, invited, token, NOTHING_TYPED)


@router.post("/join/{token}")
def join(request: Request, token: str, form: Typed) -> Response:
    """Set the password and use the link up; then sign in with it, with the second factor where there is one."""
    invited = _invited(request, token)
    if invited is None:
        return error_page(request, 404, _ENDED)
    read = form.read(NewPassword)
    if read.model is None:
        return _page(request, invited, token, read.fields.without("password"))
    weak = passwords.weakness(read.model.password, (invited.name, invited.sign_in_name))
    if weak:
        return _page(request, invited, token, NOTHING_TYPED.wrong("password", weak))
    now, kept = datetime.now(UTC), passwords.hash_password(read.model.password)
    with writing(engine_of(request)) as session:
        used = use_invite(session, invited.invite_id, now)
        if used:
            set_password(session, invited.account_id, kept, now)
            note(
                session,
                "password set",
                now,
                person_id=invited.account_id,
                request_id=request_id_of(request),
                by="link",
            )
    if not used:
        return error_page(request, 404, _ENDED)
    response = redirect("/sign-in", f"Your password is set. Sign in as {invited.sign_in_name}.")
    end_session_cookies(request, response)
    return response


def _page(request: Request, invited: Invited, token: str, fields: Fields) -> Response:
    page = JoinPage(invited.name, invited.sign_in_name, token, fields)
    return render(request, "people/join.html", page, status=422 if fields.errors else 200)
