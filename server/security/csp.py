"""The content security policy: nothing is allowed, then each opening with its reason.

No inline script or style, no eval, no other host: a string from a user that slipped into a page stays a string.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

__all__ = ["POLICY", "policy_header"]

POLICY: Final[Mapping[str, str]] = {
    # whatever is not named below is refused, also what browsers invent later
    "default-src": "'none'",
    # htmx and our own script, from static/
    "script-src": "'self'",
    # our own style sheets, from static/
    "style-src": "'self'",
    # icons and stored photographs; blob: is the preview of a photograph before it is sent
    "img-src": "'self' blob:",
    # htmx and the outbox talk to this server
    "connect-src": "'self'",
    # the icon and name on a tablet's home screen (default-src does not cover it)
    "manifest-src": "'self'",
    # the worker that keeps a job at hand without signal
    "worker-src": "'self'",
    # forms go home; an injected form cannot send what is typed elsewhere
    "form-action": "'self'",
    # nobody frames us: no clicks on what one cannot see
    "frame-ancestors": "'none'",
    # a base element would bend every relative address
    "base-uri": "'none'",
    "object-src": "'none'",
}


def policy_header(secure: bool) -> str:
    """The policy as a header's value; ``secure`` sends stray http addresses of our own over https."""
    parts = [f"{name} {value}" for name, value in POLICY.items()]
    return "; ".join([*parts, "upgrade-insecure-requests"] if secure else parts)
