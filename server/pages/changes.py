"""Taking back what was changed: every form that changes facts offers it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse

from server.pages import flash
from server.people.access import job_for
from server.people.current import Builder, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.store.engine import writing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference
from server.store.journal import Author
from server.store.undo import undo

__all__ = ["author_of", "router", "undo_path"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


def author_of(person: Person) -> Author:
    """A person as the writer of a change."""
    return Author(person.id, person.name)


def undo_path(job_id: str, change_id: str) -> str:
    """Where to post to take a change back."""
    return f"/jobs/{job_id}/changes/{change_id}/undo"


@router.post("/changes/{change_id}/undo", name="undo_change")
def undo_change(request: Request, job_id: str, change_id: str, person: Builder) -> RedirectResponse:
    """Take one change back, as a whole; the page after offers to do it again."""
    back = request.headers.get("referer", "")
    path = "/" + back.split("/", 3)[3] if back.count("/") >= 3 else f"/jobs/{job_id}/rooms"
    try:
        with writing(engine_of(request)) as session:
            job_for(session, person, job_id, Role.ELECTRICIAN)
            done = undo(session, job_id, change_id, author_of(person))
    except AlreadyUndone:
        return flash.redirect(path, "That was undone before.")
    except (Conflict, DanglingReference):
        return flash.redirect(
            path, "Not undone: somebody changed the same thing since. Look at it and change it by hand."
        )
    # the page that the change led to may be gone with it
    home = f"/jobs/{job_id}/rooms"
    return flash.redirect(
        path if path.startswith(home) and "/rooms/" not in path else home,
        flash.Said("Undone.", undo_path(job_id, done), "Do it again"),
    )
