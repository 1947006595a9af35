"""The job file: one JSON document that holds a whole job, written and read without loss.

Reading checks every field and every reference; a file that is not right is refused with all that is wrong in it,
each with its field. An id that the database already knows is given a new one, with everything that names it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, Final, cast

from pydantic import ValidationError
from sqlalchemy import Table, insert, select
from sqlalchemy.orm import Session

from server.dwelling import Facts, Observation, Ref, Site
from server.editions import EditionError
from server.store.documents import fact_of
from server.store.houses import edition_of, load_facts, settings_of
from server.store.job_file_documents import SCHEMA, JobFile, PhotographPart
from server.store.jobs import make_job, store_facts
from server.store.journal import Author, new_id, take_revisions
from server.store.kinds import KINDS, JobSettings
from server.store.observations import log, row_of
from server.store.plain import plain_of, plain_value
from server.store.rekey import rekey
from server.store.stored import chunks, table_of, targets_of
from server.store.tables import JobRow, ObservationRow, PhotographRow

__all__ = [
    "FieldError",
    "Imported",
    "JobContents",
    "JobFileError",
    "contents_of",
    "export_job",
    "import_job",
    "read_job_file",
    "write_job_file",
]

_PHOTOGRAPHS: Final = cast(Table, PhotographRow.__table__)
_LOG: Final = cast(Table, ObservationRow.__table__)
_MOST_ERRORS: Final = 50


@dataclass(frozen=True, slots=True)
class FieldError:
    """One thing that is wrong in a file: where (``boxes.3.wall_id``), what was expected, what came."""

    field: str
    expected: str
    came: str


class JobFileError(ValueError):
    """A file that is no job file, with all that is wrong in it (the first fifty)."""

    def __init__(self, errors: Sequence[FieldError]) -> None:
        self.errors = tuple(errors[:_MOST_ERRORS])
        first = self.errors[0]
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        super().__init__(f"{first.field}: {first.expected}; came {first.came}{more}")


@dataclass(frozen=True, slots=True)
class JobContents:
    """What a job file holds. ``recorded_at`` says when our clock saw an observation, by its id."""

    settings: JobSettings
    facts: Facts
    recorded_at: Mapping[str, datetime]
    photographs: tuple[PhotographPart, ...] = ()


@dataclass(frozen=True, slots=True)
class Imported:
    """A job that was made from a file, and the ids that were in use and became others: kind to old to new."""

    job_id: str
    renamed: Mapping[str, Mapping[str, str]]


def read_job_file(raw: Any) -> JobContents:
    """Read a parsed JSON document.

    Raises:
        JobFileError: with every field that is not right.
    """
    try:
        return contents_of(JobFile.model_validate(raw))
    except ValidationError as error:
        raise JobFileError(
            [
                FieldError(
                    ".".join(map(str, item["loc"])) or "file",
                    item["msg"].removeprefix("Value error, "),
                    _short(item["input"]),
                )
                for item in error.errors(include_url=False)
            ]
        ) from None


def contents_of(document: Any) -> JobContents:
    """What a valid document says, once its ids and references are seen to fit.

    Raises:
        JobFileError: an id stands twice, something names what is not there, or edition and amendments do not go
            together.
    """
    errors = [*_ids_and_references(document), *_log_errors(document)]
    job, layers = document.job, tuple(layer.as_layer() for layer in document.amendments.own)
    try:
        edition_of(int(job.edition), document.amendments.presets, layers)
    except EditionError as error:
        errors.append(FieldError("amendments", "amendments that fit the edition", str(error)))
    if errors:
        raise JobFileError(errors)
    settings = JobSettings(
        id=job.id or "", name=job.name, edition=int(job.edition), address=job.address,
        presets=document.amendments.presets, layers=layers, stage=job.stage, work=job.work,
        permit_number=job.permit_number, permit_date=job.permit_date, inspection_date=job.inspection_date, floor_area_ft2=job.floor_area_ft2,
    )  # fmt: skip
    facts = {
        kind.plural: tuple(fact_of(kind, item) for item in getattr(document, kind.plural))
        for kind in KINDS.values()
    }
    observations = tuple(
        Observation(
            item.id, Ref(item.subject.kind, item.subject.id), item.rule, item.answer, item.measure, item.note, item.by,
            item.at, item.photographs, item.takes_back,
        )
        for item in document.observations
    )  # fmt: skip
    return JobContents(
        settings,
        Facts(site=_site(settings), **facts, observations=observations),
        {item.id: item.recorded_at for item in document.observations if item.recorded_at},
        document.photographs,
    )


def _site(settings: JobSettings) -> Site:
    return Site(
        settings.id,
        settings.name,
        settings.stage,
        settings.work,
        settings.permit_date,
        settings.floor_area_ft2,
    )


def _short(came: Any) -> str:
    text = repr(came)
    return text if len(text) <= 80 else text[:80] + "..."


def _ids_and_references(document: Any) -> list[FieldError]:
    errors: list[FieldError] = []
    ids: dict[str, set[str]] = {}
    for kind in KINDS.values():
        own = ids.setdefault(kind.name, set())
        for place, item in enumerate(getattr(document, kind.plural)):
            if item.id in own:
                errors.append(
                    FieldError(
                        f"{kind.plural}.{place}.id", f"expected each {kind.name} once", _short(item.id)
                    )
                )
            own.add(item.id)
    for kind in KINDS.values():
        for place, item in enumerate(getattr(document, kind.plural)):
            for reference in kind.references:
                for target in targets_of(reference, getattr(item, reference.field)):
                    if target not in ids[reference.kind]:
                        where = f"{kind.plural}.{place}.{reference.field}"
                        errors.append(
                            FieldError(where, f"expected a {reference.kind} of this file", _short(target))
                        )
    return errors


def _log_errors(document: Any) -> list[FieldError]:
    errors: list[FieldError] = []
    before: set[str] = set()
    for place, item in enumerate(document.observations):
        where = f"observations.{place}"
        if item.id in before:
            errors.append(FieldError(f"{where}.id", "expected each observation once", _short(item.id)))
        if item.takes_back and item.takes_back not in before:
            errors.append(
                FieldError(
                    f"{where}.takes_back", "expected an observation before this one", _short(item.takes_back)
                )
            )
        before.add(item.id)
    seen: set[str] = set()
    for place, photograph in enumerate(document.photographs):
        if photograph.sha256 in seen:
            errors.append(
                FieldError(f"photographs.{place}.sha256", "expected each photograph once", photograph.sha256)
            )
        seen.add(photograph.sha256)
    return errors


def write_job_file(contents: JobContents) -> dict[str, Any]:
    """The document of a job, every field written out, ready for JSON."""
    settings, facts = contents.settings, contents.facts
    job = plain_of(
        settings,
        (
            "id", "name", "address", "stage", "work", "permit_number", "permit_date", "inspection_date", "floor_area_ft2",
        ),
    )  # fmt: skip
    return {
        "schema": SCHEMA,
        "job": {**job, "id": settings.id or None, "edition": str(settings.edition)},
        "amendments": {"presets": list(settings.presets), "own": [dict(layer) for layer in settings.layers]},
        **{
            kind.plural: [plain_of(fact, kind.fields) for fact in getattr(facts, kind.plural)]
            for kind in KINDS.values()
        },
        "observations": [
            {
                "id": seen.id,
                "subject": {"kind": seen.subject.kind, "id": seen.subject.id},
                "rule": seen.rule,
                "answer": seen.answer.value,
                "measure": plain_value(seen.measure),
                "note": seen.note,
                "by": seen.by,
                "at": seen.at,
                "photographs": list(seen.photographs),
                "takes_back": seen.takes_back,
                "recorded_at": _moment(contents.recorded_at.get(seen.id)),
            }
            for seen in facts.observations
        ],
        "photographs": [item.model_dump(mode="json") for item in contents.photographs],
    }


def _moment(at: datetime | None) -> str | None:
    return None if at is None else at.astimezone(UTC).isoformat().replace("+00:00", "Z")


def export_job(session: Session, job: JobRow | str) -> dict[str, Any]:
    """The whole of a job as a document.

    Raises:
        NotThere: there is no such job.
    """
    facts = load_facts(session, job, with_log=False)
    job_id = facts.site.id
    row = job if isinstance(job, JobRow) else session.get_one(JobRow, job_id)
    logged = log(session, job_id)
    photographs = session.scalars(
        select(PhotographRow)
        .where(PhotographRow.job_id == job_id, PhotographRow.deleted_at.is_(None))
        .order_by(PhotographRow.added_at, PhotographRow.id)
    ).all()
    # a photograph's id does not leave with it: in a file observations call it by its hash
    hashes = {name: row.sha256 for row in photographs for name in (row.id, *(row.also_ids or ()))}
    return write_job_file(
        JobContents(
            settings_of(row),
            replace(facts, observations=tuple(_by_hash(item.observation, hashes) for item in logged)),
            {item.observation.id: item.recorded_at for item in logged},
            tuple(_photograph(item) for item in photographs),
        )
    )


def _by_hash(seen: Observation, hashes: Mapping[str, str]) -> Observation:
    names = dict.fromkeys(hashes.get(name, name) for name in seen.photographs)
    return replace(seen, photographs=tuple(names))


def _photograph(row: PhotographRow) -> PhotographPart:
    subject = {"kind": row.subject_kind, "id": row.subject_id} if row.subject_kind else None
    return PhotographPart.model_validate(
        {
            "sha256": row.sha256, "content_type": row.content_type, "bytes": row.bytes, "width_px": row.width_px,
            "height_px": row.height_px, "original_name": row.original_name, "note": row.note, "marks": row.marks,
            "subject": subject, "taken_at": row.taken_at, "added_at": row.added_at,
        }
    )  # fmt: skip


def import_job(
    session: Session, crew_id: str, contents: JobContents, author: Author, *, is_demo: bool = False
) -> Imported:
    """Make a new job for a crew out of a file's contents.

    Ids that are in use anywhere in the database become new ones. Photographs come as what is known of them; a
    picture is shown only if this crew has it already, since a hash alone must not open another crew's.
    """
    names = _new_names(session, contents)
    facts = rekey(contents.facts, names)
    job_id = facts.site.id or new_id()
    make_job(session, crew_id, replace(contents.settings, id=job_id), author, is_demo=is_demo)
    store_facts(session, job_id, facts, author, "brought in from a job file")
    now = datetime.now(UTC)
    if facts.observations:
        first = take_revisions(session, job_id, len(facts.observations), of_facts=False)
        before = (item.id for item in contents.facts.observations)
        session.execute(
            insert(_LOG),
            [
                row_of(job_id, seen, first + place, contents.recorded_at.get(old_id, now), None)
                for place, (seen, old_id) in enumerate(zip(facts.observations, before, strict=True))
            ],
        )
    _import_photographs(session, crew_id, job_id, contents.photographs, names, now)
    return Imported(job_id, {kind: dict(renamed) for kind, renamed in names.items() if renamed})


def _new_names(session: Session, contents: JobContents) -> dict[str, dict[str, str]]:
    names: dict[str, dict[str, str]] = {}
    tables = {kind.name: (table_of(kind), getattr(contents.facts, kind.plural)) for kind in KINDS.values()}
    tables["observation"] = (_LOG, contents.facts.observations)
    tables["job"] = (cast(Table, JobRow.__table__), (contents.facts.site,))
    for kind_name, (table, members) in tables.items():
        names[kind_name] = {}
        for some in chunks(member.id for member in members):
            taken = session.scalars(select(table.c.id).where(table.c.id.in_(some)))
            names[kind_name].update((old_id, new_id()) for old_id in taken)
    return names


def _import_photographs(
    session: Session, crew_id: str, job_id: str, photographs: Sequence[PhotographPart],
    names: Mapping[str, Mapping[str, str]], now: datetime,
) -> None:  # fmt: skip
    if not photographs:
        return
    here: set[str] = set()
    for some in chunks(item.sha256 for item in photographs):
        here.update(
            session.scalars(
                select(PhotographRow.sha256)
                .join(JobRow, JobRow.id == PhotographRow.job_id)
                .where(JobRow.crew_id == crew_id, PhotographRow.is_here, PhotographRow.sha256.in_(some))
            )
        )
    rows = []
    for item in photographs:
        subject = item.subject
        rows.append(
            item.model_dump(mode="python", exclude={"subject", "marks"})
            | {
                "id": new_id(),
                "job_id": job_id,
                "marks": [dict(mark) for mark in item.marks],
                "subject_kind": subject.kind if subject else None,
                "subject_id": names.get(subject.kind, {}).get(subject.id, subject.id) if subject else None,
                "added_at": item.added_at or now,
                "is_here": item.sha256 in here,
            }
        )
    session.execute(insert(_PHOTOGRAPHS), rows)
