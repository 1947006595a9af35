"""``python -m server``: bring the database up to date, then serve it.

Everything is decided by ``STUDBAY_*`` settings (:mod:`server.settings`); unsafe ones are refused with a sentence.
"""

from __future__ import annotations

import logging
import sys
from typing import Final

import uvicorn
from fastapi import FastAPI
from pydantic import ValidationError

from server.people.first_account import is_made
from server.people.setup_code import make_code
from server.security.log import configure
from server.settings import Settings
from server.store import schema
from server.store.engine import make_engine

__all__ = ["build", "main", "prepare", "serve"]

LOG = logging.getLogger("studbay")
_GRACE_S: Final = 20
_KEEP_ALIVE_S: Final = 75
"""Longer than anybody thinks between two taps, and than proxies keep theirs (60 s): at the usual five seconds a tap met a
connection that was just being closed, a few times in a thousand."""


def prepare(settings: Settings) -> None:
    """Make what serving needs: the data folder, the newest schema, the code for the first account."""
    settings.data_dir.mkdir(parents=True, exist_ok=True)
    engine = make_engine(settings.database)
    try:
        schema.upgrade(engine)
        made = is_made(engine)
    finally:
        engine.dispose()
    if not made and not settings.is_local:
        LOG.warning("no account yet; the first one takes the code in %s", make_code(settings.data_dir))


def build() -> FastAPI:
    """The application of one worker process."""
    # loaded here: settings that are refused are refused at once, and the process that only watches others needs none
    from server.app import create_app

    settings = Settings()
    configure(settings.log_format)
    return create_app(settings)


def serve(settings: Settings, factory: str = "server.__main__:build") -> None:
    """Serve until told to stop. ``factory`` makes the application of each process."""
    uvicorn.run(
        factory,
        factory=True,
        host=settings.host,
        port=settings.port,
        workers=settings.workers if settings.workers > 1 else None,
        loop="uvloop",
        http="httptools",
        # our own log has the request's id and no secrets of paths
        access_log=False,
        log_config=None,
        server_header=False,
        date_header=True,
        proxy_headers=bool(settings.trusted_proxies),
        forwarded_allow_ips=",".join(settings.trusted_proxies) or None,
        timeout_graceful_shutdown=_GRACE_S,
        timeout_keep_alive=_KEEP_ALIVE_S,
    )


def main() -> int:
    """The command; returns the process's exit code."""
    try:
        settings = Settings()
    except ValidationError as error:
        for item in error.errors():
            name = "_".join(str(part) for part in item["loc"]).upper()
            sys.stderr.write(
                f"{f'STUDBAY_{name}: ' if name else ''}{item['msg'].removeprefix('Value error, ')}\n"
            )
        return 2
    try:
        make_engine(settings.database).dispose()
    except ValueError as error:
        sys.stderr.write(f"STUDBAY_DATABASE_URL: {error}\n")
        return 2
    configure(settings.log_format)
    prepare(settings)
    LOG.info("serving on %s", settings.public_url or f"http://{settings.host}:{settings.port}")
    serve(settings)
    return 0


if __name__ == "__main__":
    sys.exit(main())
