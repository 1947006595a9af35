"""What the page after a form says: "Room added", with a way to undo it.

It travels in a cookie for one page. The reader could write into it, as into the address bar; nobody else can.
"""

from __future__ import annotations

import base64
import binascii
import json
from dataclasses import asdict, dataclass
from typing import Final

from fastapi import Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

__all__ = ["Said", "clear", "own_path", "read", "redirect"]

_COOKIE: Final = "said"
_SECONDS: Final = 60
_LONGEST: Final = 2000


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence, and where to post to take back what it tells (empty: nothing to take back)."""

    text: str
    undo: str = ""
    undo_label: str = "Undo"


def own_path(path: str, otherwise: str = "/") -> str:
    """A path of ours to go to, or ``otherwise``: never another site, whatever the request says."""
    plain = path.startswith("/") and not path.startswith("//")
    return path if plain and "\\" not in path and path.isprintable() and len(path) <= _LONGEST else otherwise


def redirect(to: str, said: Said | str | None = None, *, status: int = 303) -> RedirectResponse:
    """Go to a page of ours (the browser asks for it with GET), which then says something."""
    response = RedirectResponse(own_path(to), status_code=status)
    if said is not None:
        message = Said(said) if isinstance(said, str) else said
        packed = base64.urlsafe_b64encode(json.dumps(asdict(message)).encode()).decode()
        response.set_cookie(_COOKIE, packed, max_age=_SECONDS, httponly=True, samesite="lax", path="/")
    return response


def read(request: Request) -> Said | None:
    """What there is to say; None also for a cookie that is none of ours."""
    packed = request.cookies.get(_COOKIE, "")
    if not packed or len(packed) > _LONGEST:
        return None
    try:
        found = json.loads(base64.urlsafe_b64decode(packed))
        said = Said(**found)
    except (binascii.Error, ValueError, TypeError):
        return None
    if not all(isinstance(part, str) for part in (said.text, said.undo, said.undo_label)):
        return None
    return Said(said.text, own_path(said.undo, ""), said.undo_label)


def clear(response: Response) -> None:
    """It has been said."""
    response.delete_cookie(_COOKIE, path="/", httponly=True, samesite="lax")
