"""Whether the service can do its work, for whoever watches it: 200 and ``ok``, or 503 and what fails. No details of
anybody's. It answers to any host name, since watchers ask by address."""

from __future__ import annotations

import logging
import os
from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from sqlalchemy import Engine, select
from sqlalchemy.exc import SQLAlchemyError

from server.people.current import engine_of, open_to_anyone
from server.store.engine import reading
from server.store.tables.people import InstallationRow

__all__ = ["router"]

LOG = logging.getLogger("studbay")
router = APIRouter(
    include_in_schema=False, dependencies=[open_to_anyone("whoever watches the server has no account on it")]
)


@router.get("/health", name="health")
def health(request: Request) -> JSONResponse:
    """Ask the database and the data folder."""
    checks = {
        "database": _database_answers(engine_of(request)),
        "data_folder": _can_write(request.app.state.settings.data_dir),
    }
    works = all(checks.values())
    words = {name: "ok" if right else "fails" for name, right in checks.items()}
    return JSONResponse({"standing": "ok" if works else "fails", **words}, status_code=200 if works else 503)


def _database_answers(engine: Engine) -> bool:
    try:
        with reading(engine) as session:
            session.scalar(select(InstallationRow.id))
    except SQLAlchemyError:
        LOG.exception("the database does not answer")
        return False
    return True


def _can_write(folder: Path) -> bool:
    return folder.is_dir() and os.access(folder, os.W_OK)
