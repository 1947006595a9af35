"""What somebody saw or measured: the facts that only eyes and a tape can tell."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from server.dwelling.length import Inches

__all__ = ["Answer", "Observation", "Ref", "Stage", "WorkKind"]


class Stage(StrEnum):
    """When a rule is due, in the order of a job."""

    PAPERWORK = "paperwork"
    TEMPORARY = "temporary power"
    UNDERGROUND = "underground"
    ROUGH_IN = "rough-in"
    SERVICE = "service"
    FINAL = "final"

    @property
    def place(self) -> int:
        """Place in the order of a job, 0 first."""
        return list(Stage).index(self)


class WorkKind(StrEnum):
    NEW = "new"
    EXTENSION = "extension"
    REPLACEMENT = "replacement"


class Answer(StrEnum):
    """What an observation says: it looks right, it does not, it measured so much, it was taken back."""

    RIGHT = "right"
    WRONG = "wrong"
    MEASURED = "measured"
    NOT_HERE = "not here"
    TAKEN_BACK = "taken back"


@dataclass(frozen=True, slots=True)
class Ref:
    """A subject by kind (``room``, ``box``, ``cable`` ...) and id."""

    kind: str
    id: str


@dataclass(frozen=True, slots=True)
class Observation:
    """One look or measurement: append-only, the newest per subject and rule counts.

    ``measure`` is in the rule's own unit (inches for lengths). ``at`` is ISO 8601 in UTC. ``takes_back`` is the id
    of the observation that this one takes back: then the one before that stands again. A taking-back that names
    none takes back whatever was recorded of the subject so far.
    """

    id: str
    subject: Ref
    rule: str
    answer: Answer
    measure: Inches | None = None
    note: str = ""
    by: str = ""
    at: str = ""
    photographs: tuple[str, ...] = ()
    takes_back: str | None = None
