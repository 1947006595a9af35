"""Types of the forms' fields: lengths as the trade types them, numbers kept exact, empty as None."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator

from server.dwelling import format_length, parse_length

__all__ = [
    "Length", "Number", "OptionalDate", "OptionalLength", "OptionalNumber", "OptionalPlace", "OptionalRoomLength", "Place",
    "Ticked", "YesOrNo",
]  # fmt: skip

_LONGEST_IN = Fraction(6000)
_SURELY_INCHES_IN = Fraction(60)


def _length(came: object) -> Fraction:
    if isinstance(came, Fraction):
        return came
    return parse_length(str(came))


def _room_length(came: object) -> Fraction | None:
    """A bare number that a room has rather in feet than in inches is asked for again: 12 by 10 is no closet of a foot."""
    if came in (None, ""):
        return None
    found, text = _length(came), str(came).strip()
    if isinstance(came, str) and text.replace(".", "", 1).isdigit() and found < _SURELY_INCHES_IN:
        raise ValueError(f"{text} may be feet or inches: write {text}' or {text}\"")
    return found


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
OptionalRoomLength = Annotated[Fraction | None, BeforeValidator(_room_length)]
"""A length or height of a whole room: a small number without a unit is refused."""
OptionalDate = Annotated[date | None, BeforeValidator(_date)]


def _place(came: Fraction | None) -> Fraction | None:
    if came is not None and came > _LONGEST_IN:
        raise ValueError(f"expected at most {format_length(_LONGEST_IN)}, came {format_length(came)[:40]}")
    return came


def _yes_or_no(came: object) -> object:
    match came:
        case None | "":
            return None
        case "yes" | True:
            return True
        case "no" | False:
            return False
    raise ValueError(f"expected yes, no or nothing, came {str(came)[:40]!r}")


Place = Annotated[Length, AfterValidator(_place)]
"""A length in a room: no longer than any room is."""
OptionalPlace = Annotated[OptionalLength, AfterValidator(_place)]
YesOrNo = Annotated[bool | None, BeforeValidator(_yes_or_no)]
"""Asked three ways: yes, no, not recorded."""
Ticked = Annotated[bool, BeforeValidator(lambda came: bool(_yes_or_no(came)))]
"""A box to tick."""
