"""Parts of a page that follow what others do: asked for again while somebody looks, sent only when they changed.

``static/live.js`` asks; a template whose parts have ids answers. Without script the page stands as it was sent.
"""

from __future__ import annotations

import hashlib
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from server.pages.rendering import template

__all__ = ["live_parts"]


def live_parts(request: Request, name: str, page: Any) -> Response:
    """A template's parts under the hash of what they say (RFC 9110, 8.8.3); 304 where the browser has just these."""
    html = template(name, page=page)
    tag = f'"{hashlib.sha256(html.encode()).hexdigest()[:32]}"'
    if request.headers.get("If-None-Match") == tag:
        return Response(status_code=304, headers={"ETag": tag})
    return HTMLResponse(html, headers={"ETag": tag})
