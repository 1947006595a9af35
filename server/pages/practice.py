"""Practice: an instructor makes frames with hidden faults; everybody looks, marks what is wrong, and reads why."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import UTC, datetime
from uuid import uuid4

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy import select
from sqlalchemy.orm import Session
from starlette.responses import Response

from server.drawings.elevation import draw_wall
from server.dwelling import Framing
from server.editions import YEARS, default_year, load_edition
from server.pages import flash
from server.pages.forms import Fields, Typed
from server.pages.rendering import render
from server.people.access import NotFound
from server.people.current import Foreman, Member, Recorder, engine_of
from server.people.person import Person
from server.readiness.practice import Clue, Frame, Grade, grade, make_frame
from server.store.engine import reading, writing
from server.store.tables.practice import PracticeRow, PracticeTryRow

__all__ = ["router"]

router = APIRouter(prefix="/practice", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class PracticeLine:
    """A frame in the list, with how many looked."""

    id: str
    title: str
    edition: int
    framing: str
    tries: int
    mine: str


@dataclass(frozen=True, slots=True)
class PracticesPage:
    """The crew's frames."""

    frames: tuple[PracticeLine, ...]
    fields: Fields
    editions: tuple[tuple[int, str], ...]
    may_lead: bool


class NewFrame(BaseModel):
    """A frame to be made."""

    model_config = ConfigDict(extra="forbid")

    title: str = Field(min_length=1, max_length=80)
    faults: int = Field(default=5, ge=1, le=12)
    framing: Framing = Framing.WOOD
    edition: int
    seed: int | None = Field(default=None, ge=0, le=10**9)


def _list(request: Request, person: Person, fields: Fields, status: int = 200) -> HTMLResponse:
    with reading(engine_of(request)) as session:
        frames = session.scalars(
            select(PracticeRow)
            .where(PracticeRow.crew_id == person.crew_id, PracticeRow.closed_at.is_(None))
            .order_by(PracticeRow.made_at.desc())
        ).all()
        tries = session.execute(
            select(
                PracticeTryRow.practice_id,
                PracticeTryRow.person_id,
                PracticeTryRow.found,
                PracticeTryRow.missed,
            )
            .join(PracticeRow, PracticeRow.id == PracticeTryRow.practice_id)
            .where(PracticeRow.crew_id == person.crew_id)
            .order_by(PracticeTryRow.at)
        ).all()
    mine = {
        row.practice_id: f"you found {row.found} of {row.found + row.missed}"
        for row in tries
        if row.person_id == person.id
    }
    lines = tuple(
        PracticeLine(
            f.id,
            f.title,
            f.edition,
            f.framing,
            len({t.person_id for t in tries if t.practice_id == f.id}),
            mine.get(f.id, ""),
        )
        for f in frames
    )
    page = PracticesPage(
        lines, fields, tuple((year, f"NEC {year}") for year in reversed(YEARS)), person.may_lead
    )
    return render(request, "practice/list.html", page, status=status)


@router.get("", name="practice")
def practices(request: Request, person: Member) -> HTMLResponse:
    """The crew's frames."""
    return _list(
        request,
        person,
        Fields({"edition": str(default_year()), "faults": "5", "framing": Framing.WOOD.value}),
    )


@router.post("", name="add_practice")
def add(request: Request, person: Foreman, form: Typed) -> Response:
    """Make a frame."""
    read = form.read(NewFrame)
    fields = read.fields
    if read.model is not None and read.model.edition not in YEARS:
        fields = fields.wrong("edition", f"Expected one of {', '.join(map(str, YEARS))}.")
    if read.model is None or fields.errors:
        return _list(request, person, fields, 422)
    wanted = read.model
    made = str(uuid4())
    with writing(engine_of(request)) as session:
        session.add(
            PracticeRow(
                id=made, crew_id=person.crew_id, title=wanted.title, seed=wanted.seed if wanted.seed is not None else secrets.randbelow(10**9),
                faults=wanted.faults, framing=wanted.framing.value, edition=wanted.edition, made_by=person.name, made_at=datetime.now(UTC),
            )
        )  # fmt: skip
    return flash.redirect(f"/practice/{made}", f"{wanted.title} is ready. Send your people here.")


@dataclass(frozen=True, slots=True)
class Place:
    """The clues of one place of the frame."""

    name: str
    clues: tuple[Clue, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """What somebody found."""

    person: str
    found: int
    missed: int
    false_alarms: int
    at: datetime


@dataclass(frozen=True, slots=True)
class FramePage:
    """A frame to be looked at, or what somebody found in it."""

    id: str
    title: str
    edition: int
    drawing: Markup
    places: tuple[Place, ...]
    marked: tuple[str, ...]
    grade: Grade | None
    results: tuple[Result, ...]
    may_lead: bool
    may_record: bool


def _frame_of(session: Session, person: Person, practice_id: str) -> tuple[PracticeRow, Frame]:
    row = session.scalar(
        select(PracticeRow).where(PracticeRow.id == practice_id, PracticeRow.crew_id == person.crew_id)
    )
    if row is None or person.only_job_id is not None:
        raise NotFound
    return row, make_frame(
        row.seed, load_edition(row.edition), faults=row.faults, framing=Framing(row.framing)
    )


def _frame_page(
    request: Request, person: Person, practice_id: str, *, marked: tuple[str, ...] | None = None
) -> HTMLResponse:
    with reading(engine_of(request)) as session:
        row, frame = _frame_of(session, person, practice_id)
        tries = session.scalars(
            select(PracticeTryRow)
            .where(PracticeTryRow.practice_id == row.id)
            .order_by(PracticeTryRow.at.desc())
        ).all()
    own = next((t.marked for t in tries if t.person_id == person.id), None)
    shown = marked if marked is not None else own
    house = frame.house
    drawing = draw_wall(house.walls[frame.wall_id], house.rooms[frame.room_id], house, scale=4.0)
    by_place: dict[str, list[Clue]] = {}
    for clue in frame.clues:
        by_place.setdefault(clue.place, []).append(clue)
    page = FramePage(
        row.id, row.title, row.edition, Markup(drawing),  # noqa: S704 - our own drawing
        tuple(Place(name, tuple(clues)) for name, clues in by_place.items()), shown or (),
        grade(frame, shown, load_edition(row.edition)) if shown is not None else None,
        tuple(Result(t.person, t.found, t.missed, t.false_alarms, t.at) for t in tries) if person.may_lead else (),
        person.may_lead, person.may_record,
    )  # fmt: skip
    return render(request, "practice/frame.html", page)


@router.get("/{practice_id}", name="practice_frame")
def frame(request: Request, practice_id: str, person: Member) -> HTMLResponse:
    """A frame; after one's own try, what was found and missed."""
    return _frame_page(request, person, practice_id)


class Marks(BaseModel):
    """The clues marked wrong."""

    model_config = ConfigDict(extra="forbid")

    wrong: tuple[str, ...] = ()


@router.post("/{practice_id}", name="try_practice")
def try_frame(request: Request, practice_id: str, person: Recorder, form: Typed) -> Response:
    """Mark what is wrong: kept with the person's name, and graded with the reasons."""
    read = form.read(Marks)
    if read.model is None:
        raise NotFound
    with writing(engine_of(request)) as session:
        row, made = _frame_of(session, person, practice_id)
        known = {clue.id for clue in made.clues}
        marked = tuple(sorted({item for item in read.model.wrong if item in known}, key=int))
        result = grade(made, marked, load_edition(row.edition))
        session.add(
            PracticeTryRow(
                id=str(uuid4()), practice_id=row.id, person_id=person.id, person=person.name, marked=marked, found=len(result.found),
                missed=len(result.missed), false_alarms=len(result.false_alarms), at=datetime.now(UTC),
            )
        )  # fmt: skip
    return flash.redirect(f"/practice/{practice_id}", f"You found {len(result.found)} of {result.of}.")


@router.post("/{practice_id}/close", name="close_practice")
def close(request: Request, practice_id: str, person: Foreman) -> Response:
    """Put a frame away."""
    with writing(engine_of(request)) as session:
        row, _ = _frame_of(session, person, practice_id)
        row.closed_at = datetime.now(UTC)
    return flash.redirect("/practice", "The frame was put away.")
