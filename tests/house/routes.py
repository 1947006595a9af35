"""The route table: what tests walk when they ask something of every route."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fastapi import FastAPI
from fastapi.dependencies.models import Dependant
from fastapi.routing import iter_route_contexts

from server.people.roles import Role

FRAMEWORK = {"/api/openapi.json", "/static"}
"""What the framework adds, without a dependency of ours: the document of the API, and files without anybody's facts."""


@dataclass(frozen=True, slots=True)
class Line:
    """One method of one route. ``access`` is what it declares; ``role`` the lowest that may, None: open to anyone."""

    method: str
    path: str
    name: str
    access: tuple[str, ...]
    has_form: bool

    @property
    def role(self) -> Role | None:
        named = [word for word in self.access if not word.startswith("anyone")]
        return max((Role.named(word) for word in named), default=None)

    @property
    def parameters(self) -> list[str]:
        return re.findall(r"{(\w+)(?::\w+)?}", self.path)

    def at(self, **values: str) -> str:
        """The path with its parameters filled in."""
        return re.sub(r"{(\w+)(?::\w+)?}", lambda found: values[found[1]], self.path)


def _declared(dependant: Dependant) -> Iterator[str]:
    for found in dependant.dependencies:
        word = getattr(found.call, "declared_access", None)
        if word is not None:
            yield word
        yield from _declared(found)


def _has_form(dependant: Dependant) -> bool:
    names: set[Any] = {getattr(found.call, "__name__", "") for found in dependant.dependencies}
    return "typed" in names


def route_table(app: FastAPI) -> list[Line]:
    """Every method of every route of ours."""
    lines = []
    for route in iter_route_contexts(app.routes):
        path = getattr(route, "path", "") or ""
        if path in FRAMEWORK:
            continue
        dependant = route.dependant
        access = tuple(_declared(dependant)) if dependant is not None else ()
        for method in sorted(route.methods or ()):
            lines.append(
                Line(method, path, route.name or "", access, dependant is not None and _has_form(dependant))
            )
    return lines
