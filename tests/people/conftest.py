"""People are tested with the cast of tests/cast.py; what touches tables runs on both databases."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine

from tests.cast import Cast, make_cast


@pytest.fixture
def cast(engine: Engine) -> Cast:
    """Everybody, in an empty database."""
    return make_cast(engine)
