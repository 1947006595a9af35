"""Rooms from a file: chosen, looked at, and only then stored, as one change that can be undone.

What was read travels to the second step as a table in the page itself (:mod:`server.imports.csv_rooms`), and is read
there once more: nothing waits on the server, and nothing that comes back is believed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Final
from uuid import uuid4

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup
from starlette.datastructures import UploadFile

from server.drawings.plan import draw_level
from server.dwelling import Dwelling, Facts, Level, Room, RoomKind, Wall, format_length
from server.imports.csv_rooms import COLUMNS, EXAMPLE, read_csv, write_csv
from server.imports.plans import HousePlan, NotReadable, Problem, with_kinds
from server.imports.reading import MOST_BYTES, read_rooms
from server.imports.storing import facts_of
from server.pages.entering import change_of, done
from server.pages.forms import Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.current import Builder
from server.people.pace import PLANS, paced
from server.people.roles import Role
from server.readiness.room_shape import closing_words
from server.store.kinds import KINDS_BY_FACT

__all__ = ["router"]

_ROOM_FOR_THE_FORM: Final = 100_000

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class ImportPage:
    """Where a file is chosen; with what was wrong with the last one."""

    job: JobFacts
    problems: tuple[Problem, ...]
    file_name: str
    columns: tuple[tuple[str, str], ...]
    example: str
    most_mb: int


@dataclass(frozen=True, slots=True)
class FoundRoom:
    """A room of the file."""

    number: int
    name: str
    level: str
    kind: str
    size: str
    walls: int
    openings: int
    closes: bool
    closing: str


@dataclass(frozen=True, slots=True)
class PreviewPage:
    """What would be stored."""

    job: JobFacts
    file_name: str
    rooms: tuple[FoundRoom, ...]
    notes: tuple[str, ...]
    plans: tuple[tuple[str, Markup], ...]
    table: str
    kinds: tuple[tuple[str, str], ...]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Sent:
    """A file as it was sent."""

    name: str
    content: bytes


async def sent_file(request: Request) -> Sent:
    """The file of the form; empty where none was chosen, or where it is no form that could carry one."""
    if not request.headers.get("content-type", "").lower().startswith("multipart/form-data"):
        return Sent("", b"")
    async with request.form(max_files=1, max_fields=4) as form:
        file = form.get("file")
        if not isinstance(file, UploadFile):
            return Sent("", b"")
        return Sent((file.filename or "the file")[:120], await file.read(MOST_BYTES + 1))


SentFile = Annotated[Sent, Depends(sent_file)]


def _page(opened: OpenJob, problems: tuple[Problem, ...] = (), file_name: str = "") -> ImportPage:
    return ImportPage(
        opened.job, problems, file_name, tuple(COLUMNS.items()), EXAMPLE, MOST_BYTES // 1_000_000
    )


@router.get("/import", name="import_rooms")
def import_page(request: Request, job_id: str, person: Builder) -> HTMLResponse:
    """Choose a file."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    return render(request, "imports/choose.html", _page(opened), job=opened.bar)


@router.post(
    "/import",
    name="preview_import",
    max_body_size=MOST_BYTES + _ROOM_FOR_THE_FORM,
    dependencies=[paced("plans", PLANS)],
)
def preview(request: Request, job_id: str, person: Builder, sent: SentFile) -> Response:
    """Read the file and show what it would come to; nothing is stored."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    try:
        if not sent.content:
            raise NotReadable(Problem("", "Choose a file first." if not sent.name else "The file is empty."))
        plan = read_rooms(sent.content)
    except NotReadable as error:
        page = _page(opened, error.problems, sent.name)
        return render(request, "imports/choose.html", page, job=opened.bar, status=422)
    return render(request, "imports/preview.html", _preview(opened, plan, sent.name), job=opened.bar)


def _preview(
    opened: OpenJob, plan: HousePlan, file_name: str, problems: tuple[Problem, ...] = ()
) -> PreviewPage:
    facts = facts_of(plan, Dwelling(Facts(opened.house.site)), _numbered())
    by_kind: dict[str, tuple[Any, ...]] = {}
    for fact in facts:
        plural = KINDS_BY_FACT[type(fact)].plural
        by_kind[plural] = (*by_kind.get(plural, ()), fact)
    house = Dwelling(Facts(opened.house.site, **by_kind))
    levels: tuple[Level, ...] = by_kind.get("levels", ())
    return PreviewPage(
        opened.job, file_name,
        tuple(_found(number, room, house) for number, room in enumerate(house.facts.rooms)), plan.notes,
        tuple((level.name, Markup(draw_level(level, house, scale=0.8))) for level in levels),  # noqa: S704 - our own drawing
        write_csv(plan), tuple((kind.value, kind.value.capitalize()) for kind in RoomKind), problems,
    )  # fmt: skip


def _numbered() -> Any:
    count = iter(range(10_000_000))
    return lambda kind: f"{kind}-{next(count)}"


def _found(number: int, room: Room, house: Dwelling) -> FoundRoom:
    walls: list[Wall] = house.walls_of_room.get(room.id, [])
    closes, closing = closing_words(walls)
    size = (
        f"{format_length(room.length_in)} x {format_length(room.width_in)}"
        if room.length_in is not None and room.width_in is not None
        else "no size"
    )
    return FoundRoom(
        number, room.name, house.levels[room.level_id].name, room.kind.value, size, len(walls),
        sum(len(house.openings_of_wall.get(wall.id, ())) for wall in walls), closes or not walls,
        closing if walls else "Its walls are made from its length and width when it is laid out.",
    )  # fmt: skip


@router.post("/import/store", name="store_import")
def store(request: Request, job_id: str, person: Builder, form: Typed) -> Response:
    """Store the rooms that were shown."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    try:
        plan = read_csv(form.values.get("table", ""))
    except NotReadable as error:
        return render(
            request, "imports/choose.html", _page(opened, error.problems), job=opened.bar, status=422
        )
    kinds, wrong = _kinds(form.values, len(plan.rooms))
    if wrong:
        page = _preview(opened, plan, form.values.get("file_name", "")[:120], wrong)
        return render(request, "imports/preview.html", page, job=opened.bar, status=422)
    facts = facts_of(with_kinds(plan, kinds), opened.house, lambda _kind: str(uuid4()))
    with change_of(request, person, job_id, f"imported {len(plan.rooms)} rooms") as change:
        change.add(*facts)
    count = len(plan.rooms)
    said = f"{count} {'room' if count == 1 else 'rooms'} stored. Open one and lay it out, or place its boxes."
    return done(f"/jobs/{job_id}/rooms", said, change)


def _kinds(values: Mapping[str, str], rooms: int) -> tuple[dict[int, RoomKind], tuple[Problem, ...]]:
    """The kinds that were chosen, by the number of the room."""
    found: dict[int, RoomKind] = {}
    for number in range(rooms):
        word = values.get(f"kind_{number}", "")
        if not word:
            continue
        try:
            found[number] = RoomKind(word)
        except ValueError:
            return {}, (Problem(f"room {number + 1}, kind", f"choose one of the list; came {word[:40]!r}"),)
    return found, ()
