"""What can go wrong when facts are written, each with what the caller needs to say so.

StoreError
|-- NotThere          no such fact or change in this job (another crew's answers like a missing one)
|-- Taken             the id that was chosen is in use
|-- UnknownField      a kind of fact has no such field
|-- DanglingReference a field names something that is not in the job
|-- Conflict          somebody else changed the same field meanwhile: both values, who and when
|-- AlreadyUndone     the change was undone before
`-- KeyReused         a key that was used for another payload
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

__all__ = [
    "AlreadyUndone",
    "Conflict",
    "DanglingReference",
    "FieldConflict",
    "KeyReused",
    "NotThere",
    "StoreError",
    "Taken",
    "UnknownField",
]


class StoreError(Exception):
    """Something about a write that the caller can mend or must ask about."""


class NotThere(StoreError):
    """No such thing in this job."""

    def __init__(self, kind: str, fact_id: str) -> None:
        self.kind, self.id = kind, fact_id
        super().__init__(f"this job has no {kind} {fact_id!r}")


class Taken(StoreError):
    """The id is in use."""

    def __init__(self, kind: str, fact_id: str) -> None:
        self.kind, self.id = kind, fact_id
        super().__init__(f"expected a new id for the {kind}; {fact_id!r} is in use")


class UnknownField(StoreError):
    """A kind has no such field, or it cannot be changed."""

    def __init__(self, kind: str, field: str) -> None:
        self.kind, self.field = kind, field
        super().__init__(f"a {kind} has no field {field!r} that can be changed")


class DanglingReference(StoreError):
    """A field names something that is not in the job, or no longer."""

    def __init__(self, kind: str, fact_id: str, field: str, wanted_kind: str, wanted_id: str) -> None:
        self.kind, self.id, self.field = kind, fact_id, field
        self.wanted_kind, self.wanted_id = wanted_kind, wanted_id
        super().__init__(
            f"{field} of {kind} {fact_id!r}: expected a {wanted_kind} of this job, came {wanted_id!r}"
        )


@dataclass(frozen=True, slots=True)
class FieldConflict:
    """One field that two people changed: the value that stands, the one that was to be written, who wrote the
    first and when."""

    field: str
    theirs: Any
    yours: Any
    by: str
    at: datetime | None


class Conflict(StoreError):
    """The same fields were changed since the version that the writer had seen; nothing was written."""

    def __init__(self, kind: str, fact_id: str, version: int, fields: tuple[FieldConflict, ...]) -> None:
        self.kind, self.id, self.version, self.fields = kind, fact_id, version, fields
        names = ", ".join(item.field for item in fields)
        by = fields[0].by if fields and fields[0].by else "someone else"
        super().__init__(f"{by} changed {names} of this {kind} meanwhile; it stands at version {version}")


class AlreadyUndone(StoreError):
    """The change was undone before."""

    def __init__(self, change_id: str) -> None:
        self.id = change_id
        super().__init__("this was undone before")


class KeyReused(StoreError):
    """The key stands for another write."""

    def __init__(self, key: str) -> None:
        self.key = key
        super().__init__(f"expected a new key; {key!r} was used for another entry")
