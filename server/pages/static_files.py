"""Serves ``static/``: kept for ever under an address with its content's hash, asked again without."""

from __future__ import annotations

from typing import Final

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

__all__ = ["HashedFiles"]

_FOR_EVER: Final = "public, max-age=31536000, immutable"


class HashedFiles(StaticFiles):
    """Static files whose address may carry ``?v=HASH``."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        hashed = scope["query_string"].startswith(b"v=") and response.status_code in (200, 304)
        response.headers["Cache-Control"] = _FOR_EVER if hashed else "no-cache"
        return response
