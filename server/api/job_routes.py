"""Jobs of the crew: listed, made from a form or a whole job file, read, changed, undone, written out as a file."""

from __future__ import annotations

import re
from datetime import date, datetime
from typing import Annotated, Any, Final

from fastapi import APIRouter, Body, Request
from fastapi.responses import JSONResponse
from pydantic import Discriminator, Field, StringConstraints, Tag
from sqlalchemy.orm import Session
from starlette.responses import Response

from server.api.once import IdempotencyKey, author_of, write_once
from server.api.problems import RESPONSES
from server.dwelling import Stage, WorkKind
from server.people.access import job_for, jobs_open_to, require
from server.people.current import Builder, Foreman, Reader, engine_of
from server.people.pace import FILES, paced
from server.people.roles import Role
from server.store import keys
from server.store.documents import Document, IdText, ShortText
from server.store.engine import reading, writing
from server.store.houses import settings_of
from server.store.job_file import contents_of, export_job, import_job
from server.store.job_file_documents import Amendments, EditionYear, JobFile
from server.store.jobs import archive, change_job, make_job
from server.store.journal import changes_of, lines_of
from server.store.kinds import JOB, JobSettings
from server.store.tables import JobRow
from server.store.undo import undo

__all__ = ["file_router", "router"]

router = APIRouter(prefix="/api/jobs", tags=["jobs"], responses=RESPONSES)
file_router = APIRouter(prefix="/api/jobs", tags=["jobs"], responses=RESPONSES)
"""What takes a whole job file, and so a larger body than the rest."""

_FILE: Final = "job-file"
_FORM: Final = "new-job"
Name = Annotated[ShortText, StringConstraints(min_length=1)]
Area = Annotated[int, Field(strict=True, ge=0, le=1_000_000)]


class NewJob(Document):
    """A new, empty job. An ``id`` made by the client makes a repeat harmless."""

    name: Name
    edition: EditionYear
    id: IdText | None = None
    address: ShortText = ""
    amendments: Amendments = Amendments()
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_number: ShortText = ""
    permit_date: date | None = None
    inspection_date: date | None = None
    floor_area_ft2: Area | None = None


class JobChange(Document):
    """New values for some of a job's settings; what is left out stays. ``base_version`` is the version that was seen:
    with it, a setting that somebody else changed since is not written over."""

    base_version: Annotated[int, Field(strict=True, ge=1)] | None = None
    name: Name = ""
    edition: EditionYear = "2023"
    address: ShortText = ""
    amendments: Amendments = Amendments()
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_number: ShortText = ""
    permit_date: date | None = None
    inspection_date: date | None = None
    floor_area_ft2: Area | None = None
    archived: bool = False


class JobAnswer(Document):
    """A job as it stands. ``revision`` grows with every write to it or to anything in it."""

    id: str
    name: str
    address: str
    edition: EditionYear
    amendments: Amendments
    stage: Stage
    work: WorkKind
    permit_number: str
    permit_date: date | None
    inspection_date: date | None
    floor_area_ft2: int | None
    archived: bool
    is_demo: bool
    created_at: datetime
    version: int
    revision: int


class MadeJob(Document):
    """A job that was made; ``renamed`` has the ids of the file that were in use, by kind, with what they became."""

    id: str
    renamed: dict[str, dict[str, str]]


class JobList(Document):
    """The crew's jobs, the next visit first."""

    jobs: list[JobAnswer]


class ChangedJob(Document):
    """The job after a change, and the change to undo it by (None where nothing was different)."""

    job: JobAnswer
    change: str | None


class ChangeAnswer(Document):
    """One entry of a job's history."""

    id: str
    what: str
    by: str
    at: datetime
    undone: bool
    undoes: str | None


class History(Document):
    """What was changed in a job, the newest first."""

    changes: list[ChangeAnswer]


class Undone(Document):
    """The change that undid another one; it can be undone itself."""

    change: str


def _answer(row: JobRow) -> JobAnswer:
    return JobAnswer(
        id=row.id, name=row.name, address=row.address, edition=str(row.edition),
        amendments=Amendments.model_validate({"presets": row.presets, "own": row.layers}), stage=row.stage,
        work=row.work, permit_number=row.permit_number, permit_date=row.permit_date, inspection_date=row.inspection_date,
        floor_area_ft2=row.floor_area_ft2, archived=row.archived_at is not None, is_demo=row.is_demo,
        created_at=row.created_at, version=row.version, revision=row.revision,
    )  # fmt: skip


@router.get("")
def list_jobs(request: Request, person: Reader, archived: bool = False) -> JobList:
    """The crew's jobs, the next visit first. One query."""
    away = JobRow.archived_at.is_not(None) if archived else JobRow.archived_at.is_(None)
    with reading(engine_of(request)) as session:
        rows = session.scalars(
            jobs_open_to(person)
            .where(away)
            .order_by(JobRow.inspection_date.is_(None), JobRow.inspection_date, JobRow.created_at.desc())
        ).all()
    return JobList(jobs=[_answer(row) for row in rows])


def _which(body: Any) -> str:
    """A document with a ``schema`` is meant as a job file."""
    return _FILE if isinstance(body, JobFile) or (isinstance(body, dict) and "schema" in body) else _FORM


@file_router.post("", status_code=201, response_model=MadeJob, dependencies=[paced("files", FILES)])
def make(
    request: Request,
    person: Foreman,
    body: Annotated[
        Annotated[NewJob, Tag(_FORM)] | Annotated[JobFile, Tag(_FILE)], Discriminator(_which), Body()
    ],
    key: IdempotencyKey = None,
) -> Response:
    """Make a job: empty, or a whole one from a job file. Ids of the file that are in use become new ones."""
    author = author_of(person)
    settings, contents = None, None
    if isinstance(body, NewJob):
        settings = _settings(body)
    else:
        contents = contents_of(body)
    asked = {"path": request.url.path, "digest": keys.digest_of(body.model_dump(mode="json", by_alias=True))}
    with writing(engine_of(request)) as session:
        done = keys.find(session, author, key, asked) if key is not None else None
        if done is not None:
            made: dict[str, Any] = done.answer
        else:
            if contents is not None:
                imported = import_job(session, person.crew_id, contents, author)
                made = {"id": imported.job_id, "renamed": dict(imported.renamed)}
            else:
                assert settings is not None
                made = {"id": make_job(session, person.crew_id, settings, author), "renamed": {}}
            if key is not None:
                keys.keep(session, author, key, made["id"], asked, made)
    return JSONResponse(made, status_code=201, headers={"Location": f"/api/jobs/{made['id']}"})


def _settings(body: NewJob) -> JobSettings:
    return JobSettings(
        id=body.id or "", name=body.name, edition=int(body.edition), address=body.address,
        presets=body.amendments.presets, layers=tuple(layer.as_layer() for layer in body.amendments.own),
        stage=body.stage, work=body.work, permit_number=body.permit_number, permit_date=body.permit_date, inspection_date=body.inspection_date,
        floor_area_ft2=body.floor_area_ft2,
    )  # fmt: skip


@router.get("/{job_id}")
def read(request: Request, job_id: str, person: Reader) -> JobAnswer:
    """One job."""
    with reading(engine_of(request)) as session:
        return _answer(job_for(session, person, job_id))


@router.patch("/{job_id}", response_model=ChangedJob)
def change(
    request: Request, job_id: str, person: Foreman, body: JobChange, key: IdempotencyKey = None
) -> dict[str, Any]:
    """Change some of a job's settings. Another edition or amendment judges everything anew."""
    given = {name: getattr(body, name) for name in body.model_fields_set - {"base_version"}}
    away = given.pop("archived", None)
    if "edition" in given:
        given["edition"] = int(given["edition"])
    amendments = given.pop("amendments", None)
    if amendments is not None:
        given["presets"] = amendments.presets
        given["layers"] = tuple(layer.as_layer() for layer in amendments.own)

    def write(session: Session) -> dict[str, Any]:
        change_id = None
        if given:
            change_id, _ = change_job(session, job_id, given, body.base_version, author=author_of(person))
        row = session.get_one(JobRow, job_id, populate_existing=True)
        if away is not None and away != (row.archived_at is not None):
            archive(session, job_id, put_back=not away)
            session.refresh(row)
        return {"job": _answer(row).model_dump(mode="json"), "change": change_id}

    asked = body.model_dump(mode="json", exclude_unset=True)
    return write_once(request, person, job_id, Role.FOREMAN, key, asked, write)


@router.get("/{job_id}/file", response_model=JobFile)
def file(request: Request, job_id: str, person: Reader) -> Response:
    """The whole job as one document: settings, amendments, facts, log, photographs by hash."""
    with reading(engine_of(request)) as session:
        row = job_for(session, person, job_id)
        document = export_job(session, row)
        name = re.sub(r"[^a-z0-9]+", "-", settings_of(row).name.lower()).strip("-")[:60] or "job"
    return JSONResponse(
        document, headers={"Content-Disposition": f'attachment; filename="{name}.studbay.json"'}
    )


@router.get("/{job_id}/changes")
def history(
    request: Request, job_id: str, person: Reader, limit: Annotated[int, Field(ge=1, le=500)] = 50
) -> History:
    """What was changed in the job, the newest first."""
    with reading(engine_of(request)) as session:
        job_for(session, person, job_id)
        found = changes_of(session, job_id, limit=limit)
    return History(
        changes=[
            ChangeAnswer(id=c.id, what=c.what, by=c.by, at=c.at, undone=c.undone, undoes=c.undoes)
            for c in found
        ]
    )


@router.post("/{job_id}/changes/{change_id}/undo", response_model=Undone)
def undo_change(
    request: Request, job_id: str, change_id: str, person: Builder, key: IdempotencyKey = None
) -> dict[str, Any]:
    """Undo a change as a whole. What somebody changed since is never written over: then it is refused."""

    def write(session: Session) -> dict[str, Any]:
        if any(line.kind == JOB.name for line in lines_of(session, change_id)):
            require(person, Role.FOREMAN)  # who may not change the job's settings may not set them back
        return {"change": undo(session, job_id, change_id, author_of(person))}

    return write_once(request, person, job_id, Role.ELECTRICIAN, key, {}, write)
