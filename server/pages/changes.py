"""Taking back what was changed: every form that changes facts offers it."""

from __future__ import annotations

from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session

from server.pages import flash
from server.people.access import NotFound, job_for
from server.people.current import Builder, engine_of
from server.people.person import Person
from server.people.roles import Role
from server.store.engine import writing
from server.store.errors import AlreadyUndone, Conflict, DanglingReference, NotThere
from server.store.journal import Author
from server.store.kinds import KINDS
from server.store.stored import live_ids
from server.store.undo import undo

__all__ = ["author_of", "router", "undo_path"]

_ABOUT: Final = {
    "rooms": "room", "boxes": "box", "devices": "device", "panels": "panel", "circuits": "circuit", "cables": "cable",
}  # fmt: skip

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
            # the page that the change led to may be gone with it
            to = path if _still_there(session, job_id, path) else f"/jobs/{job_id}/rooms"
    except AlreadyUndone:
        return flash.redirect(path, "That was undone before.")
    except NotThere:
        raise NotFound from None
    except (Conflict, DanglingReference):
        return flash.redirect(
            path, "Not undone: somebody changed the same thing since. Look at it and change it by hand."
        )
    return flash.redirect(to, flash.Said("Undone.", undo_path(job_id, done), "Do it again"))


def _still_there(session: Session, job_id: str, path: str) -> bool:
    """Whether a page of this job still has what it is about: its room, box or device."""
    if not path.startswith(f"/jobs/{job_id}/"):
        return False
    parts = path.partition("?")[0].partition("#")[0].split("/")[3:]
    about = _ABOUT.get(parts[0])
    if about is None or len(parts) < 2 or parts[1] == "new":
        return True
    return bool(live_ids(session, job_id, KINDS[about], [parts[1]]))
