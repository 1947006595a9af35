"""The first address, and the reader's choice of light or dark."""

from __future__ import annotations

from typing import Literal

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from pydantic import BaseModel, ConfigDict
from starlette.responses import Response
from starlette.routing import NoMatchFound

from server.pages.errors import error_page
from server.pages.flash import own_path
from server.pages.forms import Typed
from server.pages.rendering import THEME_COOKIE
from server.people.current import Reader, open_to_anyone

__all__ = ["router"]

router = APIRouter(include_in_schema=False)
_YEAR_S = 31_536_000


class ThemeChoice(BaseModel):
    """Which theme, and the page to go back to."""

    model_config = ConfigDict(extra="forbid")

    theme: Literal["auto", "light", "dark"]
    back: str = "/"


@router.get("/", name="home")
def home(request: Request, person: Reader) -> Response:
    """Go to where work begins."""
    try:
        return RedirectResponse(str(request.app.url_path_for("jobs")), status_code=303)
    except NoMatchFound:
        return RedirectResponse("/account", status_code=303)


@router.post(
    "/theme", name="theme", dependencies=[open_to_anyone("a look, kept in the reader's own browser")]
)
def choose_theme(request: Request, form: Typed) -> Response:
    """Keep the theme in a cookie."""
    read = form.read(ThemeChoice)
    if read.model is None:
        return error_page(request, 422)
    response = RedirectResponse(own_path(read.model.back), status_code=303)
    response.set_cookie(
        THEME_COOKIE,
        read.model.theme,
        max_age=_YEAR_S,
        httponly=True,
        samesite="lax",
        path="/",
    )
    return response
