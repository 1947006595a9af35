"""The JSON documents of facts: what the job file and the API take and give, field by field.

Every kind of fact has one document, made from its dataclass, so that a field is entered once. Unknown fields are
refused. Numbers are exact: lengths are taken as numbers of inches or as the trade writes them (``6' 2 1/2"``,
``149/2``) and given as text (``"149/2"``); other measures are taken as numbers or text and given as text.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import UnionType
from typing import Annotated, Any, Final, Union, cast, get_args, get_origin

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    StrictBool,
    StringConstraints,
    WithJsonSchema,
    create_model,
    model_validator,
)

from server.dwelling import parse_length
from server.dwelling.length import LengthError
from server.store.base import exact_to_text
from server.store.kinds import FactKind
from server.store.plain import field_types

__all__ = ["Document", "ExactNumber", "IdText", "Length", "LongText", "ShortText", "document_of", "fact_of"]

_LARGEST: Final = 10_000_000
_FINEST: Final = 1_000_000
_LONGEST_NUMBER: Final = 40
_MOST_IN_A_LIST: Final = 400


class Document(BaseModel):
    """A document that refuses what it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=False)


def _bounded(number: Fraction) -> Fraction:
    if number > _LARGEST or number.denominator > _FINEST:
        raise ValueError(f"expected at most {_LARGEST:,}, in steps no finer than 1/{_FINEST:,}")
    return number


def _length(came: object) -> Fraction:
    if isinstance(came, bool) or not isinstance(came, str | int | float | Fraction):
        raise ValueError(str(LengthError(came)))
    return _bounded(parse_length(came))


def _place(came: object) -> Fraction:
    """A length that may lie on the other side of where it is counted from."""
    if isinstance(came, str) and came.strip().startswith("-"):
        return -_length(came.strip()[1:])
    if isinstance(came, int | float | Fraction) and not isinstance(came, bool) and came < 0:
        return -_length(-came)
    return _length(came)


def _number(came: object) -> Fraction:
    if isinstance(came, Fraction):
        return _bounded(came)
    if isinstance(came, bool) or not isinstance(came, str | int | float):
        raise ValueError(f"expected a number, came {came!r}")
    text = repr(came) if isinstance(came, float) else str(came).strip()
    # 1e999999999 is a short text and an endless number
    if len(text) > _LONGEST_NUMBER or not re.fullmatch(
        r"\d*\.?\d+|\d+\.|\d+/\d+|\d+\.?\d*e[+-]?\d{1,2}", text
    ):
        raise ValueError(
            f"expected a number of zero or more, such as 1800, 20.3 or 203/10; came {text[:40]!r}"
        )
    try:
        return _bounded(Fraction(text))
    except ZeroDivisionError:
        raise ValueError(f"expected a number, came {text!r}") from None


def _plain(text: str) -> str:
    # one database cannot keep the first, neither can write the second
    if "\x00" in text or any("\ud800" <= letter <= "\udfff" for letter in text):
        raise ValueError("expected text without NUL or half characters")
    return text


def _exact(what: str, example: str) -> Any:
    return WithJsonSchema(
        {
            "anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "maxLength": _LONGEST_NUMBER}],
            "description": what,
            "examples": [example],
        }
    )


Length = Annotated[
    Fraction,
    BeforeValidator(_length),
    PlainSerializer(exact_to_text, return_type=str),
    _exact("inches, exact: a number, or as the trade writes a length", "6' 2 1/2\""),
]
Place = Annotated[
    Fraction,
    BeforeValidator(_place),
    PlainSerializer(exact_to_text, return_type=str),
    WithJsonSchema(
        {
            "anyOf": [{"type": "number"}, {"type": "string", "maxLength": _LONGEST_NUMBER}],
            "description": "inches to the right of, or below, where the plan is counted from; negative on its other side",
            "examples": ["-140"],
        }
    ),
]
ExactNumber = Annotated[
    Fraction,
    BeforeValidator(_number),
    PlainSerializer(exact_to_text, return_type=str),
    _exact("an exact number", "203/10"),
]
IdText = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9._~:-]{0,63}$")]
ShortText = Annotated[str, StringConstraints(max_length=200), AfterValidator(_plain)]
LongText = Annotated[str, StringConstraints(max_length=4000), AfterValidator(_plain)]

_LIMITS: Final[Mapping[str, tuple[int, int]]] = {
    "turn_deg": (-359, 359), "ambient_f": (-60, 200), "door_swing_deg": (0, 360), "gangs": (1, 12), "gangs_wide": (1, 12),
    "poles": (1, 3), "insulated": (1, 60), "receptacles": (1, 12), "volts": (1, 1000), "risers": (0, 200),
    "luminaire_studs": (0, 20), "hickeys": (0, 20),
}  # fmt: skip
"""What a whole number may be, where that is narrower than zero to a million."""
_POSITIVE: Final = {("Wall", "length_in"), ("Counter", "length_in"), ("Counter", "depth_in")}
"""Lengths without which there is nothing to stand on."""
_PLACES: Final = ("plan_x_in", "plan_y_in")
"""Lengths that may be negative: a porch lies above the corner from which the plan of a level is counted."""
_NAMES_ANOTHER: Final = ("multiwire_with", "takes_back")


def _type_of(owner: str, name: str, hint: Any) -> Any:
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        (inner,) = [part for part in get_args(hint) if part is not type(None)]
        return _type_of(owner, name, inner) | None
    if origin is tuple:
        part = _type_of(owner, f"{name}_id" if get_args(hint)[0] is str else name, get_args(hint)[0])
        return Annotated[tuple[part, ...], Field(max_length=_MOST_IN_A_LIST)]  # type: ignore[valid-type]
    if hint is Fraction:
        kind: Any = Place if name in _PLACES else Length if name.endswith("_in") else ExactNumber
        return Annotated[kind, Field(gt=0)] if (owner, name) in _POSITIVE else kind
    if hint is bool:
        return StrictBool
    if hint is int:
        least, most = _LIMITS.get(name, (0, 1_000_000))
        return Annotated[int, Field(strict=True, ge=least, le=most)]
    if hint is str:
        if name == "id" or name.endswith("_id") or name in _NAMES_ANOTHER:
            return IdText
        return LongText if name == "note" else ShortText
    if hint is date or (isinstance(hint, type) and issubclass(hint, StrEnum)):
        return hint
    raise TypeError(f"{owner}.{name}: no document for a field of {hint!r}")


class _FromTo(Document):
    """An opening or a break runs from left to right."""

    @model_validator(mode="after")
    def _runs_to_the_right(self) -> Any:
        if self.to_in <= self.from_in:  # type: ignore[attr-defined]
            raise ValueError("expected to_in to be more than from_in")
        return self


@cache
def document_of(kind: FactKind) -> type[Document]:
    """The document of a kind of fact: its fields, with the dataclass's defaults."""
    fact: Any = kind.fact
    hints, owner = field_types(fact), fact.__name__
    wanted: dict[str, Any] = {
        field.name: (
            _type_of(owner, field.name, hints[field.name]),
            ... if field.default is MISSING else field.default,
        )
        for field in fields(fact)
    }
    base = _FromTo if {"from_in", "to_in"} <= set(wanted) else Document
    made: Any = create_model(owner, __base__=base, __doc__=fact.__doc__, **wanted)
    return cast(type[Document], made)


def fact_of(kind: FactKind, document: Document) -> Any:
    """The fact that a document describes."""
    return kind.fact(**{name: getattr(document, name) for name in kind.fields})
