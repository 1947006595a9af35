"""Wires the service together: the one place that knows every floor.

The layers around a request, outside first: ``Envelope`` (id, headers, host, log, last resort) > ``GZip`` >
``SameOrigin`` > routes. Routes are plain functions: they run on a few threads, so that one slow request stops nobody.
"""

from __future__ import annotations

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Final

import anyio.to_thread
from fastapi import FastAPI
from sqlalchemy import Engine
from starlette.middleware.gzip import DEFAULT_EXCLUDED_CONTENT_TYPES, GZipMiddleware
from starlette.routing import BaseRoute

from server.api import (
    fact_routes,
    job_routes,
    observation_routes,
    readiness_routes,
    sheet_routes,
    store_problems,
)
from server.api.problems import RESPONSES, describe_problems
from server.clock import Clock
from server.pages import (
    account,
    amendments,
    box_editing,
    box_placing,
    boxes,
    cables,
    changes,
    circuit_protection,
    circuits,
    copies,
    crew,
    crew_work,
    demo,
    devices,
    errors,
    exports,
    first_run,
    guests,
    guide,
    health,
    history,
    home,
    hookups,
    imports,
    jobs,
    join,
    levels,
    load,
    offline,
    one_room,
    packet,
    panels,
    photographs,
    practice,
    readiness,
    room_changes,
    room_parts,
    rooms,
    rules,
    runs,
    second_factor,
    sheets,
    sign_in,
    walk,
    walls,
)
from server.pages.static_files import HashedFiles
from server.people.current import open_to_anyone
from server.people.seal import Seal
from server.security.envelope import Envelope
from server.security.same_origin import SameOrigin
from server.settings import Settings
from server.store.engine import make_engine

__all__ = ["create_app"]

_STATIC: Final = Path(__file__).parents[1] / "static"
_MB: Final = 1_000_000
_PAGES: Final = (
    home, health, first_run, sign_in, join, demo, account, second_factor, crew, jobs, rooms, room_changes, one_room, readiness, walk, history, changes, packet,
    rules, sheets, offline, photographs, crew_work, guests, exports, guide, practice, load, amendments, box_placing, boxes, box_editing, devices, walls, room_parts, copies, levels, imports,
    panels, circuits, circuit_protection, runs, cables, hookups,
)  # fmt: skip


def create_app(settings: Settings | None = None, engine: Engine | None = None) -> FastAPI:
    """Build the application.

    Args:
        settings: what the installation decides; from the environment where not given.
        engine: the database; made from the settings where not given. Its schema must be current
            (``python -m server`` sees to it).
    """
    settings = settings or Settings()
    own_engine = engine is None
    # a pool smaller than the threads would let requests wait on each other for a connection
    engine = engine or make_engine(settings.database, pool_size=settings.threads + 2)

    @asynccontextmanager
    async def lifespan(_app: FastAPI) -> AsyncIterator[None]:
        # forty threads, the default, fight over one interpreter and halve what gets through
        anyio.to_thread.current_default_thread_limiter().total_tokens = settings.threads
        clock = Clock(engine) if own_engine else None
        if clock is not None:
            clock.start()
        if own_engine:
            # what was made at the start stays: looking it all through again in the middle of a page stops that page
            # for a quarter of a second
            gc.collect()
            gc.freeze()
        yield
        if clock is not None:
            clock.stop()
        if hasattr(app.state, "press"):
            app.state.press.close()
        if own_engine:
            engine.dispose()

    app = FastAPI(
        title="Studbay",
        version="0.1.0",
        lifespan=lifespan,
        # its pages take scripts from another host; the document itself stands under /api/openapi.json
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        max_body_size=settings.body_limit_mb * _MB,
    )
    app.state.settings = settings
    app.state.engine = engine
    app.state.seal = Seal(settings.data_dir, settings.seal_key)
    errors.install(app)
    store_problems.install(app)
    describe_problems(app)
    _add_routes(app)
    app.add_middleware(SameOrigin, public_url=settings.public_url, refuse=errors.refuse_other_site)
    app.add_middleware(
        GZipMiddleware,
        minimum_size=600,
        compresslevel=6,
        exclude_content_types=(*DEFAULT_EXCLUDED_CONTENT_TYPES, "application/pdf"),
    )
    app.add_middleware(
        Envelope,
        secure=settings.secure,
        host_names=settings.host_names,
        wrong_host=errors.wrong_host,
        last_resort=errors.last_resort,
    )
    return app


def _add_routes(app: FastAPI) -> None:
    """Every router. Each route says who may use it; a test looks."""
    app.include_router(
        sheet_routes.router,
        dependencies=[open_to_anyone("a reckoning with no job and nobody's facts behind it")],
        responses={status: RESPONSES[status] for status in (400, 413, 422)},
    )
    app.include_router(photographs.upload_router, max_body_size=app.state.settings.upload_limit_mb * _MB)
    app.include_router(job_routes.file_router, max_body_size=app.state.settings.upload_limit_mb * _MB)
    for api in (job_routes, fact_routes, observation_routes, readiness_routes):
        app.include_router(api.router)
    for page in _PAGES:
        # the first route that fits is taken: "rooms/new" must not be read as the room called "new"
        page.router.routes.sort(key=_words_before_parameters)
        app.include_router(page.router)
    app.mount("/static", HashedFiles(directory=_STATIC), name="static")


def _words_before_parameters(route: BaseRoute) -> list[bool]:
    return [part.startswith("{") for part in getattr(route, "path", "").split("/")]
