"""Answers when something is not as it should be: a page for people, problem details (RFC 9457) under ``/api``.

Every error says what happened and where to go; none shows a stack trace, another crew's names or what a guess hit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, urlsplit

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, PlainTextResponse, RedirectResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from server.api.problems import field_errors, problem, unprocessable
from server.pages.flash import own_path
from server.pages.rendering import render
from server.people.access import Forbidden, NotFound
from server.people.current import NoAccount, ProofNeeded, SecondFactorNeeded, SignInNeeded
from server.people.first_account import is_made

__all__ = ["ErrorPage", "error_page", "install", "last_resort", "refuse_other_site", "wrong_host"]

_WORDS: Final = {
    400: ("This request cannot be read", "Something in it was not as we expected."),
    401: ("Sign in first", "You were signed out meanwhile, and nothing of this was recorded."),
    403: ("Not with your role", "Your role on this crew does not include this."),
    404: ("Nothing here", "There is nothing at this address, or it is not yours to see."),
    405: ("Not in this way", "This address cannot be asked in this way."),
    409: (
        "Changed meanwhile",
        "Somebody else changed this in the meantime. Look at it again before you change it.",
    ),
    413: ("Too large", "This is larger than we take."),
    415: ("Not a form", "This address takes what its form sends."),
    422: ("Some fields need another value", "Go back and look at what was typed."),
    429: ("Too many tries", "Wait a little, then try again."),
    500: ("Something failed on our side", "It was not your doing, and it has been written down."),
    503: ("Not just now", "The server is busy. Try again in a moment."),
}
_LAST_PAGE: Final = (
    '<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
    "<title>Something failed · Studbay</title>"
    '<link rel="stylesheet" href="/static/css/studbay.css"><body class="narrow"><main>'
    '<header class="title-block"><div class="title-cell title-main"><p class="kicker">500</p>'
    f"<h1>{_WORDS[500][0]}</h1></div></header><p>{_WORDS[500][1]} What you were doing may not have been recorded."
    '</p><p><a class="button" href="/">To the first page</a></p>'
    '<p class="small quiet">Request <span class="code">{request_id}</span></p></main></body></html>'
)


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """What an error page shows."""

    status: int
    title: str
    text: str
    request_id: str
    way_out: str = "/"
    way_out_word: str = "To the first page"


def _is_api(request: Request) -> bool:
    return request.url.path.startswith("/api/")


def error_page(
    request: Request, status: int, text: str = "", headers: dict[str, str] | None = None
) -> Response:
    """An error as a page, or as a problem document under ``/api``."""
    title, usual = _WORDS.get(status, _WORDS[400 if status < 500 else 500])
    request_id = str(getattr(request.state, "request_id", ""))
    if _is_api(request):
        answer: Response = problem(status, text or usual, request_id=request_id)
        answer.headers.update(headers or {})
        return answer
    page = ErrorPage(status, title, text or usual, request_id)
    return render(request, "errors/error.html", page, status=status, headers=headers)


def _sign_in_needed(request: Request, _error: Exception) -> Response:
    if _is_api(request):
        return problem(401, "Sign in, or send a key: Authorization: Bearer ...")
    if not is_made(request.app.state.engine):
        where = "/first-account"
    elif request.method in ("GET", "HEAD"):
        query = f"?{request.url.query}" if request.url.query else ""
        where = f"/sign-in?next={quote(request.url.path + query, safe='')}"
    else:
        where = "/sign-in?lost=yes"
    if "hx-request" in request.headers:
        # a fragment must not show the sign-in page in the middle of another: the whole page goes there
        return HTMLResponse("", status_code=401, headers={"HX-Redirect": where.split("?")[0] + "?lost=yes"})
    if request.method in ("GET", "HEAD") or where == "/first-account":
        return RedirectResponse(where, status_code=303)
    page = ErrorPage(401, *_WORDS[401], "", where, "Sign in")
    return render(request, "errors/error.html", page, status=401)


def _proof_needed(request: Request, _error: Exception) -> Response:
    """Ask for the password again, then come back to the page; what a form had is lost, its page is not."""
    if _is_api(request):
        return error_page(request, 403, "This takes the password again: do it in the browser.")
    back = request.url.path if request.method == "GET" else urlsplit(request.headers.get("referer", "/")).path
    return RedirectResponse(f"/prove?next={quote(own_path(back), safe='')}", status_code=303)


def _second_factor_needed(request: Request, _error: Exception) -> Response:
    if _is_api(request):
        return error_page(request, 403, "Owners need a second factor here: set it up in the browser.")
    return RedirectResponse("/account/second-factor", status_code=303)


def _no_account(request: Request, _error: Exception) -> Response:
    return error_page(request, 403, "A guest's link opens one job; there is no account behind it.")


def _not_found(request: Request, _error: Exception) -> Response:
    return error_page(request, 404)


def _forbidden(request: Request, error: Exception) -> Response:
    return error_page(request, 403, str(error))


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if error.status_code == 404 and not _is_api(request) and not is_made(request.app.state.engine):
        return RedirectResponse("/first-account", status_code=303)
    text = error.detail if error.status_code in (400, 409, 413, 415, 422, 429, 503) else ""
    return error_page(request, error.status_code, text, dict(error.headers or {}))


async def _unprocessable(request: Request, error: Exception) -> Response:
    if _is_api(request):
        return await unprocessable(request, error)
    assert isinstance(error, RequestValidationError)
    places = {str(item["loc"][0]) for item in error.errors() if item["loc"]}
    if "path" in places:
        # an id that is not even of the right shape is a missing one
        return error_page(request, 404)
    names = ", ".join(dict.fromkeys(item["field"] for item in field_errors(error.errors())))
    return error_page(request, 422, f"Look at: {names}")


def install(app: FastAPI) -> None:
    """Register the answers."""
    app.add_exception_handler(SignInNeeded, _sign_in_needed)
    app.add_exception_handler(NoAccount, _no_account)
    app.add_exception_handler(ProofNeeded, _proof_needed)
    app.add_exception_handler(SecondFactorNeeded, _second_factor_needed)
    app.add_exception_handler(NotFound, _not_found)
    app.add_exception_handler(Forbidden, _forbidden)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(RequestValidationError, _unprocessable)


async def refuse_other_site(scope: Scope, receive: Receive, send: Send, why: str) -> None:
    """The answer to a request that another site made a browser send."""
    text = f"This request was refused because {why}. Open Studbay itself and do it there."
    if scope["path"].startswith("/api/"):
        answer: Response = problem(403, text)
    else:
        answer = PlainTextResponse(text, status_code=403)
    await answer(scope, receive, send)


async def wrong_host(scope: Scope, receive: Receive, send: Send) -> None:
    """The answer to a request for a name that is not ours."""
    text = "This server does not answer to that name. Whoever runs it sets the name in STUDBAY_PUBLIC_URL."
    await PlainTextResponse(text, status_code=421)(scope, receive, send)


async def last_resort(scope: Scope, receive: Receive, send: Send) -> None:
    """The answer after an error that nobody caught: plain, because rendering may be what failed."""
    request_id = scope.get("state", {}).get("request_id", "")
    if scope["path"].startswith("/api/"):
        answer: Response = problem(500, _WORDS[500][1], request_id=request_id)
    else:
        answer = PlainTextResponse(
            f"{_WORDS[500][0]}. {_WORDS[500][1]} Request {request_id}.", status_code=500
        )
    await answer(scope, receive, send)
