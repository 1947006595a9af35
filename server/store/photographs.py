"""Photographs of a job: rows in the database, pictures in a folder by the hash of their content.

Several server processes may share the folder. A picture is written whole or not at all; the same picture brought
twice is one file. A picture opens only through a job that has it.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from server.store.errors import NotThere
from server.store.journal import Author
from server.store.pictures import Picture
from server.store.tables import PhotographRow

__all__ = [
    "Photograph",
    "PictureFolder",
    "add_photograph",
    "find_photograph",
    "list_photographs",
    "remove_photograph",
    "set_marks",
]


_MOST_NAMES: Final = 200
"""How often the same picture may be brought under another id before further ones are forgotten."""


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph as pages show it."""

    id: str
    sha256: str
    width_px: int
    height_px: int
    subject_kind: str
    subject_id: str
    note: str
    marks: tuple[dict[str, Any], ...]
    added_at: datetime
    also_ids: tuple[str, ...] = ()


class PictureFolder:
    """Where the pictures lie: ``<folder>/ab/abcdef....jpg``."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def path(self, sha256: str) -> Path:
        """Where a picture of a hash lies.

        Raises:
            ValueError: that is no hash.
        """
        if len(sha256) != 64 or any(letter not in "0123456789abcdef" for letter in sha256):
            raise ValueError(f"expected a sha256 in hexadecimal, came {sha256[:80]!r}")
        return self._folder / sha256[:2] / f"{sha256}.jpg"

    def keep(self, picture: Picture) -> None:
        """Write a picture, whole or not at all, and see it through to the disk."""
        path = self.path(picture.sha256)
        if path.exists():
            return
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(f".{os.getpid()}.part")
        with part.open("wb") as file:
            file.write(picture.content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)


def add_photograph(
    session: Session, job_id: str, photograph_id: str, picture: Picture, author: Author, *, subject_kind: str = "",
    subject_id: str = "", note: str = "", original_name: str = "", marks: Sequence[dict[str, Any]] = (),
) -> str:  # fmt: skip
    """Add a photograph that lies in the folder. Returns its id.

    The same picture again is the one that is there: the new id becomes another name of it, so that what was recorded
    with that id finds it; marks are those that it has, or the new ones where it has none.
    """
    there = session.scalar(
        select(PhotographRow)
        .where(PhotographRow.job_id == job_id, PhotographRow.sha256 == picture.sha256)
        .with_for_update()
    )
    if there is not None:
        there.is_here, there.deleted_at = True, None
        there.marks = there.marks or list(marks)
        also = there.also_ids or []
        if photograph_id not in (there.id, *also) and len(also) < _MOST_NAMES:
            there.also_ids = [*also, photograph_id]
        session.flush()
        return there.id
    session.add(
        PhotographRow(
            id=photograph_id, job_id=job_id, sha256=picture.sha256, content_type="image/jpeg", bytes=len(picture.content),
            width_px=picture.width_px, height_px=picture.height_px, original_name=original_name[:200], original_sha256=None,
            subject_kind=subject_kind or None, subject_id=subject_id or None, note=note, marks=list(marks), taken_at=picture.taken_at,
            also_ids=None, added_at=datetime.now(UTC), person_id=author.person_id, is_here=True, deleted_at=None,
        )
    )  # fmt: skip
    session.flush()
    return photograph_id


def _shown(row: PhotographRow) -> Photograph:
    return Photograph(
        row.id, row.sha256, row.width_px, row.height_px, row.subject_kind or "", row.subject_id or "", row.note,
        tuple(row.marks), row.added_at, tuple(row.also_ids or ()),
    )  # fmt: skip


def list_photographs(session: Session, job_id: str) -> Sequence[Photograph]:
    """The photographs of a job that can be looked at, oldest first. One query."""
    rows = session.scalars(
        select(PhotographRow)
        .where(PhotographRow.job_id == job_id, PhotographRow.is_here, PhotographRow.deleted_at.is_(None))
        .order_by(PhotographRow.added_at, PhotographRow.id)
    )
    return [_shown(row) for row in rows]


def find_photograph(session: Session, job_id: str, photograph_id: str) -> Photograph:
    """One photograph of a job.

    Raises:
        NotThere: the job has no such photograph.
    """
    row = session.get(PhotographRow, photograph_id)
    if row is None or row.job_id != job_id or not row.is_here or row.deleted_at is not None:
        raise NotThere("photograph", photograph_id)
    return _shown(row)


def set_marks(session: Session, job_id: str, photograph_id: str, marks: Sequence[dict[str, Any]]) -> None:
    """Draw arrows and circles on a photograph: kept beside it, the picture itself is not changed.

    Raises:
        NotThere: the job has no such photograph.
    """
    find_photograph(session, job_id, photograph_id)
    session.execute(update(PhotographRow).where(PhotographRow.id == photograph_id).values(marks=list(marks)))


def remove_photograph(session: Session, job_id: str, photograph_id: str, *, put_back: bool = False) -> None:
    """Take a photograph off the pages, or put it back; its picture stays until the job goes.

    Raises:
        NotThere: the job has no such photograph.
    """
    row = session.get(PhotographRow, photograph_id)
    if row is None or row.job_id != job_id:
        raise NotThere("photograph", photograph_id)
    row.deleted_at = None if put_back else datetime.now(UTC)
