"""Wires the service together: the one place that knows every floor."""

from __future__ import annotations

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError

from server.api import sheet_routes
from server.api.problems import unprocessable

__all__ = ["create_app"]


def create_app() -> FastAPI:
    """Build the application."""
    app = FastAPI(title="Studbay", version="0.1.0")
    app.add_exception_handler(RequestValidationError, unprocessable)
    app.include_router(sheet_routes.router)
    return app
