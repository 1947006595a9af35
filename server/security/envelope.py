"""The outermost layer: every answer leaves with its headers, an id, and never with a stack trace.

Order of the layers, outside first: ``Envelope`` (id, headers, host, log, last resort) > ``GZip`` > ``SameOrigin`` >
the application.
"""

from __future__ import annotations

import logging
import re
import secrets
import time
from collections.abc import Awaitable, Callable
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from server.security.csp import policy_header

__all__ = ["Envelope", "host_name"]

LOG = logging.getLogger("studbay.request")
_YEAR_S: Final = 31_536_000
_SECRET_PATHS: Final = re.compile(r"^/(join|guest|calendar)/[^/]+")
_WATCHED: Final = "/health"
"""Asked by address, by whoever watches the server; it tells nothing of anybody's."""
Answer = Callable[[Scope, Receive, Send], Awaitable[None]]


def host_name(header: str) -> str:
    """The name in a Host header, without the port: ``[::1]:8000`` gives ``[::1]``."""
    if header.startswith("["):
        return header.partition("]")[0] + "]"
    return header.partition(":")[0].lower()


def _secure_cookies(message: Message) -> None:
    """No cookie of ours travels in the clear, whoever set it."""
    message["headers"] = [
        (name, value + b"; Secure")
        if name.lower() == b"set-cookie" and b"; secure" not in value.lower()
        else (name, value)
        for name, value in message["headers"]
    ]


def _who(scope: Scope) -> str:
    """The id of whoever asked, where a route looked: what was read, taken away or refused is somebody's doing."""
    person = getattr(scope["state"].get("session"), "person", None)
    return str(getattr(person, "id", ""))


class Envelope:
    """The middleware.

    Args:
        secure: browsers come over https (HSTS).
        host_names: names that the Host header may carry; another name that was pointed here is refused, so that no
            foreign page can talk to a service on the reader's own machine.
        wrong_host: answers a request for a foreign name.
        last_resort: answers after an error that nobody caught.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        secure: bool,
        host_names: frozenset[str],
        wrong_host: Answer,
        last_resort: Answer,
    ) -> None:
        self.app = app
        self.secure = secure
        self.host_names = host_names
        self.wrong_host = wrong_host
        self.last_resort = last_resort
        self.fixed = {
            "Content-Security-Policy": policy_header(secure),
            "X-Content-Type-Options": "nosniff",
            # own pages see the path, other sites nothing
            "Referrer-Policy": "same-origin",
            "Cross-Origin-Opener-Policy": "same-origin",
            "Cross-Origin-Resource-Policy": "same-origin",
            "Permissions-Policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
            **({"Strict-Transport-Security": f"max-age={_YEAR_S}; includeSubDomains"} if secure else {}),
        }

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request_id = secrets.token_hex(8)
        scope.setdefault("state", {})["request_id"] = request_id
        started = time.perf_counter()
        status = 0

        async def send_with_headers(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                headers = MutableHeaders(scope=message)
                for name, value in self.fixed.items():
                    headers.setdefault(name, value)
                # personal unless a route says otherwise
                headers.setdefault("Cache-Control", "no-store")
                headers["X-Request-Id"] = request_id
                if headers.get("content-type", "").startswith("text/html"):
                    # htmx asks some addresses for a part of their page: a cache must not mistake one for the other
                    headers.add_vary_header("HX-Request")
                if self.secure:
                    _secure_cookies(message)
            await send(message)

        try:
            known = host_name(Headers(scope=scope).get("host", "")) in self.host_names
            if known or scope["path"] == _WATCHED:
                await self.app(scope, receive, send_with_headers)
            else:
                await self.wrong_host(scope, receive, send_with_headers)
        except Exception:
            LOG.exception("request %s failed", request_id)
            if status:  # the answer has begun: break it off, so that no half page passes for a whole one
                raise
            await self.last_resort(scope, receive, send_with_headers)
        finally:
            LOG.info(
                "%s %s %d",
                scope["method"],
                _SECRET_PATHS.sub(r"/\1/...", scope["path"]),
                status,
                extra={
                    "request_id": request_id,
                    "ms": round((time.perf_counter() - started) * 1000, 1),
                    "person": _who(scope),
                },
            )
