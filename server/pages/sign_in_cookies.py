"""The cookies of signing in, and what is known of the browser that asks."""

from __future__ import annotations

from typing import Final

from fastapi import Request
from starlette.responses import Response

from server.people.current import GUEST_ENDING, cookie_name, lifetime_of
from server.people.invites import HALF_FOR
from server.people.signing_in import DEVICE_FOR, Asking, SignedIn

__all__ = [
    "asking",
    "end_session_cookies",
    "half_token",
    "request_id_of",
    "set_half",
    "set_session",
    "set_signed_in",
]

_HALF: Final = "-half"
_DEVICE: Final = "-device"


def _name(request: Request, ending: str = "") -> str:
    return cookie_name(request.app.state.settings.secure) + ending


def _set(request: Request, response: Response, ending: str, token: str, seconds: float) -> None:
    response.set_cookie(
        _name(request, ending),
        token,
        max_age=int(seconds),
        path="/",
        secure=request.app.state.settings.secure,
        httponly=True,
        samesite="lax",
    )


def _clear(request: Request, response: Response, ending: str) -> None:
    response.delete_cookie(
        _name(request, ending),
        path="/",
        secure=request.app.state.settings.secure,
        httponly=True,
        samesite="lax",
    )


def request_id_of(request: Request) -> str:
    """The id under which this request stands in the log."""
    return str(getattr(request.state, "request_id", ""))


def asking(request: Request) -> Asking:
    """What is known of the browser."""
    return Asking(
        address=request.client.host if request.client else None,
        device=request.headers.get("user-agent", ""),
        known_device=request.cookies.get(_name(request, _DEVICE), ""),
        old_session=request.cookies.get(_name(request), ""),
        request_id=request_id_of(request),
        lifetime=lifetime_of(request),
    )


def set_session(request: Request, response: Response, token: str) -> None:
    """Give the browser its session."""
    _set(request, response, "", token, lifetime_of(request).longest.total_seconds())


def set_signed_in(request: Request, response: Response, signed_in: SignedIn) -> None:
    """Give the browser its session and make it a known one."""
    set_session(request, response, signed_in.token)
    _set(request, response, _DEVICE, signed_in.device_token, DEVICE_FOR.total_seconds())
    _clear(request, response, _HALF)


def set_half(request: Request, response: Response, token: str) -> None:
    """Between the password and the second factor."""
    _set(request, response, _HALF, token, HALF_FOR.total_seconds())


def half_token(request: Request) -> str:
    """The token between the two steps."""
    return request.cookies.get(_name(request, _HALF), "")


def end_session_cookies(request: Request, response: Response) -> None:
    """Take the session from the browser; that it is a known one stays."""
    for ending in ("", _HALF, GUEST_ENDING):
        _clear(request, response, ending)
