"""The schema ``studbay-job/1`` of a job file, as documents."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Annotated, Any, Final, Literal, cast

from pydantic import AfterValidator, AwareDatetime, Field, StringConstraints, create_model

from server.dwelling import Answer, Stage, WorkKind
from server.editions.loader import CONFIDENCES
from server.store.documents import Document, IdText, Length, LongText, ShortText, document_of
from server.store.kinds import KINDS

__all__ = [
    "SCHEMA",
    "Amendments",
    "EditionYear",
    "JobFile",
    "JobPart",
    "Layer",
    "ObservationPart",
    "PhotographPart",
    "RuleId",
    "Subject",
]

SCHEMA: Final = "studbay-job/1"
_MOST_FACTS: Final = 20_000
_MOST_ENTRIES: Final = 200_000
_DEEPEST: Final = 4

EditionYear = Literal["2017", "2020", "2023", "2026"]
SubjectKind = Literal[
    "job", "level", "room", "wall", "counter", "fixture", "box", "device", "panel", "circuit", "cable"
]
RuleId = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]{0,79}$")]
Hash = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
Year = Annotated[int, Field(strict=True)]


def _exact_value(value: Any, depth: int = 0) -> Any:
    """A value of an amendment: numbers are whole or written as text, so that they are exact."""
    match value:
        case bool() | int():
            pass
        case float():
            raise ValueError(f"expected {value!r} written as text, so that it is exact")
        case str():
            # a number with an exponent is a short text and may be an endless number
            if len(value) > 200 or re.fullmatch(r"\s*[-+]?[\d._]+e[-+]?\d+\s*", value, re.IGNORECASE):
                raise ValueError("expected a short text or a plain number")
        case list() if depth < _DEEPEST and len(value) <= 200:
            for part in value:
                _exact_value(part, depth + 1)
        case dict() if depth < _DEEPEST and len(value) <= 200:
            for part in value.values():
                _exact_value(part, depth + 1)
        case _:
            raise ValueError("expected a number, word, list or table, at most four deep")
    return value


class LayerChange(Document):
    """What an amendment does to one value or rule of the edition."""

    kind: Literal["replaces", "adds", "suspends"]
    node: ShortText
    cites: ShortText
    value: Annotated[Any, AfterValidator(_exact_value)] = None
    why: LongText = ""


class Layer(Document):
    """A job's own amendment, with its source."""

    id: Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,63}$")]
    title: Annotated[ShortText, StringConstraints(min_length=1)]
    source: Annotated[LongText, StringConstraints(min_length=1)]
    change: Annotated[tuple[LayerChange, ...], Field(min_length=1, max_length=200)]
    place: ShortText = ""
    confidence: Literal["two", "one", "derived", "carry", "memory"] = "one"
    years: Annotated[tuple[Year, ...], Field(max_length=8)] | None = None

    def as_layer(self) -> dict[str, Any]:
        """As ``server.editions.loader.parse_amendment`` reads it: what was not given is left out."""
        given = self.model_dump(mode="json", exclude_unset=True)
        return {name: value for name, value in given.items() if value is not None}


assert set(CONFIDENCES) == {"two", "one", "derived", "carry", "memory"}


class Amendments(Document):
    """The layers over a job's edition: shipped ones by id, and the job's own."""

    presets: Annotated[tuple[IdText, ...], Field(max_length=50)] = ()
    own: Annotated[tuple[Layer, ...], Field(max_length=50)] = ()


class JobPart(Document):
    """What is entered about the job itself."""

    name: ShortText
    edition: EditionYear
    id: IdText | None = None
    address: ShortText = ""
    stage: Stage = Stage.ROUGH_IN
    work: WorkKind = WorkKind.NEW
    permit_number: ShortText = ""
    permit_date: date | None = None
    inspection_date: date | None = None
    floor_area_ft2: Annotated[int, Field(strict=True, ge=0, le=1_000_000)] | None = None


class Subject(Document):
    """What an observation is about."""

    kind: SubjectKind
    id: IdText


class ObservationPart(Document):
    """An entry of the log. ``at`` is the tablet's clock, ``recorded_at`` the server's."""

    id: IdText
    subject: Subject
    rule: RuleId
    answer: Answer
    measure: Length | None = None
    note: LongText = ""
    by: ShortText = ""
    at: Annotated[ShortText, StringConstraints(max_length=40)] = ""
    photographs: Annotated[tuple[IdText, ...], Field(max_length=50)] = ()
    takes_back: IdText | None = None
    recorded_at: AwareDatetime | None = None


class PhotographPart(Document):
    """A photograph by the hash of its content; the picture itself is not in the file."""

    sha256: Hash
    content_type: ShortText
    bytes: Annotated[int, Field(strict=True, ge=0, le=1_000_000_000)]
    width_px: Annotated[int, Field(strict=True, ge=1, le=100_000)]
    height_px: Annotated[int, Field(strict=True, ge=1, le=100_000)]
    original_name: ShortText = ""
    note: LongText = ""
    marks: Annotated[tuple[dict[ShortText, float | int | ShortText], ...], Field(max_length=100)] = ()
    subject: Subject | None = None
    taken_at: AwareDatetime | None = None
    added_at: AwareDatetime | None = None


class _Head(Document):
    schema_: Annotated[Literal["studbay-job/1"], Field(alias="schema")]
    job: JobPart
    amendments: Amendments = Amendments()


def _job_file() -> type[Document]:
    of_kinds: Mapping[str, Any] = {
        kind.plural: (
            Annotated[tuple[document_of(kind), ...], Field(max_length=_MOST_FACTS)],  # type: ignore[misc]
            (),
        )
        for kind in KINDS.values()
    }
    made: Any = create_model(
        "JobFile",
        __base__=_Head,
        __doc__="A whole job: its settings, amendments, facts, log, and photographs by hash.",
        **of_kinds,
        observations=(Annotated[tuple[ObservationPart, ...], Field(max_length=_MOST_ENTRIES)], ()),
        photographs=(Annotated[tuple[PhotographPart, ...], Field(max_length=_MOST_FACTS)], ()),
    )
    return cast(type[Document], made)


JobFile: Final[Any] = _job_file()
"""The document of a job file. ``Any`` to the type checker: its fields are made from the kinds of facts."""
