"""How the load sheets take a rating: volt-amperes as a number, or the way a nameplate or an example states it.

A rating is one of ``va`` (number, or text such as ``"12 kW"``, ``"1.2 kVA"``, ``"4500 W"``), ``kw``, ``amps`` with
``volts``, or ``hp`` with ``volts``. Kilowatts count as kilovolt-amperes, as in the load article.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Final

from pydantic import BeforeValidator, Field, PlainSerializer, WithJsonSchema, model_validator

from server.api.sheets.base import ExactNumber, StrictModel
from server.editions import Edition, default_year, load_edition
from server.reckon.largest_motor import motor_va
from server.reckon.work import SILENT, Work

__all__ = ["MOST_VA", "Amperes", "Count", "RatedIn", "Va", "Volts"]

MOST_VA: Final = 10_000_000
"""More than any dwelling has; keeps sums and tables within reason."""
_RATING = re.compile(r"^\s*(?P<number>\d{1,9}(?:[.,]\d{1,9})*)\s*(?P<unit>kva|kw|va|w)\s*$", re.IGNORECASE)
_THOUSAND = 1000


def _va(came: object) -> object:
    """Text with a unit becomes volt-amperes; anything else is left to the number's own check."""
    if not isinstance(came, str) or (found := _RATING.match(came)) is None:
        return came
    number = Fraction(found["number"].replace(",", ""))
    return number * _THOUSAND if found["unit"].lower().startswith("k") else number


def _plain(number: Fraction) -> int | float:
    return number.numerator if number.denominator == 1 else float(number)


Va = Annotated[
    ExactNumber,
    BeforeValidator(_va),
    Field(ge=0, le=MOST_VA),
    PlainSerializer(_plain, return_type=int | float),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "number", "minimum": 0, "maximum": MOST_VA},
                {"type": "string", "examples": ["12 kW"]},
            ]
        }
    ),
]
"""Volt-amperes: a number, or text with W, VA, kW or kVA."""

Volts = Annotated[ExactNumber, Field(gt=0, le=1000)]
Amperes = Annotated[ExactNumber, Field(ge=0, le=100_000)]
Count = Annotated[int, Field(ge=1, le=1000)]


class RatedIn(StrictModel):
    """Something with a rating, in one of the ways that a nameplate or an example states it."""

    va: Va | None = Field(default=None, description="Nameplate volt-amperes (watts count the same).")
    kw: Annotated[ExactNumber, Field(ge=0, le=MOST_VA / 1000)] | None = None
    amps: Amperes | None = Field(default=None, description="With volts.")
    hp: Annotated[ExactNumber, Field(gt=0, le=10)] | None = Field(
        default=None,
        description="A motor's size; without another rating, its volt-amperes come from Table 430.248.",
    )
    volts: Volts | None = None

    @model_validator(mode="after")
    def rated_once(self) -> RatedIn:
        given = [name for name in ("va", "kw", "amps") if getattr(self, name) is not None]
        if len(given) > 1 or not (given or self.hp is not None):
            raise ValueError(
                f"expected one of va, kw, amps with volts, or hp with volts; came {given or 'none'}"
            )
        if (given == ["amps"] or not given) and self.volts is None:
            raise ValueError("expected volts beside amps or hp")
        if not given and self.hp is not None and self.volts is not None:
            motor_va(self.hp, self.volts, load_edition(default_year()))
        return self

    def rating_va(self, code: Edition, work: Work = SILENT, *, name: str = "motor") -> Fraction:
        """The rating in volt-amperes."""
        if self.va is not None:
            return self.va
        if self.kw is not None:
            return self.kw * _THOUSAND
        assert self.volts is not None
        if self.amps is not None:
            return self.amps * self.volts
        assert self.hp is not None
        return motor_va(self.hp, self.volts, code, work, name=name)
