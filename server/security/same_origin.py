"""Refuses state-changing requests that another site made a browser send (CSRF), by what the browser says of them.

A request that may change something passes when

1. ``Sec-Fetch-Site`` is ``same-origin`` (our own page) or ``none`` (the person at the address bar), else
2. without that header (older browsers, plain http): ``Origin`` is our own address, else
3. without both: it carries no cookie, so nobody's session can be abused (programs, ``curl``).

Nothing is stored in the page: what a tablet recorded without signal is still accepted hours later.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Final

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

__all__ = ["SameOrigin", "refusal"]

SAFE_METHODS: Final = frozenset({"GET", "HEAD", "OPTIONS"})
Refuse = Callable[[Scope, Receive, Send, str], Awaitable[None]]


def refusal(method: str, headers: Headers, own_origins: frozenset[str]) -> str | None:
    """Why a request is refused, or None where it may pass."""
    if method in SAFE_METHODS:
        return None
    site = headers.get("sec-fetch-site")
    if site is not None:
        if site in ("same-origin", "none"):
            return None
        return f"the browser says that it was sent by another site (Sec-Fetch-Site: {site})"
    origin = headers.get("origin")
    if origin is not None:
        if origin.lower() in own_origins:
            return None
        return "it was sent by a page of another address (Origin)"
    if "cookie" in headers:
        return "it carries a cookie but neither Sec-Fetch-Site nor Origin"
    return None


class SameOrigin:
    """The middleware. ``public_url`` empty: the request's own scheme and Host are its origin."""

    def __init__(self, app: ASGIApp, *, public_url: str, refuse: Refuse) -> None:
        self.app = app
        self.public_url = public_url.lower()
        self.refuse = refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        own = (
            {self.public_url}
            if self.public_url
            else {f"{scope['scheme']}://{headers.get('host', '').lower()}"}
        )
        why = refusal(scope["method"], headers, frozenset(own))
        if why is None:
            await self.app(scope, receive, send)
        else:
            await self.refuse(scope, receive, send, why)
