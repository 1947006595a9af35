"""Photographs of a job: brought from the tablet with their marks, shown to whoever may see the job, marked, taken off, put
back."""

from __future__ import annotations

import json
import threading
from dataclasses import dataclass
from typing import Annotated, Any, Final
from uuid import uuid4

from fastapi import APIRouter, File, Form, Query, Request, UploadFile
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse
from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError
from starlette.responses import JSONResponse, Response

from server.api.problems import problem
from server.pages import flash
from server.pages.changes import author_of
from server.pages.forms import Typed
from server.pages.opened import JobFacts, open_job
from server.pages.pictures_view import ShownPicture, shown_picture
from server.pages.rendering import render
from server.people.access import NotFound, job_for
from server.people.current import Reader, Recorder, engine_of
from server.people.pace import PICTURES, paced
from server.people.roles import Role
from server.readiness.naming import subject_name
from server.store.engine import reading, writing
from server.store.errors import NotThere
from server.store.photographs import (
    PictureFolder,
    add_photograph,
    find_photograph,
    remove_photograph,
    set_marks,
)
from server.store.pictures import MOST_BYTES, Refused, prepare_picture

__all__ = ["folder_of", "router", "upload_router"]

router = APIRouter(prefix="/jobs/{job_id}/photographs", include_in_schema=False)
upload_router = APIRouter(prefix="/jobs/{job_id}/photographs", include_in_schema=False)
"""Apart from the others, since its body may be larger."""

_decoding: Final = threading.Semaphore(1)
"""One picture is decoded at a time in a process: each takes up to 180 MB."""


def folder_of(request: Request) -> PictureFolder:
    """Where this installation keeps its pictures."""
    return PictureFolder(request.app.state.settings.data_dir / "photographs")


class Mark(BaseModel):
    """An arrow or a circle, in parts of the picture's width and height."""

    model_config = ConfigDict(extra="forbid")

    kind: str = Field(pattern="^(arrow|circle)$")
    x: float = Field(ge=0, le=1)
    y: float = Field(ge=0, le=1)
    to_x: float = Field(ge=0, le=1)
    to_y: float = Field(ge=0, le=1)


_MARKS: Final[TypeAdapter[list[Mark]]] = TypeAdapter(Annotated[list[Mark], Field(max_length=40)])
_NO_MARKS: Final = "Expected arrows and circles within the picture."


def _marks_in(text: str) -> list[dict[str, Any]] | None:
    """The marks that a form brought as JSON; None where they are none."""
    try:
        return [item.model_dump() for item in _MARKS.validate_python(json.loads(text or "[]"))]
    except (ValidationError, ValueError):
        return None


@upload_router.post("", name="add_photograph", dependencies=[paced("pictures", PICTURES)])
def add(
    request: Request,
    job_id: str,
    person: Recorder,
    file: Annotated[UploadFile, File()],
    id: Annotated[str, Form(max_length=64, pattern=r"^[A-Za-z0-9-]{8,64}$")] = "",  # noqa: A002 - the outbox's word
    subject_kind: Annotated[str, Form(max_length=40)] = "",
    subject_id: Annotated[str, Form(max_length=64)] = "",
    note: Annotated[str, Form(max_length=2000)] = "",
    marks: Annotated[str, Form(max_length=8000)] = "",
) -> Response:
    """Keep a photograph. The same one sent twice is one; what is refused is refused with a sentence."""
    with reading(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
    marked = _marks_in(marks)
    if marked is None:
        return problem(422, _NO_MARKS)
    came = file.file.read(MOST_BYTES + 1)
    try:
        with _decoding:
            picture = prepare_picture(came)
    except Refused as refused:
        return problem(
            422,
            str(refused),
            [{"field": "file", "expected": str(refused), "came": (file.filename or "a file")[:80]}],
        )
    folder_of(request).keep(picture)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
        kept = add_photograph(
            session, job_id, id or str(uuid4()), picture, author_of(person), subject_kind=subject_kind,
            subject_id=subject_id, note=note, original_name=file.filename or "", marks=marked,
        )  # fmt: skip
    if "text/html" in request.headers.get("accept", "") and request.headers.get("HX-Request") != "true":
        back = flash.own_path(
            "/" + request.headers.get("referer", "").split("/", 3)[-1], f"/jobs/{job_id}/rooms"
        )
        return flash.redirect(
            back, flash.Said("Photograph added.", f"/jobs/{job_id}/photographs/{kept}/remove")
        )
    return JSONResponse({"id": kept, "sha256": picture.sha256}, status_code=201)


@router.get("/{photograph_id}", name="photograph")
def show(request: Request, job_id: str, photograph_id: str, person: Reader) -> FileResponse:
    """The picture."""
    with reading(engine_of(request)) as session:
        job_for(session, person, job_id)
        try:
            found = find_photograph(session, job_id, photograph_id)
        except NotThere:
            raise NotFound from None
    path = folder_of(request).path(found.sha256)
    if not path.exists():
        raise NotFound
    # re-encoded by us, and yet: were it anything else it could do nothing
    headers = {"Content-Security-Policy": "default-src 'none'; sandbox", "Content-Disposition": "inline"}
    return FileResponse(path, media_type="image/jpeg", headers=headers)


@dataclass(frozen=True, slots=True)
class PhotographPage:
    """One photograph, with its marks to change for whoever may record. ``back`` is where one came from."""

    job: JobFacts
    picture: ShownPicture
    kept: str
    of: str
    of_path: str
    back: str
    back_word: str
    may_record: bool


@router.get("/{photograph_id}/view", name="view_photograph")
def view(
    request: Request,
    job_id: str,
    photograph_id: str,
    person: Reader,
    back: Annotated[str, Query(max_length=300)] = "",
) -> HTMLResponse:
    """A photograph large, with its marks; whoever may record draws on it."""
    opened = open_job(request, person, job_id)
    with reading(engine_of(request)) as session:
        try:
            found = find_photograph(session, job_id, photograph_id)
        except NotThere:
            raise NotFound from None
    picture, house = shown_picture(job_id, found), opened.house
    subject = house.find(picture.subject) if picture.subject is not None else None
    rooms = house.rooms_of(subject) if subject is not None else []
    of = subject_name(picture.subject, house) if picture.subject is not None and subject is not None else ""
    room_path = f"/jobs/{job_id}/rooms/{rooms[0].id}" if rooms else f"/jobs/{job_id}/rooms"
    page = PhotographPage(
        opened.job, picture, json.dumps(list(found.marks)), of, room_path, flash.own_path(back, room_path),
        "Back to the walk" if back.partition("#")[0].endswith("/walk") else "Back to the room" if rooms else "Back to the rooms",
        person.may_record,
    )  # fmt: skip
    return render(request, "photographs/photograph.html", page, job=opened.bar)


@router.post("/{photograph_id}/marks", name="mark_photograph")
def mark(request: Request, job_id: str, photograph_id: str, person: Recorder, form: Typed) -> Response:
    """Draw arrows and circles on it; they are kept beside the picture."""
    marks = _marks_in(form.values.get("marks", "[]"))
    if marks is None:
        return problem(422, _NO_MARKS)
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
        try:
            set_marks(session, job_id, photograph_id, marks)
        except NotThere:
            raise NotFound from None
    if "text/html" in request.headers.get("accept", "") and request.headers.get("HX-Request") != "true":
        here = f"/jobs/{job_id}/photographs/{photograph_id}/view"
        return flash.redirect(flash.own_path(form.values.get("back", ""), here), "Marks saved.")
    return JSONResponse({"marks": len(marks)})


@router.post("/{photograph_id}/remove", name="remove_photograph")
def remove(request: Request, job_id: str, photograph_id: str, person: Recorder) -> RedirectResponse:
    """Take a photograph off the pages."""
    _put(request, job_id, photograph_id, person, back=False)
    again = flash.Said(
        "Photograph taken off.", f"/jobs/{job_id}/photographs/{photograph_id}/put-back", "Put it back"
    )
    return flash.redirect(f"/jobs/{job_id}/rooms", again)


@router.post("/{photograph_id}/put-back", name="put_back_photograph")
def put_back(request: Request, job_id: str, photograph_id: str, person: Recorder) -> RedirectResponse:
    """Put it back."""
    _put(request, job_id, photograph_id, person, back=True)
    return flash.redirect(f"/jobs/{job_id}/rooms", "Photograph is back.")


def _put(request: Request, job_id: str, photograph_id: str, person: Any, *, back: bool) -> None:
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.APPRENTICE)
        try:
            remove_photograph(session, job_id, photograph_id, put_back=back)
        except NotThere:
            raise NotFound from None
