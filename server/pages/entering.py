"""How a page writes facts: one change of a job, by somebody who may, undone as a whole.

    with change_of(request, person, job_id, "placed R5") as change:
        change.add(box, device)
    return done(request, back, "R5 placed.", change)

A fact that somebody else deleted meanwhile answers like a missing one.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fastapi import Request
from fastapi.responses import RedirectResponse

from server.pages import flash
from server.pages.changes import author_of, undo_path
from server.people.access import NotFound, job_for
from server.people.current import engine_of
from server.people.person import Person
from server.people.roles import Role
from server.store.changing import Changing
from server.store.engine import writing
from server.store.errors import DanglingReference, NotThere
from server.store.facts import changing

__all__ = ["change_of", "done"]


@contextmanager
def change_of(request: Request, person: Person, job_id: str, what: str) -> Iterator[Changing]:
    """One change of a job.

    Raises:
        NotFound: no such job, or something that the change names is gone.
        Forbidden: the person may not change facts.
    """
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.ELECTRICIAN)
            with changing(session, job_id, author_of(person), what) as change:
                yield change
    except (NotThere, DanglingReference):
        raise NotFound from None


def done(to: str, said: str, change: Changing) -> RedirectResponse:
    """Go to a page that says what was done and offers to undo it."""
    if not change.lines:
        return flash.redirect(to, "Nothing was different: nothing was changed.")
    return flash.redirect(to, flash.Said(said, undo_path(change.job_id, change.id)))
