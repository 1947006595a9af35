"""Where one can go from a page: the places of a job, or those around all jobs.

A place appears once its route exists and the person may use it, so that no link leads nowhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

from fastapi import FastAPI, Request
from starlette.routing import NoMatchFound

from server.people.person import Person
from server.people.roles import Role

__all__ = ["JobBar", "Place", "places"]


@dataclass(frozen=True, slots=True)
class JobBar:
    """The job that a page belongs to."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class Place:
    """A link of the navigation. ``icon`` names a symbol of ``_partials/icons.html``."""

    word: str
    path: str
    icon: str
    is_here: bool


# route name, word, icon, role
_AROUND: Final[Sequence[tuple[str, str, str, Role]]] = (
    ("jobs", "Jobs", "jobs", Role.GUEST),
    ("sheets", "Sheets", "sheets", Role.GUEST),
    ("rules", "Rules", "rules", Role.GUEST),
    ("practice", "Practice", "practice", Role.GUEST),
    ("crew", "Crew", "crew", Role.FOREMAN),
)
_IN_A_JOB: Final[Sequence[tuple[str, str, str, Role]]] = (
    ("rooms", "Rooms", "rooms", Role.GUEST),
    ("panels", "Circuits", "circuits", Role.GUEST),
    ("walk", "Walk", "walk", Role.GUEST),
    # the API has a route named readiness
    ("readiness_page", "Readiness", "readiness", Role.GUEST),
    ("work", "Work", "crew", Role.GUEST),
    ("packet", "Packet", "packet", Role.GUEST),
)
_OF_THE_CREW: Final = ("practice",)
"""Places that a guest's link does not open."""
_SOME_JOB: Final = "some-job"
_PATHS: Final[WeakKeyDictionary[FastAPI, dict[str, str]]] = WeakKeyDictionary()
"""By application: a test may have one with other routes."""


def places(request: Request, person: Person | None, job: JobBar | None) -> tuple[Place, ...]:
    """The places that a person can go to from here; none before signing in."""
    if person is None:
        return ()
    here = request.url.path
    found = []
    for route, word, icon, role in _AROUND if job is None else _IN_A_JOB:
        if person.role < role or (route in _OF_THE_CREW and not person.has_account):
            continue
        path = _paths_of(request.app).get(route)
        if path is None:
            continue
        path = path if job is None else path.replace(_SOME_JOB, job.id)
        found.append(Place(word, path, icon, _is_here(route, path, here)))
    return tuple(found)


def _paths_of(app: FastAPI) -> dict[str, str]:
    """The paths of the places by their route's name, looked up once: it goes through two hundred routes for each, and that
    was a third of what recording one look took."""
    if app not in _PATHS:
        found: dict[str, str] = {}
        for listed, needs in ((_AROUND, {}), (_IN_A_JOB, {"job_id": _SOME_JOB})):
            for route, *_ in listed:
                with suppress(NoMatchFound):
                    found[route] = str(app.url_path_for(route, **needs))
        _PATHS[app] = found
    return _PATHS[app]


def _is_here(route: str, path: str, here: str) -> bool:
    # a room's walk stands under the room's address, and is the walk all the same
    if here.endswith("/walk"):
        return route == "walk"
    return here == path or here.startswith(path + "/")
