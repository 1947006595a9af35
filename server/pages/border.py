"""Types of the forms' fields: lengths as the trade types them, numbers kept exact, empty as None."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Annotated

from pydantic import BeforeValidator

from server.dwelling import parse_length

__all__ = ["Length", "Number", "OptionalDate", "OptionalLength", "OptionalNumber"]


def _length(came: object) -> Fraction:
    if isinstance(came, Fraction):
        return came
    return parse_length(str(came))


def _number(came: object) -> Fraction:
    if isinstance(came, Fraction):
        return came
    text = str(came).replace(",", "").strip()
    try:
        found = Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise ValueError(f"expected a number, came {came!r}") from None
    if found < 0:
        raise ValueError(f"expected zero or more, came {came!r}")
    return found


def _date(came: object) -> object:
    if isinstance(came, str) and came:
        try:
            return date.fromisoformat(came)
        except ValueError:
            raise ValueError(f"expected a date as 2026-11-30, came {came!r}") from None
    return came or None


Length = Annotated[Fraction, BeforeValidator(_length)]
OptionalLength = Annotated[
    Fraction | None, BeforeValidator(lambda came: None if came in (None, "") else _length(came))
]
Number = Annotated[Fraction, BeforeValidator(_number)]
OptionalNumber = Annotated[
    Fraction | None, BeforeValidator(lambda came: None if came in (None, "") else _number(came))
]
OptionalDate = Annotated[date | None, BeforeValidator(_date)]
