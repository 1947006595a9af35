"""Photographs as pages show them: the picture, its marks over it, and where it opens."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fastapi import Request
from markupsafe import Markup

from server.drawings.photograph_marks import draw_marks, words_of_marks
from server.dwelling import Observation, Ref
from server.pages.opened import OpenJob
from server.people.current import engine_of
from server.store.engine import reading
from server.store.photographs import Photograph, list_photographs

__all__ = [
    "NO_PICTURES",
    "ShownPicture",
    "by_name",
    "in_room",
    "of_observations",
    "pictures_of",
    "shown_picture",
]


@dataclass(frozen=True, slots=True)
class ShownPicture:
    """A photograph: ``source`` is the picture's address, ``link`` that of its page, ``marks`` the SVG over it."""

    id: str
    source: str
    link: str
    words: str
    note: str
    width_px: int
    height_px: int
    marks: Markup
    subject: Ref | None


NO_PICTURES: Mapping[str, ShownPicture] = {}


def shown_picture(job_id: str, item: Photograph) -> ShownPicture:
    """A photograph of a job as a page shows it."""
    address = f"/jobs/{job_id}/photographs/{item.id}"
    words = ", ".join(part for part in (item.note or "Photograph", words_of_marks(item.marks)) if part)
    return ShownPicture(
        item.id, address, f"{address}/view", words, item.note, item.width_px, item.height_px,
        Markup(draw_marks(item.marks, item.width_px, item.height_px)),  # noqa: S704 - numbers of ours only
        Ref(item.subject_kind, item.subject_id) if item.subject_kind else None,
    )  # fmt: skip


def pictures_of(request: Request, opened: OpenJob) -> Mapping[str, ShownPicture]:
    """All photographs of an open job by their names (:func:`by_name`), oldest first. One query."""
    with reading(engine_of(request)) as session:
        found = list_photographs(session, opened.job.id)
    return by_name(opened.job.id, found)


def by_name(job_id: str, photographs: Iterable[Photograph]) -> dict[str, ShownPicture]:
    """Photographs by every name that an observation may call them: each id under which they came, and their hash, as
    in a job's file."""
    found: dict[str, ShownPicture] = {}
    for item in photographs:
        shown = shown_picture(job_id, item)
        found |= dict.fromkeys((item.id, *item.also_ids, item.sha256), shown)
    return found


def in_room(pictures: Mapping[str, ShownPicture], opened: OpenJob, room_id: str) -> tuple[ShownPicture, ...]:
    """Those whose subject is the room or stands in it."""
    house = opened.house
    found = []
    for item in {item.id: item for item in pictures.values()}.values():
        subject = house.find(item.subject) if item.subject is not None else None
        if subject is not None and any(room.id == room_id for room in house.rooms_of(subject)):
            found.append(item)
    return tuple(found)


def of_observations(
    pictures: Mapping[str, ShownPicture], seen: Iterable[Observation | None]
) -> tuple[tuple[ShownPicture, ...], tuple[str, ...]]:
    """The photographs that observations name, each once; and the ids of those that have not come yet."""
    ids = dict.fromkeys(name for item in seen if item is not None for name in item.photographs)
    found = {pictures[name].id: pictures[name] for name in ids if name in pictures}
    return tuple(found.values()), tuple(name for name in ids if name not in pictures)
