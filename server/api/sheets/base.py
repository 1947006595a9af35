"""What every sheet shares: the request's edition, exact lengths and numbers, and the shape of an answer.

A sheet is one reckoning without a job. Each module beside this one declares a request model (unknown fields
are refused), a result model, and one function::

    @sheet("box-fill", title="Box fill", asks=BoxFillRequest)
    def box_fill(request: BoxFillRequest, code: Edition, work: Work) -> BoxFillResult: ...

``POST /api/sheets/box-fill`` then answers ``{"result": {...}, "steps": [...], "cites": [...],
"confidence": "..."}``; the page of the same name calls the same function.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Generic, Literal, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainSerializer, WithJsonSchema

from server.dwelling.length import LengthError, parse_length
from server.editions import Edition, default_year, load_edition
from server.reckon.work import Step, Work

__all__ = [
    "SHEETS",
    "Awg",
    "ExactNumber",
    "LengthIn",
    "Sheet",
    "SheetAnswer",
    "SheetRequest",
    "SheetStep",
    "StrictModel",
    "answer",
    "sheet",
    "sheet_step",
]

EditionYear = Literal["2017", "2020", "2023", "2026"]


_LONGEST_NUMBER = 40
_EXPONENT = re.compile(r"[\d.]e", re.IGNORECASE)


def _length(came: object) -> Fraction:
    if isinstance(came, bool) or not isinstance(came, str | int | float | Fraction):
        raise ValueError(str(LengthError(came)))
    return parse_length(came)


def _exact(came: object) -> Fraction:
    if isinstance(came, bool) or not isinstance(came, str | int | float | Fraction):
        raise ValueError(f"expected a number, came {came!r}")
    # 1e999999999 is a short text and an endless number.
    if isinstance(came, str) and (len(came) > _LONGEST_NUMBER or _EXPONENT.search(came)):
        raise ValueError(f"expected a plain number, came {came[:_LONGEST_NUMBER]!r}")
    try:
        return Fraction(repr(came) if isinstance(came, float) else came)
    except (ValueError, ZeroDivisionError, OverflowError):
        raise ValueError(f"expected a number, came {came!r}") from None


def _plain(number: Fraction) -> int | float:
    """A fraction as JSON writes it: whole numbers whole, others as the nearest double."""
    return number.numerator if number.denominator == 1 else float(number)


LengthIn = Annotated[
    Fraction,
    BeforeValidator(_length),
    PlainSerializer(_plain, return_type=int | float),
    WithJsonSchema(
        {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "examples": ["6' 2 1/2\""]}]}
    ),
]
"""A length in inches: a number, or the trade's way of writing it."""

ExactNumber = Annotated[
    Fraction,
    BeforeValidator(_exact),
    PlainSerializer(_plain, return_type=int | float),
    WithJsonSchema({"type": "number"}),
]
"""A number kept exact between JSON and JSON."""

Awg = Annotated[
    str, Field(pattern=r"^(18|16|14|12|10|8|6|4|3|2|1|[1-4]/0|\d{3,4})$", examples=["14", "1/0", "250"])
]
"""A conductor size as the trade writes it: AWG number, aught size, or kcmil."""


class StrictModel(BaseModel):
    """A model at the border: unknown fields are refused, so that a typo is an error and not a silence."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class SheetRequest(StrictModel):
    """What every sheet is asked with."""

    edition: EditionYear | None = Field(
        default=None, description="Edition of the code; the newest verified one where none is given."
    )


class SheetStep(StrictModel):
    """One line of a reckoning."""

    text: str
    value: int | float | str | bool | None
    unit: str
    cites: str
    applied: bool = True


R = TypeVar("R", bound=BaseModel)


class SheetAnswer(StrictModel, Generic[R]):
    """A sheet's answer: the result, how it was reckoned, by which articles, and how well they are known."""

    result: R
    edition: str
    steps: list[SheetStep]
    cites: list[str]
    confidence: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A registered sheet."""

    name: str
    title: str
    asks: type[SheetRequest]
    gives: type[BaseModel]
    reckon: Callable[[Any, Edition, Work], BaseModel]


SHEETS: dict[str, Sheet] = {}
"""Every sheet by name, filled as the modules of this package are imported."""

Function = TypeVar("Function", bound=Callable[..., BaseModel])


def sheet(
    name: str, *, title: str, asks: type[SheetRequest], gives: type[BaseModel]
) -> Callable[[Function], Function]:
    """Register a sheet's function under its name in the contract."""

    def register(function: Function) -> Function:
        if name in SHEETS:
            raise ValueError(f"two sheets are named {name!r}")
        SHEETS[name] = Sheet(name, title, asks, gives, function)
        return function

    return register


def answer(name: str, request: SheetRequest) -> SheetAnswer[BaseModel]:
    """Reckon one sheet and show the work."""
    chosen = SHEETS[name]
    code = load_edition(int(request.edition) if request.edition else default_year())
    work = Work()
    result = chosen.reckon(request, code, work)
    return SheetAnswer[chosen.gives](  # type: ignore[name-defined]
        result=result,
        edition=str(code.year),
        steps=[sheet_step(step) for step in work.steps],
        cites=list(work.cites),
        confidence=work.confidence,
    )


def sheet_step(step: Step) -> SheetStep:
    """A step of a reckoning at the border."""
    value = _plain(step.value) if isinstance(step.value, Fraction) else step.value
    return SheetStep(text=step.text, value=value, unit=step.unit, cites=step.cites, applied=step.applied)
