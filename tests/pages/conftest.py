"""Pages are asked by everybody of the cast (tests/cast.py) through the whole application."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from tests.cast import Cast, client_for, make_app, make_cast


@pytest.fixture
def database_kind() -> str:
    """Pages ask the store, and the store's own tests run on both databases."""
    return "sqlite"


@pytest.fixture
def cast(engine: Engine) -> Cast:
    """Everybody, in an empty database."""
    return make_cast(engine)


@pytest.fixture
def app(engine: Engine) -> FastAPI:
    """The application over the test's database."""
    return make_app(engine)


@pytest.fixture
def client(app: FastAPI) -> TestClient:
    """A browser that nobody is signed in with."""
    return client_for(app)


@pytest.fixture
def as_(app: FastAPI, cast: Cast) -> Callable[[str], TestClient]:
    """A browser of somebody: ``as_("ana").get("/jobs")``."""
    return lambda name: client_for(app, cast.token(name))
